"""Sizes: definitions of the units, the round trip, and texts that are refused at once."""

from __future__ import annotations

import time
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slotwright import sizes
from slotwright.errors import SizeError


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        # The international inch is 25.4 mm exactly (1959 agreement); the rest is arithmetic by hand.
        pytest.param("31-13/16 in", 808.0375, id="mixed-number-hyphen-31.8125-in"),
        pytest.param('31 13/16"', 808.0375, id="mixed-number-space-inch-mark"),
        pytest.param('1/2"', 12.7, id="half-inch"),
        pytest.param(".500 in", 12.7, id="no-leading-zero"),
        pytest.param("11/2 in", 139.7, id="improper-fraction-is-5.5-in"),
        pytest.param("1 1/2 in", 38.1, id="one-and-a-half"),
        pytest.param("3' 6-1/2\"", 1079.5, id="feet-and-inches-42.5-in"),
        pytest.param("3 ft 6 in", 1066.8, id="feet-and-inches-in-letters"),
        pytest.param("1 ft", 304.8, id="foot-is-12-inches"),
        pytest.param("12.7 mm", 12.7, id="millimetres"),
        pytest.param("12.7mm", 12.7, id="no-space-before-the-unit"),
        pytest.param("2.5 cm", 25.0, id="centimetres"),
        pytest.param("1.1 m", 1100.0, id="metres"),
        pytest.param("-3 mm", -3.0, id="negative"),
        pytest.param("-1-1/2 in", -38.1, id="sign-goes-for-the-whole-mixed-number"),
    ],
)
def test_length_by_definition_of_the_unit(text: str, mm: float) -> None:
    assert sizes.length(text) == mm


@pytest.mark.parametrize(
    ("read", "text", "expected"),
    [
        pytest.param(sizes.angle, "45 deg", 45.0, id="degrees"),
        pytest.param(sizes.angle, "23 deg 41'", 23 + 41 / 60, id="degrees-and-minutes-not-23.41"),
        pytest.param(sizes.angle, "23°41'", 23 + 41 / 60, id="degree-sign"),
        pytest.param(sizes.mass, "84 lb", 84 * 0.45359237, id="international-pound-1959"),
        pytest.param(sizes.mass, "1 t", 1000.0, id="tonne"),
        pytest.param(sizes.temperature, "-20 degC", -20.0, id="Celsius"),
        pytest.param(sizes.temperature, "140 degF", 60.0, id="Fahrenheit-is-32-and-9-fifths"),
        pytest.param(sizes.temperature, "-40 degF", -40.0, id="the-two-scales-meet-at-minus-40"),
        pytest.param(sizes.force, "1 lbf", 4.4482216152605, id="pound-force-by-standard-gravity"),
        pytest.param(sizes.force, "8 kN", 8000.0, id="kilonewton"),
        pytest.param(sizes.torque, "1 lbf.ft", 4.4482216152605 * 0.3048, id="pound-force-foot"),
        pytest.param(sizes.torque, "12 lbf.in", 4.4482216152605 * 0.3048, id="twelve-pound-force-inches-are-one-foot"),
        pytest.param(sizes.stress, "1 ksi", 4448.2216152605 / 25.4**2, id="ksi"),
        pytest.param(sizes.stress, "205 GPa", 205000.0, id="gigapascal"),
    ],
)
def test_other_quantities_by_definition(read: object, text: str, expected: float) -> None:
    assert callable(read)
    assert read(text) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("M12", "M12"),
        ("M10x1.25", "M10x1.25"),
        ("M10 x 1.50", "M10x1.5"),
        ("1/2-13 UNC", "1/2-13 UNC"),
        ("1/2-13", "1/2-13"),
        ("1-1/4-7 unc", "1-1/4-7 UNC"),
        ("#10-24", "#10-24"),
    ],
)
def test_thread_names_come_in_one_form(text: str, name: str) -> None:
    assert sizes.thread_name(text) == name


def test_fit_names() -> None:
    assert sizes.fit_name("25 H7") == sizes.FitName(25.0, "H7", "")
    assert sizes.fit_name("25 H7/g6") == sizes.FitName(25.0, "H7", "g6")
    assert sizes.fit_name("40 f7") == sizes.FitName(40.0, "", "f7")


@pytest.mark.parametrize(
    ("text", "mm"),
    [("5/8 slot", 15.875), ("14 slot", 14.0), ("14 mm", 14.0), ("5/8 in", 15.875), ('5/8" slot', 15.875)],
)
def test_slot_widths_by_trade_name(text: str, mm: float) -> None:
    assert sizes.slot_width(text) == mm


HOSTILE = [
    "9**9**9 mm",
    "9" * 1_000_000,
    "9" * 1_000_000 + " mm",
    "nan in",
    "inf mm",
    "1e999 mm",
    "1e3 mm",
    "１２ mm",
    "٣ mm",
    "−5 mm",
    "1½ in",
    '__import__("os").system("true")',
    "12,7 mm",
    "1,000 mm",
    "0,5",
    "5/8-11",
    "12.7",
    "1 3/2 in",
    "1/3 in",
    "1/0 in",
    "1/2 mm",
    "",
    " ",
    "mm",
    "--5 mm",
    "+5 mm",
    "1.2.3 mm",
    "5 mm mm",
    "5 furlong",
    "5 mm; rm",
    "5\x00 mm",
    "5\u202e mm",
    "0x10 mm",
    "1_000 mm",
    "(1+1) mm",
    "9" * 30 + " mm",
    "12.7 kg",
    "{x} in",
    "%s in",
]


@pytest.mark.parametrize("text", HOSTILE, ids=lambda text: ascii(text[:20]))
def test_hostile_length_is_refused_clearly_and_at_once(text: str) -> None:
    sizes.length("1 in")  # the registry of units is loaded once, not by the refusal
    best = min(_refusal_time(text) for _ in range(5))
    assert best < 1e-3


def _refusal_time(text: str) -> float:
    start = time.perf_counter()
    with pytest.raises(SizeError) as caught:
        sizes.length(text)
    spent = time.perf_counter() - start
    message = str(caught.value)
    assert message.isprintable()
    assert len(message) < 300
    assert "; " in message, "says what to do"
    return spent


@given(st.integers(-64 * 800, 64 * 800))
def test_every_64th_of_an_inch_survives_the_round_trip(sixty_fourths: int) -> None:
    mm = float(Fraction(sixty_fourths, 64) * Fraction(254, 10))
    written = sizes.fraction(mm)
    assert written.exact
    assert sizes.length(f"{written.text} in") == mm


@given(st.floats(-20000, 20000))
def test_a_fraction_says_its_rounding(mm: float) -> None:
    written = sizes.fraction(mm)
    assert abs(written.error) <= 25.4 / 128 + 1e-9
    assert sizes.length(f"{written.text} in") == pytest.approx(mm + written.error, abs=1e-9)


@given(st.decimals(-99999, 99999, places=4))
def test_decimals_survive_the_round_trip(value: object) -> None:
    text = sizes.decimals(float(str(value)), 4)
    assert float(text) == float(str(value))
    assert not text.startswith("-0") or float(text) < 0


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [(10.0, 2, "10"), (0.125, 2, "0.13"), (-0.125, 2, "-0.13"), (-0.001, 2, "0"), (2.675, 2, "2.68"), (1e-9, 3, "0")],
)
def test_decimals_round_halves_away_from_zero_as_written(value: float, places: int, text: str) -> None:
    assert sizes.decimals(value, places) == text


@given(st.text(max_size=80))
def test_any_text_is_read_or_refused_with_a_size_error(text: str) -> None:
    for read in (
        sizes.length,
        sizes.angle,
        sizes.mass,
        sizes.temperature,
        sizes.thread_name,
        sizes.fit_name,
        sizes.slot_width,
    ):
        refusal: SizeError | None = None
        try:
            read(text)
        except SizeError as error:
            refusal = error
        assert refusal is None or str(refusal).isprintable()


def test_figures_are_said_in_the_readers_unit() -> None:
    assert sizes.say(25.4, "mm", "in") == "1 in"
    assert sizes.say(25.4, "mm", "mm") == "25.4 mm"
    assert sizes.say(1.0, "kg", "in") == "2.2 lb"
    assert sizes.say(2.0, "", "in") == "2"


@pytest.mark.parametrize("text", ["1e99 in", "1.5e3 mm", "2E-3 in", "1e+2 mm"])
def test_powers_of_ten_are_told_as_such(text: str) -> None:
    with pytest.raises(SizeError, match="power of ten"):
        sizes.length(text)
