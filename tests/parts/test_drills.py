"""Drill lists against a reference library and exact fractions."""

from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slotwright.errors import NotListedError
from slotwright.parts.drills import Drill, drill, drill_name, drills, nearest_drill, next_drill_up

Reference = Callable[[str], list[dict[str, str]]]

INCH = 25.4

# The library gives these to three decimals only; the drills are known to four
ROUNDED_THERE = {"#5": 0.2055, "#10": 0.1935, "#18": 0.1695, "#25": 0.1495, "#28": 0.1405}


def test_numbers_and_letters_agree_with_the_reference_library(reference: Reference) -> None:
    theirs = {row["Size"]: float(row["Diameter"]) for row in reference("drill_sizes")}
    ours = {d.name: round(d.diameter / INCH, 6) for d in drills("inch") if d.series != "fraction"}
    assert ours.keys() == theirs.keys()
    assert {name: size for name, size in ours.items() if size != theirs[name]} == ROUNDED_THERE
    assert all(abs(ours[name] - theirs[name]) <= 0.00051 for name in ours)


@pytest.mark.parametrize("d", [d for d in drills("inch") if d.series == "fraction"], ids=lambda d: d.name)
def test_fractions_are_exact(d: Drill) -> None:
    whole, _, part = d.name.rpartition("-")
    assert d.diameter == float((Fraction(part) + int(whole or 0)) * Fraction(254, 10))
    assert d.confirmed


@pytest.mark.parametrize(
    ("diameter", "system", "name"),
    [
        pytest.param(0.201 * INCH, "inch", "#7", id="handbook-1/4-20-tap-drill-is-no-7"),
        pytest.param(27 / 64 * INCH, "inch", "27/64", id="fraction"),
        pytest.param(0.257 * INCH, "in", "F", id="letter"),
        pytest.param(0.25 * INCH, "inch", "1/4", id="fraction-rather-than-letter-E"),
        pytest.param(10.2, "metric", "10.2", id="metric"),
        pytest.param(10.209, "mm", "10.2", id="metric-within-a-hundredth"),
        pytest.param(20.4, "metric", None, id="metric-series-has-no-20.4"),
        pytest.param(10.0, "inch", None, id="no-inch-drill-is-10-mm"),
    ],
)
def test_drill_name(diameter: float, system: str, name: str | None) -> None:
    assert drill_name(diameter, system) == name


def test_a_space_in_a_mixed_number_is_the_same_drill() -> None:
    assert drill("1 1/32", "inch") is drill("1-1/32", "inch")


@pytest.mark.parametrize(("name", "system"), [("#81", "inch"), ("1/3", "inch"), ("10.25001", "metric"), ("F", "mm")])
def test_an_unknown_drill_is_refused(name: str, system: str) -> None:
    with pytest.raises(NotListedError, match="drill list; there is: "):
        drill(name, system)


@pytest.mark.parametrize("system", ["metric", "inch"])
def test_lists_rise(system: str) -> None:
    sizes = [d.diameter for d in drills(system)]
    assert sizes == sorted(sizes)


@given(st.floats(0.2, 60.0), st.sampled_from(["metric", "inch"]))
def test_nearest_and_next_up_agree_with_a_full_search(diameter: float, system: str) -> None:
    sizes = [d.diameter for d in drills(system)]
    gap = abs(nearest_drill(diameter, system).diameter - diameter)
    assert gap <= min(abs(size - diameter) for size in sizes) + 1e-8
    above = [size for size in sizes if size >= diameter - 1e-9]
    if above:
        assert next_drill_up(diameter, system).diameter == min(above)
    else:
        with pytest.raises(NotListedError):
            next_drill_up(diameter, system)


def test_the_metric_series_is_the_customary_one() -> None:
    """Steps of 0.05 to 3 mm, 0.1 with quarters to 14, quarters to 32, halves to 50: common practice, no source."""
    twentieths = {round(1 + n * 0.05, 2) for n in range(41)}
    tenths = {round(3 + n * 0.1, 2) for n in range(111)} | {round(3 + n * 0.25, 2) for n in range(45)}
    quarters = {14 + n * 0.25 for n in range(73)}
    halves = {32 + n * 0.5 for n in range(37)}
    assert {d.diameter for d in drills("metric")} == twentieths | tenths | quarters | halves
