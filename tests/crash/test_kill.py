"""A server killed while it is written to has lost nothing that it had acknowledged (`python -m tests.crash` goes on).

ASVS 5.0 2.3.3: a change is kept as a whole or not at all.
"""

from __future__ import annotations

import random
import shutil
from pathlib import Path

import pytest

from tests.crash.killing import Killing, Outcome
from tests.crash.ledger import Kind, opened

CYCLES = 40
READY_WITHIN_S = 3
# A machine with other things to do starts everything more slowly: a start that nothing went before says how much.
SLOWER_THAN_A_CLEAN_START = 1.5


@pytest.fixture(scope="module")
def outcome(tmp_path_factory: pytest.TempPathFactory) -> Outcome:
    seed = random.randrange(10**6)
    print(f"seed: {seed}")
    outcome = Killing(tmp_path_factory.mktemp("crash") / "home", seed).run(CYCLES)
    print("\n".join(outcome.lines()))
    return outcome


def test_nothing_acknowledged_is_lost_or_there_by_half_or_twice_and_the_file_is_whole(outcome: Outcome) -> None:
    assert outcome.faults == []
    assert outcome.ledger.refused == {}
    # Of every kind, and some whose sender never heard: else nothing was put to the test.
    assert set(outcome.ledger.acknowledged.values()) == set(Kind)
    assert len(outcome.ledger.acknowledged) > CYCLES
    assert len(outcome.ledger.unanswered) > CYCLES / 4


def test_it_is_ready_again_in_seconds(outcome: Outcome) -> None:
    clean_start, *after_kills = outcome.seconds_to_ready

    assert sorted(after_kills)[CYCLES // 2] <= max(READY_WITHIN_S, clean_start * SLOWER_THAN_A_CLEAN_START)


@pytest.mark.parametrize(
    ("harm", "kind"),
    [
        ("DELETE FROM people_note WHERE text = :word", Kind.NOTE),
        ("UPDATE people_contact SET outcome = '' WHERE outcome = :word", Kind.CONTACT),
        ("DELETE FROM monitoring_flagevent WHERE note = :word", Kind.ACT),
        ("DELETE FROM logs_setlog WHERE id = (SELECT max(sets.id) FROM logs_setlog AS sets JOIN logs_sessionlog AS log"
         " ON log.id = sets.session_log_id WHERE log.note = :word)", Kind.FILE),
        ("INSERT INTO people_note (client_id, written_by_id, text, written_at) SELECT client_id, written_by_id, text,"
         " written_at FROM people_note WHERE text = :word", Kind.NOTE),
    ],
    ids=["a lost note", "a lost contact", "half an act", "a lost set", "a note that is there twice"],
)  # fmt: skip
def test_the_ledger_finds_what_is_lost_or_half_or_doubled(
    outcome: Outcome, tmp_path: Path, harm: str, kind: Kind
) -> None:
    harmed = Path(shutil.copy(outcome.database, tmp_path))
    word = next(word for word, its_kind in outcome.ledger.acknowledged.items() if its_kind is kind)
    with opened(harmed) as connection:
        connection.execute(harm, {"word": word})

    assert [fault for fault in outcome.ledger.faults(harmed) if word in fault]
