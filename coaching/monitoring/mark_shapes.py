"""The outlines of the session marks, in a box of ten by ten; each is a single path, so that a board of
thousands stays light."""

from __future__ import annotations

from functools import lru_cache

MARK_SIZE = 10
MARK_PITCH = 13

# Where a path begins in its box, and how it goes on from there.
_OUTLINES: dict[str, tuple[float, float, str]] = {
    "done": (0, 0, "h10v10h-10z"),
    "done-later": (0, 0, "h6l4 4v6h-10z"),
    "told": (0, 5, "a5 5 0 1 0 10 0a5 5 0 1 0-10 0z"),
    "told-later": (5, 0, "a5 5 0 1 0 5 5h-5z"),
    "missed": (0.75, 0.75, "h8.5v8.5h-8.5z"),
    "overdue": (0.75, 0.75, "h8.5v8.5h-8.5z"),
    "awaited": (0.75, 5, "a4.25 4.25 0 1 0 8.5 0a4.25 4.25 0 1 0-8.5 0z"),
    "not_due": (3, 7, "l4-4"),
    "to_come": (5, 5, "h.01"),
    "extra": (5, 2, "v6m-3-3h6"),
}
_FILLED = frozenset({"done", "partial", "told"})

_FRAME = 1.3
_INNER = MARK_SIZE - 2 * _FRAME


def path_of(shape: str, x: float, text: str = "") -> str:
    """The path element of a shape, `x` from the left; `text` is shown on hovering over it."""
    start = _opening(shape, x)
    return f"{start}><title>{text}</title></path>" if text else f"{start}/>"


@lru_cache(maxsize=8192)
def placed(shape: str, x: float) -> tuple[str, str]:
    """The class of a shape's path, and the path itself, `x` from the left."""
    kind, _, share = shape.partition("-")
    if kind == "partial":
        tenths, _, later = share.partition("-")
        start_x, start_y, outline = 0.0, 0.0, _partial_outline(int(tenths) / 10, bool(later))
    else:
        start_x, start_y, outline = _OUTLINES[shape]
    # Filled shapes are what a path is without a class.
    css_class = "" if kind in _FILLED else f"mark-{kind}"
    return css_class, f"M{x + start_x:g} {start_y:g}{outline}"


@lru_cache(maxsize=8192)
def _opening(shape: str, x: float) -> str:
    css_class, outline = placed(shape, x)
    return f'<path class="{css_class}" d="{outline}"' if css_class else f'<path d="{outline}"'


def _partial_outline(share: float, later: bool) -> str:
    """A full square with a hole, wound the other way, from under its top edge down to the share that was done."""
    hole = _INNER * (1 - share)
    if not later:
        return f"h10v10h-10zm{_FRAME} {_FRAME}v{hole:g}h{_INNER:g}v{-hole:g}z"
    # The hole follows the cut corner at the width of the frame.
    top = _INNER - 2.5
    cut = min(hole, 2.5)
    return f"h6l4 4v6h-10zm{_FRAME} {_FRAME}v{hole:g}h{top + cut:g}v{cut - hole:g}l{-cut:g} {-cut:g}z"
