"""Dimensions: the right figure, in the right place, drawn by the style."""

from __future__ import annotations

from itertools import pairwise

import pytest

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.dimensioning import Side, Station, linear, ordinates
from slotwright.drawings.paper.placing import Box, Register, spread, text_box
from slotwright.drawings.paper.sheet import Anchor, Circle, Dimension, DimensionKind, Fill, Line, Stroke, Text, View
from slotwright.drawings.paper.style import Style, style
from slotwright.drawings.paper.symbols import control_frame, datum, leader

ISO, ASME, ASME_IN = style("iso", "mm"), style("asme", "mm"), style("asme", "in")
VIEW = View(name="plan", origin=(50.0, 100.0), scale=0.5, marks=())


def _text(dimension: Dimension) -> Text:
    return next(m for m in dimension.marks if isinstance(m, Text))


def _strokes(dimension: Dimension) -> list[Stroke]:
    return [m for m in dimension.marks if isinstance(m, Stroke)]


@pytest.mark.parametrize(
    ("b", "look", "places", "reads"),
    [
        pytest.param(10.0, ISO, None, "10", id="10-mm-reads-10"),
        pytest.param(87.5, ISO, None, "87.5", id="87.5-mm"),
        pytest.param(12.7, ASME_IN, None, ".500", id="half-an-inch-without-leading-zero"),
        pytest.param(31.8125 * 25.4, ASME_IN, 2, "31.81", id="31-13/16-to-two-places"),
    ],
)
def test_linear_reads_the_measured_distance(b: float, look: Style, places: int | None, reads: str) -> None:
    """ISO 129-1 and ASME Y14.5: no trailing zeros in mm; inch decimals without a leading zero."""
    found = linear(VIEW, (0.0, 0.0), (b, 7.0), 60.0, look, places=places)
    assert _text(found).text == reads
    assert found.value == pytest.approx(b)
    assert found.kind is DimensionKind.LINEAR


def test_arrow_tips_stand_on_the_extension_lines() -> None:
    found = linear(VIEW, (20.0, 0.0), (120.0, 0.0), 80.0, ISO)
    tips = sorted(m.points[0] for m in found.marks if isinstance(m, Fill))
    assert tips == [(60.0, 80.0), (110.0, 80.0)]  # 50 + 20 / 2 and 50 + 120 / 2


def test_extension_lines_leave_a_gap_and_run_over() -> None:
    found = linear(VIEW, (20.0, 0.0), (120.0, 0.0), 80.0, ISO)
    upright = [s for s in _strokes(found) if s.points[0][0] == s.points[1][0]]
    assert [sorted(p[1] for p in s.points) for s in upright] == [[80.0 - 2.0, 100.0 - 1.0]] * 2


def test_iso_text_stands_above_an_unbroken_line() -> None:
    found = linear(VIEW, (0.0, 0.0), (200.0, 0.0), 80.0, ISO)
    level = [s for s in _strokes(found) if s.points[0][1] == s.points[1][1]]
    assert [s.points for s in level] == [((50.0, 80.0), (150.0, 80.0))]
    assert text_box(_text(found)).y0 > 80.0 - 0.001


def test_asme_text_interrupts_the_line() -> None:
    found = linear(VIEW, (0.0, 0.0), (200.0, 0.0), 80.0, ASME)
    level = sorted(s.points for s in _strokes(found) if s.points[0][1] == s.points[1][1])
    (a, b), (c, d) = level
    assert (a[0], d[0]) == (50.0, 150.0)
    room = c[0] - b[0]
    assert room == pytest.approx(lettering.width("200", 3.0) + 2.0 * 1.5)


def test_upright_iso_text_is_read_from_the_right() -> None:
    assert _text(linear(VIEW, (0.0, 0.0), (0.0, 80.0), 40.0, ISO, upright=True)).angle == 90.0
    assert _text(linear(VIEW, (0.0, 0.0), (0.0, 80.0), 40.0, ASME, upright=True)).angle == 0.0


@pytest.mark.parametrize("up", [True, False])
def test_a_text_too_long_goes_beyond_the_end_asked_for(up: bool) -> None:
    found = linear(VIEW, (0.0, 0.0), (4.0, 0.0), 80.0, ISO, text="<> ENGAGED", overflow_up=up)
    box = text_box(_text(found))
    assert box.x0 > 52.0 + 6.0 if up else box.x1 < 50.0 - 6.0  # beyond two arrows


# Ordinates


@pytest.mark.parametrize("side", list(Side))
def test_ordinates_read_the_distance_from_the_origin(side: Side) -> None:
    places = [(0.0, 0.0), (30.0, 12.0), (87.5, 40.0)]
    found = ordinates(VIEW, (0.0, 0.0), [Station(p, 0.0) for p in places], side, 0.0, ISO)
    axis = 0 if side.upright else 1
    assert [_text(d).text for d in found] == [["0", "30", "87.5"], ["0", "12", "40"]][axis]


def test_crowded_ordinates_stand_a_text_height_apart_and_keep_their_order() -> None:
    xs = [0.0, 4.0, 8.0, 10.0, 12.0, 60.0]
    found = ordinates(VIEW, (0.0, 0.0), [Station((x, 0.0), 121.0) for x in xs], Side.TOP, 120.0, ISO)
    middles = [_text(d).at[0] for d in found]
    assert all(b - a >= 2.0 * ISO.text - 1e-9 for a, b in pairwise(middles))
    paths = [_strokes(d)[0].points for d in found]
    for one, next_one in pairwise(paths):  # leaders bend at the same heights, so keeping the order means no crossing
        assert all(p[0] < q[0] for p, q in zip(one, next_one, strict=False))


def test_a_lone_ordinate_has_a_straight_leader() -> None:
    (found,) = ordinates(VIEW, (0.0, 0.0), [Station((40.0, 0.0), 101.0)], Side.TOP, 120.0, ISO)
    (path,) = _strokes(found)
    assert {p[0] for p in path.points} == {70.0}


@pytest.mark.parametrize(
    ("wanted", "pitch", "expected"),
    [
        pytest.param([0.0, 10.0], 5.0, [0.0, 10.0], id="far-apart-stays"),
        pytest.param([0.0, 0.0], 4.0, [-2.0, 2.0], id="two-part-evenly"),
        pytest.param([0.0, 3.0, 6.0], 5.0, [-2.0, 3.0, 8.0], id="three-about-the-middle"),
        pytest.param([0.0, 1.0, 20.0], 5.0, [-2.0, 3.0, 20.0], id="a-far-one-stays"),
    ],
)
def test_spread_by_hand(wanted: list[float], pitch: float, expected: list[float]) -> None:
    """Least squares by hand: a pool of n keeps its mean and stands a pitch apart."""
    assert spread(wanted, pitch) == pytest.approx(expected)


# Signs


def test_control_frame_is_a_row_of_boxes_twice_the_lettering_high() -> None:
    """ISO 1101: the frame is twice as high as the lettering; ASME Y14.5 draws it alike."""
    marks = control_frame(10.0, 20.0, ("⌖", "⌀0.5", "A", "B", "C"), 3.5)
    boxes = [m.points for m in marks if isinstance(m, Stroke)]
    assert len(boxes) == 5
    assert all({p[1] for p in box} == {16.5, 23.5} for box in boxes)
    assert all(max(p[0] for p in a) == min(p[0] for p in b) for a, b in pairwise(boxes))
    assert [m.text for m in marks if isinstance(m, Text)] == ["⌖", "⌀0.5", "A", "B", "C"]


@pytest.mark.parametrize("side", list(Side))
def test_datum_triangle_stands_on_the_surface_and_its_letter_outside(side: Side) -> None:
    marks = datum((30.0, 40.0), side, "A", ISO)
    triangle = next(m for m in marks if isinstance(m, Fill))
    letter = next(m for m in marks if isinstance(m, Text))
    ox, oy = side.value
    heights = sorted((x - 30.0) * ox + (y - 40.0) * oy for x, y in triangle.points)
    assert heights[0] == heights[1] == 0.0
    assert heights[2] > 0.0
    assert (letter.at[0] - 30.0) * ox + (letter.at[1] - 40.0) * oy > heights[2]


def test_leader_points_its_arrow_at_the_tip() -> None:
    marks = leader((0.0, 0.0), (5.0, 5.0), ("NOTE", "MORE"), ISO)
    assert next(m for m in marks if isinstance(m, Fill)).points[0] == (0.0, 0.0)
    first, second = (m for m in marks if isinstance(m, Text))
    assert (first.text, second.text) == ("NOTE", "MORE")
    assert second.at[1] < first.at[1]


# The register


def test_register_knows_what_is_taken() -> None:
    taken = Register()
    taken.add([Stroke(((0.0, 0.0), (100.0, 100.0)), Line.OUTLINE), Circle((50.0, 0.0), 10.0, Line.OUTLINE)])
    taken.add([Text((0.0, 50.0), "M12", 3.5, Anchor.LEFT)])
    assert not taken.free(Box(48.0, 48.0, 52.0, 52.0))  # on the slanted line
    assert taken.free(Box(60.0, 20.0, 70.0, 30.0))
    assert taken.free(Box(46.0, -4.0, 54.0, 4.0))  # inside the ring, touching nothing
    assert not taken.free(Box(58.0, -4.0, 62.0, 4.0))  # on the ring
    assert not taken.free(Box(1.0, 51.0, 2.0, 52.0))  # on the text


def test_register_lets_leaders_pass_lines_but_no_texts_and_no_circles() -> None:
    taken = Register()
    taken.add([Stroke(((0.0, -50.0), (0.0, 50.0)), Line.OUTLINE), Circle((30.0, 0.0), 5.0, Line.OUTLINE)])
    taken.add_box(Box(-30.0, -5.0, -20.0, 5.0))
    assert taken.passable((-10.0, 0.0), (10.0, 0.0))
    assert not taken.passable((10.0, 0.0), (50.0, 0.0))
    assert not taken.passable((-40.0, 0.0), (-10.0, 0.0))


def test_text_box_of_a_turned_text_is_as_high_as_the_text_is_long() -> None:
    level = text_box(Text((0.0, 0.0), "800", 3.5, Anchor.CENTRE, 0.0, True))
    turned = text_box(Text((0.0, 0.0), "800", 3.5, Anchor.CENTRE, 90.0, True))
    assert (turned.height, turned.width) == pytest.approx((level.width, level.height))
