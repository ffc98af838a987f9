"""Outlines: closed chains of straight lines and circular arcs in a plane, mm, exact and without a CAD kernel."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from itertools import pairwise
from math import acos, ceil, cos, dist, hypot, inf, isfinite, pi, radians, sin, tan

from slotwright.errors import SlotwrightError
from slotwright.pieces.chain_faults import first_fault
from slotwright.pieces.segment import SAME_POINT, Moments, Point, Segment

QUARTER = tan(pi / 8.0)
"""Bulge of a quarter circle."""


class OutlineError(SlotwrightError, ValueError):
    """A chain of lines and arcs that bounds no piece of a plane."""


@dataclass(frozen=True)
class Outline:
    """A closed chain, counter-clockwise.

    Attributes:
        points: its corners in order; the last is joined to the first.
        bulges: one a side, that of the side from the corner of the same number to the next: the tangent of a quarter
            of the angle the arc turns through, counter-clockwise positive, 0 for a straight line. Empty: all straight.

    Errors: OutlineError when a side has no length, a number is not finite, or the chain is clockwise or without area.
    Whether it crosses itself is asked with `is_simple` or `require_simple`, which take longer.
    """

    points: tuple[Point, ...]
    bulges: tuple[float, ...] = ()
    segments: tuple[Segment, ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        if not self.bulges:
            object.__setattr__(self, "bulges", (0.0,) * len(self.points))
        _check_numbers(self.points, self.bulges)
        ends = (*self.points[1:], *self.points[:1])
        sides = tuple(Segment(a, b, bulge) for a, b, bulge in zip(self.points, ends, self.bulges, strict=True))
        object.__setattr__(self, "segments", sides)
        for number, side in enumerate(sides, 1):
            if side.chord < SAME_POINT:
                raise OutlineError(f"side {number} of the outline has no length; leave out the doubled corner")
        if not self.area > 0.0:
            raise OutlineError("the outline has no area or runs clockwise; list its corners counter-clockwise")

    @cached_property
    def area(self) -> float:
        """Closed form, mm2."""
        return self.moments()[0]

    @cached_property
    def centroid(self) -> Point:
        """Closed form."""
        area, mx, my = self.moments()
        return mx / area, my / area

    @cached_property
    def perimeter(self) -> float:
        """Length all round, mm."""
        return sum(side.length for side in self.segments)

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least x, least y, greatest x, greatest y."""
        boxes = [side.bounds() for side in self.segments]
        x0, y0, x1, y1 = zip(*boxes, strict=True)
        return min(x0), min(y0), max(x1), max(y1)

    @property
    def size(self) -> Point:
        """Length along x and width along y of its bounding box, mm."""
        x0, y0, x1, y1 = self.bounds
        return x1 - x0, y1 - y0

    def moments(self, low: Point = (-inf, -inf), high: Point = (inf, inf)) -> Moments:
        """Return area and area times centroid of what a window shows of the outline, in closed form.

        Args:
            low, high: lower left and upper right corner of the window; infinite where it is open.

        Returns:
            Area, mm2, and first moments, mm3; all 0 when the window shows nothing.
        """
        # Moments are taken about the first corner, so that an outline far from the origin loses no digits.
        x, y = self.points[0]
        near = [Segment((s.start[0] - x, s.start[1] - y), (s.end[0] - x, s.end[1] - y), s.bulge) for s in self.segments]
        window = (low[0] - x, low[1] - y), (high[0] - x, high[1] - y)
        area, mx, my = (sum(part) for part in zip(*(side.moments(*window) for side in near), strict=True))
        return area, mx + x * area, my + y * area

    def moved(self, dx: float, dy: float) -> Outline:
        """Return it shifted, mm."""
        return Outline(tuple((x + dx, y + dy) for x, y in self.points), self.bulges)

    def at_origin(self) -> Outline:
        """Return it shifted so that the lower left corner of its bounding box is the origin."""
        x0, y0, _, _ = self.bounds
        return self.moved(-x0, -y0)

    def turned(self, angle: float, about: Point = (0.0, 0.0)) -> Outline:
        """Return it turned counter-clockwise, degrees; quarter turns are exact."""
        c, s = round(cos(radians(angle)), 15), round(sin(radians(angle)), 15)
        (ax, ay), turned = about, []
        for x, y in self.points:
            turned.append((ax + (x - ax) * c - (y - ay) * s, ay + (x - ax) * s + (y - ay) * c))
        return Outline(tuple(turned), self.bulges)

    def swapped(self) -> Outline:
        """Return it with x and y exchanged, counter-clockwise again."""
        points = tuple((y, x) for x, y in reversed(self.points))
        bulges = (*reversed(self.bulges[:-1]), self.bulges[-1])
        return Outline(points, bulges)

    def inset(self, distance: float) -> Outline:
        """Return it with every side moved inwards by a distance, mm; outwards when negative. Arcs keep their centres.

        Errors: OutlineError when a side would vanish, or an arc meets its neighbour at an angle (there the new corner
        has no simple place).
        """
        if distance == 0.0:
            return self
        sides = self.segments
        befores = (sides[-1], *sides[:-1])
        points = [_inset_corner(before, after, distance) for before, after in zip(befores, sides, strict=True)]
        ends = (*points[1:], points[0])
        for side, a, b in zip(sides, points, ends, strict=True):
            old, new = (side.end[0] - side.start[0], side.end[1] - side.start[1]), (b[0] - a[0], b[1] - a[1])
            if old[0] * new[0] + old[1] * new[1] <= SAME_POINT * hypot(*old):
                raise OutlineError(f"a side {side.length:.4g} mm long vanishes when moved in by {distance:.4g} mm")
        return Outline(tuple(points), self.bulges)

    def contains(self, point: Point) -> bool:
        """Say whether a point lies inside; on the edge itself the answer is either."""
        return sum(_passes_right(side, point) for side in self.segments) % 2 == 1

    def distance_to_edge(self, point: Point) -> float:
        """Return the distance of a point from the nearest side, mm; positive inside, negative outside."""
        gap = min(side.distance(point) for side in self.segments)
        return gap if self.contains(point) else -gap

    def gap(self, other: Outline) -> float:
        """Return the distance between the edges of two outlines, mm; 0 when they cross or touch.

        One may lie inside the other; `contains` tells.
        """
        least = inf
        boxes = [(side, side.bounds()) for side in other.segments]
        for side in self.segments:
            x0, y0, x1, y1 = side.bounds()
            for against, (a0, b0, a1, b1) in boxes:
                if hypot(max(0.0, a0 - x1, x0 - a1), max(0.0, b0 - y1, y0 - b1)) < least:
                    least = min(least, side.gap(against))
        return least

    def overlaps(self, other: Outline) -> bool:
        """Say whether the two have area in common; outlines that only touch may go either way."""
        ours, theirs = self.bounds, other.bounds
        if ours[0] >= theirs[2] or ours[1] >= theirs[3] or theirs[0] >= ours[2] or theirs[1] >= ours[3]:
            return False
        inside = self.contains(other.points[0]) or other.contains(self.points[0])
        return inside or self.gap(other) == 0.0

    def spans(self, axis: int, at: float) -> tuple[Point, ...]:
        """Return where a straight line lies inside: pairs of entry and exit along the line.

        Args:
            axis: 0 for a line along x at y = at, 1 for one along y at x = at.
            at: its place, mm.
        """
        chain = self.segments if axis == 0 else [side.swapped() for side in self.segments]
        found = sorted(x for side in chain for x in _levels_met(side, at))
        return tuple((a, b) for a, b in zip(found[::2], found[1::2], strict=False) if b - a > SAME_POINT)

    @cached_property
    def diameter(self) -> float | None:
        """Diameter, mm, of an outline that is one circle; else None."""
        first = self.segments[0]
        if not first.bulge:
            return None
        same = all(
            side.bulge > 0.0
            and dist(side.centre, first.centre) < SAME_POINT
            and abs(side.radius - first.radius) < SAME_POINT
            for side in self.segments
        )
        return 2.0 * first.radius if same else None

    @cached_property
    def inner_point(self) -> Point:
        """A point well inside: the middle of the longest level stretch at half height."""
        y = (self.bounds[1] + self.bounds[3]) / 2.0
        low, high = max(self.spans(0, y), key=lambda span: span[1] - span[0])
        return (low + high) / 2.0, y

    def is_simple(self) -> bool:
        """Say whether no two sides cross, touch or lie on each other but neighbours at their corner."""
        return first_fault(self.segments) is None

    def require_simple(self) -> Outline:
        """Return it if it is simple. Errors: OutlineError naming two sides and a place."""
        fault = first_fault(self.segments)
        if fault is not None:
            raise OutlineError(fault)
        return self

    def facets(self, stray: float = 0.01) -> tuple[Point, ...]:
        """Return corners of a polygon whose sides stray from the arcs by no more than a distance, mm.

        The corners lie on the outline, so that where it bulges outwards the polygon is inside it.
        """
        return tuple(point for side in self.segments for point in _faceted(side, stray))


@lru_cache(maxsize=256)
def rectangle(length: float, width: float, corner_radius: float = 0.0, centre: Point | None = None) -> Outline:
    """Return a rectangle, its lower left corner at the origin or its middle at a point; corners round or sharp, mm.

    Errors: OutlineError when two corners' radii do not leave a straight side between them; see `obround`.
    """
    x, y = (0.0, 0.0) if centre is None else (centre[0] - length / 2.0, centre[1] - width / 2.0)
    r, x1, y1 = corner_radius, x + length, y + width
    if r == 0.0:
        return Outline(((x, y), (x1, y), (x1, y1), (x, y1)))
    if not 0.0 < 2.0 * r < min(length, width):
        raise OutlineError(f"a corner radius of {r:.4g} mm does not fit a rectangle {length:.4g} x {width:.4g} mm")
    points = ((x + r, y), (x1 - r, y), (x1, y + r), (x1, y1 - r), (x1 - r, y1), (x + r, y1), (x, y1 - r), (x, y + r))
    return Outline(points, (0.0, QUARTER) * 4)


def obround(length: float, width: float, centre: Point | None = None, angle: float = 0.0) -> Outline:
    """Return two half circles joined by straight lines, standing as `rectangle` does.

    Args:
        length, width: over all; the ends are round with half the width. Equal, they make a circle.
        centre: of the middle; else the bounding box stands at the origin.
        angle: of its length from x, degrees.
    """
    if abs(length - width) < SAME_POINT:
        return circle(width, centre)
    if not length > width:
        raise OutlineError(f"an obround {length:.4g} mm long must be longer than its width of {width:.4g} mm")
    half, r = (length - width) / 2.0, width / 2.0
    shape = Outline(((-half, -r), (half, -r), (half, r), (-half, r)), (0.0, 1.0, 0.0, 1.0)).turned(angle)
    return shape.at_origin() if centre is None else shape.moved(*centre)


@lru_cache(maxsize=256)
def circle(diameter: float, centre: Point | None = None) -> Outline:
    """Return a circle of a diameter, mm, its bounding box at the origin or its middle at a point."""
    r = diameter / 2.0
    x, y = (r, r) if centre is None else centre
    return Outline(((x - r, y), (x + r, y)), (1.0, 1.0))


def polygon(points: Sequence[Point], bulges: Sequence[float] = ()) -> Outline:
    """Return a closed chain as it may come from elsewhere: either way round, the first corner perhaps repeated.

    Args:
        points: corners in order, mm.
        bulges: one a side as for `Outline`, or none; a further one for a repeated first corner is left out.

    Errors: OutlineError when it has no area, a number is not finite, or it crosses or touches itself.
    """
    corners, arcs = list(points), list(bulges) or [0.0] * len(points)
    _check_numbers(corners, arcs)
    if len(corners) > 2 and dist(corners[0], corners[-1]) < SAME_POINT:
        corners, arcs = corners[:-1], arcs[:-1]
    if _signed_area(corners, arcs) < 0.0:
        corners.reverse()
        arcs = [-bulge for bulge in (*reversed(arcs[:-1]), arcs[-1])]
    return Outline(tuple(corners), tuple(arcs)).require_simple()


def _check_numbers(points: Sequence[Point], bulges: Sequence[float]) -> None:
    if len(bulges) != len(points):
        raise OutlineError(f"the outline has {len(points)} corners and {len(bulges)} bulges; give one bulge a corner")
    if len(points) < 2:
        raise OutlineError("an outline needs three corners, or two joined by an arc")
    if not all(isfinite(value) for value in (*bulges, *(value for point in points for value in point))):
        raise OutlineError("the outline has a corner or bulge that is no finite number")


def _signed_area(points: Sequence[Point], bulges: Sequence[float]) -> float:
    x, y = points[0]
    corners = [(px - x, py - y) for px, py in points]
    sides = (Segment(a, b, bulge) for a, b, bulge in zip(corners, (*corners[1:], corners[0]), bulges, strict=True))
    return sum(side.moments((-inf, -inf), (inf, inf))[0] for side in sides if side.chord > 0.0)


def _inset_corner(before: Segment, after: Segment, distance: float) -> Point:
    """Where the corner between two sides goes when both move inwards, to their left."""
    (ax, ay), (bx, by) = before.way(1.0), after.way(0.0)
    cross, dot = ax * by - ay * bx, ax * bx + ay * by
    if abs(cross) > 1e-7 and (before.bulge or after.bulge):
        raise OutlineError("an arc meets the next side at an angle; round that corner, or leave the edge sharp")
    if dot < -1.0 + 1e-9:
        raise OutlineError("the outline turns back on itself at a corner")
    # The bisector of both normals, long enough to be a distance off each side.
    x, y = after.start
    return x + distance * (-ay - by) / (1.0 + dot), y + distance * (ax + bx) / (1.0 + dot)


def _passes_right(side: Segment, point: Point) -> int:
    """How often a side crosses the ray from a point to the right, ends counted half open."""
    return sum(x > point[0] for x in _levels_met(side, point[1]))


def _levels_met(side: Segment, level: float) -> Iterator[float]:
    """Yield x where a side passes through a level; a side that only touches it counts twice or not at all."""
    chain = [side.start, *side.extremes(), side.end]
    for (x0, y0), (x1, y1) in pairwise(chain):
        if (y0 <= level) != (y1 <= level):
            if not side.bulge:
                yield x0 + (x1 - x0) * (level - y0) / (y1 - y0)
                continue
            centre, r = side.centre, side.radius
            half = max(0.0, r * r - (level - centre[1]) ** 2) ** 0.5
            yield centre[0] + half if (x0 + x1) / 2.0 > centre[0] else centre[0] - half


def _faceted(side: Segment, stray: float) -> Iterator[Point]:
    """Points from the start of a side up to, not with, its end."""
    steps = 1
    if side.bulge:
        half = acos(max(0.0, 1.0 - stray / side.radius))
        steps = max(1, ceil(abs(side.sweep) / (2.0 * half)))
    for step in range(steps):
        yield side.at(step / steps)
