"""Tables of an outline's points: where each stands, and how the next one is reached."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, hypot, pi, sqrt

from tests.rebuilding.paper import Paper
from tests.rebuilding.ruled import Rulings
from tests.rebuilding.wording import FIGURE, Figures, Size, UnreadableError

TITLE = re.compile(r"POINTS OF THE (.+); P(\d+) GOES TO P(\d+)")
ARC = re.compile(rf"R({FIGURE}) (OUTWARD|INWARD)(, MORE THAN 180°)?")
Place = tuple[Size, Size]


@dataclass(frozen=True, slots=True)
class Side:
    """From one point to the next: straight, or about a centre."""

    start: Place
    end: Place
    centre: Place | None
    radius: Size | None
    outward: bool

    def farthest(self, number: int) -> list[Size]:
        """Where an arc reaches a radius from its centre along an axis."""
        if self.centre is None:
            return []
        (cx, cy), (ax, ay), (bx, by) = ((u.value, v.value) for u, v in (self.centre, self.start, self.end))
        radius = hypot(ax - cx, ay - cy)
        first, last = atan2(ay - cy, ax - cx), atan2(by - cy, bx - cx)
        if not self.outward:
            first, last = last, first
        found = []
        for quarter in (number, number + 2):
            turn = (quarter * pi / 2.0 - first) % (2.0 * pi)
            if turn < (last - first) % (2.0 * pi):
                way = 1.0 if quarter < 2 else -1.0
                found.append(
                    Size(self.centre[number].value + way * radius, self.centre[number].off + self.start[number].off)
                )
        return found


@dataclass(frozen=True, slots=True)
class PointTable:
    """The sides of an outline, and what it is the outline of."""

    name: str
    sides: tuple[Side, ...]

    def reach(self, number: int) -> tuple[Size, Size]:
        """How far it reaches along one of its two axes."""
        ends = [side.start[number] for side in self.sides]
        ends += [end for side in self.sides for end in side.farthest(number)]
        return min(ends, key=lambda end: end.value), max(ends, key=lambda end: end.value)


def point_tables(sheets: Sequence[Paper], figures: Figures) -> list[PointTable]:
    """All tables of points on some sheets."""
    found = []
    for sheet in sheets:
        titles = [m for words in sheet.marks.words for m in [TITLE.fullmatch(words.text)] if m]
        rows = [row for table in Rulings(sheet.marks).tables("POINT") for row in table]
        cells = {row.one("POINT"): row for row in rows}
        for title in titles:
            last, first = int(title[2]), int(title[3])
            names = [f"P{n}" for n in range(first, last + 1)]
            places = []
            for name in names:
                row = cells[name]
                own = [column for column in "XYZ" if column in row.cells]
                places.append((figures.size(row.one(own[0])), figures.size(row.one(own[1]))))
            ways = [cells[name].one("TO THE NEXT POINT") for name in names]
            sides = [
                _side(a, b, way, figures) for a, b, way in zip(places, [*places[1:], places[0]], ways, strict=True)
            ]
            found.append(PointTable(title[1], tuple(sides)))
    return found


def _side(a: Place, b: Place, way: str, figures: Figures) -> Side:
    if way == "LINE":
        return Side(a, b, None, None, False)
    m = ARC.fullmatch(way)
    if m is None:
        raise UnreadableError(f"{way!r} is no way to the next point")
    radius, outward = figures.size(m[1]), m[2] == "OUTWARD"
    dx, dy = b[0].value - a[0].value, b[1].value - a[1].value
    chord = sqrt(dx * dx + dy * dy)
    # The centre lies left of the way where the arc turns left by less than half a circle, or right by more.
    left = outward != (m[3] is not None)
    high = sqrt(max(0.0, radius.value**2 - chord**2 / 4.0)) * (1.0 if left else -1.0)
    # Of high ** 2 = radius ** 2 - (chord / 2) ** 2: the flatter the arc, the more a figure moves its centre.
    loose = radius.value * radius.off + chord / 4.0 * (a[0].off + b[0].off + a[1].off + b[1].off)
    off = min(loose / max(abs(high), 1e-9), sqrt(2.0 * loose)) + max(a[0].off, a[1].off)
    centre = (Size((a[0].value + b[0].value) / 2.0 - high * dy / chord, off),
              Size((a[1].value + b[1].value) / 2.0 + high * dx / chord, off))  # fmt: skip
    return Side(a, b, centre, radius, outward)
