"""Loads as entered, and as the integer grams that all arithmetic uses.

One pound is 453.59237 g exactly (international yard and pound, 1959; NIST SP 811, appendix B).
A load is rounded to whole grams once, when it comes in, and never again.
"""

from decimal import ROUND_HALF_UP, Decimal

from django.db import models

GRAMS_PER_KILOGRAM = Decimal(1000)
GRAMS_PER_POUND = Decimal("453.59237")


class MassUnit(models.TextChoices):
    KILOGRAM = "kg", "kg"
    POUND = "lb", "lb"


class LoadKind(models.TextChoices):
    """What makes an exercise heavy: a mass, one's own body, or a named band."""

    MASS = "mass", "mass"
    BODY = "body", "body weight"
    BAND = "band", "band"


def to_grams(amount: Decimal, unit: str) -> int:
    """Whole grams of `amount` in `unit` ("kg" or "lb"), halves rounded up."""
    factor = GRAMS_PER_POUND if unit == MassUnit.POUND else GRAMS_PER_KILOGRAM
    return int((amount * factor).to_integral_value(rounding=ROUND_HALF_UP))


def from_grams(grams: int, unit: str) -> Decimal:
    """The mass in `unit`, unrounded; for showing only, never to be stored back."""
    factor = GRAMS_PER_POUND if unit == MassUnit.POUND else GRAMS_PER_KILOGRAM
    return Decimal(grams) / factor
