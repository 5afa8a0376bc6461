"""run_due: whatever is due now."""

from __future__ import annotations

from typing import Any

from django.utils import timezone

from coaching.api.tokens import forget_ended_tokens
from coaching.check_ins.batches import forget_batches, go_on_with_batches
from coaching.loads.incoming import drop_expired
from coaching.loads.progress import forget_stale
from coaching.management.help_text import CommandWithExamples
from coaching.management.progress import TerminalProgress
from coaching.management.studios import all_studios
from coaching.monitoring.refresh import run_due


class Command(CommandWithExamples):
    help = """Do whatever is due now: age the facts and findings of every client whose day has turned, drop files that
nobody has decided on for two weeks, go on with batches of packs whose maker is gone, delete those whose week is over,
and the tokens of programs that have ended.

Safe to run at any time and twice. From cron, every ten minutes:

  */10 * * * *  python manage.py run_due
"""

    def handle(self, *args: Any, **options: Any) -> None:
        # Refuses a database without tables in words.
        all_studios()
        with TerminalProgress(self.stderr) as progress:
            done = run_due(timezone.now(), progress=progress.counting("clients computed anew"))
        self.stderr.write(f"Clients that were due: {done}.", str)
        forget_stale(timezone.now().timestamp())
        if dropped := drop_expired(timezone.now()):
            self.stderr.write(f"Files that nobody decided on, dropped: {dropped}.", str)
        with TerminalProgress(self.stderr) as progress:
            made = go_on_with_batches(timezone.now(), progress=lambda count: progress("packs looked at", count))
        if made:
            self.stderr.write(f"Batches of packs gone on with: {made}.", str)
        if over := forget_batches(timezone.now()):
            self.stderr.write(f"Batches of packs whose week is over, deleted: {over}.", str)
        if ended := forget_ended_tokens(timezone.now()):
            self.stderr.write(f"Tokens that had ended: {ended}.", str)
