"""T-slots against ISO 299 / BS 2485 and ASME B5.1M, and the rules for odd and worn ones."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slotwright.errors import NotListedError, SizeError
from slotwright.parts.standards import Row, rows
from slotwright.parts.t_slots import (
    TSlot,
    complete_slot,
    pitch_tolerance,
    slot_for_width,
    standard_pitches,
    standard_slots,
)

INCH = 25.4

# a: bolt, b min, c min, h min, all mm: BS 2485 table (equal to ISO 299), as printed on an engineering reference page
ISO_299 = {
    5: ("M4", 10, 3.5, 8), 6: ("M5", 11, 5, 11), 8: ("M6", 14.5, 7, 15), 10: ("M8", 16, 7, 17), 12: ("M10", 19, 8, 20),
    14: ("M12", 23, 9, 23), 18: ("M16", 30, 12, 30), 22: ("M20", 37, 16, 38), 28: ("M24", 46, 20, 48),
    36: ("M30", 56, 25, 61), 42: ("M36", 68, 32, 74), 48: ("M42", 80, 36, 84), 54: ("M48", 90, 40, 94),
}  # fmt: skip

# throat: bolt, headspace width min, headspace depth min, throat depth min, inch: ASME B5.1M-1985 table on an
# engineering reference page; throat depths from 1/2 bolts upward are from memory
ASME_B5_1M = {
    0.282: ("1/4-20 UNC", 0.500, 0.203, 0.125), 0.344: ("5/16-18 UNC", 0.594, 0.234, 0.156),
    0.438: ("3/8-16 UNC", 0.719, 0.297, 0.219), 0.562: ("1/2-13 UNC", 0.906, 0.359, 0.312),
    0.688: ("5/8-11 UNC", 1.188, 0.453, 0.438), 0.812: ("3/4-10 UNC", 1.375, 0.594, 0.562),
    1.062: ("1-8 UNC", 1.750, 0.781, 0.750), 1.312: ("1-1/4-7 UNC", 2.125, 1.031, 1.000),
    1.562: ("1-1/2-6 UNC", 2.562, 1.281, 1.250),
}  # fmt: skip


@pytest.mark.parametrize(("slot", "row"), list(zip(standard_slots("metric"), ISO_299.items(), strict=True)))
def test_iso_299_smallest_profile(slot: TSlot, row: tuple[float, tuple[str, float, float, float]]) -> None:
    width, (bolt, b, c, h) = row
    assert (slot.width, slot.bolt, slot.headspace_width, slot.headspace_depth, slot.depth) == (width, bolt, b, c, h)
    assert (slot.standard, slot.assumed) == ("ISO 299", ())


@pytest.mark.parametrize(("slot", "row"), list(zip(standard_slots("inch"), ASME_B5_1M.items(), strict=True)))
def test_asme_b5_1m_smallest_profile(slot: TSlot, row: tuple[float, tuple[str, float, float, float]]) -> None:
    width, (bolt, headspace_width, headspace_depth, throat_depth) = row
    found = (slot.width, slot.headspace_width, slot.headspace_depth, slot.throat_depth)
    printed = (width, headspace_width, headspace_depth, throat_depth)
    assert found == pytest.approx([size * INCH for size in printed], abs=1e-9)
    assert (slot.standard, slot.bolt) == ("ASME B5.1M", bolt)


@pytest.mark.parametrize(
    ("inches", "bolt"),
    [
        pytest.param(9 / 32, "1/4-20 UNC", id="B5.1M-rounds-9/32-to-.282"),
        pytest.param(9 / 16, "1/2-13 UNC", id="B5.1M-rounds-9/16-to-.562"),
        pytest.param(11 / 16, "5/8-11 UNC", id="B5.1M-rounds-11/16-to-.688"),
        pytest.param(13 / 16, "3/4-10 UNC", id="B5.1M-rounds-13/16-to-.812"),
        pytest.param(0.600, "1/2-13 UNC", id="worn-within-.040"),
        pytest.param(5 / 8, None, id="5/8-stands-between-9/16-and-11/16"),
        pytest.param(0.500, None, id="1/2-is-in-no-table"),
        pytest.param(0.610, None, id="worn-too-far"),
        pytest.param(0.680, None, id="too-narrow-for-11/16"),
    ],
)
def test_which_inch_slot_a_throat_is(inches: float, bolt: str | None) -> None:
    slot = slot_for_width(inches * INCH, "in")
    assert (slot.bolt if slot else None) == bolt


@pytest.mark.parametrize(
    ("width", "nominal"), [(14.0, 14), (13.96, 14), (14.5, 14), (14.6, None), (13.9, None), (16.0, None), (18.18, 18)]
)
def test_which_metric_slot_a_throat_is(width: float, nominal: float | None) -> None:
    slot = slot_for_width(width, "mm")
    assert (slot.width if slot else None) == nominal


def test_a_standard_throat_fills_in_the_standard_profile() -> None:
    slot = complete_slot(14.2)
    assert (slot.width, slot.headspace_width, slot.headspace_depth, slot.depth) == (14.2, 23, 9, 23)
    assert (slot.standard, slot.bolt) == ("ISO 299", "M12")
    assert slot.assumed == ("headspace_width", "headspace_depth", "depth")


def test_a_five_eighths_slot_borrows_the_nine_sixteenths_profile_and_says_so() -> None:
    """ASME B5.1M row .562: headspace .906 x .359, throat .312 in."""
    slot = complete_slot(5 / 8 * INCH, system="in")
    assert slot.headspace_width == pytest.approx(0.906 * INCH)
    assert slot.throat_depth == pytest.approx(0.312 * INCH)
    assert (slot.standard, slot.bolt) == ("measured", None)
    assert slot.assumed == ("headspace_width", "headspace_depth", "depth")


def test_what_was_measured_stands() -> None:
    slot = complete_slot(15.875, 28.0, 11.5, 27.0, system="in")
    assert (slot.headspace_width, slot.headspace_depth, slot.depth, slot.assumed) == (28.0, 11.5, 27.0, ())
    deep = complete_slot(14.0, headspace_depth=12.0)
    assert deep.depth == 12.0 + 14.0  # the throat of the standard profile stays: h - c = 23 - 9
    assert deep.assumed == ("headspace_width", "depth")


@pytest.mark.parametrize(
    ("sizes", "problem"),
    [
        pytest.param((14.0, 12.0, 9.0, 23.0), "has no shoulders", id="headspace-narrower-than-throat"),
        pytest.param((14.0, 23.0, 25.0, 23.0), "has no throat", id="headspace-deeper-than-slot"),
        pytest.param((14.0, 23.0, None, 8.0), "has no throat", id="measured-depth-under-assumed-headspace"),
        pytest.param((0.0, 23.0, 9.0, 23.0), "has no shoulders", id="zero-width"),
        pytest.param((float("nan"), 23.0, 9.0, 23.0), "has no shoulders", id="nan"),
        pytest.param((100.0, None, None, None), "has no shoulders", id="wider-than-every-headspace"),
    ],
)
def test_a_profile_that_is_no_t_is_refused(sizes: tuple[float, float, float, float], problem: str) -> None:
    with pytest.raises(SizeError, match=problem):
        complete_slot(*sizes)


def test_a_throat_under_every_standard_needs_measuring() -> None:
    with pytest.raises(NotListedError, match=r"must be measured, is not in ISO 299; there is: 5 mm"):
        complete_slot(4.0)
    assert complete_slot(4.0, 8.0, 3.0, 7.0).standard == "measured"


@pytest.mark.parametrize(
    ("width", "pitches"),
    [
        pytest.param(14, (50, 63, 80, 100), id="BS-2485-14"),
        pytest.param(18, (63, 80, 100, 125), id="BS-2485-18"),
        pytest.param(6, (25, 32, 40), id="BS-2485-6-with-the-misprint-62-mended"),
    ],
)
def test_standard_pitches(width: float, pitches: tuple[float, ...]) -> None:
    assert standard_pitches(width) == pitches


def test_pitches_are_preferred_numbers() -> None:
    """ISO 3 series R10 rounded (20 25 32 40 50 63 80 100 and tens of them)."""
    r10 = {20, 25, 32, 40, 50, 63, 80, 100, 125, 160, 200, 250, 320, 400, 500}
    assert {pitch for slot in standard_slots("metric") for pitch in standard_pitches(slot.width)} <= r10
    with pytest.raises(NotListedError, match="slot widths"):
        standard_pitches(16)


@pytest.mark.parametrize(
    ("pitch", "tolerance"),
    [
        (20, 0.2),
        (25, 0.2),
        (32, 0.3),
        (100, 0.3),
        (125, 0.5),
        (250, 0.5),
        (320, 0.8),
        (500, 0.8),
        (28, 0.3),
        (110, 0.5),
        (300, 0.8),
    ],
)
def test_pitch_tolerance_bs_2485(pitch: float, tolerance: float) -> None:
    assert pitch_tolerance(pitch) == tolerance


@pytest.mark.parametrize("pitch", [19.9, 501.0])
def test_a_pitch_outside_the_table_is_refused(pitch: float) -> None:
    with pytest.raises(NotListedError, match="pitch tolerances"):
        pitch_tolerance(pitch)


@given(st.floats(5.0, 54.5), st.sampled_from(["mm", "in"]))
def test_a_match_is_never_wider_than_the_throat_but_for_the_calliper(width: float, system: str) -> None:
    slot = slot_for_width(width, system)
    if slot is not None:
        assert -0.05 <= width - slot.width <= 1.016
    if system == "mm":
        slot = complete_slot(width)
        assert slot.width == width
        assert slot.headspace_depth < slot.depth


@pytest.mark.parametrize("system", ["mm", "in"])
def test_larger_slots_are_larger_everywhere(system: str) -> None:
    slots = standard_slots(system)
    for small, large in pairwise(slots):
        assert small.width < large.width
        assert small.headspace_width < large.headspace_width
        assert small.headspace_depth <= large.headspace_depth
        assert small.throat_depth < large.throat_depth


@pytest.mark.parametrize(
    "row", [*rows("t_slots_metric"), *rows("t_slots_inch")], ids=lambda r: next(iter(r.cells.values()))
)
def test_printed_limits_are_in_order(row: Row) -> None:
    """Least and largest figures as printed: each pair in order, and no more than 45 % apart but for throat depths."""
    for low in [column for column in row.cells if "_min_" in column]:
        least, largest = row.number(low), row.number(low.replace("_min_", "_max_"))
        assert least < largest
        assert largest < 1.45 * least or "throat_depth" in low
