"""Random bars against closed forms and against a second geometry library (trimesh with manifold3d).

The second library builds the same bar by other means, from facets: each circle becomes an inscribed polygon of FACETS
corners, whose area is n / (2 pi) sin(2 pi / n) of the circle's. That bounds the difference from both sides.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, pi, radians, sin, tan

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from slotwright.pieces.cadquery_solid import cadquery_solid
from slotwright.pieces.features import Counterbore, Face, Hole
from slotwright.pieces.piece import Piece
from slotwright.pieces.step import piece_step
from tests.kernel_reading import box, holes, is_whole, read_step, round_faces
from tests.pieces.examples import piece

CELL = 40.0  # mm: holes stand one in a cell of this size, so that no two meet
FACETS = 96
SHARE = FACETS / (2.0 * pi) * sin(2.0 * pi / FACETS)  # 0.99929 of the circle's area


@st.composite
def _holes(draw: st.DrawFn, cell: tuple[int, int], thickness: float) -> Hole:
    def between(low: float, high: float) -> float:
        return round(draw(st.floats(low, high)), 3)

    diameter = between(3.0, 14.0)
    through = draw(st.booleans())
    bore = Counterbore(diameter=diameter + between(1.0, 8.0), depth=between(1.0, 0.4 * thickness))
    return Hole(
        x=(cell[0] + 0.5) * CELL + between(-3.0, 3.0),
        y=(cell[1] + 0.5) * CELL + between(-3.0, 3.0),
        face=draw(st.sampled_from([Face.TOP, Face.BOTTOM])),
        diameter=diameter,
        depth=None if through else between(0.5, 0.6) * thickness,
        point_angle=draw(st.sampled_from([118.0, 135.0, 180.0])),
        counterbore=bore if draw(st.booleans()) else None,
        slot_extra=draw(st.sampled_from([0.0, 0.0, 2.5, 6.0])),
        slot_angle=between(0.0, 180.0),
    )


@st.composite
def bars(draw: st.DrawFn) -> Piece:
    """A bar of 1 to 6 by 1 to 2 cells, some of them drilled."""
    columns, rows = draw(st.integers(1, 6)), draw(st.integers(1, 2))
    thickness = draw(st.sampled_from([12.0, 19.05, 25.4, 40.0]))
    cells = [(i, j) for i in range(columns) for j in range(rows)]
    drilled = draw(st.lists(st.sampled_from(cells), unique=True, max_size=8))
    made = [draw(_holes(cell, thickness)) for cell in drilled]
    chamfer = draw(st.sampled_from([0.0, 0.0, 0.5, 1.5]))
    return piece(*made, size=(columns * CELL, rows * CELL, thickness), edge_chamfer=chamfer)


def _point_clear(made: Piece) -> bool:
    """Whether no drill point comes through the far face, where the closed form would count it whole."""
    return all(h.depth is None or h.depth + h.point_length < made.blank.thickness for h in made.holes)


few = settings(max_examples=25, derandomize=True, deadline=None, database=None)


@few
@given(bars())
def test_any_bar_is_one_valid_closed_solid(made: Piece) -> None:
    body = cadquery_solid(made)
    assert is_whole(body)
    low, high = box(body)
    assert low == pytest.approx((0.0, 0.0, 0.0), abs=1e-9)
    assert high == pytest.approx((made.blank.length, made.blank.width, made.blank.thickness), abs=1e-9)


@few
@given(bars().filter(_point_clear))
def test_volume_and_centre_of_gravity_are_the_closed_form(made: Piece) -> None:
    body = cadquery_solid(made)
    assert made.volume == pytest.approx(body.Volume(), rel=1e-9)
    assert made.centre_of_gravity == pytest.approx(body.Center().toTuple(), abs=1e-6)


@few
@given(bars())
def test_written_holes_are_the_asked_ones(made: Piece) -> None:
    shape = read_step(piece_step(made)).parts[0].shape
    asked = []
    for hole in made.holes:
        if hole.slot_extra == 0.0:
            bore = [] if hole.counterbore is None else [hole.counterbore.diameter]
            asked += [(hole.x, hole.y, d / 2.0) for d in [hole.diameter, *bore]]
    found = [(*hole.start[:2], hole.radius) for hole in holes(shape)]
    assert len(found) == len(asked)
    for one, other in zip(sorted(found), sorted(asked), strict=True):
        assert one == pytest.approx(other, abs=1e-6)


@few
@given(bars())
def test_written_slots_have_two_half_round_ends_a_level(made: Piece) -> None:
    slotted = [hole for hole in made.holes if hole.slot_extra > 0.0]
    ends = [face for face in round_faces(cadquery_solid(made)) if face.sweep == pytest.approx(180.0)]
    assert len(ends) == sum(2 if hole.counterbore is None else 4 for hole in slotted)


def test_facets_are_what_the_bound_says() -> None:
    disc = trimesh.creation.cylinder(radius=10.0, height=1.0, sections=FACETS)
    assert disc.volume == pytest.approx(SHARE * pi * 100.0, rel=1e-9)


@few
@given(bars())
def test_second_library_agrees_within_the_facets(made: Piece) -> None:
    """Inscribed facets take at least SHARE of what the round cutters take, and never more than they."""
    body, faceted, blank = cadquery_solid(made), _faceted(made), _faceted_blank(made)
    assert faceted.is_watertight
    taken, taken_by_facets = blank.volume - body.Volume(), blank.volume - faceted.volume
    slack = 2.0**-22 * blank.volume  # trimesh hands corners over in single precision
    assert SHARE * taken - slack <= taken_by_facets <= taken + slack
    reach = np.linalg.norm(blank.extents) / 2.0  # a sliver of volume v moves the centre by less than v reach / volume
    off = (taken - taken_by_facets + slack) * reach / faceted.volume
    assert body.Center().toTuple() == pytest.approx(tuple(faceted.center_mass), abs=2.0 * off + 1e-6)


STEPPED = Counterbore(diameter=16.0, depth=6.0)


@pytest.mark.parametrize(
    "made",
    [
        pytest.param(piece(Hole(x=50.0, y=6.0, diameter=10.0), edge_chamfer=2.0), id="into-the-chamfer"),
        pytest.param(piece(Hole(x=97.0, y=20.0, diameter=9.0, counterbore=STEPPED)), id="counterbore-over-the-end"),
        pytest.param(
            piece(*(Hole(x=40.0 + 12.0 * n, y=20.0, diameter=9.0, counterbore=STEPPED) for n in range(3))),
            id="counterbores-that-meet",
        ),
        pytest.param(
            piece(
                Hole(x=50.0, y=20.0, diameter=9.0, depth=13.0),
                Hole(x=54.0, y=22.0, diameter=7.0, depth=12.0, face=Face.BOTTOM),
            ),
            id="blind-holes-that-meet-inside",
        ),
        pytest.param(piece(Hole(x=6.0, y=20.0, diameter=9.0, slot_extra=8.0, slot_angle=25.0)), id="slot-over-the-end"),
    ],
)
def test_second_library_agrees_where_holes_meet_something(made: Piece) -> None:
    """Facets lie inside the round cutters, so the difference is within what all cutters lose by their facets."""
    body, faceted = cadquery_solid(made), _faceted(made)
    tools = [tool for hole in made.holes for tool in _tools(hole, made.blank.thickness)]
    lost = (1.0 / SHARE - 1.0) * sum(tool.volume for tool in tools)
    slack = 2.0**-22 * made.blank.volume
    assert is_whole(body)
    assert -slack <= faceted.volume - body.Volume() <= lost + slack


def _faceted(made: Piece) -> trimesh.Trimesh:
    tools = [tool for hole in made.holes for tool in _tools(hole, made.blank.thickness)]
    blank = _faceted_blank(made)
    return trimesh.boolean.difference([blank, *tools], engine="manifold") if tools else blank


def _faceted_blank(made: Piece) -> trimesh.Trimesh:
    """The convex hull of the bar's corners."""
    blank, c = made.blank, made.blank.edge_chamfer
    levels = ((0.0, c), (c, 0.0), (blank.thickness - c, 0.0), (blank.thickness, c))
    corners = [
        (x, y, z) for z, inset in levels for x in (inset, blank.length - inset) for y in (inset, blank.width - inset)
    ]
    return _hull(sorted(set(corners)))


def _tools(hole: Hole, thickness: float) -> list[trimesh.Trimesh]:
    """Each step of a hole as the hull of its corners, built looking into the metal and turned over for the top face."""
    depth = thickness + 1.0 if hole.depth is None else hole.depth
    tip = []
    if hole.depth is not None and hole.slot_extra == 0.0 and hole.point_angle < 180.0:
        tip = [[0.0, 0.0, depth + hole.diameter / 2.0 * tan(radians(90.0 - hole.point_angle / 2.0))]]
    steps = [[*_ring(hole, hole.diameter, -1.0), *_ring(hole, hole.diameter, depth), *tip]]
    if hole.counterbore is not None:
        wide = hole.counterbore
        steps.append([*_ring(hole, wide.diameter, -1.0), *_ring(hole, wide.diameter, wide.depth)])
    turn, shift = (-1.0, thickness) if hole.face is Face.TOP else (1.0, 0.0)
    place = np.array([[1, 0, 0, hole.x], [0, 1, 0, hole.y], [0, 0, turn, shift], [0, 0, 0, 1]], dtype=float)
    return [_hull(corners).apply_transform(place) for corners in steps]


def _hull(corners: Sequence[Sequence[float]]) -> trimesh.Trimesh:
    hull: trimesh.Trimesh = trimesh.convex.convex_hull(np.array(corners))
    return hull


def _ring(hole: Hole, diameter: float, z: float) -> list[list[float]]:
    """Corners of an inscribed polygon at one level about the hole's axis, or of two whose hull is the slot."""
    way = radians(hole.slot_angle)
    ends = {hole.slot_extra / 2.0, -hole.slot_extra / 2.0}
    return [
        [end * cos(way) + diameter / 2.0 * cos(turn), end * sin(way) + diameter / 2.0 * sin(turn), z]
        for end in ends
        for turn in (way + 2.0 * pi * corner / FACETS for corner in range(FACETS))
    ]
