"""Tags of holes: one letter a size, numbered by place."""

from __future__ import annotations

from dataclasses import replace

import pytest

from slotwright.pieces.features import Hole, Purpose
from slotwright.pieces.hole_groups import hole_groups, letters, tagged_holes, tags
from slotwright.pieces.piece import Piece
from tests.pieces.examples import piece


def _piece(*holes: Hole) -> Piece:
    return piece(*holes, size=(300.0, 40.0, 20.0))


@pytest.mark.parametrize(
    ("number", "letter"),
    [(0, "A"), (7, "H"), (8, "J"), (12, "N"), (13, "P"), (14, "R"), (22, "Z"), (23, "AA"), (24, "AB"), (46, "BA")],
)
def test_letters_leave_out_what_looks_like_a_figure(number: int, letter: str) -> None:
    """I, O and Q are left out; common practice, no source. 23 letters are left, so the 24th is AA."""
    assert letters(number) == letter


def test_equal_sizes_share_a_letter_and_are_numbered_by_x_then_y() -> None:
    holes = [Hole(x=x, y=y, diameter=d) for x, y, d in ((90, 10, 8), (50, 30, 6), (10, 20, 8), (10, 10, 8))]
    found = {one.tag: (one.hole.x, one.hole.y) for one in tagged_holes(_piece(*holes))}
    assert found == {"A1": (10, 10), "A2": (10, 20), "A3": (90, 10), "B1": (50, 30)}


def _round(
    *places: tuple[float, float], centre: tuple[float, float] | None = (50.0, 50.0)
) -> dict[str, tuple[float, float]]:
    """Tags with places, piece frame, of holes of one size."""
    made = replace(_piece(*(Hole(x=x, y=y, diameter=8.0) for x, y in places)), centre=centre)
    return {one.tag: (one.hole.x, one.hole.y) for one in tagged_holes(made)}


def test_holes_on_one_circle_are_numbered_round_it() -> None:
    """As a rotary table comes to them: counter-clockwise from X; common practice, no source.

    By hand: 0, 90, 180 and 270 degrees about (50, 50) on a radius of 30 mm.
    """
    ring = {"A1": (80.0, 50.0), "A2": (50.0, 80.0), "A3": (20.0, 50.0), "A4": (50.0, 20.0)}
    assert _round(*reversed(ring.values())) == ring


def test_a_hole_a_hair_below_x_is_still_the_first() -> None:
    """-1e-12 mm is rounding, not 359.999 degrees."""
    assert _round((20.0, 50.0), (50.0, 80.0), (80.0, 50.0 - 1e-12))["A1"][0] == 80.0


@pytest.mark.parametrize(
    ("places", "centre"),
    [
        (((80.0, 50.0), (50.0, 80.0), (15.0, 50.0)), (50.0, 50.0)),
        (((80.0, 50.0), (50.0, 80.0), (20.0, 50.0)), None),
        (((80.0, 50.0), (20.0, 50.0)), (50.0, 50.0)),
    ],
    ids=["two-radii", "no-centre", "two-in-a-row"],
)
def test_other_holes_are_numbered_by_x(
    places: tuple[tuple[float, float], ...], centre: tuple[float, float] | None
) -> None:
    assert list(_round(*places, centre=centre).values()) == sorted(places)


def test_tags_stand_in_the_order_of_the_pieces_holes() -> None:
    holes = [Hole(x=x, y=20.0, diameter=d) for x, d in ((90, 8), (50, 6), (10, 8))]
    assert tags(_piece(*holes)) == ("A2", "B1", "A1")


def test_two_equal_holes_at_one_place_still_get_two_tags() -> None:
    hole = Hole(x=50.0, y=20.0, diameter=8.0)
    assert tags(_piece(hole, hole)) == ("A1", "A2")


def test_purpose_and_tables_make_no_new_size_but_depth_and_tolerance_do() -> None:
    same = (
        Hole(x=10.0, y=20.0, diameter=8.0),
        Hole(x=20.0, y=20.0, diameter=8.0, purpose=Purpose.TABLE, tables=("mill",)),
    )
    other = (
        Hole(x=30.0, y=20.0, diameter=8.0, depth=10.0),
        Hole(x=40.0, y=20.0, diameter=8.0, position_tolerance=0.5),
    )
    assert [group.letter for group in hole_groups(_piece(*same, *other))] == ["A", "B", "C"]


def test_a_group_names_every_table_once() -> None:
    holes = [Hole(x=x, y=20.0, diameter=8.0, tables=t) for x, t in ((10, ("b",)), (20, ("a", "b")), (30, ()))]
    assert hole_groups(_piece(*holes))[0].tables == ("b", "a")


def test_a_hole_keeps_the_label_it_brings_and_no_group_takes_its_letter() -> None:
    holes = [Hole(x=10.0 * n, y=20.0, diameter=8.0, label=f"A{n}") for n in (1, 2)]
    others = [Hole(x=100.0, y=20.0, diameter=6.0), Hole(x=120.0, y=20.0, diameter=8.0)]
    made = _piece(*holes, *others)
    assert tags(made) == ("A1", "A2", "C1", "B3")
    assert [group.letter for group in hole_groups(made)] == ["B", "C"]


def test_labels_make_no_new_size_but_notes_do() -> None:
    holes = [Hole(x=10.0, y=20.0, diameter=8.0, label="X1"), Hole(x=20.0, y=20.0, diameter=8.0, note="from below")]
    assert len(hole_groups(_piece(*holes))) == 2
