"""Two thousand mutants of good files: each is taken as its preview said or refused with its place, and harms nothing.

`python -m tests.faults --mutants 20000` tries more by hand; the numbers in a failure try one again.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from coaching.loads.loading import LOADERS
from roster.tables.child import lines_from_child
from roster.tables.faults import FileRefused
from roster.tables.limits import UPLOAD_LIMITS
from roster.tables.reading import Parse, read_table
from tests.faults.campaign import RUN_SEED, run
from tests.faults.mutants import Mutant, make_mutant
from tests.faults.nursery import Nursery
from tests.faults.seeds import KINDS, seeds
from tests.faults.trial import Record, try_mutant

pytestmark = pytest.mark.django_db
MUTANTS, A_TEST = 2_000, 100


@pytest.mark.parametrize("first", range(0, MUTANTS, A_TEST))
def test_no_mutant_crashes_or_half_loads_or_reaches_out_or_is_refused_without_its_place(record: Record, first: int):
    tally = run(range(first, first + A_TEST), record)

    print(f"seed {RUN_SEED}, mutants {first} to {first + A_TEST - 1}: {tally}")
    assert tally.failures == []
    assert (tally.accepted > 0, tally.refused > 0) == (True, True)


@pytest.mark.parametrize("seed", seeds(), ids=lambda seed: f"{seed.kind}, {seed.style}")
def test_the_good_files_are_taken(record: Record, nursery: Nursery, tmp_path: Path, seed):
    verdict = try_mutant(Mutant(0, seed.kind, seed.content, seed.style, "good.csv"), nursery, tmp_path, record)

    assert (verdict.is_accepted, verdict.problems, verdict.said) == (True, [], [])


def test_mutants_are_the_same_in_every_run_and_of_all_kinds():
    mutants = [make_mutant(1, number) for number in range(300)]

    assert mutants[:5] == [make_mutant(1, number) for number in range(5)]
    assert {mutant.kind for mutant in mutants} == set(KINDS)
    told = " ".join(mutant.told for mutant in mutants)
    levels = ("bytes:", "cells:", "rows:", "header:", "encoding:", "archive:", "markup:")
    assert [level for level in levels if level not in told] == []
    assert sum(mutant.content in {seed.content for seed in seeds()} for mutant in mutants) < 15


@pytest.mark.parametrize("number", range(0, MUTANTS, 160))
def test_the_child_of_the_product_answers_as_the_nursery_does(nursery: Nursery, tmp_path: Path, number: int):
    mutant = make_mutant(RUN_SEED, number)
    path = tmp_path / mutant.file_name
    path.write_bytes(mutant.content)

    assert _answer(path, mutant.kind, lines_from_child) == _answer(path, mutant.kind, nursery.parse)


def _answer(path: Path, kind: str, parse: Parse) -> object:
    try:
        table = read_table(path, LOADERS[kind].columns, UPLOAD_LIMITS, parse=parse)
    except FileRefused as refused:
        return str(refused.fault)
    return table.columns, table.rows, table.messages, list(table.faults)
