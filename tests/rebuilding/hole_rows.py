"""Holes as the tables of a sheet have them: size, place and the side they start in."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import cos, radians, sin

from tests.rebuilding import shaped
from tests.rebuilding.bar_reading import all_tags, size_lines
from tests.rebuilding.paper import Paper, Words
from tests.rebuilding.ruled import Row, Rulings
from tests.rebuilding.wording import Figures, Size, Sizes, UnreadableError, hole_sizes

SIDES = {"HOLES IN THE FRONT FACE": "front", "HOLES IN THE BACK FACE": "back", "HOLES IN THE LEFT END": "left",
         "HOLES IN THE RIGHT END": "right"}  # fmt: skip
COLUMNS = {"top": "XY", "bottom": "XY", "front": "XZ", "back": "XZ", "left": "YZ", "right": "YZ"}
BESIDE = 15.0
"""How far a table's own title stands at most from the words of its first head along X and Y, mm on paper."""
ANGLE_PLACES = 3
"""Decimals that an angle stands for at least, degrees: a direction on a circle is written as finely as it needs."""
TITLE = re.compile("HOLE (TABLE|SIZES|POSITIONS)")
NUMBER = re.compile(r"SIZE NO\. (\d+)")
Place = tuple[Size, Size]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedHole:
    """A hole: the side it starts in, its place along that side's two axes, and its sizes."""

    tag: str
    side: str
    place: Place
    sizes: Sizes


class HoleRows:
    """All holes of a piece, from every table of its sheets.

    Args:
        sheets: of the piece.
        figures: how figures are read.
        circles: centres of bolt circles by diameter.
    """

    def __init__(self, sheets: Sequence[Paper], figures: Figures, circles: Mapping[float, Place]) -> None:
        self.figures, self.circles = figures, circles
        self.doubts: list[str] = []
        self.sizes: dict[tuple[str, str], Sizes] = {}
        rows = [(side, row) for sheet in sheets for side, row in _titled_rows(sheet)]
        self.places = [(side, row) for side, row in rows if "TAG" in row.cells]
        for side, row in rows:
            if "SIZE" in row.cells:
                self._take_size(side, row)
        self.holes = [self._hole(side, row) for side, row in self.places]
        tags = [(hole.tag, hole.side) for hole in self.holes]
        self.doubts += [f"tag {tag} stands in the tables twice" for tag, _ in tags
                        if [other for other, _ in tags].count(tag) > 1]  # fmt: skip

    def _take_size(self, side: str, row: Row) -> None:
        """Sizes by tag. A size that several rows share stands in each of them."""
        read = hole_sizes(_without_remarks(size_lines(row)), self.figures)
        tags = self._tags(side, row)
        for tag in tags:
            if self.sizes.setdefault((side, tag), read) != read:
                self.doubts.append(f"hole {tag} has two sizes")
        if "HOLES" in row.cells and row.one("QTY") != str(len(tags)):
            self.doubts.append(f"{row.one('HOLES')} are {len(tags)} tags, quantity {row.one('QTY')} is written")

    def _tags(self, side: str, row: Row) -> list[str]:
        if "HOLES" not in row.cells:
            return [row.one("TAG")]
        if m := NUMBER.fullmatch(row.one("HOLES")):
            return [other.one("TAG") for own, other in self.places if own == side and other.one("SIZE NO.") == m[1]]
        return all_tags(row.one("HOLES"))

    def _hole(self, side: str, row: Row) -> PlacedHole:
        tag = row.one("TAG")
        sizes = self.sizes.get((side, tag))
        if sizes is None:
            raise UnreadableError(f"hole {tag} has no size")
        if sizes.from_below:
            if side != "top":
                self.doubts.append(f"hole {tag} is in a side and starts in the bottom face")
            side = "bottom"
        return PlacedHole(tag=tag, side=side, place=self._place(tag, side, row), sizes=sizes)

    def _place(self, tag: str, side: str, row: Row) -> Place:
        """By two coordinates, or by angle on a circle with the coordinates in brackets."""
        written = [row.one(name) for name in COLUMNS[side]]
        polar = row.one("CIRCLE").startswith("⌀")
        if not polar:
            return self.figures.size(written[0]), self.figures.size(written[1])
        across, turn = (
            self.figures.size(row.one("CIRCLE")[1:]),
            shaped.degrees(row.one("ANGLE").rstrip("°"), ANGLE_PLACES),
        )
        near = [centre for diameter, centre in self.circles.items() if abs(diameter - across.value) < 1e-9]
        if len(near) != 1:
            raise UnreadableError(f"{len(near)} circles of {across.value:g} mm are drawn for hole {tag}")
        place = _on_circle(near[0], across, turn)
        for name, text, size in zip(COLUMNS[side], written, place, strict=True):
            said = self.figures.size(text.strip("()"))
            if not text.startswith("(") or abs(said.value - size.value) > said.off + size.off + 1e-6:
                self.doubts.append(f"{name} of hole {tag} is {text}, its circle and angle give {size.value:.4f} mm")
        return place


def _on_circle(centre: Place, across: Size, turn: Size) -> Place:
    c, s, r = cos(radians(turn.value)), sin(radians(turn.value)), across.value / 2.0
    aside = r * radians(turn.off)
    return (Size(centre[0].value + r * c, centre[0].off + across.off / 2.0 * abs(c) + aside * abs(s)),
            Size(centre[1].value + r * s, centre[1].off + across.off / 2.0 * abs(s) + aside * abs(c)))  # fmt: skip


def _without_remarks(lines: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """Leave out what is said in words behind a size: what a hole is for, how it is to be made."""
    kept: list[tuple[str, str]] = []
    for size, depth in lines:
        words = (
            not depth
            and kept
            and re.search(r"[A-Z]{2}", size)
            and not re.search(r"[⌀⌴⌵]|UN[CF]|SLOT|FROM BOTTOM", size)
        )
        if not words:
            kept.append((size, depth))
    return kept


def _titled_rows(sheet: Paper) -> list[tuple[str, Row]]:
    """Rows of hole tables, each with the side that the title above its table names."""
    rulings = Rulings(sheet.marks)
    found = []
    for head, rows in rulings.headed("HOLES", "TAG"):
        title = _title_above(head, sheet.marks.words)
        found += [(SIDES.get(title, "top"), row) for row in rows]
    return found


def _title_above(head: Words, words: Sequence[Words]) -> str:
    """The nearest words above a table that are a hole table's title; of one in columns, above the first of them."""
    titles = [w for w in words if (w.text in SIDES or TITLE.match(w.text)) and w.start[1] > head.start[1]]
    near = [w for w in titles if w.start[0] < head.start[0] + 4.0]
    own = [w for w in near if head.start[0] - w.start[0] < BESIDE and w.start[1] - head.start[1] < BESIDE]
    near = own or near  # one that stands over it goes before that of a table beside it which stands a little lower
    return max(near, key=lambda w: (-round(w.start[1] - head.start[1]), w.start[0]), default=head).text
