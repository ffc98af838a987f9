"""Read a piece of any shape from its sheets alone: profiles, features and holes, each size from printed figures.

Lines of the views say only how things hang together; a place that no figure gives is a doubt, and so is a figure that
follows from others.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, cos, degrees, radians, sin

from tests.rebuilding import shaped
from tests.rebuilding.bar_reading import EDGES, ZERO_CORNER, notes_of
from tests.rebuilding.dxf_tags import read_dxf
from tests.rebuilding.elevations import AXES, Elevation, elevations
from tests.rebuilding.hole_rows import HoleRows, PlacedHole
from tests.rebuilding.leaders import Note, leader_notes
from tests.rebuilding.measured import PITCHES
from tests.rebuilding.paper import Marks, Paper, Point, away, from_box, papers
from tests.rebuilding.places import NAMES, Places, Profile, Spot
from tests.rebuilding.points import PointTable, point_tables
from tests.rebuilding.strokes import Loop, Stroke, area, box_of, is_round
from tests.rebuilding.wording import CHAMFER, DRILL_POINTS, FIGURE, NOTHING, Figures, Size, UnreadableError, one_unit

SAME = 0.05
ZERO_CENTRE = "X AND Y FROM THE CENTRE"
TIP = 0.15
"""The point of an arrow is no farther from what it points at, mm on paper."""
OPPOSITE = {"front": "back", "right": "left"}


@dataclass(frozen=True, slots=True)
class Edge:
    """A side of a profile by its sizes: ends, and of an arc its centre, radius and which way it turns."""

    start: tuple[Size, Size]
    end: tuple[Size, Size]
    centre: tuple[Size, Size] | None = None
    radius: Size | None = None
    outward: bool = False


@dataclass(frozen=True, slots=True)
class Feature:
    """Metal that stands out of a side (high) or is cut into it (deep; None for both is through)."""

    side: str
    edges: tuple[Edge, ...]
    high: Size | None
    deep: Size | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadShape:
    """A piece as its sheet has it.

    Attributes:
        side: on which its profile is seen, "top" or "right".
        edges: of its profile.
        start, end: from where to where the profile is drawn out, along the axis square to its side.
        chamfer: leg around top and bottom.
        point: drill point of blind holes, degrees, or None for a flat floor.
        features: in the order in which they are made: what stands out first.
        holes: as the tables have them.
        central: axes that are counted from the middle of the piece.
        cornered: axes that are counted from its lower end.
        doubts: what is missing, written twice, or can be read in two ways.
    """

    side: str
    edges: tuple[Edge, ...]
    start: Size
    end: Size
    chamfer: Size
    point: float | None
    features: tuple[Feature, ...]
    holes: tuple[PlacedHole, ...]
    central: tuple[bool, bool, bool]
    cornered: tuple[bool, bool, bool]
    doubts: tuple[str, ...]


def read_shape(dxf: bytes) -> ReadShape:
    """Read a piece from a DXF file. Errors: UnreadableError where it can't be read at all."""
    return _Reader(papers(read_dxf(dxf))).read()


class _Reader:
    """Reads one piece from its sheets, the first of which has the views."""

    def __init__(self, sheets: list[Paper]) -> None:
        self.sheets = sheets
        self.doubts: list[str] = []
        self.notes = [note for sheet in sheets for note in notes_of(sheet.marks)]
        self.figures = Figures(inch=self._inch())
        self.views = elevations(sheets[0])
        self.leaders = leader_notes(sheets[0])
        self.places = Places()
        self.points = point_tables(sheets, self.figures)
        self.features: list[tuple[shaped.Said, Elevation, Profile | None]] = []
        self.used: set[Note] = set()
        self.notched: set[int] = set()
        self.measured: list[tuple[int, float, float]] = []

    def read(self) -> ReadShape:
        side, loop = self._body()
        self._same_boxes()
        table = self._points_of("OUTLINE")
        body = self.places.profile(self.views[side], loop) if table is None else None
        start, end = self._drawn_out(side)
        self.places.main.update((start, end))
        self._centre_lines()
        zeros = self._zeros()
        if table is not None:
            self._reach_of(table, self.views[side], zeros)
        self._find_features()
        if side == "right":
            self._notches(loop)
        self._notes_of_sizes()
        circles = self._bolt_circles()
        for marks in self.sheets[0].dimensions:
            self._dimension(marks)
        self.doubts += self.places.equations.solve(self.places.in_line())
        self.doubts += [f"the note {note.lines} says nothing that is understood" for note in self.leaders
                        if note not in self.used and note.figure]  # fmt: skip
        rows = HoleRows(self.sheets, self.figures, {d: self._centre_of(c) for d, c in circles})
        features = [feature for one in self.features for feature in self._feature(*one)]
        self.doubts += rows.doubts
        central = [zero in self.places.middles[axis] for axis, zero in enumerate(zeros)]
        cornered = [zero == self.places.at(axis, 0.0) for axis, zero in enumerate(zeros[:2])]
        return ReadShape(
            side=side, edges=self._edges(body, table), start=self.places.size(start), end=self.places.size(end),
            chamfer=self._chamfer(), point=self._point(), holes=tuple(rows.holes),
            features=tuple(sorted(features, key=lambda f: f.high is None)),
            central=(central[0], central[1], False), cornered=(cornered[0], cornered[1], True),
            doubts=tuple(self.doubts),
        )  # fmt: skip

    # General notes

    def _inch(self) -> bool:
        note = " ".join(self.notes)
        inch, metric = "DIMENSIONS IN INCHES" in note, bool(re.search("DIMENSIONS IN MILLIMET(RE|ER)S", note))
        if inch == metric:
            raise UnreadableError("the notes do not say whether figures are inches or millimetres")
        return inch

    def _point(self) -> float | None:
        found = {float(angle.replace(",", ".")) for note in self.notes for angle in DRILL_POINTS.findall(note)}
        if len(found) > 1:
            self.doubts.append("the notes name several drill points and not which holes have which")
        return min(found, default=None)

    def _chamfer(self) -> Size:
        texts = [note.removeprefix("CHAMFER ").rstrip(".") for note in self.notes if note.startswith("CHAMFER ")]
        texts += [" ".join(note.lines) for note in self.leaders]
        found = [m for m in (CHAMFER.fullmatch(text) for text in texts) if m and m[2] == EDGES]
        if not found:
            if not any(note.startswith("BREAK SHARP EDGES") for note in self.notes):
                self.doubts.append("nothing is said about the edges")
            return NOTHING
        if len(found) > 1:
            self.doubts.append("the chamfer is written twice")
        return self.figures.size(found[0][1])

    # Body

    def _body(self) -> tuple[str, Loop]:
        """The side on which the profile is seen, and the profile as drawn there."""
        right = self.views.get("right")
        if right is not None and ("top" not in self.views or not _is_box(right.border())):
            return "right", right.border()
        if "top" not in self.views:
            raise UnreadableError("no view shows the outline")
        return "top", self.views["top"].border()

    def _same_boxes(self) -> None:
        """All views show the piece equally large, and those beside each other stand in line."""
        for axis in range(3):
            found = {}
            for view in self.views.values():
                for number, (own, _) in enumerate(AXES[view.side]):
                    if own == axis:
                        found[view.side] = view.box[number + 2] - view.box[number]
            if max(found.values()) - min(found.values()) > SAME:
                self.doubts.append(f"views are unlike along {NAMES[axis]}: {found}")

    def _drawn_out(self, side: str) -> tuple[int, int]:
        """From where to where the profile is drawn out: the ends, or for a plan where the front is as long as all."""
        front = self.views["front"]
        if side == "right":
            return self.places.at(0, 0.0), self.places.at(0, front.box[2] - front.box[0])
        low, high = _full_width(front)
        stands_out = {one.side for note in self.leaders for one in [self._view_at(note.tip)] if one is not None
                      and note.lines[0].endswith(" HIGH")}  # fmt: skip
        low = low if "bottom" in stands_out else front.box[1]
        high = high if "top" in stands_out else front.box[3]
        return self.places.at(2, low - front.box[1]), self.places.at(2, high - front.box[1])

    def _centre_lines(self) -> None:
        """A long centre line through the middle of all says that what lies about it does so evenly."""
        corner = ZERO_CORNER in " ".join(self.notes)
        for view in (one for one in self.views.values() if not corner or one.side == "right"):  # else axes of grooves
            for number, (axis, _) in enumerate(AXES[view.side]):
                long = view.box[number + 2] - view.box[number]
                for at in view.lines_across(axis):
                    if abs(at - long / 2.0) < 0.02:
                        middle = self.places.at(axis, at)
                        if middle not in self.places.middles[axis]:
                            self.places.middles[axis].append(middle)
                            self.places.halfway(self.places.at(axis, 0.0), middle, self.places.at(axis, long))

    def _zeros(self) -> tuple[int, int, int]:
        """What X, Y and Z are counted from; heights from the bottom face."""
        low = [self.places.at(axis, 0.0) for axis in range(2)]
        note = " ".join(self.notes)
        if ZERO_CENTRE in note:
            for axis in range(2):
                at = self._axis_at(axis)
                if at is not None:
                    low[axis] = self.places.at(axis, at)
        elif ZERO_CORNER not in note and any(True for _ in _tables(self.sheets)):
            self.doubts.append("no note says what X and Y are measured from")
        bottom = self._bottom()
        for zero in (*low, bottom):
            self.places.fix(zero)
        return low[0], low[1], bottom

    def _bottom(self) -> int:
        if "top" in self.views and self._body()[0] == "top":
            return self._drawn_out("top")[0]
        return self.places.at(2, 0.0)

    def _axis_at(self, axis: int) -> float | None:
        """Where the axis that is named by the other letter stands: X is counted from where the axis Y is drawn."""
        for side in ("top", "bottom", "front", "right"):
            view = self.views.get(side)
            if view is None or axis not in [own for own, _ in AXES[side]]:
                continue
            lines = view.lines_across(axis)
            number = [own for own, _ in AXES[side]].index(axis)
            letters = [w for w in self.sheets[0].marks.words if w.text == NAMES[1 - axis]
                       and from_box(w.middle, view.box) < 14.0]  # fmt: skip
            named = [at for at in lines for w in letters if abs(view.place(axis, w.middle) - at) < 1.5]
            if named or (side not in ("top", "bottom") and lines):
                long = view.box[number + 2] - view.box[number]
                return min(named or lines, key=lambda at: abs(at - long / 2.0))
        return None

    # Features

    def _find_features(self) -> None:
        for note in self.leaders:
            said = shaped.feature(note.lines, self.figures)
            view = self._view_at(note.tip)
            if said is None or view is None:
                continue
            self.used.add(note)
            first = self._pointed_at(view, note.tip, round_one=said.diameter is not None)
            if first is None:
                self.doubts.append(f"the note {note.lines[0]} points at no closed line")
                continue
            alike = [loop for loop in self._inner_loops(view) if _alike(loop, first)] or [first]
            if len(alike) != said.count:
                self.doubts.append(f"{note.lines[0]}: there are {len(alike)} alike")
            if self._points_of(said.name) is not None:
                self.features.append((said, view, None))
                continue
            for loop in alike:
                profile = self.places.profile(view, loop, f"{said.name} {len(self.features) + 1}")
                self._middle_of(view, profile)
                self.features.append((said, view, profile))
                self._corner_sizes(said, profile)

    def _view_at(self, point: Point) -> Elevation | None:
        return next((view for view in self.views.values() if from_box(point, view.box) < TIP), None)

    def _inner_loops(self, view: Elevation) -> list[Loop]:
        return [loop for loop in view.loops() if area(loop) > 0.0]

    def _pointed_at(self, view: Elevation, tip: Point, *, round_one: bool) -> Loop | None:
        """The nearest closed line to a point, the smaller one of two; a round one where a diameter is written."""
        inner = [loop for loop in self._inner_loops(view) if is_round(loop) or not round_one]
        gaps = [(min(stroke.from_point(tip) for stroke in loop), loop) for loop in inner]
        nearest = min((gap for gap, _ in gaps), default=TIP)
        found = [loop for gap, loop in gaps if gap < min(TIP, nearest + 0.02)]
        return min(found, key=area, default=None)

    def _middle_of(self, view: Elevation, profile: Profile) -> None:
        """The middle of a feature, where it does not run from edge to edge."""
        for number, (axis, _) in enumerate(AXES[view.side]):
            low, high = profile.low[number], profile.high[number]
            a, b = self.places.drawn(low), self.places.drawn(high)
            long = view.box[number + 2] - view.box[number]
            if a > SAME and b < long - SAME:
                whose = f"the middle of feature {len(self.features) + 1}"
                self.places.halfway(low, self.places.at(axis, (a + b) / 2.0, whose), high)

    def _corner_sizes(self, said: shaped.Said, profile: Profile) -> None:
        if said.diameter is not None:
            self._radius(profile.corners[0].radius, said.diameter, 2.0, said.name)
        if said.radius is not None:
            arcs = {corner.radius for corner in profile.corners if corner.radius is not None}
            if len(arcs) != said.corners:
                self.doubts.append(f"{said.name} has {len(arcs)} round corners, {said.corners} are written")
            for radius in arcs - {min(arcs)}:
                self.places.equations.hold([radius, min(arcs)], lambda v: v[0] - v[1])
            self._radius(min(arcs), said.radius, 1.0, said.name)

    def _radius(self, radius: int | None, size: Size, times: float, text: str) -> None:
        if radius is None:
            self.doubts.append(f"{text} is not round")
            return
        self.places.equations.hold([radius], lambda v: times * v[0] - size.value, f"{text} {size.value:g}", size.off)

    def _notches(self, border: Loop) -> None:
        """What is cut into the front or the back all along shows as a notch of the section: its depth is the note's."""
        end = self.views["right"]
        low, high = self.places.at(1, 0.0), self.places.at(1, end.box[2] - end.box[0])
        for said, view, profile in list(self.features):
            sides = [view.side, *([OPPOSITE.get(view.side)] if said.both else [])]
            if profile is None or said.deep is None:
                continue
            levels = [self.places.drawn(number) for number in (profile.low[1], profile.high[1])]
            for stroke in border:
                heights = sorted(end.place(2, at) for at in (stroke.start, stroke.end))
                if all(abs(a - b) < SAME for a, b in zip(heights, levels, strict=True)):
                    floor = self.places.at(1, end.place(1, stroke.middle))
                    self.places.main.update(self.places.at(2, at) for at in heights)
                    for side, (a, b) in (("front", (low, floor)), ("back", (floor, high))):
                        near = abs(self.places.drawn(a) - self.places.drawn(b)) < (end.box[2] - end.box[0]) / 2.0
                        if side in sides and near:
                            self.places.apart(a, b, said.deep, "")
                            self.notched.add(id(profile))

    # Figures on leaders

    def _notes_of_sizes(self) -> None:
        """Radii, broken corners and bores."""
        for note in self.leaders:
            view = self._view_at(note.tip)
            if view is None or note in self.used:
                continue
            text = one_unit(note.lines[0])
            if m := shaped.RADIUS.fullmatch(text):
                self._radii(note, view, self.figures.size(m["size"]), int(m["count"] or 1))
            elif m := shaped.BROKEN.fullmatch(text):
                self._broken(note, view, self.figures.size(m["size"]), int(m["count"] or 1))
            elif re.fullmatch(rf"⌀{FIGURE}", text):
                self._bore(note, view, self.figures.size(text[1:]))
            elif shaped.AUXILIARY.fullmatch(text) or shaped.CIRCLE.fullmatch(text):
                self.used.add(note)

    def _radii(self, note: Note, view: Elevation, size: Size, count: int) -> None:
        own = [(stroke, number) for side, stroke, number in self.places.radii if side == view.side]
        first = min(own, key=lambda one: one[0].from_point(note.tip), default=None)
        if first is None or first[0].from_point(note.tip) > TIP:
            self.doubts.append(f"{note.lines[0]} points at no arc")
            return
        alike = [number for stroke, number in own if abs(stroke.radius - first[0].radius) < 0.02]
        if len(alike) != count:
            self.doubts.append(f"{note.lines[0]}: there are {len(alike)} alike")
        self._radius(first[1], size, 1.0, note.lines[0])
        for number in alike:
            if number != first[1]:
                self.places.equations.hold([number, first[1]], lambda v: v[0] - v[1])
        self.used.add(note)

    def _broken(self, note: Note, view: Elevation, size: Size, count: int) -> None:
        """Legs of corners that are broken at 45 degrees."""
        slopes = [stroke for stroke in view.border() if _slopes(stroke)]
        first = min(slopes, key=lambda stroke: stroke.from_point(note.tip), default=None)
        if first is None or first.from_point(note.tip) > TIP:
            self.doubts.append(f"{note.lines[0]} points at no broken corner")
            return
        alike = [
            stroke for stroke in slopes if abs(away(stroke.start, stroke.end) - away(first.start, first.end)) < 0.02
        ]
        if len(alike) != count:
            self.doubts.append(f"{note.lines[0]}: there are {len(alike)} alike")
        text = note.lines[0]
        for stroke in alike:
            for axis, _ in AXES[view.side]:
                a, b = sorted((view.place(axis, stroke.start), view.place(axis, stroke.end)))
                self.places.apart(self.places.at(axis, a), self.places.at(axis, b), size, text)
                text = ""  # the others are as the first
        self.used.add(note)

    def _bore(self, note: Note, view: Elevation, size: Size) -> None:
        """A bore that has its diameter alone goes through."""
        loop = self._pointed_at(view, note.tip, round_one=True)
        if loop is None:
            self.doubts.append(f"{note.lines[0]} points at no circle")
            return
        profile = self.places.profile(view, loop, "BORE")
        self._middle_of(view, profile)
        said = shaped.Said("BORE", 1, size, None, None, False, None, 0)
        self.features.append((said, view, profile))
        self._corner_sizes(said, profile)
        self.used.add(note)

    def _bolt_circles(self) -> list[tuple[float, Spot]]:
        """Diameter and centre of the circles that notes call bolt circles."""
        found = []
        for note in self.leaders:
            m, view = shaped.CIRCLE.fullmatch(one_unit(note.lines[0])), self._view_at(note.tip)
            if m is None or view is None:
                continue
            rims = [one for one in view.centres if one.centre is not None]
            rim = min(rims, key=lambda one: one.from_point(note.tip), default=None)
            if rim is None or rim.centre is None or rim.from_point(note.tip) > TIP:
                self.doubts.append(f"{note.lines[0]} points at no circle of centre lines")
                continue
            spot = tuple(self.places.at(axis, view.place(axis, rim.centre)) for axis, _ in AXES[view.side])
            self.places.main.update(spot)
            found.append((self.figures.size(m["size"]).value, (spot[0], spot[1])))
        return found

    def _centre_of(self, spot: Spot) -> tuple[Size, Size]:
        return self.places.size(spot[0]), self.places.size(spot[1])

    # Dimensions

    def _dimension(self, marks: Marks) -> None:
        if len(marks.arrows) == 1:
            return  # a leader's
        text = one_unit(" ".join(words.text for words in marks.words))
        if marks.rings:
            self._angle(marks, text)
            return
        if m := PITCHES.fullmatch(text):
            self._steps(marks, text, int(m[1]), self.figures.size(m[2]), self.figures.size(m[3]))
            return
        written = shaped.distance(text, self.figures)
        spot = self._spanned(marks, text)
        if spot is None:
            return
        view, number, low, high = spot
        axis = AXES[view.side][number][0]
        ends = self._ends(axis, low, high)
        if ends is None:
            self.doubts.append(f"{text} points at nothing along {NAMES[axis]}")
        elif not written.known:
            if any(own == axis and abs(a - low) < SAME and abs(b - high) < SAME for own, a, b in self.measured):
                self.doubts.append(f"{text} is written twice")
            self.measured.append((axis, low, high))
            self._hold_distance(view, number, ends, written, text)

    def _spanned(self, marks: Marks, text: str) -> tuple[Elevation, int, float, float] | None:
        """The view a dimension stands at, along which of its axes, from where to where as drawn."""
        tips = sorted(_tip(arrow) for arrow in marks.arrows)
        if len(tips) != 2:
            raise UnreadableError(f"dimension {text} has {len(tips)} arrows")
        number = 1 if abs(tips[0][0] - tips[1][0]) < SAME else 0
        view = self._measured_view(marks, tips, number)
        if view is None:
            self.doubts.append(f"{text} stands at no view")
            return None
        axis = AXES[view.side][number][0]
        low, high = sorted(view.place(axis, tip) for tip in tips)
        return view, number, low, high

    def _steps(self, marks: Marks, text: str, count: int, step: Size, whole: Size) -> None:
        """Equal steps from one place to another; what the whole says in brackets follows."""
        if abs(count * step.value - whole.value) > count * step.off + whole.off:
            self.doubts.append(f"{text}: the steps do not make the whole")
        spot = self._spanned(marks, text)
        if spot is None:
            return
        view, number, low, high = spot
        axis = AXES[view.side][number][0]
        stops = [self.places.find(axis, low + (high - low) * n / count) for n in range(count + 1)]
        if not all(stops):
            self.doubts.append(f"{text} does not meet as many places as it says")
            return
        off = whole.off / count  # the steps are equal, and the whole is no farther off than its own figure
        for n, (a, b) in enumerate(pairwise(stops)):
            self.places.apart(a[0].number, b[0].number, Size(step.value, off), text if n == 0 else f"{text} ({n + 1})")

    def _ends(self, axis: int, low: float, high: float) -> tuple[int, int] | None:
        """The unknowns at both ends: of one thing if there is one, else of the piece itself before a feature's."""
        first, last = (sorted(self.places.find(axis, at), key=lambda one: one.whose) for at in (low, high))
        if not first or not last:
            return None
        one = next(((a, b) for a in first for b in last if a.whose == b.whose), (first[0], last[0]))
        return one[0].number, one[1].number

    def _hold_distance(
        self, view: Elevation, number: int, ends: tuple[int, int], written: shaped.Distance, text: str
    ) -> None:
        axis = AXES[view.side][number][0]
        spans = [ends]
        own = [profile for _, seen, profile in self.features if seen is view and profile is not None]
        measured = next((p for p in own if (p.low[number], p.high[number]) == ends), None)
        if written.count > 1 and measured is not None:
            spans = list({(p.low[number], p.high[number]): None for p in own if _alike(p.loop, measured.loop)})
            spans = [span for n, span in enumerate(spans) if span not in spans[:n]]
        for n, (low, high) in enumerate(spans):
            self.places.apart(low, high, written.size, text if len(spans) == 1 else f"{text} ({n + 1})")
            self._even(axis, low, high)

    def _even(self, axis: int, low: int, high: int) -> None:
        """A distance about a centre line lies evenly about it."""
        for middle in self.places.middles[axis]:
            about = self.places.drawn(low) + self.places.drawn(high) - 2.0 * self.places.drawn(middle)
            equation = {low, high, middle}
            there = any({*one.among} == equation and not one.text for one in self.places.equations.all)
            if abs(about) < 0.02 and not there:
                self.places.halfway(low, middle, high)

    def _measured_view(self, marks: Marks, tips: Sequence[Point], number: int) -> Elevation | None:
        """The view at which the extension lines start."""
        found = []
        for view in self.views.values():
            box = view.box
            if all(box[number] - SAME < tip[number] < box[number + 2] + SAME for tip in tips):
                feet = [min(from_box(end, box) for end in _extension(marks, tip, number)) for tip in tips]
                found.append((sum(feet), view.side))
        return self.views[min(found)[1]] if found and min(found)[0] < 40.0 else None

    def _angle(self, marks: Marks, text: str) -> None:
        """An angle between two edges that run toward the middle of its arc."""
        ring, size = marks.rings[0], shaped.angle(text)
        view = self._view_at(ring.centre)
        if size is None or view is None:
            self.doubts.append(f"{text} is no angle of a view")
            return
        flanks = [self._flank(view, ring.centre, way) for way in (ring.start, ring.end)]
        if None in flanks:
            self.doubts.append(f"{text} lies between no two edges")
            return
        numbers = [number for flank in flanks if flank is not None for number in flank]
        value = radians(size.value)

        def off(v: Sequence[float]) -> float:
            ways = [atan2(v[n + 3] - v[n + 1], v[n + 2] - v[n]) for n in (0, 4)]
            turn = ways[1] - ways[0] - value
            return atan2(sin(turn), cos(turn))

        self.places.equations.hold(numbers, off, text, radians(size.off))

    def _flank(self, view: Elevation, centre: Point, way: float) -> list[int] | None:
        """An edge in a direction from a point, as the unknowns of its nearer and its farther end."""
        for stroke in view.border():
            if stroke.centre is None:
                near, far = sorted((stroke.start, stroke.end), key=lambda end: away(end, centre))
                turn = degrees(atan2(far[1] - centre[1], far[0] - centre[0])) - way
                line = degrees(atan2(far[1] - near[1], far[0] - near[0])) - way
                if all(abs((t + 180.0) % 360.0 - 180.0) < 0.1 for t in (turn, line)):
                    axes = [axis for axis, _ in AXES[view.side]]
                    return [self.places.at(axis, view.place(axis, end)) for end in (near, far) for axis in axes]
        return None

    # What comes out

    def _points_of(self, name: str) -> PointTable | None:
        return next((one for one in self.points if one.name == name), None)

    def _reach_of(self, table: PointTable, view: Elevation, zeros: Sequence[int]) -> None:
        """An outline that goes by points ends where they, and the arcs between them, do."""
        for number, (axis, _) in enumerate(AXES[view.side]):
            long = view.box[number + 2] - view.box[number]
            for drawn, end in zip((0.0, long), table.reach(number), strict=True):
                there = self.places.at(axis, drawn)
                if there != zeros[axis]:
                    self.places.apart(zeros[axis], there, end, "")
                elif abs(end.value) > end.off + 1e-9:
                    self.doubts.append(f"the points of the outline start at {end.value:.4f} mm along {NAMES[axis]}")

    def _edges(self, profile: Profile | None, table: PointTable | None) -> tuple[Edge, ...]:
        if profile is None or table is not None:
            sides = () if table is None else table.sides
            return tuple(Edge(one.start, one.end, one.centre, one.radius, one.outward) for one in sides)
        found = []
        for corner in profile.corners:
            start, end = self._centre_of(corner.start), self._centre_of(corner.end)
            centre = None if corner.centre is None else self._centre_of(corner.centre)
            radius = None if corner.radius is None else self.places.size(corner.radius)
            found.append(Edge(start, end, centre, radius, corner.outward))
        return tuple(found)

    def _feature(self, said: shaped.Said, view: Elevation, profile: Profile | None) -> Iterator[Feature]:
        if id(profile) in self.notched:
            return  # the section has it already
        edges = self._edges(profile, self._points_of(said.name))
        yield Feature(view.side, edges, said.high, said.deep)
        if said.both:
            yield Feature(OPPOSITE[view.side], edges, said.high, said.deep)


def _tables(sheets: Sequence[Paper]) -> Iterator[str]:
    return (words.text for sheet in sheets for words in sheet.marks.words if words.text == "TAG")


def _is_box(loop: Loop) -> bool:
    """Whether it is four sides, its corners sharp or broken."""
    x0, y0, x1, y1 = box_of(loop)
    ends = [end for stroke in loop if not _slopes(stroke) for end in (stroke.start, stroke.end)]
    return len(loop) in (4, 8) and all(min(x - x0, x1 - x, y - y0, y1 - y) < 0.02 for x, y in ends)


def _alike(a: Loop, b: Loop) -> bool:
    boxes = [box_of(loop) for loop in (a, b)]
    sizes = [(box[2] - box[0], box[3] - box[1], abs(area(loop))) for box, loop in zip(boxes, (a, b), strict=True)]
    return all(abs(p - q) < 0.02 * (1.0 + 0.01 * q) for p, q in zip(*sizes, strict=True)) and len(a) == len(b)


def _slopes(stroke: Stroke) -> bool:
    dx, dy = abs(stroke.end[0] - stroke.start[0]), abs(stroke.end[1] - stroke.start[1])
    return stroke.centre is None and dx > 0.01 and abs(dx - dy) < 0.01


def _full_width(front: Elevation) -> tuple[float, float]:
    """The lowest and the highest level at which the front is as wide as all of it; broken rims belong to it."""
    border = front.border()
    x0, _, x1, _ = box_of(border)
    levels = sorted({round(end[1], 4) for stroke in border for end in (stroke.start, stroke.end)})
    bands = [(a, b) for a, b in pairwise(levels) if b - a > 0.02]
    wide = [(a, b, _crossings(border, (a + b) / 2.0)) for a, b in bands]
    full = [(a, b) for a, b, at in wide if at and min(at) < x0 + 0.02 and max(at) > x1 - 0.02]
    if not full:
        raise UnreadableError("the front is nowhere as wide as it is")
    low, high = full[0][0], full[-1][1]
    slopes = [sorted((stroke.start[1], stroke.end[1])) for stroke in border if _slopes(stroke)]
    for a, b in (band for band in bands if any(s[0] < band[0] + 0.02 and s[1] > band[1] - 0.02 for s in slopes)):
        if abs(b - low) < 0.02:
            low = a
        elif abs(a - high) < 0.02:
            high = b
    return low, high


def _crossings(border: Loop, level: float) -> list[float]:
    found = []
    for stroke in border:
        (ax, ay), (bx, by) = stroke.start, stroke.end
        if min(ay, by) < level < max(ay, by):
            found.append(ax + (bx - ax) * (level - ay) / (by - ay))
    return found


def _tip(arrow: tuple[Point, Point, Point]) -> Point:
    return max(arrow, key=lambda corner: sum(away(corner, other) for other in arrow))


def _extension(marks: Marks, tip: Point, number: int) -> list[Point]:
    """Ends of the extension line through the point of an arrow, and that point."""
    lines = [path.points for path in marks.paths if not path.closed
             and all(abs(point[number] - tip[number]) < SAME for point in path.points)]  # fmt: skip
    return [tip, *(point for points in lines for point in points)]
