"""T-nuts against DIN 508 and ASME B5.1M, and the sizes of one to make."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from slotwright.errors import NotListedError, SizeError
from slotwright.parts.t_nuts import (
    TNut,
    bolt_passes,
    largest_bolt,
    largest_nut_thread,
    misfits,
    nut_for,
    standard_nuts,
)
from slotwright.parts.t_slots import TSlot, complete_slot, standard_slots
from slotwright.parts.threads import thread

INCH = 25.4
FIVE_EIGHTHS = complete_slot(5 / 8 * INCH, system="in")

# slot: thread, e, h, k, mm: DIN 508 as a general fastener data table has it
DIN_508 = {
    5: ("M4", 9, 6.5, 3), 6: ("M5", 10, 8, 4), 8: ("M6", 13, 10, 6), 10: ("M8", 15, 12, 6), 12: ("M10", 18, 14, 7),
    14: ("M12", 22, 16, 8), 16: ("M14", 25, 18, 9), 18: ("M16", 28, 20, 10), 20: ("M18", 32, 24, 12),
    22: ("M20", 35, 28, 14), 24: ("M22", 40, 32, 16), 28: ("M24", 44, 36, 18), 32: ("M27", 50, 40, 20),
    36: ("M30", 54, 44, 22), 42: ("M36", 65, 52, 26), 48: ("M42", 75, 60, 30), 54: ("M48", 85, 70, 34),
}  # fmt: skip


@pytest.mark.parametrize(("width", "row"), DIN_508.items(), ids=[f"DIN-508-{width}" for width in DIN_508])
def test_din_508_main_series(width: float, row: tuple[str, float, float, float]) -> None:
    name, e, h, k = row
    nut = next(n for n in standard_nuts("metric") if n.slot_width == width)
    assert (nut.thread.designation, nut.base_width, nut.base_length, nut.height, nut.base_height) == (name, e, e, h, k)
    assert (nut.standard, nut.made_to_measure) == ("DIN 508", False)


@pytest.mark.parametrize("slot", standard_slots("metric"), ids=lambda s: f"ISO-299-{s.width:g}")
def test_every_iso_slot_takes_the_din_nut_of_its_own_bolt(slot: TSlot) -> None:
    """ISO 299 names the bolt of each slot, DIN 508 (after it) the nut's main thread: two tables must agree."""
    nut = nut_for(slot, "mm")
    assert (nut.standard, nut.thread.designation) == ("DIN 508", slot.bolt)


# throat: thread (one size under the slot's bolt), tongue, base width and length, base height, total height, inch, all
# largest: ASME B5.1M, from memory
ASME_NUTS = {
    0.344: ("1/4-20 UNC", 0.330, 0.562, 0.188, 0.281), 0.438: ("5/16-18 UNC", 0.418, 0.688, 0.250, 0.375),
    0.562: ("3/8-16 UNC", 0.543, 0.875, 0.312, 0.531), 0.688: ("1/2-13 UNC", 0.668, 1.125, 0.406, 0.625),
    0.812: ("5/8-11 UNC", 0.783, 1.312, 0.531, 0.781), 1.062: ("3/4-10 UNC", 1.033, 1.688, 0.688, 1.000),
    1.312: ("1-8 UNC", 1.273, 2.062, 0.938, 1.312), 1.562: ("1-1/4-7 UNC", 1.523, 2.500, 1.188, 1.625),
}  # fmt: skip


@pytest.mark.parametrize(("throat", "row"), ASME_NUTS.items(), ids=[f"ASME-B5.1M-{throat}" for throat in ASME_NUTS])
def test_every_inch_slot_takes_its_standard_nut(throat: float, row: tuple[str, float, float, float, float]) -> None:
    name, tongue, base, base_height, height = row
    nut = nut_for(complete_slot(throat * INCH, system="in"), "in")
    assert (nut.standard, nut.thread.designation) == ("ASME B5.1M", name)
    sizes = (nut.tongue_width, nut.base_width, nut.base_length, nut.base_height, nut.height)
    assert sizes == pytest.approx([size * INCH for size in (tongue, base, base, base_height, height)], abs=1e-9)
    assert "from memory" in nut.note


@pytest.mark.parametrize("system", ["mm", "in"])
def test_every_standard_slot_lets_its_own_bolt_through_and_no_larger_one(system: str) -> None:
    for slot in standard_slots(system):
        assert largest_bolt(slot, system).designation == slot.bolt


def test_a_five_eighths_slot_gets_a_half_inch_nut_made_to_measure() -> None:
    nut = nut_for(FIVE_EIGHTHS, "in")
    assert (nut.thread.designation, nut.standard, nut.made_to_measure) == ("1/2-13 UNC", "made to measure", True)
    assert largest_bolt(FIVE_EIGHTHS, "in").designation == "1/2-13 UNC"
    assert "loose in the throat" in nut.note or "too wide for the throat" in nut.note


def test_a_worn_slot_still_takes_the_standard_nut_and_a_ruined_one_does_not() -> None:
    assert nut_for(complete_slot(14.5), "mm").standard == "DIN 508"
    ruined = nut_for(TSlot(width=15.0, headspace_width=24, headspace_depth=9.5, depth=23), "mm")
    assert ruined.made_to_measure
    assert "loose in the throat" in ruined.note


@pytest.mark.parametrize(
    ("throat", "fits"),
    [
        pytest.param(0.698, True, id="B5.1M-throat-.688-at-its-upper-limit"),
        pytest.param(0.707, True, id="tongue-.668-with-.039-play"),
        pytest.param(0.710, False, id="tongue-.668-with-.042-play"),
        pytest.param(1.322, True, id="B5.1M-throat-1.312-at-its-upper-limit"),
        pytest.param(1.330, False, id="tongue-1.273-with-.057-play"),
    ],
)
def test_how_loose_an_inch_nut_may_be(throat: float, fits: bool) -> None:
    """Tongue .658 to .668 for .688 slots, 1.258 to 1.273 for 1.312 slots: ASME B5.1M, from memory."""
    nut = nut_for(complete_slot(throat * INCH, system="in"), "in")
    assert nut.made_to_measure is not fits


def test_a_reduced_thread_may_be_asked_for() -> None:
    nut = nut_for(complete_slot(14.0), "mm", thread("M10"))
    assert (nut.standard, nut.thread.designation, nut.base_width) == ("DIN 508", "M10", 22)


def test_a_thread_no_standard_nut_has_is_made() -> None:
    nut = nut_for(complete_slot(14.0), "mm", thread("3/8-16"))
    assert (nut.made_to_measure, nut.thread.designation) == (True, "3/8-16 UNC")
    assert "3/8-16 UNC" in nut.note


def test_a_thread_as_wide_as_the_nut_is_refused_with_those_that_fit() -> None:
    # ISO 299 slot 14: headspace 23, DIN 508's base 22: a 24 mm thread leaves nothing
    with pytest.raises(NotListedError, match="M24 in a T-nut 22 mm wide") as caught:
        nut_for(complete_slot(14.0), "mm", thread("M24"))
    assert caught.value.listed[-1] == "M12"


def test_a_thread_that_leaves_no_wall_tells_so() -> None:
    assert nut_for(complete_slot(14.0), "mm", thread("M16")).wall == -1.0  # (14 - 16) / 2
    assert nut_for(complete_slot(14.0), "mm").wall == 1.0  # DIN 508 14 x M12


@pytest.mark.parametrize(
    ("slot", "words"),
    [
        pytest.param(TSlot(width=14, headspace_width=21, headspace_depth=9, depth=23), "too wide for the headspace",
                     id="narrow-headspace"),
        pytest.param(TSlot(width=14, headspace_width=23, headspace_depth=7, depth=23), "too high for the headspace",
                     id="low-headspace"),
        pytest.param(TSlot(width=14, headspace_width=23, headspace_depth=9, depth=16), "above the table top",
                     id="shallow-throat"),
    ],
)  # fmt: skip
def test_what_keeps_the_standard_nut_out_is_said_and_a_nut_made(slot: TSlot, words: str) -> None:
    nut = nut_for(slot, "mm")
    assert nut.made_to_measure
    assert words in nut.note


def test_a_headspace_without_shoulders_is_refused() -> None:
    slot = TSlot(width=14, headspace_width=14.8, headspace_depth=9, depth=23)
    with pytest.raises(SizeError, match="no shoulder to bear on"):
        nut_for(slot, "mm")


def test_a_throat_too_narrow_for_any_thread_is_refused() -> None:
    slot = TSlot(width=4, headspace_width=9, headspace_depth=3, depth=8)
    with pytest.raises(NotListedError, match="preferred threads"):
        largest_nut_thread(slot, "mm")
    with pytest.raises(NotListedError, match="preferred threads"):
        largest_bolt(slot, "in")


def _check_fits(nut: TNut, slot: TSlot) -> None:
    """A nut goes in, bears on the shoulders, stays below the table top and keeps its wall."""
    assert 0.0 < slot.width - nut.tongue_width < 1.25
    assert slot.width < nut.base_width < slot.headspace_width
    assert 0.0 < nut.base_height < slot.headspace_depth
    assert 0.0 < nut.tongue_height < slot.throat_depth
    assert (nut.tongue_width - nut.thread.major) / 2.0 > 0.3


@given(
    st.floats(7.0, 54.0),
    st.floats(5.0, 20.0),
    st.floats(5.0, 40.0),
    st.floats(2.0, 40.0),
    st.sampled_from(["mm", "in"]),
)
def test_a_nut_for_any_slot_fits_it(width: float, shoulder: float, low: float, throat: float, system: str) -> None:
    slot = TSlot(width=width, headspace_width=width + shoulder, headspace_depth=low, depth=low + throat)
    nut = nut_for(slot, system)
    _check_fits(nut, slot)
    if not nut.made_to_measure:
        assert misfits(nut, slot, system) == ()
    else:
        assert (slot.width - nut.thread.major) / 2.0 >= 0.97


@given(st.floats(5.0, 60.0), st.floats(0.0, 5.0))
def test_a_wider_throat_passes_no_smaller_bolt(width: float, more: float) -> None:
    assume(more > 0.0)
    narrow, wide = (TSlot(width=w, headspace_width=w + 9, headspace_depth=9, depth=20) for w in (width, width + more))
    assert largest_bolt(narrow, "mm").major <= largest_bolt(wide, "mm").major
    assert bolt_passes(wide, largest_bolt(narrow, "mm"))
    assert not bolt_passes(narrow, thread("M48")) or width >= 48.8 - 1e-6
