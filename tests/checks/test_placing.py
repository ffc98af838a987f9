"""Where pieces stand on a table at any turn, and whether two of them want the same place; figures by hand."""

from __future__ import annotations

from math import cos, radians, sin, sqrt

import pytest

from slotwright.checks.table_room import box, check_table_room
from slotwright.findings import Finding
from slotwright.fixtures.layout import Layout, Place, PlacedPiece
from slotwright.pieces.blanks import Bar, Blank, Disc, Plate
from slotwright.pieces.features import Face, Tenon
from slotwright.pieces.outline import circle, polygon
from slotwright.pieces.piece import Piece
from tests.pieces.examples import STEEL, TABLE

STRAP = Bar(length=100.0, width=20.0, thickness=15.0)
DISC = Disc(diameter=50.0, thickness=15.0)
ANGLE = Plate(outline=polygon([(0, 0), (100, 0), (100, 20), (20, 20), (20, 100), (0, 100)]), thickness=15.0)


def made(blank: Blank, *tenons: Tenon) -> Piece:
    return Piece(name="p", title="P", blank=blank, holes=(), material=STEEL, stock="any", tenons=tenons)


def standing(blank: Blank, x: float, y: float, turn: float = 0.0, z: float = 0.0) -> PlacedPiece:
    return PlacedPiece(piece=made(blank), place=Place(x=x, y=y, z=z, turn=turn))


def found(*placed: PlacedPiece) -> list[Finding]:
    return [*check_table_room(Layout(table=TABLE, pieces=placed, hardware=()))]


def overlap(*placed: PlacedPiece) -> float | None:
    figures = [f.figure.value for f in found(*placed) if f.code == "pieces-overlap" and f.figure is not None]
    return figures[0] if figures else None


def test_box_of_a_turned_strap() -> None:
    c, s = cos(radians(30.0)), sin(radians(30.0))
    expected = (200.0 - 20.0 * s, 100.0, 200.0 + 100.0 * c, 100.0 + 100.0 * s + 20.0 * c)
    assert box(standing(STRAP, 200.0, 100.0, 30.0)) == pytest.approx(expected)


def test_box_of_a_disc_does_not_grow_when_it_turns() -> None:
    x0, y0, x1, y1 = box(standing(DISC, 200.0, 100.0, 33.0))
    assert (x1 - x0, y1 - y0) == pytest.approx((50.0, 50.0))


def test_a_tenon_on_a_side_counts() -> None:
    piece = made(STRAP, Tenon(outline=circle(10.0, (10.0, 7.0)), face=Face.RIGHT, height=8.0))
    assert box(PlacedPiece(piece=piece, place=Place(x=0.0, y=0.0))) == pytest.approx((0.0, 0.0, 108.0, 20.0))


@pytest.mark.parametrize(
    ("one", "other", "figure"),
    [
        pytest.param(standing(STRAP, 200, 100), standing(STRAP, 250, 115), -5.0, id="straps-by-5"),
        pytest.param(standing(STRAP, 200, 100), standing(STRAP, 250, 120), None, id="straps-that-touch"),
        pytest.param(standing(STRAP, 200, 100), standing(STRAP, 250, 121), None, id="straps-1-apart"),
        pytest.param(
            # The turned end's low side runs from (312, 110) to (297.86, 124.14): 302 at the height of the strap's edge
            standing(STRAP, 200, 100),
            standing(STRAP, 312, 110, 45.0),
            None,
            id="boxes-overlap-but-straps-do-not",
        ),
        pytest.param(
            # Its corner now at 312 - 20 sin 45 = 297.86, 114.14: 2.14 inside the strap's end at 300
            standing(STRAP, 200, 100),
            standing(STRAP, 312, 100, 45.0),
            -(300.0 - 312.0 + 20.0 * sin(radians(45.0))),
            id="corner-into-an-end",
        ),
        pytest.param(
            # Middles 30 sqrt 2 apart, radii 25 each: 50 - 42.43
            standing(DISC, 200, 100),
            standing(DISC, 230, 130),
            30.0 * sqrt(2.0) - 50.0,
            id="discs-whose-boxes-overlap-more",
        ),
        pytest.param(standing(DISC, 200, 100), standing(DISC, 236, 136), None, id="discs-whose-boxes-overlap-alone"),
        pytest.param(standing(DISC, 230, 130), standing(ANGLE, 200, 100), None, id="disc-in-the-nook-of-an-angle"),
        pytest.param(standing(STRAP, 200, 100), standing(STRAP, 200, 100, z=15.0), None, id="one-on-the-other"),
        pytest.param(standing(STRAP, 200, 100), standing(STRAP, 200, 100, z=14.0), -20.0, id="one-into-the-other"),
    ],
)
def test_overlap_by_hand(one: PlacedPiece, other: PlacedPiece, figure: float | None) -> None:
    expected = None if figure is None else pytest.approx(figure, abs=0.03)  # two arcs, each within 0.01 of its chords
    assert overlap(one, other) == expected
    assert overlap(other, one) == expected


def test_what_falls_off_while_loose_is_told() -> None:
    """The table is 240 deep; a disc of 50 at y = 220 has its middle 5 beyond the edge."""
    (finding,) = found(standing(DISC, 100.0, 220.0))
    assert finding.code == "piece-tips-off-table"
    assert finding.figure is not None
    assert finding.figure.value == pytest.approx(5.0)
    assert found(standing(DISC, 100.0, 214.0)) == []
