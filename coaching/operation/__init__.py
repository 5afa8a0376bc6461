"""Running the desk: what it writes down of itself, whether it is well, what it counts."""
