"""Curves in space on which an edge of a piece, or the outline of a rounded wall, may be seen.

Whether one is there and not hidden is for others to find out; here is every curve in which two surfaces of the bodies
may meet, and every line along which a rounded wall turns away from the viewer.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise
from math import atan2, cos, dist, hypot, pi, sin, sqrt
from typing import TypeAlias

import numpy as np

from slotwright.drawings.shapes.bodies import FAR, Bodies, Cone
from slotwright.drawings.shapes.curves import SHORTEST, Course, Ridge, Rounded, Straight, Woven
from slotwright.pieces.block import Block
from slotwright.pieces.faces import Vector, plane_axes
from slotwright.pieces.outline import Outline, circle
from slotwright.pieces.segment import Point

SMOOTH = 1e-6  # sine of the angle at which two sides are taken to run smoothly into each other
ROUND = 6


Vectors: TypeAlias = tuple[Vector, Vector]


def ridges(bodies: Bodies, toward: Vector) -> list[Ridge]:
    """Return all curves of a piece, each once; infinite bodies end at its box."""
    blocks = [_held(one.body, bodies) for one in bodies.made if isinstance(one.body, Block)]
    cones = [one.body for one in bodies.made if isinstance(one.body, Cone)]
    lines: dict[Vectors, list[tuple[float, float]]] = {}
    curves: dict[tuple[object, ...], Ridge] = {}
    for ridge in _all(blocks, cones, toward):
        if isinstance(ridge, Straight):
            for line, span in _on_a_line(ridge):
                lines.setdefault(line, []).append(span)
        else:
            curves.setdefault(_key(ridge), ridge)
    straight = [_between(line, low, high) for line, spans in lines.items() for low, high in _together(spans)]
    return [*straight, *(ridge for key, ridge in curves.items() if key)]


def _key(ridge: Ridge) -> tuple[object, ...]:
    """What equal curves have in common, whichever way they run; nothing for one without length."""
    points = ridge.at(np.array((0.0, 0.5, 1.0)))
    if np.abs(points - points[0]).max() < SHORTEST:
        return ()
    start, middle, end = (tuple(row) for row in (np.round(points, ROUND) + 0.0).tolist())
    return *sorted((start, end)), middle


def _on_a_line(ridge: Straight) -> Iterator[tuple[Vectors, tuple[float, float]]]:
    """Yield the endless line through a straight one, as its point nearest to the origin and its direction, and the
    stretch of it; nothing for one without length.
    """
    start, end = sorted((ridge.start, ridge.end))
    long = dist(start, end)
    if long < SHORTEST:
        return
    x, y, z = way = tuple((b - a) / long for a, b in zip(start, end, strict=True))
    low, high = (sum(a * b for a, b in zip(point, way, strict=True)) for point in (start, end))
    px, py, pz = (round(p - low * w, ROUND) + 0.0 for p, w in zip(start, way, strict=True))
    yield ((px, py, pz), (round(x, ROUND) + 0.0, round(y, ROUND) + 0.0, round(z, ROUND) + 0.0)), (low, high)


def _between(line: Vectors, low: float, high: float) -> Straight:
    (x, y, z), (u, v, w) = line
    return Straight((x + low * u, y + low * v, z + low * w), (x + high * u, y + high * v, z + high * w))


def _together(spans: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """Join stretches that meet."""
    found: list[tuple[float, float]] = []
    for low, high in sorted(spans):
        if found and low <= found[-1][1] + SHORTEST:
            found[-1] = found[-1][0], max(found[-1][1], high)
        else:
            found.append((low, high))
    return found


def _held(block: Block, bodies: Bodies) -> Block:
    """A block without what lies beyond the piece's box."""
    low, high = bodies.low[block.axis], bodies.high[block.axis]
    return Block(block.axis, block.outline, max(block.low, low), min(block.high, high))


def _all(blocks: list[Block], cones: list[Cone], toward: Vector) -> Iterator[Ridge]:
    for block in blocks:
        yield from _own(block, toward)
    for one, other in combinations(blocks, 2):
        if not _boxes_meet(one, other):
            continue
        if one.axis == other.axis:
            yield from _beside(one, other)
        else:
            yield from _across(one, other)
    for cone in cones:
        yield from _of_cone(cone, [block for block in blocks if block.axis == cone.axis], toward)


def _boxes_meet(one: Block, other: Block) -> bool:
    near = 1e-6
    (a, b), (c, d) = one.bounds, other.bounds
    return all(a[n] <= d[n] + near and c[n] <= b[n] + near for n in range(3))


# One body


def _own(block: Block, toward: Vector) -> Iterator[Ridge]:
    """Rims of a block, its corners, and lines at which its rounded walls turn away."""
    for level in (block.low, block.high):
        yield from _rim(block, level)
    sides = block.outline.segments
    for before, after in zip((sides[-1], *sides[:-1]), sides, strict=True):
        (ax, ay), (bx, by) = before.way(1.0), after.way(0.0)
        if abs(ax * by - ay * bx) > SMOOTH:
            yield _upright(block, after.start, block.low, block.high)
    first, second = plane_axes(block.axis)
    for side in sides:
        for angle in _turning_away(toward[first], toward[second]) if side.bulge else ():
            point = side.centre[0] + side.radius * cos(angle), side.centre[1] + side.radius * sin(angle)
            if side.reaches(point):
                yield _upright(block, point, block.low, block.high)


def _turning_away(u: float, v: float) -> tuple[float, float]:
    """Directions square to the line of sight, in a plane."""
    across = atan2(v, u) + pi / 2.0
    return across, across + pi


def _rim(block: Block, level: float) -> Iterator[Ridge]:
    if abs(level) > FAR / 2.0:
        return
    for side in block.outline.segments:
        if side.bulge:
            yield Rounded(block.axis, level, side)
        else:
            yield Straight(_point(block.axis, side.start, level), _point(block.axis, side.end, level))


def _upright(block: Block, at: Point, low: float, high: float) -> Straight:
    return Straight(_point(block.axis, at, low), _point(block.axis, at, high))


def _point(axis: int, at: Point, level: float) -> Vector:
    placed = dict(zip((*plane_axes(axis), axis), (*at, level), strict=True))
    return placed[0], placed[1], placed[2]


def _of_cone(cone: Cone, blocks: Iterable[Block], toward: Vector) -> Iterator[Ridge]:
    rise = (cone.r1 - cone.r0) / (cone.high - cone.low)
    levels = {cone.low, cone.high}
    for block in blocks:
        levels |= {z for z in (block.low, block.high) if cone.low < z < cone.high}
        wide = block.outline.diameter
        if wide is not None and min(cone.r0, cone.r1) < wide / 2.0 < max(cone.r0, cone.r1):
            levels.add(cone.low + (wide / 2.0 - cone.r0) / rise)
    for level in sorted(levels):
        r = cone.r0 + rise * (level - cone.low)
        if r > SHORTEST:
            yield from (Rounded(cone.axis, level, side) for side in circle(2.0 * r, cone.centre).segments)
    first, second = plane_axes(cone.axis)
    u, v = toward[first], toward[second]
    lean = rise * toward[cone.axis] / hypot(u, v)  # the wall's direction is (cos, sin, -rise)
    if abs(lean) < 1.0:
        for sign in (1.0, -1.0):
            angle = atan2(v, u) + sign * (pi / 2.0 - atan2(lean, sqrt(1.0 - lean * lean)))
            ends = [
                _point(cone.axis, (cone.centre[0] + r * cos(angle), cone.centre[1] + r * sin(angle)), z)
                for r, z in ((cone.r0, cone.low), (cone.r1, cone.high))
            ]
            yield Straight(ends[0], ends[1])


# Two bodies


def _beside(one: Block, other: Block) -> Iterator[Ridge]:
    """Two blocks drawn out the same way: rims on each other's floors, and lines where their walls meet."""
    low, high = max(one.low, other.low), min(one.high, other.high)
    for block, against in ((one, other), (other, one)):
        for level in (against.low, against.high):
            if block.low < level < block.high:
                yield from _rim(block, level)
    points = {(round(x, 9), round(y, 9)) for a in one.outline.segments for b in other.outline.segments
              for x, y in a.crossings(b)}  # fmt: skip
    for point in sorted(points):
        if high > low:
            yield _upright(one, point, low, high)


def _across(one: Block, other: Block) -> Iterator[Ridge]:
    """Two blocks drawn out along different axes."""
    shared = next(axis for axis in range(3) if axis not in (one.axis, other.axis))
    for block, against in ((one, other), (other, one)):
        yield from _walls_on_ends(block, against, shared)
    for level in (one.low, one.high):
        for end in (other.low, other.high):
            yield from _ends_meet(one, level, other, end, shared)
    for block, against in ((one, other), (other, one)):
        for level in _flat_walls(against, block.axis):
            if block.low <= level <= block.high:
                yield from _rim(block, level)
    for a in _courses(one, shared):
        for b in _courses(other, shared):
            low, high = max(a.low, b.low), min(a.high, b.high)
            if high - low > SHORTEST and not (a.course.level or b.course.level):
                yield Woven(shared, low, high, ((other.axis, a.course), (one.axis, b.course)))
    for block, against in ((one, other), (other, one)):
        yield from _level_walls(block, against, shared)


@dataclass(frozen=True)
class _Reach:
    course: Course
    low: float
    high: float


def _courses(block: Block, shared: int) -> Iterator[_Reach]:
    """Parts of an outline that can be told from the shared coordinate."""
    index = plane_axes(block.axis).index(shared)
    for side in block.outline.segments:
        for a, b in pairwise((side.start, *side.extremes(), side.end)):
            low, high = min(a[index], b[index]), max(a[index], b[index])
            if high - low > SHORTEST:
                yield _Reach(Course(side, index, a, b), low, high)


def _flat_walls(block: Block, axis: int) -> set[float]:
    """Where the walls of a block stand that are square to another axis: there they are like the end of a block."""
    index = plane_axes(block.axis).index(axis)
    sides = (side for side in block.outline.segments if not side.bulge)
    return {side.start[index] for side in sides if abs(side.start[index] - side.end[index]) < SHORTEST}


def _walls_on_ends(block: Block, against: Block, shared: int) -> Iterator[Straight]:
    """Walls of a block cut by the two ends of another: lines along the block."""
    index = plane_axes(block.axis).index(shared)
    for level in (against.low, against.high):
        for at in _crossed(block.outline, 1 - index, level):
            for low, high in _run(against.outline, shared, against.axis, at, block.axis, block.low, block.high):
                point = (at, level) if index == 0 else (level, at)
                yield _upright(block, point, low, high)


def _ends_meet(one: Block, level: float, other: Block, end: float, shared: int) -> Iterator[Straight]:
    """The line in which the ends of two blocks cross, where both outlines hold it."""
    for a, b in one.outline.spans(plane_axes(one.axis).index(shared), end):
        for c, d in other.outline.spans(plane_axes(other.axis).index(shared), level):
            if min(b, d) - max(a, c) > SHORTEST:
                ends = [{shared: at, one.axis: level, other.axis: end} for at in (max(a, c), min(b, d))]
                yield Straight((ends[0][0], ends[0][1], ends[0][2]), (ends[1][0], ends[1][1], ends[1][2]))


def _level_walls(block: Block, against: Block, shared: int) -> Iterator[Straight]:
    """Flat walls of a block square to the shared axis, cut by the walls of another: lines along the other block."""
    index = plane_axes(block.axis).index(shared)
    for side in block.outline.segments:
        a, b = side.start, side.end
        if side.bulge or abs(a[index] - b[index]) > SHORTEST:
            continue
        low, high = sorted((a[1 - index], b[1 - index]))
        low, high = max(low, against.low), min(high, against.high)
        mine = plane_axes(against.axis).index(shared)
        for at in _crossed(against.outline, mine, a[index]):
            if high - low > SHORTEST:
                point = (a[index], at) if mine == 0 else (at, a[index])
                yield _upright(against, point, low, high)


def _crossed(outline: Outline, index: int, level: float) -> list[float]:
    """Where an outline passes a level of one coordinate, as its other coordinate."""
    found = set()
    for side in outline.segments:
        for a, b in pairwise((side.start, *side.extremes(), side.end)):
            low, high = min(a[index], b[index]), max(a[index], b[index])
            if high - low > SHORTEST and low - SHORTEST <= level <= high + SHORTEST:
                at = Course(side, index, a, b).other(np.array((min(max(level, low), high),)))
                found.add(round(float(at[0]), 9))
    return sorted(found)


def _run(
    outline: Outline, shared: int, out: int, at: float, along: int, low: float, high: float
) -> Iterator[tuple[float, float]]:
    """What of a stretch along an axis an outline holds at a place of the shared coordinate; all where it only touches.

    Args:
        outline: of a block drawn out along `out`, so in the plane of `shared` and `along`.
    """
    index = plane_axes(out).index(along)
    spans = outline.spans(index, at)
    if not spans:
        box = outline.bounds
        spans = ((box[index], box[index + 2]),)
    for a, b in spans:
        if min(b, high) - max(a, low) > SHORTEST:
            yield max(a, low), min(b, high)
