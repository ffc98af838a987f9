"""Small drawings made by hand, in which every length is known without the program."""

from __future__ import annotations

from math import cos, radians, sin

import pytest

from slotwright.drawings.paper.sheet import (
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

PLATE = (100.0, 60.0)  # mm
HOLES = ((20.0, 20.0, 12.0), (80.0, 20.0, 12.0), (50.0, 45.0, 25.4))  # x, y, diameter, mm


def _arrow(tip: Point, way: float) -> Fill:
    c, s = cos(radians(way)), sin(radians(way))
    x, y = tip
    back = (x - 3.0 * c, y - 3.0 * s)
    sides = (back[0] - 0.5 * s, back[1] + 0.5 * c), (back[0] + 0.5 * s, back[1] - 0.5 * c)
    return Fill((tip, *sides), Line.DIMENSION)


def _line(*points: Point) -> Stroke:
    return Stroke(points, Line.DIMENSION)


def _words(at: Point, text: str, angle: float = 0.0) -> Text:
    return Text(at, text, 3.5, Anchor.CENTRE, angle, True, Line.DIMENSION)


def _plate() -> tuple[Mark, ...]:
    wide, high = PLATE
    marks: list[Mark] = [Stroke(((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)), Line.OUTLINE, True)]
    for x, y, diameter in HOLES:
        reach = diameter / 2.0 + 3.0
        marks.append(Circle((x, y), diameter / 2.0, Line.OUTLINE))
        marks.append(Stroke(((x - reach, y), (x + reach, y)), Line.CENTRE))
        marks.append(Stroke(((x, y - reach), (x, y + reach)), Line.CENTRE))
    marks.append(Stroke(((10.0, 0.0), (10.0, high)), Line.HIDDEN))
    marks.append(Arc((0.0, 0.0), 8.0, 0.0, 90.0, Line.PHANTOM))
    marks.append(Text((20.0, 32.0), "A1", 3.5, Anchor.CENTRE, 0.0, True))
    return tuple(marks)


def _dimensions(at: Point) -> tuple[Dimension, ...]:
    """One of each kind; at is where the plate's corner lands on paper, at full size."""
    x, y = at
    return (
        Dimension(
            kind=DimensionKind.LINEAR,
            points=((0.0, 60.0), (100.0, 60.0), (50.0, 75.0)),
            value=100.0,
            text_at=(50.0, 77.5),
            places=2,
            marks=(
                _line((x, y + 61.0), (x, y + 77.0)),
                _line((x + 100.0, y + 61.0), (x + 100.0, y + 77.0)),
                _line((x, y + 75.0), (x + 100.0, y + 75.0)),
                _arrow((x, y + 75.0), 180.0),
                _arrow((x + 100.0, y + 75.0), 0.0),
                _words((x + 50.0, y + 77.75), "100"),
            ),
        ),
        Dimension(
            kind=DimensionKind.LINEAR,
            points=((0.0, 20.0), (0.0, 30.0), (-12.0, 25.0)),
            direction=90.0,
            value=10.0,
            text_at=(-14.0, 25.0),
            text_angle=90.0,
            places=2,
            marks=(_line((x - 12.0, y + 20.0), (x - 12.0, y + 30.0)), _words((x - 14.75, y + 25.0), "10", 90.0)),
        ),
        Dimension(
            kind=DimensionKind.ORDINATE_X,
            points=((0.0, 0.0), (20.0, 20.0), (20.0, -12.0)),
            value=20.0,
            text_at=(20.0, -17.0),
            text_angle=90.0,
            places=2,
            marks=(_line((x + 20.0, y + 12.0), (x + 20.0, y - 12.0)), _words((x + 20.0, y - 17.0), "20", 90.0)),
        ),
        Dimension(
            kind=DimensionKind.ORDINATE_Y,
            points=((0.0, 0.0), (80.0, 20.0), (112.0, 20.0)),
            value=20.0,
            text_at=(117.0, 20.0),
            places=2,
            marks=(_line((x + 89.0, y + 20.0), (x + 112.0, y + 20.0)), _words((x + 117.0, y + 20.0), "20")),
        ),
        Dimension(
            kind=DimensionKind.DIAMETER,
            points=((50.0, 45.0), (62.7, 45.0)),
            value=25.4,
            text="⌀<>",
            text_at=(120.0, 45.0),
            places=1,
            marks=(
                _arrow((x + 62.7, y + 45.0), 180.0),
                _line((x + 62.7, y + 45.0), (x + 110.0, y + 45.0)),
                _words((x + 120.0, y + 45.0), "⌀25.4"),
            ),
        ),
        Dimension(
            kind=DimensionKind.RADIUS,
            points=((0.0, 0.0), (8.0, 0.0)),
            value=8.0,
            text="R<> TYP",
            text_at=(3.0, -5.0),
            places=2,
            marks=(_words((x + 3.0, y - 5.0), "R8 TYP"),),
        ),
        Dimension(
            kind=DimensionKind.ANGLE,
            points=((0.0, 0.0), (50.0, 0.0), (0.0, 50.0), (28.28427, 28.28427)),
            value=90.0,
            text="<>°",
            text_at=(28.0, 28.0),
            places=1,
            marks=(Arc((x, y), 40.0, 0.0, 90.0, Line.DIMENSION), _words((x + 28.0, y + 28.0), "90°")),
        ),
    )


def _paper(width: float, height: float, number: str) -> tuple[Mark, ...]:
    border = ((10.0, 10.0), (width - 10.0, 10.0), (width - 10.0, height - 10.0), (10.0, height - 10.0))
    return (
        Stroke(border, Line.FRAME, True),
        Stroke(((20.0, 20.0), (120.0, 20.0)), Line.RULE),
        Text((20.0, 22.0), "100 mm on paper", 2.5),
        Text((width - 12.0, 12.0), f"Sheet {number}", 5.0, Anchor.RIGHT),
        Text((20.0, height - 20.0), "Millrace canal-lock depot: 4× ⌀12 ↧20 ⌴⌀18 ±0.1 <b>&amp; 50%%d ^J \\U+0041", 3.5),
    )


@pytest.fixture(params=["mm", "in"])
def unit(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def plate_drawing(unit: str) -> Drawing:
    """Two sheets: a plate at 1:1 with an aligned elevation and a 2:1 detail; the plate again at 1:5."""
    at = (60.0, 120.0)
    plan = View(name="plan", origin=at, scale=1.0, marks=_plate(), dimensions=_dimensions(at))
    side = Stroke(((0.0, 0.0), (100.0, 0.0), (100.0, 15.0), (0.0, 15.0)), Line.OUTLINE, True)
    elevation = View(name="front elevation", origin=(60.0, 60.0), scale=1.0, marks=(side,))
    detail = View(
        name="detail B",
        origin=(270.0 - 40.0, 100.0 - 40.0),
        scale=2.0,
        marks=_plate(),
        frame=(220.0, 50.0, 300.0, 150.0),
    )
    small = View(name="plan", origin=(50.0, 100.0), scale=0.2, marks=_plate())
    return Drawing(
        name="plate",
        title="Plate <1> & ⌀",
        unit=unit,
        sheets=(
            Sheet(
                size="A3",
                width=420.0,
                height=297.0,
                views=(plan, elevation, detail),
                marks=_paper(420.0, 297.0, "1/2"),
            ),
            Sheet(size="A4", width=210.0, height=297.0, views=(small,), marks=_paper(210.0, 297.0, "2/2")),
        ),
        properties=(("content id", "3f9a-11c0"), ("design", "plate")),
    )


@pytest.fixture
def drawing(unit: str) -> Drawing:
    return plate_drawing(unit)
