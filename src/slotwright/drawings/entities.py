"""Say marks and dimensions in the tags of a DXF file (R2018); pure text, without any library.

A drawing library builds each entity as an object and checks it on the way out; a sheet has a thousand of them, and
these few kinds are simple. Group codes: DXF reference of AutoCAD 2018; the reading tests go by other readers.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from math import cos, radians, sin
from typing import TypeAlias

from slotwright.drawings import ink, lettering
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
)
from slotwright.drawings.style import Style

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
    """

    owner: str
    on_sheet: bool = False
    shift: Point = (0.0, 0.0)
    zoom: float = 1.0
    paper: float = 1.0
    unit: float
    style: Style
    new_handle: Callable[[], str]

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
    return "".join(_entity(kind, line, space, [*look, *tags]) for kind, line, look, tags in _entities(marks, space))


def written(words: str) -> str:
    """Say a text in DXF's own notation: %%c is every program's diameter sign, and no other code may start.

    Programs differ in how they read doubled signs, so codes are broken by a space rather than escaped.
    """
    plain = re.sub(r"%(?=[%⌀])", "% ", words)
    plain = re.sub(r"\\(?=[UM]\+)", r"\\ ", plain)
    plain = re.sub(r"\^(?=.)", "^ ", plain)
    return plain.replace("⌀", "%%c")


def _entity(kind: str, line: Line, space: Space, tags: Iterable[Tag]) -> str:
    sheet = " 67\n1\n" if space.on_sheet else ""
    body = "".join([f"{code:>3}\n{value}\n" for code, value in tags])
    head = (
        f"  0\n{kind}\n  5\n{space.new_handle()}\n330\n{space.owner}\n100\nAcDbEntity\n{sheet}  8\n{layer_of(line)}\n"
    )
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
            case Text() if lettering.safe(mark.text):
                yield "TEXT", mark.line, [], _text(mark, space)


def _dashing(mark: Stroke | Circle | Arc, space: Space) -> list[Tag]:
    """Stretch the layer's dashes so that the line begins and ends with one, or draw it unbroken."""
    pattern = space.style.dashes(mark.line)
    if not pattern:
        return []
    here = space.paper * space.zoom  # paper mm a mm of the mark
    factor = ink.dash_scale(tuple([part / here for part in pattern]), mark)
    return [(6, "CONTINUOUS")] if factor is None else [(48, round(factor, 6))]


def _at(code: int, point: Point) -> list[Tag]:
    return [(code, point[0]), (code + 10, point[1]), (code + 20, 0.0)]


def _line(mark: Stroke, space: Space) -> list[Tag]:
    start, end = mark.points
    return [(100, "AcDbLine"), *_at(10, space.point(start)), *_at(11, space.point(end))]


def _polyline(mark: Stroke, space: Space) -> list[Tag]:
    run_on = 128  # dashes run on round the corners
    tags: list[Tag] = [(100, "AcDbPolyline"), (90, len(mark.points)), (70, run_on + mark.closed)]
    for point in mark.points:
        x, y = space.point(point)
        tags += [(10, x), (20, y)]
    return tags


def _circle(mark: Circle | Arc, space: Space) -> list[Tag]:
    return [(100, "AcDbCircle"), *_at(10, space.point(mark.centre)), (40, space.length(mark.radius))]


def _arc(mark: Arc, space: Space) -> list[Tag]:
    end = mark.start + ink.sweep(mark)
    angles: list[Tag] = [(50, round(mark.start % 360.0, DIGITS)), (51, round(end % 360.0, DIGITS))]
    return [*_circle(mark, space), (100, "AcDbArc"), *angles]


def _solid(mark: Fill, space: Space) -> list[Tag]:
    """Three or four corners; a solid names the last two crosswise."""
    points = [space.point(point) for point in mark.points]
    first, second, third, fourth = (*points, points[2])[:4]
    last = (fourth, third) if len(points) == 4 else (third, third)
    return [(100, "AcDbTrace"), *_at(10, first), *_at(11, second), *_at(12, last[0]), *_at(13, last[1])]


def _hatch(mark: Fill, space: Space) -> list[Tag]:
    tags: list[Tag] = [(100, "AcDbHatch"), *_at(10, (0.0, 0.0)), (210, 0.0), (220, 0.0), (230, 1.0), (2, "SOLID")]
    tags += [(70, 1), (71, 0), (91, 1), (92, 3), (72, 0), (73, 1), (93, len(mark.points))]
    for point in mark.points:
        x, y = space.point(point)
        tags += [(10, x), (20, y)]
    return [*tags, (97, 0), (75, 1), (76, 1), (98, 1), (10, 0.0), (20, 0.0)]


def _text(mark: Text, space: Space) -> list[Tag]:
    at = _on_baseline(mark, space)
    tags: list[Tag] = [(100, "AcDbText"), *_at(10, at), (40, space.height(mark.height))]
    tags.append((1, written(lettering.safe(mark.text))))
    if mark.angle:
        tags.append((50, round(mark.angle, DIGITS)))
    tags.append((7, LETTERS))
    if mark.anchor is not Anchor.LEFT:
        tags += [(72, 1 if mark.anchor is Anchor.CENTRE else 2), *_at(11, at)]
    return [*tags, (100, "AcDbText")]


def _on_baseline(mark: Text, space: Space) -> Point:
    """Return the anchor point on the baseline: programs differ in what they take for the middle of a text."""
    x, y = space.point(mark.at)
    if not mark.middle:
        return x, y
    down, turn = space.height(mark.height) / 2.0, radians(mark.angle)
    return round(x + down * sin(turn), DIGITS) + 0.0, round(y - down * cos(turn), DIGITS) + 0.0


def dimension_text(dimension: Dimension, space: Space, *, block: str, dimension_style: str, usual_places: int) -> str:
    """Return the DIMENSION entity.

    Args:
        dimension: its points in the coordinates that `space` takes to the file.
        space: where it stands.
        block: name of the block that shows it.
        dimension_style: name of its dimension style.
        usual_places: decimals that the dimension style writes.
    """
    type_tag, first, further = _definition(dimension, [space.point(point) for point in dimension.points])
    tags: list[Tag] = [(100, "AcDbDimension"), (280, 0), (2, block), *_at(10, first)]
    tags += [*_at(11, space.point(dimension.text_at)), (70, type_tag), (71, 5)]
    tags += [(42, _measured(dimension, space.unit)), (1, _override(dimension))]
    turn = _turn_of_text(dimension, space.style)
    if turn is not None:
        tags.append((53, turn))
    tags += [(3, dimension_style), *further]
    if dimension.places != usual_places:
        variable = 179 if dimension.kind is DimensionKind.ANGLE else 271
        tags += [(1001, "ACAD"), (1000, "DSTYLE"), (1002, "{"), (1070, variable), (1070, dimension.places), (1002, "}")]
    return _entity("DIMENSION", Line.DIMENSION, space, tags)


def _measured(dimension: Dimension, unit: float) -> float:
    """Return the value as the file keeps it: in its unit, angles in radians (the latter from memory)."""
    if dimension.kind is DimensionKind.ANGLE:
        return round(radians(dimension.value), 12)
    return round(dimension.value / unit, DIGITS)


def _override(dimension: Dimension) -> str:
    """Return the text in DXF's notation; signs that a program adds by itself are left out before a bare value."""
    own = {DimensionKind.DIAMETER: "⌀<>", DimensionKind.RADIUS: "R<>", DimensionKind.ANGLE: "<>°"}.get(dimension.kind)
    return "<>" if dimension.text == own else written(lettering.safe(dimension.text))


def _definition(dimension: Dimension, points: list[Point]) -> tuple[int, Point, list[Tag]]:
    """Return the type, the first definition point and the tags of the kind."""
    placed = 32 | 128  # its block belongs to it alone; its text stands where we put it
    match dimension.kind:
        case DimensionKind.LINEAR:
            first, second, through = points
            feet: list[Tag] = [(100, "AcDbAlignedDimension"), *_at(13, first), *_at(14, second)]
            return placed, through, [*feet, (50, dimension.direction), (100, "AcDbRotatedDimension")]
        case DimensionKind.ORDINATE_X | DimensionKind.ORDINATE_Y:
            origin, feature, end = points
            along = 64 if dimension.kind is DimensionKind.ORDINATE_X else 0
            return placed | along | 6, origin, [(100, "AcDbOrdinateDimension"), *_at(13, feature), *_at(14, end)]
        case DimensionKind.DIAMETER:
            centre, near = points
            far = (round(2.0 * centre[0] - near[0], DIGITS) + 0.0, round(2.0 * centre[1] - near[1], DIGITS) + 0.0)
            return placed | 3, far, [(100, "AcDbDiametricDimension"), *_at(15, near), (40, 0.0)]
        case DimensionKind.RADIUS:
            centre, near = points
            return placed | 4, centre, [(100, "AcDbRadialDimension"), *_at(15, near), (40, 0.0)]
        case DimensionKind.ANGLE:
            vertex, first, second, through = points
            legs: list[Tag] = [*_at(13, first), *_at(14, second), *_at(15, vertex)]
            return placed | 5, through, [(100, "AcDb3PointAngularDimension"), *legs]


def _turn_of_text(dimension: Dimension, style: Style) -> float | None:
    """Return the text's direction where it is not the one a program chooses by itself."""
    usual = 0.0
    if dimension.kind is DimensionKind.LINEAR and style.text_above:
        usual = (dimension.direction + 90.0 - 1e-9) % 180.0 - 90.0 + 1e-9  # read from below or from the right
    elif dimension.kind is DimensionKind.ORDINATE_X:
        usual = 90.0
    return None if abs(dimension.text_angle - usual) < 1e-6 else round(dimension.text_angle, DIGITS)
