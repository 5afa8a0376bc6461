"""A check-in call that is owed, from the rows of the record to its words and its end."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from coaching.monitoring.export import export_rows
from coaching.monitoring.models import ClientState, Flag, FlagEvent
from coaching.monitoring.refresh import reassess
from roster.people.models import CheckIn, Client, Pause, Studio

pytestmark = pytest.mark.django_db
JOINED = date(2026, 1, 5)
FIRST_DUE = JOINED + timedelta(days=28)


@pytest.fixture(autouse=True)
def _there_are_check_ins(client: Client) -> None:
    Client.objects.update(joined_on=JOINED)
    Studio.objects.update(check_ins_from=JOINED)


def stand_on(day: date) -> Flag | None:
    reassess(Client.objects.all(), now=datetime.combine(day, datetime.min.time(), UTC), as_of=day)
    return Flag.objects.standing().filter(kind="check_in_due").first()


def test_it_says_when_it_is_due_and_when_they_last_spoke(client: Client) -> None:
    CheckIn.objects.create(client=client, due_on=FIRST_DUE, held_on=FIRST_DUE)

    flag = stand_on(FIRST_DUE + timedelta(days=26))

    assert flag is not None
    assert (flag.sentence, flag.remark) == (
        "Check-in call due in 2 days: Mon 2 Mar.", "Last check-in call Mon 2 Feb.",
    )
    assert flag.evidence["rows"] == [["Mon 2 Mar", "Mon 2 Feb"]]
    assert "every 28 days from joining" in flag.rule


@pytest.mark.parametrize(
    ("days", "sentence"),
    [(0, "Check-in call due today: Mon 2 Feb."), (1, "Check-in call due 1 day ago: Mon 2 Feb."),
     (-1, "Check-in call due in 1 day: Mon 2 Feb.")],
)  # fmt: skip
def test_a_first_one_says_that_there_was_none_yet(days: int, sentence: str) -> None:
    flag = stand_on(FIRST_DUE + timedelta(days=days))

    assert flag is not None
    assert (flag.sentence, flag.remark) == (sentence, "No check-in call yet.")


def test_it_clears_when_it_is_held(client: Client) -> None:
    assert stand_on(FIRST_DUE)

    CheckIn.objects.create(client=client, due_on=FIRST_DUE, held_on=FIRST_DUE + timedelta(days=1))

    assert stand_on(FIRST_DUE + timedelta(days=1)) is None
    assert FlagEvent.objects.get(what=FlagEvent.What.CLEARED).kind == "check_in_due"


def test_what_was_owed_on_an_earlier_day_is_told_after_it_was_held(client: Client) -> None:
    CheckIn.objects.create(client=client, due_on=FIRST_DUE, held_on=FIRST_DUE + timedelta(days=1))

    assert stand_on(FIRST_DUE) is not None


def test_facts_keep_the_day_it_is_due_and_a_pause_moves_it(client: Client) -> None:
    stand_on(FIRST_DUE)
    assert ClientState.objects.get().check_in_due_on == FIRST_DUE

    Pause.objects.create(client=client, from_on=FIRST_DUE, until_on=FIRST_DUE + timedelta(days=4))
    stand_on(FIRST_DUE)
    assert ClientState.objects.get().check_in_due_on == FIRST_DUE + timedelta(days=5)


def test_somebody_who_has_ended_has_no_day(client: Client) -> None:
    Client.objects.update(state=Client.State.ENDED, ended_on=FIRST_DUE)

    assert stand_on(FIRST_DUE) is None
    assert ClientState.objects.get().check_in_due_on is None


def test_a_studio_that_has_none_is_told_nothing_and_reads_nothing(
    client: Client, django_assert_num_queries
) -> None:
    from coaching.monitoring.check_in_frames import check_ins

    Studio.objects.update(check_ins_from=None)

    assert stand_on(FIRST_DUE + timedelta(days=300)) is None
    assert export_rows("flags", client.studio, as_of=FIRST_DUE) == []
    with django_assert_num_queries(0):
        assert len(check_ins([])) == 0
