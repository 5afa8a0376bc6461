"""`python -m tests.isolation` walks every address as everybody, and prints how much that was and what leaked."""

from __future__ import annotations

import logging
import sys
import time

from tests.isolation.alone import in_a_world


def main() -> int:
    with in_a_world() as world:
        from tests.isolation.grants import API, DESK, PROGRAMS, SESSIONS, people
        from tests.isolation.objects import TABLES
        from tests.isolation.walking import METHODS, WITH_A_SESSION, whole_walk

        logging.disable()
        started = time.perf_counter()
        walk = whole_walk(world)
        seconds = time.perf_counter() - started
        kinds = {thing.kind for thing in walk.things}
        callers = len(SESSIONS) + len(PROGRAMS) + len(WITH_A_SESSION)
        print(f"{len(DESK)} addresses of the desk, {len(API)} of the interface for programs, {len(METHODS)} methods")
        print(f"{len(walk.things)} objects of {len(kinds)} kinds, standing for {len(TABLES)} tables")
        print(f"{len(people())} people who come in {callers} ways")
        print(f"{walk.asking.count:,} requests in {seconds:.0f} s; leaks and wrong statuses: {len(walk.leaks)}")
        for leak in walk.leaks:
            print(f"  {leak}")
    return 1 if walk.leaks else 0


if __name__ == "__main__":
    sys.exit(main())
