"""How much thread a screw needs in its nut or tapped hole.

The strength rule compares the screw's tensile area with the shear areas of the threads at their worst limits (class
2A/2B inch, 6g/6H metric), so that the screw breaks before its thread strips.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt

from slotwright.errors import NotListedError
from slotwright.parts.standards import INCH, METRIC
from slotwright.parts.threads import Thread

SHOP_RULE = {
    "low-carbon steel": 1.0,
    "low-alloy steel": 1.0,
    "austenitic stainless": 1.0,
    "grey cast iron": 1.5,
    "free-cutting brass": 1.5,
    "bearing bronze": 1.5,
    "aluminium wrought": 2.0,
    "thermoplastic": 2.5,
}
"""Least full engagement in multiples of the thread diameter, by material family; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ThreadLimits:
    """The worst limits of a thread pair, mm.

    Attributes:
        screw_major_min: least major diameter of the screw.
        screw_pitch_min: least pitch diameter of the screw.
        nut_pitch_max: largest pitch diameter of the nut.
        nut_minor_max: largest minor diameter of the nut.
    """

    screw_major_min: float
    screw_pitch_min: float
    nut_pitch_max: float
    nut_minor_max: float


def limits(thread: Thread) -> ThreadLimits:
    """Limits of classes 2A/2B (inch) or 6g/6H (metric), by the standards' formulas before their rounding.

    Source:
        ASME B1.1 and ISO 965-1 tolerance formulas, from memory, unconfirmed; 1/2-13 UNC gives the published 0.4435 in
        and 0.434 in to the printed digits.
    """
    return _metric_limits(thread) if thread.system == METRIC else _inch_limits(thread)


def shear_area_per_length(thread: Thread, at: ThreadLimits | None = None) -> float:
    """Shear area of the screw's thread, stripped by a nut, a mm of engagement, mm2/mm.

    Source:
        pi n Kn,max (1 / (2 n) + 0.57735 (Es,min - Kn,max)): Machinery's Handbook 24, FED-STD-H28/2B.
    """
    at = at or limits(thread)
    tooth = thread.pitch / 2.0 + (at.screw_pitch_min - at.nut_minor_max) / sqrt(3.0)
    return pi / thread.pitch * at.nut_minor_max * tooth


def nut_shear_area_per_length(thread: Thread, at: ThreadLimits | None = None) -> float:
    """Shear area of the nut's thread, stripped by a screw, a mm of engagement, mm2/mm.

    Source:
        pi n Ds,min (1 / (2 n) + 0.57735 (Ds,min - En,max)): Machinery's Handbook 24, FED-STD-H28/2B.
    """
    at = at or limits(thread)
    tooth = thread.pitch / 2.0 + (at.screw_major_min - at.nut_pitch_max) / sqrt(3.0)
    return pi / thread.pitch * at.screw_major_min * tooth


def needed_engagement(
    thread: Thread, screw_strength: float, nut_strength: float, at: ThreadLimits | None = None
) -> float:
    """Length of full thread with which the screw breaks before any thread strips, mm.

    Args:
        thread: what is to hold.
        screw_strength: tensile strength of the screw, MPa, > 0.
        nut_strength: tensile strength of the nut or tapped piece, MPa, > 0.
        at: limits of the pair; None takes classes 2A/2B or 6g/6H.

    Source:
        Le = 2 At / (pi n Kn,max (1/(2n) + 0.57735 (Es,min - Kn,max))), lengthened by J = (As screw) / (An nut) where
        the nut is the weaker: Machinery's Handbook 24, screw thread stress areas; FED-STD-H28/2B.
    """
    shear = shear_area_per_length(thread, at)
    equal = 2.0 * thread.stress_area / shear
    weaker = shear * screw_strength / (nut_shear_area_per_length(thread, at) * nut_strength)
    return equal * max(1.0, weaker)


def shop_engagement(thread: Thread, family: str) -> float:
    """Least full engagement by the shop's rule, mm: 1 d in steel, 1.5 d in cast iron and brass, 2 d in aluminium.

    Source:
        Common practice, no source.

    Raises:
        NotListedError: no rule for this material family.
    """
    if family not in SHOP_RULE:
        raise NotListedError(f"material family {family!r}", "the shop's rule of engagement", tuple(SHOP_RULE))
    return SHOP_RULE[family] * thread.major


def _inch_limits(thread: Thread) -> ThreadLimits:
    """ASME B1.1: 2A pitch tolerance over one diameter of engagement (9 threads for UNF), allowance 0.3 of it."""
    d, p = thread.major / INCH, thread.pitch / INCH
    engaged = d if thread.series == "UNC" else 9.0 * p
    tolerance = 0.0015 * d ** (1 / 3) + 0.0015 * sqrt(engaged) + 0.015 * p ** (2 / 3)
    allowance = 0.3 * tolerance
    # 2B minor diameter: one rule from 1/4 in up, one below with its own least and largest
    minor = 0.25 * p - 0.40 * p**2
    if d < 0.25:
        minor = min(0.394 * p, max(minor, 0.05 * p ** (2 / 3) + 0.03 * p / d - 0.002))
    return ThreadLimits(
        screw_major_min=(d - allowance - 0.060 * p ** (2 / 3)) * INCH,
        screw_pitch_min=thread.pitch_diameter - (allowance + tolerance) * INCH,
        nut_pitch_max=thread.pitch_diameter + 1.3 * tolerance * INCH,
        nut_minor_max=thread.minor_internal + minor * INCH,
    )


def _metric_limits(thread: Thread) -> ThreadLimits:
    """ISO 965-1 in micrometres: 6g allowance 15 + 11 P, grade 6 tolerances; d enters as itself, not its step's mean."""
    d, p = thread.major, thread.pitch
    allowance = 15.0 + 11.0 * p
    pitch_tolerance = 90.0 * p**0.4 * d**0.1
    major_tolerance = 180.0 * p ** (2 / 3) - 3.15 / sqrt(p)
    minor = 230.0 * p**0.7 if p >= 1.0 else 433.0 * p - 190.0 * p**1.22
    return ThreadLimits(
        screw_major_min=d - (allowance + major_tolerance) / 1000.0,
        screw_pitch_min=thread.pitch_diameter - (allowance + pitch_tolerance) / 1000.0,
        nut_pitch_max=thread.pitch_diameter + 1.32 * pitch_tolerance / 1000.0,
        nut_minor_max=thread.minor_internal + minor / 1000.0,
    )
