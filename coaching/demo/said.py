"""What was said, promised and noted about the invented clients, by what is going on with them."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Said:
    """A talk some days ago, what came of it, and what the coach wrote down."""

    how: str
    days_ago: int
    outcome: str
    promise: str = ""
    due_in_days: int = 7
    note: str = ""


# By the finding's kind, or for turnout by its subject.
OF_A_FINDING = {
    "pain": Said("message", 3, "Asked to leave out whatever hurts.", "We look at it together on the next call", 2),
    "silent": Said("message", 15, "No answer yet.", "Two sessions a week until the exams are over", -5),
    "week_gone": Said("call", 16, "Busy at work, wants to keep the three days.", "Short version on late days", 3),
    "not_started": Said("call", 13, "First talk. Will begin once the kit has come.", "First session this week", -2),
    "early": Said("call", 18, "First talk. Mornings are best.", "Shoes and mat ready the evening before", 4),
    "stall": Said("message", 9, "Sleeps badly at the moment.", "Films the last set", 5, "Grip goes before legs."),
    "step_not_taken": Said("message", 10, "The next one looks like a big jump.", "Tries one set with it", 3),
    "skips_it": Said("call", 12, "All well.", "Tells me which exercise is no fun", 6),
    "cut_short": Said("message", 8, "New job, less time in the mornings.", "Says what time there is", 4),
    "no_step": Said("message", 20, "Happy with how it goes.", note="Plan still the copied one. Write a new block."),
    "plan_runs_out": Said("call", 8, "Wants the same days in the next block.", "New block by the weekend", 2),
    "ready": Said("message", 17, "Feels good."),
}  # fmt: skip
OF_THE_OTHERS = (
    Said("message", 5, "All well.", "Photo of the new rack"),
    Said("call", 11, "Likes the new block.", "Walks to work on Fridays", 10, "Prefers to be told why."),
    Said("message", 3, "Thanks for the remark about the elbows."),
    Said("call", 19, "Goes well. Next call in a month."),
    Said("met", 24, "Trained together once. Good depth, knees fine.", "Slower on the way down"),
    Said("message", 14, "Sent the plan for the holidays.", note="Travels a lot in spring."),
    Said("call", 7, "Wants to lift more than the brother.", "Keeps the rests", 12, "Competitive. Mind the jumps."),
    Said("message", 21, "Asked about shoes."),
)  # fmt: skip
NOTICED_BY = (
    "No stop on the third floor",
    "Ten in a row on film",
    "Up and down with no hand on the knee",
    "The bag feels light",
    "A week without the heating pad",
)
# What somebody spares, whatever else goes on.
CAREFUL_WITH = (
    ("wrist", "Old break, flat hand on the floor is too much for long."),
    ("jumping", "Thin walls, sleeping child."),
    ("shoulder", "Nothing behind the neck."),
)
