"""A process that asks for the packs of last month and makes them, and says after each how many there are.

python -m tests.crash.batch_maker
"""

from __future__ import annotations


def main() -> None:
    import django

    django.setup()
    from django.utils import timezone

    from coaching.check_ins.batches import ask_for_batch, work_through
    from coaching.check_ins.periods import month_before
    from coaching.demo.cast import OWNER
    from roster.people.models import Client, Coach

    owner, now = Coach.objects.get(email=OWNER.email), timezone.now()
    clients = Client.objects.filter(studio=owner.studio).active()
    batch = ask_for_batch(clients=clients, period=month_before(now.date()), size="a4", by=owner, now=now)
    work_through(batch.pk, lambda count: print(count, flush=True))


if __name__ == "__main__":
    main()
