"""ISO 2768-1 general tolerances for dimensions without their own."""

from __future__ import annotations

from slotwright.errors import NotListedError
from slotwright.parts.standards import rows

CLASSES = ("f", "m", "c", "v")
"""Fine, medium, coarse, very coarse."""

_LINEAR = "linear"
_EDGE = "radii and chamfers"
_ANGULAR = "angular (shorter leg)"


def linear_tolerance(size: float, tolerance_class: str) -> float:
    """General tolerance of a length, plus or minus mm.

    Args:
        size: nominal, mm, 0.5 to 4000; a size on a step belongs to the step below it.
        tolerance_class: "f", "m", "c" or "v".

    Source:
        ISO 2768-1 table 1.

    Raises:
        NotListedError: no general tolerance there: state it at the dimension.
    """
    return _look_up(_LINEAR, size, tolerance_class)


def edge_tolerance(size: float, tolerance_class: str) -> float:
    """General tolerance of an external radius or chamfer height, plus or minus mm.

    Source:
        ISO 2768-1 table 2, from memory, unconfirmed.

    Raises:
        NotListedError: no general tolerance there: state it at the dimension.
    """
    return _look_up(_EDGE, size, tolerance_class)


def angular_tolerance(shorter_leg: float, tolerance_class: str) -> float:
    """General tolerance of an angle by the length of its shorter leg, mm; plus or minus degrees.

    Source:
        ISO 2768-1 table 3, from memory, unconfirmed.

    Raises:
        NotListedError: no such class or leg.
    """
    return _look_up(_ANGULAR, shorter_leg, tolerance_class) / 60.0


def _look_up(kind: str, size: float, tolerance_class: str) -> float:
    if tolerance_class not in CLASSES:
        raise NotListedError(f"class {tolerance_class!r}", "ISO 2768-1", CLASSES)
    for row in rows("general_tolerances_iso2768_1"):
        if row.text("kind") != kind:
            continue
        over, up_to = row.number("over_mm"), row.optional("up_to_mm")
        first = over <= size if over == 0.5 else over < size  # the first step includes its lower bound, 0.5 mm
        if first and (up_to is None or size <= up_to):
            value = row.optional(f"{tolerance_class}_plus_minus")
            if value is not None:
                return value
    raise NotListedError(f"{kind}, {size:g} mm, class {tolerance_class}", "ISO 2768-1", _ranges(kind, tolerance_class))


def _ranges(kind: str, tolerance_class: str) -> tuple[str, ...]:
    found = [
        row
        for row in rows("general_tolerances_iso2768_1")
        if row.text("kind") == kind and row.optional(f"{tolerance_class}_plus_minus") is not None
    ]
    return tuple(f"over {row.text('over_mm')} up to {row.text('up_to_mm') or 'any'} mm" for row in found)
