"""All that is known of one client as at one day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from tests.plain_twin.exposures import Exposure, exposures
from tests.plain_twin.landings import Landing, landings, returns_after_a_gap
from tests.plain_twin.linking import LinkedLog, link_logs
from tests.plain_twin.record import Client
from tests.plain_twin.statuses import SessionState, session_states


@dataclass(eq=False)
class ClientDay:
    client: Client
    day: date
    links: list[LinkedLog]
    states: list[SessionState]
    exposures: list[Exposure]

    @property
    def exercises(self) -> list[str]:
        return sorted({exposure.row.exercise for exposure in self.exposures})

    def exposures_of(self, exercise: str) -> list[Exposure]:
        return [exposure for exposure in self.exposures if exposure.row.exercise == exercise]

    def landings_of(self, exercise: str) -> list[Landing]:
        return landings(self.exposures_of(exercise), returns_after_a_gap(self.links))

    def is_live(self, exercise: str) -> bool:
        """A session planned with it has its suggested day at D - 13 or later."""
        return any(
            session.suggested_on >= self.day - timedelta(days=13)
            for session in self.client.sessions
            if any(row.exercise == exercise for row in session.exercises)
        )


def look_at(client: Client, day: date) -> ClientDay:
    links = link_logs(client, day)
    return ClientDay(client, day, links, session_states(client, links, day), exposures(links))
