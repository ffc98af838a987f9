"""Balloons of the demo set-ups: each item of the parts list has one, and it points at that item.

That each item of a parts list has its reference where it is seen, once at least: ISO 6433 and ASME Y14.34, from memory.
What lies where on the table is worked out anew by shapely.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import pairwise, permutations
from math import cos, radians, sin
from pathlib import Path
from typing import NamedTuple, TypeAlias

import pytest
from shapely import LineString, Polygon
from shapely import Point as Spot

from slotwright.drawings.paper.placing import Box, Register, points_box
from slotwright.drawings.paper.sheet import Circle, Fill, Line, Point, Sheet, Stroke, Text, View
from slotwright.drawings.paper.style import Style, style
from slotwright.drawings.setup.balloons import balloon_radius
from slotwright.drawings.setup.bolt_section import bolt_section
from slotwright.drawings.setup.cut_item import cut_item
from slotwright.drawings.setup.parts_list import parts_lines
from slotwright.drawings.setup.setup_balloons import setup_balloons
from slotwright.drawings.setup.setup_sheet import setup_drawing
from slotwright.drawings.setup.setup_views import setup_plan
from slotwright.drawings.setup.stacks import Stack, stacks
from slotwright.fixtures.layout import Layout, Place, PlacedHardware
from slotwright.parts.hardware import Cylinder, Hardware, Prism
from slotwright.sharing.set_up import SetUp, set_up
from slotwright.sharing.sheets import sheet_data, sheet_style
from tests.pieces.examples import TABLE
from tests.random_designs import extremes, random_design

ROOT = Path(__file__).parents[2]
DESIGNS = (
    "bonnet-outriggers", "bonnet-outriggers-metric", "gate-hinge-fence", "lock-parts-grid", "pulley-nest",
    "pulley-nest-metric", "rack-shaft-chuck", "shaft-vee-blocks", "valve-stem-chuck",
)  # fmt: skip
LOOKS = ["own", "iso", "asme"]
ISO = style("iso", "mm")


@cache
def made(design: str) -> SetUp:
    return set_up(ROOT / "fixtures" / f"{design}.toml")


class Balloon(NamedTuple):
    """What is read back from the marks of one."""

    number: int
    dot: Point


Drawn: TypeAlias = list[tuple[Layout, Sheet, tuple[Balloon, ...], dict[int, str]]]


@cache
def sheets(design: str, look: str) -> Drawn:
    one = made(design)
    return drawn_of(one, sheet_style(one) if look == "own" else style(look, one.bench.unit))


def drawn_of(one: SetUp, drawn: Style) -> Drawn:
    found = []
    for layout in one.solution.layouts:
        (sheet,) = setup_drawing(layout, sheet_data(one), drawn).sheets
        titles = {line.item: line.title for line in parts_lines(layout, sheet_data(one), drawn)}
        found.append((layout, sheet, tuple(balloons(sheet, balloon_radius(drawn))), titles))
    return found


def balloons(sheet: Sheet, radius: float) -> list[Balloon]:
    """A ring, its number, a leader, and the dot at the leader's end: they follow each other."""
    found = []
    for n, mark in enumerate(sheet.marks):
        if isinstance(mark, Circle) and mark.radius == radius:
            number, leader, dot = sheet.marks[n + 1 : n + 4]
            assert isinstance(number, Text)
            assert isinstance(leader, Stroke)
            assert isinstance(dot, Fill)
            assert points_box(dot.points).grown(0.01).holds(Box(*leader.points[-1], *leader.points[-1]))
            found.append(Balloon(int(number.text), leader.points[-1]))
    return found


def test_these_are_all_the_demo_set_ups() -> None:
    designs = {path.stem for path in (ROOT / "fixtures").glob("*.toml")}
    assert {name for name in designs if made(name).solution.layouts} == set(DESIGNS)


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("design", DESIGNS)
def test_every_item_of_the_parts_list_has_a_balloon(design: str, look: str) -> None:
    for layout, _, found, titles in sheets(design, look):
        assert len(titles) == len({p.piece.name for p in layout.pieces} | {h.item.title for h in layout.hardware})
        assert {one.number for one in found} == set(titles)


@pytest.mark.parametrize("kind", ["chuck-base", "clamp-vee", "fence", "grid-plate", "hold-down-bar", "vee-block"])
def test_so_it_is_at_a_familys_ends(kind: str) -> None:
    """The smallest table takes a plan in full size, where sections are no enlargement; they are shown all the same."""
    for name, one in extremes(kind):
        for _, _, found, titles in drawn_of(one, sheet_style(one)):
            assert {balloon.number for balloon in found} == set(titles), name


@pytest.mark.parametrize("seed", [13, 32, 62])
def test_so_has_packing_that_few_sections_show(seed: int) -> None:
    """Long straps at flat angles: their blocks stand far behind one stud's section, or before it."""
    one = random_design("clamp-vee", seed)
    for layout, _, found, titles in drawn_of(one, sheet_style(one)):
        assert any(item.item.kind == "packing block" for item in layout.hardware)
        assert {balloon.number for balloon in found} == set(titles)


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("design", DESIGNS)
def test_on_the_plan_a_balloon_points_at_its_item_and_nothing_lies_over_it_there(design: str, look: str) -> None:
    for layout, sheet, found, titles in sheets(design, look):
        frames = [Box(*view.frame) for view in sheet.views if view.frame is not None]
        (plan,) = (view for view in sheet.views if view.name == "table plan")
        seen = [one for one in found if not any(frame.holds(Box(*one.dot, *one.dot)) for frame in frames)]
        assert len(seen) >= len({placed.piece.name for placed in layout.pieces}), "each piece is seen from above"
        for number, dot in seen:
            spot = Spot(plan.to_model(dot))
            over = max(((top, title) for title, area, top in _areas(layout) if area.contains(spot)), default=None)
            assert over is not None, f"item {number} points at the bare table"
            assert over[1] == titles[number]
            on_washers = [h for h in layout.hardware if h.item.kind == "washer" and _axis(h).distance(spot) < _half(h)]
            assert not on_washers, "a washer is seen from above wherever it lies, on a low ear too"


@pytest.mark.parametrize("turn", [0.0, 50.0, 90.0])
def test_a_dot_on_a_turned_strap_lies_in_its_metal(turn: float) -> None:
    """A strap 150 x 40 mm with a slot 14 mm wide; what is metal of it by shapely."""
    ring = ((-75.0, -20.0), (75.0, -20.0), (75.0, 20.0), (-75.0, 20.0))
    slot = ((-50.0, -7.0), (50.0, -7.0), (50.0, 7.0), (-50.0, 7.0))
    body = Prism(outline=ring, bottom=0.0, top=20.0, windows=(slot,))
    strap = Hardware(kind="flat strap", size="150", standard="as measured", body=(body,))
    placed = PlacedHardware(item=strap, place=Place(x=300.0, y=90.0, turn=turn))
    layout = Layout(table=TABLE, pieces=(), hardware=(placed,))
    taken = Register()
    ((*_, dot),) = setup_balloons(View(name="plan", origin=(0.0, 0.0), scale=0.2, marks=()), layout,
                                  {strap.title: 1}, taken, ISO)  # fmt: skip
    assert isinstance(dot, Fill)
    middle = Polygon(dot.points).centroid
    metal = Polygon([placed.place.to_table(*at) for at in ring], [[placed.place.to_table(*at) for at in slot]])
    assert metal.contains(Spot(middle.x / 0.2, middle.y / 0.2))


def test_no_leader_runs_through_another_balloon() -> None:
    for one in (*map(made, DESIGNS), random_design("chuck-base", 10)):
        for _, sheet, _, _ in drawn_of(one, sheet_style(one)):
            rings = [n for n, mark in enumerate(sheet.marks) if isinstance(mark, Circle) and mark.line is Line.NOTE]
            for n, m in permutations(rings, 2):
                ring, leader = sheet.marks[n], sheet.marks[m + 2]
                assert isinstance(ring, Circle)
                assert isinstance(leader, Stroke)
                assert LineString(leader.points).distance(Spot(ring.centre)) > ring.radius


def _axis(item: PlacedHardware) -> Spot:
    return Spot(item.place.x, item.place.y)


def _half(item: PlacedHardware) -> float:
    return max(body.diameter / 2.0 for body in item.item.body if isinstance(body, Cylinder))


def _areas(layout: Layout) -> list[tuple[str, Polygon, float]]:
    """What covers the table: title, area, height of its top."""
    found = [
        (p.piece.name, Polygon([p.place.to_table(*at) for at in p.piece.blank.plan.facets(0.05)]), p.heights[1])
        for p in layout.pieces
    ]
    for item in layout.hardware:
        for body in item.item.body:
            if isinstance(body, Cylinder):
                area = Spot(item.place.to_table(body.x, body.y)).buffer(body.diameter / 2.0)
            else:
                area = Polygon([item.place.to_table(*at) for at in body.outline])
            found.append((item.item.title, area, item.place.z + body.top))
    return found


# Sections at screws that hold something to a piece


def test_a_chucks_screws_are_shown_from_under_the_plate() -> None:
    # The design: plate 25 mm. ISO 4762, from memory: the head of an M10 screw is 16 mm across and 10 mm high.
    (layout,) = made("valve-stem-chuck").solution.layouts
    (at,) = (one for one in stacks(layout) if isinstance(one, Stack))
    assert at.slot is None
    drawn = bolt_section(layout, at, 1.0, ISO)
    assert {title.split(",")[0] for title, _ in drawn.seats} == {
        "stem-chuck", "lathe chuck 200 mm", "socket head cap screw M10 x 30",
    }  # fmt: skip
    aims = {title.split()[0].split("-")[0]: point for title, point in drawn.seats}
    assert aims["lathe"][1] > 25.0
    assert 0.0 < aims["stem"][1] < 25.0
    assert 5.0 < aims["socket"][0] < 8.0, "on the head, beside the shank"
    assert aims["socket"][1] < 25.0 - 10.0
    lining = [m.points for m in drawn.marks if isinstance(m, Stroke) and m.line is Line.HATCH]
    right = [(a, b) for a, b in lining if (b[0] - a[0]) * (b[1] - a[1]) > 0.0]
    assert right, "the chuck is lined the other way than the plate"
    assert all(y > 25.0 - 1e-6 for part in right for _, y in part)
    assert all(abs(x) > 5.0 - 1e-6 for part in lining for x, y in part if 25.0 < y < 40.0), (
        "a 30 mm screw whose head is sunk by its height reaches 40 mm up, and fills its hole"
    )


def test_a_key_is_shown_in_its_slot() -> None:
    # The design's table: slots 14 mm wide. A key stands half of that down into the slot: common practice, no source.
    (layout,) = made("lock-parts-grid").solution.layouts
    (at,) = (one for one in stacks(layout) if isinstance(one, Stack))
    assert at.slot is not None
    assert layout.table.slot_centres[at.slot - 1] == pytest.approx(at.y)
    drawn = bolt_section(layout, at, 1.0, ISO)
    aims = {title.split()[0].split("-")[0]: point for title, point in drawn.seats}
    assert set(aims) == {"grid", "slot", "socket"}
    assert 0.0 < aims["slot"][0] < 7.0
    assert -7.0 < aims["slot"][1] < 4.5
    assert -7.0 < aims["socket"][1] < 0.0
    assert aims["grid"][1] > 0.0


def test_a_dot_stands_on_a_chuck_and_not_in_its_bolt_holes() -> None:
    # The design: three bolts, 10 mm, on a circle of 176 mm; ISO 4762, from memory: M10 has a head of 16 mm.
    (layout,) = made("valve-stem-chuck").solution.layouts
    (chuck,) = (item for item in layout.hardware if item.item.kind == "lathe chuck")
    circle = [(88.0 * cos(radians(a)), 88.0 * sin(radians(a))) for a in (90.0, 210.0, 330.0)]
    holes = tuple(Cylinder(diameter=18.0, bottom=0.0, top=85.0, x=x, y=y) for x, y in circle)
    bored = replace(chuck, item=replace(chuck.item, bores=holes))
    layout = replace(layout, hardware=tuple(bored if item is chuck else item for item in layout.hardware))
    plan = setup_plan(layout, {"stem-chuck": 1, chuck.item.title: 2}, 0.1, ISO)
    dots = [points_box(mark.points) for mark in plan.marks if isinstance(mark, Fill) and len(mark.points) == 8]
    on_chuck = [Spot((box.x0 + box.x1) / 0.2, (box.y0 + box.y1) / 0.2) for box in dots]
    middle = Spot(chuck.place.x, chuck.place.y)
    (dot,) = (spot for spot in on_chuck if spot.distance(middle) < 100.0)
    assert all(dot.distance(Spot(chuck.place.x + x, chuck.place.y + y)) > 9.0 for x, y in circle)


# The triangle 3, 4, 5 gives the chord of a circle.
CHUCK = PlacedHardware(
    item=Hardware(
        kind="lathe chuck",
        size="200",
        standard="",
        body=(Cylinder(diameter=200.0, bottom=0.0, top=80.0),),
        bores=(Cylinder(diameter=10.0, bottom=0.0, top=30.0, x=60.0, y=50.0),),
    ),
    place=Place(x=300.0, y=100.0, z=20.0),
)


def test_a_round_body_is_cut_along_its_chord() -> None:
    """Cut 60 mm beside its middle a 200 mm chuck is 160 mm long, from 20 to 100 mm high, with a hole 10 mm by 30 mm."""
    cut = cut_item(CHUCK, (360.0, 150.0), Box(-200.0, 0.0, 200.0, 150.0), (), "iron", 1.0, leaning_left=False)
    assert cut is not None
    assert cut.ends == ()
    lines = [m.points for m in cut.marks if isinstance(m, Stroke) and m.line is Line.OUTLINE]
    assert points_box([p for points in lines for p in points]) == pytest.approx((-130.0, 20.0, 30.0, 100.0))
    long = sum(abs(a[0] - b[0]) + abs(a[1] - b[1]) for points in lines for a, b in pairwise(points))
    assert long == pytest.approx(2.0 * (160.0 + 80.0) - 10.0 + 2.0 * 30.0 + 10.0)
    assert all(not (-5.0 < x < 5.0 and y < 50.0) for m in cut.marks if isinstance(m, Stroke) for x, y in m.points
               if abs(abs(x) - 5.0) > 1e-6)  # fmt: skip


def test_a_body_is_broken_off_where_the_window_ends() -> None:
    cut = cut_item(CHUCK, (360.0, 150.0), Box(-20.0, 0.0, 20.0, 60.0), (), "iron", 1.0, leaning_left=False)
    assert cut is not None
    assert ((-20.0, 60.0), (20.0, 60.0)) in cut.ends
    assert sum(b[1] - a[1] for a, b in cut.ends if a[0] == b[0]) == pytest.approx(2.0 * 40.0)
    assert cut_item(CHUCK, (420.0, 100.0), Box(-20.0, 0.0, 20.0, 60.0), (), "iron", 1.0, leaning_left=False) is None
