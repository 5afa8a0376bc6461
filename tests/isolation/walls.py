"""Mutants that change nothing anybody could see, and the second wall that stands behind each."""

from __future__ import annotations

WALLS: dict[str, str] = {
    "coaching/api/resources/flags.py _client_known_for: all instead of visible_to": (
        "find_finding looks for that client among those whom the coach may see"
    ),
    "coaching/api/views_made.py record_views: without client_id__in=shown": (
        "whom it knows is taken away from those who were shown, and nobody else is in there"
    ),
}
