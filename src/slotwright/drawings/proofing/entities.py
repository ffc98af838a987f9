"""Entities of a DXF file as marks again: lines, fills, lettering with its drawn signs, dimensions with their blocks."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from math import cos, radians, sin
from typing import Any

from ezdxf.document import Drawing as Document
from ezdxf.entities.dimension import Dimension as DimensionEntity
from ezdxf.entities.dxfgfx import DXFGraphic

from slotwright.drawings.paper import lettering, signs
from slotwright.drawings.paper.sheet import Anchor, Arc, Circle, DimensionKind, Fill, Line, Mark, Point, Stroke, Text
from slotwright.drawings.proofing.paper import PAPER, Lot
from slotwright.drawings.writers.entities import layer_of

LINES = {layer_of(line): line for line in Line}
ANCHORS = {0: Anchor.LEFT, 1: Anchor.CENTRE, 2: Anchor.RIGHT}
MIDDLE = 2  # vertical justification of a text
DIMENSIONS = {
    0: DimensionKind.LINEAR, 1: DimensionKind.LINEAR, 2: DimensionKind.ANGLE, 3: DimensionKind.DIAMETER,
    4: DimensionKind.RADIUS, 5: DimensionKind.ANGLE, 6: DimensionKind.ORDINATE_Y,
}  # fmt: skip
CODES = {"%%c": "⌀", "%%C": "⌀", "%%d": "°", "%%D": "°", "%%p": "±", "%%P": "±"}
SIGN = "SIGN-"  # of a block's name, before the number of its character
UNSEEN = frozenset({"POINT", "ATTDEF"})


class EntityReader:
    """Reads the entities of one document.

    Attributes:
        unit: length of the file's unit, mm.
        unread: kind and place of what it could not read.
    """

    def __init__(self, document: Document, unit: float) -> None:
        self.document = document
        self.unit = unit
        self.unread: list[tuple[str, Point]] = []
        self._ways: dict[str, Callable[[Any, Line], Mark | None]] = {
            "LINE": self._line,
            "LWPOLYLINE": self._polyline,
            "CIRCLE": self._circle,
            "ARC": self._arc,
            "SOLID": self._solid,
            "HATCH": self._hatch,
            "TEXT": self._text,
            "INSERT": self._sign,
        }

    def lots(self, entities: Iterable[DXFGraphic]) -> Iterator[Lot]:
        """Yield a lot of all plain entities, and one of each dimension."""
        plain: list[DXFGraphic] = []
        for entity in entities:
            if isinstance(entity, DimensionEntity):
                yield self._dimension(entity)
            else:
                plain.append(entity)
        if plain:
            yield Lot(PAPER, "", self._marks(plain))

    def _dimension(self, entity: DimensionEntity) -> Lot:
        block = self.document.blocks.get(entity.dxf.get("geometry", ""))
        kind = DIMENSIONS.get(entity.dxf.dimtype & 7)
        return Lot(PAPER, "", self._marks(block or ()), None, kind, float(entity.dxf.get("angle", 0.0)))

    def _marks(self, entities: Iterable[DXFGraphic]) -> tuple[Mark, ...]:
        return tuple(_joined(mark for entity in entities if (mark := self._mark(entity)) is not None))

    def _mark(self, entity: DXFGraphic) -> Mark | None:
        kind = entity.dxftype()
        if kind in UNSEEN:
            return None
        way = self._ways.get(kind, self._unknown)
        return way(entity, LINES.get(entity.dxf.layer, Line.NOTE))

    def _unknown(self, entity: Any, line: Line) -> Mark | None:
        at = self._point(entity.dxf.insert) if entity.dxf.hasattr("insert") else (0.0, 0.0)
        self.unread.append((entity.dxftype(), at))
        return None

    def _point(self, vector: Any) -> Point:
        return vector.x * self.unit, vector.y * self.unit

    # One kind each

    def _line(self, entity: Any, line: Line) -> Mark:
        return Stroke((self._point(entity.dxf.start), self._point(entity.dxf.end)), line)

    def _polyline(self, entity: Any, line: Line) -> Mark | None:
        unit = self.unit
        points = tuple([(vertex[0] * unit, vertex[1] * unit) for vertex in entity.lwpoints])
        return Stroke(points, line, bool(entity.closed)) if len(points) > 1 else None

    def _circle(self, entity: Any, line: Line) -> Mark:
        return Circle(self._point(entity.dxf.center), entity.dxf.radius * self.unit, line)

    def _arc(self, entity: Any, line: Line) -> Mark:
        dxf = entity.dxf
        return Arc(self._point(dxf.center), dxf.radius * self.unit, dxf.start_angle, dxf.end_angle, line)

    def _solid(self, entity: Any, line: Line) -> Mark:
        return Fill(tuple([self._point(vertex) for vertex in entity.vertices()]), line)

    def _hatch(self, entity: Any, line: Line) -> Mark | None:
        for path in entity.paths:
            points = tuple([(v[0] * self.unit, v[1] * self.unit) for v in getattr(path, "vertices", ())])
            if len(points) > 2:
                return Fill(points, line)
        return self._unknown(entity, line)

    def _text(self, entity: Any, line: Line) -> Mark:
        dxf = entity.dxf
        anchor, valign = ANCHORS.get(dxf.get("halign", 0), Anchor.LEFT), dxf.get("valign", 0)
        justified = (anchor is not Anchor.LEFT or valign) and dxf.hasattr("align_point")
        at = self._point(dxf.align_point if justified else dxf.insert)
        words = dxf.text
        if "%%" in words:
            for code, char in CODES.items():
                words = words.replace(code, char)
        return Text(at, words, dxf.height * self.unit, anchor, dxf.get("rotation", 0.0), valign == MIDDLE, line)

    def _sign(self, entity: Any, line: Line) -> Mark | None:
        """A drawn sign counts as a letter; its margin lies before its place."""
        dxf = entity.dxf
        (x, y), height, angle = self._point(dxf.insert), dxf.xscale * self.unit, dxf.get("rotation", 0.0)
        if not dxf.name.startswith(SIGN):
            return self._unknown(entity, line)
        back = signs.MARGIN * height
        at = x - back * cos(radians(angle)), y - back * sin(radians(angle))
        return Text(at, chr(int(dxf.name.removeprefix(SIGN), 16)), height, angle=angle, line=line)


def _joined(marks: Iterable[Mark]) -> Iterator[Mark]:
    """Put texts that were written in pieces around drawn signs together again."""
    last: Text | None = None
    for mark in marks:
        whole = _one_text(last, mark) if last is not None and isinstance(mark, Text) else None
        if whole is not None:
            last = whole
            continue
        if last is not None:
            yield last
        last = mark if isinstance(mark, Text) and mark.anchor is Anchor.LEFT else None
        if last is None:
            yield mark
    if last is not None:
        yield last


def _one_text(before: Text, after: Text) -> Text | None:
    """Return two pieces of a text as one where the second goes on where the first ends, one of them with a sign."""
    drawn = signs.drawn_in_cad()
    if drawn.isdisjoint(before.text[-1:]) and drawn.isdisjoint(after.text[:1]):
        return None
    if after.anchor is not Anchor.LEFT or abs(after.height - before.height) > 1e-6 or before.angle != after.angle:
        return None
    c, s = cos(radians(before.angle)), sin(radians(before.angle))
    dx, dy = after.at[0] - before.at[0], after.at[1] - before.at[1]
    gap = dx * c + dy * s - lettering.width(before.text, before.height)
    if abs(dy * c - dx * s) > 1e-4 or not -0.1 <= gap / before.height <= 1.0:
        return None
    space = " " if gap > 0.5 * lettering.advance(" ", before.height) else ""
    return replace(before, text=f"{before.text}{space}{after.text}")
