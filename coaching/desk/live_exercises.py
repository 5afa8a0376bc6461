"""How many exercises a client is at: those planned in a session of the last two weeks, or still to come."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date, timedelta

from django.db.models import Count

from roster.blocks.models import PlannedExercise

LIVE_FOR = timedelta(days=13)


def count_live_exercises(client_ids: Collection[int], day: date) -> dict[int, int]:
    planned = PlannedExercise.objects.filter(
        session__block__client_id__in=client_ids,
        session__block__published_at__isnull=False,
        session__suggested_on__gte=day - LIVE_FOR,
    )
    by_client = planned.order_by().values_list("session__block__client_id")
    return dict(by_client.annotate(Count("exercise_id", distinct=True)))
