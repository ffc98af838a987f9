"""Clearance holes for bolts and screws: ISO 273 and ASME B18.2.8."""

from __future__ import annotations

from dataclasses import dataclass

from slotwright.errors import NotListedError
from slotwright.parts import drills
from slotwright.parts.standards import INCHES, METRIC, find, source_state
from slotwright.parts.threads import Thread

FITS = ("fine", "medium", "coarse")
"""ISO 273's series; for inch threads they stand for ASME B18.2.8's close, normal and loose fits."""

_INCH_FITS = {"fine": "close", "medium": "normal", "coarse": "loose"}


@dataclass(frozen=True, slots=True, kw_only=True)
class ClearanceHole:
    """A clearance hole.

    Attributes:
        diameter: smallest hole, mm: the tolerance goes upward from it.
        name: the drill as it is stamped: "13.5" or "9/16".
        fit: "fine", "medium" or "coarse".
        standard: "ISO 273 medium" or "ASME B18.2.8 normal".
        source_state: how far the figure can be trusted, in words.
    """

    diameter: float
    name: str
    fit: str
    standard: str
    source_state: str


def clearance_hole(thread: Thread, fit: str = "medium") -> ClearanceHole:
    """The clearance hole for a thread's size; fine threads take the hole of their size.

    Source:
        ISO 273 for metric, ASME B18.2.8 for inch threads, fits mapped close, normal, loose.

    Raises:
        NotListedError: no such fit, or the standard has no hole for this size.
    """
    if fit not in FITS:
        raise NotListedError(f"fit {fit!r}", "the series of clearance holes", FITS)
    return _metric(thread, fit) if thread.system == METRIC else _inch(thread, fit)


def _metric(thread: Thread, fit: str) -> ClearanceHole:
    row = find("clearance_holes_metric", "thread", thread.size, "ISO 273")
    diameter = row.number(f"{fit}_mm")
    return ClearanceHole(
        diameter=diameter,
        name=f"{diameter:g}",
        fit=fit,
        standard=f"ISO 273 {fit}",
        source_state=source_state(row, f"{fit}_mm"),
    )


def _inch(thread: Thread, fit: str) -> ClearanceHole:
    series = _INCH_FITS[fit]
    row = find("clearance_holes_inch", "screw", thread.size, "ASME B18.2.8")
    drill = drills.drill(row.text(f"{series}_drill"), INCHES)
    return ClearanceHole(
        diameter=drill.diameter,
        name=drill.name,
        fit=fit,
        standard=f"ASME B18.2.8 {series}",
        source_state=source_state(row, f"{series}_min_in"),
    )
