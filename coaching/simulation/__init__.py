"""Invented rosters with known truth, from a seed: for the demo, for tests of the findings, and for measuring.

Plain Python: nothing here knows Django, pandas, or the rules that find things.
"""

from coaching.simulation.casting import read_mix
from coaching.simulation.roster import SimulatedRoster, simulate, write

__all__ = ["SimulatedRoster", "read_mix", "simulate", "write"]
