"""Figures, heights, widths and dashes by the standards."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slotwright.drawings.paper.sheet import Line
from slotwright.drawings.paper.style import Style, style

ISO = style("iso", "mm")
COMMA = style("iso", "mm", decimal=",")
INCH = style("asme", "in")
ASME_MM = style("asme", "mm")


@pytest.mark.parametrize(
    ("drawn", "mm", "places", "written"),
    [
        # ASME Y14.5-2018, 4.3.1 (a)-(c): millimetre dimensioning (clause numbers from memory)
        pytest.param(ASME_MM, 0.9, None, "0.9", id="Y14.5-mm-zero-before-the-point"),
        pytest.param(ASME_MM, 12.0, None, "12", id="Y14.5-mm-whole-number-without-point"),
        pytest.param(ASME_MM, 12.5, None, "12.5", id="Y14.5-mm-no-trailing-zeros"),
        # ASME Y14.5-2018, 4.3.2: decimal inch dimensioning
        pytest.param(INCH, 12.7, None, ".500", id="Y14.5-inch-no-leading-zero"),
        pytest.param(INCH, 25.4 * 1.5, None, "1.500", id="Y14.5-inch-trailing-zeros-kept"),
        pytest.param(INCH, 25.4, 2, "1.00", id="Y14.5-inch-two-places"),
        pytest.param(INCH, -12.7, None, "-.500", id="inch-negative"),
        pytest.param(INCH, 0.0, None, ".000", id="inch-zero-keeps-its-places"),
        # ISO 129-1:2018: decimal comma; ISO 80000-1, 7.3.2: either sign
        pytest.param(COMMA, 12.5, None, "12,5", id="ISO-129-1-comma"),
        pytest.param(ISO, 12.5, None, "12.5", id="ISO-80000-1-point"),
        pytest.param(ISO, 10.0, None, "10", id="definition-10-mm-reads-10"),
        pytest.param(ISO, 100.0, 0, "100", id="zeros-before-the-point-stay"),
        pytest.param(ISO, 0.0, None, "0", id="zero"),
        pytest.param(ISO, -0.001, None, "0", id="never-minus-zero"),
        pytest.param(INCH, -0.001, None, ".000", id="never-minus-zero-inch"),
        # half away from zero, common practice, no source
        pytest.param(ISO, 0.125, None, "0.13", id="half-goes-up"),
        pytest.param(ISO, -0.125, None, "-0.13", id="negative-half-goes-down"),
        pytest.param(ISO, 2.675, None, "2.68", id="half-that-binary-can't-hold"),
        pytest.param(INCH, 25.4 * 0.0625, None, ".063", id="a-sixteenth"),
        pytest.param(INCH, 25.4 * 0.0625, 4, ".0625", id="a-sixteenth-in-four-places"),
        pytest.param(INCH, 808.0375, 4, "31.8125", id="31-13/16-in-is-808.0375-mm"),
    ],
)
def test_number(drawn: Style, mm: float, places: int | None, written: str) -> None:
    assert drawn.number(mm, places) == written


@given(st.floats(-1e5, 1e5), st.integers(0, 4), st.sampled_from([ISO, COMMA, INCH, ASME_MM]))
def test_a_written_number_is_at_most_half_a_last_digit_off(mm: float, places: int, drawn: Style) -> None:
    written = drawn.number(mm, places)
    unit = Fraction(254, 10) if drawn.unit == "in" else Fraction(1)
    off = abs(Fraction(written.replace(",", ".")) - Fraction(mm) / unit)
    assert off <= Fraction(1, 2 * 10**places) + Fraction(1, 10**8)
    assert not written.startswith("-0") or float(written.replace(",", ".")) != 0.0


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -float("inf")])
def test_what_is_no_length_is_refused(value: float) -> None:
    with pytest.raises(ValueError, match="can't show"):
        ISO.number(value)


@pytest.mark.parametrize(
    ("drawn", "degrees", "written"), [(ISO, 45.0, "45°"), (COMMA, 22.5, "22,5°"), (INCH, 118.0, "118°")]
)
def test_angle(drawn: Style, degrees: float, written: str) -> None:
    assert drawn.angle(degrees) == written


@pytest.mark.parametrize(
    ("drawn", "wide", "narrow"),
    [
        pytest.param(ISO, 0.5, 0.25, id="ISO-128-2-line-group-0.5"),
        pytest.param(style("iso", "mm", wide=0.35), 0.35, 0.175, id="ISO-128-2-line-group-0.35-printed-0.18"),
        pytest.param(INCH, 0.6, 0.3, id="ASME-Y14.2"),
    ],
)
def test_line_widths(drawn: Style, wide: float, narrow: float) -> None:
    assert {line: drawn.line_width(line) for line in Line} == {
        line: wide if line in (Line.OUTLINE, Line.SECTION, Line.FRAME) else narrow for line in Line
    }


@pytest.mark.parametrize(
    ("line", "widths"),
    [
        # ISO 128-2:2020, table 2, in line widths: dash 12, long dash 24, gap 3; the dot (0.5) is drawn 1 long
        pytest.param(Line.HIDDEN, (12, 3), id="ISO-128-2-02-dashed"),
        pytest.param(Line.CENTRE, (24, 3, 1, 3), id="ISO-128-2-04-long-dash-dot"),
        pytest.param(Line.PHANTOM, (24, 3, 1, 3, 1, 3), id="ISO-128-2-05-long-dash-double-dot"),
        pytest.param(Line.OUTLINE, (), id="ISO-128-2-01-continuous"),
    ],
)
def test_dashes(line: Line, widths: tuple[float, ...]) -> None:
    assert ISO.dashes(line) == pytest.approx([part * 0.25 for part in widths])


def test_lettering_heights() -> None:
    assert {ISO.small, ISO.text, ISO.title} <= {1.8, 2.5, 3.5, 5.0, 7.0, 10.0}  # ISO 3098-1:2015, table 1
    assert ASME_MM.text == 3.0  # ASME Y14.2-2014, table 1: 3 mm
    assert INCH.text == pytest.approx(0.12 * 25.4)  # and .12 in


@pytest.mark.parametrize(
    ("name", "unit", "decimal"),
    [("din", "mm", "."), ("iso", "cm", "."), ("iso", "mm", "'"), ("iso", "in", ","), ("asme", "mm", ",")],
)
def test_other_styles_are_refused(name: str, unit: str, decimal: str) -> None:
    with pytest.raises(ValueError, match=r"drawing style|decimal sign"):
        style(name, unit, decimal=decimal)
