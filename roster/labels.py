"""Labels that people type: shown as typed, compared trimmed and case-folded."""


def fold(label: str) -> str:
    """The form in which two labels are compared.

    >>> fold("  Goblet Squat ") == fold("goblet squat")
    True
    """
    return label.strip().casefold()
