"""The exercises of the invented studio. Start loads are typical first working loads of a beginner, in kilograms."""

from __future__ import annotations

from dataclasses import dataclass

BANDS = ("band thin", "band middle", "band thick")
BODY_WEIGHT = "bw"


@dataclass(frozen=True)
class Movement:
    """One exercise: where it belongs in a session, what it is done with, what a set of it counts."""

    name: str
    slot: str
    pattern: str
    implement: str
    start_kg: float
    regions: tuple[str, ...]
    count: int = 1
    is_each_side: bool = False
    # "" counts reps, "s" seconds, "m" metres.
    measure: str = ""
    # The body-weight exercise that follows once this one has become light.
    harder: str = ""

    @property
    def has_mass(self) -> bool:
        return self.implement not in ("", "band")

    @property
    def is_plain(self) -> bool:
        """Reps with a load: what stalls and steps are told about."""
        return self.has_mass and not self.measure


SHOULDER, ELBOW, WRIST, NECK = "shoulder", "elbow", "wrist", "neck"
BACK, HIP, KNEE, ANKLE = "lower back", "hip", "knee", "ankle"

UPPER = (
    Movement("floor press", "upper", "push", "dumbbell", 8, (SHOULDER, ELBOW), count=2),
    Movement("bent-over row", "upper", "pull", "dumbbell", 8, (BACK, ELBOW), count=2),
    Movement("one-arm row", "upper", "pull", "dumbbell", 10, (ELBOW,), is_each_side=True),
    Movement("half-kneeling press", "upper", "push", "dumbbell", 6, (SHOULDER,), is_each_side=True),
    Movement("standing press", "upper", "push", "dumbbell", 6, (SHOULDER, BACK), count=2),
    Movement("incline press", "upper", "push", "dumbbell", 8, (SHOULDER,), count=2),
    Movement("lateral raise", "upper", "push", "dumbbell", 4, (SHOULDER,), count=2),
    Movement("hammer curl", "upper", "pull", "dumbbell", 6, (ELBOW,), count=2),
    Movement("one-arm floor press", "upper", "push", "kettlebell", 8, (SHOULDER, ELBOW), is_each_side=True),
    Movement("staggered-stance row", "upper", "pull", "kettlebell", 12, (BACK, ELBOW), is_each_side=True),
    Movement("one-arm press", "upper", "push", "kettlebell", 8, (SHOULDER, WRIST), is_each_side=True),
    Movement("pull-over", "upper", "pull", "kettlebell", 8, (SHOULDER,)),
    Movement("bench press", "upper", "push", "barbell", 30, (SHOULDER, WRIST)),
    Movement("barbell row", "upper", "pull", "barbell", 30, (BACK, ELBOW)),
    Movement("overhead press", "upper", "push", "barbell", 20, (SHOULDER, BACK)),
    Movement("sandbag row", "upper", "pull", "sandbag", 10, (BACK, ELBOW)),
    Movement("band row", "upper", "pull", "band", 0, (ELBOW,)),
    Movement("band pull-apart", "upper", "pull", "band", 0, (SHOULDER,)),
    Movement("band chest press", "upper", "push", "band", 0, (SHOULDER,)),
    Movement("hands-raised push-up", "upper", "push", "", 0, (SHOULDER, WRIST), harder="push-up"),
    Movement("push-up", "upper", "push", "", 0, (SHOULDER, WRIST), harder="feet-raised push-up"),
    Movement("feet-raised push-up", "upper", "push", "", 0, (SHOULDER, WRIST)),
)
LOWER = (
    Movement("goblet squat", "lower", "squat", "dumbbell", 10, (KNEE, HIP)),
    Movement("split squat", "lower", "lunge", "dumbbell", 6, (KNEE, HIP), count=2, is_each_side=True),
    Movement("Romanian deadlift", "lower", "hinge", "dumbbell", 10, (BACK, HIP), count=2),
    Movement("step-up", "lower", "lunge", "dumbbell", 6, (KNEE,), count=2, is_each_side=True),
    Movement("reverse lunge", "lower", "lunge", "dumbbell", 6, (KNEE, HIP), count=2, is_each_side=True),
    Movement("loaded hip bridge", "lower", "hinge", "dumbbell", 12, (HIP, BACK)),
    Movement("front-held squat", "lower", "squat", "kettlebell", 12, (KNEE, HIP)),
    Movement("kettlebell deadlift", "lower", "hinge", "kettlebell", 16, (BACK, HIP)),
    Movement("one-leg deadlift", "lower", "hinge", "kettlebell", 8, (HIP, ANKLE), is_each_side=True),
    Movement("lateral lunge", "lower", "lunge", "kettlebell", 8, (KNEE, HIP), is_each_side=True),
    Movement("back squat", "lower", "squat", "barbell", 40, (KNEE, BACK)),
    Movement("deadlift", "lower", "hinge", "barbell", 50, (BACK, HIP)),
    Movement("front squat", "lower", "squat", "barbell", 30, (KNEE, WRIST)),
    Movement("sandbag squat", "lower", "squat", "sandbag", 15, (KNEE, BACK)),
    Movement("band good morning", "lower", "hinge", "band", 0, (BACK, HIP)),
    Movement("band side step", "lower", "lunge", "band", 0, (HIP,), is_each_side=True),
    Movement("squat to a chair", "lower", "squat", "", 0, (KNEE,), harder="body-weight squat"),
    Movement("body-weight squat", "lower", "squat", "", 0, (KNEE,), harder="slow squat"),
    Movement("slow squat", "lower", "squat", "", 0, (KNEE, ANKLE)),
    Movement("hip bridge", "lower", "hinge", "", 0, (HIP,), harder="one-leg hip bridge"),
    Movement("one-leg hip bridge", "lower", "hinge", "", 0, (HIP,), is_each_side=True),
    Movement("wall sit", "lower", "squat", "", 0, (KNEE,), measure="s"),
)
FULL = (
    Movement("squat to press", "full", "squat", "dumbbell", 6, (KNEE, SHOULDER), count=2),
    Movement("plank row", "full", "pull", "dumbbell", 6, (BACK, WRIST), is_each_side=True),
    Movement("clean and press", "full", "push", "dumbbell", 6, (SHOULDER, BACK), count=2),
    Movement("dumbbell carry", "full", "carry", "dumbbell", 12, (NECK,), count=2, measure="m"),
    Movement("two-hand swing", "full", "hinge", "kettlebell", 12, (BACK, HIP)),
    Movement("one-arm clean and press", "full", "push", "kettlebell", 8, (SHOULDER, WRIST), is_each_side=True),
    Movement("half get-up", "full", "brace", "kettlebell", 8, (SHOULDER,), is_each_side=True),
    Movement("suitcase carry", "full", "carry", "kettlebell", 12, (BACK,), measure="m"),
    Movement("overhead slam", "full", "throw", "slam ball", 3, (SHOULDER, BACK)),
    Movement("rotation slam", "full", "rotate", "slam ball", 3, (BACK,), is_each_side=True),
    Movement("push press", "full", "push", "barbell", 25, (SHOULDER, KNEE)),
    Movement("hang pull", "full", "hinge", "barbell", 25, (BACK, ELBOW)),
    Movement("ground to shoulder", "full", "hinge", "sandbag", 10, (BACK, KNEE), is_each_side=True),
    Movement("bear-hug carry", "full", "carry", "sandbag", 15, (BACK,), measure="m"),
    Movement("band wood chop", "full", "rotate", "band", 0, (BACK,), is_each_side=True),
    Movement("front plank", "full", "brace", "", 0, (SHOULDER,), measure="s"),
    Movement("bear crawl", "full", "brace", "", 0, (WRIST, SHOULDER), measure="m"),
    Movement("dead bug", "full", "brace", "", 0, (BACK,), is_each_side=True),
    Movement("squat thrust", "full", "squat", "", 0, (KNEE, WRIST), harder="squat thrust with a jump"),
    Movement("squat thrust with a jump", "full", "squat", "", 0, (KNEE, ANKLE)),
)
# Done beside the plan, never in it.
EXTRA = (
    Movement("box step-over", "extra", "lunge", "", 0, (KNEE,)),
    Movement("rope jumps", "extra", "throw", "", 0, (ANKLE,)),
    Movement("wall-ball throw", "extra", "throw", "slam ball", 3, (SHOULDER,)),
)
SHELF = {movement.name: movement for movement in (*UPPER, *LOWER, *FULL, *EXTRA)}
PLACES = (UPPER, LOWER, FULL)
