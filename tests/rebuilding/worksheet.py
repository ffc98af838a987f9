"""What is known of a piece while its sheets are read: views, notes, unknown places, and what is in doubt."""

from __future__ import annotations

import re

from tests.rebuilding import shaped
from tests.rebuilding.bar_reading import notes_of
from tests.rebuilding.elevations import AXES, Elevation, elevations
from tests.rebuilding.leaders import Note, leader_notes
from tests.rebuilding.paper import Paper, Point, from_box
from tests.rebuilding.places import Places, Profile, Spot
from tests.rebuilding.points import PointTable, point_tables
from tests.rebuilding.strokes import Loop, area, is_round
from tests.rebuilding.wording import Figures, Size, UnreadableError

SAME = 0.05
TIP = 0.15
"""The point of an arrow is no farther from what it points at, mm on paper."""


class Worksheet:
    """One piece; the first of its sheets has the views.

    Attributes:
        notes: the general ones.
        leaders: notes on leaders; those in `used` are understood.
        places: the unknown places.
        features: what notes name, with the view and the line there; nothing where a table has its points.
        notched: features, by their line's id, that the section shows already.
        measured: what dimensions have been taken in, by axis, from where to where as drawn.
        doubts: what is missing, written twice, or can be read in two ways.
    """

    def __init__(self, sheets: list[Paper]) -> None:
        """Look at the sheets. Errors: UnreadableError where they can't be read at all."""
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

    def _inch(self) -> bool:
        note = " ".join(self.notes)
        inch, metric = "DIMENSIONS IN INCHES" in note, bool(re.search("DIMENSIONS IN MILLIMET(RE|ER)S", note))
        if inch == metric:
            raise UnreadableError("the notes do not say whether figures are inches or millimetres")
        return inch

    @property
    def note(self) -> str:
        """All general notes in one line."""
        return " ".join(self.notes)

    def view_at(self, point: Point) -> Elevation | None:
        """The view at a place on paper."""
        return next((view for view in self.views.values() if from_box(point, view.box) < TIP), None)

    def inner_loops(self, view: Elevation) -> list[Loop]:
        """The closed lines of a view."""
        return [loop for loop in view.loops() if area(loop) > 0.0]

    def pointed_at(self, view: Elevation, tip: Point, *, round_one: bool) -> Loop | None:
        """The nearest closed line to a point, the smaller one of two; a round one where a diameter is written."""
        inner = [loop for loop in self.inner_loops(view) if is_round(loop) or not round_one]
        gaps = [(min(stroke.from_point(tip) for stroke in loop), loop) for loop in inner]
        nearest = min((gap for gap, _ in gaps), default=TIP)
        found = [loop for gap, loop in gaps if gap < min(TIP, nearest + 0.02)]
        return min(found, key=area, default=None)

    def middle_of(self, view: Elevation, profile: Profile) -> None:
        """The middle of a feature, where it does not run from edge to edge."""
        for number, (axis, _) in enumerate(AXES[view.side]):
            low, high = profile.low[number], profile.high[number]
            a, b = self.places.drawn(low), self.places.drawn(high)
            long = view.box[number + 2] - view.box[number]
            if a > SAME and b < long - SAME:
                whose = f"the middle of feature {len(self.features) + 1}"
                self.places.halfway(low, self.places.at(axis, (a + b) / 2.0, whose), high)

    def radius(self, radius: int | None, size: Size, times: float, text: str) -> None:
        """A figure says a radius, or twice it."""
        if radius is None:
            self.doubts.append(f"{text} is not round")
            return
        self.places.equations.hold([radius], lambda v: times * v[0] - size.value, f"{text} {size.value:g}", size.off)

    def points_of(self, name: str) -> PointTable | None:
        """The table of an outline's points, by what it is the outline of."""
        return next((one for one in self.points if one.name == name), None)

    def centre_of(self, spot: Spot) -> tuple[Size, Size]:
        """A point of a view as worked out."""
        return self.places.size(spot[0]), self.places.size(spot[1])
