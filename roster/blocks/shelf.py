"""The studio's exercises as a loader needs them: found by name, made when they are unknown."""

from __future__ import annotations

from dataclasses import dataclass

from roster.blocks.models import Exercise, Measure, Slot
from roster.labels import fold
from roster.people.models import Studio
from roster.tables.report import LoadReport
from roster.watching import Thing, Watcher


@dataclass(frozen=True, slots=True)
class NewExercise:
    """What a file tells of an exercise that the studio does not have; it is taken to use one implement."""

    name: str
    slot: str = Slot.EXTRA.value
    implement: str = ""
    measure: str = Measure.REPS.value


class Shelf:
    """Exercises of one studio by their folded names."""

    def __init__(self, studio: Studio) -> None:
        self.studio = studio
        self.by_name = {exercise.name_folded: exercise for exercise in Exercise.objects.filter(studio=studio)}

    def __getitem__(self, name: str) -> Exercise:
        return self.by_name[fold(name)]

    def add_unknown(self, wanted: list[NewExercise], report: LoadReport, watcher: Watcher) -> None:
        """Make those that are not there, and say so; of several with one name the first decides."""
        unknown: dict[str, NewExercise] = {}
        for exercise in wanted:
            if fold(exercise.name) not in self.by_name:
                unknown.setdefault(fold(exercise.name), exercise)
        made = Exercise.objects.bulk_create(self._row(folded, exercise) for folded, exercise in unknown.items())
        self.by_name |= {exercise.name_folded: exercise for exercise in made}
        report.messages += [f"exercise “{exercise.name}” was not known and is made" for exercise in made]
        watcher.made(Thing.EXERCISE, [exercise.pk for exercise in made])

    def _row(self, folded: str, new: NewExercise) -> Exercise:
        return Exercise(
            studio=self.studio,
            name=new.name,
            name_folded=folded,
            slot=new.slot,
            implement=new.implement,
            measure=new.measure,
        )
