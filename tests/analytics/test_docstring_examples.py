"""The examples in the docstrings of the calculations are true."""

from __future__ import annotations

import doctest
import importlib
import pkgutil

import pytest

import analytics

MODULES = [module.name for module in pkgutil.iter_modules(analytics.__path__)]


@pytest.mark.parametrize("name", MODULES)
def test_examples_of_a_module_are_true(name: str):
    module = importlib.import_module(f"analytics.{name}")

    assert doctest.testmod(module).failed == 0
