"""A sheet as it lies on the bench: strokes, rings and words at places on paper, mm, whatever space of the file
they come from. A line's layer stands for its look; a dimension's marks know that they belong together.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from math import cos, hypot, radians, sin

from tests.rebuilding.dxf_tags import DxfFile, Entity

Point = tuple[float, float]
Box = tuple[float, float, float, float]

SIGN = re.compile(r"SIGN-([0-9A-F]{4,6})")
ASIDE = 5000.0  # farther than any sheet is long, mm
CODES = {"%%c": "⌀", "%%C": "⌀", "%%d": "°", "%%D": "°", "%%p": "±", "%%P": "±"}
SLIM = set(" .,:;'!|/()[]-1IJijlt\u00a0")  # characters that look about half as wide as high


@dataclass(frozen=True, slots=True)
class Words:
    """Words in a line: where they start on their baseline, how far they reach by eye, and how high capitals are.

    Only one place along them is sure without their font: held, from 0 at the start to 1 at the end.
    """

    text: str
    start: Point
    long: float
    height: float
    angle: float
    layer: str
    held: float = 0.0

    @property
    def sure(self) -> Point:
        """A point within the letters, whatever the font."""
        inset = 0.1 * self.height * (1.0 - 2.0 * self.held)
        return self.along(self.held * self.long + inset, self.height / 2.0)

    @property
    def middle(self) -> Point:
        """The middle of the letters."""
        return self.along(self.long / 2.0, self.height / 2.0)

    @property
    def box(self) -> Box:
        """The box around the letters; they stand level or upright."""
        (x0, y0), (x1, y1) = self.along(0.0, 0.0), self.along(self.long, self.height)
        return min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)

    def along(self, way: float, up: float) -> Point:
        """A point so far along the line and so far above it."""
        c, s = cos(radians(self.angle)), sin(radians(self.angle))
        return self.start[0] + way * c - up * s, self.start[1] + way * s + up * c


@dataclass(frozen=True, slots=True)
class Path:
    """Straight strokes through points."""

    points: tuple[Point, ...]
    closed: bool
    layer: str

    @property
    def box(self) -> Box:
        """The box around it."""
        xs, ys = [x for x, _ in self.points], [y for _, y in self.points]
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def strokes(self) -> list[tuple[Point, Point]]:
        """Its straight parts."""
        ends = (*self.points, self.points[0]) if self.closed else self.points
        return list(pairwise(ends))


@dataclass(frozen=True, slots=True)
class Ring:
    """A circle, or a part of one from one angle counter-clockwise to another, degrees."""

    centre: Point
    radius: float
    start: float
    end: float
    layer: str

    @property
    def box(self) -> Box:
        """The box around its whole circle."""
        (x, y), r = self.centre, self.radius
        return x - r, y - r, x + r, y + r


@dataclass(slots=True)
class Marks:
    """Marks by kind; arrows are filled triangles by their three corners."""

    words: list[Words] = field(default_factory=list)
    paths: list[Path] = field(default_factory=list)
    rings: list[Ring] = field(default_factory=list)
    arrows: list[tuple[Point, Point, Point]] = field(default_factory=list)


@dataclass(slots=True)
class Paper:
    """One sheet.

    Attributes:
        marks: all that is drawn on it outside of views.
        views: all that is drawn in views, without dimensions.
        dimensions: the marks of each dimension.
        windows: where views are seen through.
    """

    marks: Marks = field(default_factory=Marks)
    views: Marks = field(default_factory=Marks)
    dimensions: list[Marks] = field(default_factory=list)
    windows: list[Box] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class _Lens:
    """What takes a point of a space to the paper: zoom and shift."""

    zoom: float
    shift: Point

    def point(self, x: float, y: float) -> Point:
        return x * self.zoom + self.shift[0], y * self.zoom + self.shift[1]


def papers(file: DxfFile) -> list[Paper]:
    """All sheets of a file, with what is seen through their windows."""
    unit = 25.4 if file.header["$INSUNITS"].strip() == "1" else 1.0
    return [_paper(file, contents, unit) for _, contents in file.sheets]


def _paper(file: DxfFile, contents: Iterable[Entity], unit: float) -> Paper:
    found = Paper()
    flat = _Lens(unit, (0.0, 0.0))
    windows = []
    for entity in contents:
        if entity.kind == "VIEWPORT" and entity.number(69) != 1.0:
            windows.append(entity)
        _put(entity, flat, found.marks, file)
    for row in _rows(windows, unit, [entity for entity in file.model if _is_round_break(entity)]):
        found.windows += [window.box for window in row]
        _look_through(row, file, found)
        _unfold(found.marks, row)
    found.marks.words = joined(found.marks.words, _walls(found.marks.paths))
    return found


def _walls(paths: Iterable[Path]) -> list[tuple[float, float, float]]:
    """Upright rulings: where each stands, from what height to what height."""
    strokes = (stroke for path in paths if path.layer in ("OUTLINE", "RULE") for stroke in path.strokes)
    return [(ax, min(ay, by), max(ay, by)) for (ax, ay), (bx, by) in strokes if abs(ax - bx) < 1e-3]


@dataclass(frozen=True, slots=True)
class _Window:
    """A window: where it is on paper, its lens, and how far a broken view was pushed together before it."""

    box: Box
    lens: _Lens
    pushed: float = 0.0

    def shows(self, box: Box) -> bool:
        """Whether the middle of a box on the unfolded paper is in it."""
        x, y = (box[0] + box[2]) / 2.0 - self.pushed, (box[1] + box[3]) / 2.0
        return self.box[0] <= x <= self.box[2] and self.box[1] <= y <= self.box[3]


def break_circles(rings: Iterable[Ring]) -> list[Ring]:
    """The circles round enlarged details, on views and in their own windows."""
    return [ring for ring in rings if ring.layer == "BREAK" and ring.end - ring.start >= 360.0]


def _is_round_break(entity: Entity) -> bool:
    """Whether it is the circle round an enlarged detail."""
    return entity.kind == "CIRCLE" and entity.text(8) == "BREAK"


def _rows(viewports: Iterable[Entity], unit: float, circles: Sequence[Entity]) -> list[list[_Window]]:
    """Windows by what they show: those that stand level, at one scale, and look at one level are parts of broken
    views (ISO 128-3), and are taken as they were before the bar was broken. A window with a detail's circle is none."""
    rows: dict[tuple[float, ...], list[_Window]] = {}
    for number, viewport in enumerate(viewports):
        window = _window(viewport, unit)
        ends = (window.lens.point(one.number(10), one.number(20)) for one in circles)
        detail = any(window.shows((x, y, x, y)) for x, y in ends)
        level = window.box[1], window.box[3], window.lens.zoom, window.lens.shift[1], number if detail else -1
        rows.setdefault(tuple(round(number, 4) for number in level), []).append(window)
    found = []
    for row in rows.values():
        row.sort(key=lambda window: window.box[0])
        first = row[0].lens.shift[0]
        found.append([replace(one, pushed=first - one.lens.shift[0], lens=row[0].lens) for one in row])
    if any(one.pushed for row in found for one in row):
        found = [row if any(one.pushed for one in row) else [_aside(one) for one in row] for row in found]
    return found


def _aside(window: _Window) -> _Window:
    """Out of the way of broken views that are unfolded."""
    (x0, y0, x1, y1), (sx, sy) = window.box, window.lens.shift
    return _Window((x0, y0 - ASIDE, x1, y1 - ASIDE), _Lens(window.lens.zoom, (sx, sy - ASIDE)))


def _window(window: Entity, unit: float) -> _Window:
    zoom = window.number(41) / window.number(45)
    at, seen = (window.number(10), window.number(20)), (window.number(12), window.number(22))
    lens = _Lens(zoom * unit, ((at[0] - seen[0] * zoom) * unit, (at[1] - seen[1] * zoom) * unit))
    (x, y), wide, high = at, window.number(40) / 2.0, window.number(41) / 2.0
    return _Window(((x - wide) * unit, (y - high) * unit, (x + wide) * unit, (y + high) * unit), lens)


def _unfold(marks: Marks, row: list[_Window]) -> None:
    """Push what stands on the paper within the windows of broken views as far apart as the parts are; all else goes out
    of the way, so that nothing comes to lie on it."""
    if not any(window.pushed for window in row):
        return

    def way(box: Box) -> Point:
        own = (one.pushed for one in row if replace(one, pushed=0.0).shows(box))
        return next(((far, 0.0) for far in own), (0.0, -ASIDE))

    marks.words = [replace(w, start=_moved(w.start, way(w.box))) for w in marks.words]
    marks.paths = [replace(p, points=tuple(_moved(q, way(p.box)) for q in p.points)) for p in marks.paths]
    marks.arrows = [_arrow_moved(arrow, way(Path(arrow, True, "").box)) for arrow in marks.arrows]
    marks.rings = [replace(r, centre=_moved(r.centre, way((*r.centre, *r.centre)))) for r in marks.rings]


def _arrow_moved(arrow: tuple[Point, Point, Point], way: Point) -> tuple[Point, Point, Point]:
    return _moved(arrow[0], way), _moved(arrow[1], way), _moved(arrow[2], way)


def _moved(point: Point, way: Point) -> Point:
    return point[0] + way[0], point[1] + way[1]


def _look_through(row: list[_Window], file: DxfFile, found: Paper) -> None:
    """Put what windows show on the paper: a dimension when its figure is in one, lines when their middle or, where
    parts of broken views show them, an end is."""
    lens = row[0].lens
    for entity in file.model:
        own = Marks()
        if entity.kind == "DIMENSION":
            for part in file.blocks[entity.text(2)]:
                _put(part, lens, own, file)
        else:
            _put(entity, lens, own, file)
        if not _is_shown(own, row, figure=entity.kind == "DIMENSION"):
            continue
        if entity.kind == "DIMENSION":
            own.words = joined(own.words)
            found.dimensions.append(own)
        else:
            for kind in ("words", "paths", "rings", "arrows"):
                getattr(found.views, kind).extend(getattr(own, kind))


def _is_shown(marks: Marks, row: list[_Window], *, figure: bool) -> bool:
    boxes = [words.box for words in marks.words] if figure else [box for box in [_box(marks)] if box is not None]
    if len(row) > 1 and not figure:
        boxes += [(x, y, x, y) for path in marks.paths for x, y in path.points]
    return any(window.shows(box) for box in boxes for window in row)


def _box(marks: Marks) -> Box | None:
    boxes = [w.box for w in marks.words] + [p.box for p in marks.paths]
    boxes += [(r.centre[0] - r.radius, r.centre[1] - r.radius, r.centre[0] + r.radius, r.centre[1] + r.radius)
              for r in marks.rings]  # fmt: skip
    boxes += [Path(a, True, "").box for a in marks.arrows]
    if not boxes:
        return None
    return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)


# Entities


def _put(entity: Entity, lens: _Lens, marks: Marks, file: DxfFile) -> None:
    layer = entity.text(8)
    match entity.kind:
        case "LINE":
            ends = ((entity.number(10), entity.number(20)), (entity.number(11), entity.number(21)))
            marks.paths.append(Path(tuple(lens.point(*p) for p in ends), False, layer))
        case "LWPOLYLINE":
            corners = zip(entity.numbers(10), entity.numbers(20), strict=True)
            closed = bool(int(entity.number(70)) & 1)
            marks.paths.append(Path(tuple(lens.point(*p) for p in corners), closed, layer))
        case "CIRCLE" | "ARC":
            centre = lens.point(entity.number(10), entity.number(20))
            start, end = (0.0, 360.0) if entity.kind == "CIRCLE" else (entity.number(50), entity.number(51))
            marks.rings.append(
                Ring(centre, entity.number(40) * lens.zoom, start, end if end > start else end + 360.0, layer)
            )
        case "SOLID":
            a, b, c = (lens.point(entity.number(10 + n), entity.number(20 + n)) for n in range(3))
            marks.arrows.append((a, b, c))
        case "TEXT" if entity.text(1).strip():
            marks.words.append(_words(entity, lens, plain(entity.text(1)), layer))
        case "INSERT":
            _put_block(entity, lens, marks, file, layer)


def _put_block(entity: Entity, lens: _Lens, marks: Marks, file: DxfFile, layer: str) -> None:
    sign = SIGN.fullmatch(entity.text(2))
    if sign is None:
        raise AssertionError(f"a block that is no sign: {entity.text(2)}; {len(file.blocks)} blocks are known")
    char, height = chr(int(sign[1], 16)), entity.number(41) * lens.zoom
    start = lens.point(entity.number(10), entity.number(20))
    marks.words.append(Words(char, start, 1.3 * height, height, entity.number(50), layer))


def _words(entity: Entity, lens: _Lens, text: str, layer: str) -> Words:
    height = entity.number(40) * lens.zoom
    long, angle = looks_long(text, height), entity.number(50)
    anchor = int(entity.number(72))
    x, y = lens.point(*((entity.number(11), entity.number(21)) if anchor else (entity.number(10), entity.number(20))))
    back = {0: 0.0, 1: 0.5, 2: 1.0}[anchor] * long
    start = (x - back * cos(radians(angle)), y - back * sin(radians(angle)))
    return Words(text, start, long, height, angle, layer, back / long if long else 0.0)


def plain(text: str) -> str:
    """A text as it shows: DXF writes three signs as codes and may write any as \\U+XXXX."""
    for code, sign in CODES.items():
        text = text.replace(code, sign)
    return re.sub(r"\\U\+([0-9A-Fa-f]{4})", lambda found: chr(int(found[1], 16)), text)


def looks_long(text: str, height: float) -> float:
    """About how long a text is, by eye: no font is known to the reader."""
    return height * sum(0.45 if char in SLIM else 0.92 for char in text)


# Signs among words


def joined(words: Iterable[Words], walls: Sequence[tuple[float, float, float]] = ()) -> list[Words]:
    """Put signs that are drawn, not lettered, into the line of words they stand in; no line goes on past a wall."""
    rows: dict[tuple[float, float, float], list[Words]] = {}
    for one in words:
        turn = radians(one.angle)
        off = -one.start[0] * sin(turn) + one.start[1] * cos(turn)
        rows.setdefault((round(off, 2), round(one.height, 2), one.angle), []).append(one)
    return [line for row in rows.values() for line in _lines(row, walls)]


def _lines(row: list[Words], walls: Sequence[tuple[float, float, float]]) -> Iterator[Words]:
    ordered = sorted(row, key=_way)
    line = ordered[0]
    for one in ordered[1:]:
        gap = _way(one) - _way(line) - line.long
        drawn = _is_sign(line.text[-1]) or _is_sign(one.text[0])
        if drawn and gap < 1.2 * one.height and not _parted(line, one, walls):
            long = _way(one) + one.long - _way(line)
            line = Words(f"{line.text} {one.text}", line.start, long, line.height, line.angle, line.layer)
        else:
            yield line
            line = one
    yield line


def _parted(a: Words, b: Words, walls: Sequence[tuple[float, float, float]]) -> bool:
    """Whether a wall stands between two words on one level."""
    y = b.start[1] + b.height / 2.0
    return b.angle == 0.0 and any(a.start[0] < x < b.start[0] and low < y < high for x, low, high in walls)


def _way(words: Words) -> float:
    turn = radians(words.angle)
    return words.start[0] * cos(turn) + words.start[1] * sin(turn)


def _is_sign(char: str) -> bool:
    """Signs that stand in a line of words; those of tolerances stand alone in their compartments."""
    return char in "□⌴⌵↧⌲ⒺⒻⓁⓂⓅⓈⓉⓊ"


def away(a: Point, b: Point) -> float:
    """Distance of two points."""
    return hypot(b[0] - a[0], b[1] - a[1])


def from_box(point: Point, box: Box) -> float:
    """Distance of a point from a box, 0 inside."""
    dx = max(box[0] - point[0], 0.0, point[0] - box[2])
    dy = max(box[1] - point[1], 0.0, point[1] - box[3])
    return hypot(dx, dy)
