"""The drawing as data: sheets of marks, views and dimensions, before anything is written.

Paper frame: origin at the lower left corner of the trimmed sheet, X right, Y up, mm. A view holds its marks in model
coordinates (mm, true size) and says where its model origin lands on paper and at what scale. Every writer (DXF, PDF,
SVG) draws the same data, so that they cannot disagree.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

Point: TypeAlias = tuple[float, float]


class Line(StrEnum):
    """Kinds of line by their meaning (ISO 128-2 / ASME Y14.2); each is one layer of the DXF file."""

    OUTLINE = "outline"  # visible edges: wide, continuous
    THREAD = "thread"  # thread runout and crest lines: narrow, continuous
    HIDDEN = "hidden"  # hidden edges: narrow, dashed
    CENTRE = "centre"  # centre lines and axes: narrow, long dash dot
    PHANTOM = "phantom"  # neighbouring parts: narrow, long dash double dot
    SECTION = "section"  # cutting planes: wide, long dash dot
    HATCH = "hatch"  # section lining: narrow, continuous
    BREAK = "break"  # break lines: narrow, continuous
    DIMENSION = "dimension"  # dimension, extension and leader lines and their text: narrow, continuous
    NOTE = "note"  # tags, notes, tables, title block text: narrow, continuous
    FRAME = "frame"  # sheet frame: wide, continuous
    RULE = "rule"  # rulings of tables and the title block: narrow, continuous


class Anchor(StrEnum):
    """Which point of a text's box its position is."""

    LEFT = "left"
    CENTRE = "centre"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class Stroke:
    """A straight line or polyline; closed joins the last point to the first."""

    points: tuple[Point, ...]
    line: Line
    closed: bool = False

    @property
    def path(self) -> tuple[Point, ...]:
        """Its points as they are drawn through: the first one again at the end of a closed one."""
        return (*self.points, self.points[0]) if self.closed else self.points


@dataclass(frozen=True, slots=True)
class Circle:
    """A full circle."""

    centre: Point
    radius: float
    line: Line


@dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle, counter-clockwise from start to end, degrees."""

    centre: Point
    radius: float
    start: float
    end: float
    line: Line


@dataclass(frozen=True, slots=True)
class Fill:
    """A filled polygon, such as an arrowhead."""

    points: tuple[Point, ...]
    line: Line


@dataclass(frozen=True, slots=True)
class Text:
    """One line of lettering.

    Attributes:
        at: anchor point; vertically it is the baseline, or the middle of the capitals when middle is set.
        text: what it says; never formatted by the writer.
        height: height of capitals, mm on paper (also inside views).
        anchor: which end of the text the point is.
        angle: reading direction, degrees counter-clockwise from X.
        middle: the point is the middle of the capitals' height.
        line: layer.
    """

    at: Point
    text: str
    height: float
    anchor: Anchor = Anchor.LEFT
    angle: float = 0.0
    middle: bool = False
    line: Line = Line.NOTE


Mark: TypeAlias = Stroke | Circle | Arc | Fill | Text


class DimensionKind(StrEnum):
    """Kinds of dimension, named by what they measure."""

    LINEAR = "linear"
    ORDINATE_X = "ordinate-x"
    ORDINATE_Y = "ordinate-y"
    DIAMETER = "diameter"
    RADIUS = "radius"
    ANGLE = "angle"


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """A dimension of one view, with the marks it is drawn by.

    Attributes:
        kind: what is measured.
        points: model coordinates. LINEAR: the two feature points, then a point on the dimension line. ORDINATE_*:
            the origin, the feature, the end of the leader. DIAMETER, RADIUS: the centre, the point on the curve.
            ANGLE: vertex, point on the first leg, point on the second leg, point on the dimension arc.
        direction: LINEAR only: direction the distance is measured along, degrees from the view's X.
        value: the measured value, mm or degrees.
        text: what is written, "<>" standing for the measured value alone.
        text_at: middle of the text, model coordinates.
        text_angle: reading direction, degrees.
        places: decimals of the written value, in the drawing's unit.
        marks: how it looks, PAPER coordinates relative to the sheet (same frame as Sheet.marks).
    """

    kind: DimensionKind
    points: tuple[Point, ...]
    direction: float = 0.0
    value: float
    text: str = "<>"
    text_at: Point
    text_angle: float = 0.0
    places: int
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """One view of a piece or set-up.

    Attributes:
        name: such as "plan", "front elevation", "section A-A".
        origin: where the view's model origin lands on paper.
        scale: paper mm a model mm; 0.5 for 1:2.
        marks: geometry, model coordinates (Text inside a view: position in model coordinates, height in paper mm).
        dimensions: its dimensions.
        frame: paper rectangle (x0, y0, x1, y1) that clips it, or None for the sheet's common drawing area. Views at
            the sheet's main scale share one window and lie in model space exactly as on paper, divided by the scale.
        whole: the unbroken view that this is a part of, where a view is broken: model space has it whole, and its
            frame is a window on it. Its origin is where the first part has it.
    """

    name: str
    origin: Point
    scale: float
    marks: tuple[Mark, ...]
    dimensions: tuple[Dimension, ...] = ()
    frame: tuple[float, float, float, float] | None = None
    whole: View | None = None

    def to_paper(self, point: Point) -> Point:
        """Take a model point of this view to paper."""
        return self.origin[0] + point[0] * self.scale, self.origin[1] + point[1] * self.scale

    def to_model(self, point: Point) -> Point:
        """Take a paper point to this view's model coordinates."""
        return (point[0] - self.origin[0]) / self.scale, (point[1] - self.origin[1]) / self.scale


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One sheet of paper.

    Attributes:
        size: its name, such as "A3" or "B".
        width, height: trimmed size, mm, as it lies.
        views: views, the first one at the main scale.
        marks: everything that belongs to the paper: frame, title block, tables, notes.
    """

    size: str
    width: float
    height: float
    views: tuple[View, ...]
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """All sheets of one drawing.

    Attributes:
        name: file-name-safe name.
        title: title for the files' properties.
        unit: "mm" or "in": the unit of model space and of all written dimensions.
        sheets: one or more sheets.
        properties: further words for the files' properties: content id, design name.
        lacks: sentences about what found no place on it.
    """

    name: str
    title: str
    unit: str
    sheets: tuple[Sheet, ...]
    properties: tuple[tuple[str, str], ...] = ()
    lacks: tuple[str, ...] = ()


def on_paper(view: View) -> Iterable[Mark]:
    """Yield the view's geometry marks in paper coordinates; its dimensions' marks are in paper coordinates already."""
    for mark in view.marks:
        yield placed(mark, view)


def placed(mark: Mark, view: View) -> Mark:
    """Return one model mark of a view as a paper mark."""
    match mark:
        case Stroke(points, line, closed):
            return Stroke(tuple(view.to_paper(p) for p in points), line, closed)
        case Circle(centre, radius, line):
            return Circle(view.to_paper(centre), radius * view.scale, line)
        case Arc(centre, radius, start, end, line):
            return Arc(view.to_paper(centre), radius * view.scale, start, end, line)
        case Fill(points, line):
            return Fill(tuple(view.to_paper(p) for p in points), line)
        case Text():
            return Text(view.to_paper(mark.at), mark.text, mark.height, mark.anchor, mark.angle, mark.middle, mark.line)
