"""How fast the calculations and the desk are, as ratios to peers on equal work; `python -m tests.bench` runs it."""
