"""Limits of a size and tolerance zones in the other unit: never wider than those that are written.

Rounded inward, as where limits must not be exceeded, to a step that follows from the tolerance: method B and the steps
of ISO 370 and IEEE/ASTM SI 10, from memory. Limits, not deviations, so that no rounded size moves them.
"""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from slotwright.drawings.paper.style import Style
from slotwright.pieces.features import Limits

INCH = Decimal("25.4")
STEPS_OF_INCHES = (("0.5", 3), ("0.05", 4), ("0.005", 5))  # from so many mm of tolerance on, decimals of an inch
STEPS_OF_MM = (("0.1", 1), ("0.01", 2), ("0.001", 3), ("0.0001", 4))  # from so many inches on, decimals of a mm
FINEST = 6  # decimals below all of these


def limits_bracket(size: float, limits: Limits, places: int, style: Style) -> str:
    """Return " [least-greatest]" behind a size with limits, or nothing where the drawing has one unit.

    Args:
        size: what the deviations are counted from, mm.
        limits: the deviations.
        places: decimals with which size and deviations are written in the drawing's unit.
        style: of the drawing.
    """
    if not style.alternate:
        return ""
    base, upper, lower = (style.rounded(mm, places) for mm in (size, limits.upper, limits.lower))
    low, high = base + lower, base + upper
    decimals = _decimals(high - low, style)
    factor = INCH if style.unit == "in" else 1 / INCH
    while True:
        step = Decimal(1).scaleb(-decimals)
        least = (low * factor).quantize(step, rounding=ROUND_CEILING)
        greatest = (high * factor).quantize(step, rounding=ROUND_FLOOR)
        if least <= greatest or decimals > FINEST:
            break
        decimals += 1
    return f" [{style.other(least)}-{style.other(greatest)}]"


def zone_bracket(zone: float, style: Style) -> str:
    """Return " [width]" behind the width of a tolerance zone, mm, rounded down, or nothing where there is one unit."""
    if not style.alternate:
        return ""
    written = style.rounded(zone)
    decimals, factor = _decimals(written, style), INCH if style.unit == "in" else 1 / INCH
    while True:
        other = (written * factor).quantize(Decimal(1).scaleb(-decimals), rounding=ROUND_FLOOR)
        if other or decimals > FINEST:
            return f" [{style.other(other)}]"
        decimals += 1


def _decimals(tolerance: Decimal, style: Style) -> int:
    steps = STEPS_OF_MM if style.unit == "in" else STEPS_OF_INCHES
    return next((decimals for least, decimals in steps if tolerance >= Decimal(least)), FINEST)
