"""One row of the board as it stands in the page; written here, since a template takes longer for three hundred rows
than the database does for their facts."""

from __future__ import annotations

from datetime import date

from django.utils.html import escape
from django.utils.safestring import SafeString

from coaching.desk.addresses import story_address
from coaching.desk.board import BoardRow
from coaching.desk.days import ago

_NOTHING_DUE = '<span class="muted" title="nothing due">–</span>'
_NO_LOG = '<span class="muted">no log yet</span>'
_NO_WORD = '<span class="muted" title="no contact kept">–</span>'


def row_html(row: BoardRow, day: date, query: str) -> SafeString:
    """`query` carries an earlier day over to the story."""
    state = row.state
    figures = (
        _turnout(state.attended_4_weeks, state.due_4_weeks) if state else _NOTHING_DUE,
        _turnout(state.attended_12_weeks, state.due_12_weeks) if state else _NOTHING_DUE,
    )
    heard = ago(row.last_heard_on, day) if row.last_heard_on else _NO_LOG
    word = ago(row.last_word_on, day) if row.last_word_on else _NO_WORD
    return SafeString(
        f'<tr role="row"><th role="rowheader" scope="row"><a href="{story_address(row.client)}{escape(query)}">'
        f"{escape(row.client.name)}</a>{_need(row)}</th>{row.cells}"
        + "".join(f'<td role="cell" class="number">{figure}</td>' for figure in figures)
        + f'<td role="cell">{heard}</td><td role="cell">{word}</td></tr>'
    )


def _turnout(attended: int, due: int) -> str:
    return f"{attended}/{due}" if due else _NOTHING_DUE


def _need(row: BoardRow) -> str:
    """What the worst finding is about, and whether the client pauses."""
    words = ["paused"] if row.is_paused else []
    if row.worst:
        urgency = row.worst.urgency
        words.append(f'<span class="urgency {urgency}">{urgency}</span> {row.need}')
    return f"<small>{' · '.join(words)}</small>" if words else ""
