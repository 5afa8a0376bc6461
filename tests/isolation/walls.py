"""Mutants that change nothing anybody could see, and the second wall that stands behind each."""

from __future__ import annotations

_LOOKED_UP = "what it answers is looked up by the ids of clients that the coach may see, and by no others"
_A_CHOICE = "chooses among the clients that the owner may see; visible_to stands before it"
_BY_ID = "the ids of what the load touched are those of its own studio; no other studio's load names them"
_BY_CHANGEABLE = "changeable_by stands beside it, and whoever loads belongs to that one studio"
_OF_THE_FILE = "what it finds is looked up by the clients of the file, who were changeable by whoever loads it"

WALLS: dict[str, str] = {
    "coaching/api/resources/flags.py _client_known_for: all instead of visible_to": (
        "find_finding looks for that client among those whom the coach may see"
    ),
    "coaching/api/views_made.py record_views: without client_id__in=shown": (
        "whom it knows is taken away from those who were shown, and nobody else is in there"
    ),
    "coaching/desk/beside.py read_beside: without client__in=clients": _LOOKED_UP,
    "coaching/desk/beside.py read_extras: without client__in=client_ids": _LOOKED_UP,
    "coaching/desk/last_words.py _standing_promises: without client__in=clients": _LOOKED_UP,
    "coaching/desk/last_words.py read_last_contacts: without client__in=clients": _LOOKED_UP,
    "coaching/desk/live_exercises.py count_live_exercises: without session__block__client_id__in=client_ids": (
        _LOOKED_UP
    ),
    "coaching/desk/news.py news_since: without client__in=clients": _LOOKED_UP,
    "coaching/desk/roster.py people_of: without Q(lead=coach) | Q(covering=coach) | Q(pk__in=shared)": _A_CHOICE,
    "coaching/desk/roster.py people_of: without coach_id=coach.pk": _A_CHOICE,
    "coaching/loads/in_the_way.py _later_loads: without studio=done.load.studio_id": _BY_ID,
    "coaching/loads/in_the_way.py _out_of_reach: visible_to instead of changeable_by": (
        "the two differ for assistants alone, and may_load lets none of them load or undo"
    ),
    "coaching/loads/in_the_way.py _with_blocks_since: without studio=load.studio_id": _BY_ID,
    "coaching/loads/models.py may_load: without “coach.is_authenticated”": (
        "nobody who is not signed in is active or belongs to a studio"
    ),
    "coaching/monitoring/client_reading.py _computed_client: without block__client=client": _LOOKED_UP,
    "coaching/monitoring/client_reading.py _computed_client: without client=client": _LOOKED_UP,
    "coaching/monitoring/fact_pages.py _stored: without client_id__in=[person.pk for person in people]": (
        "a page is put together person by person, from those who may be seen"
    ),
    "coaching/monitoring/reading.py RosterFacts.read_marks: without client_id__in=stored": _LOOKED_UP,
    "coaching/monitoring/reading.py RosterFacts.read_outcomes: without client__in=clients": _LOOKED_UP,
    "coaching/monitoring/reading.py _add_computed: without block__client_id__in=list(assessed.as_of)": _LOOKED_UP,
    "coaching/monitoring/reading.py _add_stored_flags: without client__in=clients": _LOOKED_UP,
    "coaching/monitoring/reading.py read_roster: without client__in=clients": _LOOKED_UP,
    "roster/blocks/loading.py _blocks_there: without client__studio__in={entry.client.studio_id for entry in entries}": (  # noqa: E501
        _OF_THE_FILE
    ),
    "roster/blocks/loading.py load_blocks: without studio=studio": _BY_CHANGEABLE,
    "roster/blocks/plan_warnings.py _home_loads: without client__studio__in=studio_ids": _OF_THE_FILE,
    "roster/blocks/plan_warnings.py overlaps: without client__studio__in={client.studio_id for client in in_file.values()}": (  # noqa: E501
        _OF_THE_FILE
    ),
    "roster/logs/loading.py _read_sessions: without studio=studio": _BY_CHANGEABLE,
}
