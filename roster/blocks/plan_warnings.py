"""What a coach should look at in a plan, though it can be taken as it is."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from itertools import pairwise

from roster.blocks.block_rows import BlockEntry
from roster.blocks.models import Block
from roster.labels import fold
from roster.mass import LoadKind
from roster.people.models import KitItem

# Client and folded name of the implement.
KitKey = tuple[int, str]


def loads_off_the_kit(entries: Iterable[BlockEntry]) -> Iterator[str]:
    """Masses that the client's home kit can't make, once for each load; nothing of clients whose kit is not known."""
    entries = list(entries)
    loads = _home_loads({entry.client.studio_id for entry in entries})
    with_kit = {client_id for client_id, _ in loads}
    told: set[tuple[int, str, str, int | None]] = set()
    for entry in entries:
        for row in (row for session in entry.sessions.values() for row in session.exercises):
            at_home = loads.get((entry.client.pk, fold(row.implement)), set())
            is_named = bool(row.implement) and entry.client.pk in with_kit
            is_off = is_named and row.load.kind == LoadKind.MASS and row.load.grams not in at_home
            case = (entry.client.pk, fold(row.exercise), fold(row.implement), row.load.grams)
            if is_off and case not in told:
                told.add(case)
                yield f"row {row.row}: {entry.client.key} has no {row.implement} of {row.load} at home ({row.exercise})"


def _home_loads(studio_ids: set[int]) -> dict[KitKey, set[int]]:
    loads: dict[KitKey, set[int]] = defaultdict(set)
    at_home = KitItem.objects.filter(place=KitItem.Place.HOME, client__studio__in=studio_ids)
    for client_id, implement, loads_g in at_home.values_list("client_id", "implement", "loads_g"):
        loads[client_id, fold(implement)].update(loads_g)
    return loads


def overlaps(entries: Iterable[BlockEntry]) -> Iterator[str]:
    """Blocks of one client that share days, where the file has one of the two."""
    in_file = {entry.identity: entry.client for entry in entries}
    of_studios = Block.objects.filter(client__studio__in={client.studio_id for client in in_file.values()})
    blocks: dict[int, list[Block]] = defaultdict(list)
    for block in of_studios.order_by("starts_on", "pk"):
        blocks[block.client_id].append(block)
    for client in {client.pk: client for client in in_file.values()}.values():
        for earlier, later in _overlapping(blocks[client.pk]):
            if {(client.pk, earlier.label_folded), (client.pk, later.label_folded)} & in_file.keys():
                yield f"{client.key}: blocks “{earlier.label}” and “{later.label}” overlap from {later.starts_on}"


def _overlapping(blocks: list[Block]) -> Iterator[tuple[Block, Block]]:
    """Each block with the one before it that ends last, both by their start."""
    lasting = blocks[0] if blocks else None
    for _, block in pairwise(blocks):
        assert lasting is not None
        if block.starts_on <= lasting.ends_on:
            yield lasting, block
        lasting = max(lasting, block, key=lambda candidate: candidate.ends_on)
