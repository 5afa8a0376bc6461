from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client as Browser

from roster.people.models import Coach
from tests import signing_in


@pytest.fixture
def browser_of() -> Callable[[Coach], Browser]:
    return signing_in.browser_of
