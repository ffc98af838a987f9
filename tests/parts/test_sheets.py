"""Sheet sizes, scales, line widths and lettering against their standards' own construction rules."""

from itertools import pairwise
from math import log10, sqrt

import pytest

from slotwright.errors import NotListedError
from slotwright.parts.sheets import lettering_heights, line_groups, scales, sheet_size, sheet_sizes


def test_a_series_is_one_square_metre_halved() -> None:
    """ISO 216: A0 is 1 m2 with sides 1 : sqrt 2, each next size half the one before, rounded down to mm."""
    for n, sheet in enumerate(reversed(sheet_sizes("metric"))):
        assert sheet.name == f"A{n}"
        assert sheet.long == pytest.approx(1000 * 2 ** (0.25 - n / 2), abs=1.0)
        assert sheet.long / sheet.short == pytest.approx(sqrt(2), rel=5e-3)


def test_inch_sheets_double() -> None:
    """ASME Y14.1: A is 8.5 x 11 in, each next size two of the one before."""
    sheets = sheet_sizes("inch")
    assert [s.name for s in sheets] == list("ABCDE")
    assert (sheets[0].short / 25.4, sheets[0].long / 25.4) == pytest.approx((8.5, 11))
    for small, large in pairwise(sheets):
        assert (large.short, large.long) == pytest.approx((small.long, 2 * small.short))


def test_iso_5457_margins() -> None:
    """20 mm at the filing edge, 10 mm elsewhere (from memory)."""
    assert {(s.margin_left, s.margin) for s in sheet_sizes("mm")} == {(20.0, 10.0)}


def test_a_sheet_by_name() -> None:
    assert (sheet_size("A3", "mm").long, sheet_size("A3", "mm").short) == (420, 297)
    with pytest.raises(NotListedError, match="sheet 'A5'"):
        sheet_size("A5", "mm")


def test_iso_scales_are_one_two_and_five() -> None:
    """ISO 5455: 1, 2 and 5 times powers of ten."""
    for scale in scales("metric"):
        paper, model = (float(part) for part in scale.name.split(":"))
        assert scale.ratio == paper / model
        lead = round(max(paper, model) / 10 ** int(log10(max(paper, model)) + 1e-9))
        assert lead in (1, 2, 5)


@pytest.mark.parametrize("system", ["metric", "inch"])
def test_scales_fall_and_have_full_size(system: str) -> None:
    ratios = [scale.ratio for scale in scales(system)]
    assert ratios == sorted(ratios, reverse=True)
    assert 1.0 in ratios


def test_inch_scales_are_halves() -> None:
    """Full, half, quarter size: common practice, no source."""
    assert [s.name for s in scales("inch")][2:6] == ["1:1", "1:2", "1:4", "1:8"]


def test_line_groups_are_two_to_one() -> None:
    """ISO 128-2: wide to narrow 2 : 1, groups stepping by sqrt 2, both rounded."""
    for wide, narrow in line_groups():
        assert wide / narrow == pytest.approx(2.0, rel=0.05)
    assert all(b[0] / a[0] == pytest.approx(sqrt(2), rel=0.02) for a, b in pairwise(line_groups()))


def test_lettering_steps_by_root_two() -> None:
    """ISO 3098-1: 1.8, 2.5, 3.5, 5 ... each sqrt 2 larger, rounded."""
    assert all(b / a == pytest.approx(sqrt(2), rel=0.02) for a, b in pairwise(lettering_heights()))
