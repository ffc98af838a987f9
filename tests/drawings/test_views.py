"""Views of a piece: edges where the features put them."""

from __future__ import annotations

from dataclasses import replace
from math import atan2, cos, degrees, dist, hypot, radians, sqrt, tan

import pytest

from slotwright.drawings.linings import lining
from slotwright.drawings.paper.sheet import Arc, Circle, Line, Mark, Point, Stroke
from slotwright.drawings.paper.style import Style, style
from slotwright.drawings.pictorial import pictorial, project
from slotwright.drawings.piece.sections import cut_for, section
from slotwright.drawings.profiles import profile
from slotwright.drawings.views import elevation, hole_from_above, plan
from slotwright.parts.materials import material
from slotwright.pieces.features import Counterbore, Face, Hole
from slotwright.pieces.piece import Piece
from tests.drawings.pieces import ALL, CROWDED, INCH_BAR, METRIC, TWO_ROWS, bar, plain, tapped

ISO, ASME = style("iso", "mm"), style("asme", "in")


def _strokes(marks: tuple[Mark, ...], *kinds: Line) -> list[Stroke]:
    return [m for m in marks if isinstance(m, Stroke) and m.line in kinds]


@pytest.mark.parametrize("look", [ISO, ASME], ids=["iso", "asme"])
@pytest.mark.parametrize("name", ALL)
def test_plan_has_a_circle_of_the_bore_at_every_round_hole(name: str, look: Style) -> None:
    piece = ALL[name]
    circles = [(m.centre, m.radius) for m in plan(piece, 0.5, look) if isinstance(m, Circle)]
    for hole in piece.holes:
        if not hole.slot_extra:
            assert circles.count(((hole.x, hole.y), hole.diameter / 2.0)) == 1


def test_thread_in_the_plan_is_three_quarters_of_a_narrow_circle() -> None:
    """ISO 6410-1: about three quarters of the circumference, the bore's circle wide."""
    arcs = [m for m in hole_from_above(tapped(30.0, 20.0), ISO) if isinstance(m, Arc)]
    assert [(a.centre, a.radius, a.end - a.start, a.line) for a in arcs] == [((30.0, 20.0), 6.0, 270.0, Line.THREAD)]


def test_thread_in_the_plan_is_a_hidden_circle_in_asme() -> None:
    """ASME Y14.6, simplified: major diameter of an internal thread dashed."""
    rings = [m for m in hole_from_above(tapped(30.0, 20.0), ASME) if isinstance(m, Circle)]
    assert [(r.radius, r.line) for r in rings] == [(5.1, Line.OUTLINE), (6.0, Line.HIDDEN)]


def test_blind_hole_from_below_is_hidden_in_the_plan() -> None:
    hole = Hole(x=30.0, y=20.0, diameter=8.0, depth=10.0, face=Face.BOTTOM)
    assert {m.line for m in hole_from_above(hole, ISO)} == {Line.HIDDEN}


def test_counterbore_from_below_is_hidden_around_a_visible_bore() -> None:
    hole = Hole(x=0, y=0, diameter=11.0, counterbore=Counterbore(diameter=18.0, depth=5.0), face=Face.BOTTOM)
    rings = {m.radius: m.line for m in hole_from_above(hole, ISO) if isinstance(m, Circle)}
    assert rings == {5.5: Line.OUTLINE, 9.0: Line.HIDDEN}


def test_slot_is_two_sides_and_two_half_circles() -> None:
    marks = hole_from_above(Hole(x=100.0, y=40.0, diameter=14.0, slot_extra=10.0, slot_angle=90.0), ISO)
    ends = sorted((round(m.centre[0], 9), round(m.centre[1], 9), m.radius) for m in marks if isinstance(m, Arc))
    sides = sorted(round(m.points[0][0], 9) for m in marks if isinstance(m, Stroke))
    assert ends == [(100.0, 35.0, 7.0), (100.0, 45.0, 7.0)]
    assert sides == [93.0, 107.0]


def test_drill_point_is_as_long_as_the_closed_form() -> None:
    """Closed form: D / (2 tan 59 degrees) = 0.3004 D for a 118 degree drill; handbooks print 0.3 D."""
    shape = profile(Hole(x=0, y=0, diameter=10.0, depth=15.0), 30.0)
    assert shape.top == 30.0
    assert shape.bottom == pytest.approx(30.0 - 15.0 - 10.0 / (2.0 * tan(radians(59.0))))
    assert 15.0 - shape.bottom == pytest.approx(3.004, abs=5e-4)


def test_profile_turns_over_for_a_hole_from_below() -> None:
    shape = profile(Hole(x=0, y=0, diameter=10.0, depth=15.0, face=Face.BOTTOM), 30.0)
    assert (shape.bottom, round(shape.top, 3)) == (0.0, 18.004)


def _area(polygon: tuple[Point, ...]) -> float:
    pairs = zip(polygon, (*polygon[1:], polygon[0]), strict=True)
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)) / 2.0


def test_void_has_the_area_of_the_cut_hole() -> None:
    """By hand: counterbore 20 x 12.6, bore 13.5 over the rest of 20."""
    hole = Hole(x=0, y=0, diameter=13.5, counterbore=Counterbore(diameter=20.0, depth=12.6))
    assert _area(profile(hole, 20.0).void) == pytest.approx(20.0 * 12.6 + 13.5 * 7.4)


@pytest.mark.parametrize("axis", ["x", "y"])
def test_hidden_walls_of_a_through_hole_stand_a_radius_off_its_axis(axis: str) -> None:
    piece = bar(plain(60.0, 12.0, 10.0))
    at = 60.0 if axis == "x" else 12.0
    marks = elevation(piece, 1.0, ISO, "x" if axis == "x" else "y")
    assert sorted(s.points[0][0] for s in _strokes(marks, Line.HIDDEN)) == [at - 5.0, at + 5.0]
    assert [s.points[0][0] for s in _strokes(marks, Line.CENTRE)] == [at]


def test_a_slot_shows_its_length_only_along_itself() -> None:
    piece = bar(Hole(x=60.0, y=20.0, diameter=10.0, slot_extra=8.0))
    front = sorted(s.points[0][0] for s in _strokes(elevation(piece, 1.0, ISO), Line.HIDDEN))
    end = sorted(s.points[0][0] for s in _strokes(elevation(piece, 1.0, ISO, "y"), Line.HIDDEN))
    assert (front, end) == ([51.0, 69.0], [15.0, 25.0])


def test_holes_behind_each_other_are_drawn_once() -> None:
    piece = bar(plain(60.0, 10.0), plain(60.0, 30.0))
    assert len(_strokes(elevation(piece, 1.0, ISO), Line.HIDDEN)) == 2


def test_chamfer_lines_are_left_out_where_they_would_blot() -> None:
    """ISO 128-2 asks for 0.7 mm between lines (from memory): 1 mm shows at 1:1 and not at 1:2."""
    piece = bar(chamfer=1.0)
    assert len(_strokes(plan(piece, 1.0, ISO), Line.OUTLINE)) == 2
    assert len(_strokes(plan(piece, 0.5, ISO), Line.OUTLINE)) == 1


# Sections


def test_no_section_for_plain_through_holes() -> None:
    assert cut_for(INCH_BAR) is None
    assert cut_for(bar()) is None


def test_one_row_with_blind_holes_is_cut_straight_through_all() -> None:
    cut = cut_for(METRIC)
    assert cut is not None
    assert cut.plain
    assert cut.path == ((0.0, 20.0), (800.0, 20.0))
    assert len(cut.holes) == len(METRIC.holes)


def test_bent_plane_runs_through_every_axis_it_claims_and_shows_every_size() -> None:
    cut = cut_for(CROWDED)
    assert cut is not None
    assert not cut.plain
    legs = [(a, b) for a, b in zip(cut.path, cut.path[1:], strict=False) if a[1] == b[1]]
    for hole in cut.holes:
        assert any(a[1] == hole.y and a[0] <= hole.x <= b[0] for a, b in legs)
    assert {(h.diameter, h.counterbore, h.depth) for h in cut.holes} == {
        (h.diameter, h.counterbore, h.depth) for h in CROWDED.holes
    }


def test_holes_that_do_not_overlap_in_the_elevation_stay_hidden_lines() -> None:
    rows = bar(tapped(20.0, 10.0, 15.0, 10.0), tapped(60.0, 30.0, 15.0, 10.0))
    assert cut_for(rows) is None


def test_bends_cut_no_hole() -> None:
    piece = bar(tapped(20.0, 8.0, 15.0, 10.0), plain(30.0, 32.0, 10.0), plain(80.0, 32.0, 10.0), plain(50.0, 8.0, 6.0))
    cut = cut_for(piece)
    assert cut is not None
    bends = [a[0] for a, b in zip(cut.path, cut.path[1:], strict=False) if a[0] == b[0]]
    assert bends
    for x in bends:
        assert all(abs(x - hole.x) > hole.widest / 2.0 for hole in piece.holes)


def _lined(lines: list[tuple[Point, Point]], space: float) -> float:
    """Area that section lines stand for: each is the middle of a strip as wide as their distance."""
    return sum(dist(a, b) for a, b in lines) * space


def test_lining_covers_the_metal_and_nothing_else() -> None:
    """By hand: 100 x 20 less a 20 x 20 hole is 1600 mm2; strips half a mm wide come within 2 %."""
    block = [(0.0, 0.0), (100.0, 0.0), (100.0, 20.0), (0.0, 20.0)]
    hole = [(40.0, 0.0), (60.0, 0.0), (60.0, 20.0), (40.0, 20.0)]
    lines = lining([block, hole], 0.5)
    assert _lined(lines, 0.5) == pytest.approx(1600.0, rel=0.02)
    assert not any(40.0 < (a[0] + b[0]) / 2.0 < 60.0 and 0.01 < (a[1] + b[1]) / 2.0 < 19.99 for a, b in lines)


def test_lining_leans_both_ways() -> None:
    block = [(0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (0.0, 20.0)]
    for left, slope in ((False, 45.0), (True, -45.0)):
        (ax, ay), (bx, by) = max(lining([block], 2.0, leaning_left=left), key=lambda s: dist(*s))
        turn = degrees(atan2(by - ay, bx - ax))
        assert turn % 180.0 == pytest.approx(slope % 180.0)


def test_section_lines_never_run_through_a_hole() -> None:
    cut = cut_for(METRIC)
    assert cut is not None
    lines = _strokes(section(METRIC, cut, 0.5, ISO), Line.HATCH)
    assert lines
    for hole in (h for h in METRIC.holes if h.depth is None):
        radius = hole.diameter / 2.0
        inside = [s for s in lines if abs((s.points[0][0] + s.points[1][0]) / 2.0 - hole.x) < radius - 1e-6]
        assert inside == []


def test_thread_in_section_is_narrow_and_the_lining_runs_up_to_the_bore() -> None:
    """ISO 6410-1: crests narrow, and section lines go on to the line of the bore."""
    piece = bar(tapped(80.0, 20.0, 15.0, 10.0))
    cut = cut_for(piece)
    assert cut is not None
    marks = section(piece, cut, 1.0, ISO)
    assert sorted({p[0] for s in _strokes(marks, Line.THREAD) for p in s.points}) == [74.0, 86.0]
    ends = [p[0] for s in _strokes(marks, Line.HATCH) for p in s.points]
    assert any(abs(x - 85.1) < 1e-6 for x in ends)


# Pictorial


def test_dimetric_axes() -> None:
    """ISO 5456-3: one axis at 7 degrees in full size, one at 42 degrees in half size, one upright in full size."""
    x, y, z = project((1.0, 0.0, 0.0)), project((0.0, 1.0, 0.0)), project((0.0, 0.0, 1.0))
    assert (hypot(*x), hypot(*y), hypot(*z)) == pytest.approx((1.0, 0.5, 1.0))
    assert abs(degrees(atan2(x[1], x[0]))) == pytest.approx(7.0)
    assert degrees(atan2(y[1], y[0])) == pytest.approx(42.0)
    assert z == (0.0, 1.0)


def test_a_sharp_box_shows_nine_edges() -> None:
    """Three faces of a box meet in view: nine different edges."""
    assert len(pictorial(bar(), 1.0)) == 9


def test_mouth_of_a_hole_is_the_projected_circle() -> None:
    mouth = next(m for m in pictorial(bar(plain(60.0, 20.0, 10.0)), 1.0) if isinstance(m, Stroke) and m.closed)
    centre = project((60.0, 20.0, 20.0))
    reach = max(abs(p[0] - centre[0]) for p in mouth.points)
    # Across the picture a circle of radius r reaches r sqrt(ax^2 + bx^2), ax = cos 7, bx = cos 42 / 2.
    assert reach == pytest.approx(5.0 * sqrt(cos(radians(7)) ** 2 + (cos(radians(42)) / 2) ** 2), rel=0.01)


def test_floor_of_a_shallow_counterbore_is_seen_in_part() -> None:
    piece: Piece = bar(Hole(x=60.0, y=20.0, diameter=8.0, counterbore=Counterbore(diameter=24.0, depth=2.0)))
    rims = [m for m in pictorial(piece, 1.0) if isinstance(m, Stroke) and len(m.points) > 4]
    assert len(rims) >= 3


def test_two_rows_have_everything_drawn() -> None:
    assert sum(isinstance(m, Circle) for m in plan(TWO_ROWS, 0.5, ISO)) == 11  # 10 round bores, one counterbore


def _section_lines(metal: str) -> list[tuple[bool, float]]:
    """Direction and length of every section line of a plain bar in a material."""
    piece = replace(bar(tapped(80.0, 20.0, 12.0, 9.0)), material=material(metal))
    cut = cut_for(piece)
    assert cut is not None
    spans = [m.points for m in section(piece, cut, 1.0, style("iso", "mm"))
             if isinstance(m, Stroke) and m.line is Line.HATCH]  # fmt: skip
    return [((b[0] - a[0]) * (b[1] - a[1]) > 0.0, dist(a, b)) for a, b in spans]


def test_materials_are_told_apart_by_their_lining() -> None:
    """Usual symbols, ASME Y14.2 and Y14.3 from memory; ISO 128-50 leaves them free."""
    iron, steel = _section_lines("EN-GJL-250 / ASTM A48 class 35"), _section_lines("S235JR / AISI 1018-1020")
    brass, light, plastic = (_section_lines(m) for m in ("CuZn39Pb3 / C36000", "EN AW-6061-T6", "POM-C acetal"))
    assert all(right for right, _ in (*iron, *steel, *brass))  # one way only
    assert {right for right, _ in light} == {right for right, _ in plastic} == {True, False}
    assert len(steel) > 1.2 * len(iron)  # pairs
    whole = 0.9 * max(long for _, long in iron)
    assert [long for right, long in brass if long < 5.3]  # dashes
    assert [long for right, long in brass if long > whole]
    assert max(long for right, long in light if not right) < 5.3  # dashes only, the other way
    assert max(long for right, long in plastic if not right) > whole
