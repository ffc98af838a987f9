"""The nearest choice: what a design that asks for the impossible on another table could ask for instead.

The family says what cannot be, by the key it names; here stand the ways out, nearest first. The solver judges them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from slotwright.errors import SlotwrightError
from slotwright.parts.t_nuts import bolt_passes, preferred_threads
from slotwright.parts.table import Table
from slotwright.parts.threads import thread

Entry = Mapping[str, Any]
Changes = dict[str, Any]

MOST_TRIES = 150
"""Ways out tried for one thing that cannot be; our choice."""
ALONG_TABLE = ("station", "stations", "start")
"""Keys that say where along the table something stands, from its left end."""
_LENGTHS = {"mm": 10.0, "in": 12.7}


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One explicit choice of a design and what became of it.

    Attributes:
        fixture: name of the fixture; "" for the design as a whole.
        key: as the file writes it.
        old, new: plain values as the file has them; None where the key does not stand there.
        why: one line.
        lost: whether the refitted design no longer says what was chosen, so that the way back would not find it.
    """

    fixture: str
    key: str
    old: Any
    new: Any
    why: str
    lost: bool = True


def ways_out(key: str, entry: Entry, tables: Sequence[Table], unit: str) -> Iterator[Changes]:
    """Yield changes of a fixture's keys that may let it be solved, nearest first; None for a key takes it out.

    Args:
        key: the key the family named, or "" when it named none.
        entry: the fixture as the file has it.
        tables: the tables it shall serve.
        unit: of the design.
    """
    there = min(len(table.slot_centres) for table in tables)
    if key == "slots" and isinstance(entry.get("slots"), list):
        yield from _fewer_slots(entry, there)
    elif key == "quantity":
        yield {"quantity": there}
    elif key == "length":
        yield from _within_reach(entry, there, unit)
    elif key == "heads":
        yield from ({"bolt": name} for name in _smaller_bolts(entry, tables, unit))
        yield {"heads": "proud"}
    elif not key and "bolt" in entry:
        yield {"bolt": None}
    if key in entry and key not in ("kind", "name", "quantity", "heads", "length"):
        yield {key: None}


def _fewer_slots(entry: Entry, there: int) -> Iterator[Changes]:
    slots = nearest_slots(entry["slots"], there)
    yield {"slots": slots}
    if len(slots) < len(entry["slots"]) == entry.get("quantity"):
        yield {"slots": slots, "quantity": len(slots)}


def nearest_slots(wanted: Sequence[int], there: int) -> list[int]:
    """Return the slots nearest to those wanted on a table with so many: as many as can be, in the same order.

    >>> nearest_slots([1, 3], 2)
    [1, 2]
    """
    kept = sorted(wanted)[:there]
    nearest = {slot: min(slot, there - (len(kept) - 1 - n)) for n, slot in enumerate(kept)}
    return [nearest[slot] for slot in wanted if slot in nearest]


def _within_reach(entry: Entry, there: int, unit: str) -> Iterator[Changes]:
    """Fewer slots, as many as the bar reaches; then a longer bar."""
    slots = sorted(entry.get("slots") or range(1, there + 1))
    for number in range(len(slots) - 1, 0, -1):
        yield from ({"slots": slots[n : n + number]} for n in range(len(slots) - number + 1))
    if isinstance(entry.get("length"), str):
        from slotwright.sizes import length

        step = _LENGTHS[unit]
        first = (length(entry["length"]) // step + 1) * step
        yield from ({"length": written(first + step * n, unit)} for n in range(MOST_TRIES))


def _smaller_bolts(entry: Entry, tables: Sequence[Table], unit: str) -> Iterator[str]:
    largest = thread(entry["bolt"]).major if "bolt" in entry else min(table.slot.width for table in tables)
    for candidate in reversed(preferred_threads(unit)):
        if candidate.major < largest and all(bolt_passes(table.slot, candidate) for table in tables):
            yield candidate.designation


def written(mm: float, unit: str) -> str:
    """Write a length for a file, in the design's unit."""
    from slotwright import sizes

    if unit == "in":
        parts = sizes.fraction(mm)
        return f"{parts.text if parts.exact else sizes.decimals(sizes.in_unit(mm, 'mm', 'in'), 6)} in"
    return f"{sizes.decimals(mm, 4)} mm"


def too_wide(entry: Entry, before: Sequence[Table], after: Sequence[Table]) -> str | None:
    """Say why a fixture's explicit bolt, which went through the slots before, does not now; None when it does."""
    try:
        bolt = thread(entry["bolt"]) if "bolt" in entry else None
    except SlotwrightError:
        return None
    if bolt is None or not all(bolt_passes(table.slot, bolt) for table in before):
        return None
    names = [table.name for table in after if not bolt_passes(table.slot, bolt)]
    return f"{bolt.designation} does not pass the slots of {', '.join(names)}" if names else None
