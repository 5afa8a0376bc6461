from __future__ import annotations

from collections.abc import Sequence

from coaching.api.answering import FactList
from coaching.api.fields import RowOf, amount, client_members, count, text
from coaching.api.parameters import ClientFilters, week
from coaching.monitoring.fact_pages import Placed
from coaching.monitoring.fact_shapes import Row, week_row
from coaching.monitoring.fact_sources import WEEKS


class WeekRow(RowOf):
    client_id, client = client_members()
    iso_week = text("Such as 2026-W10.")
    due = count("Sessions that should have been done by the day asked for.")
    done = count("Done: from 80 % of their planned sets on.")
    partial = count("Done in part.")
    told = count("Told of, without details.")
    missed = count("Missed.")
    overdue = count("Two days or more after the suggested day, in a week that is not over.")
    awaited = count("The same, of somebody who sends logs weekly or by block.")
    not_due = count("In a pause, or before the client joined.")
    turnout = amount("Attended of due, 0 to 1.", null=True)
    completion = amount("Mean share of planned sets done, 0 to 1.", null=True)
    tonnage_kg = amount("Lifted in this week.", null=True)
    dose = amount("Share of the planned tonnage that was lifted, capped at what was asked.", null=True)
    dose_uncapped = amount("The same, not capped.", null=True)
    minutes = amount("Recorded in this week.", null=True)
    density_kg_min = amount("Kilograms a minute, over sessions with both.", null=True)
    session_load = amount("Effort x minutes, summed over sessions with both.", null=True)


EXAMPLE: Row = {
    "client_id": "6f0c8a52-3a8e-4b0e-9a55-0d2f6c1c7e11", "client": "ada.finn", "iso_week": "2026-W10", "due": 1,
    "done": 1, "partial": 0, "told": 0, "missed": 0, "overdue": 0, "awaited": 0, "not_due": 0, "turnout": 1.0,
    "completion": 1.0, "tonnage_kg": 480.0, "dose": 1.0, "dose_uncapped": 1.0, "minutes": 38.0,
    "density_kg_min": 12.631578947368421, "session_load": 228.0,
}


class WeekFilters(ClientFilters):
    week_from = week("week_start", "gte", "This week or a later one.")
    week_to = week("week_start", "lte", "This week or an earlier one.")


class Weeks(FactList):
    name = "weeks"
    summary = "The figures of each client and week with a plan or a log: client after client, week after week."
    shape, example, filters, source = WeekRow, EXAMPLE, WeekFilters, WEEKS

    def rows(self, page: Sequence[Placed]) -> list[Row]:
        return [{**week_row(fact, person.key), "client_id": person.public_id} for person, fact in page]
