"""ISO 286 limits of holes H and shafts d to h, grades 5 to 11, up to 500 mm."""

from __future__ import annotations

import re

from slotwright.errors import NotListedError
from slotwright.parts.standards import Row, rows

HOLES = ("H",)
SHAFTS = ("d", "e", "f", "g", "h")
GRADES = tuple(range(5, 12))


def hole_limits(nominal: float, tolerance_class: str) -> tuple[float, float]:
    """Lower and upper deviation of a hole from its nominal size, mm: 25 H7 gives (0, 0.021).

    Args:
        nominal: mm, over 0 up to 500; a size on a step belongs to the step below it.
        tolerance_class: "H5" to "H11".

    Source:
        ISO 286-1 standard tolerances, ISO 286-2 limits.

    Raises:
        NotListedError: another class, or a size out of range.
    """
    _, grade = _class(tolerance_class, HOLES, "hole")
    return 0.0, _tolerance(nominal, grade)


def shaft_limits(nominal: float, tolerance_class: str) -> tuple[float, float]:
    """Lower and upper deviation of a shaft from its nominal size, mm: 40 g6 gives (-0.025, -0.009).

    Args:
        nominal: mm, over 0 up to 500; a size on a step belongs to the step below it.
        tolerance_class: a letter d, e, f, g or h with a grade 5 to 11.

    Source:
        ISO 286-1 standard tolerances and fundamental deviations, ISO 286-2 limits.

    Raises:
        NotListedError: another class, or a size out of range.
    """
    letter, grade = _class(tolerance_class, SHAFTS, "shaft")
    upper = _step("iso286_shaft_deviations", nominal).number(f"{letter}_es_um")
    width = _step("iso286_it_grades", nominal).number(f"IT{grade}_um")
    return (upper - width) / 1000.0, upper / 1000.0


def _tolerance(nominal: float, grade: int) -> float:
    return _step("iso286_it_grades", nominal).number(f"IT{grade}_um") / 1000.0


def _class(text: str, letters: tuple[str, ...], what: str) -> tuple[str, int]:
    match = re.fullmatch(r"([A-Za-z]{1,2})([0-9]{1,2})", text.strip()[:16])
    if match is None or match[1] not in letters or int(match[2]) not in GRADES:
        listed = tuple(f"{letter}{GRADES[0]} to {letter}{GRADES[-1]}" for letter in letters)
        raise NotListedError(f"{what} class {text.strip()[:16]!r}", "the ISO 286 classes kept here", listed)
    return match[1], int(match[2])


def _step(table: str, nominal: float) -> Row:
    """The size step a nominal size falls in: over its lower bound, up to and including its upper one."""
    for row in rows(table):
        if row.number("over_mm") < nominal <= row.number("up_to_mm"):
            return row
    raise NotListedError(f"a nominal size of {nominal:g} mm", "ISO 286", ("over 0 up to 500 mm",))
