"""Strokes of a view: straight lines and arcs between points, where they meet, and the closed lines they make.

All in millimetres on paper, which say what a view looks like and never how large the piece is.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import atan2, cos, degrees, pi, radians, sin

from tests.rebuilding.paper import Box, Path, Point, Ring, away

SAME = 0.02
"""Points that are nearer to each other are one, mm: a tenth of a narrow line."""
LITTLE = 1e-3


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line from one point to another, straight or part of a circle.

    Attributes:
        start, end: its ends.
        centre: of the circle it is part of, or None.
        sweep: how far it turns about the centre, degrees, counter-clockwise positive; 0 where it is straight.
        layer: of the file.
    """

    start: Point
    end: Point
    centre: Point | None = None
    sweep: float = 0.0
    layer: str = "OUTLINE"

    @property
    def radius(self) -> float:
        """Of its circle; 0 where it is straight."""
        return 0.0 if self.centre is None else away(self.start, self.centre)

    @property
    def turned(self) -> Stroke:
        """The same from its end to its start."""
        return replace(self, start=self.end, end=self.start, sweep=-self.sweep)

    @property
    def middle(self) -> Point:
        """The point half-way along it."""
        return self.at(0.5)

    def at(self, share: float) -> Point:
        """The point at a share of its length."""
        if self.centre is None:
            (ax, ay), (bx, by) = self.start, self.end
            return ax + (bx - ax) * share, ay + (by - ay) * share
        turn = self._turn(self.start) + radians(self.sweep) * share
        return self.centre[0] + self.radius * cos(turn), self.centre[1] + self.radius * sin(turn)

    def _turn(self, point: Point) -> float:
        assert self.centre is not None
        return atan2(point[1] - self.centre[1], point[0] - self.centre[0])

    def share_of(self, point: Point) -> float | None:
        """Where along it a point lies, 0 to 1, or None where it does not lie on it."""
        if self.centre is None:
            (ax, ay), (bx, by) = self.start, self.end
            long = away(self.start, self.end)
            if long < SAME:
                return None
            along = ((point[0] - ax) * (bx - ax) + (point[1] - ay) * (by - ay)) / long
            aside = abs((point[0] - ax) * (by - ay) - (point[1] - ay) * (bx - ax)) / long
            return along / long if aside < SAME and -SAME < along < long + SAME else None
        if abs(away(point, self.centre) - self.radius) > SAME:
            return None
        turn = degrees(self._turn(point) - self._turn(self.start))
        turn = turn % 360.0 if self.sweep > 0.0 else -((-turn) % 360.0)
        give = degrees(SAME / self.radius)
        if abs(abs(turn) - 360.0) < give:
            turn = 0.0
        return turn / self.sweep if abs(turn) <= abs(self.sweep) + give else None

    def between(self, first: float, last: float) -> Stroke:
        """The part of it between two shares of its length."""
        return replace(self, start=self.at(first), end=self.at(last), sweep=self.sweep * (last - first))

    def way(self) -> float:
        """Direction in which it leaves its start, radians."""
        (ax, ay), (bx, by) = self.start, self.at(1e-3 if self.centre is not None else 1.0)
        return atan2(by - ay, bx - ax)

    def from_point(self, point: Point) -> float:
        """How far a point is from it, mm."""
        if self.centre is None:
            (ax, ay), (bx, by) = self.start, self.end
            long = max(away(self.start, self.end), LITTLE)
            share = ((point[0] - ax) * (bx - ax) + (point[1] - ay) * (by - ay)) / long**2
            return away(point, self.at(min(1.0, max(0.0, share))))
        turn = degrees(self._turn(point) - self._turn(self.start))
        turn = turn % 360.0 if self.sweep > 0.0 else (-turn) % 360.0
        if turn <= abs(self.sweep):
            return abs(away(point, self.centre) - self.radius)
        return min(away(point, self.start), away(point, self.end))


Loop = tuple[Stroke, ...]
"""Strokes one after another round a part of the paper, counter-clockwise."""


def strokes_of(paths: Iterable[Path], rings: Iterable[Ring], layers: Sequence[str]) -> list[Stroke]:
    """All strokes on some layers; whole circles come as two halves."""
    found = [Stroke(a, b, layer=path.layer) for path in paths if path.layer in layers for a, b in path.strokes
             if away(a, b) > LITTLE]  # fmt: skip
    for ring in rings:
        if ring.layer in layers:
            turn = ring.end - ring.start
            ends = [ring.start, ring.end] if turn < 359.999 else [ring.start, ring.start + 180.0, ring.start + 360.0]
            found += [Stroke(_rim(ring, a), _rim(ring, b), ring.centre, b - a, ring.layer) for a, b in pairwise(ends)]
    return found


def _rim(ring: Ring, way: float) -> Point:
    c, s = cos(radians(way)), sin(radians(way))
    return ring.centre[0] + ring.radius * c, ring.centre[1] + ring.radius * s


def split(strokes: Sequence[Stroke]) -> list[Stroke]:
    """Part every stroke where the end of another one lies on it; what is drawn twice is there once."""
    ends = [end for stroke in strokes for end in (stroke.start, stroke.end)]
    parts: list[Stroke] = []
    for stroke in strokes:
        shares = {0.0, 1.0}
        for end in ends:
            if away(end, stroke.start) > SAME and away(end, stroke.end) > SAME:
                share = stroke.share_of(end)
                if share is not None and all(abs(share - other) > 1e-6 for other in shares):
                    shares.add(share)
        parts += [stroke.between(a, b) for a, b in pairwise(sorted(shares))]
    once: list[Stroke] = []
    seen: set[tuple[int, ...]] = set()
    for part in parts:
        key = tuple(sorted((_spot(part.start), _spot(part.end))))
        spots = (*key[0], *key[1], *_spot(part.middle))
        if away(part.start, part.end) > SAME and spots not in seen:
            seen.add(spots)
            once.append(part)
    return once


def _spot(point: Point) -> tuple[int, int]:
    return round(point[0] / SAME / 2.0), round(point[1] / SAME / 2.0)


def loops(strokes: Sequence[Stroke]) -> list[Loop]:
    """All smallest closed lines, counter-clockwise, and the outer border of each part that hangs together, clockwise.

    At each point one goes on along the next stroke to the left or, for the border, to the right.
    """
    leaving: list[tuple[Point, list[Stroke]]] = []
    for stroke in (way for one in split(strokes) for way in (one, one.turned)):
        spot = next((own for point, own in leaving if away(point, stroke.start) < SAME), None)
        if spot is None:
            leaving.append((stroke.start, [stroke]))
        else:
            spot.append(stroke)
    found: list[Loop] = []
    used: set[int] = set()
    for _, own in leaving:
        for stroke in own:
            if id(stroke) not in used:
                loop = _round(stroke, leaving, used)
                if loop is not None:
                    found.append(loop)
    return found


def _round(first: Stroke, leaving: list[tuple[Point, list[Stroke]]], used: set[int]) -> Loop | None:
    loop, here = [first], first
    used.add(id(first))
    while away(here.end, first.start) > SAME or len(loop) == 1:
        spot = next((own for point, own in leaving if away(point, here.end) < SAME), [])
        back = here.turned.way()
        choice = [one for one in spot if id(one) not in used]
        if not choice:
            return None
        here = min(choice, key=lambda one: _right_turn(back, one))
        used.add(id(here))
        loop.append(here)
    return tuple(loop)


def _right_turn(back: float, stroke: Stroke) -> float:
    """How far one turns clockwise from the way back to the way on; straight back is the last choice."""
    turn = (back - stroke.way()) % (2.0 * pi)
    return turn if turn > 1e-6 else 2.0 * pi


def area(loop: Loop) -> float:
    """Area inside, negative where it runs clockwise, mm2 on paper."""
    points = [stroke.at(n / 16.0) for stroke in loop for n in range(16)]
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise([*points, points[0]])) / 2.0


def joined(loop: Loop) -> Loop:
    """The same with strokes that go on straight or on the same circle made one; a circle stays two halves."""
    if is_round(loop):
        return _halves(loop)
    parts = list(loop)
    n = 0
    while n < len(parts) and len(parts) > 2:
        a, b = parts[n], parts[(n + 1) % len(parts)]
        if a.centre is None and b.centre is None:
            goes_on = Stroke(a.start, b.end).from_point(a.end) < SAME / 2.0
        else:
            goes_on = a.centre is not None and b.centre is not None and away(a.centre, b.centre) < SAME and (
                abs(a.radius - b.radius) < SAME) and abs(a.sweep + b.sweep) < 359.0  # fmt: skip
        if goes_on:
            parts[n] = replace(a, end=b.end, sweep=a.sweep + b.sweep)
            parts.pop((n + 1) % len(parts))
            n = max(0, n - 1)
        else:
            n += 1
    return tuple(parts)


def _halves(loop: Loop) -> Loop:
    """A circle in two halves that meet left and right."""
    one = loop[0]
    assert one.centre is not None
    (x, y), r, way = one.centre, one.radius, 180.0 if one.sweep > 0.0 else -180.0
    right, left = (x + r, y), (x - r, y)
    return replace(one, start=right, end=left, sweep=way), replace(one, start=left, end=right, sweep=way)


def box_of(strokes: Iterable[Stroke]) -> Box:
    """The box around strokes."""
    points = [point for stroke in strokes for point in _reaches(stroke)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _reaches(stroke: Stroke) -> list[Point]:
    """Its ends, and where it reaches farthest along either axis."""
    points = [stroke.start, stroke.end]
    if stroke.centre is not None:
        r, (x, y) = stroke.radius, stroke.centre
        points += [p for p in ((x + r, y), (x - r, y), (x, y + r), (x, y - r)) if stroke.share_of(p) is not None]
    return points


def is_round(loop: Loop) -> bool:
    """Whether it is one circle."""
    centres = {stroke.centre for stroke in loop}
    return None not in centres and all(away(a, b) < SAME for a in centres for b in centres if a and b) and (
        abs(abs(sum(stroke.sweep for stroke in loop)) - 360.0) < 0.1)  # fmt: skip


def are_alike(a: Loop, b: Loop) -> bool:
    """Whether two closed lines look the same but for where they are."""
    boxes = [box_of(loop) for loop in (a, b)]
    sizes = [(box[2] - box[0], box[3] - box[1], abs(area(loop))) for box, loop in zip(boxes, (a, b), strict=True)]
    return all(abs(p - q) < 0.02 * (1.0 + 0.01 * q) for p, q in zip(*sizes, strict=True)) and len(a) == len(b)


def is_sloped(stroke: Stroke) -> bool:
    """Whether a stroke runs at 45 degrees."""
    dx, dy = abs(stroke.end[0] - stroke.start[0]), abs(stroke.end[1] - stroke.start[1])
    return stroke.centre is None and dx > 0.01 and abs(dx - dy) < 0.01
