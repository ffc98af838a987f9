"""Where things may stand on paper: boxes, and a register of what is already there.

All in paper mm. The register answers one question fast: is this box free? It keeps what it holds in square cells, so
that only near things are looked at.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import cos, dist, floor, hypot, radians, sin
from typing import NamedTuple, TypeAlias

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.sheet import Anchor, Arc, Circle, Fill, Mark, Point, Stroke, Text

CELL = 12.0
DESCENT = 0.25  # how far lettering reaches below its baseline, in heights of capitals


class Box(NamedTuple):
    """An upright rectangle."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def width(self) -> float:
        """Along X."""
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        """Along Y."""
        return self.y1 - self.y0

    def grown(self, by: float) -> Box:
        """Return the box with a margin on all sides."""
        return Box(self.x0 - by, self.y0 - by, self.x1 + by, self.y1 + by)

    def moved(self, dx: float, dy: float) -> Box:
        """Return the box shifted."""
        return Box(self.x0 + dx, self.y0 + dy, self.x1 + dx, self.y1 + dy)

    def meets(self, other: Box) -> bool:
        """Say whether the two share any area."""
        return self.x0 < other.x1 and other.x0 < self.x1 and self.y0 < other.y1 and other.y0 < self.y1

    def holds(self, other: Box) -> bool:
        """Say whether the other lies inside or on the rim."""
        return self.x0 <= other.x0 and other.x1 <= self.x1 and self.y0 <= other.y0 and other.y1 <= self.y1

    def cut_by(self, a: Point, b: Point) -> bool:
        """Say whether a straight line between two points runs through the box."""
        low, high = 0.0, 1.0
        spans = ((a[0], b[0], self.x0, self.x1), (a[1], b[1], self.y0, self.y1))
        for start, end, least, most in spans:
            step = end - start
            if abs(step) < 1e-12:
                if start <= least or start >= most:
                    return False
                continue
            enter, leave = sorted(((least - start) / step, (most - start) / step))
            low, high = max(low, enter), min(high, leave)
            if low >= high:
                return False
        return True

    def away(self, x: float, y: float) -> float:
        """Return the distance of a point, 0 for one inside."""
        return hypot(max(self.x0 - x, 0.0, x - self.x1), max(self.y0 - y, 0.0, y - self.y1))

    def touches_ring(self, centre: Point, radius: float) -> bool:
        """Say whether the circle's line (not its inside) runs through the box."""
        far = hypot(max(centre[0] - self.x0, self.x1 - centre[0]), max(centre[1] - self.y0, self.y1 - centre[1]))
        return self.away(*centre) < radius < far


_Line: TypeAlias = tuple[Point, Point]
_Item: TypeAlias = tuple[
    float, float, float, float, _Line | Circle | Arc | None
]  # its box, then its shape; None is the box


class Register:
    """Boxes, straight lines and circles that stand on the paper already."""

    def __init__(self) -> None:
        self._cells: dict[tuple[int, int], list[_Item]] = {}

    def add(self, marks: Iterable[Mark]) -> None:
        """Take in marks in paper coordinates."""
        for mark in marks:
            match mark:
                case Stroke():
                    self.add_line(mark.path)
                case Circle() | Arc():
                    self._put(circle_box(mark.centre, mark.radius), mark)
                case Fill(points):
                    self.add_box(points_box(points))
                case Text():
                    self.add_box(text_box(mark))

    def add_box(self, box: Box) -> None:
        """Take in a box: nothing else may stand in it."""
        self._put(box, None)

    def keep_clear(self, marks: Iterable[Mark], by: float) -> None:
        """Take in the texts among marks with clear paper round them."""
        for mark in marks:
            if isinstance(mark, Text):
                self.add_box(text_box(mark).grown(by))

    def add_line(self, points: Sequence[Point]) -> None:
        """Take in a polyline; slanted lines are cut to pieces of a cell, so that they fill few cells."""
        for a, b in pairwise(points):
            steps = floor(min(abs(b[0] - a[0]), abs(b[1] - a[1])) / CELL) + 1
            for n in range(steps):
                p, q = _between(a, b, n / steps), _between(a, b, (n + 1) / steps)
                self._put(points_box((p, q)), (p, q))

    def free(self, box: Box) -> bool:
        """Say whether nothing in the register meets the box."""
        x0, y0, x1, y1 = box
        for key in _keys(box):
            for a0, b0, a1, b1, shape in self._cells.get(key, ()):
                # Written out, for this runs some ten thousand times a sheet.
                if a0 < x1 and x0 < a1 and b0 < y1 and y0 < b1 and (shape is None or _meets(box, shape)):
                    return False
        return True

    def passable(self, a: Point, b: Point, *, over_circles: bool = False, within_circles: bool = False) -> bool:
        """Say whether a straight line between two points runs through no box and, unless it may, no circle.

        Over circles it may run wherever it likes; within circles, only where an end of it is inside, as that of a
        leader from a hole is inside a plate's rim or a bolt circle.
        """
        for key in _keys(points_box((a, b))):
            for x0, y0, x1, y1, shape in self._cells.get(key, ()):
                if shape is None and Box(x0, y0, x1, y1).cut_by(a, b):
                    return False
                if over_circles or not isinstance(shape, Circle) or _distance(shape.centre, a, b) >= shape.radius:
                    continue
                if not within_circles or not any(dist(end, shape.centre) < shape.radius for end in (a, b)):
                    return False
        return True

    def free_of_boxes(self, box: Box) -> bool:
        """Say whether no lettering and no filled shape in the register meets the box; lines may."""
        for key in _keys(box):
            for x0, y0, x1, y1, shape in self._cells.get(key, ()):
                if shape is None and box.meets(Box(x0, y0, x1, y1)):
                    return False
        return True

    def copy(self) -> Register:
        """Return a register that holds the same and can be added to alone."""
        twin = Register()
        twin._cells = {key: list(items) for key, items in self._cells.items()}
        return twin

    def _put(self, bounds: Box, shape: _Line | Circle | Arc | None) -> None:
        item = (*bounds, shape)
        for key in _keys(bounds):
            self._cells.setdefault(key, []).append(item)


def _keys(box: Box) -> list[tuple[int, int]]:
    columns = range(floor(box.x0 / CELL), floor(box.x1 / CELL) + 1)
    rows = range(floor(box.y0 / CELL), floor(box.y1 / CELL) + 1)
    return [(i, j) for i in columns for j in rows]


def _meets(box: Box, shape: _Line | Circle | Arc) -> bool:
    if isinstance(shape, Circle | Arc):  # an arc is taken for its whole circle
        return box.touches_ring(shape.centre, shape.radius)
    return box.cut_by(*shape)


def crossing(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Say whether two straight pieces of line cross; touching is no crossing."""
    return _side(a, b, c) * _side(a, b, d) < -1e-9 and _side(c, d, a) * _side(c, d, b) < -1e-9


def _side(a: Point, b: Point, point: Point) -> float:
    return (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0])


def _distance(point: Point, a: Point, b: Point) -> float:
    """From a point to a straight piece of line."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    share = ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / square if square else 0.0
    share = min(1.0, max(0.0, share))
    return hypot(point[0] - a[0] - share * dx, point[1] - a[1] - share * dy)


def _between(a: Point, b: Point, share: float) -> Point:
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


def points_box(points: Iterable[Point]) -> Box:
    """Return the box around points."""
    xs, ys = zip(*points, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))


def circle_box(centre: Point, radius: float) -> Box:
    """Return the box around a circle."""
    return Box(centre[0] - radius, centre[1] - radius, centre[0] + radius, centre[1] + radius)


def union(boxes: Iterable[Box]) -> Box:
    """Return the box around boxes."""
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return Box(min(x0), min(y0), max(x1), max(y1))


def text_box(text: Text) -> Box:
    """Return the box around a text, descenders included, whatever its angle."""
    long, high = lettering.width(text.text, text.height), text.height
    start = {Anchor.LEFT: 0.0, Anchor.CENTRE: -long / 2.0, Anchor.RIGHT: -long}[text.anchor]
    low = -high / 2.0 if text.middle else 0.0
    x, y = text.at
    u0, u1, v0, v1 = start, start + long, low - DESCENT * high, low + high
    if text.angle == 0.0:
        return Box(x + u0, y + v0, x + u1, y + v1)
    c, s = cos(radians(text.angle)), sin(radians(text.angle))
    return points_box([(x + u * c - v * s, y + u * s + v * c) for u in (u0, u1) for v in (v0, v1)])


def marks_box(marks: Iterable[Mark]) -> Box:
    """Return the box around marks in paper coordinates."""
    return union(mark_box(mark) for mark in marks)


def mark_box(mark: Mark) -> Box:
    """Return the box around one mark in paper coordinates; an arc counts as its full circle."""
    match mark:
        case Stroke(points) | Fill(points):
            return points_box(points)
        case Circle() | Arc():
            return circle_box(mark.centre, mark.radius)
        case Text():
            return text_box(mark)


def moved(mark: Mark, dx: float, dy: float) -> Mark:
    """Return a mark shifted on the paper."""
    match mark:
        case Stroke(points, line, closed):
            return Stroke(tuple((x + dx, y + dy) for x, y in points), line, closed)
        case Circle((x, y), radius, line):
            return Circle((x + dx, y + dy), radius, line)
        case Arc((x, y), radius, start, end, line):
            return Arc((x + dx, y + dy), radius, start, end, line)
        case Fill(points, line):
            return Fill(tuple((x + dx, y + dy) for x, y in points), line)
        case Text((x, y), words, height, anchor, angle, middle, line):
            return Text((x + dx, y + dy), words, height, anchor, angle, middle, line)


def spread(wanted: Sequence[float], pitch: float) -> list[float]:
    """Move points along a line as little as may be until neighbours are a pitch apart; their order stays.

    The sum of squared moves is the least possible (pool-adjacent-violators on the wanted places less their share of
    the pitch).

    Args:
        wanted: rising places.
        pitch: least distance of neighbours.
    """
    pools: list[tuple[float, int]] = []  # mean, count
    for n, place in enumerate(wanted):
        pools.append((place - n * pitch, 1))
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (a, m), (b, k) = pools[-2], pools[-1]
            pools[-2:] = [((a * m + b * k) / (m + k), m + k)]
    means = [mean for mean, count in pools for _ in range(count)]
    return [mean + n * pitch for n, mean in enumerate(means)]
