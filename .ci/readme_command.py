"""Prints a shell block of a document: `readme_command.py README.md 1` prints the first."""

from __future__ import annotations

import re
import sys
from pathlib import Path


def shell_blocks(text: str) -> list[str]:
    return re.findall(r"^```sh\n(.*?)^```$", text, flags=re.MULTILINE | re.DOTALL)


if __name__ == "__main__":
    document, number = sys.argv[1], int(sys.argv[2])
    print(shell_blocks(Path(document).read_text(encoding="utf-8"))[number - 1], end="")
