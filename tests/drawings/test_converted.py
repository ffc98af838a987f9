"""Limits, zones and notes in the other unit: by hand, and never wider than the written ones, in exact fractions."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest

from slotwright.drawings.callouts import callout, zone_text
from slotwright.drawings.converted import limits_bracket
from slotwright.drawings.hole_tables import size_cells
from slotwright.drawings.paper.sheet import Text
from slotwright.drawings.paper.style import Style, style
from slotwright.drawings.paper.tables import ControlFrame
from slotwright.drawings.piece.piece_sheet import piece_drawing
from slotwright.drawings.proof import proof_of
from slotwright.pieces.blanks import Plate
from slotwright.pieces.features import Countersink, Face, Groove, Hole, Limits, Pocket, Ream, Tenon
from slotwright.pieces.outline import Outline, circle, obround, rectangle
from tests.drawings.collisions import everything
from tests.drawings.pieces import DATA, H7_10, INCH
from tests.drawings.shapes import piece

MM, IN = style("iso", "mm", alternate=True), style("asme", "in", alternate=True)
COMMA = style("iso", "mm", decimal=",", alternate=True)
H7_25 = Ream(tolerance="H7", upper=0.021, lower=0.0)  # ISO 286-2: 25 H7 is +21/0 micrometres
H6_12 = Limits(tolerance="h6", upper=0.0, lower=-0.011)  # ISO 286-2: 12 h6 is 0/-11 micrometres
H8_375 = Ream(tolerance="H8", upper=0.0009 * INCH, lower=0.0)


@pytest.mark.parametrize(
    ("hole", "look", "line"),
    [
        # 10/25.4 = .393700..., 10.015/25.4 = .394291...; up and down at 0.00001 in, for 0.015 mm is below 0.05
        pytest.param(Hole(x=0, y=0, diameter=10.0, ream=H7_10), MM, "⌀10 H7 (+0.015/0) [.39371-.39429] THRU", id="10"),
        # 25/25.4 = .984251..., 25.021/25.4 = .985078...
        pytest.param(Hole(x=0, y=0, diameter=25.0, ream=H7_25), MM, "⌀25 H7 (+0.021/0) [.98426-.98507] THRU", id="25"),
        pytest.param(
            Hole(x=0, y=0, diameter=25.0, ream=H7_25), COMMA, "⌀25 H7 (+0,021/0) [,98426-,98507] THRU", id="comma"
        ),
        # .375 x 25.4 = 9.525, .3759 x 25.4 = 9.54786; at 0.0001 mm, for .0009 in is below .001
        pytest.param(
            Hole(x=0, y=0, diameter=0.375 * INCH, ream=H8_375),
            IN,
            "⌀.3750 H8 (+.0009/+.0000) [9.5250-9.5478] THRU",
            id="inch",
        ),
    ],
)  # fmt: skip
def test_fits_have_their_limits_in_brackets(hole: Hole, look: Style, line: str) -> None:
    assert callout(hole, 1, look) == (line,)


def test_a_shaft_rounds_inward_too() -> None:
    """11.989/25.4 = .472007..., 12/25.4 = .472440...."""
    assert limits_bracket(12.0, H6_12, 3, MM) == " [.47201-.47244]"


def test_one_unit_has_no_bracket() -> None:
    assert limits_bracket(12.0, H6_12, 3, style("iso", "mm")) == ""


WIDE = [0.004, 0.005, 0.013, 0.049, 0.05, 0.2, 0.5, 3.0]


@pytest.mark.parametrize(("look", "places"), [(MM, 3), (IN, 4)], ids=["mm", "inch"])
def test_never_wider_than_written_and_hardly_narrower(look: Style, places: int) -> None:
    """The steps of ISO 370 (from memory) are a fifth of the tolerance at most; each limit gives up less than one."""
    factor = Fraction(10, 254) if places == 3 else Fraction(254, 10)
    for size, tolerance, lower in product((3.0, 9.525, 25.0, 63.31, 250.0), WIDE, (0.0, -0.5, -1.0, 0.3)):
        limits = Limits(tolerance="", upper=tolerance * (1.0 + lower), lower=tolerance * lower)
        written = [look.rounded(mm, places) for mm in (size, limits.lower, limits.upper)]
        low, high = ((Fraction(written[0]) + Fraction(part)) * factor for part in written[1:])
        text = limits_bracket(size, limits, places, look).strip(" []")
        least, greatest = (Fraction(part) for part in text.split("-"))
        assert low <= least <= greatest <= high
        assert (high - low) - (greatest - least) <= max((high - low) * Fraction(2, 5), Fraction(2, 10**6))


@pytest.mark.parametrize(
    ("zone", "look", "text"),
    [
        # .5/25.4 = .019685..., .1/25.4 = .003937..., .02/25.4 = .000787..., all down; steps as those of limits
        pytest.param(0.5, MM, "⌀0.5 [.019]", id="half-a-mm"),
        pytest.param(0.1, MM, "⌀0.1 [.0039]", id="a-tenth"),
        pytest.param(0.02, COMMA, "⌀0,02 [,00078]", id="comma"),
        # .005 x 25.4 = .127, .014 x 25.4 = .3556
        pytest.param(0.005 * INCH, IN, "⌀.005 [0.127]", id="five-thou"),
        pytest.param(0.014 * INCH, IN, "⌀.014 [0.35]", id="fourteen-thou"),
        pytest.param(0.5, style("iso", "mm"), "⌀0.5", id="one-unit"),
    ],
)
def test_zones_are_never_wider_in_the_other_unit(zone: float, look: Style, text: str) -> None:
    assert zone_text(zone, look) == text
    sizes, _ = size_cells(Hole(x=0, y=0, diameter=10.0, position_tolerance=zone), look)
    (frame,) = (cell for cell in sizes if isinstance(cell, ControlFrame))
    assert frame.cells[1] == text


def test_a_countersink_has_both_units() -> None:
    """12.7 mm is half an inch."""
    hole = Hole(x=0, y=0, diameter=6.35, countersink=Countersink(diameter=12.7, angle=90.0))
    assert callout(hole, 1, MM) == ("⌀6.35 [.250] THRU", "⌵⌀12.7 [.500] × 90°")


# 25.4 mm to the inch: 50.8 is 2, 38.1 is 1.5, 19.05 is .75, 12.7 is .5, 9.525 is .375, 6.35 is .25, 3.175 is .125
SHAPED = piece(
    "shaped",
    Plate(
        outline=Outline(((3.175, 0.0), (254.0, 0.0), (254.0, 177.8), (0.0, 177.8), (0.0, 3.175))), thickness=25.4
    ),
    tenons=(Tenon(outline=circle(38.1, (190.5, 127.0)), height=12.7),),
    pockets=(
        Pocket(outline=rectangle(50.8, 38.1, 6.35, (63.5, 127.0)), depth=9.525),
        Pocket(outline=obround(50.8, 12.7, (63.5, 50.8), 30.0), depth=19.05),
    ),
    grooves=(Groove(face=Face.BOTTOM, along="x", centre=88.9, width=12.7, depth=6.35),),
)  # fmt: skip


@pytest.mark.parametrize(
    ("look", "expected"),
    [
        pytest.param(
            MM,
            {"BOSS ⌀38.1 [1.500] 12.7 [.500] HIGH", "POCKET ↧9.53 [.375]", "4× R6.35 [.250]", "POCKET ↧19.05 [.750]",
             "50.8 [2.000] × 12.7 [.500] AT 30°", "GROOVE ↧6.35 [.250]"},
            id="mm",
        ),
        pytest.param(
            IN,
            {"BOSS ⌀1.500 [38.1] .500 [12.7] HIGH", "POCKET ↧.375 [9.53]", "4X R.250 [6.35]", "POCKET ↧.750 [19.05]",
             "2.000 [50.8] X .500 [12.7] AT 30°", "GROOVE ↧.250 [6.35]"},
            id="inch",
        ),
    ],
)  # fmt: skip
def test_notes_on_shaped_pieces_have_both_units(look: Style, expected: set[str]) -> None:
    drawing = piece_drawing(SHAPED, DATA, look)
    texts = {mark.text for sheet in drawing.sheets for mark in everything(sheet) if isinstance(mark, Text)}
    assert expected <= texts
    assert proof_of(drawing) == ()
