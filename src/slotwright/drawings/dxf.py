"""Write a drawing as DXF R2018: model space true to size, a layout a sheet. The only user of ezdxf."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from io import StringIO
from math import cos, radians, sin
from typing import Any, cast

from ezdxf import options  # type: ignore[attr-defined]  # public, but not marked as exported
from ezdxf.document import Drawing as Document
from ezdxf.entities.dimension import Dimension as DimensionEntity
from ezdxf.entities.dimstyle import DimStyle
from ezdxf.filemanagement import new as new_document
from ezdxf.layouts.base import BaseLayout
from ezdxf.layouts.layout import Paperspace

from slotwright.drawings import dimension_style, ink, lettering
from slotwright.drawings.sheet import (
    Anchor,
    Arc,
    Circle,
    Dimension,
    DimensionKind,
    Drawing,
    Fill,
    Line,
    Mark,
    Point,
    Sheet,
    Stroke,
    Text,
    View,
)
from slotwright.drawings.style import Style
from slotwright.drawings.windows import Window, windows

LETTERS = "LETTERING"  # name of the text style
WINDOWS = "WINDOWS"  # layer of the viewports' borders, not plotted
BLACK = 7  # black on white paper, white on a dark screen: the sheet is plotted in one colour
GREY = 8
LINE_WIDTHS = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211)
DIGITS = 9  # of coordinates behind the point; hides the noise of the last bits


def dxf_bytes(drawing: Drawing, style: Style) -> bytes:
    """Return the drawing as a DXF file, UTF-8.

    Model space is in the drawing's unit, 1:1. Each sheet is a layout of its true paper size. The same drawing gives
    the same bytes: dates and ids are fixed.
    """
    with _fixed_dates():
        document = new_document("R2018", units=1 if drawing.unit == "in" else 4)
        writer = _Writer(document, drawing, style)
        writer.write()
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


@dataclass(frozen=True, slots=True)
class _Frame:
    """How marks get into a space of the file.

    Attributes:
        shift: added to coordinates, mm.
        zoom: what one mm of the marks is there, mm; for marks given on paper and drawn in model space 1 / scale.
        paper: what one mm of that space is on paper, mm; the scale in model space, 1 on a sheet.
        unit: length of the file's unit, mm.
    """

    shift: Point
    zoom: float
    paper: float
    unit: float

    def point(self, at: Point) -> Point:
        return (
            round((at[0] * self.zoom + self.shift[0]) / self.unit, DIGITS) + 0.0,
            round((at[1] * self.zoom + self.shift[1]) / self.unit, DIGITS) + 0.0,
        )

    def length(self, mm: float) -> float:
        return round(mm * self.zoom / self.unit, DIGITS)

    def height(self, mm: float) -> float:
        """Take a length that is given on paper."""
        return round(mm / self.paper / self.unit, DIGITS)


class _Writer:
    """Fills one document."""

    def __init__(self, document: Document, drawing: Drawing, style: Style) -> None:
        self.document = document
        self.drawing = drawing
        self.style = style
        self.unit = 25.4 if drawing.unit == "in" else 1.0
        self.blocks = 0

    def write(self) -> None:
        _set_header(self.document, self.drawing, self.style)
        _add_layers(self.document, self.style, self.unit)
        places = windows(self.drawing)
        for row in places:
            for window in row:
                self._add_dimension_style(window.scale)
        for number, (sheet, row) in enumerate(zip(self.drawing.sheets, places, strict=True), 1):
            for window in row:
                for view in window.views:
                    self._add_view(view, window)
            self._add_sheet(number, sheet, row)
        self._look_at_first(places)

    def _add_dimension_style(self, scale: float) -> None:
        name = dimension_style.name_of(scale)
        if name in self.document.dimstyles:
            return
        values = {**dimension_style.variables(self.style, scale), "dimtxsty": LETTERS}
        entry = self.document.dimstyles.new(name, dxfattribs=values)
        if len(self.document.dimstyles) == 2:  # beside the one every file has
            _copy_to_header(entry, self.document)

    def _add_view(self, view: View, window: Window) -> None:
        space = self.document.modelspace()
        shift = window.to_model(view.origin)
        inside = _Frame(shift, 1.0, view.scale, self.unit)
        self._add_marks(space, view.marks, inside)
        for dimension in view.dimensions:
            self._add_dimension(dimension, inside, window)

    def _add_sheet(self, number: int, sheet: Sheet, row: Iterable[Window]) -> None:
        layout = self._layout(number, sheet)
        for window in row:
            self._add_window(layout, window)
        self._add_marks(layout, sheet.marks, _Frame((0.0, 0.0), 1.0, 1.0, self.unit))

    def _layout(self, number: int, sheet: Sheet) -> Paperspace:
        name = f"Sheet {number}"
        if number == 1:
            self.document.layouts.rename("Layout1", name)
            layout = self.document.paperspace(name)
        else:
            layout = self.document.layouts.new(name)
        width, height = sheet.width / self.unit, sheet.height / self.unit
        inch = self.drawing.unit == "in"
        layout.page_setup(size=(width, height), units="inch" if inch else "mm", name=sheet.size, device="")
        layout.dxf.paper_width, layout.dxf.paper_height = sheet.width, sheet.height  # mm always, and exact
        layout.reset_extents((0.0, 0.0, 0.0), (width, height, 0.0))
        for viewport in layout.viewports():
            viewport.dxf.layer = WINDOWS
        return layout

    def _add_window(self, layout: Paperspace, window: Window) -> None:
        frame = _Frame((0.0, 0.0), 1.0, 1.0, self.unit)
        x0, y0, x1, y1 = window.box
        wide, high = window.size
        middle = (window.corner[0] + wide / 2.0, window.corner[1] + high / 2.0)
        viewport = layout.add_viewport(
            center=frame.point(((x0 + x1) / 2.0, (y0 + y1) / 2.0)),
            size=(frame.length(x1 - x0), frame.length(y1 - y0)),
            view_center_point=frame.point(middle),
            view_height=frame.length(high),
            dxfattribs={"layer": WINDOWS},
        )
        viewport.dxf.flags |= 16384  # its zoom is locked: the scale is the drawing's

    def _look_at_first(self, places: list[tuple[Window, ...]]) -> None:
        """Open the file with the first sheet's views in sight."""
        if not (places and places[0]):
            return
        window = places[0][0]
        low = _Frame(window.corner, 1.0, 1.0, self.unit).point((0.0, 0.0))
        high = _Frame(window.corner, 1.0, 1.0, self.unit).point(window.size)
        middle = ((low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0)
        self.document.set_modelspace_vport(height=high[1] - low[1], center=middle)
        self.document.modelspace().reset_extents((*low, 0.0), (*high, 0.0))
        self.document.modelspace().reset_limits(low, high)

    def _add_dimension(self, dimension: Dimension, inside: _Frame, window: Window) -> None:
        """Add the entity and the block that shows it, drawn from the dimension's own marks."""
        self.blocks += 1
        block = self.document.blocks.new(f"*D{self.blocks}")
        corner = window.to_model((0.0, 0.0))
        self._add_marks(block, dimension.marks, _Frame(corner, 1.0 / window.scale, window.scale, self.unit))
        points = tuple(inside.point(point) for point in dimension.points)
        attributes = {
            "layer": _layer(Line.DIMENSION),
            "geometry": block.name,
            "dimstyle": dimension_style.name_of(window.scale),
            "text": _override(dimension),
            "text_midpoint": inside.point(dimension.text_at),
            "attachment_point": 5,
            "actual_measurement": self._measured(dimension),
            **_definition(dimension, points),
        }
        turn = _turn_of_text(dimension, self.style)
        if turn is not None:
            attributes["text_rotation"] = turn
        entity = cast(DimensionEntity, self.document.modelspace().new_entity("DIMENSION", attributes))
        variable = "dimadec" if dimension.kind is DimensionKind.ANGLE else "dimdec"
        usual = dimension_style.variables(self.style, window.scale)[variable]
        if dimension.places != usual:
            entity.set_acad_dstyle({variable: dimension.places})

    def _measured(self, dimension: Dimension) -> float:
        """Return the value as the file keeps it: in its unit, angles in radians (the latter from memory)."""
        if dimension.kind is DimensionKind.ANGLE:
            return round(radians(dimension.value), 12)
        return round(dimension.value / self.unit, DIGITS)

    def _add_marks(self, space: BaseLayout, marks: Iterable[Mark], frame: _Frame) -> None:
        for mark in marks:
            match mark:
                case Text():
                    _add_text(space, mark, frame)
                case Fill():
                    _add_fill(space, mark, frame)
                case _:
                    self._add_line(space, mark, frame)

    def _add_line(self, space: BaseLayout, mark: Stroke | Circle | Arc, frame: _Frame) -> None:
        attributes = {"layer": _layer(mark.line), **self._dashing(mark, frame)}
        match mark:
            case Circle(centre, radius):
                space.add_circle(frame.point(centre), frame.length(radius), attributes)
            case Arc(centre, radius, start):
                end = start + ink.sweep(mark)
                if end - start >= 360.0:
                    space.add_circle(frame.point(centre), frame.length(radius), attributes)
                else:
                    angles = round(start % 360.0, DIGITS), round(end % 360.0, DIGITS)
                    space.add_arc(frame.point(centre), frame.length(radius), *angles, dxfattribs=attributes)
            case Stroke((start, end), _, False):
                space.add_line(frame.point(start), frame.point(end), attributes)
            case Stroke(points, _, closed):
                placed = [frame.point(point) for point in points]
                line = space.add_lwpolyline(placed, close=closed, dxfattribs=attributes)
                line.dxf.flags |= 128  # dashes run on round the corners

    def _dashing(self, mark: Stroke | Circle | Arc, frame: _Frame) -> dict[str, Any]:
        """Stretch the layer's dashes so that the line begins and ends with one, or draw it unbroken."""
        pattern = self.style.dashes(mark.line)
        if not pattern:
            return {}
        here = frame.paper * frame.zoom  # paper mm a mm of the mark
        factor = ink.dash_scale(tuple(part / here for part in pattern), mark)
        return {"linetype": "CONTINUOUS"} if factor is None else {"ltscale": round(factor, 6)}


def _layer(line: Line) -> str:
    return line.value.upper()


def _set_header(document: Document, drawing: Drawing, style: Style) -> None:
    header, inch = document.header, drawing.unit == "in"
    header["$MEASUREMENT"] = 0 if inch else 1
    header["$LUNITS"] = 2
    header["$LUPREC"] = style.places
    header["$AUNITS"] = 0
    header["$LTSCALE"] = 1.0
    header["$CELTSCALE"] = 1.0
    header["$PSLTSCALE"] = 1  # dashes are as long on paper at every scale
    header["$LWDISPLAY"] = 1
    header["$LASTSAVEDBY"] = "Slotwright"
    header.custom_vars.append("title", drawing.title)
    for key, value in drawing.properties:
        header.custom_vars.append(key, value)


def _add_layers(document: Document, style: Style, unit: float) -> None:
    """A layer a kind of line, with the line's own width and dashes; and the lettering."""
    for line in Line:
        pattern = [round(part / unit, DIGITS) for part in style.dashes(line)]
        name = _layer(line)
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


def _copy_to_header(entry: DimStyle, document: Document) -> None:
    """Make the style's variables the file's own as well, so that new dimensions look like ours."""
    entry.copy_to_header(document)


def _add_text(space: BaseLayout, mark: Text, frame: _Frame) -> None:
    words = lettering.safe(mark.text)
    if not words:
        return
    at = _on_baseline(mark, frame)
    attributes: dict[str, Any] = {
        "layer": _layer(mark.line),
        "style": LETTERS,
        "height": frame.height(mark.height),
        "insert": at,
    }
    if mark.angle:
        attributes["rotation"] = round(mark.angle, DIGITS)
    if mark.anchor is not Anchor.LEFT:
        attributes |= {"halign": 1 if mark.anchor is Anchor.CENTRE else 2, "align_point": at}
    space.add_text(_written(words), dxfattribs=attributes)


def _on_baseline(mark: Text, frame: _Frame) -> Point:
    """Return the anchor point on the baseline: programs differ in what they take for the middle of a text."""
    x, y = frame.point(mark.at)
    if not mark.middle:
        return x, y
    down, turn = frame.height(mark.height) / 2.0, radians(mark.angle)
    return round(x + down * sin(turn), DIGITS) + 0.0, round(y - down * cos(turn), DIGITS) + 0.0


def _written(words: str) -> str:
    """Say a text in DXF's own notation: %%c is every program's diameter sign, and no other code may start.

    Programs differ in how they read doubled signs, so codes are broken by a space rather than escaped.
    """
    plain = re.sub(r"%(?=[%⌀])", "% ", words)
    plain = re.sub(r"\\(?=[UM]\+)", r"\\ ", plain)
    return plain.replace("^", "^ ").replace("⌀", "%%c")


def _add_fill(space: BaseLayout, mark: Fill, frame: _Frame) -> None:
    points = [frame.point(point) for point in mark.points]
    attributes = {"layer": _layer(mark.line)}
    if len(points) == 3:
        space.add_solid([*points, points[2]], attributes)
    elif len(points) == 4:
        space.add_solid([points[0], points[1], points[3], points[2]], attributes)
    else:
        hatch = space.add_hatch(color=256, dxfattribs=attributes)
        hatch.paths.add_polyline_path(points, is_closed=True)


def _override(dimension: Dimension) -> str:
    """Return the text in DXF's notation; signs that a program adds by itself are left out before a bare value."""
    own = {DimensionKind.DIAMETER: "⌀<>", DimensionKind.RADIUS: "R<>", DimensionKind.ANGLE: "<>°"}.get(dimension.kind)
    return "<>" if dimension.text == own else _written(lettering.safe(dimension.text))


def _definition(dimension: Dimension, points: tuple[Point, ...]) -> dict[str, Any]:
    """Return the type and the definition points by the DXF reference (AutoCAD 2018, DIMENSION)."""
    alone, moved = 32, 128  # its block belongs to it alone; its text stands where we put it
    match dimension.kind:
        case DimensionKind.LINEAR:
            first, second, through = points
            points_of = {"defpoint": through, "defpoint2": first, "defpoint3": second, "angle": dimension.direction}
            return {"dimtype": 0 | alone | moved, **points_of}
        case DimensionKind.ORDINATE_X | DimensionKind.ORDINATE_Y:
            origin, feature, end = points
            of_x = 64 if dimension.kind is DimensionKind.ORDINATE_X else 0
            points_of = {"defpoint": origin, "defpoint2": feature, "defpoint3": end}
            return {"dimtype": 6 | of_x | alone | moved, **points_of}
        case DimensionKind.DIAMETER:
            centre, near = points
            far = (round(2.0 * centre[0] - near[0], DIGITS), round(2.0 * centre[1] - near[1], DIGITS))
            return {"dimtype": 3 | alone | moved, "defpoint": far, "defpoint4": near, "leader_length": 0.0}
        case DimensionKind.RADIUS:
            centre, near = points
            return {"dimtype": 4 | alone | moved, "defpoint": centre, "defpoint4": near, "leader_length": 0.0}
        case DimensionKind.ANGLE:
            vertex, first, second, through = points
            points_of = {"defpoint": through, "defpoint2": first, "defpoint3": second, "defpoint4": vertex}
            return {"dimtype": 5 | alone | moved, **points_of}


def _turn_of_text(dimension: Dimension, style: Style) -> float | None:
    """Return the text's direction where it is not the one a program chooses by itself."""
    usual = 0.0
    if dimension.kind is DimensionKind.LINEAR and style.text_above:
        usual = (dimension.direction + 90.0 - 1e-9) % 180.0 - 90.0 + 1e-9  # read from below or from the right
    elif dimension.kind is DimensionKind.ORDINATE_X:
        usual = 90.0
    return None if abs(dimension.text_angle - usual) < 1e-6 else round(dimension.text_angle, DIGITS)
