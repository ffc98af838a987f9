"""The nearest metal on many parallel lines of sight at once, with the direction its surface faces.

Every body gives the stretches of the lines that run inside it; of the bodies that hold a place, the one made last says
whether there is metal or air.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import hypot

import numpy as np
from numpy.typing import NDArray

from slotwright.drawings.shapes.bodies import Bodies, Cone
from slotwright.drawings.shapes.sight import Array
from slotwright.pieces.block import Block
from slotwright.pieces.faces import plane_axes
from slotwright.pieces.segment import Segment

BEHIND = 1e-5  # how far behind a surface it is asked whether there is metal, mm
MOST_CELLS = 2_000_000  # of one table of comparisons

Numbers = NDArray[np.intp]


@dataclass(frozen=True)
class Stretches:
    """Where lines of sight run inside a body.

    Attributes:
        line: number of the line of sight.
        start, end: distance along it, away from the viewer, mm.
        entry, exit: unit vectors out of the body where the line enters and leaves it, one a row.
    """

    line: Numbers
    start: Array
    end: Array
    entry: Array
    exit: Array


@dataclass(frozen=True)
class Nearest:
    """The nearest metal on each line of sight.

    Attributes:
        depth: distance along it, mm; infinite where there is none.
        facing: unit vector out of the metal there, one a row; 0 where there is none.
    """

    depth: Array
    facing: Array


class Scene:
    """A piece's bodies as lines of sight along one way meet them."""

    def __init__(self, bodies: Bodies, way: Array) -> None:
        """Args: bodies of the piece; way, the unit vector away from the viewer, no component 0."""
        self._way = way
        self._adds = np.array([one.adds for one in bodies.made])
        self._bodies = [one.body for one in bodies.made]
        self._walls = [_walls(body, way) if isinstance(body, Block) else None for body in self._bodies]

    def nearest(self, origins: Array) -> Nearest:
        """Return the first metal met on lines through points, one a row; it may lie before them."""
        found = [self._inside(number, origins) for number in range(len(self._bodies))]
        line = np.concatenate([inside.line for inside in found])
        start = np.concatenate([inside.start for inside in found])
        end = np.concatenate([inside.end for inside in found])
        number = np.repeat(np.arange(len(found)), [len(inside.line) for inside in found])
        adds = self._adds[number]
        pairs = zip(found, self._adds.tolist(), strict=True)
        facing = np.concatenate([inside.entry if add else -inside.exit for inside, add in pairs])
        order = np.argsort(line, kind="stable")
        return _first(len(origins), line[order], start[order], end[order], number[order], adds[order], facing[order])

    def _inside(self, number: int, origins: Array) -> Stretches:
        body, walls = self._bodies[number], self._walls[number]
        if isinstance(body, Block) and walls is not None:
            return _inside_block(body, walls, origins, self._way)
        if isinstance(body, Cone):
            return _inside_cone(body, origins, self._way)
        raise TypeError(f"no lines of sight through {type(body).__name__}")


def _first(
    count: int, line: Numbers, start: Array, end: Array, number: Numbers, adds: NDArray[np.bool_], facing: Array
) -> Nearest:
    """Stretches are in the order of their lines."""
    result = Nearest(np.full(count, np.inf), np.zeros((count, 3)))
    amounts = np.bincount(line, minlength=count)
    firsts = np.concatenate(([0], np.cumsum(amounts)[:-1]))
    most = int(amounts.max(initial=0))
    if most == 0:
        return result
    met = np.flatnonzero(amounts)
    for lines in np.array_split(met, 1 + len(met) * most * most // MOST_CELLS):
        places = firsts[lines, None] + np.arange(most)
        there = np.arange(most) < amounts[lines, None]
        places = np.where(there, places, 0)
        low, high = np.where(there, start[places], np.inf), np.where(there, end[places], np.inf)
        surface = np.where(adds[places], low, high)
        asked = surface[:, :, None] + BEHIND
        holds = (low[:, None, :] <= asked) & (asked < high[:, None, :])
        last = np.where(holds, number[places][:, None, :], -1).argmax(axis=2)
        metal = holds.any(axis=2) & np.take_along_axis(adds[places], last, axis=1) & there
        depth = np.where(metal, surface, np.inf)
        best = depth.argmin(axis=1)
        rows = np.arange(len(lines))
        result.depth[lines] = depth[rows, best]
        seen = np.isfinite(depth[rows, best])
        result.facing[lines[seen]] = facing[places[rows, best][seen]]
    return result


def _between_ends(axis: int, low: float, high: float, origins: Array, way: Array) -> tuple[Array, Array, Array]:
    """Where lines run between two planes square to an axis, and the direction the first one faces."""
    levels = (low, high) if way[axis] > 0.0 else (high, low)
    near, far = ((level - origins[:, axis]) / way[axis] for level in levels)
    facing = np.zeros(3)
    facing[axis] = -np.sign(way[axis])
    return near, far, facing


def _inside_block(block: Block, walls: _Walls, origins: Array, way: Array) -> Stretches:
    first, second = plane_axes(block.axis)
    speed, c, s = _across(block.axis, way)
    x, y = origins[:, first] * c + origins[:, second] * s, origins[:, second] * c - origins[:, first] * s
    lines = np.flatnonzero((y >= walls.low) & (y <= walls.high))
    level = y[lines, None]
    row, wall = np.nonzero((walls.y0 <= level) != (walls.y1 <= level))
    met, across, up = walls.met(wall, y[lines[row]])
    order = np.lexsort((met, row))
    row, met, across, up = row[order], met[order], across[order], up[order]
    line = lines[row]
    depth = (met - x[line]) / speed
    facing = np.zeros((len(line), 3))
    facing[:, first], facing[:, second] = across * c - up * s, across * s + up * c
    near, far, cap = _between_ends(block.axis, block.low, block.high, origins, way)
    line, start, end = line[::2], depth[::2], depth[1::2]
    entry = np.where((near[line] > start)[:, None], cap, facing[::2])
    leave = np.where((far[line] < end)[:, None], -cap, facing[1::2])
    start, end = np.maximum(start, near[line]), np.minimum(end, far[line])
    kept = end > start
    return Stretches(line[kept], start[kept], end[kept], entry[kept], leave[kept])


@dataclass(frozen=True)
class _Walls:
    """Sides of an outline turned so that the lines of sight run along x, cut where they turn back in y."""

    x0: Array
    y0: Array
    x1: Array
    y1: Array
    centre_x: Array
    centre_y: Array
    radius: Array  # 0 for a straight side
    outward: Array  # 1 where the arc's centre lies inside
    low: float  # least and greatest y
    high: float

    def met(self, wall: Numbers, level: Array) -> tuple[Array, Array, Array]:
        """Return x where a side passes a level, and the unit vector out of the outline there."""
        x0, y0, x1, y1 = self.x0[wall], self.y0[wall], self.x1[wall], self.y1[wall]
        cx, cy, r = self.centre_x[wall], self.centre_y[wall], self.radius[wall]
        round_ = r > 0.0
        half = np.sqrt(np.maximum(0.0, r * r - (level - cy) ** 2))
        on_arc = np.where((x0 + x1) / 2.0 > cx, cx + half, cx - half)
        x = np.where(round_, on_arc, x0 + (x1 - x0) * (level - y0) / (y1 - y0))
        long = np.hypot(x1 - x0, y1 - y0)
        size = np.where(round_, r, 1.0)
        across = np.where(round_, self.outward[wall] * (x - cx) / size, (y1 - y0) / long)
        up = np.where(round_, self.outward[wall] * (level - cy) / size, (x0 - x1) / long)
        return x, across, up


def _across(axis: int, way: Array) -> tuple[float, float, float]:
    """Return how fast a line of sight runs across an axis, and cosine and sine of its direction there."""
    first, second = plane_axes(axis)
    speed = hypot(way[first], way[second])
    return speed, way[first] / speed, way[second] / speed


def _walls(block: Block, way: Array) -> _Walls:
    _, c, s = _across(block.axis, way)
    rows = []
    for side in block.outline.segments:
        (ax, ay), (bx, by) = side.start, side.end
        turned = Segment((ax * c + ay * s, ay * c - ax * s), (bx * c + by * s, by * c - bx * s), side.bulge)
        chain = [turned.start, *turned.extremes(), turned.end]
        bent = (*turned.centre, turned.radius, np.sign(turned.bulge)) if turned.bulge else (0.0, 0.0, 0.0, 1.0)
        rows += [(*a, *b, *bent) for a, b in pairwise(chain)]
    x0, y0, x1, y1, x, y, r, outward = np.array(rows).T
    ends = np.concatenate((y0, y1))
    return _Walls(x0, y0, x1, y1, x, y, r, outward, low=ends.min(), high=ends.max())


def _inside_cone(cone: Cone, origins: Array, way: Array) -> Stretches:
    """The square of the distance from the axis is less than that of the radius there: a quadratic along the line."""
    first, second = plane_axes(cone.axis)
    rise = (cone.r1 - cone.r0) / (cone.high - cone.low)
    x, y = origins[:, first] - cone.centre[0], origins[:, second] - cone.centre[1]
    radius = cone.r0 + rise * (origins[:, cone.axis] - cone.low)
    slope = rise * way[cone.axis]
    a = way[first] ** 2 + way[second] ** 2 - slope**2
    b = x * way[first] + y * way[second] - radius * slope
    square = b * b - a * (x * x + y * y - radius * radius)
    near, far, cap = _between_ends(cone.axis, cone.low, cone.high, origins, way)
    root = np.sqrt(np.maximum(0.0, square))
    one, other = np.sort(np.stack(((-b - root) / a, (-b + root) / a)), axis=0)
    if a > 0.0:
        start, end, meets = np.maximum(one, near), np.minimum(other, far), square > 0.0
        walled, unwalled = one >= near, other <= far
    else:  # inside before the one and after the other; between the ends only one of the two is there
        before = one > near
        start, end = np.where(before, near, np.maximum(other, near)), np.where(before, np.minimum(one, far), far)
        meets = np.ones(len(x), dtype=bool)
        walled, unwalled = ~before & (other >= near), before & (one <= far)
    line = np.flatnonzero(meets & (end > start))

    def facing(depth: Array) -> Array:
        out = np.zeros((len(line), 3))
        out[:, first], out[:, second] = x[line] + depth * way[first], y[line] + depth * way[second]
        out[:, cone.axis] = -rise * np.hypot(out[:, first], out[:, second])
        long = np.linalg.norm(out, axis=1, keepdims=True)
        return out / np.where(long > 0.0, long, 1.0)

    entry = np.where(walled[line, None], facing(start[line]), cap)
    leave = np.where(unwalled[line, None], facing(end[line]), -cap)
    return Stretches(line, start[line], end[line], entry, leave)
