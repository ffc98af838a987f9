"""Read one of our DXF files as a shop would see its paper: sheets with what stands on them and in their windows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from io import StringIO
from math import cos, radians, sin

from ezdxf.document import Drawing as Document
from ezdxf.entities.dimension import Dimension as DimensionEntity
from ezdxf.entities.dxfgfx import DXFGraphic
from ezdxf.entities.dxfobj import XRecord
from ezdxf.entities.hatch import Hatch
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.entities.solid import Solid
from ezdxf.entities.viewport import Viewport
from ezdxf.filemanagement import read as read_document
from ezdxf.layouts.layout import Paperspace
from ezdxf.lldxf.const import DXFError

from slotwright.drawings import ink, lettering, signs
from slotwright.drawings.dxf import VIEWS, WINDOWS
from slotwright.drawings.entities import layer_of
from slotwright.drawings.proofing.paper import PAPER, Box, Lot, Paper, paper
from slotwright.drawings.sheet import Anchor, Arc, Circle, DimensionKind, Fill, Line, Mark, Point, Stroke, Text
from slotwright.errors import SlotwrightError

LINES = {layer_of(line): line for line in Line}
INCHES = 1  # value of $INSUNITS
ANCHORS = {0: Anchor.LEFT, 1: Anchor.CENTRE, 2: Anchor.RIGHT}
DIMENSIONS = {
    0: DimensionKind.LINEAR, 1: DimensionKind.LINEAR, 2: DimensionKind.ANGLE, 3: DimensionKind.DIAMETER,
    4: DimensionKind.RADIUS, 5: DimensionKind.ANGLE, 6: DimensionKind.ORDINATE_Y,
}  # fmt: skip
CODES = {"%%c": "⌀", "%%C": "⌀", "%%d": "°", "%%D": "°", "%%p": "±", "%%P": "±"}


class NotADrawingError(SlotwrightError, ValueError):
    """Bytes that are no DXF file, or one that we did not write."""

    def __init__(self, problem: str, remedy: str) -> None:
        super().__init__(problem, remedy)
        self.problem = problem
        self.remedy = remedy

    def __str__(self) -> str:
        return f"{self.problem}; {self.remedy}"


@dataclass(frozen=True, slots=True)
class _View:
    """A view as it lies in model space."""

    name: str
    lots: tuple[Lot, ...]
    extent: Box


def papers(data: bytes) -> tuple[Paper, ...]:
    """Return the sheets of a DXF file. Errors: NotADrawingError."""
    document = _document(data)
    reader = _Reader(document)
    views = reader.views()
    layouts = [layout for layout in document.layouts if isinstance(layout, Paperspace)]
    sheets = sorted(layouts, key=lambda layout: int(layout.dxf.taborder))
    return tuple(reader.sheet(layout, views) for layout in sheets)


def _document(data: bytes) -> Document:
    try:
        document = read_document(StringIO(data.decode("utf-8-sig")))
    except (DXFError, UnicodeDecodeError, ValueError, KeyError, IndexError, AttributeError, TypeError):
        # What the library raises on damaged tags is any of these.
        raise NotADrawingError(
            "is no DXF file that can be read", "name a .dxf file that `slotwright make` wrote"
        ) from None
    if not all(layer in document.layers for layer in LINES):
        raise NotADrawingError(
            "is a DXF file of another program: our layers are not in it",
            "name a .dxf file that `slotwright make` wrote",
        )
    return document


class _Reader:
    """Reads one document."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self.unit = 25.4 if document.header.get("$INSUNITS", 0) == INCHES else 1.0
        self.unread: list[tuple[str, Point]] = []

    def views(self) -> list[_View]:
        """Return the views, model coordinates in mm; without a list of them in the file, all as one."""
        listed = self._listed()
        found: dict[int, list[DXFGraphic]] = {}
        for entity in self.document.modelspace():
            handle = int(entity.dxf.handle, 16)
            found.setdefault(next((n for n, (_, a, b) in enumerate(listed) if a < handle < b), -1), []).append(entity)
        views = []
        for n, entities in sorted(found.items()):
            lots = tuple(self._lots(entities))
            extent = ink.extent(tuple(mark for lot in lots for mark in lot.marks))
            if extent is not None:
                views.append(_View(listed[n][0] if n >= 0 else "model space", lots, extent))
        return views

    def _listed(self) -> list[tuple[str, int, int]]:
        """Name, first and last handle of each view, as the writer listed them."""
        record = self.document.rootdict.get(VIEWS)
        if not isinstance(record, XRecord):
            return []
        names, handles = [], []
        for code, value in record.tags:
            if code == 1:
                names.append(str(value))
            elif code == 320:
                handles.append(int(str(value), 16))
        return list(zip(names, handles[::2], handles[1::2], strict=False))

    def sheet(self, layout: Paperspace, views: Sequence[_View]) -> Paper:
        """Return one sheet with all that its windows show."""
        before, self.unread = self.unread, []
        lots, windows = [], []
        loose = []
        for entity in layout:
            if isinstance(entity, Viewport):
                windows.append(entity)
            elif entity.dxf.layer != WINDOWS:
                loose.append(entity)
        number = 0
        for window in windows:
            if window.dxf.id == 1 or window.dxf.view_height <= 0.0:
                continue  # the sheet's own
            for view in views:
                seen = self._through(window, view, number + 1)
                if seen:
                    lots += seen
                    number += 1
        lots += self._lots(loose)
        name, unread = layout.name, [*before, *self.unread]
        self.unread = before
        size = layout.dxf.paper_width, layout.dxf.paper_height
        return paper(name, *size, lots, unread)

    def _through(self, window: Viewport, view: _View, number: int) -> list[Lot]:
        """Return what a window shows of a view, on paper, or nothing."""
        dxf, unit = window.dxf, self.unit
        scale = dxf.height / dxf.view_height
        (mx, my), (px, py) = dxf.view_center_point.vec2 * unit, dxf.center.vec2 * unit
        shift = px - mx * scale, py - my * scale
        half = dxf.width * unit / 2.0, dxf.height * unit / 2.0
        clip = px - half[0], py - half[1], px + half[0], py + half[1]
        x0, y0, x1, y1 = (edge * scale + shift[n % 2] for n, edge in enumerate(view.extent))
        if x0 >= clip[2] or clip[0] >= x1 or y0 >= clip[3] or clip[1] >= y1:
            return []
        return [
            replace(
                lot, view=number, name=view.name, clip=clip, marks=tuple(_zoomed(m, scale, shift) for m in lot.marks)
            )
            for lot in view.lots
        ]

    # Entities

    def _lots(self, entities: Iterable[DXFGraphic]) -> Iterator[Lot]:
        """One lot of all plain entities, one of each dimension."""
        plain: list[DXFGraphic] = []
        for entity in entities:
            if isinstance(entity, DimensionEntity):
                yield self._dimension(entity)
            else:
                plain.append(entity)
        if plain:
            yield Lot(PAPER, "", tuple(_joined(self._marks(plain))))

    def _dimension(self, entity: DimensionEntity) -> Lot:
        block = self.document.blocks.get(entity.dxf.get("geometry", ""))
        marks = tuple(_joined(self._marks(block or ())))
        kind = DIMENSIONS.get(entity.dxf.dimtype & 7)
        return Lot(PAPER, "", marks, None, kind, float(entity.dxf.get("angle", 0.0)))

    def _marks(self, entities: Iterable[DXFGraphic]) -> Iterator[Mark]:
        for entity in entities:
            mark = self._mark(entity)
            if mark is not None:
                yield mark

    def _mark(self, entity: DXFGraphic) -> Mark | None:
        dxf, unit = entity.dxf, self.unit
        line = LINES.get(dxf.layer, Line.NOTE)
        match entity:
            case LWPolyline():
                points = tuple((float(x) * unit, float(y) * unit) for x, y in entity.get_points("xy"))
                return Stroke(points, line, bool(entity.closed)) if len(points) > 1 else None
            case Solid():
                return Fill(tuple(_point(p, unit) for p in entity.vertices()), line)
            case Hatch():
                return self._filled(entity, line)
        match entity.dxftype():
            case "LINE":
                return Stroke((_point(dxf.start, unit), _point(dxf.end, unit)), line)
            case "CIRCLE":
                return Circle(_point(dxf.center, unit), dxf.radius * unit, line)
            case "ARC":
                return Arc(_point(dxf.center, unit), dxf.radius * unit, dxf.start_angle, dxf.end_angle, line)
            case "TEXT":
                return self._text(entity, line)
            case "INSERT" if dxf.name.startswith("SIGN-"):
                return self._sign(entity, line)
            case "POINT" | "ATTDEF":
                return None
            case kind:
                self.unread.append((kind, (0.0, 0.0)))
                return None

    def _filled(self, entity: Hatch, line: Line) -> Mark | None:
        for path in entity.paths:
            points = tuple((v[0] * self.unit, v[1] * self.unit) for v in getattr(path, "vertices", ()))
            if len(points) > 2:
                return Fill(points, line)
        self.unread.append(("HATCH", (0.0, 0.0)))
        return None

    def _text(self, entity: DXFGraphic, line: Line) -> Mark:
        dxf = entity.dxf
        anchor = ANCHORS.get(dxf.get("halign", 0), Anchor.LEFT)
        valign = dxf.get("valign", 0)
        moved = (anchor is not Anchor.LEFT or valign) and dxf.hasattr("align_point")
        at = _point(dxf.align_point if moved else dxf.insert, self.unit)
        words = dxf.text
        for code, char in CODES.items():
            words = words.replace(code, char)
        height, angle = dxf.height * self.unit, dxf.get("rotation", 0.0)
        return Text(at, words, height, anchor, angle, valign == 2, line)

    def _sign(self, entity: DXFGraphic, line: Line) -> Mark | None:
        """A drawn sign counts as a letter; its margin lies before its place."""
        dxf = entity.dxf
        char = chr(int(dxf.name.removeprefix("SIGN-"), 16))
        height, angle = dxf.xscale * self.unit, dxf.get("rotation", 0.0)
        (x, y), back = _point(dxf.insert, self.unit), signs.MARGIN * height
        return Text(
            (x - back * cos(radians(angle)), y - back * sin(radians(angle))), char, height, angle=angle, line=line
        )


def _point(vector: object, unit: float) -> Point:
    x, y = vector.x, vector.y  # type: ignore[attr-defined]  # the library's vectors
    return x * unit, y * unit


def _joined(marks: Iterable[Mark]) -> Iterator[Mark]:
    """Put texts that were written in pieces around drawn signs together again."""
    last: Text | None = None
    for mark in marks:
        if last is not None:
            whole = _one_text(last, mark) if isinstance(mark, Text) else None
            if whole is not None:
                last = whole
                continue
            yield last
            last = None
        if isinstance(mark, Text) and mark.anchor is Anchor.LEFT:
            last = mark
        else:
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


def _zoomed(mark: Mark, scale: float, shift: Point) -> Mark:
    """Take a mark from model space to paper."""
    sx, sy = shift
    match mark:
        case Stroke(points, line, closed):
            return Stroke(tuple((x * scale + sx, y * scale + sy) for x, y in points), line, closed)
        case Circle((x, y), radius, line):
            return Circle((x * scale + sx, y * scale + sy), radius * scale, line)
        case Arc((x, y), radius, start, end, line):
            return Arc((x * scale + sx, y * scale + sy), radius * scale, start, end, line)
        case Fill(points, line):
            return Fill(tuple((x * scale + sx, y * scale + sy) for x, y in points), line)
        case Text((x, y)):
            return replace(mark, at=(x * scale + sx, y * scale + sy), height=mark.height * scale)
