"""What a set-up's plan and its sections at bolts show of shaped pieces and straps; figures from the demo designs."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import cos, dist, hypot, radians, sin, sqrt
from pathlib import Path

import pytest

from slotwright.drawings.paper.placing import text_box
from slotwright.drawings.paper.sheet import Circle, DimensionKind, Line, Mark, Point, Stroke, Text
from slotwright.drawings.paper.style import style
from slotwright.drawings.setup.bolt_section import bolt_section
from slotwright.drawings.setup.setup_plan import plan_marks
from slotwright.drawings.setup.setup_plan import rings as item_rings
from slotwright.drawings.setup.setup_views import setup_plan
from slotwright.fixtures.layout import Layout
from slotwright.pieces.segment import Segment
from slotwright.sharing.set_up import set_up
from tests.random_designs import random_design

ROOT = Path(__file__).parents[2]
ASME = style("asme", "in")
INCH = 25.4
# From memory: ASME B18.21.1 type B regular, 1/2 in: outside 1.250 in; ASME B18.2.2, 1/2 in: 3/4 in across flats.
WASHER, NUT = 1.25 * INCH, 0.75 * INCH


@cache
def layout(design: str) -> Layout:
    return set_up(ROOT / "fixtures" / f"{design}.toml").solution.layouts[0]


def plan(design: str) -> tuple[Mark, ...]:
    return plan_marks(layout(design), 0.25, ASME)


def rings(marks: tuple[Mark, ...], at: Point) -> list[float]:
    return sorted(2.0 * m.radius for m in marks if isinstance(m, Circle) and dist(m.centre, at) < 1e-3)


def test_nuts_on_ears_are_seen_and_the_holes_under_them_are_not() -> None:
    marks = plan("shaft-vee-blocks")
    for joint in layout("shaft-vee-blocks").joints:
        at = (joint.x, joint.y)
        assert rings(marks, at) == pytest.approx([0.5 * INCH, WASHER]), "the stud's top and the washer"
        hexagon = [m for m in marks if isinstance(m, Stroke) and m.closed and len(m.points) == 6
                   and dist(m.points[0], at) < NUT]  # fmt: skip
        assert len(hexagon) == 1


def test_a_straps_slot_shows_beside_its_washer() -> None:
    marks = plan("pulley-nest")
    for joint in layout("pulley-nest").joints:
        near = [p for m in marks if isinstance(m, Stroke) and m.line is Line.OUTLINE and not m.closed
                and len(m.points) > 4 for p in m.points if dist(p, (joint.x, joint.y)) < 2.0 * INCH]  # fmt: skip
        assert near, "the slot's two ends"
        gaps = [dist(p, (joint.x, joint.y)) - WASHER / 2.0 for p in near]
        assert min(gaps) > -0.1
        assert max(gaps) > 2.0


def test_a_bolt_through_an_ear_is_cut_through_the_ear() -> None:
    # The block's ears are 3/4 in high and reach 1-7/16 in in from the block's ends; a bolt stands 11/16 in from an end.
    one = layout("shaft-vee-blocks")
    drawn = bolt_section(one, one.joints[0], 1.0, ASME)
    in_piece = [m for m in drawn.marks if isinstance(m, Stroke) and min(y for _, y in m.points) > -1e-6]
    lining = [m.points for m in in_piece if m.line is Line.HATCH]
    assert lining
    wall = (1.4375 - 0.6875) * INCH
    for points in lining:
        for x, y in points:
            assert abs(x) > 0.5625 / 2.0 * INCH - 0.05, "nothing is lined where the bolt goes through"
            assert y < 0.75 * INCH + 1e-6 or x > wall - 1e-6, "above the ear there is metal only in the block itself"
            assert y < drawn.top + 1e-6
    level = [m for m in in_piece if m.line is Line.OUTLINE and all(abs(y - 0.75 * INCH) < 1e-6 for _, y in m.points)]
    assert level, "the ear's upper face"
    assert any(m.line is Line.BREAK and all(y > 0.75 * INCH for _, y in m.points) for m in in_piece), "broken off above"


def test_a_strap_is_cut_at_its_angle() -> None:
    # A strap 1-1/2 in wide at 45 degrees is 1-1/2 in times the root of 2 long along table Y.
    one = layout("pulley-nest")
    drawn = bolt_section(one, one.joints[0], 1.0, ASME)
    closed = [m.points for m in drawn.marks if isinstance(m, Stroke) and m.line is Line.OUTLINE and m.closed]
    cut = [ring for ring in closed if {round(y, 6) for _, y in ring} == {0.0, 19.05}]
    us = [u for points in cut for u, _ in points]
    assert len(cut) == 2, "on both sides of the slot"
    assert max(us) - min(us) == pytest.approx(1.5 * INCH * hypot(1.0, 1.0), abs=1e-3)


def moved_straps(design: str, along: float, **by: float) -> Layout:
    """A nest with its straps moved along themselves under their studs, or with everything moved over the table."""
    one = layout(design)
    items = []
    for item in one.hardware:
        at, turn = item.place, radians(item.place.turn)
        far = along if item.item.kind == "flat strap" else 0.0
        place = replace(at, x=at.x + far * cos(turn), y=at.y + far * sin(turn) + by.get("y", 0.0))
        items.append(replace(item, place=place))
    return replace(one, hardware=tuple(items))


def test_a_strap_is_cut_wherever_its_stud_stands_in_its_slot() -> None:
    """As above; 6 mm off the middle of its slot a stud is still in it, and the cut is as long."""
    one = moved_straps("pulley-nest", 6.0)
    drawn = bolt_section(one, one.joints[0], 1.0, ASME)
    closed = [m.points for m in drawn.marks if isinstance(m, Stroke) and m.line is Line.OUTLINE and m.closed]
    us = [u for ring in closed if {round(y, 6) for _, y in ring} == {0.0, 19.05} for u, _ in ring]
    assert max(us) - min(us) == pytest.approx(1.5 * INCH * hypot(1.0, 1.0), abs=1e-3)
    (seat,) = (at for title, at in drawn.seats if title.startswith("flat strap"))
    assert 0.0 < seat[1] < 19.05
    assert max(us) * 0.3 < seat[0] < max(us), "a leader ends in the strap's metal"


def test_figures_stand_beyond_a_strap_that_reaches_over_the_tables_edge() -> None:
    """With the straps 4 in further back they end behind the table; 1:8 is the plan's scale on paper."""
    one = moved_straps("pulley-nest", 0.0, y=4.0 * INCH)
    (view,) = setup_plan(one, {}, 0.125, ASME).views
    straps = [item for item in one.hardware if item.item.kind == "flat strap"]
    back = max(y for item in straps for ring in item_rings(item) for _, y in ring)
    assert back > one.table.width
    places = [d for d in view.dimensions if d.kind is DimensionKind.ORDINATE_X]
    lowest = min(text_box(m).y0 for d in places for m in d.marks if isinstance(m, Text))
    assert lowest > back * 0.125 + ASME.text


def test_packing_under_a_strap_is_hidden_in_the_plan_and_seen_beyond_the_cut() -> None:
    # The metric nest's straps stand 10 mm off the table on packing blocks as wide as themselves, 20 mm along them.
    one = layout("pulley-nest-metric")
    blocks = [item.place for item in one.hardware if item.item.kind == "packing block"]
    assert len(blocks) == 4
    outlines = [m for m in plan("pulley-nest-metric") if isinstance(m, Stroke) and m.line is Line.OUTLINE]
    sides = [Segment(a, b) for m in outlines for a, b in pairwise((*m.points, *m.points[: m.closed]))]
    for block in blocks:
        stud = min(one.joints, key=lambda joint: dist((joint.x, joint.y), (block.x, block.y)))
        share = 10.0 / dist((stud.x, stud.y), (block.x, block.y))
        inner = block.x + (stud.x - block.x) * share, block.y + (stud.y - block.y) * share
        assert min(side.distance(inner) for side in sides) > 1.0, "a block's side across the strap lies under it"
    drawn = bolt_section(one, one.joints[0], 1.0, style("iso", "mm"))
    level = [m.points for m in drawn.marks if isinstance(m, Stroke) and m.line is Line.OUTLINE and len(m.points) == 2]
    # Along table Y a block's middle stands 41 mm over the root of 2 from the stud, and half of it is 30 over that root.
    near = 41.0 / sqrt(2.0) - 30.0 / sqrt(2.0)
    assert any({round(y, 6) for _, y in points} == {0.0, 10.0} and points[0][0] == pytest.approx(near, abs=0.01)
               for points in level if points[0][0] == points[1][0])  # fmt: skip
    assert "packing block 20 x 40 x 10 mm, from the shop's packing" in [title for title, _ in drawn.seats]


def test_slots_are_numbered_on_the_left_where_a_plate_hides_their_right_ends() -> None:
    """A chuck base over the table's right end; four slots, each number level with the figure that locates the slot."""
    one = random_design("chuck-base", 1)
    (table,) = one.layouts
    group = setup_plan(
        table, {"base": 1, **{item.item.title: 2 for item in table.hardware}}, 0.125, style("asme", "mm")
    )
    (view,) = group.views
    figures = [m for d in view.dimensions if d.kind is DimensionKind.ORDINATE_Y for m in d.marks if isinstance(m, Text)]
    numbers = {m.text: m for m in group.marks if isinstance(m, Text) and m.text.startswith("SLOT")}
    assert sorted(numbers) == ["SLOT 1", "SLOT 2", "SLOT 3", "SLOT 4"]
    levels = sorted(m.at[1] for m in figures)[1:]  # the lowest is the front edge, 0
    assert [numbers[name].at[1] for name in sorted(numbers)] == pytest.approx(levels)
    assert max(text_box(m).x1 for m in numbers.values()) < min(text_box(m).x0 for m in figures)


@pytest.mark.parametrize("design", ["pulley-nest", "pulley-nest-metric"])
def test_straps_are_set_along_the_table_by_the_middle_of_their_part(design: str) -> None:
    """A part lies midway between two straps that mirror each other: closed form."""
    one = layout(design)
    first, second = one.joints
    middle = (first.x + second.x) / 2.0
    (view,) = setup_plan(one, {}, 0.1, style("iso", "mm")).views
    places = [d for d in view.dimensions if d.kind is DimensionKind.ORDINATE_X]
    assert [d.value for d in places] == pytest.approx([0.0, middle], abs=1e-6)
    rounds = [m for m in view.marks if isinstance(m, Circle) and m.line is Line.PHANTOM]
    assert rounds
    short = [m.points for m in view.marks if isinstance(m, Stroke) and len(m.points) == 2]
    for part in rounds:
        assert part.centre[0] == pytest.approx(middle)
        cross = [(a, b) for a, b in short if dist(a, b) < 2.0 * part.radius
                 and dist(((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0), part.centre) < 1e-6]  # fmt: skip
        assert sorted((a[0] == b[0], a[1] == b[1]) for a, b in cross) == [(False, True), (True, False)]


def test_where_a_piece_says_the_place_no_middle_does() -> None:
    one = layout("valve-stem-chuck")
    assert one.work_outlines
    (view,) = setup_plan(one, {"stem-chuck": 1}, 0.1, style("iso", "mm")).views
    # The design: the plate reaches 180 mm out over the table's left end.
    assert sorted(d.value for d in view.dimensions if d.kind is DimensionKind.ORDINATE_X) == pytest.approx(
        [-180.0, 0.0]
    )
