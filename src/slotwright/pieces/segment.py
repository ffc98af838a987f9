"""One side of an outline: a straight line or a circular arc between two points of a plane, mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import atan, atan2, cos, dist, hypot, inf, pi, sin, sqrt

Point = tuple[float, float]
Moments = tuple[float, float, float]
"""Area, and area times each coordinate of its centroid."""

SAME_POINT = 1e-7
"""Points nearer than this are one, mm."""


@dataclass(frozen=True)
class Segment:
    """A side from one point to another.

    Attributes:
        start, end: its ends.
        bulge: tangent of a quarter of the angle the arc turns through, counter-clockwise positive; 0 is straight. So a
            half circle has 1, and the arc lies to the right of the way from start to end when positive.
    """

    start: Point
    end: Point
    bulge: float = 0.0

    @cached_property
    def chord(self) -> float:
        """Distance from start to end."""
        return dist(self.start, self.end)

    @cached_property
    def sweep(self) -> float:
        """Angle the arc turns through, radians, counter-clockwise positive; 0 when straight."""
        return 4.0 * atan(self.bulge)

    @cached_property
    def radius(self) -> float:
        """Of the arc; infinite when straight."""
        return self.chord * (1.0 + self.bulge**2) / (4.0 * abs(self.bulge)) if self.bulge else inf

    @cached_property
    def centre(self) -> Point:
        """Of the arc. Errors: ZeroDivisionError when straight."""
        (x0, y0), (x1, y1) = self.start, self.end
        off = (1.0 - self.bulge**2) / (4.0 * self.bulge)
        return (x0 + x1) / 2.0 - (y1 - y0) * off, (y0 + y1) / 2.0 + (x1 - x0) * off

    @cached_property
    def length(self) -> float:
        """Along the line or the arc."""
        return self.radius * abs(self.sweep) if self.bulge else self.chord

    @cached_property
    def start_angle(self) -> float:
        """Direction from the arc's centre to its start, radians from X."""
        x, y = self.centre
        return atan2(self.start[1] - y, self.start[0] - x)

    def at(self, share: float) -> Point:
        """Return the point at a share from 0 (start) to 1 (end) of its length."""
        if share in (0.0, 1.0):
            return self.end if share else self.start
        if not self.bulge:
            (x0, y0), (x1, y1) = self.start, self.end
            return x0 + (x1 - x0) * share, y0 + (y1 - y0) * share
        (x, y), angle = self.centre, self.start_angle + self.sweep * share
        return x + self.radius * cos(angle), y + self.radius * sin(angle)

    def way(self, share: float) -> Point:
        """Return the unit vector along which it runs at a share of its length."""
        if not self.bulge:
            return (self.end[0] - self.start[0]) / self.chord, (self.end[1] - self.start[1]) / self.chord
        angle, sign = self.start_angle + self.sweep * share, 1.0 if self.bulge > 0.0 else -1.0
        return -sin(angle) * sign, cos(angle) * sign

    def reversed(self) -> Segment:
        """Return the same side run the other way."""
        return Segment(self.end, self.start, -self.bulge)

    def swapped(self) -> Segment:
        """Return it with x and y exchanged."""
        return Segment((self.start[1], self.start[0]), (self.end[1], self.end[0]), -self.bulge)

    def bounds(self) -> tuple[float, float, float, float]:
        """Return least x, least y, greatest x, greatest y."""
        return self._bounds

    @cached_property
    def _bounds(self) -> tuple[float, float, float, float]:
        points = [self.start, self.end, *self._extremes]
        xs, ys = zip(*points, strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    def extremes(self) -> tuple[Point, ...]:
        """Return the points of an arc where it runs along an axis, in the order met."""
        return self._extremes

    @cached_property
    def _extremes(self) -> tuple[Point, ...]:
        if not self.bulge:
            return ()
        (x, y), r = self.centre, self.radius
        quarters = [((x + r, y), 0.0), ((x, y + r), pi / 2.0), ((x - r, y), pi), ((x, y - r), 1.5 * pi)]
        met = [(self._share_of(angle), point) for point, angle in quarters]
        return tuple(point for share, point in sorted(met) if 1e-12 < share < 1.0 - 1e-12)

    def _share_of(self, angle: float) -> float:
        """Share of the arc at a direction from its centre; beyond 1 when the arc does not reach there."""
        sign = 1.0 if self.bulge > 0.0 else -1.0
        return ((angle - self.start_angle) * sign) % (2.0 * pi) / abs(self.sweep)

    def reaches(self, point: Point) -> bool:
        """Say whether the ray from the arc's centre through a point meets the arc."""
        x, y = self.centre
        return self._share_of(atan2(point[1] - y, point[0] - x)) <= 1.0

    def nearest(self, point: Point) -> Point:
        """Return its point nearest to a given one."""
        if self.bulge:
            return self._nearest_of_arc(point)
        (x0, y0), (x1, y1) = self.start, self.end
        along = ((point[0] - x0) * (x1 - x0) + (point[1] - y0) * (y1 - y0)) / self.chord**2
        return self.at(min(1.0, max(0.0, along)))

    def _nearest_of_arc(self, point: Point) -> Point:
        (x, y), r = self.centre, self.radius
        off = hypot(point[0] - x, point[1] - y)
        if off > 0.0 and self.reaches(point):
            return x + (point[0] - x) * r / off, y + (point[1] - y) * r / off
        return min(self.start, self.end, key=lambda end: dist(end, point))

    def distance(self, point: Point) -> float:
        """Return the distance of a point from it, mm."""
        return dist(point, self.nearest(point))

    def gap(self, other: Segment) -> float:
        """Return the distance between two sides, mm; 0 when they meet.

        Between two sides that do not meet, the shortest line runs from an end, or square to both; and square to an
        arc is through its centre.
        """
        if self.crossings(other):
            return 0.0
        gaps = [other.distance(point) for point in (self.start, self.end, *self._towards(other))]
        gaps += [self.distance(point) for point in (other.start, other.end, *other._towards(self))]
        return min(gaps)

    def _towards(self, other: Segment) -> Iterator[Point]:
        """Places where a line square to this side may pass through the centre of the other, an arc."""
        if not other.bulge:
            return
        centre = other.centre
        yield self.nearest(centre)
        if self.bulge:
            (x, y), (cx, cy) = self.centre, centre
            across = (2.0 * x - cx, 2.0 * y - cy)
            if hypot(x - cx, y - cy) > 0.0 and self.reaches(across):
                yield self.nearest(across)

    def crossings(self, other: Segment) -> list[Point]:
        """Return the points that both sides have in common; of sides that lie along each other, none."""
        if self.bulge and other.bulge:
            found = _circles_meet(self, other)
        elif self.bulge:
            found = _line_meets_circle(other, self)
        elif other.bulge:
            found = _line_meets_circle(self, other)
        else:
            found = _lines_meet(self, other)
        return [p for p in found if self.distance(p) < SAME_POINT and other.distance(p) < SAME_POINT]

    def moments(self, low: Point, high: Point) -> Moments:
        """Return its part in the area of its outline within a window, from corner low to corner high.

        By Green's theorem: area = integral of x dy around the outline, with x held to the window's sides. Summed over
        all sides of an outline this is the area and first moments of what the window shows of it.
        """
        shares = sorted({0.0, 1.0, *self._shares_on(low), *self._shares_on(high)})
        area = mx = my = 0.0
        for a, b in pairwise(shares):
            x, y = self.at((a + b) / 2.0)  # on the window's side itself where an arc only touches it from within
            if low[1] - SAME_POINT < y < high[1] + SAME_POINT and x > low[0] - SAME_POINT:
                seen = x < high[0] + SAME_POINT
                part = self._strip(a, b, low[0]) if seen else _beyond(self.at(a), self.at(b), low[0], high[0])
                area, mx, my = area + part[0], mx + part[1], my + part[2]
        return area, mx, my

    def _shares_on(self, lines: Point) -> Iterator[float]:
        """Shares at which it crosses the upright line x = lines[0] and the level line y = lines[1]."""
        for axis, value in enumerate(lines):
            if value in (inf, -inf):
                continue
            if self.bulge:
                off = (value - self.centre[axis]) / self.radius
                if abs(off) < 1.0:
                    root = sqrt(1.0 - off * off)
                    pair = ((off, root), (off, -root)) if axis == 0 else ((root, off), (-root, off))
                    yield from (s for s in (self._share_of(atan2(y, x)) for x, y in pair) if 0.0 < s < 1.0)
            elif (self.start[axis] - value) * (self.end[axis] - value) < 0.0:
                yield (value - self.start[axis]) / (self.end[axis] - self.start[axis])

    def _strip(self, a: float, b: float, base: float) -> Moments:
        """Area and moments between a portion and the upright line x = base (0 when base is infinite)."""
        base = 0.0 if base == -inf else base
        if not self.bulge:
            return _under_line(self.at(a), self.at(b), base)
        (x, y), r, t = self.centre, self.radius, self.start_angle
        high, low = (_under_arc(x - base, y, r, t + self.sweep * share) for share in (b, a))
        area, mx, my = (to - since for to, since in zip(high, low, strict=True))
        return area, mx + base * area, my


def _under_line(p: Point, q: Point, base: float) -> Moments:
    """Trapezium between a straight portion and x = base."""
    u, v, dy = p[0] - base, q[0] - base, q[1] - p[1]
    area = (u + v) / 2.0 * dy
    mx = (u * u + u * v + v * v) / 6.0 * dy + base * area
    my = (u * (2.0 * p[1] + q[1]) + v * (p[1] + 2.0 * q[1])) / 6.0 * dy
    return area, mx, my


def _under_arc(x: float, y: float, r: float, t: float) -> Moments:
    """Antiderivatives of x dy, x^2 / 2 dy and x y dy along a circle about (x, y), at the angle t."""
    s, c = sin(t), cos(t)
    area = x * r * s + r * r / 2.0 * (t + s * c)
    mx = r / 2.0 * (x * x * s + x * r * (t + s * c) + r * r * (s - s**3 / 3.0))
    my = r * (x * y * s + x * r * s * s / 2.0 + y * r * (t + s * c) / 2.0 - r * r * c**3 / 3.0)
    return area, mx, my


def _beyond(p: Point, q: Point, base: float, side: float) -> Moments:
    """A portion to the right of the window counts as the window's right side."""
    return _under_line((side, p[1]), (side, q[1]), 0.0 if base == -inf else base)


def _lines_meet(a: Segment, b: Segment) -> list[Point]:
    (ax, ay), (bx, by) = a.way(0.0), b.way(0.0)
    cross = ax * by - ay * bx
    if abs(cross) < 1e-12:
        return []
    share = ((b.start[0] - a.start[0]) * by - (b.start[1] - a.start[1]) * bx) / cross
    return [(a.start[0] + ax * share, a.start[1] + ay * share)]


def _line_meets_circle(line: Segment, arc: Segment) -> list[Point]:
    (x, y), (ux, uy) = arc.centre, line.way(0.0)
    along = (x - line.start[0]) * ux + (y - line.start[1]) * uy
    off = (x - line.start[0]) * uy - (y - line.start[1]) * ux
    half2 = arc.radius**2 - off**2
    if half2 < -SAME_POINT * arc.radius:
        return []
    half = sqrt(max(0.0, half2))
    return [(line.start[0] + ux * s, line.start[1] + uy * s) for s in (along - half, along + half)]


def _circles_meet(a: Segment, b: Segment) -> list[Point]:
    (ax, ay), (bx, by), p, q = a.centre, b.centre, a.radius, b.radius
    apart = hypot(bx - ax, by - ay)
    if apart < SAME_POINT or apart > p + q + SAME_POINT or apart < abs(p - q) - SAME_POINT:
        return []
    along = (apart**2 + p**2 - q**2) / (2.0 * apart)
    half = sqrt(max(0.0, p**2 - along**2))
    ux, uy = (bx - ax) / apart, (by - ay) / apart
    return [(ax + ux * along - uy * h, ay + uy * along + ux * h) for h in (half, -half)]
