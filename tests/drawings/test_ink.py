"""The walk over a sheet, and how dashes and boxes come out, in closed form."""

from __future__ import annotations

from math import cos, pi, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.sheet import Anchor, Arc, Circle, Drawing, Fill, Line, Stroke, Text
from slotwright.drawings.writers import ink

PATTERN = (6.0, 0.75, 0.25, 0.75)


def test_every_mark_of_a_sheet_is_met_once(drawing: Drawing) -> None:
    sheet = drawing.sheets[0]
    expected = len(sheet.marks) + sum(
        len(view.marks) + sum(len(dimension.marks) for dimension in view.dimensions) for view in sheet.views
    )
    assert sum(len(group.marks) for group in ink.groups(sheet)) == expected


def test_views_come_in_paper_coordinates(drawing: Drawing) -> None:
    detail = next(group for group in ink.groups(drawing.sheets[0]) if group.name == "detail B")
    circles = [mark for mark in detail.marks if isinstance(mark, Circle)]
    assert circles[0] == Circle((230.0 + 2 * 20.0, 60.0 + 2 * 20.0), 12.0, Line.OUTLINE)
    assert detail.clip == (220.0, 50.0, 300.0, 150.0)


@pytest.mark.parametrize(
    ("mark", "length"),
    [
        (Stroke(((0.0, 0.0), (3.0, 4.0)), Line.CENTRE), 5.0),
        (Stroke(((0.0, 0.0), (3.0, 0.0), (3.0, 4.0)), Line.CENTRE, True), 12.0),
        (Circle((1.0, 1.0), 10.0, Line.CENTRE), 20.0 * pi),
        (Arc((1.0, 1.0), 10.0, 270.0, 0.0, Line.CENTRE), 5.0 * pi),
        (Arc((1.0, 1.0), 10.0, 30.0, 30.0, Line.CENTRE), 20.0 * pi),
    ],
)
def test_length(mark: Stroke | Circle | Arc, length: float) -> None:
    assert ink.length(mark) == pytest.approx(length)


@given(st.floats(5.0, 2000.0))
def test_an_open_dashed_line_begins_and_ends_with_a_whole_dash(length: float) -> None:
    factor = ink.dash_scale(PATTERN, Stroke(((0.0, 0.0), (length, 0.0)), Line.CENTRE))
    assert factor is not None
    repeats = (length / factor - PATTERN[0]) / sum(PATTERN)
    assert repeats == pytest.approx(round(repeats), abs=1e-6)
    assert round(repeats) >= 1


@given(st.floats(2.0, 500.0))
def test_a_dashed_circle_closes_on_a_whole_pattern(radius: float) -> None:
    factor = ink.dash_scale(PATTERN, Circle((0.0, 0.0), radius, Line.CENTRE))
    assert factor is not None
    repeats = 2.0 * pi * radius / factor / sum(PATTERN)
    assert repeats == pytest.approx(round(repeats), abs=1e-6)


def test_a_line_shorter_than_its_dashes_is_unbroken() -> None:
    assert ink.dash_scale(PATTERN, Stroke(((0.0, 0.0), (2.0, 0.0)), Line.CENTRE)) is None


@pytest.mark.parametrize(("anchor", "back"), [(Anchor.LEFT, 0.0), (Anchor.CENTRE, 0.5), (Anchor.RIGHT, 1.0)])
@pytest.mark.parametrize("angle", [0.0, 90.0, 30.0])
def test_text_starts_its_width_back_and_half_its_height_down(anchor: Anchor, back: float, angle: float) -> None:
    long = lettering.width("BAR", 4.0)
    x, y = ink.start_of(Text((10.0, 20.0), "BAR", 4.0, anchor, angle, middle=True))
    turn = radians(angle)
    assert x == pytest.approx(10.0 - back * long * cos(turn) + 2.0 * sin(turn))
    assert y == pytest.approx(20.0 - back * long * sin(turn) - 2.0 * cos(turn))


def test_extent_holds_everything() -> None:
    marks = (
        Circle((0.0, 0.0), 5.0, Line.OUTLINE),
        Fill(((0.0, 0.0), (9.0, 1.0), (9.0, -1.0)), Line.DIMENSION),
        Text((0.0, 20.0), "BAR", 4.0),
    )
    box = ink.extent(marks)
    assert box is not None
    assert box[:2] == (-5.0, -5.0)
    assert box[2] == pytest.approx(max(9.0, lettering.width("BAR", 4.0)))
    assert box[3] >= 24.0
    assert ink.extent(()) is None
