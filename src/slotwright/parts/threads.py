"""Screw threads: metric ISO coarse and fine, unified inch coarse and fine.

Basic diameters come from the closed forms of the standards, the rest from the tables.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from math import pi, sqrt

from slotwright.errors import NotListedError
from slotwright.parts import drills
from slotwright.parts.standards import INCH, INCHES, METRIC, Row, millimetres, rows, system_named


@dataclass(frozen=True, slots=True, kw_only=True)
class Thread:
    """One thread with its basic sizes, mm and mm2.

    Attributes:
        designation: canonical: "M12" (coarse), "M10x1.25" (fine), "1/2-13 UNC".
        system: "metric" or "inch".
        size: nominal size alone: "M12", "1/2", "#10".
        series: "coarse", "fine", "UNC" or "UNF".
        major: basic major diameter d.
        pitch: distance from thread to thread.
        pitch_diameter: basic pitch diameter d2.
        minor_internal: basic minor diameter of the nut thread D1.
        minor_external: root of the screw thread: d3 (metric), UNR-less design minor (inch).
        stress_area: tensile stress area, mm2.
        tap_drill: usual tap drill.
        tap_drill_name: as it is stamped: "10.2", "27/64", "#7", "F".
    """

    designation: str
    system: str
    size: str
    series: str
    major: float
    pitch: float
    pitch_diameter: float
    minor_internal: float
    minor_external: float
    stress_area: float
    tap_drill: float
    tap_drill_name: str


def pitch_diameter(major: float, pitch: float) -> float:
    """Basic pitch diameter, mm: d - 3/8 sqrt(3) P.  Source: ISO 724, ISO 68-1; ASME B1.1 has the same profile."""
    return major - 0.375 * sqrt(3.0) * pitch


def minor_diameter_internal(major: float, pitch: float) -> float:
    """Basic minor diameter of the nut thread, mm: d - 5/8 sqrt(3) P.  Source: ISO 724, ISO 68-1, ASME B1.1."""
    return major - 0.625 * sqrt(3.0) * pitch


def minor_diameter_external(major: float, pitch: float, system: str) -> float:
    """Minor diameter of the screw thread, mm.

    Source:
        Metric d3 = d - 17/24 sqrt(3) P, root rounded at H/6: ISO 898-1. Inch: d - 11/16 sqrt(3) P, UNR root at
        H - H/8 - H/16: ASME B1.1 design form, coefficient 1.190785.
    """
    share = 17.0 / 24.0 if system == METRIC else 11.0 / 16.0
    return major - share * sqrt(3.0) * pitch


def stress_area(major: float, pitch: float, system: str) -> float:
    """Tensile stress area by formula, mm2; the tables' rounded values govern where they are listed.

    Source:
        ISO 898-1: pi/4 ((d2 + d3) / 2)^2; ASME B1.1: pi/4 (D - 0.9743 / n)^2.
    """
    if system == METRIC:
        mean = (pitch_diameter(major, pitch) + minor_diameter_external(major, pitch, METRIC)) / 2.0
    else:
        mean = major - 0.9743 * pitch
    return pi / 4.0 * mean**2


def thread(designation: str) -> Thread:
    """Look a thread up by its designation.

    Args:
        designation: "M12", "M12x1.75" (the same), "M10x1.25", "1/2-13 UNC", "1/2-13", "#10-24"; any case, spaces free.

    Raises:
        NotListedError: no such thread; the message lists those of the same system.
    """
    found = _index().get(_key(designation))
    if found is None:
        system = METRIC if designation.strip().upper().startswith("M") else INCHES
        listed = tuple(t.designation for t in threads(system))
        raise NotListedError(f"thread {designation.strip()[:64]!r}", f"the {system} thread table", listed)
    return found


@cache
def threads(system: str) -> tuple[Thread, ...]:
    """All threads of a system ("metric" or "inch"), the coarse series first, each by rising size."""
    if system_named(system) == METRIC:
        coarse = tuple(_metric(row, "coarse") for row in rows("threads_metric"))
        return coarse + tuple(_metric(row, "fine") for row in rows("threads_metric_fine"))
    return tuple(_inch(row) for row in rows("threads_inch"))


def _metric(row: Row, series: str) -> Thread:
    major, pitch = row.number("major_d_mm"), row.number("pitch_mm")
    drill = row.number("tap_drill_mm")
    name = row.text("thread")
    return Thread(
        designation=name,
        system=METRIC,
        size=name.partition("x")[0],
        series=series,
        major=major,
        pitch=pitch,
        pitch_diameter=pitch_diameter(major, pitch),
        minor_internal=minor_diameter_internal(major, pitch),
        minor_external=minor_diameter_external(major, pitch, METRIC),
        stress_area=row.number("tensile_stress_area_mm2"),
        tap_drill=drill,
        tap_drill_name=f"{drill:g}",
    )


def _inch(row: Row) -> Thread:
    size, series = row.text("size"), row.text("series")
    major, pitch = inch_size(size), millimetres(1 / Fraction(row.text("tpi")))
    drill = drills.drill(row.text("tap_drill"), INCHES)
    return Thread(
        designation=f"{size}-{row.text('tpi')} {series}",
        system=INCHES,
        size=size,
        series=series,
        major=major,
        pitch=pitch,
        pitch_diameter=pitch_diameter(major, pitch),
        minor_internal=minor_diameter_internal(major, pitch),
        minor_external=minor_diameter_external(major, pitch, INCHES),
        stress_area=row.number("tensile_stress_area_in2") * INCH**2,
        tap_drill=drill.diameter,
        tap_drill_name=drill.name,
    )


def inch_size(size: str) -> float:
    """Major diameter of an inch size, mm: "#10" is 0.060 + 10 x 0.013 in, "1-1/4" is 1.25 in.

    Source:
        Numbered sizes: ASME B1.1 / B18 series, closed form.
    """
    if size.startswith("#"):
        return millimetres(Fraction(60 + 13 * int(size[1:]), 1000))
    whole, _, part = size.rpartition("-")
    return millimetres(Fraction(part) + int(whole or 0))


def _key(designation: str) -> str:
    """Bring spelling to one form: case, spaces, the times sign, and a space inside a mixed number."""
    text = designation.strip()[:64].upper().replace("×", "X")
    text = re.sub(r"(?<=\d)\s+(?=\d)", "-", text)
    return re.sub(r"\s+", "", text)


@cache
def _index() -> dict[str, Thread]:
    """Every accepted spelling, by its key."""
    index: dict[str, Thread] = {}
    for t in threads(METRIC):
        index[_key(t.designation)] = t
        index[_key(f"{t.size}x{t.pitch:g}")] = t
    for t in threads(INCHES):
        index[_key(t.designation)] = t
        index[_key(t.designation.removesuffix(f" {t.series}"))] = t
    return index
