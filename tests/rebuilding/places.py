"""Places along the three axes of a piece that edges and dimensions have, each an unknown until figures give it."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import combinations
from math import hypot

from tests.rebuilding.elevations import AXES, Elevation
from tests.rebuilding.equations import Equations, Residual
from tests.rebuilding.paper import Point
from tests.rebuilding.strokes import Loop, Stroke, box_of
from tests.rebuilding.wording import Size

SAME = 0.02
"""Places that differ by less on paper are one, mm."""
NAMES = "XYZ"
Spot = tuple[int, int]
"""A point of a view: its unknowns along the view's two axes."""


@dataclass(frozen=True, slots=True)
class Corner:
    """A stroke of a profile by its unknowns.

    Attributes:
        start, end: its ends.
        centre, radius: of an arc, else None.
        outward: an arc turns counter-clockwise in the piece's own axes.
        drawn: the stroke.
    """

    start: Spot
    end: Spot
    centre: Spot | None
    radius: int | None
    outward: bool
    drawn: Stroke


@dataclass(frozen=True, slots=True)
class Profile:
    """A closed line on a side of the piece.

    Attributes:
        side: of the piece.
        corners: its strokes in order.
        low, high: unknowns of the box around it, along the view's two axes.
    """

    side: str
    corners: tuple[Corner, ...]
    low: Spot
    high: Spot

    @property
    def loop(self) -> Loop:
        """As drawn."""
        return tuple(corner.drawn for corner in self.corners)


@dataclass(frozen=True, slots=True)
class Known:
    """A place as drawn, its unknown, and whose it is: "" the piece's own, else a feature's."""

    drawn: float
    number: int
    whose: str


@dataclass(slots=True)
class Places:
    """All unknown places, by axis, and the equations between them.

    Attributes:
        equations: what is known.
        known: the places of each axis.
        middles: of each axis, unknowns on a long centre line.
        radii: unknown radii by side, with the arcs as drawn.
        main: places that others may be in line with: ends and middles of the piece and its features.
    """

    equations: Equations = field(default_factory=Equations)
    known: tuple[list[Known], ...] = field(default_factory=lambda: ([], [], []))
    middles: tuple[list[int], ...] = field(default_factory=lambda: ([], [], []))
    radii: list[tuple[str, Stroke, int]] = field(default_factory=list)
    main: set[int] = field(default_factory=set)

    def find(self, axis: int, drawn: float) -> list[Known]:
        """All that is at a place as drawn."""
        return [one for one in self.known[axis] if abs(one.drawn - drawn) < SAME]

    def at(self, axis: int, drawn: float, whose: str = "") -> int:
        """The unknown at a place as drawn; a new one where there is none."""
        found = [one.number for one in self.find(axis, drawn) if one.whose == whose]
        if found:
            return found[0]
        number = self.equations.unknown(f"{NAMES[axis]} of {whose or 'what'} is drawn at {drawn:.2f} mm", drawn)
        self.known[axis].append(Known(drawn, number, whose))
        return number

    def in_line(self) -> list[tuple[int, int]]:
        """Pairs of main places that are drawn in line with each other and are not one's own."""
        main = [[one for one in known if one.number in self.main] for known in self.known]
        return [(a.number, b.number) for known in main for a, b in combinations(known, 2)
                if a.whose != b.whose and abs(a.drawn - b.drawn) < SAME]  # fmt: skip

    def drawn(self, number: int) -> float:
        """Where an unknown is as drawn."""
        return self.equations.drawn[number]

    def size(self, number: int) -> Size:
        """An unknown as worked out."""
        return self.equations.sizes[number]

    def fix(self, number: int) -> None:
        """Count an axis from here."""
        self.main.add(number)
        self.equations.hold([number], lambda v: v[0])

    def halfway(self, low: int, middle: int, high: int) -> None:
        """One place is drawn in the middle of two others."""
        self.main.add(middle)
        if len({low, middle, high}) == 3:
            self.equations.hold([low, middle, high], lambda v: v[0] + v[2] - 2.0 * v[1])

    def apart(self, low: int, high: int, size: Size, text: str) -> None:
        """A figure says how far a place is from another; both as drawn from low to high."""
        self.equations.hold([low, high], lambda v: v[1] - v[0] - size.value, text, size.off)

    # Profiles

    def profile(self, view: Elevation, loop: Loop, whose: str = "") -> Profile:
        """Take in a closed line of a view: its corners, arcs with how they run into what is beside them, its box."""
        corners = [self._corner(view, stroke, whose) for stroke in loop]
        for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
            self._smooth(a, b)
        x0, y0, x1, y1 = box_of(loop)
        ends = [self._spot(view, point, whose) for point in ((x0, y0), (x1, y1))]
        ways = [way for _, way in AXES[view.side]]
        low, high = (tuple(ends[n if way > 0 else 1 - n][k] for k, way in enumerate(ways)) for n in (0, 1))
        for corner in corners:
            self._reach(view, corner, whose)
        self.main.update((*low, *high))
        return Profile(view.side, tuple(corners), (low[0], low[1]), (high[0], high[1]))

    def _spot(self, view: Elevation, point: Point, whose: str) -> Spot:
        first, second = (axis for axis, _ in AXES[view.side])
        return self.at(first, view.place(first, point), whose), self.at(second, view.place(second, point), whose)

    def _corner(self, view: Elevation, stroke: Stroke, whose: str) -> Corner:
        start, end = self._spot(view, stroke.start, whose), self._spot(view, stroke.end, whose)
        if stroke.centre is None:
            return Corner(start, end, None, None, False, stroke)
        centre = self._spot(view, stroke.centre, whose)
        radius = self.radius(view.side, stroke)
        for spot in {start, end}:
            among = [*spot, *centre, radius]
            self.equations.hold(among, lambda v: hypot(v[0] - v[2], v[1] - v[3]) - v[4])
        ways = [way for _, way in AXES[view.side]]
        return Corner(start, end, centre, radius, stroke.sweep * ways[0] * ways[1] > 0.0, stroke)

    def radius(self, side: str, stroke: Stroke) -> int:
        """The unknown radius of an arc; arcs about one centre that are equally large have one."""
        for own, other, number in self.radii:
            if own == side and other.centre is not None and stroke.centre is not None and (
                hypot(other.centre[0] - stroke.centre[0], other.centre[1] - stroke.centre[1]) < SAME
                and abs(other.radius - stroke.radius) < SAME):  # fmt: skip
                return number
        number = self.equations.unknown(f"radius drawn {stroke.radius:.2f} mm on paper", stroke.radius)
        self.radii.append((side, stroke, number))
        return number

    def _smooth(self, a: Corner, b: Corner) -> None:
        """A line that is drawn to run into an arc does so."""
        for line, arc in ((a, b), (b, a)):
            if line.centre is None and arc.centre is not None and _runs_into(line.drawn, arc.drawn):
                meeting = line.end if line is a else line.start
                among = [*line.start, *line.end, *meeting, *arc.centre]
                if line.start[0] != line.end[0] and line.start[1] != line.end[1]:
                    self.equations.hold(
                        among, lambda v: ((v[2] - v[0]) * (v[6] - v[4]) + (v[3] - v[1]) * (v[7] - v[5]))
                        / max(hypot(v[2] - v[0], v[3] - v[1]), 1e-9),
                    )  # fmt: skip

    def _reach(self, view: Elevation, corner: Corner, whose: str) -> None:
        """Where an arc reaches farthest along an axis is a radius from its centre."""
        stroke = corner.drawn
        if stroke.centre is None or corner.centre is None or corner.radius is None:
            return
        for number in (0, 1):
            axis, way = AXES[view.side][number]
            for sign in (-1.0, 1.0):
                point = list(stroke.centre)
                point[number] += sign * stroke.radius
                tip = point[0], point[1]
                share = stroke.share_of(tip)
                inside = share is not None and 1e-3 < share < 1.0 - 1e-3
                number_there = self.at(axis, view.place(axis, tip), whose) if inside else None
                if number_there is not None:
                    among = [number_there, corner.centre[number], corner.radius]
                    self.equations.hold(among, _outermost(sign * way))


def _outermost(way: float) -> Residual:
    """A place is a radius from a centre."""
    return lambda v: v[0] - v[1] - way * v[2]


def _runs_into(line: Stroke, arc: Stroke) -> bool:
    """Whether a line is square to the radius where it meets an arc."""
    assert arc.centre is not None
    for point in (line.start, line.end):
        if min(hypot(point[0] - q[0], point[1] - q[1]) for q in (arc.start, arc.end)) < SAME:
            (ax, ay), (bx, by), (cx, cy) = line.start, line.end, arc.centre
            across = (bx - ax) * (point[0] - cx) + (by - ay) * (point[1] - cy)
            return abs(across) < 1e-3 * hypot(bx - ax, by - ay) * arc.radius
    return False
