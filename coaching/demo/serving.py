"""Serves the desk from this machine: one worker process, and a clock beside it for what falls due."""

from __future__ import annotations

import copy
import multiprocessing
import os
import socket
from collections.abc import Callable
from threading import Event, Thread
from typing import Any

from django.db import connections
from django.utils import timezone

from coaching.demo.making import Say

SECONDS_BETWEEN_RUNS = 600
BLOCKING_THREADS = 4
HIGHEST_PORT = 65535
SECONDS_TO_FINISH_REQUESTS = 5
SECONDS_BETWEEN_KNOCKS = 0.1


def find_port_fault(host: str, port: int) -> str | None:
    """Why nothing can listen there, found out before any work is done."""
    if not 0 < port <= HIGHEST_PORT:
        return f"{port} is no port: choose one up to {HIGHEST_PORT} with --port"
    try:
        family, kind, protocol, _, address = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0]
        with socket.socket(family, kind, protocol) as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind(address)
    except OSError as error:
        return f"cannot listen on {host}, port {port} ({error}): choose another with --port"
    return None


def serve(host: str, port: int, say: Say) -> None:
    """Until Ctrl-C or SIGTERM."""
    # Whoever only makes the demo needs no server.
    from granian import Granian
    from granian.constants import Interfaces
    from granian.log import LogLevels

    connections.close_all()
    # Somebody reads along in the terminal; the worker asks its environment.
    os.environ.setdefault("LOGS", "plain")
    # A fresh interpreter: a forked one would share this one's database handles and threads.
    multiprocessing.set_start_method("spawn", force=True)
    server = Granian(
        "coaching.wsgi:application",
        address=host,
        port=port,
        interface=Interfaces.WSGI,
        workers=1,
        blocking_threads=BLOCKING_THREADS,
        workers_kill_timeout=SECONDS_TO_FINISH_REQUESTS,
        respawn_failed_workers=True,
        log_level=LogLevels.warning,
        log_dictconfig=_messages_to_standard_error(),
    )
    stopped = Event()
    server.on_startup(lambda: Thread(target=keep_time, args=(stopped, _run_due, say), daemon=True).start())
    server.on_startup(lambda: Thread(target=_say_when_open, args=(host, port, stopped, say), daemon=True).start())
    server.on_shutdown(stopped.set)
    server.serve()


def _say_when_open(host: str, port: int, stopped: Event, say: Say) -> None:
    """Nobody is sent to a door that does not open yet."""
    while not stopped.is_set():
        try:
            socket.create_connection((host, port), timeout=1).close()
        except OSError:
            stopped.wait(SECONDS_BETWEEN_KNOCKS)
        else:
            say(f"Open http://{host}:{port}/ in a browser. Ctrl-C stops it.")
            return


def _messages_to_standard_error() -> dict[str, Any]:
    from granian.log import LOGGING_CONFIG

    handlers = copy.deepcopy(LOGGING_CONFIG["handlers"])
    return {"handlers": {name: handler | {"stream": "ext://sys.stderr"} for name, handler in handlers.items()}}


def keep_time(stopped: Event, run: Callable[[], object], say: Say, seconds: float = SECONDS_BETWEEN_RUNS) -> None:
    """Whatever is due, again and again; a failure is told of, and does not stop the clock."""
    while not stopped.wait(seconds):
        try:
            run()
        except Exception as error:
            say(f"What is due could not be done: {error!r}. It is tried again.")
        finally:
            connections.close_all()


def _run_due() -> None:
    from coaching.monitoring.refresh import run_due

    run_due(timezone.now())
