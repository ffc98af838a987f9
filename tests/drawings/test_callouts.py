"""What the drawing says about a hole's size."""

from __future__ import annotations

import pytest

from slotwright.drawings.callouts import callout, hole_table
from slotwright.drawings.paper.style import style
from slotwright.parts.threads import thread
from slotwright.pieces.features import Counterbore, Face, Hole
from tests.drawings.pieces import H7_10, INCH, TWO_ROWS, plain, tapped

MM, IN = style("iso", "mm"), style("asme", "in")
HALF = thread("1/2-13 UNC")


@pytest.mark.parametrize(
    ("hole", "quantity", "lines"),
    [
        pytest.param(plain(0, 0, 14.0), 4, ("4× ⌀14 THRU",), id="plain"),
        pytest.param(plain(0, 0, 14.0), 1, ("⌀14 THRU",), id="one-has-no-number"),
        pytest.param(tapped(0, 0, 31.0, 25.0), 2, ("2× M12 - 6H ↧25", "⌀10.2 ↧31"), id="ISO-965-1-class-6H"),
        pytest.param(
            Hole(x=0, y=0, diameter=13.5, counterbore=Counterbore(diameter=20.0, depth=12.6)), 1,
            ("⌀13.5 THRU", "⌴⌀20 ↧12.6"), id="ISO-129-1-counterbore-sign",
        ),
        pytest.param(Hole(x=0, y=0, diameter=10.0, ream=H7_10), 1, ("⌀10 H7 (+0.015/0) THRU",), id="ISO-286-2-10-H7"),
        pytest.param(Hole(x=0, y=0, diameter=14.0, slot_extra=10.0), 1, ("SLOT 14 × 24 THRU",), id="overall-length"),
        pytest.param(
            Hole(x=0, y=0, diameter=14.0, slot_extra=10.0, slot_angle=90.0), 1, ("SLOT 14 × 24 AT 90° THRU",),
            id="slot-across",
        ),
        pytest.param(
            Hole(x=0, y=0, diameter=8.0, depth=10.0, face=Face.BOTTOM), 1, ("⌀8 ↧10", "FROM BOTTOM FACE"), id="below"
        ),
    ],
)  # fmt: skip
def test_callout_in_millimetres(hole: Hole, quantity: int, lines: tuple[str, ...]) -> None:
    assert callout(hole, quantity, MM) == lines


def test_callout_in_inches_names_class_2b_and_the_drill() -> None:
    """ASME B1.1: 2B is the common class of tapped holes; 27/64 in is .422, the tap drill of 1/2-13 in handbooks."""
    hole = Hole(x=0, y=0, diameter=HALF.tap_drill, thread=HALF, depth=1.2 * INCH, thread_depth=0.88 * INCH)
    assert callout(hole, 1, IN) == ("1/2-13 UNC - 2B ↧.88", "⌀.422 (27/64) ↧1.20")


def test_table_rows_carry_place_size_depth_number_and_tolerance() -> None:
    rows = {row.tag: row for row in hole_table(TWO_ROWS, MM)}
    assert [*rows] == ["A1", "A2", "A3", "A4", "A5", "A6", "B1", "C1", "D1", "D2", "D3", "E1"]
    a4, d2 = rows["A4"], rows["D2"]
    assert (a4.x, a4.y, a4.size, a4.depth, a4.quantity, a4.tolerance) == ("176", "62", "⌀13.5", "THRU", 6, "⌀0.5")
    assert (d2.x, d2.y, d2.size, d2.depth, d2.quantity) == ("140", "40", "M12 - 6H / ⌀10.2", "20 / 26", 3)
