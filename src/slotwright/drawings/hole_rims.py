"""The holes of a plan on paper, to see to which one a tag or the foot of its leader belongs by the eye."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from math import cos, radians, sin
from typing import NamedTuple

from slotwright.drawings.paper.crossing import apart, from_line
from slotwright.drawings.paper.placing import Box, crossing
from slotwright.drawings.paper.sheet import Point, View
from slotwright.pieces.hole_groups import TaggedHole

AWAY = 0.5  # clear paper between a leader and a hole that it passes, mm; our choice


class Rim(NamedTuple):
    """The edge of a hole: all points a radius away from the straight line between two points of paper."""

    x: float
    y: float
    half_x: float
    half_y: float
    radius: float

    @property
    def ends(self) -> tuple[Point, Point]:
        """Centres of the round ends, at one place for a round hole."""
        return (self.x - self.half_x, self.y - self.half_y), (self.x + self.half_x, self.y + self.half_y)

    def foot(self, c: float, s: float) -> Point:
        """Return the point of the edge that looks in a direction."""
        way = self.half_x * c + self.half_y * s
        end = 0.0 if abs(way) < 1e-9 else 1.0 if way > 0.0 else -1.0
        return self.x + end * self.half_x + self.radius * c, self.y + end * self.half_y + self.radius * s

    def gap(self, box: Box) -> float:
        """Return the distance of a box from the edge, less than nothing where it lies on the hole."""
        if not self.half_x and not self.half_y:
            return box.away(self.x, self.y) - self.radius
        a, b = self.ends
        if box.cut_by(a, b):
            return -self.radius
        corners = ((box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1))
        near = [box.away(*a), box.away(*b), *(from_line(corner, a, b) for corner in corners)]
        return min(near) - self.radius

    def passed(self, a: Point, b: Point) -> float:
        """Return how near a straight line between two points comes to the edge."""
        p, q = self.ends
        if crossing(a, b, p, q):
            return -self.radius
        return apart((a, b), (p, q)) - self.radius

    def meets(self, other: Rim) -> bool:
        """Say whether two holes run into each other, or are one."""
        return self.passed(*other.ends) < other.radius


class Rims:
    """All holes of a plan, quick to ask for those near a place."""

    def __init__(self, view: View, tagged: Sequence[TaggedHole]) -> None:
        self.all = tuple(_rim(view, one) for one in tagged)
        self._sorted = sorted(self.all)
        self._xs = [rim.x for rim in self._sorted]
        self._widest = max((abs(rim.half_x) + rim.radius for rim in self.all), default=0.0)

    def nearest(self, box: Box, own: Rim, by: float) -> bool:
        """Say whether a box is nearer by so much to its own hole than to any other.

        Holes that run into each other cannot be told apart so, and are not to be made.
        """
        least = max(own.gap(box), 0.0) + by
        near = self._between(box.x0 - least, box.x1 + least)
        return all(rim.gap(box) >= least or rim.meets(own) for rim in near)

    def crossed(self, a: Point, b: Point, own: Rim) -> bool:
        """Say whether a straight line between two points runs over a hole other than its own, or close by it."""
        low, high = min(a[0], b[0]) - AWAY, max(a[0], b[0]) + AWAY
        return any(rim.passed(a, b) < AWAY and not rim.meets(own) for rim in self._between(low, high))

    def _between(self, low: float, high: float) -> Iterator[Rim]:
        """Yield the holes that may reach into a stretch along X."""
        first, last = bisect_left(self._xs, low - self._widest), bisect_right(self._xs, high + self._widest)
        yield from self._sorted[first:last]


def _rim(view: View, one: TaggedHole) -> Rim:
    hole = one.hole
    x, y = view.to_paper((hole.x, hole.y))
    half, turn = hole.slot_extra / 2.0 * view.scale, radians(hole.slot_angle)
    return Rim(x, y, round(half * cos(turn), 9), round(half * sin(turn), 9), hole.widest / 2.0 * view.scale)
