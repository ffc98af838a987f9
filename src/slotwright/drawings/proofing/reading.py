"""Read one of our DXF files as a shop would see its paper: sheets with what stands on them and in their windows."""

from __future__ import annotations

import gc
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from io import StringIO

from ezdxf.document import Drawing as Document
from ezdxf.entities.dxfgfx import DXFGraphic
from ezdxf.entities.dxfobj import XRecord
from ezdxf.entities.viewport import Viewport
from ezdxf.filemanagement import read as read_document
from ezdxf.layouts.layout import Paperspace
from ezdxf.lldxf.const import DXFError

from slotwright.drawings.paper.sheet import Arc, Circle, Fill, Mark, Point, Stroke, Text
from slotwright.drawings.proofing.entities import LINES, EntityReader
from slotwright.drawings.proofing.laying import laid_out
from slotwright.drawings.proofing.paper import Box, Lot, Paper
from slotwright.drawings.writers import ink
from slotwright.drawings.writers.dxf import VIEWS, WINDOWS
from slotwright.errors import UnfitFileError

INCHES = 1  # value of $INSUNITS
OURS = "name a .dxf file that `slotwright make` wrote"
# What the library raises on damaged tags is any of these.
DAMAGE = (DXFError, ValueError, LookupError, AttributeError, TypeError, ArithmeticError, AssertionError, RecursionError)


class NotADrawingError(UnfitFileError):
    """Bytes that are no DXF file, or one that we did not write."""


@dataclass(frozen=True, slots=True)
class _View:
    """A view as it lies in model space, mm."""

    name: str
    lots: tuple[Lot, ...]
    extent: Box


def papers(data: bytes) -> tuple[Paper, ...]:
    """Return the sheets of a DXF file. Errors: NotADrawingError."""
    try:
        with _collector_waits():
            return _papers(read_document(StringIO(data.decode("utf-8-sig"))))
    except NotADrawingError:
        raise
    except DAMAGE:
        raise NotADrawingError("is no DXF file that can be read", OURS) from None


@contextmanager
def _collector_waits() -> Iterator[None]:
    """Hold back the garbage collector: the library makes a few objects a tag, and all of them are needed."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _papers(document: Document) -> tuple[Paper, ...]:
    if not all(layer in document.layers for layer in LINES):
        raise NotADrawingError("is a DXF file of another program: our layers are not in it", OURS)
    reader = EntityReader(document, 25.4 if document.header.get("$INSUNITS", 0) == INCHES else 1.0)
    views = _views(document, reader)
    hidden, reader.unread = reader.unread, []
    layouts = [layout for layout in document.layouts if isinstance(layout, Paperspace)]
    return tuple(_sheet(layout, views, reader, hidden) for layout in sorted(layouts, key=lambda one: one.dxf.taborder))


def _views(document: Document, reader: EntityReader) -> list[_View]:
    """Return the views; without a list of them in the file, all of model space as one."""
    listed = _listed(document)
    found: dict[int, list[DXFGraphic]] = {}
    for entity in document.modelspace():
        handle = int(entity.dxf.handle, 16)
        number = next((n for n, (_, first, last) in enumerate(listed) if first < handle < last), -1)
        found.setdefault(number, []).append(entity)
    views = []
    for number, entities in sorted(found.items()):
        lots = tuple(reader.lots(entities))
        extent = ink.extent(tuple(mark for lot in lots for mark in lot.marks))
        if extent is not None:
            views.append(_View(listed[number][0] if number >= 0 else "model space", lots, extent))
    return views


def _listed(document: Document) -> list[tuple[str, int, int]]:
    """Name, first and last handle of each view, as the writer listed them."""
    record = document.rootdict.get(VIEWS)
    if not isinstance(record, XRecord):
        return []
    names, handles = [], []
    for code, value in record.tags:
        if code == 1:
            names.append(str(value))
        elif code == 320:
            handles.append(int(str(value), 16))
    return list(zip(names, handles[::2], handles[1::2], strict=False))


def _sheet(
    layout: Paperspace, views: Sequence[_View], reader: EntityReader, hidden: Sequence[tuple[str, Point]]
) -> Paper:
    """Return one sheet with all that its windows show."""
    lots: list[Lot] = []
    numbers: dict[tuple[int, float], int] = {}  # the parts of a broken view are windows of one scale on one view
    for window in layout.viewports():
        if window.dxf.id == 1 or window.dxf.view_height <= 0.0:
            continue  # the sheet's own
        scale = window.dxf.height / window.dxf.view_height
        for n, view in enumerate(views):
            number = numbers.get((n, round(scale, 6)), len(numbers) + 1)
            seen = _through(window, view, reader.unit, number)
            if seen:
                numbers[n, round(scale, 6)] = number
                lots += seen
    loose = [e for e in layout if not isinstance(e, Viewport) and e.dxf.layer != WINDOWS]
    lots += reader.lots(loose)
    unread, reader.unread = [*hidden, *reader.unread], []
    return laid_out(layout.name, layout.dxf.paper_width, layout.dxf.paper_height, lots, unread)


def _through(window: Viewport, view: _View, unit: float, number: int) -> list[Lot]:
    """Return what a window shows of a view, on paper, or nothing."""
    dxf = window.dxf
    scale = dxf.height / dxf.view_height
    (mx, my), (px, py) = dxf.view_center_point.vec2 * unit, dxf.center.vec2 * unit
    shift = px - mx * scale, py - my * scale
    wide, high = dxf.width * unit / 2.0, dxf.height * unit / 2.0
    clip = px - wide, py - high, px + wide, py + high
    x0, y0, x1, y1 = (edge * scale + shift[n % 2] for n, edge in enumerate(view.extent))
    if x0 >= clip[2] or clip[0] >= x1 or y0 >= clip[3] or clip[1] >= y1:
        return []
    whole = x0 >= clip[0] and y0 >= clip[1] and x1 <= clip[2] and y1 <= clip[3]
    return [
        replace(
            lot,
            view=number,
            name=view.name,
            clip=None if whole else clip,
            marks=tuple([_zoomed(mark, scale, shift) for mark in lot.marks]),
            key=f"{number} {n}" if lot.dimension is not None else "",
        )
        for n, lot in enumerate(view.lots)
    ]


def _zoomed(mark: Mark, scale: float, shift: Point) -> Mark:
    """Take a mark from model space to paper."""
    sx, sy = shift
    match mark:
        case Stroke(points, line, closed):
            return Stroke(tuple([(x * scale + sx, y * scale + sy) for x, y in points]), line, closed)
        case Circle((x, y), radius, line):
            return Circle((x * scale + sx, y * scale + sy), radius * scale, line)
        case Arc((x, y), radius, start, end, line):
            return Arc((x * scale + sx, y * scale + sy), radius * scale, start, end, line)
        case Fill(points, line):
            return Fill(tuple([(x * scale + sx, y * scale + sy) for x, y in points]), line)
        case Text((x, y), words, height, anchor, angle, middle, line):
            return Text((x * scale + sx, y * scale + sy), words, height * scale, anchor, angle, middle, line)
