"""Write a drawing as DXF R2018: model space true to size, a layout a sheet. The only user of ezdxf."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from io import StringIO

from ezdxf import options  # type: ignore[attr-defined]  # public, but not marked as exported
from ezdxf.document import Drawing as Document
from ezdxf.entities.dxfgfx import DXFGraphic
from ezdxf.filemanagement import new as new_document
from ezdxf.layouts.base import BaseLayout
from ezdxf.layouts.layout import Paperspace
from ezdxf.lldxf.tagwriter import AbstractTagWriter

from slotwright.drawings.paper import lettering, signs
from slotwright.drawings.paper.sheet import Dimension, DimensionKind, Drawing, Line, Point, Sheet, Text, View
from slotwright.drawings.paper.style import Style
from slotwright.drawings.writers import dimension_style, entities, ink
from slotwright.drawings.writers.dimension_entity import dimension_text
from slotwright.drawings.writers.entities import DIGITS, LETTERS, Space, layer_of
from slotwright.drawings.writers.windows import Window, windows

WINDOWS = "WINDOWS"  # layer of the viewports' borders, not plotted
VIEWS = "SLOTWRIGHT_VIEWS"  # record of each view's name, origin in model space, scale, first and last handle
BLACK = 7  # black on white paper, white on a dark screen: the sheet is plotted in one colour
GREY = 8
LINE_WIDTHS = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211)
LOCKED = 16384  # a viewport's zoom can't be changed by accident


def dxf_bytes(drawing: Drawing, style: Style) -> bytes:
    """Return the drawing as a DXF file, UTF-8.

    Model space is in the drawing's unit, 1:1. Each sheet is a layout of its true paper size. The same drawing gives
    the same bytes: dates and ids are fixed.
    """
    with _fixed_dates():
        document = new_document("R2018", units=1 if drawing.unit == "in" else 4)
        _Writer(document, drawing, style).write()
        _sort_classes(document)
        stream = StringIO()
        document.write(stream)
    return document.encode(stream.getvalue())


@contextmanager
def _fixed_dates() -> Iterator[None]:
    """Keep dates and random ids out of the file; the library's options are as before afterwards."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _sort_classes(document: Document) -> None:
    """Put the class definitions in a fixed order; the library takes them from a set."""
    section = document.classes
    section.add_required_classes(document.dxfversion)
    ordered = sorted(section.classes.items())
    section.classes.clear()
    section.classes.update(ordered)


class _Ready(DXFGraphic):
    """Entities that are written already; the library only puts them into the file at their place."""

    DXFTYPE = "READY"

    def __init__(self, text: str) -> None:
        super().__init__()
        self.text = text

    def export_dxf(self, tagwriter: AbstractTagWriter) -> None:
        """Write the tags."""
        tagwriter.write_str(self.text)


class _Writer:
    """Fills one document."""

    def __init__(self, document: Document, drawing: Drawing, style: Style) -> None:
        self.document = document
        self.drawing = drawing
        self.style = style
        self.inch = drawing.unit == "in"
        self.unit = 25.4 if self.inch else 1.0
        self.blocks = 0
        self.views: list[tuple[int, str | float | tuple[float, float, float]]] = []  # tags of the record of views

    def write(self) -> None:
        _set_header(self.document, self.drawing, self.style)
        _add_layers(self.document, self.style, self.unit)
        self._add_signs()
        rows = windows(self.drawing)
        for scale in dict.fromkeys(window.scale for row in rows for window in row):
            self._add_dimension_style(scale)
        for number, (sheet, row) in enumerate(zip(self.drawing.sheets, rows, strict=True), 1):
            for window in row:
                for view in window.views:
                    self._add_view(view, window)
            self._add_sheet(number, sheet, row)
        self.document.rootdict.add_xrecord(VIEWS).reset(self.views)
        self._open_with(rows)

    def _space(self, layout: BaseLayout, *, shift: Point = (0.0, 0.0), zoom: float = 1.0, paper: float = 1.0) -> Space:
        return Space(
            owner=layout.layout_key,
            on_sheet=layout.is_any_paperspace,
            shift=shift,
            zoom=zoom,
            paper=paper,
            unit=self.unit,
            style=self.style,
            new_handle=self.document.entitydb.next_handle,
        )

    def _add_signs(self) -> None:
        """Add a block for each sign that is drawn; on layer 0, so that it looks like the text it stands in."""
        for char in sorted(_characters(self.drawing) & signs.drawn_in_cad()):
            block = self.document.blocks.new(signs.block_of(char))
            space = replace(self._space(block), unit=1.0, layer="0")
            block.entity_space.add(_Ready(entities.marks_text(signs.marks_of(signs.signs()[char]), space)))

    def _add_dimension_style(self, scale: float) -> None:
        values = {**dimension_style.variables(self.style, scale), "dimtxsty": LETTERS}
        name = dimension_style.name_of(scale)
        entry = self.document.dimstyles.new(name, dxfattribs=values)
        if len(self.document.dimstyles) == 2:  # ours is the first beside the one every file has
            entry.copy_to_header(self.document)

    def _add_view(self, view: View, window: Window) -> None:
        model = self.document.modelspace()
        space = self._space(model, shift=window.to_model(view.origin), paper=view.scale)
        first = space.new_handle()
        model.entity_space.add(_Ready(entities.marks_text(view.marks, space)))
        dimensions = [self._dimension(dimension, space, window) for dimension in view.dimensions]
        model.entity_space.add(_Ready("".join(dimensions)))
        self.views += [(1, _one_line(view.name)), (10, (*space.point((0.0, 0.0)), 0.0)), (40, view.scale)]
        self.views += [(320, first), (320, space.new_handle())]

    def _dimension(self, dimension: Dimension, space: Space, window: Window) -> str:
        """Fill the block that shows a dimension from its own marks, which are given on paper; return the entity."""
        self.blocks += 1
        block = self.document.blocks.new(f"*D{self.blocks}")
        inside = self._space(block, shift=window.to_model((0.0, 0.0)), zoom=1.0 / window.scale, paper=window.scale)
        block.entity_space.add(_Ready(entities.marks_text(dimension.marks, inside)))
        angle = dimension.kind is DimensionKind.ANGLE
        return dimension_text(
            dimension,
            space,
            block=block.name,
            dimension_style=dimension_style.name_of(window.scale),
            usual_places=dimension_style.ANGLE_PLACES if angle else self.style.places,
        )

    def _add_sheet(self, number: int, sheet: Sheet, row: Iterable[Window]) -> None:
        layout = self._layout(number, sheet)
        for window in row:
            self._add_window(layout, window)
        layout.entity_space.add(_Ready(entities.marks_text(sheet.marks, self._space(layout))))

    def _layout(self, number: int, sheet: Sheet) -> Paperspace:
        name = f"Sheet {number}"
        if number == 1:
            self.document.layouts.rename("Layout1", name)
            layout = self.document.paperspace(name)
        else:
            layout = self.document.layouts.new(name)
        width, height = sheet.width / self.unit, sheet.height / self.unit
        layout.page_setup(size=(width, height), units="inch" if self.inch else "mm", name=sheet.size, device="")
        layout.dxf.paper_width, layout.dxf.paper_height = sheet.width, sheet.height  # mm always, and exact
        layout.reset_extents((0.0, 0.0, 0.0), (width, height, 0.0))
        for viewport in layout.viewports():
            viewport.dxf.layer = WINDOWS
        return layout

    def _add_window(self, layout: Paperspace, window: Window) -> None:
        space = self._space(layout)
        x0, y0, x1, y1 = window.box
        wide, high = window.size
        viewport = layout.add_viewport(
            center=space.point(((x0 + x1) / 2.0, (y0 + y1) / 2.0)),
            size=(space.length(x1 - x0), space.length(y1 - y0)),
            view_center_point=space.point((window.corner[0] + wide / 2.0, window.corner[1] + high / 2.0)),
            view_height=space.length(high),
            dxfattribs={"layer": WINDOWS},
        )
        viewport.dxf.flags |= LOCKED

    def _open_with(self, rows: list[tuple[Window, ...]]) -> None:
        """Open the file's model space with the first views in sight."""
        window = next((window for row in rows for window in row), None)
        if window is None:
            return
        model = self.document.modelspace()
        space = self._space(model, shift=window.corner)
        low, high = space.point((0.0, 0.0)), space.point(window.size)
        middle = ((low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0)
        self.document.set_modelspace_vport(height=high[1] - low[1], center=middle)
        model.reset_extents((*low, 0.0), (*high, 0.0))
        model.reset_limits(low, high)


def _characters(drawing: Drawing) -> set[str]:
    """All that is lettered anywhere."""
    found: set[str] = set()
    for sheet in drawing.sheets:
        for group in ink.groups(sheet):
            for mark in group.marks:
                if isinstance(mark, Text):
                    found.update(lettering.safe(mark.text))
    return found


def _set_header(document: Document, drawing: Drawing, style: Style) -> None:
    header = document.header
    header["$MEASUREMENT"] = 0 if drawing.unit == "in" else 1
    header["$LUNITS"] = 2
    header["$LUPREC"] = style.places
    header["$AUNITS"] = 0
    header["$LTSCALE"] = 1.0
    header["$CELTSCALE"] = 1.0
    header["$PSLTSCALE"] = 1  # dashes are as long on paper at every scale
    header["$LWDISPLAY"] = 1
    header["$LASTSAVEDBY"] = "Slotwright"
    header.custom_vars.append("title", _one_line(drawing.title))
    for key, value in drawing.properties:
        header.custom_vars.append(_one_line(key), _one_line(value))


def _one_line(words: str) -> str:
    """Keep a property from breaking the file, in which a line's end ends a value."""
    return " ".join("".join(char if char.isprintable() else " " for char in words).split())


def _add_layers(document: Document, style: Style, unit: float) -> None:
    """A layer a kind of line, with the line's own width and dashes; and the lettering."""
    for line in Line:
        pattern = [round(part / unit, DIGITS) for part in style.dashes(line)]
        name = layer_of(line)
        if pattern:
            strokes = [part if index % 2 == 0 else -part for index, part in enumerate(pattern)]
            document.linetypes.add(name, pattern=[sum(pattern), *strokes], description=f"{line.value} line")
        wanted = style.line_width(line) * 100.0
        document.layers.add(
            name,
            color=BLACK,
            linetype=name if pattern else "CONTINUOUS",
            lineweight=min(LINE_WIDTHS, key=lambda width: abs(width - wanted)),
        )
    document.layers.add(WINDOWS, color=GREY, plot=False)
    entry = document.styles.add(LETTERS, font=lettering.CAD_FONT)
    entry.set_extended_font_data(lettering.RELATIVES[0])
    document.header["$TEXTSTYLE"] = LETTERS
