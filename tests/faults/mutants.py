"""Mutants of good files: each made anew from the seed of a run and its own number, so that any can be had again."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from tests.faults.archive_mutations import ARCHIVE_MUTATIONS
from tests.faults.markup_mutations import CELL_MUTATIONS, MARKUP_MUTATIONS
from tests.faults.seeds import Seed, seeds
from tests.faults.text_mutations import TEXT_MUTATIONS, Mutation

# How often a mutant is mutated at which level.
LEVELS_OF_WORKBOOKS = {"archive": 3, "markup": 3, "cells": 5}
LEVELS_OF_TEXT = {"bytes": 2, "cells": 5, "rows": 3, "header": 2, "encoding": 1}
MUTATIONS_OF_WORKBOOKS = {"archive": ARCHIVE_MUTATIONS, "markup": MARKUP_MUTATIONS, "cells": CELL_MUTATIONS}
ENDINGS = ("csv", "xlsx", "xls", "txt")


@dataclass(frozen=True)
class Mutant:
    number: int
    kind: str
    content: bytes
    # From which file, and what was done to it.
    told: str
    file_name: str


def make_mutant(run_seed: int, number: int) -> Mutant:
    random = Random(f"{run_seed} {number}")
    seed = random.choice(seeds())
    content, steps = seed.content, []
    for _ in range(random.choice([1, 1, 1, 2, 3])):
        level, mutation = _draw(seed, random)
        try:
            changed = mutation(content, random)
        except Exception:
            # What the steps before left can't be taken apart any more, in one of many ways.
            break
        content = changed or content
        steps.append(f"{level}: {mutation.__name__}")
    ending = random.choice(ENDINGS) if random.random() < 0.2 else "xlsx" if seed.is_workbook else "csv"
    return Mutant(number, seed.kind, content, f"{seed.kind}, {seed.style}; {'; '.join(steps)}", f"mutant.{ending}")


def _draw(seed: Seed, random: Random) -> tuple[str, Mutation]:
    levels = LEVELS_OF_WORKBOOKS if seed.is_workbook else LEVELS_OF_TEXT
    [level] = random.choices(list(levels), list(levels.values()))
    return level, random.choice(MUTATIONS_OF_WORKBOOKS[level] if seed.is_workbook else TEXT_MUTATIONS[level])
