"""Find room on a sheet: views, tables and notes as boxes that may not meet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from math import inf
from typing import Literal

from slotwright.drawings.paper.placing import Box

Corner = Literal["top", "lower right", "lower left", "upper right"]
MARGIN = 8.0  # clear paper between two items, mm; our choice
TRIES = 6  # places tried for one variant of an item before the next


@dataclass(frozen=True, slots=True)
class Item:
    """Something that needs a box.

    Attributes:
        sizes: width and height of each variant, the best one first.
        corner: of the sheet it would best stand in.
        parts: boxes that it takes up in its only variant, seen from its lower left corner; empty for all of it.
    """

    sizes: tuple[tuple[float, float], ...]
    corner: Corner
    parts: tuple[Box, ...] = ()

    def taken_at(self, box: Box) -> list[Box]:
        """Return what it takes up where it stands."""
        return [part.moved(box.x0, box.y0) for part in self.parts] or [box]


@dataclass(frozen=True, slots=True)
class Spot:
    """Where an item stands and in which variant."""

    variant: int
    box: Box


def arrange(area: Box, taken: Sequence[Box], items: Sequence[Item]) -> tuple[Spot, ...] | None:
    """Place all items inside an area, none meeting another or what is taken; None where that fails.

    Args:
        area: inside of the frame.
        taken: boxes that stand already.
        items: in the order in which they choose.
    """
    least = sum(_least(item) for item in items) + sum(b.width * b.height for b in taken)
    if least > area.grown(MARGIN).width * area.grown(MARGIN).height:
        return None
    return _arrange(area, list(taken), items)


def _least(item: Item) -> float:
    """The least area of paper that an item takes up, mm2."""
    return sum(part.width * part.height for part in item.parts) or min(w * h for w, h in item.sizes)


def _arrange(area: Box, taken: list[Box], items: Sequence[Item]) -> tuple[Spot, ...] | None:
    if not items:
        return ()
    first, rest = items[0], items[1:]
    for variant, size in enumerate(first.sizes):
        for box in islice(_places(area, taken, size, first.corner), TRIES if rest else 1):
            others = _arrange(area, [*taken, *first.taken_at(box)], rest)
            if others is not None:
                return (Spot(variant, box), *others)
    return None


def _places(area: Box, taken: Sequence[Box], size: tuple[float, float], corner: Corner) -> Iterator[Box]:
    """Yield the free places that lean on the area or on a taken box, nearest to the wanted corner first."""
    width, height = size
    low, high = (area.x0, area.y0), (area.x1 - width, area.y1 - height)
    xs, ys = {low[0], high[0], (low[0] + high[0]) / 2.0}, {low[1], high[1]}
    for box in taken:
        xs |= {box.x0 - MARGIN - width, box.x1 + MARGIN, box.x0, box.x1 - width}
        ys |= {box.y0 - MARGIN - height, box.y1 + MARGIN, box.y0, box.y1 - height}
    columns = [x for x in xs if low[0] - 1e-9 <= x <= high[0] + 1e-9]
    rows = [y for y in ys if low[1] - 1e-9 <= y <= high[1] + 1e-9]
    # Written out, for this runs some ten thousand times a sheet: the places at which nothing taken is met.
    walls = [box.grown(MARGIN - 1e-6) for box in taken]
    found: list[tuple[float, Box]] = []
    for x in columns:
        beside = [(y0 - height, y1) for x0, y0, x1, y1 in walls if x0 < x + width and x < x1]
        for y in rows:
            for under, over in beside:
                if under < y < over:
                    break
            else:
                box = Box(x, y, x + width, y + height)
                found.append((_cost(area, box, corner), box))
    yield from (box for _, box in sorted(found))


def _cost(area: Box, box: Box, corner: Corner) -> float:
    middle = abs(box.x0 + box.x1 - area.x0 - area.x1) / 2.0
    low, left, right, high = box.y0 - area.y0, box.x0 - area.x0, area.x1 - box.x1, area.y1 - box.y1
    match corner:
        case "top":
            return 3.0 * high + middle
        case "lower right":
            return low + right
        case "lower left":
            return low + left
        case "upper right":
            return high + right


def centred(area: Box, box: Box, others: Sequence[Box]) -> Box:
    """Return the box moved to the middle of the free room above and below it, then beside it."""
    return box.moved(*centring(area, [box], others))


def centring(area: Box, parts: Sequence[Box], others: Sequence[Box]) -> tuple[float, float]:
    """Return how far right and up boxes move as one to the middle of the free room above and below, then beside."""
    up = _to_middle(map(_upright, parts), _upright(area), [_upright(other) for other in others])
    along = _to_middle((part.moved(0.0, up) for part in parts), area, others)
    return along, up


def _upright(box: Box) -> Box:
    """Turn a box over, so that up becomes along."""
    return Box(box.y0, box.x0, box.y1, box.x1)


def _to_middle(parts: Iterable[Box], area: Box, others: Sequence[Box]) -> float:
    """Return how far right boxes move to the middle of what is free on their left and on their right."""
    left = right = inf
    for part in parts:
        left, right = min(left, part.x0 - area.x0), min(right, area.x1 - part.x1)
        for other in others:
            if other.y0 - MARGIN < part.y1 and part.y0 < other.y1 + MARGIN:
                if other.x1 <= part.x0:
                    left = min(left, part.x0 - other.x1 - MARGIN)
                elif other.x0 >= part.x1:
                    right = min(right, other.x0 - MARGIN - part.x1)
    return (right - left) / 2.0
