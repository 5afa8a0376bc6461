"""Style sheets, scripts and fonts: from where they are written, or collected under names that change with them."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from django.core.exceptions import ImproperlyConfigured

MANIFEST = "staticfiles.json"
COLLECT = "python manage.py collectstatic --no-input"


def static_files(collected: str) -> dict[str, Any]:
    """The settings for files in `collected`, or, where that is empty, for files that nobody needs to collect."""
    how = "whitenoise.storage.CompressedManifestStaticFilesStorage" if collected else _AS_WRITTEN
    return {
        "STATIC_ROOT": collected or None,
        "WHITENOISE_USE_FINDERS": not collected,
        # No page from elsewhere has a use for them.
        "WHITENOISE_ALLOW_ALL_ORIGINS": False,
        "STORAGES": {
            "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
            "staticfiles": {"BACKEND": how},
        },
    }


def refuse_uncollected(collected: str | None, sources: Iterator[Path]) -> None:
    """Before the first page: files that were never collected, or were changed since."""
    if not collected:
        return
    manifest = Path(collected) / MANIFEST
    if not manifest.exists():
        raise ImproperlyConfigured(f"STATIC_ROOT holds no collected files: run `{COLLECT}`")
    made_at = manifest.stat().st_mtime
    if any(path.stat().st_mtime > made_at for path in sources):
        raise ImproperlyConfigured(f"files were changed since they were collected in STATIC_ROOT: run `{COLLECT}`")


def files_below(folders: list[Path]) -> Iterator[Path]:
    for folder in folders:
        for where, _, names in os.walk(folder):
            yield from (Path(where) / name for name in names)


_AS_WRITTEN = "django.contrib.staticfiles.storage.StaticFilesStorage"
