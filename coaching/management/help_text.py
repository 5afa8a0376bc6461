"""The help of a command as it is written, so that examples stay on lines of their own."""

from django.core.management.base import DjangoHelpFormatter


class AsWritten(DjangoHelpFormatter):
    def _fill_text(self, text: str, width: int, indent: str) -> str:
        return "".join(indent + line for line in text.splitlines(keepends=True))
