"""What is written down of what happened: one event a line on standard error, and nobody's data in it.

Times are UTC. A failure is told by its type and by where it came from, never in its own words: those may hold a name,
an address or a note. What packages say is written as it stands in their code, before anything was filled in; the desk
itself fills in numbers, and names of its own code. Whatever could pass for a second line or move a terminal's cursor
is spelled out.
"""

from __future__ import annotations

import logging
import sys
from collections.abc import Iterator
from pathlib import Path
from types import TracebackType
from typing import Any

import structlog
from django.core.exceptions import ImproperlyConfigured
from structlog.stdlib import ProcessorFormatter
from structlog.types import EventDict, Processor

# These put what a visitor sent into the words themselves: their name says what happened.
NAMED_BY_THEIR_LOGGER = "django.security"
OURS = "coaching."
PLACES_OF_A_FAILURE = 12
FORMS = ("json", "plain")


def logging_as(form: str, *, in_full: bool) -> dict[str, Any]:
    """For the settings; `in_full` writes down failures word for word, for whoever develops."""
    if form not in FORMS:
        raise ImproperlyConfigured(f"LOGS is {form}: it may be {' or '.join(FORMS)}")
    structlog.configure(
        processors=[structlog.contextvars.merge_contextvars, *_ABOUT_EVENTS, ProcessorFormatter.wrap_for_formatter],
        wrapper_class=structlog.stdlib.BoundLogger,
        logger_factory=structlog.stdlib.LoggerFactory(),
    )
    everything = {"handlers": ["stderr"], "level": "INFO", "propagate": False}
    return {
        "version": 1,
        "disable_existing_loggers": False,
        "formatters": {"line": {"()": "coaching.operation.logs.formatter", "form": form, "in_full": in_full}},
        "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "line"}},
        "root": {"handlers": ["stderr"], "level": "WARNING"},
        "loggers": {
            "coaching": everything,
            # Each request is a line of its own; where they are to be read by people, only what failed.
            "django_structlog": everything | {"level": "INFO" if form == "json" else "WARNING"},
            # The same requests again, with what was asked for in their addresses.
            "django.request": {"level": "CRITICAL"},
            "django.server": {"level": "CRITICAL"},
        },
    }


def formatter(form: str, in_full: bool) -> ProcessorFormatter:
    failures: Processor = structlog.processors.format_exc_info if in_full else tell_where_it_failed
    return ProcessorFormatter(
        foreign_pre_chain=[keep_to_what_the_code_says, structlog.contextvars.merge_contextvars, *_ABOUT_EVENTS],
        processors=[
            ProcessorFormatter.remove_processors_meta,
            failures,
            spell_out_what_does_not_print,
            structlog.processors.JSONRenderer() if form == "json" else plain_line,
        ],
        use_get_message=in_full,
        pass_foreign_args=True,
    )


def keep_to_what_the_code_says(_: Any, __: str, event: EventDict) -> EventDict:
    record: logging.LogRecord = event["_record"]
    filled_in = event.pop("positional_args", ())
    if record.name.startswith(NAMED_BY_THEIR_LOGGER):
        return event | {"event": record.name}
    if record.name.startswith(OURS) and filled_in:
        return event | {"event": record.msg % filled_in}
    return event if isinstance(record.msg, str) else event | {"event": type(record.msg).__name__}


def tell_where_it_failed(_: Any, __: str, event: EventDict) -> EventDict:
    found = event.pop("exc_info", None)
    if found is True:
        found = sys.exc_info()
    failure = found[1] if isinstance(found, tuple) else found
    if isinstance(failure, BaseException):
        kind = type(failure)
        places = list(_places(failure.__traceback__))[-PLACES_OF_A_FAILURE:]
        event |= {"failure": f"{kind.__module__}.{kind.__qualname__}", "at": places}
    return event


def _places(traceback: TracebackType | None) -> Iterator[str]:
    while traceback is not None:
        code = traceback.tb_frame.f_code
        yield f"{'/'.join(Path(code.co_filename).parts[-3:])}:{traceback.tb_lineno} {code.co_name}"
        traceback = traceback.tb_next


def spell_out_what_does_not_print(_: Any, __: str, event: EventDict) -> EventDict:
    return {name: _spelled_out(value) for name, value in event.items()}


def _spelled_out(value: Any) -> Any:
    if isinstance(value, list):
        return [_spelled_out(part) for part in value]
    if not isinstance(value, str) or value.isprintable():
        return value
    return "".join(letter if letter.isprintable() else ascii(letter)[1:-1] for letter in value)


def plain_line(_: Any, __: str, event: EventDict) -> str:
    """For people: time, level and event first, the rest by name; where it failed on lines of its own."""
    at = event.pop("at", [])
    head = [str(event.pop(name, "")) for name in ("timestamp", "level", "event")]
    rest = [f"{name}={value}" for name, value in event.items()]
    return "\n    ".join([" ".join([*head, *rest]), *at])


_ABOUT_EVENTS: list[Processor] = [
    structlog.stdlib.add_log_level,
    structlog.stdlib.add_logger_name,
    structlog.processors.TimeStamper(fmt="iso", utc=True),
]
