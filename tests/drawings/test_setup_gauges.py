"""Gauge lengths on the set-up drawing: true lengths, named in the notes, in an enlarged part of the plan."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import cos, hypot, radians, sin
from pathlib import Path

import pytest
import shapely

from slotwright.drawings.paper.sheet import Arc, Circle, DimensionKind, Line, Point, Stroke, Text, View, on_paper
from slotwright.drawings.paper.style import style
from slotwright.drawings.proof import proof_of
from slotwright.drawings.setup.covering import uncovered
from slotwright.drawings.setup.gauge_dimensions import aligned
from slotwright.drawings.setup.setup_plan import plan_marks
from slotwright.drawings.setup.setup_sheet import setup_drawing
from slotwright.fixtures.layout import Gauge, Layout, Place, PlacedPiece
from slotwright.pieces.blanks import Disc, Plate
from slotwright.pieces.outline import Outline, circle, rectangle
from slotwright.sharing.make import drawings_of
from slotwright.sharing.set_up import set_up as read_set_up
from tests.drawings.pieces import DATA
from tests.drawings.shapes import piece
from tests.pieces.examples import TABLE, set_up

ROOT = Path(__file__).parents[2]
ISO, ASME = style("iso", "mm"), style("asme", "in")
NEST = Layout(
    table=TABLE,
    pieces=(
        PlacedPiece(
            piece=piece("strap", Plate(outline=rectangle(100.0, 40.0), thickness=20.0)),
            place=Place(x=400.0, y=60.0, turn=45.0),
        ),
    ),
    hardware=(),
    work_outlines=(circle(80.0, (480.0, 60.0)), rectangle(60.0, 40.0, 8.0, (600.0, 100.0))),
    gauges=(
        Gauge(name="front strap to slot 2", start=(400.0, 60.0), end=(400.0, 120.0)),
        Gauge(name="across the pin", start=(440.0, 100.0), end=(470.0, 140.0)),
    ),
    notes=("DIAL IN EACH PART.",),
)


@pytest.mark.parametrize("look", [ISO, ASME], ids=["iso", "asme"])
@pytest.mark.parametrize("turn", range(0, 360, 35))
def test_an_aligned_dimension_measures_the_true_distance_beside_its_points(turn: float, look: object) -> None:
    how = ISO if look is ISO else ASME
    view = View(name="plan", origin=(10.0, 20.0), scale=0.5, marks=())
    end = (120.0 * cos(radians(turn)), 120.0 * sin(radians(turn)))
    one = aligned(view, (0.0, 0.0), end, 12.0, how)
    assert one.kind is DimensionKind.LINEAR
    assert one.value == pytest.approx(120.0)
    assert one.direction % 180.0 == pytest.approx(turn % 180.0)
    # Its line stands 12 mm of paper off, to the left of the way.
    x, y = view.to_paper(one.points[2])
    foot = view.to_paper(end)
    assert hypot(x - foot[0], y - foot[1]) == pytest.approx(12.0)
    assert (x - foot[0]) * cos(radians(turn + 90.0)) + (y - foot[1]) * sin(radians(turn + 90.0)) == pytest.approx(12.0)
    text = next(mark for mark in one.marks if isinstance(mark, Text))
    assert -90.0 < text.angle <= 90.0  # read from below or from the right


@pytest.mark.parametrize("look", [ISO, ASME], ids=["iso", "asme"])
def test_gauges_are_written_once_and_named_in_the_notes(look: object) -> None:
    how = ISO if look is ISO else ASME
    drawing = setup_drawing(NEST, DATA, how)
    assert proof_of(drawing) == ()
    (detail,) = (view for view in drawing.sheets[0].views if view.name == "detail for setting")
    written = sorted(m.text for d in detail.dimensions for m in d.marks if isinstance(m, Text))
    # 60 mm, and 30 across by 40 along: 50 mm; 60 / 25.4 = 2.362, 50 / 25.4 = 1.969
    assert written == (["G1 60", "G2 50"] if how is ISO else ["G1 2.362", "G2 1.969"])
    notes = " ".join(m.text for m in drawing.sheets[0].marks if isinstance(m, Text))
    assert "SET BY G1: front strap to slot 2." in notes
    assert "SET BY G2: across the pin." in notes
    assert "DIAL IN EACH PART." in notes


def test_a_gauge_of_no_length_is_flush_and_has_no_figure() -> None:
    flush = Gauge(name="plate's back to the table's back edge", start=(400.0, 280.0), end=(400.0, 280.0))
    drawing = setup_drawing(replace(NEST, gauges=(*NEST.gauges, flush)), DATA, ISO)
    (detail,) = (view for view in drawing.sheets[0].views if view.name == "detail for setting")
    assert len(detail.dimensions) == len(NEST.gauges)
    notes = " ".join(m.text for m in drawing.sheets[0].marks if isinstance(m, Text))
    assert "SET FLUSH: plate's back to the table's back edge." in notes
    assert "G3" not in notes


def test_a_turned_piece_covers_the_slots_under_it_and_work_is_a_phantom() -> None:
    marks = plan_marks(NEST, 0.5, ISO)
    phantoms = [m for m in marks if m.line is Line.PHANTOM]
    (work,) = (m for m in phantoms if isinstance(m, Circle))
    assert (*work.centre, work.radius) == pytest.approx((480.0, 60.0, 40.0))
    assert len([m for m in phantoms if isinstance(m, Arc)]) == 4
    # The middle of the strap, 50 along and 20 across it at 45 degrees, stands at 421.2, 109.5.
    for mark in marks:
        if isinstance(mark, Stroke) and mark.line is Line.OUTLINE and mark.points[0][1] == mark.points[-1][1] == 113.0:
            (x0, _), (x1, _) = mark.points
            assert not min(x0, x1) < 421.2 < max(x0, x1)


def test_lines_are_hidden_by_polygons_that_are_not_convex() -> None:
    # A U open upwards: a level line at half height is hidden in both legs and seen between them.
    u = ((0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (20.0, 20.0), (20.0, 5.0), (10.0, 5.0), (10.0, 20.0), (0.0, 20.0))
    found = uncovered((-5.0, 10.0), (35.0, 10.0), [u])
    assert [tuple(round(x, 9) for x, _ in span) for span in found] == [(-5.0, 0.0), (10.0, 20.0), (30.0, 35.0)]


def test_a_round_piece_is_drawn_round_on_the_table() -> None:
    layout = replace(
        set_up(),
        pieces=(
            PlacedPiece(
                piece=piece("pad", Disc(diameter=60.0, thickness=20.0)), place=Place(x=300.0, y=100.0, turn=30.0)
            ),
        ),
        hardware=(),
    )
    drawn = [m for m in plan_marks(layout, 1.0, ISO) if isinstance(m, Circle) and m.line is Line.OUTLINE]
    # Its middle, 30, 30 in its own plan, turned 30 degrees about its corner.
    at = (300.0 + 30.0 * (cos(radians(30.0)) - 0.5), 100.0 + 30.0 * (0.5 + cos(radians(30.0))))
    (pad,) = drawn
    assert (*pad.centre, pad.radius) == pytest.approx((*at, 30.0))


def test_an_outline_with_arcs_keeps_their_ends() -> None:
    quarter = Outline(((0.0, 0.0), (10.0, 0.0), (0.0, 10.0)), (0.0, 0.41421356237309503, 0.0))
    layout = replace(NEST, pieces=(), gauges=(), work_outlines=(quarter,))
    (arc,) = (m for m in plan_marks(layout, 1.0, ISO) if isinstance(m, Arc) and m.line is Line.PHANTOM)
    assert arc.centre == pytest.approx((0.0, 0.0), abs=1e-9)
    assert (arc.radius, arc.start, arc.end) == pytest.approx((10.0, 0.0, 90.0), abs=1e-9)


@pytest.mark.parametrize("design", ["rack-shaft-chuck", "valve-stem-chuck", "pulley-nest", "pulley-nest-metric"])
def test_no_gauge_runs_along_an_edge_of_the_detail(design: str) -> None:
    """A dimension line on the wall of a slot would be taken for it: none is nearer than 1 mm, by shapely (GEOS)."""
    made = read_set_up(ROOT / "fixtures" / f"{design}.toml")
    ((sheet, *_),) = (d.sheets for name, d in drawings_of(made).items() if name.startswith("set-up"))
    (detail,) = (view for view in sheet.views if view.name == "detail for setting")
    edges = [part for mark in on_paper(detail) if isinstance(mark, Stroke) and mark.line is Line.OUTLINE
             for part in pairwise((*mark.points, *mark.points[: int(mark.closed)])) if part[0] != part[1]]  # fmt: skip
    assert edges
    assert detail.dimensions
    for one in detail.dimensions:
        way = cos(radians(one.direction)), sin(radians(one.direction))
        lines = [m.points for m in one.marks if isinstance(m, Stroke) and _off(m.points[0], m.points[-1], way) < 1e-6]
        beside = [edge for edge in edges if _off(*edge, way) < 1e-6]
        gaps = [shapely.LineString(a).distance(shapely.LineString(b)) for a in lines for b in beside]
        assert lines
        assert min(gaps, default=9.0) > 1.0, one.text


def _off(a: Point, b: Point, way: Point) -> float:
    """How far a line leads off a direction."""
    return abs((b[0] - a[0]) * way[1] - (b[1] - a[1]) * way[0])
