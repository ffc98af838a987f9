"""Where things stand along the table, carried over to a table of another length.

Distances between stations belong to the work, so everything that is placed by number moves together, as little as it
must; what does not fit even so is spread by the family's own rule.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil

from slotwright import sizes
from slotwright.errors import SlotwrightError
from slotwright.fixtures.bench import Bench
from slotwright.sharing.design_file import Design
from slotwright.sharing.refit_choices import ALONG_TABLE, Entry, written
from slotwright.sharing.set_up import solved

_STEPS = {"mm": 1.0, "in": sizes.MM_PER_INCH / 16.0}
_CLEAR = 1e-6


@dataclass(frozen=True, slots=True)
class Reach:
    """How far along the table something reaches, mm from the left end."""

    low: float
    high: float

    def on(self, length: float) -> bool:
        """Whether it lies within a table of this length."""
        return self.low >= -_CLEAR and self.high <= length + _CLEAR


def placed_keys(entry: Entry) -> list[str]:
    """Return the keys of a fixture that place it along the table."""
    return [key for key in ALONG_TABLE if key in entry]


def reach(design: Design, bench: Bench, numbers: Sequence[int]) -> Reach | None:
    """Return how far the pieces and bolts of some fixtures of a design reach; None when nothing of them is there."""
    low, high = float("inf"), -float("inf")
    for number in numbers:
        try:
            layouts = solved(replace(design, fixture=(design.fixture[number],)), bench, "").layouts
        except SlotwrightError:
            return None
        for layout in layouts:
            for placed in layout.pieces:
                x0, _, x1, _ = placed.footprint.bounds
                low, high = min(low, x0), max(high, x1)
            for item in layout.hardware:
                low, high = min(low, item.place.x), max(high, item.place.x)
    return Reach(low, high) if low <= high else None


def least_shift(there: Reach, length: float, unit: str) -> float | None:
    """Return the least shift, in steps of 1 mm or 1/16 in, that puts it on a table; None when it is too long."""
    if there.high - there.low > length + _CLEAR:
        return None
    step = _STEPS[unit]
    if there.low < -_CLEAR:
        shift = ceil(-there.low / step - _CLEAR) * step
    else:
        shift = -ceil((there.high - length) / step - _CLEAR) * step
    moved = Reach(there.low + shift, there.high + shift)
    exact = -there.low if there.low < -_CLEAR else length - there.high
    return shift if moved.on(length) else exact


def shifted(value: object, shift: float, unit: str) -> object:
    """Move a place, or each of a list, as the file writes them."""
    if isinstance(value, list):
        return [shifted(item, shift, unit) for item in value]
    return written(sizes.length(value) + shift, unit) if isinstance(value, str) else value
