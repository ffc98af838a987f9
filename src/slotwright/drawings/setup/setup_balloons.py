"""Balloons on the plan of a set-up: which place on an item each one points at."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import product
from math import cos, dist, hypot, radians, sin
from typing import NamedTuple

from slotwright.drawings.paper.placing import Box, Register, marks_box, points_box
from slotwright.drawings.paper.sheet import Circle, Mark, Point, View
from slotwright.drawings.paper.style import Style
from slotwright.drawings.setup.balloons import free_balloon
from slotwright.drawings.setup.covering import holds
from slotwright.drawings.setup.setup_plan import is_seen, piece_box, rings, stands_over, surface
from slotwright.fixtures.layout import Layout, PlacedHardware, PlacedPiece
from slotwright.parts.hardware import Cylinder, Prism

COPIES = 4  # equal pieces that are tried for a balloon; our choice
CLEAR = 1.5  # from a dot on a piece to a washer or a chuck, mm on paper; our choice
TURNS = (-30, 30, 150, -150, 60, -60, 120, -120, 0, 180)  # degrees about an item, for its dot; our choice
SHARES = (0.4, 0.25, 0.15)  # of an item's width, from its axis to that dot; our choice


class _Tip(NamedTuple):
    """A place for the dot of a balloon, on a piece; table coordinates."""

    at: Point
    piece: PlacedPiece


def setup_balloons(
    view: View, layout: Layout, items: dict[str, int], taken: Register, style: Style
) -> list[tuple[Mark, ...]]:
    """One balloon for each different piece, and for each bought item among these that is seen.

    It stands at whichever copy there is room, its dot where nothing else lies over the item; nothing for one without.
    """
    places: dict[str, list[Point]] = {}
    for title in dict.fromkeys(placed.piece.name for placed in layout.pieces):
        copies = [placed for placed in layout.pieces if placed.piece.name == title]
        places[title] = _on_pieces(copies[:COPIES], layout, CLEAR / view.scale)
    for title in dict.fromkeys(item.item.title for item in layout.hardware):
        found = [item for item in layout.hardware if item.item.title == title] if title in items else []
        found = [item for item in found if is_seen(item, layout)]
        if found:
            places[title] = _on_items(found[:COPIES], layout)
    balloons = []
    for title, at in places.items():
        tips = [view.to_paper(point) for point in at]
        drawn = free_balloon(tips, items[title], taken, style)
        drawn = drawn or free_balloon(tips, items[title], taken, style, over_circles=True)
        taken.add(drawn)
        if rings_drawn := [mark for mark in drawn if isinstance(mark, Circle)]:
            taken.add_box(marks_box(rings_drawn))  # no leader may run through a balloon
        balloons.append(drawn)
    return balloons


def _on_pieces(copies: Sequence[PlacedPiece], layout: Layout, clear: float) -> list[Point]:
    """Places on pieces that no bought item lies over; clear of round ones where they can be."""
    boxes = [piece_box(placed) for placed in copies]
    near = [_near(box.grown(clear), layout.hardware) for box in boxes]
    tips = [
        (_Tip((box.x0 + box.width * u, box.y0 + box.height * v), placed), items)
        for v in (0.12, 0.3, 0.5, 0.88, 0.04, 0.96, 0.21, 0.4, 0.6, 0.7)
        for placed, box, items in zip(copies, boxes, near, strict=True)
        for u in (0.75, 0.25, 0.66, 0.34, 0.88, 0.12)
    ]
    bare = [(tip, items) for tip, items in tips if not _under(tip, items, 0.0)]
    off = [tip.at for tip, items in bare if not _under(tip, items, clear)]
    return off or [tip.at for tip, _ in bare]


def _near(box: Box, hardware: Iterable[PlacedHardware]) -> list[tuple[PlacedHardware, float]]:
    """Bought items that may reach into a box, and how far each reaches from its own axis."""
    found = []
    for item in hardware:
        x, y, far = item.place.x, item.place.y, max(map(_reach, item.item.body), default=0.0)
        if box.x0 - far < x < box.x1 + far and box.y0 - far < y < box.y1 + far:
            found.append((item, far))
    return found


def _reach(body: Cylinder | Prism) -> float:
    if isinstance(body, Cylinder):
        return hypot(body.x, body.y) + body.diameter / 2.0
    return max(hypot(x, y) for x, y in body.outline)


def _under(tip: _Tip, items: Iterable[tuple[PlacedHardware, float]], clear: float) -> bool:
    beside = [item for item, far in items if dist((item.place.x, item.place.y), tip.at) < far + clear]
    if not beside:
        return False
    top = surface(tip.piece, tip.at)
    return any(stands_over(item, tip.at, top, clear) for item in beside)


def _on_items(copies: Sequence[PlacedHardware], layout: Layout) -> list[Point]:
    """Places on bought items, near the rims of round ones, in no opening of theirs, that no other one lies over."""
    tips = []
    for item in copies:
        top = max(body.top for body in item.item.body) + item.place.z
        others = [other for other in layout.hardware if other is not item]
        seen = list(rings(item))
        around = points_box([point for ring in seen for point in ring])
        middle, wide = item.place.to_table(0.0, 0.0), min(around.width, around.height)
        for share, turn in product(SHARES, TURNS):
            far = share * wide
            at = (middle[0] + far * cos(radians(turn)), middle[1] + far * sin(radians(turn)))
            on_it = any(holds(ring, at) for ring in seen) and not _in_opening(item, at)
            if on_it and not any(stands_over(other, at, top) for other in others):
                tips.append(at)
    return tips


def _in_opening(item: PlacedHardware, at: Point) -> bool:
    """Say whether a bore of the item that is open above, or a strap's slot, lies there."""
    top = max(body.top for body in item.item.body)
    if any(
        bore.top >= top and dist(item.place.to_table(bore.x, bore.y), at) < bore.diameter / 2.0
        for bore in item.item.bores
    ):
        return True
    windows = (window for body in item.item.body if isinstance(body, Prism) for window in body.windows)
    return any(holds([item.place.to_table(*point) for point in window], at) for window in windows)
