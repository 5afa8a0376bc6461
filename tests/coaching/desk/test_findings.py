from __future__ import annotations

from datetime import date, timedelta

from coaching.desk.findings import findings_of, with_several_exercises
from coaching.monitoring.models import Flag, Kind, Urgency
from coaching.monitoring.piles import PILE_OF_KIND, SHOWN_PILES, Pile

DAY = date(2026, 4, 15)


def flag(kind: Kind = Kind.STALL, subject: str = "", urgency: Urgency = Urgency.WATCH, **more: object) -> Flag:
    fields = {"opened_on": DAY, "sentence": "S.", **more}
    return Flag(client_id=1, kind=kind, subject=subject, urgency=urgency, **fields)


def test_every_kind_has_its_pile() -> None:
    assert set(PILE_OF_KIND) == set(Kind.values)


def test_only_piles_that_have_a_kind_are_shown_in_the_order_of_the_page() -> None:
    assert SHOWN_PILES == (Pile.RING, Pile.ANSWER, Pile.PLAN)


def test_the_worst_finding_comes_first_and_within_an_urgency_the_order_of_kinds() -> None:
    flags = [
        flag(Kind.READY, urgency=Urgency.GOOD),
        flag(Kind.PLAN_RUNS_OUT, urgency=Urgency.ACT),
        flag(Kind.TURNOUT, urgency=Urgency.ACT),
        flag(Kind.PAIN, urgency=Urgency.NOW),
    ]

    found = findings_of(flags, live_exercises=9)

    assert [finding.flag.kind for finding in found] == ["pain", "turnout", "plan_runs_out", "ready"]


def test_several_exercises_short_become_one_sentence() -> None:
    flags = [flag(subject="Goblet squat"), flag(subject="Floor press", urgency=Urgency.ACT), flag(subject="Row")]

    (finding,) = findings_of(flags, live_exercises=9)

    assert finding.sentence == "Short in 3 of 9 exercises: Floor press, Goblet squat, Row."
    assert finding.urgency == Urgency.ACT
    assert len(finding.flags) == 3


def test_a_long_list_of_exercises_is_cut() -> None:
    flags = [flag(Kind.READY, subject=name) for name in "ABCDEF"]

    (finding,) = findings_of(flags, live_exercises=6)

    assert finding.sentence == "Ready for the next load in 6 of 6 exercises: A, B, C, D and 2 more."


def test_one_exercise_short_keeps_its_own_sentence_and_remark() -> None:
    (finding,) = findings_of([flag(sentence="Row short twice.", remark="Go again.")], live_exercises=9)

    assert (finding.sentence, finding.remark) == ("Row short twice.", "Go again.")


def test_the_newer_of_two_equal_findings_comes_first() -> None:
    older = flag(Kind.NO_STEP, "Row", opened_on=DAY - timedelta(days=9))
    newer = flag(Kind.NO_STEP, "Squat", opened_on=DAY)

    (finding,) = findings_of([older, newer], live_exercises=2)

    assert finding.flags == (newer, older)


def test_a_sentence_about_several_is_seen_only_when_every_one_is() -> None:
    seen, unseen = flag(subject="Row", seen_on=DAY), flag(subject="Squat")

    assert findings_of([seen, unseen], 2)[0].seen_on is None
    assert findings_of([seen], 2)[0].seen_on == DAY


def test_a_turnout_finding_stays_new_when_its_subject_has_changed_since() -> None:
    news = frozenset({(1, "turnout", "")})

    (finding,) = findings_of([flag(Kind.TURNOUT, "silent")], 0, news)

    assert finding.is_new


def test_another_exercise_is_not_new_because_one_is() -> None:
    news = frozenset({(1, "stall", "Row")})

    assert not findings_of([flag(subject="Squat")], 2, news)[0].is_new


def test_only_clients_with_the_same_finding_twice_need_their_number_of_exercises() -> None:
    flags = {1: [flag(subject="Row"), flag(subject="Squat")], 2: [flag(subject="Row"), flag(Kind.READY)], 3: []}

    assert with_several_exercises(flags) == [1]
