"""Three true sentences about a period: who showed up, what moved, and what the time was like.

Which words are chosen hangs on the facts alone. None praises or blames, none names a finding, pain or why somebody
paused: they stand on the client's paper too.
"""

from __future__ import annotations

from coaching.check_ins.content import FigureKey, Phrase, Sentence
from coaching.check_ins.course import course_sentence
from coaching.check_ins.facts import PackFacts
from coaching.check_ins.progress import progress_sentence
from coaching.check_ins.telling import Teller, sentence_of
from coaching.monitoring.plain_words import counted, share_text


def build_sentences(facts: PackFacts) -> tuple[tuple[Sentence, ...], dict[str, str]]:
    """With the traces that their phrases name."""
    teller = Teller(facts)
    sentences = (turnout_sentence(teller), progress_sentence(teller), course_sentence(teller))
    return sentences, teller.traces


def turnout_sentence(teller: Teller) -> Sentence:
    facts = teller.facts
    figures = facts.now.figures
    so_far = "" if facts.is_over else " so far"
    when = teller.within("period", facts.period)
    if not figures["due"]:
        return sentence_of(Phrase("no session was due", (FigureKey.TURNOUT,)), when, Phrase(so_far), *_not_due(teller))
    attended, due = figures["attended"], figures["due"]
    start, end = _attended(attended, due)
    sessions = [Phrase(start, (FigureKey.TURNOUT,)), when, Phrase(so_far + end)]
    return sentence_of(*sessions, *_beside(teller), *(_share_done(figures) if attended else []))


def _attended(attended: int, due: int) -> tuple[str, str]:
    """What stands before the days, and after them; what nobody logged may have taken place all the same."""
    if due == 1:
        return "the 1 session due", " was logged" if attended else " was not logged"
    if not attended:
        return f"none of the {due} sessions due", " was logged"
    if attended == due:
        return f"all {due} sessions due", " were logged"
    return f"{attended} of the {due} sessions due", " was logged" if attended == 1 else " were logged"


def _not_due(teller: Teller) -> list[Phrase]:
    figures = teller.facts.now.figures
    if figures["awaited"]:
        waited = counted(figures["awaited"], "session")
        return [teller.traced(f"; word of {waited} is still to come", "awaited", f"{waited} awaited")]
    return []


def _beside(teller: Teller) -> list[Phrase]:
    earlier, before = teller.facts.earlier, teller.facts.before
    if earlier is None or before is None or not earlier.figures["due"]:
        return []
    counts = f"{earlier.figures['attended']} of {earlier.figures['due']}"
    return [Phrase(f", beside {counts}", (FigureKey.TURNOUT,)), teller.within("before", before)]


def _share_done(figures: dict[str, float]) -> list[Phrase]:
    if figures["dose"] is not None:
        return [Phrase(f"; of the load planned {share_text(figures['dose'])} was lifted", (FigureKey.DOSE,))]
    if figures["completion"] is not None:
        share = share_text(figures["completion"])
        return [Phrase(f"; on average {share} of a session’s sets were done", (FigureKey.COMPLETION,))]
    return []
