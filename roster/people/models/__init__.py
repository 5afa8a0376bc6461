from roster.people.models.care import Consent, Guardian, HealthAnswers, Limitation, ViewRecord
from roster.people.models.check_ins import CheckIn, CheckInAnswer
from roster.people.models.client import Client
from roster.people.models.kit import KitItem
from roster.people.models.pauses import Pause
from roster.people.models.studio import Coach, Studio
from roster.people.models.words import Contact, Note, Promise

__all__ = [
    "CheckIn",
    "CheckInAnswer",
    "Client",
    "Coach",
    "Consent",
    "Contact",
    "Guardian",
    "HealthAnswers",
    "KitItem",
    "Limitation",
    "Note",
    "Pause",
    "Promise",
    "Studio",
    "ViewRecord",
]
