"""The repository's own files, as tests read them."""

from __future__ import annotations

from collections.abc import Iterator
from fnmatch import fnmatch
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
# Of others, and long: what their authors wrote is not ours to hold to our rules.
NOT_OURS = ("coaching/static/vendor/", "LICENSE")
LOCKS = ("requirements/run.txt", "requirements/server.txt", "requirements/test.txt")
TEXTS = {".py", ".html", ".css", ".js", ".md", ".toml", ".txt", ".csv", ".svg", ".json", ".yaml", ".yml", ""}


def ignored() -> list[str]:
    lines = (ROOT / ".gitignore").read_text(encoding="utf-8").splitlines()
    return [line.strip("/") for line in lines if line and not line.startswith("#")] + [".git"]


def is_ignored(name: str) -> bool:
    return any(fnmatch(name, pattern) for pattern in ignored())


def top_level() -> list[Path]:
    return [path for path in ROOT.iterdir() if not is_ignored(path.name)]


def our_files() -> Iterator[Path]:
    """Text files of the repository that were written for it, the locks among them."""
    folders = [path for path in top_level() if path.is_dir()]
    files = [path for path in top_level() if path.is_file()]
    while folders:
        for path in folders.pop().iterdir():
            if is_ignored(path.name):
                continue
            (folders if path.is_dir() else files).append(path)
    return (path for path in files if path.suffix in TEXTS and not name_of(path).startswith(NOT_OURS))


def name_of(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()
