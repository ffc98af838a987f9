"""The title block: the fields of ISO 7200, or the block of ASME Y14.1, with the projection symbol drawn."""

from __future__ import annotations

from dataclasses import dataclass

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.notes import wrapped
from slotwright.drawings.paper.placing import Box
from slotwright.drawings.paper.sheet import Anchor, Circle, Line, Mark, Stroke, Text
from slotwright.drawings.paper.sheet_data import Projection, SheetData, tolerance_lines, unit_name
from slotwright.drawings.paper.style import Style

PAD = 1.5
FIELD_NAME = 1.8  # height of field names, mm; the smallest of ISO 3098-1
ISO_SIZE = (180.0, 46.0)  # ISO 7200: 180 mm wide
ASME_SIZE = (184.0, 50.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class TitleFields:
    """What one sheet's title block says, ready to letter.

    The four heads name the fields material, stock, quantity and mass, which a set-up uses for other things. Tolerances
    of None are those of the design.
    """

    title: str
    subtitle: str
    number: str
    document: str
    scale: str
    size: str
    sheet: str
    material: str = ""
    stock: str = ""
    quantity: str = ""
    mass: str = ""
    heads: tuple[str, str, str, str] = ("Material", "Stock", "Quantity", "Mass")
    tolerances: tuple[str, ...] | None = None


@dataclass(frozen=True, slots=True)
class _Field:
    """A field: left, bottom, width, height within the block; its name; its lines; the height wanted."""

    x: float
    y: float
    width: float
    height: float
    name: str
    lines: tuple[str, ...]
    tall: float


def title_block_size(style: Style) -> tuple[float, float]:
    """Return width and height of the block, mm."""
    return ISO_SIZE if style.name == "iso" else ASME_SIZE


def title_block(fields: TitleFields, data: SheetData, right: float, bottom: float, style: Style) -> tuple[Mark, ...]:
    """Return the block with its lower right corner at a paper point (ISO 5457: lower right of the drawing space)."""
    width, height = title_block_size(style)
    left = right - width
    layout = _iso_fields(fields, data, style) if style.name == "iso" else _asme_fields(fields, data, style)
    marks: list[Mark] = [_box(Box(left, bottom, right, bottom + height), Line.FRAME)]
    for field in layout:
        marks += _field(field, left, bottom)
    at = (left + SYMBOL_AT[style.name][0], bottom + SYMBOL_AT[style.name][1])
    marks += projection_symbol(at[0], at[1], style.text, data.projection)
    return tuple(marks)


SYMBOL_AT = {"iso": (126.25, 32.5), "asme": (28.0, 5.2)}  # left end and middle of the symbol within the block


def _iso_fields(fields: TitleFields, data: SheetData, style: Style) -> list[_Field]:
    text, heads = style.text, fields.heads
    tolerance = tolerance_lines(data, style) if fields.tolerances is None else fields.tolerances
    unit = "INCHES" if style.unit == "in" else "mm"
    return [
        _Field(0, 37, 72, 9, heads[0], (fields.material,), text),
        _Field(72, 37, 52, 9, heads[1], (fields.stock,), text),
        _Field(124, 37, 22, 9, heads[2], (fields.quantity,), text),
        _Field(146, 37, 34, 9, heads[3], (fields.mass,), text),
        _Field(0, 28, 72, 9, "General tolerances", ("  ".join(tolerance),), text),
        _Field(72, 28, 26, 9, "Scale", (fields.scale,), text),
        _Field(98, 28, 26, 9, "Dimensions in", (unit,), text),
        _Field(124, 28, 22, 9, "", (), text),
        _Field(146, 28, 16, 9, "Size", (fields.size,), text),
        _Field(162, 28, 18, 9, "Sheet", (fields.sheet,), text),
        _Field(0, 19, 36, 9, "Created by", (data.creator,), text),
        _Field(36, 19, 36, 9, "Approved by", (data.approved,), text),
        _Field(0, 10, 72, 9, "Legal owner", (data.owner,), text),
        _Field(72, 10, 108, 18, "Title", (fields.title, fields.subtitle), style.title),
        _Field(0, 0, 72, 10, "Document type", (fields.document,), text),
        _Field(72, 0, 58, 10, "Identification number", (fields.number,), style.title),
        _Field(130, 0, 14, 10, "Rev.", (data.revision,), text),
        _Field(144, 0, 36, 10, "Date of issue", (data.date,), text),
    ]


def _asme_fields(fields: TitleFields, data: SheetData, style: Style) -> list[_Field]:
    text = style.text
    heads = [head.upper() for head in fields.heads]
    tolerance = tolerance_lines(data, style) if fields.tolerances is None else fields.tolerances
    said: tuple[str, ...] = (f"DIMENSIONS ARE IN {unit_name(style)}",)
    if tolerance:
        said = ("UNLESS OTHERWISE SPECIFIED", *said, "TOLERANCES:", *tolerance)
    return [
        _Field(0, 20, 62, 30, "", said, min(text, 2.5)),
        _Field(0, 10.4, 62, 9.6, heads[0], (fields.material,), text),
        _Field(0, 0, 62, 10.4, "PROJECTION", (), text),
        _Field(62, 42, 34, 8, "DRAWN", (data.creator,), text),
        _Field(96, 42, 26, 8, "DATE", (data.date,), text),
        _Field(122, 42, 62, 8, "COMPANY", (data.owner,), text),
        _Field(62, 34, 34, 8, "APPROVED", (data.approved,), text),
        _Field(96, 34, 26, 8, heads[2], (fields.quantity,), text),
        _Field(122, 34, 62, 8, heads[1], (fields.stock,), text),
        _Field(62, 17.5, 122, 16.5, "TITLE", (fields.title, fields.subtitle), 5.0),
        _Field(62, 8, 16, 9.5, "SIZE", (fields.size,), text),
        _Field(78, 8, 84, 9.5, "DWG NO.", (fields.number,), 5.0),
        _Field(162, 8, 22, 9.5, "REV", (data.revision,), text),
        _Field(62, 0, 34, 8, "SCALE", (fields.scale,), text),
        _Field(96, 0, 26, 8, heads[3], (fields.mass,), text),
        _Field(122, 0, 40, 8, "DOCUMENT", (fields.document,), text),
        _Field(162, 0, 22, 8, "SHEET", (fields.sheet,), text),
    ]


def _field(field: _Field, left: float, bottom: float) -> list[Mark]:
    box = Box(left + field.x, bottom + field.y, left + field.x + field.width, bottom + field.y + field.height)
    marks: list[Mark] = [_box(box, Line.RULE)]
    head = 0.0
    if field.name:
        marks.append(Text((box.x0 + PAD * 0.7, box.y1 - FIELD_NAME - 0.8), field.name, FIELD_NAME))
        head = FIELD_NAME + 1.0
    lines = [words for words in field.lines if words]
    room = Box(box.x0 + PAD, box.y0 + 0.6, box.x1 - PAD, box.y1 - head - 0.4)
    return marks + _letter(lines, room, field.tall)


def _letter(lines: list[str], room: Box, tall: float) -> list[Mark]:
    """Letter lines one under the other, the first at the wanted height, all smaller where they would not fit."""
    if not lines:
        return []
    share = room.height / len(lines)
    marks: list[Mark] = []
    for n, words in enumerate(lines):
        high = min(tall if n == 0 or tall <= 3.5 else tall * 0.7, share / 1.45)
        fitted, size = fit(words, high, room.width, share)
        step = share / len(fitted)
        for k, part in enumerate(fitted):
            y = room.y1 - n * share - (k + 0.5) * step
            marks.append(Text((room.x0, y), part, size, Anchor.LEFT, 0.0, True))
    return marks


def fit(words: str, high: float, width: float, room: float) -> tuple[list[str], float]:
    """Return a text as lines with the greatest height up to a wanted one that fits a width and a room above each other.

    Heights go down to 1.8 mm, the smallest of ISO 3098-1; what is too long even then is cut and ends in three dots.
    """
    size = high
    while size > FIELD_NAME:
        lines = wrapped(words, size, width)
        if len(lines) * size * 1.4 <= room and all(lettering.width(part, size) <= width for part in lines):
            return lines, size
        size = max(size - 0.25, FIELD_NAME)
    for end in range(len(words), 0, -1):
        short = words if end == len(words) else words[:end].rstrip() + "..."
        if lettering.width(short, size) <= width:
            return [short], size
    return ["..."], size


def projection_symbol(left: float, middle: float, height: float, projection: Projection) -> tuple[Mark, ...]:
    """Return the symbol of ISO 5456-2: a frustum of a cone, small end to the left, and its view from the left.

    The two circles stand to the right in first angle, to the left in third angle. Diameters are 1 and 2 lettering
    heights, the length 2.
    """
    small, large, long, space = height / 2.0, height, 2.0 * height, height
    cone = left if projection == "first" else left + 2.0 * large + space
    rings = left + long + space + large if projection == "first" else left + large
    over = 0.35 * height
    corners = (
        (cone, middle - small),
        (cone + long, middle - large),
        (cone + long, middle + large),
        (cone, middle + small),
    )
    return (
        Stroke(corners, Line.OUTLINE, closed=True),
        Stroke(((cone - over, middle), (cone + long + over, middle)), Line.CENTRE),
        Circle((rings, middle), small, Line.OUTLINE),
        Circle((rings, middle), large, Line.OUTLINE),
        Stroke(((rings - large - over, middle), (rings + large + over, middle)), Line.CENTRE),
        Stroke(((rings, middle - large - over), (rings, middle + large + over)), Line.CENTRE),
    )


def _box(box: Box, line: Line) -> Stroke:
    return Stroke(((box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1)), line, closed=True)
