from __future__ import annotations

from django.db import models


class Probe(models.Model):
    """The one row that is written to learn whether writing works."""

    written_at = models.DateTimeField(auto_now=True)

    def __str__(self) -> str:
        return f"written at {self.written_at}"
