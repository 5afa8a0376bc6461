"""Which formula for the e1RM is used, and for how many reps: for whoever only names them and computes nothing."""

from __future__ import annotations

DEFAULT_FORMULA = "epley"
FEWEST_FORMULA_REPS = 2
MOST_FORMULA_REPS = 10
