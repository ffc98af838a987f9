"""Standard drills by name and the nearest one to a diameter; inch fractions, letters and numbers, metric sizes."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from slotwright.errors import NotListedError
from slotwright.parts.standards import METRIC, length_said, rows, system_named

SAME = 0.01
"""Diameters this close, mm, are one drill: half the last digit of the thousandth-inch names."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drill:
    """One drill of a customary series.

    Attributes:
        name: as it is stamped: "27/64", "1-1/32", "#7", "F", or "10.2" for metric.
        diameter: mm.
        series: "fraction", "letter", "number" or "metric".
        confirmed: whether the size was read at a source or follows from the fraction.
    """

    name: str
    diameter: float
    series: str
    confirmed: bool


@cache
def drills(system: str) -> tuple[Drill, ...]:
    """All drills of a system, "metric" or "inch", by rising diameter."""
    if system_named(system) == METRIC:
        found = [_metric(row.number("diameter_mm"), row.confirmed) for row in rows("drills_metric")]
    else:
        found = [
            Drill(
                name=row.text("size"),
                diameter=row.from_inches("decimal_in"),
                series=_series(row.text("size")),
                confirmed=row.confirmed,
            )
            for row in rows("drills_inch")
        ]
    return tuple(sorted(found, key=lambda d: (d.diameter, d.series)))


def drill(name: str, system: str) -> Drill:
    """Look a drill up by its name; "1 1/32" is the same as "1-1/32".

    Raises:
        NotListedError: no drill of that name in the system.
    """
    wanted = re.sub(r"\s+", "-", name.strip())
    for candidate in drills(system):
        if candidate.name == wanted:
            return candidate
    raise NotListedError(f"drill {wanted!r}", f"the {system_named(system)} drill list", _names(system))


def nearest_drill(diameter: float, system: str) -> Drill:
    """The drill closest to a diameter, mm; of two equally close the smaller, of two equal sizes the fraction."""
    return min(drills(system), key=lambda d: (round(abs(d.diameter - diameter), 9), d.diameter, d.series))


def drill_name(diameter: float, system: str) -> str | None:
    """The name of the drill of this diameter, mm, or None when the series has none within 0.01 mm."""
    nearest = nearest_drill(diameter, system)
    return nearest.name if abs(nearest.diameter - diameter) <= SAME else None


def next_drill_up(diameter: float, system: str) -> Drill:
    """The smallest drill not under a diameter, mm.

    Raises:
        NotListedError: the diameter is above the largest drill.
    """
    for candidate in drills(system):
        if candidate.diameter >= diameter - 1e-9:
            return candidate
    raise NotListedError(
        f"a drill of {length_said(diameter, system)}", f"the {system_named(system)} drill list", _names(system)[-1:]
    )


def _metric(diameter: float, confirmed: bool) -> Drill:
    return Drill(name=f"{diameter:g}", diameter=diameter, series="metric", confirmed=confirmed)


def _series(name: str) -> str:
    if name.startswith("#"):
        return "number"
    return "letter" if name.isalpha() else "fraction"


def _names(system: str) -> tuple[str, ...]:
    return tuple(d.name for d in drills(system))
