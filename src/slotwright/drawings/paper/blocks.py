"""Groups of views that stand together in rows, in their order, so that details are found by their letters."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from slotwright.drawings.paper.arranging import MARGIN
from slotwright.drawings.paper.placing import Box
from slotwright.drawings.paper.view_group import ViewGroup


@dataclass(frozen=True, slots=True)
class Block:
    """One way in which groups stand together, its lower left corner at (0, 0).

    Attributes:
        groups: placed.
        width, height: of all of them, mm.
    """

    groups: tuple[ViewGroup, ...]
    width: float
    height: float

    def at(self, box: Box) -> list[ViewGroup]:
        """Return the groups where a box has its lower left corner."""
        return [one.moved(box.x0, box.y0) for one in self.groups]


def blocks(groups: Sequence[ViewGroup]) -> list[Block]:
    """Return the ways in which groups stand together: in one row, in two and so on, to one column."""
    counts = range(len(groups), 0, -1)
    across = {ceil(len(groups) / ceil(len(groups) / count)): count for count in counts}
    return [_block(groups, count) for count in sorted(across, reverse=True)]


def _block(groups: Sequence[ViewGroup], across: int) -> Block:
    """Rows of so many groups from the top down, each in the middle of its cell; all cells are equally large."""
    wide = max(one.box.width for one in groups) + MARGIN
    rows = [groups[n : n + across] for n in range(0, len(groups), across)]
    placed: list[ViewGroup] = []
    low = 0.0
    for row in reversed(rows):
        high = max(one.box.height for one in row)
        for column, one in enumerate(row):
            x = column * wide + (wide - MARGIN - one.box.width) / 2.0
            y = low + high - one.box.height
            placed.append(one.moved_to(Box(x, y, x, y)))
        low += high + MARGIN
    return Block(tuple(placed), across * wide - MARGIN, low - MARGIN)
