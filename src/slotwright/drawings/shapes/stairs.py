"""Stairs of an outline: many equal steps that one dimension sizes, as it does a row of holes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from slotwright.drawings.paper.style import Style
from slotwright.drawings.pitches import pitch_text

MANY = 12  # corners along one way, above which equal steps are not dimensioned one by one; our choice
SAME = 1e-5  # mm


@dataclass(frozen=True, slots=True)
class Stairs:
    """Equal steps.

    Attributes:
        low, high: where they begin and end, mm.
        text: what the dimension says, "<>" standing for the whole.
    """

    low: float
    high: float
    text: str

    def inside(self, value: float) -> bool:
        """Say whether a place is one of the steps, the first one apart."""
        return self.low + SAME < value < self.high + SAME


def stairs_among(values: Sequence[float], style: Style) -> Stairs | None:
    """Return the longest run of equal steps among rising places, where there are many and figures multiply out."""
    if len(values) <= MANY:
        return None
    first, last = max(_runs(values), key=lambda run: (run[1] - run[0], -run[0]))
    steps, whole = last - first, values[last] - values[first]
    if steps < MANY // 2 or style.rounded(whole / steps) * steps != style.rounded(whole):
        return None
    return Stairs(values[first], values[last], pitch_text(steps, whole / steps, style))


def _runs(values: Sequence[float]) -> list[tuple[int, int]]:
    """From which to which place the steps are equal."""
    found, start = [], 0
    for n in range(1, len(values)):
        if n + 1 == len(values) or abs(values[n + 1] - 2.0 * values[n] + values[n - 1]) > SAME:
            found.append((start, n))
            start = n
    return found
