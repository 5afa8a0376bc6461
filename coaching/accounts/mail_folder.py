from __future__ import annotations

from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.mail.backends.filebased import EmailBackend


class MailFolder(EmailBackend):
    """Mail into a folder that its owner alone can read: what is in it opens accounts."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        Path(settings.EMAIL_FILE_PATH).mkdir(mode=0o700, parents=True, exist_ok=True)
        super().__init__(*args, **kwargs)
