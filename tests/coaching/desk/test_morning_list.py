from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from types import MappingProxyType

import pytest

from coaching.desk.last_words import LastWords
from coaching.desk.morning import MorningList, build_morning
from coaching.monitoring.models import ClientState, Flag, Kind, Status, Urgency
from coaching.monitoring.piles import Pile
from coaching.monitoring.reading import RosterFacts
from coaching.monitoring.session_marks import SessionMark, outcome_of
from roster.people.models import Client

DAY = date(2026, 4, 15)
LAST_MONDAY = date(2026, 4, 6)


def person(pk: int, name: str = "") -> Client:
    return Client(pk=pk, name=name or f"Client {pk}")


def flag(pk: int, kind: Kind, urgency: Urgency = Urgency.ACT, **more: object) -> Flag:
    return Flag(client_id=pk, kind=kind, urgency=urgency, **{"opened_on": DAY, "sentence": "S.", **more})


def mark(status: Status, week: date = LAST_MONDAY) -> SessionMark:
    return SessionMark(week, 1, "A", week, status.value, None, False, None, 0, 9)


def morning(
    clients: list[Client],
    flags: dict[int, list[Flag]],
    marks: Mapping[int, list[SessionMark]] = MappingProxyType({}),
    at_most: int | None = None,
    **more: object,
) -> MorningList:
    states = {client.pk: ClientState(client_id=client.pk, as_of=DAY, due_4_weeks=12) for client in clients}
    facts = RosterFacts(**{"states": states, "flags": flags, **more})
    last_week = {pk: outcome_of(of_client, LAST_MONDAY) for pk, of_client in marks.items()}
    return build_morning(
        clients, facts, day=DAY, last_week=last_week, words=LastWords(), live_exercises={}, at_most=at_most
    )


def test_a_client_is_one_row_in_the_pile_of_the_worst_finding() -> None:
    flags = {1: [flag(1, Kind.STALL, Urgency.ACT), flag(1, Kind.TURNOUT, Urgency.ACT)]}

    (pile,) = morning([person(1)], flags).piles

    assert pile.pile is Pile.RING
    assert [finding.flag.kind for finding in pile.rows[0].findings] == ["turnout", "stall"]
    assert pile.rows[0].remarks == ["No log yet", "also: stall"]


def test_piles_come_in_the_order_of_the_page() -> None:
    flags = {1: [flag(1, Kind.READY, Urgency.GOOD)], 2: [flag(2, Kind.TURNOUT)]}

    piles = morning([person(1), person(2)], flags).piles

    assert [pile.pile for pile in piles] == [Pile.RING, Pile.PLAN]


def test_rows_go_by_urgency_then_kind_then_the_newest_then_name() -> None:
    clients = [person(1, "Zoe"), person(2, "Bo"), person(3, "Ann"), person(4, "Cleo"), person(5, "Dora")]
    flags = {
        1: [flag(1, Kind.TURNOUT, Urgency.WATCH)],
        2: [flag(2, Kind.TURNOUT, Urgency.ACT, opened_on=DAY - timedelta(days=3))],
        3: [flag(3, Kind.TURNOUT, Urgency.ACT, opened_on=DAY - timedelta(days=3))],
        4: [flag(4, Kind.TURNOUT, Urgency.ACT)],
        5: [flag(5, Kind.PAIN, Urgency.NOW)],
    }

    (pile,) = morning(clients, flags).piles

    assert [row.client.name for row in pile.rows] == ["Dora", "Cleo", "Ann", "Bo", "Zoe"]


def test_several_clients_whose_plan_alone_runs_out_are_one_row() -> None:
    flags = {pk: [flag(pk, Kind.PLAN_RUNS_OUT)] for pk in (1, 2)} | {
        3: [flag(3, Kind.PLAN_RUNS_OUT), flag(3, Kind.STALL)]
    }

    (pile,) = morning([person(1, "Bo"), person(2, "Yara"), person(3, "Ann")], flags).piles

    assert pile.names_running_out == "Bo, Yara"
    assert [row.client.name for row in pile.rows] == ["Ann"]
    assert pile.count == 3


def test_a_single_plan_that_runs_out_is_a_row_of_its_own() -> None:
    (pile,) = morning([person(1)], {1: [flag(1, Kind.PLAN_RUNS_OUT)]}).piles

    assert (len(pile.rows), pile.running_out) == (1, [])


def test_what_the_coach_has_seen_folds_and_no_longer_counts() -> None:
    (pile,) = morning([person(1)], {1: [flag(1, Kind.STALL, seen_on=DAY)]}).piles

    assert (pile.count, len(pile.seen)) == (0, 1)


def test_a_matter_of_safety_stays_in_sight_when_seen() -> None:
    (pile,) = morning([person(1)], {1: [flag(1, Kind.PAIN, Urgency.NOW, seen_on=DAY)]}).piles

    assert (pile.count, pile.seen) == (1, [])


def test_put_aside_is_kept_below_until_its_day_has_come() -> None:
    tomorrow = DAY + timedelta(days=1)

    aside = morning([person(1)], {1: [flag(1, Kind.STALL, put_aside_until=tomorrow)]})
    back = morning([person(1)], {1: [flag(1, Kind.STALL, put_aside_until=DAY)]})

    assert (aside.count, aside.put_aside[0].finding.put_aside_until) == (0, tomorrow)
    assert (back.count, back.put_aside) == (1, [])


def test_one_or_two_missed_sessions_last_week_are_one_folded_line() -> None:
    marks = {1: [mark(Status.MISSED), mark(Status.DONE), mark(Status.NOT_DUE)], 2: [mark(Status.DONE)]}

    listed = morning([person(1), person(2)], {}, marks=marks)

    assert [(one.client.pk, one.missed, one.asked) for one in listed.missed_last_week] == [(1, 1, 2)]
    assert [client.pk for client in listed.going_well] == [2]


def test_somebody_with_a_turnout_finding_is_not_told_a_second_time_as_having_missed() -> None:
    listed = morning([person(1)], {1: [flag(1, Kind.TURNOUT)]}, marks={1: [mark(Status.MISSED)]})

    assert listed.missed_last_week == []


def test_missed_sessions_of_other_weeks_are_not_last_week() -> None:
    this_week, before = LAST_MONDAY + timedelta(weeks=1), LAST_MONDAY - timedelta(weeks=1)
    marks = {1: [mark(Status.MISSED, this_week), mark(Status.MISSED, before)]}

    assert morning([person(1)], {}, marks=marks).missed_last_week == []


def test_nobody_goes_well_of_whom_nothing_was_asked() -> None:
    idle = ClientState(client_id=1, as_of=DAY)

    listed = morning([person(1), person(2)], {}, states={1: idle})

    assert (listed.going_well, [client.pk for client in listed.nothing_due]) == ([], [1, 2])


def test_every_client_is_somewhere_on_the_list() -> None:
    clients = [person(pk) for pk in range(1, 6)]
    flags = {
        1: [flag(1, Kind.PAIN, Urgency.NOW)],
        2: [flag(2, Kind.STALL, put_aside_until=DAY + timedelta(days=2))],
        3: [flag(3, Kind.STALL, seen_on=DAY)],
    }

    listed = morning(clients, flags, marks={4: [mark(Status.MISSED)]})

    rows = [row.client.pk for pile in listed.piles for row in (*pile.rows, *pile.running_out, *pile.seen)]
    below = [one.client.pk for one in (*listed.put_aside, *listed.missed_last_week)]
    assert sorted(rows + below + [client.pk for client in (*listed.going_well, *listed.nothing_due)]) == [1, 2, 3, 4, 5]


def test_the_second_line_tells_what_was_last_heard_said_and_promised() -> None:
    state = ClientState(client_id=1, as_of=DAY, last_log_on=DAY - timedelta(days=9))
    words = LastWords(contacts={1: (DAY - timedelta(days=12), True)}, promises={1: "we check the knee"})
    facts = RosterFacts(states={1: state}, flags={1: [flag(1, Kind.TURNOUT)]})

    listed = build_morning([person(1)], facts, day=DAY, last_week={}, words=words, live_exercises={})

    assert listed.piles[0].rows[0].remarks == [
        "Last heard 9 days ago",
        "last word from you 12 days ago",
        "promised: “we check the knee”",
    ]


def test_a_phone_shows_three_to_ring_at_once_but_every_matter_of_safety() -> None:
    flags = {pk: [flag(pk, Kind.PAIN, Urgency.NOW)] for pk in range(1, 5)}
    flags |= {pk: [flag(pk, Kind.TURNOUT)] for pk in (5, 6)}

    (pile,) = morning([person(pk) for pk in range(1, 7)], flags).piles

    assert [waits for _, waits in pile.marked_rows] == [False] * 4 + [True] * 2


def test_a_phone_shows_of_the_plans_only_those_that_run_out_at_once() -> None:
    flags = {1: [flag(1, Kind.STALL)], 2: [flag(2, Kind.PLAN_RUNS_OUT)]}

    (pile,) = morning([person(1), person(2)], flags).piles

    assert [waits for _, waits in pile.marked_rows] == [True, False]


@pytest.mark.parametrize(
    ("written", "dialled"), [("+31 (0)20 555-01", "+312055501"), ("(020) 555 01", "02055501"), ("", "")]
)
def test_a_number_is_dialled_without_its_brackets_and_spaces(written: str, dialled: str) -> None:
    client = Client(pk=1, name="Bo", phone=written)

    listed = morning([client], {1: [flag(1, Kind.TURNOUT)]})

    assert listed.piles[0].rows[0].call_number == dialled


def test_a_long_pile_shows_the_worst_and_says_how_many_more_there_are() -> None:
    flags = {pk: [flag(pk, Kind.STALL)] for pk in (1, 2, 3)} | {4: [flag(4, Kind.STALL, seen_on=DAY)]}
    flags[3] = [flag(3, Kind.SKIPS_IT, Urgency.NOW)]

    (pile,) = morning([person(pk) for pk in range(1, 5)], flags, at_most=2).piles

    assert [row.client.pk for row in pile.shown] == [3, 1, 4]
    assert [row.client.pk for row, _ in pile.marked_rows] == [3, 1]
    assert (pile.count, pile.left_off) == (3, 1)


def test_whoever_is_left_off_a_pile_is_not_taken_to_go_well() -> None:
    flags = {pk: [flag(pk, Kind.STALL)] for pk in (1, 2, 3)}

    listed = morning([person(pk) for pk in (1, 2, 3)], flags, at_most=1)

    assert (listed.going_well, listed.piles[0].left_off) == ([], 2)
