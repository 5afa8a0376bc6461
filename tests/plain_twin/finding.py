from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Finding:
    kind: str
    # A region, a turnout rule, a folded exercise name, or empty.
    subject: str
    urgency: str

    @property
    def condition(self) -> tuple[str, str]:
        """What has to hold day after day for this to be one episode, whatever name it goes by."""
        return self.kind, "" if self.kind in ("turnout", "pain") else self.subject
