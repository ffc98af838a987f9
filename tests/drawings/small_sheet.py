"""A small sheet made by hand, clean as it stands, for planting faults on it: all lengths are known on paper."""

from __future__ import annotations

from math import cos, radians, sin

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.sheet import (
    Anchor,
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
from slotwright.drawings.paper.style import style
from slotwright.drawings.proof import Violation, proof, proof_of
from slotwright.drawings.writers.dxf import dxf_bytes

WIDE, HIGH = 300.0, 200.0
H = 3.5  # height of capitals
NARROW, THICK = 0.25, 0.5  # line widths of the group 0.5 (ISO 128-2)


def rectangle(x0: float, y0: float, x1: float, y1: float, line: Line) -> Stroke:
    return Stroke(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), line, closed=True)


def hold(at: Point, angle: float = 0.0, line: Line = Line.NOTE) -> Text:
    """A text of flat capitals whose middle is at a point: their box is as high as capitals, without overshoot."""
    return Text(at, "HHHHHHHH", H, Anchor.CENTRE, angle, True, line)


LONG = lettering.width("HHHHHHHH", H)


def arrow(tip: Point, way: float) -> Fill:
    c, s = cos(radians(way)), sin(radians(way))
    back = (tip[0] - 3.0 * c, tip[1] - 3.0 * s)
    return Fill((tip, (back[0] - 0.5 * s, back[1] + 0.5 * c), (back[0] + 0.5 * s, back[1] - 0.5 * c)), Line.DIMENSION)


def stroke(*points: Point, line: Line = Line.DIMENSION) -> Stroke:
    return Stroke(points, line)


PLATE_AT = (60.0, 90.0)
ROOM = (230.0, 120.0)  # an empty place of the sheet
RX, RY = ROOM


def plate() -> View:
    """A plate of 100 x 40 at full size with one hole; its corner lands at PLATE_AT."""
    marks = (
        rectangle(0.0, 0.0, 100.0, 40.0, Line.OUTLINE),
        Circle((50.0, 20.0), 6.0, Line.OUTLINE),
        Stroke(((41.0, 20.0), (59.0, 20.0)), Line.CENTRE),
        Stroke(((50.0, 11.0), (50.0, 29.0)), Line.CENTRE),
    )
    return View(name="plan", origin=PLATE_AT, scale=1.0, marks=marks, dimensions=(over(10.0), ordinate()))


def over(out: float, text_up: float = 2.75, further: tuple[Mark, ...] = ()) -> Dimension:
    """The plate's length, so far above it."""
    x, y = PLATE_AT
    top = y + 40.0 + out
    marks = (
        stroke((x, y + 41.0), (x, top + 2.0)),
        stroke((x + 100.0, y + 41.0), (x + 100.0, top + 2.0)),
        stroke((x, top), (x + 100.0, top)),
        arrow((x, top), 180.0),
        arrow((x + 100.0, top), 0.0),
        Text((x + 50.0, top + text_up), "100", H, Anchor.CENTRE, 0.0, True, Line.DIMENSION),
        *further,
    )
    return Dimension(
        kind=DimensionKind.LINEAR,
        points=((0.0, 40.0), (100.0, 40.0), (50.0, 40.0 + out)),
        value=100.0,
        text_at=(50.0, 40.0 + out + text_up),
        places=2,
        marks=marks,
    )


def ordinate(shift: float = 0.0) -> Dimension:
    """The hole's X below the plate: its text stands right at the end of its own leader."""
    x, y = PLATE_AT
    marks = (
        stroke((x + 50.0, y - 2.0), (x + 50.0, y - 8.0)),
        Text((x + 50.0 + shift, y - 12.0), "50", H, Anchor.CENTRE, 90.0, True, Line.DIMENSION),
    )
    return Dimension(
        kind=DimensionKind.ORDINATE_X,
        points=((0.0, 0.0), (50.0, 20.0), (50.0, -8.0)),
        value=50.0,
        text_at=(50.0, -12.0),
        text_angle=90.0,
        places=2,
        marks=marks,
    )


def border() -> tuple[Mark, ...]:
    """Frame, zone band with letters A, B and numbers 1, 2, title block."""
    labels = [("1", 82.5, 7.5), ("2", 217.5, 7.5), ("A", 7.5, 150.0), ("B", 7.5, 50.0)]
    return (
        rectangle(10.0, 10.0, WIDE - 10.0, HIGH - 10.0, Line.FRAME),
        rectangle(5.0, 5.0, WIDE - 5.0, HIGH - 5.0, Line.RULE),
        *(Text((x, y), name, 2.5, Anchor.CENTRE, 0.0, True, Line.RULE) for name, x, y in labels),
        stroke((150.0, 5.0), (150.0, 15.0), line=Line.FRAME),
        rectangle(210.0, 10.0, 290.0, 40.0, Line.FRAME),
        stroke((210.0, 25.0), (290.0, 25.0), line=Line.RULE),
        Text((214.0, 30.0), "Plate", H),
    )


def drawing(*further: Mark, view: View | None = None, views: tuple[View, ...] = ()) -> Drawing:
    sheet = Sheet(size="X", width=WIDE, height=HIGH, views=(view or plate(), *views), marks=(*border(), *further))
    return Drawing(name="plate", title="Plate", unit="mm", sheets=(sheet,))


def judged(one: Drawing) -> tuple[Violation, ...]:
    """Judge a drawing from its file and from itself."""
    found = proof_of(one)
    assert proof(dxf_bytes(one, style("iso", one.unit))) == found
    return found


def only(one: Drawing) -> Violation:
    found = judged(one)
    assert len(found) == 1, [v.sentence for v in found]
    return found[0]


def hold_letter(letter: str, at: Point) -> Text:
    return Text(at, letter, H, Anchor.CENTRE, 0.0, True, Line.DIMENSION)


def scene(*marks: Mark) -> Drawing:
    sheet = Sheet(size="X", width=WIDE, height=HIGH, views=(), marks=(border()[0], *marks))
    return Drawing(name="scene", title="Scene", unit="mm", sheets=(sheet,))
