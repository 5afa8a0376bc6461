from coaching.monitoring.models.facts import ClientState, ExposureFact, LogFact, SessionFact, Status, WeekFact
from coaching.monitoring.models.flags import Flag, FlagEvent, Kind, Urgency

__all__ = [
    "ClientState",
    "ExposureFact",
    "Flag",
    "FlagEvent",
    "Kind",
    "LogFact",
    "SessionFact",
    "Status",
    "Urgency",
    "WeekFact",
]
