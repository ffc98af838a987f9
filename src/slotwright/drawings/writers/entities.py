"""Say marks and dimensions in the tags of a DXF file (R2018); pure text, without any library.

A drawing library builds each entity as an object and checks it on the way out; a sheet has a thousand of them, and
these few kinds are simple. Group codes: published DXF reference, R2018; the reading tests go by other readers.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from math import cos, radians, sin
from typing import TypeAlias

from slotwright.drawings.paper import lettering, signs
from slotwright.drawings.paper.sheet import (
    Anchor,
    Arc,
    Circle,
    Fill,
    Line,
    Mark,
    Point,
    Stroke,
    Text,
)
from slotwright.drawings.paper.style import Style
from slotwright.drawings.writers import ink

Tag: TypeAlias = tuple[int, str | int | float]

LETTERS = "LETTERING"  # name of the text style
DIGITS = 9  # of coordinates behind the point; hides the noise of the last bits


@dataclass(frozen=True, slots=True, kw_only=True)
class Space:
    """A space of the file that marks are put into.

    Attributes:
        owner: handle of its block record.
        on_sheet: it is a sheet, not model space or a block.
        shift: added to coordinates, mm.
        zoom: length there of one mm of the marks' coordinates, mm.
        paper: what one mm of the space is on paper, mm: the scale in model space, 1 on a sheet.
        unit: length of the file's unit, mm.
        style: dashes.
        new_handle: gives the next entity's handle.
        layer: of all marks, or None for the layer of each mark's own line.
    """

    owner: str
    on_sheet: bool = False
    shift: Point = (0.0, 0.0)
    zoom: float = 1.0
    paper: float = 1.0
    unit: float
    style: Style
    new_handle: Callable[[], str]
    layer: str | None = None

    def point(self, at: Point) -> Point:
        """Take a point of the marks there, in the file's unit."""
        return (
            round((at[0] * self.zoom + self.shift[0]) / self.unit, DIGITS) + 0.0,
            round((at[1] * self.zoom + self.shift[1]) / self.unit, DIGITS) + 0.0,
        )

    def length(self, mm: float) -> float:
        """Take a length of the marks there, in the file's unit."""
        return round(mm * self.zoom / self.unit, DIGITS)

    def height(self, mm: float) -> float:
        """Take a length on paper there, in the file's unit."""
        return round(mm / self.paper / self.unit, DIGITS)


def layer_of(line: Line) -> str:
    """Name the layer of a kind of line."""
    return line.value.upper()


def marks_text(marks: Iterable[Mark], space: Space) -> str:
    """Return the entities of marks, in their order."""
    return "".join(entity(kind, line, space, [*look, *tags]) for kind, line, look, tags in _entities(marks, space))


def written(words: str) -> str:
    """Say a text in DXF's own notation: %%c is every program's diameter sign, and no other code may start.

    Programs differ in how they read doubled signs, so codes are broken by a space rather than escaped.
    """
    plain = re.sub(r"%(?=[%⌀])", "% ", words)
    plain = re.sub(r"\\(?=[UM]\+)", r"\\ ", plain)
    plain = re.sub(r"\^(?=.)", "^ ", plain)
    return plain.replace("⌀", "%%c")


def entity(kind: str, line: Line, space: Space, tags: Iterable[Tag]) -> str:
    """Return one entity: what all kinds have, then its own tags."""
    sheet = " 67\n1\n" if space.on_sheet else ""
    body = "".join([f"{code:>3}\n{value}\n" for code, value in tags])
    layer = layer_of(line) if space.layer is None else space.layer
    head = f"  0\n{kind}\n  5\n{space.new_handle()}\n330\n{space.owner}\n100\nAcDbEntity\n{sheet}  8\n{layer}\n"
    return head + body


_Entity: TypeAlias = tuple[str, Line, list[Tag], list[Tag]]  # kind, layer, dashes, further tags


def _entities(marks: Iterable[Mark], space: Space) -> Iterator[_Entity]:
    for mark in marks:
        match mark:
            case Stroke((_, _), line, False):
                yield "LINE", line, _dashing(mark, space), _line(mark, space)
            case Stroke():
                yield "LWPOLYLINE", mark.line, _dashing(mark, space), _polyline(mark, space)
            case Circle():
                yield "CIRCLE", mark.line, _dashing(mark, space), _circle(mark, space)
            case Arc() if ink.sweep(mark) >= 360.0:
                yield "CIRCLE", mark.line, _dashing(mark, space), _circle(mark, space)
            case Arc():
                yield "ARC", mark.line, _dashing(mark, space), _arc(mark, space)
            case Fill((_, _, _) | (_, _, _, _)):
                yield "SOLID", mark.line, [], _solid(mark, space)
            case Fill():
                yield "HATCH", mark.line, [], _hatch(mark, space)
            case Text():
                yield from _lettered(mark, space)


def _dashing(mark: Stroke | Circle | Arc, space: Space) -> list[Tag]:
    """Stretch the layer's dashes so that the line begins and ends with one, or draw it unbroken."""
    pattern = space.style.dashes(mark.line)
    if not pattern:
        return []
    here = space.paper * space.zoom  # paper mm a mm of the mark
    factor = ink.dash_scale(tuple([part / here for part in pattern]), mark)
    return [(6, "CONTINUOUS")] if factor is None else [(48, round(factor, 6))]


def at_point(code: int, point: Point) -> list[Tag]:
    """Return the three tags of a point."""
    return [(code, point[0]), (code + 10, point[1]), (code + 20, 0.0)]


def _line(mark: Stroke, space: Space) -> list[Tag]:
    start, end = mark.points
    return [(100, "AcDbLine"), *at_point(10, space.point(start)), *at_point(11, space.point(end))]


def _polyline(mark: Stroke, space: Space) -> list[Tag]:
    run_on = 128  # dashes run on round the corners
    tags: list[Tag] = [(100, "AcDbPolyline"), (90, len(mark.points)), (70, run_on + mark.closed)]
    for point in mark.points:
        x, y = space.point(point)
        tags += [(10, x), (20, y)]
    return tags


def _circle(mark: Circle | Arc, space: Space) -> list[Tag]:
    return [(100, "AcDbCircle"), *at_point(10, space.point(mark.centre)), (40, space.length(mark.radius))]


def _arc(mark: Arc, space: Space) -> list[Tag]:
    end = mark.start + ink.sweep(mark)
    angles: list[Tag] = [(50, round(mark.start % 360.0, DIGITS)), (51, round(end % 360.0, DIGITS))]
    return [*_circle(mark, space), (100, "AcDbArc"), *angles]


def _solid(mark: Fill, space: Space) -> list[Tag]:
    """Three or four corners; a solid names the last two crosswise."""
    points = [space.point(point) for point in mark.points]
    first, second, third, fourth = (*points, points[2])[:4]
    last = (fourth, third) if len(points) == 4 else (third, third)
    return [
        (100, "AcDbTrace"),
        *at_point(10, first),
        *at_point(11, second),
        *at_point(12, last[0]),
        *at_point(13, last[1]),
    ]


def _hatch(mark: Fill, space: Space) -> list[Tag]:
    tags: list[Tag] = [(100, "AcDbHatch"), *at_point(10, (0.0, 0.0)), (210, 0.0), (220, 0.0), (230, 1.0), (2, "SOLID")]
    tags += [(70, 1), (71, 0), (91, 1), (92, 3), (72, 0), (73, 1), (93, len(mark.points))]
    for point in mark.points:
        x, y = space.point(point)
        tags += [(10, x), (20, y)]
    return [*tags, (97, 0), (75, 1), (76, 1), (98, 1), (10, 0.0), (20, 0.0)]


def _lettered(mark: Text, space: Space) -> Iterator[_Entity]:
    """One text; or, where signs are in it that a CAD program's fonts lack, pieces of text and drawn signs."""
    words = lettering.safe(mark.text)
    if not words:
        return
    if signs.drawn_in_cad().isdisjoint(words):
        yield "TEXT", mark.line, [], _text(mark, space)
        return
    along = 0.0
    for piece in _pieces(words):
        bare = piece.strip()
        if piece in signs.drawn_in_cad():
            at = _along(mark, along + signs.MARGIN * mark.height, space)
            yield "INSERT", mark.line, [], _sign(mark, piece, at, space)
        elif bare:
            lead = piece[: len(piece) - len(piece.lstrip())]
            at = _along(mark, along + lettering.advance(lead, mark.height), space)
            yield "TEXT", mark.line, [], [*_words(mark, bare, at, space), (100, "AcDbText")]
        along += lettering.advance(piece, mark.height)


def _pieces(words: str) -> list[str]:
    """Split a text before and after each drawn sign."""
    pieces = [""]
    for char in words:
        if char in signs.drawn_in_cad():
            pieces += [char, ""]
        else:
            pieces[-1] += char
    return [piece for piece in pieces if piece]


def _along(mark: Text, way: float, space: Space) -> Point:
    """Return a point on the baseline, so far from its start, mm on paper."""
    x, y = space.point(mark.at)
    start = ink.start_of(mark)
    right = start[0] - mark.at[0] + way * cos(radians(mark.angle))
    up = start[1] - mark.at[1] + way * sin(radians(mark.angle))
    return round(x + space.height(right), DIGITS) + 0.0, round(y + space.height(up), DIGITS) + 0.0


def _sign(mark: Text, char: str, at: Point, space: Space) -> list[Tag]:
    size = space.height(mark.height)
    tags: list[Tag] = [(100, "AcDbBlockReference"), (2, signs.block_of(char)), *at_point(10, at)]
    tags += [(41, size), (42, size), (43, size)]
    return [*tags, (50, round(mark.angle, DIGITS))] if mark.angle else tags


def _text(mark: Text, space: Space) -> list[Tag]:
    at = _on_baseline(mark, space)
    tags = _words(mark, lettering.safe(mark.text), at, space)
    if mark.anchor is not Anchor.LEFT:
        tags += [(72, 1 if mark.anchor is Anchor.CENTRE else 2), *at_point(11, at)]
    return [*tags, (100, "AcDbText")]


def _words(mark: Text, words: str, at: Point, space: Space) -> list[Tag]:
    tags: list[Tag] = [(100, "AcDbText"), *at_point(10, at), (40, space.height(mark.height)), (1, written(words))]
    if mark.angle:
        tags.append((50, round(mark.angle, DIGITS)))
    return [*tags, (7, LETTERS)]


def _on_baseline(mark: Text, space: Space) -> Point:
    """Return the anchor point on the baseline: programs differ in what they take for the middle of a text."""
    x, y = space.point(mark.at)
    if not mark.middle:
        return x, y
    down, turn = space.height(mark.height) / 2.0, radians(mark.angle)
    return round(x + down * sin(turn), DIGITS) + 0.0, round(y - down * cos(turn), DIGITS) + 0.0
