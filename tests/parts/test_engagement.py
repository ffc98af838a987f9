"""Thread limits and engagement against printed limits and Machinery's Handbook."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slotwright.errors import NotListedError
from slotwright.parts.engagement import (
    ThreadLimits,
    limits,
    needed_engagement,
    nut_shear_area_per_length,
    shear_area_per_length,
    shop_engagement,
)
from slotwright.parts.materials import materials
from slotwright.parts.threads import Thread, thread, threads

INCH = 25.4

# Limits of 1/2-13 UNC 2A/2B as ASME B1.1 prints them (from memory; the worked example has Es and Kn)
HALF_INCH = ThreadLimits(
    screw_major_min=0.4876 * INCH,
    screw_pitch_min=0.4435 * INCH,
    nut_pitch_max=0.4565 * INCH,
    nut_minor_max=0.434 * INCH,
)


def test_engagement_of_a_half_inch_screw() -> None:
    """Machinery's Handbook 24 formula with At 0.1419, Kn 0.434, Es 0.4435 in: 0.3643 in, computed by hand."""
    needed = needed_engagement(thread("1/2-13"), 800.0, 800.0, HALF_INCH)
    assert needed / INCH == pytest.approx(0.3643, abs=1e-4)


def test_shear_area_of_a_half_inch_screw_engaged_a_half_inch() -> None:
    """Machinery's Handbook 24: pi n Le Kn (1/2n + 0.57735 (Es - Kn)) = 0.3895 in2 for Le 0.5 in, computed by hand."""
    area = shear_area_per_length(thread("1/2-13"), HALF_INCH) * 0.5 * INCH
    assert area / INCH**2 == pytest.approx(0.3895, abs=1e-4)


# Largest minor and pitch diameter of class 2B, inch, as printed in an uploaded UNC sheet; its pitch diameters of 9/16
# (0.5125, digits swapped) and 1-1/2 (1.4075) are misprints and left out.
CLASS_2B = {
    "#4-40": (0.0939, 0.0991), "#5-40": (0.1062, 0.1121), "#6-32": (0.1140, 0.1214), "#8-32": (0.1390, 0.1475),
    "#10-24": (0.1560, 0.1672), "#12-24": (0.1810, 0.1933), "1/4-20": (0.2070, 0.2224), "5/16-18": (0.2650, 0.2817),
    "3/8-16": (0.3210, 0.3401), "7/16-14": (0.3760, 0.3972), "1/2-13": (0.4340, 0.4565), "5/8-11": (0.5460, 0.5732),
    "3/4-10": (0.6630, 0.6927), "7/8-9": (0.7780, 0.8110), "1-8": (0.8900, 0.9276), "1-1/8-7": (0.9980, 1.0416),
    "1-1/4-7": (1.1230, 1.1668), "1-3/8-6": (1.2250, 1.2771),
}  # fmt: skip


@pytest.mark.parametrize(("name", "printed"), CLASS_2B.items(), ids=CLASS_2B)
def test_class_2b_limits_printed(name: str, printed: tuple[float, float]) -> None:
    at = limits(thread(name))
    assert at.nut_minor_max / INCH == pytest.approx(printed[0], abs=1.1e-3)  # B1.1 rounds minor diameters to 0.001
    assert at.nut_pitch_max / INCH == pytest.approx(printed[1], abs=2e-4)


# Least major and pitch diameter of class 6g, mm, as an ISO 965 / ASME B1.13M chart prints them
CLASS_6G = {
    "M3": (2.874, 2.580), "M3.5": (3.354, 3.004), "M4": (3.838, 3.433), "M5": (4.826, 4.361), "M6": (5.794, 5.212),
    "M7": (6.794, 6.212), "M8": (7.760, 7.042), "M8x1": (7.794, 7.212), "M10": (9.732, 8.862),
    "M10x1.25": (9.760, 9.042), "M10x1": (9.794, 9.212),
}  # fmt: skip


@pytest.mark.parametrize(("name", "printed"), CLASS_6G.items(), ids=CLASS_6G)
def test_class_6g_limits_printed(name: str, printed: tuple[float, float]) -> None:
    """The standard rounds each tolerance to a preferred number and takes the mean of a range of diameters."""
    at = limits(thread(name))
    assert at.screw_major_min == pytest.approx(printed[0], abs=6e-3)
    assert at.screw_pitch_min == pytest.approx(printed[1], abs=8e-3)


def test_class_2a_limits_printed() -> None:
    """ASME B1.1, 5/8-11 UNC: least major 0.6113, least pitch diameter 0.5589 in (published limits table)."""
    at = limits(thread("5/8-11"))
    assert at.screw_major_min / INCH == pytest.approx(0.6113, abs=2e-4)
    assert at.screw_pitch_min / INCH == pytest.approx(0.5589, abs=2e-4)


@pytest.mark.parametrize("t", [*threads("metric"), *threads("inch")], ids=lambda t: t.designation)
def test_limits_are_nested_and_equal_strengths_need_under_one_diameter(t: Thread) -> None:
    """A nut of equal strength 0.8 d high breaks the screw: ISO 898-2 style 1 nuts are about 0.8 to 0.9 d."""
    at = limits(t)
    assert at.nut_minor_max < at.nut_pitch_max < at.screw_major_min < t.major
    assert 0.5 * t.major < needed_engagement(t, 800.0, 800.0) < 0.9 * t.major


@pytest.mark.parametrize("t", [*threads("metric"), *threads("inch")], ids=lambda t: t.designation)
def test_the_nut_has_the_larger_shear_area(t: Thread) -> None:
    """Shear at the screw's major diameter is on a larger circle and a thicker tooth root than at its minor one."""
    assert nut_shear_area_per_length(t) > shear_area_per_length(t)


@given(st.sampled_from(threads("metric") + threads("inch")), st.floats(100, 1500), st.floats(50, 1500))
def test_a_weaker_nut_never_needs_less(t: Thread, screw: float, nut: float) -> None:
    equal = needed_engagement(t, screw, screw)
    assert needed_engagement(t, screw, nut) >= equal - 1e-9
    assert needed_engagement(t, screw, nut / 2) >= needed_engagement(t, screw, nut) - 1e-9
    assert needed_engagement(t, 3 * screw, 3 * nut) == pytest.approx(needed_engagement(t, screw, nut))


@pytest.mark.parametrize(
    ("family", "diameters"),
    [
        pytest.param("low-carbon steel", 1.0, id="common-practice-steel"),
        pytest.param("grey cast iron", 1.5, id="common-practice-cast-iron"),
        pytest.param("aluminium wrought", 2.0, id="common-practice-aluminium"),
    ],
)
def test_shop_rule(family: str, diameters: float) -> None:
    assert shop_engagement(thread("M12"), family) == diameters * 12.0


def test_shop_rule_covers_every_material() -> None:
    assert all(shop_engagement(thread("M10"), m.family) >= 10.0 for m in materials())
    with pytest.raises(NotListedError, match="wood"):
        shop_engagement(thread("M10"), "wood")
