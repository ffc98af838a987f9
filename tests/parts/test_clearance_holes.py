"""Clearance holes against ISO 273, ASME B18.2.8 and a reference library."""

from collections.abc import Callable

import pytest

from slotwright.errors import NotListedError
from slotwright.parts.clearance_holes import FITS, clearance_hole
from slotwright.parts.standards import rows
from slotwright.parts.threads import Thread, thread, threads

Reference = Callable[[str], list[dict[str, str]]]

INCH = 25.4
COLUMNS = {"fine": "Close", "medium": "Normal", "coarse": "Loose"}


def _listed(system: str) -> list[Thread]:
    """Threads whose size the standard has: ASME B18.2.8 stops at 1-1/4 here and has no #12 nor 9/16."""
    missing = {"#12", "9/16", "1-3/8", "1-1/2"}
    return [t for t in threads(system) if t.series in ("coarse", "UNC") and t.size not in missing]


@pytest.mark.parametrize(
    ("name", "fit", "diameter"),
    [
        pytest.param("M6", "fine", 6.4, id="ISO-273-M6-fine"),
        pytest.param("M6", "medium", 6.6, id="ISO-273-M6-medium"),
        pytest.param("M8", "medium", 9.0, id="ISO-273-M8-medium"),
        pytest.param("M10", "coarse", 12.0, id="ISO-273-M10-coarse"),
        pytest.param("M12", "fine", 13.0, id="ISO-273-M12-fine"),
        pytest.param("M12", "medium", 13.5, id="ISO-273-M12-medium"),
        pytest.param("M12", "coarse", 14.5, id="ISO-273-M12-coarse"),
        pytest.param("M16", "medium", 17.5, id="ISO-273-M16-medium"),
        pytest.param("M20", "medium", 22.0, id="ISO-273-M20-medium"),
        pytest.param("1/4-20", "medium", 9 / 32 * INCH, id="ASME-B18.2.8-1/4-normal"),
        pytest.param("1/2-13", "fine", 17 / 32 * INCH, id="ASME-B18.2.8-1/2-close"),
        pytest.param("1/2-13", "medium", 9 / 16 * INCH, id="ASME-B18.2.8-1/2-normal"),
        pytest.param("1/2-13", "coarse", 39 / 64 * INCH, id="ASME-B18.2.8-1/2-loose"),
        pytest.param("1-8", "medium", (1 + 3 / 32) * INCH, id="ASME-B18.2.8-1-normal"),
        pytest.param("#10-24", "medium", 0.221 * INCH, id="ASME-B18.2.8-#10-normal"),
    ],
)
def test_published(name: str, fit: str, diameter: float) -> None:
    assert clearance_hole(thread(name), fit).diameter == pytest.approx(diameter, abs=1e-9)


# The library rounds these up to whole millimetres; ISO 273 has halves there
ROUNDED_THERE = {("M12", "medium"), ("M12", "coarse"), ("M14", "medium"), ("M14", "coarse"), ("M16", "medium"),
                 ("M16", "coarse")}  # fmt: skip


def test_every_metric_hole_agrees_with_the_reference_library(reference: Reference) -> None:
    theirs = {row["Size"]: row for row in reference("clearance_hole_sizes")}
    differing = set()
    for t in _listed("metric"):
        for fit in FITS:
            gap = float(theirs[t.size][COLUMNS[fit]]) - clearance_hole(t, fit).diameter
            if gap:
                differing.add((t.size, fit))
                assert gap == 0.5
    assert differing == ROUNDED_THERE


def test_every_inch_drill_agrees_with_the_reference_library(reference: Reference) -> None:
    theirs = {row["Size"].replace(" ", "-"): row for row in reference("clearance_hole_sizes")}
    for t in _listed("inch"):
        names = {fit: theirs[t.size][COLUMNS[fit]].replace(" ", "-") for fit in FITS}
        assert {fit: clearance_hole(t, fit).name for fit in FITS} == names


# Loose fit, largest hole, inch: Machinery's Handbook 31, p. 1741 (ASME B18.2.8 table 1a)
LOOSE_MAX = {
    "#4": 0.156, "#5": 0.184, "#6": 0.197, "#8": 0.225, "1/4": 0.311, "5/16": 0.373, "3/8": 0.438, "7/16": 0.500,
    "1/2": 0.625, "5/8": 0.754, "3/4": 0.926, "7/8": 1.051, "1": 1.181, "1-1/8": 1.337, "1-1/4": 1.463,
}  # fmt: skip


@pytest.mark.parametrize(("size", "largest"), LOOSE_MAX.items(), ids=LOOSE_MAX)
def test_the_smallest_loose_hole_is_within_the_tolerance_of_the_largest(size: str, largest: float) -> None:
    """B18.2.8 holes carry H14 (loose) upward from the smallest: 0.25 to 0.62 mm for 3 to 50 mm (ISO 286-1 IT14)."""
    t = next(t for t in threads("inch") if t.size == size and t.series == "UNC")
    width = largest * INCH - clearance_hole(t, "coarse").diameter
    assert 0.25 <= width <= 0.70


@pytest.mark.parametrize("t", _listed("metric") + _listed("inch"), ids=lambda t: t.designation)
def test_fits_grow_and_clear_the_bolt(t: Thread) -> None:
    fine, medium, coarse = (clearance_hole(t, fit).diameter for fit in FITS)
    assert t.major < fine < medium < coarse < 1.4 * t.major


@pytest.mark.parametrize("fit", FITS)
def test_the_printed_decimal_is_the_drill(fit: str) -> None:
    """The table prints the smallest hole to four decimals beside the drill's name: they must be one size."""
    series = {"fine": "close", "medium": "normal", "coarse": "loose"}[fit]
    for row in rows("clearance_holes_inch"):
        t = next(t for t in threads("inch") if t.size == row.text("screw"))
        assert t.major / INCH == pytest.approx(row.number("nominal_d_in"), abs=1e-9)
        assert clearance_hole(t, fit).diameter / INCH == pytest.approx(row.number(f"{series}_min_in"), abs=5.1e-5)


def test_a_fine_thread_takes_the_hole_of_its_size() -> None:
    assert clearance_hole(thread("M10x1.25")) == clearance_hole(thread("M10"))


def test_source_state_says_what_is_recalled() -> None:
    assert clearance_hole(thread("#6-32"), "medium").source_state == "from memory, unconfirmed"
    assert clearance_hole(thread("M12"), "medium").source_state == "read in a copy of the standard"


@pytest.mark.parametrize(
    ("name", "fit", "table"),
    [("M12", "snug", "series of clearance holes"), ("9/16-12", "medium", "ASME B18.2.8"), ("#12-24", "fine", "ASME")],
)
def test_what_is_not_listed_is_refused(name: str, fit: str, table: str) -> None:
    with pytest.raises(NotListedError, match=table):
        clearance_hole(thread(name), fit)
