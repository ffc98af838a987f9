"""Limits in the other unit: by hand, and never wider than the written ones, in exact fractions."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest

from slotwright.drawings.callouts import callout
from slotwright.drawings.converted import limits_bracket
from slotwright.drawings.paper.style import Style, style
from slotwright.pieces.features import Hole, Limits, Ream
from tests.drawings.pieces import H7_10, INCH

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
