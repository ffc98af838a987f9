"""Which holes keep clear of everything else in a piece, and which meet a rim, a step, a wall or another hole."""

from __future__ import annotations

from collections.abc import Callable
from math import hypot

from slotwright.pieces.blanks import Bar, Extrusion
from slotwright.pieces.block import Spans
from slotwright.pieces.faces import Vector
from slotwright.pieces.features import Hole
from slotwright.pieces.metal import Metal, Step

APART = 1e-3
"""Things nearer than this, mm, count as meeting."""

Box = tuple[Vector, Vector]
Bored = tuple[Hole, Spans]
"""A hole and where its axis runs in metal, as depths below its face."""


def sorted_out(metal: Metal, holes: tuple[Hole, ...]) -> tuple[list[Bored], list[Bored]]:
    """Part the upright holes that keep clear of all else from the others. Only neighbours along X are compared.

    Args:
        metal: the piece before its holes.
        holes: all of them.

    Returns:
        The clear ones and the others, each with where its axis runs in metal.
    """
    bored = [(hole, metal.depths(hole.face, (hole.x, hole.y))) for hole in holes]
    keeps_clear = _from_outside(metal, [hole for hole in holes if hole.face.upright])
    meeting = {n for n, (hole, spans) in enumerate(bored) if hole.face.upright or not keeps_clear(hole, spans)}
    meeting |= _meeting_pairs(holes)
    parted: tuple[list[Bored], list[Bored]] = ([], [])
    for number, one in enumerate(bored):
        parted[number in meeting].append(one)
    return parted


def _meeting_pairs(holes: tuple[Hole, ...]) -> set[int]:
    """Numbers of the upright holes that meet another."""
    row = sorted((n for n, hole in enumerate(holes) if not hole.face.upright), key=lambda number: holes[number].x)
    farthest = 2.0 * max(map(reach, holes), default=0.0) + APART
    meeting: set[int] = set()
    for place, number in enumerate(row):
        hole = holes[number]
        for neighbour in (row[n] for n in range(place + 1, len(row))):
            other = holes[neighbour]
            if other.x - hole.x > farthest:
                break
            if hypot(other.x - hole.x, other.y - hole.y) < reach(hole) + reach(other) + APART:
                meeting |= {number, neighbour}
    return meeting


def reach(hole: Hole) -> float:
    """Return the radius of the circle that holds the whole of a hole, mm."""
    return (hole.widest + hole.slot_extra) / 2.0


def _from_outside(metal: Metal, across: list[Hole]) -> Callable[[Hole, Spans], bool]:
    """Return what tells whether an upright hole keeps clear of rims, far faces, features and holes from the sides."""
    beside = [step for step in metal.steps if step.block.axis == 2]
    boxes = [step.block.bounds for step in metal.steps if step.block.axis != 2]
    boxes += [_swept(hole, metal) for hole in across]

    def keeps_clear(hole: Hole, spans: Spans) -> bool:
        around = reach(hole) + APART
        return (
            _ends_clear(hole, spans)
            and _within_rim(hole, metal, around)
            and all(_beside(hole, step, around) for step in beside)
            and not any(_touches(hole, box, around) for box in boxes)
        )

    return keeps_clear


def _ends_clear(hole: Hole, spans: Spans) -> bool:
    """Whether a hole runs in one stretch of metal, its steps in it in their order, and a blind one ends in it."""
    if len(spans) != 1:
        return False
    start, end = spans[0]
    bottom = end if hole.depth is None else start + hole.depth
    step = hole.sink_depth if hole.counterbore is None else hole.counterbore.depth
    stepped = step == 0.0 or start + step + APART < bottom
    return stepped and (hole.depth is None or bottom + hole.point_length < end - APART)


def _within_rim(hole: Hole, metal: Metal, around: float) -> bool:
    """Whether a hole keeps clear of the blank's edges, chamfered or not, and of its bore."""
    blank = metal.blank
    margin = around + blank.edge_chamfer
    if isinstance(blank, Extrusion):
        ends = margin <= hole.x <= blank.length - margin
        return ends and level_around(blank, hole.y, around)
    if isinstance(blank, Bar):
        return margin <= hole.x <= blank.length - margin and margin <= hole.y <= blank.width - margin
    if blank.plan.distance_to_edge((hole.x, hole.y)) < margin:
        return False
    middle = blank.plan.centroid
    return blank.bore == 0.0 or hypot(hole.x - middle[0], hole.y - middle[1]) >= blank.bore / 2.0 + around


def level_around(blank: Extrusion, y: float, around: float) -> bool:
    """Say whether every face of an extrusion above or below a place is level within a distance of it, mm."""
    low, high = y - around, y + around
    if any(low < corner[0] < high for corner in blank.profile.points):
        return False
    for side in blank.profile.segments:
        x0, y0, x1, y1 = side.bounds()
        if x0 < high and x1 > low and y1 - y0 > 1e-9:
            return False
    return True


def _beside(hole: Hole, step: Step, around: float) -> bool:
    return abs(step.block.outline.distance_to_edge((hole.x, hole.y))) >= around


def _touches(hole: Hole, box: Box, around: float) -> bool:
    """Whether a box seen from above comes near a hole; heights are not asked."""
    (x0, y0, _), (x1, y1, _) = box
    return hypot(max(x0 - hole.x, 0.0, hole.x - x1), max(y0 - hole.y, 0.0, hole.y - y1)) < around


def _swept(hole: Hole, metal: Metal) -> Box:
    """The box that holds a hole from a side, all through the piece."""
    frame, r = metal.frame(hole.face), reach(hole)
    low, high = list(frame.point(hole.x - r, hole.y - r)), list(frame.point(hole.x + r, hole.y + r))
    axis = hole.face.axis
    low[axis], high[axis] = (corner[axis] for corner in metal.bounds)
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])
