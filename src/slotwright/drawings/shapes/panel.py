"""One view with everything that is written to it: dimensions, notes and tags find their places one after another.

A panel stands alone with its view's origin at paper (0, 0); nothing reaches out of its box, so that panels are laid
out as wholes. Places are tried from near to far; the first where nothing is touched or crossed is taken.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from math import cos, degrees, hypot, radians, sin

from slotwright.drawings import lettering
from slotwright.drawings.dimensioning import Side, arrow, line, linear
from slotwright.drawings.placing import Box, Register, circle_box, marks_box, points_box, text_box
from slotwright.drawings.sheet import (
    Anchor,
    Arc,
    Circle,
    Dimension,
    DimensionKind,
    Fill,
    Line,
    Mark,
    Point,
    Stroke,
    Text,
    View,
    on_paper,
)
from slotwright.drawings.style import Style
from slotwright.drawings.symbols import leader
from slotwright.pieces.faces import Face

SMALL_CIRCLE = 12.0  # radius up to which a leader does not run over a hole, mm on paper; our choice
STEP = 2.0  # between the places tried for a dimension line, mm
NEAR, FARTHEST = 26, 70  # places tried on the better side before the other one, and in all
ROUND_NOTE = (45.0, 135.0, -45.0, -135.0, 60.0, 120.0, -60.0, -120.0, 30.0, 150.0, -30.0, -150.0, 75.0, 105.0, -75.0,
              -105.0, 15.0, 165.0, -15.0, -165.0)  # fmt: skip
LENGTHS = (8.0, 11.0, 15.0, 20.0, 26.0, 33.0, 41.0, 50.0, 62.0, 76.0, 92.0, 110.0)


@dataclass(frozen=True, slots=True)
class Wish:
    """A distance that is to be dimensioned beside a view.

    Attributes:
        upright: measured along the view's v, else along its u.
        low, high: from where to where, model.
        low_span, high_span: for each end, from where to where the feature reaches across, model.
        side: where it would best stand.
        text: "<>" stands for the value.
        places: decimals, None for the style's.
    """

    upright: bool
    low: float
    high: float
    low_span: tuple[float, float]
    high_span: tuple[float, float]
    side: Side
    text: str = "<>"
    places: int | None = None


@dataclass(slots=True)
class Panel:
    """A view that is being filled.

    Attributes:
        face: the face one looks at.
        view: geometry and dimensions.
        style: how it is written.
        core: box of the geometry on paper.
        notes: marks that belong to the paper.
        crowded: something found no free place.
        room: the view shows features of its own, so that it may not be left out.
    """

    face: Face
    view: View
    style: Style
    core: Box = field(init=False)
    dimensions: list[Dimension] = field(default_factory=list)
    notes: list[Mark] = field(default_factory=list)
    crowded: bool = False
    register: Register = field(default_factory=Register)
    _texts: list[Box] = field(default_factory=list)
    _lettered: list[tuple[Box, bool]] = field(default_factory=list)
    _lines: list[tuple[Point, Point]] = field(default_factory=list)
    _measured: list[tuple[Point, Point]] = field(default_factory=list)
    _waiting: list[Callable[[], None]] = field(default_factory=list)

    def __post_init__(self) -> None:
        shown = list(on_paper(self.view))
        self.register.add(shown)
        solid = [mark for mark in shown if mark.line in (Line.OUTLINE, Line.HIDDEN)]
        self.core = _box(solid)

    @property
    def box(self) -> Box:
        """Box around all of it on paper."""
        marks = [*on_paper(self.view), *self.notes, *(m for d in self.dimensions for m in d.marks)]
        return marks_box(_tight(marks))

    # Taking

    def take(self, dimension: Dimension) -> None:
        """Put a dimension where it stands."""
        self.dimensions.append(dimension)
        self.register.add(dimension.marks)
        for mark in dimension.marks:
            if isinstance(mark, Text):
                self._take_text(mark)
            elif isinstance(mark, Stroke):
                parts = list(zip(mark.points, mark.points[1:], strict=False))
                along = dimension.kind is DimensionKind.LINEAR and _is_along(mark, dimension.direction)
                (self._measured if along else self._lines).extend(parts)
            elif isinstance(mark, Arc):
                self._measured.extend(_chords(mark))

    def _take_text(self, text: Text) -> None:
        self._texts.append(text_box(text))
        self._lettered.append((text_box(text), text.line is Line.DIMENSION))

    def note(self, marks: Iterable[Mark]) -> None:
        """Put marks where they stand."""
        kept = list(marks)
        self.notes += kept
        self.register.add(kept)
        for mark in kept:
            if isinstance(mark, Text):
                self._take_text(mark)
            elif isinstance(mark, Stroke) and mark.line is Line.DIMENSION:
                self._lines += list(zip(mark.points, mark.points[1:], strict=False))

    def keep_texts_clear(self, by: float) -> None:
        """Keep later notes off the texts that stand already."""
        for box in self._texts:
            self.register.add_box(box.grown(by))

    # Distances

    def distances(self, wishes: Iterable[Wish]) -> None:
        """Place distances, the shortest nearest to the view."""
        for wish in sorted(wishes, key=lambda w: (w.high - w.low, w.upright, w.low)):
            tries = [(clear, one) for clear in (self.style.text, 1.0) for one in self._tries(wish)]
            for clear, one in tries:
                if self._clean(one, clear):
                    self.take(one)
                    break
            else:
                self.crowded = True
                self.take(tries[0][1])

    def _tries(self, wish: Wish) -> Iterator[Dimension]:
        flipped = {Side.TOP: Side.BOTTOM, Side.BOTTOM: Side.TOP, Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT}
        near, far = range(NEAR), range(NEAR, FARTHEST)
        for side, steps in ((wish.side, near), (flipped[wish.side], near), (wish.side, far), (flipped[wish.side], far)):
            for step in steps:
                out = self.style.first_offset + step * STEP
                yield self._linear(wish, side, out, True)
                yield self._linear(wish, side, out, False)

    def _linear(self, wish: Wish, side: Side, out: float, up: bool) -> Dimension:
        edge = {Side.TOP: self.core.y1, Side.BOTTOM: self.core.y0, Side.LEFT: self.core.x0, Side.RIGHT: self.core.x1}
        at = edge[side] + side.sign * out
        nearest = 1 if side.sign > 0.0 else 0
        a, b = wish.low_span[nearest], wish.high_span[nearest]
        ends = ((a, wish.low), (b, wish.high)) if wish.upright else ((wish.low, a), (wish.high, b))
        return linear(
            self.view, *ends, at, self.style, text=wish.text, places=wish.places, upright=wish.upright, overflow_up=up
        )

    def _clean(self, dimension: Dimension, clear: float) -> bool:
        """Say whether a dimension touches and crosses nothing."""
        for mark in dimension.marks:
            if isinstance(mark, Text) and not self.register.free(text_box(mark).grown(clear)):
                return False
            if isinstance(mark, Fill) and any(box.grown(clear).meets(points_box(mark.points)) for box in self._texts):
                return False
        for mark in dimension.marks:
            if not isinstance(mark, Stroke):
                continue
            a, b = mark.points[0], mark.points[-1]
            if _is_along(mark, dimension.direction):
                beside = points_box((a, b)).grown(self.style.next_offset - 1.0)
                if any(beside.cut_by(*other) and _level(other, (a, b)) for other in self._measured):
                    return False
                if any(_cross(a, b, *other) for other in (*self._measured, *self._lines)):
                    return False
            elif any(_cross(a, b, *other) for other in self._measured):
                return False
            if any(box.grown(clear if strict else 1.0).cut_by(a, b) for box, strict in self._lettered):
                return False
        return True

    # Notes on leaders

    def pointed(self, tips: Sequence[Point], words: Sequence[str]) -> None:
        """Note words with a leader to one of some points of the model; placed by `write_notes`."""
        self._waiting.append(lambda: self._pointed(tips, words))

    def diameter(self, centre: Point, radius: float, text: str, places: int | None = None) -> None:
        """Note a diameter with a leader; placed by `write_notes`."""
        arcs = [(centre, radius, 0.0, 360.0)]
        self._waiting.append(lambda: self._round(DimensionKind.DIAMETER, arcs, text, places))

    def radius(self, arcs: Sequence[tuple[Point, float, float, float]], text: str, places: int | None = None) -> None:
        """Note a radius with a leader to one of some arcs: centre, radius, from, to in degrees."""
        self._waiting.append(lambda: self._round(DimensionKind.RADIUS, arcs, text, places))

    def write_notes(self) -> None:
        """Place the notes that wait; they find their way round the distances, which have less choice."""
        for place in self._waiting:
            place()
        self._waiting.clear()

    def _pointed(self, tips: Sequence[Point], words: Sequence[str]) -> None:
        for tip, elbow, left in self._spots([(self.view.to_paper(t), None) for t in tips], words):
            self.note(leader(tip, elbow, words, self.style, to_left=left))
            return

    def _round(
        self, kind: DimensionKind, arcs: Sequence[tuple[Point, float, float, float]], text: str, places: int | None
    ) -> None:
        style = self.style
        shown = style.places if places is None else places
        r = arcs[0][1]
        value = 2.0 * r if kind is DimensionKind.DIAMETER else r
        written = text.replace("<>", style.number(value, shown))
        spots: list[tuple[Point, float | None]] = []
        by_tip: dict[Point, tuple[Point, Point]] = {}
        for middle, radius, start, end in arcs:
            for way in ROUND_NOTE:
                turn = start + (way - start) % 360.0
                if not start < turn < end:
                    continue
                near = (middle[0] + radius * cos(radians(way)), middle[1] + radius * sin(radians(way)))
                tip = self.view.to_paper(near)
                spots.append((tip, way))
                by_tip[tip] = (middle, near)
        if not spots:
            middle, radius, start, end = arcs[0]
            way = (start + end) / 2.0
            near = (middle[0] + radius * cos(radians(way)), middle[1] + radius * sin(radians(way)))
            spots, by_tip = [(self.view.to_paper(near), way)], {self.view.to_paper(near): (middle, near)}
        for tip, elbow, left in self._spots(spots, (written,)):
            marks = leader(tip, elbow, (written,), style, to_left=left)
            middle, near = by_tip[tip]
            words = next(mark for mark in marks if isinstance(mark, Text))
            box = text_box(words)
            self.take(
                Dimension(
                    kind=kind,
                    points=(middle, near),
                    value=value,
                    text=text,
                    text_at=self.view.to_model(((box.x0 + box.x1) / 2.0, words.at[1])),
                    places=shown,
                    marks=marks,
                )
            )
            return

    def _spots(
        self, tips: Sequence[tuple[Point, float | None]], words: Sequence[str]
    ) -> Iterator[tuple[Point, Point, bool]]:
        """Yield the best free place of a note: tip, elbow, and whether its text stands to the left."""
        style = self.style
        wide = max(lettering.width(word, style.text) for word in words)
        for clear in (style.text, 1.2):
            for length in LENGTHS:
                for tip, own in tips:
                    for way in ROUND_NOTE if own is None else (own, own + 180.0):
                        c, s = cos(radians(way)), sin(radians(way))
                        elbow = (tip[0] + length * c, tip[1] + length * s)
                        left = c < 0.0
                        x = elbow[0] + (-1.0 if left else 1.0) * (style.arrow + style.text_gap)
                        low = elbow[1] - style.text / 2.0 - 1.6 * style.text * (len(words) - 1) - 0.25 * style.text
                        box = Box(x - wide if left else x, low, x if left else x + wide, elbow[1] + style.text / 2.0)
                        if self._note_fits(tip, elbow, box, clear) and (clear < 2.0 or not self._over_hole(tip, elbow)):
                            yield tip, elbow, left
                            return
        self.crowded = True
        tip, own = tips[0]
        yield tip, (tip[0] + 12.0, tip[1] + 12.0), False

    def _over_hole(self, tip: Point, elbow: Point) -> bool:
        """Say whether a leader runs over a small circle that it does not point at."""
        for mark in self.view.marks:
            if isinstance(mark, Circle) and mark.line is Line.OUTLINE and mark.radius * self.view.scale < SMALL_CIRCLE:
                off = _from_line(self.view.to_paper(mark.centre), tip, elbow)
                if off < mark.radius * self.view.scale - 0.1:
                    return True
        return False

    def _note_fits(self, tip: Point, elbow: Point, box: Box, clear: float) -> bool:
        if not self.register.free(box.grown(clear)):
            return False
        shoulder = (box.x0 if elbow[0] < box.x0 else box.x1, elbow[1])
        for a, b in ((tip, elbow), (elbow, shoulder)):
            if any(one.grown(1.0).cut_by(a, b) for one in self._texts):
                return False
            if any(_cross(a, b, *other) for other in (*self._measured, *self._lines)):
                return False
        return True

    # Angle

    def angle(self, vertex: Point, first: Point, second: Point, value: float) -> None:
        """Place the angle of a V that opens upwards: inside it where there is room, else above it.

        Args:
            vertex: where its sides would meet.
            first, second: its lips, right and left.
            value: degrees.
        """
        style, at = self.style, self.view.to_paper(vertex)
        lip = self.view.to_paper(first)
        flank, half = hypot(lip[0] - at[0], lip[1] - at[1]), value / 2.0
        written = style.angle(value)
        wide = lettering.width(written, style.text)
        tries = [flank * share for share in (0.75, 0.6, 0.9)]
        tries += [flank + 8.0 + 2.0 * n for n in range(40)]
        for r in tries:
            for off in (0.0, 0.4 * half, -0.4 * half, 0.6 * half, -0.6 * half):
                for text_r in (r + style.text_gap + style.text / 2.0, r - style.text_gap - style.text):
                    turn = radians(90.0 - off)
                    middle = (at[0] + text_r * cos(turn), at[1] + text_r * sin(turn))
                    box = Box(
                        middle[0] - wide / 2.0, middle[1] - style.text / 2.0, middle[0] + wide / 2.0,
                        middle[1] + style.text / 2.0,
                    )  # fmt: skip
                    marks = self._angle_marks(at, r, half, middle, written, flank)
                    if self._angle_fits(marks, box):
                        self._take_angle(vertex, first, second, value, r, middle, marks)
                        return
        self.crowded = True

    def _angle_fits(self, marks: Sequence[Mark], box: Box) -> bool:
        if not self.register.free(box.grown(self.style.text)):
            return False
        for mark in marks:
            if isinstance(mark, Arc):
                if box.grown(0.8).touches_ring(mark.centre, mark.radius):
                    return False
                for a, b in _chords(mark):
                    if any(one.grown(self.style.text).cut_by(a, b) for one in self._texts):
                        return False
                    if any(_cross(a, b, *other) for other in (*self._measured, *self._lines)):
                        return False
            elif isinstance(mark, Stroke):
                a, b = mark.points[0], mark.points[-1]
                if any(_cross(a, b, *other) for other in self._measured):
                    return False
                if any(one.grown(self.style.text).cut_by(a, b) for one in self._texts):
                    return False
        return True

    def _angle_marks(
        self, at: Point, r: float, half: float, middle: Point, written: str, flank: float
    ) -> tuple[Mark, ...]:
        style = self.style
        marks: list[Mark] = [Arc(at, r, 90.0 - half, 90.0 + half, Line.DIMENSION)]
        tilt = degrees(style.arrow / (2.0 * r))  # an arrow on a curve leans by half of what it covers
        for way, out in ((90.0 - half, -90.0 + tilt), (90.0 + half, 90.0 - tilt)):
            c, s = cos(radians(way)), sin(radians(way))
            marks.append(arrow((at[0] + r * c, at[1] + r * s), radians(way + out), style))
            if r > flank:
                start, end = flank + style.extension_gap, r + style.extension_overrun
                marks.append(line((at[0] + start * c, at[1] + start * s), (at[0] + end * c, at[1] + end * s)))
        marks.append(Text(middle, written, style.text, Anchor.CENTRE, 0.0, True, Line.DIMENSION))
        return tuple(marks)

    def _take_angle(
        self, vertex: Point, first: Point, second: Point, value: float, r: float, middle: Point, marks: tuple[Mark, ...]
    ) -> None:
        at = self.view.to_paper(vertex)
        self.take(
            Dimension(
                kind=DimensionKind.ANGLE,
                points=(vertex, first, second, self.view.to_model((at[0], at[1] + r))),
                value=value,
                text="<>°",
                text_at=self.view.to_model(middle),
                places=1,
                marks=marks,
            )
        )


def _box(marks: Sequence[Mark]) -> Box:
    return marks_box(_tight(marks))


def _tight(marks: Iterable[Mark]) -> list[Mark]:
    """Put chords in place of arcs, whose boxes would be those of full circles."""
    found: list[Mark] = []
    for mark in marks:
        if isinstance(mark, Arc):
            found += [Stroke((a, b), mark.line) for a, b in _chords(mark)]
        else:
            found.append(mark)
    return found


def _chords(arc: Arc, count: int = 24) -> list[tuple[Point, Point]]:
    (x, y), r = arc.centre, arc.radius
    turns = [radians(arc.start + (arc.end - arc.start) * n / count) for n in range(count + 1)]
    points = [(x + r * cos(t), y + r * sin(t)) for t in turns]
    return list(zip(points, points[1:], strict=False))


def _is_along(mark: Stroke, direction: float) -> bool:
    (x0, y0), (x1, y1) = mark.points[0], mark.points[-1]
    c, s = cos(radians(direction)), sin(radians(direction))
    return abs((x1 - x0) * s - (y1 - y0) * c) < 1e-3


def _from_line(point: Point, a: Point, b: Point) -> float:
    """From a point to a straight piece of line."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    share = min(1.0, max(0.0, ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / square)) if square else 0.0
    return hypot(point[0] - a[0] - share * dx, point[1] - a[1] - share * dy)


def _level(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    """Say whether two lines along an axis run the same way."""
    (a, b), (c, d) = one, other
    return abs((b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0])) < 1e-6


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Say whether two straight lines cross inside both."""

    def side(p: Point, q: Point, r: Point) -> float:
        long = hypot(q[0] - p[0], q[1] - p[1]) or 1.0
        return ((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])) / long

    near = 0.05
    return (
        side(a, b, c) * side(a, b, d) < 0.0
        and side(c, d, a) * side(c, d, b) < 0.0
        and min(abs(side(a, b, c)), abs(side(a, b, d)), abs(side(c, d, a)), abs(side(c, d, b))) > near
    )
