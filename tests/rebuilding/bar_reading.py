"""Read a bar from its sheet alone, as a machinist who has nothing else would: words, figures and lines on paper."""

from __future__ import annotations

import re
from dataclasses import dataclass

from tests.rebuilding.dxf_tags import read_dxf
from tests.rebuilding.enlarged import enlarged, has_tags, tags_in, unlike
from tests.rebuilding.measured import Axis, read_dimension
from tests.rebuilding.middle_lines import counted_from, is_signed
from tests.rebuilding.paper import Marks, Paper, Words, from_box, papers
from tests.rebuilding.ruled import Row, Rulings
from tests.rebuilding.seen import Spot, find_views, match_tags
from tests.rebuilding.wording import CHAMFER, DRILL_POINTS, NOTHING, Figures, Size, Sizes, UnreadableError, hole_sizes

TAG = re.compile(r"[A-Z]{1,2}\d+")
EDGES = "ALL EDGES OF TOP AND BOTTOM"
NEAR = 60.0
"""No tag of a hole stands farther from the plan, mm on paper."""
ZERO_CORNER = "X AND Y FROM THE DATUM CORNER: LEFT END, FRONT EDGE"


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadHole:
    """One hole as the sheet has it; x and y of its middle from the datum corner.

    Attributes:
        loose: how far figures leave it off along X and Y from what these are counted from, mm.
        zone: diameter of its position tolerance, if one is written.
    """

    tag: str
    x: Size
    y: Size
    sizes: Sizes
    zone: Size | None
    loose: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadBar:
    """A bar as its sheet has it, and what a machinist would have to ask about.

    Attributes:
        chamfer: leg of the chamfer around top and bottom, nothing where edges are sharp.
        point: drill point of blind round holes, degrees, or None where no note says it.
        doubts: what is missing, written twice, or can be read in two ways.
        unclear: tags that stand as near to another hole as to their own.
    """

    length: Size
    width: Size
    thickness: Size
    chamfer: Size
    point: float | None
    holes: tuple[ReadHole, ...]
    doubts: tuple[str, ...]
    unclear: tuple[str, ...]


def read_bar(dxf: bytes) -> ReadBar:
    """Read a bar from a DXF file. Errors: UnreadableError where the sheet lacks what a bar cannot be made without."""
    sheets = papers(read_dxf(dxf))
    return _Reader(sheets).read()


class _Reader:
    """Reads one piece from its sheets, the first of which has the views."""

    def __init__(self, sheets: list[Paper]) -> None:
        self.sheets = sheets
        self.first = sheets[0]
        self.doubts: list[str] = []
        self.unclear: list[str] = []
        self.notes = [note for sheet in sheets for note in notes_of(sheet.marks)]
        self.figures = Figures(inch=self._inch())
        self.views = find_views(self.first.views)
        self.middles = self._middles()
        self.rulings = [Rulings(sheet.marks) for sheet in sheets]
        self.tables = [table for rulings in self.rulings for table in rulings.tables("HOLES", "TAG")]

    def read(self) -> ReadBar:
        x, y, z = self._axes()
        sizes, zones = self._sizes()
        rows = self._rows()
        length = self._overall(x, self.views.plan[2], "length")
        width = self._overall(y, self.views.plan[3], "width")
        thickness = self._overall(z, self.views.side[3], "thickness")
        spots = self._spots(rows, x, y)
        holes = tuple(self._hole(tag, rows[tag], spots.get(tag), (x, y), sizes, zones) for tag in rows)
        for axis in (x, y, z):
            self.doubts += axis.complaints
        return ReadBar(
            length=length, width=width, thickness=thickness, chamfer=self._chamfer(), point=self._point(),
            holes=holes, doubts=tuple(self.doubts), unclear=tuple(self.unclear),
        )  # fmt: skip

    # Notes and title block

    def _inch(self) -> bool:
        note = " ".join(self.notes)
        inch, metric = "DIMENSIONS IN INCHES" in note, bool(re.search("DIMENSIONS IN MILLIMET(RE|ER)S", note))
        if inch == metric:
            raise UnreadableError("the notes do not say whether figures are inches or millimetres")
        block = {words.text for words in self.first.marks.words}
        says_inch = bool(block & {"DIMENSIONS ARE IN INCHES", "INCHES"})
        says_metric = bool(block & {"DIMENSIONS ARE IN MILLIMETERS", "mm"})
        if (says_inch, says_metric) != (inch, metric):
            self.doubts.append("the title block does not name the notes' unit, or not it alone")
        return inch

    def _middles(self) -> tuple[bool, bool]:
        """Whether X and whether Y count from a centre line, which must then be drawn with its sign."""
        start = counted_from(" ".join(self.notes))
        if start is None:
            self.doubts.append("no note says what X and Y are measured from, or more than one does")
            return False, False
        for name, middle, upright in zip("XY", start, (True, False), strict=True):
            if middle != is_signed(self.first.views, self.views.plan, upright=upright):
                self.doubts.append(f"the note on {name} and the centre line of the plan say different things")
        return start

    def _point(self) -> float | None:
        found = {float(angle) for note in self.notes for angle in DRILL_POINTS.findall(note)}
        if len(found) > 1:
            self.doubts.append("the notes name several drill points and not which holes have which")
        return min(found, default=None)

    def _chamfer(self) -> Size:
        """From a leader at the side view, or from a note; a note to break edges asks for no size."""
        found = [match for note in self.notes if note.startswith("CHAMFER ")
                 for match in [CHAMFER.fullmatch(note.removeprefix("CHAMFER ").rstrip("."))]]  # fmt: skip
        found += [CHAMFER.fullmatch(words.text) for words in self.first.marks.words]
        sizes = [(m[1], m[2] or "") for m in found if m]
        if not sizes:
            if not any(note.startswith("BREAK SHARP EDGES") for note in self.notes):
                self.doubts.append("nothing is said about the edges")
            return NOTHING
        if len(sizes) > 1:
            self.doubts.append("the chamfer is written twice")
        size, which = sizes[0]
        if which != EDGES and not any(words.text == EDGES for words in self.first.marks.words):
            self.doubts.append("it is not said which edges the chamfer is on")
        return self.figures.size(size)

    # Dimensions

    def _axes(self) -> tuple[Axis, Axis, Axis]:
        """X and Y of the plan and Z of the side, with what is written along them."""
        plan, side = self.views.plan, self.views.side
        x, y, z = Axis(plan[0]), Axis(plan[1]), Axis(side[1])
        x.middle, y.middle = ((a + b) / 2.0 if middle else None
                              for a, b, middle in zip(plan[:2], plan[2:], self.middles, strict=True))  # fmt: skip
        for marks in self.first.dimensions:
            span = read_dimension(marks, self.figures)
            if span is not None and not span.upright:
                x.spans.append(span)
            elif span is not None:
                (z if side[1] - 0.05 <= span.end <= side[3] + 0.05 else y).spans.append(span)
        places = [spot.middle for spot in self.views.spots]
        x.work_out({plan[2], *(px for px, _ in places)})
        y.work_out({plan[3], *(py for _, py in places)})
        z.work_out({side[3]})
        return x, y, z

    def _overall(self, axis: Axis, end: float, what: str) -> Size:
        found = axis.distance(end)
        if found is None:
            raise UnreadableError(f"the {what} is not dimensioned")
        return found

    # Holes

    def _sizes(self) -> tuple[dict[str, Sizes], dict[str, Size]]:
        """Sizes and position zones by tag, from a table of sizes or from the rows of the hole table."""
        sizes: dict[str, Sizes] = {}
        zones: dict[str, Size] = {}
        for row in (row for table in self.tables for row in table if "SIZE" in row.cells):
            tags = all_tags(row.one("HOLES") or row.one("TAG"))
            read = hole_sizes(size_lines(row), self.figures)
            for tag in tags:
                if sizes.setdefault(tag, read) != read:
                    self.doubts.append(f"hole {tag} has two sizes")
            zones.update(dict.fromkeys(tags, zone) if (zone := self._zone(row)) else {})
            self._count(tags, row.one("QTY"), row)
        return sizes, zones

    def _zone(self, row: Row) -> Size | None:
        """The diameter of a position zone; each datum its frame refers to must stand at a face of the first sheet."""
        zone = None
        drawn = {cell for frame in self.rulings[0].frames if len(frame.cells) == 1 for cell in frame.cells}
        for frame in row.frames:
            if zone is not None or frame.cells[0] != "⌖" or not frame.cells[1].startswith("⌀"):
                self.doubts.append(f"a tolerance frame says {frame.cells}")
                continue
            zone = self.figures.size(frame.cells[1][1:])
            self.doubts += [f"datum {letter} stands at no face" for letter in frame.cells[2:] if letter not in drawn]
        return zone

    def _count(self, tags: list[str], quantity: str, row: Row) -> None:
        """The number written beside a size must be the number of its tags in all tables."""
        if "HOLES" in row.cells:
            if quantity != str(len(tags)):
                self.doubts.append(f"{tags[0]} to {tags[-1]} are {len(tags)} tags, quantity {quantity} is written")
            return
        letter = tags[0].rstrip("0123456789")
        there = {row.one("TAG") for table in self.tables for row in table if "TAG" in row.cells}
        number = sum(1 for tag in there if tag.rstrip("0123456789") == letter)
        if quantity != str(number):
            self.doubts.append(f"there are {number} tags {letter}, quantity {quantity} is written")

    def _rows(self) -> dict[str, Row]:
        rows: dict[str, Row] = {}
        for row in (row for table in self.tables for row in table if "TAG" in row.cells):
            tag = row.one("TAG")
            if tag in rows:
                self.doubts.append(f"tag {tag} stands in the table twice")
            rows[tag] = row
        return rows

    def _spots(self, rows: dict[str, Row], x: Axis, y: Axis) -> dict[str, Spot]:
        """Which hole in the plan each tag is: by where it stands, and by its (X) and (Y) if that is unclear."""
        words = self._tags(0)
        near = [w for w in words if from_box(w.middle, self.views.plan) < NEAR]
        leaders = [path for path in self.first.marks.paths if path.layer == "NOTE" and not path.closed]
        details = enlarged(self.sheets)
        self.doubts += unlike(details, self.first)
        tags = {id(sheet): self._tags(n) for n, sheet in enumerate(self.sheets)}
        details = [one for one in details if has_tags(one, tags[id(one.sheet)])]
        beside = [spot for spot in self.views.spots if not any(one.covers(spot) for one in details)]
        found, unclear = match_tags(
            [w for w in near if not any(one.shows(w.middle) for one in details)], leaders, beside
        )
        for one in details:
            inside, doubts = tags_in(one, tags[id(one.sheet)], self.views.spots)
            found |= inside
            unclear += doubts
        self.unclear += unclear
        if not any(note.startswith("HOLES WITHOUT A TAG ON THE PLAN ARE FOUND BY") for note in self.notes):
            self.doubts += [f"hole {tag} of the table is not in the plan" for tag in rows if tag not in found]
        self.doubts += [f"hole {tag} of the plan is not in the table" for tag in found if tag not in rows]
        if len(self.views.spots) != len(rows):
            self.doubts.append(f"{len(self.views.spots)} holes in the plan, {len(rows)} in the table")
        return {**found, **self._by_figures(rows, x, y)} if unclear else found

    def _tags(self, number: int) -> list[Words]:
        words = self.sheets[number].marks.words
        return [w for w in words if TAG.fullmatch(w.text) and self.rulings[number].stands_free(w)]

    def _by_figures(self, rows: dict[str, Row], x: Axis, y: Axis) -> dict[str, Spot]:
        """The holes whose dimensions in the plan are what the table has in brackets."""
        found: dict[str, Spot] = {}
        for tag, row in rows.items():
            written = row.one("(X)"), row.one("(Y)")
            if not all(written):
                continue
            wanted = [self.figures.size(text).value + _start(a).value for text, a in zip(written, (x, y), strict=True)]
            for spot in self.views.spots:
                drawn = x.distance(spot.middle[0]), y.distance(spot.middle[1])
                if all(d is not None and abs(d.value - w) < d.off for d, w in zip(drawn, wanted, strict=True)):
                    found[tag] = spot
        return found

    def _hole(
        self, tag: str, row: Row, spot: Spot | None, axes: tuple[Axis, Axis], sizes: dict[str, Sizes],
        zones: dict[str, Size],
    ) -> ReadHole:  # fmt: skip
        if tag not in sizes:
            raise UnreadableError(f"hole {tag} has no size")
        x, y = (self._place(tag, row, spot, axis, number) for number, axis in enumerate(axes))
        loose = (x.off - _start(axes[0]).off, y.off - _start(axes[1]).off)
        return ReadHole(tag=tag, x=x, y=y, sizes=sizes[tag], zone=zones.get(tag), loose=loose)

    def _place(self, tag: str, row: Row, spot: Spot | None, axis: Axis, number: int) -> Size:
        """One coordinate: from a dimension in the plan or from the table, and from one of them alone.

        A zero in the table only repeats that a hole stands on the centre line the table counts from.
        """
        name = "XY"[number]
        drawn = None if spot is None else axis.distance(spot.middle[number])
        written, auxiliary = row.one(name), row.one(f"({name})")
        on_line = axis.middle is not None and spot is not None and abs(spot.middle[number] - axis.middle) < 0.05
        if drawn is not None and written and not (on_line and self.figures.size(written).value == 0.0):
            self.doubts.append(f"{name} of hole {tag} is dimensioned in the plan and in the table")
        if drawn is None and not written:
            raise UnreadableError(f"{name} of hole {tag} is dimensioned nowhere")
        start = _start(axis)
        found = self.figures.size(written) + start if drawn is None else drawn
        if auxiliary and abs(self.figures.size(auxiliary).value + start.value - found.value) > found.off:
            self.doubts.append(f"({name}) of hole {tag} is {auxiliary} in the table, {found.value:.4f} mm in the plan")
        return found


def _start(axis: Axis) -> Size:
    """How far what a sheet counts from is off the datum corner."""
    return NOTHING if axis.middle is None else axis.distance(axis.middle) or NOTHING


def size_lines(row: Row) -> list[tuple[str, str]]:
    """The lines of a size, each with the depth that stands level with it."""
    depths = row.cells.get("DEPTH", [])
    return [(size.text, _level_with(size, depths)) for size in row.cells["SIZE"]]


def _level_with(size: Words, depths: list[Words]) -> str:
    return next((d.text for d in depths if abs(d.start[1] - size.start[1]) < 0.3 * size.height), "")


def all_tags(text: str) -> list[str]:
    """Spell out "B1 - B4"."""
    first, _, last = text.partition(" - ")
    if not last:
        return [text]
    letter = first.rstrip("0123456789")
    return [f"{letter}{n}" for n in range(int(first.removeprefix(letter)), int(last.removeprefix(letter)) + 1)]


def notes_of(marks: Marks) -> list[str]:
    """The numbered notes under the word NOTES, each in one line of text."""
    heads = [words for words in marks.words if words.text == "NOTES"]
    notes: list[str] = []
    for head in heads:
        column = [w for w in marks.words if w.start[1] < head.start[1] and abs(w.height - head.height) < 0.01]
        numbers = sorted((w for w in column if _same(w.start[0], head.start[0]) and re.fullmatch(r"\d+\.", w.text)),
                         key=lambda w: -w.start[1])  # fmt: skip
        if not numbers:
            continue
        indent = min((w.start[0] for w in column if w.start[0] > head.start[0] + 1.0 and
                      _same(w.start[1], numbers[0].start[1])), default=0.0)  # fmt: skip
        texts = sorted((w for w in column if _same(w.start[0], indent)), key=lambda w: -w.start[1])
        ends = [*(n.start[1] for n in numbers[1:]), numbers[-1].start[1] - 30.0 * head.height]
        for number, end in zip(numbers, ends, strict=True):
            lines = [w.text for w in texts if end + 0.01 < w.start[1] < number.start[1] + 0.01]
            notes.append(" ".join(lines).replace("\u00a0", " "))
    return notes


def _same(a: float, b: float) -> bool:
    return abs(a - b) < 0.02
