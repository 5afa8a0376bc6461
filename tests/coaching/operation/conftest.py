from __future__ import annotations

import io
import logging
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from coaching.operation.logs import formatter

LOGGERS = ("", "coaching", "django", "django.request", "django.security", "django_structlog", "allauth")


@contextmanager
def written(form: str, *, in_full: bool = False) -> Iterator[io.StringIO]:
    """All that is written down meanwhile, also by loggers that the product silences, in one of its forms."""
    text = io.StringIO()
    handler = logging.StreamHandler(text)
    handler.setFormatter(formatter(form, in_full))
    loggers = [logging.getLogger(name) for name in LOGGERS]
    before = [(logger, logger.level, logger.handlers[:], logger.propagate) for logger in loggers]
    for logger in loggers:
        logger.setLevel(logging.INFO)
        logger.handlers[:] = [handler] if logger.name == "root" else []
        logger.propagate = True
    try:
        yield text
    finally:
        for logger, level, handlers, propagate in before:
            logger.level, logger.handlers, logger.propagate = level, handlers, propagate
            logger.manager._clear_cache()


@pytest.fixture
def log() -> Iterator[io.StringIO]:
    with written("json") as text:
        yield text
