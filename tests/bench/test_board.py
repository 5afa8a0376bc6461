"""Before any time is believed: both template languages draw the same rows, and both ways of reading read the same."""

from __future__ import annotations

import pytest
from django.utils import timezone

from analytics.training_weeks import to_day
from coaching.monitoring.models import Urgency
from roster.people.models import Client, Coach
from tests.bench.board import by_django, by_product, things_of, without_blanks
from tests.bench.filling import fill_studio
from tests.bench.sizes import draw_record

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner() -> Coach:
    owner = fill_studio("Board", draw_record(6, 14, as_of=to_day(timezone.now().date())), {})["owner"]
    first = Client.objects.earliest("pk")
    first.name = "<b>Ana</b>"
    first.save()
    return owner


def test_rows_of_the_board_are_the_same_in_both_languages(owner: Coach):
    things = things_of(owner)

    told = without_blanks(by_product(things))

    assert told == without_blanks(by_django(things))
    assert told.count('<tr role="row">') == 6
    assert "&lt;b&gt;Ana&lt;/b&gt;" in told
    assert any(f'class="urgency {urgency}"' in told for urgency in Urgency.values)
