"""A process of its own with the demo's studio at a known moment: `make` fills the database, `serve` shows the desk.

`serve` says on standard output, as one line of JSON, where it is, who is signed in and what is where; it ends when its
standard input does.
"""

from __future__ import annotations

import json
import os
import sys
from datetime import date
from pathlib import Path
from threading import Thread

import time_machine

DAY = date(2026, 4, 15)
MOMENT = f"{DAY}T09:00:00Z"
SEED = 1


def make(clients: int, weeks: int) -> None:
    from django.core.management import call_command

    from coaching.demo.making import make_demo
    from coaching.demo.memory import DemoMemory

    call_command("migrate", verbosity=0, interactive=False)
    memory = DemoMemory(SEED, clients, weeks, staged_for=DAY)
    make_demo(memory, Path(os.environ["MUSTER_HOME"]) / "demo", today=DAY, say=lambda line: None)


def serve() -> None:
    from django.core.handlers.wsgi import WSGIHandler
    from django.core.servers.basehttp import ThreadedWSGIServer
    from django.test.testcases import QuietWSGIRequestHandler

    from tests.browser.places import places, sessions

    server = ThreadedWSGIServer(("127.0.0.1", 0), QuietWSGIRequestHandler)
    server.set_app(WSGIHandler())
    Thread(target=server.serve_forever, daemon=True).start()
    told = {"address": f"http://127.0.0.1:{server.server_port}", "sessions": sessions(), "places": places()}
    print(json.dumps(told), flush=True)
    sys.stdin.read()


if __name__ == "__main__":
    os.environ["DJANGO_SETTINGS_MODULE"] = "tests.browser.settings"
    time_machine.travel(MOMENT, tick=True).start()
    import django

    django.setup()
    if sys.argv[1] == "make":
        make(int(sys.argv[2]), int(sys.argv[3]))
    else:
        serve()
