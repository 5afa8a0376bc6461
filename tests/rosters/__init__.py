"""Invented rosters, seeded: valid files that are as awkward as real ones."""
