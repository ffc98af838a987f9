"""Washers: the thick ones for clamping, plain ones, and inch narrow and regular ones."""

from __future__ import annotations

from dataclasses import dataclass

from slotwright.errors import NotListedError
from slotwright.parts.standards import METRIC, Row, rows
from slotwright.parts.threads import Thread

KINDS = ("clamping", "plain", "narrow")

# The first of these that has the size is taken.
_SERIES = {
    ("metric", "clamping"): ("DIN 6340", "ISO 7089"),
    ("metric", "plain"): ("ISO 7089",),
    ("metric", "narrow"): ("ISO 7089",),
    ("inch", "clamping"): ("ASME B18.21.1 type B regular",),
    ("inch", "plain"): ("ASME B18.21.1 type B regular",),
    ("inch", "narrow"): ("ASME B18.21.1 type B narrow",),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Washer:
    """One washer, mm.

    Attributes:
        size: the thread size it is for.
        hole: inner diameter: smallest (metric), basic (inch).
        outer: outer diameter: largest (metric), basic (inch).
        thickness: nominal or basic.
        thickness_max: largest, where the table has it, else the nominal.
        standard: its standard.
    """

    size: str
    hole: float
    outer: float
    thickness: float
    thickness_max: float
    standard: str


def washer(thread: Thread, kind: str = "clamping") -> Washer:
    """The washer for a thread.

    Args:
        thread: its size decides.
        kind: "clamping" (DIN 6340, ISO 7089 where that has no such size; inch type B regular), "plain" (ISO 7089,
            type B regular) or "narrow" (ISO 7089, type B narrow).

    Source:
        ISO 7089, DIN 6340, ASME B18.21.1.

    Raises:
        NotListedError: no such kind, or no such size.
    """
    if kind not in KINDS:
        raise NotListedError(f"washer {kind!r}", "the kinds of washers", KINDS)
    series = _SERIES[thread.system, kind]
    for standard in series:
        for found in _listed(thread.system, standard):
            if found.size == thread.size:
                return found
    sizes = tuple(found.size for found in _listed(thread.system, series[-1]))
    raise NotListedError(f"a washer for {thread.size}", " and ".join(series), sizes)


def _listed(system: str, standard: str) -> tuple[Washer, ...]:
    if system == METRIC:
        return tuple(_metric(row) for row in rows("washers_metric") if row.text("standard") == standard)
    return tuple(_inch(row) for row in rows("washers_inch") if row.text("type") == standard)


def _metric(row: Row) -> Washer:
    thickness = row.number("thickness_h_nom_mm")
    return Washer(
        size=row.text("for_thread"),
        hole=row.number("hole_d1_mm"),
        outer=row.number("outer_d2_mm"),
        thickness=thickness,
        thickness_max=row.optional("thickness_h_max_mm") or thickness,
        standard=row.text("standard"),
    )


def _inch(row: Row) -> Washer:
    return Washer(
        size=row.text("for_size"),
        hole=row.from_inches("hole_in"),
        outer=row.from_inches("outer_in"),
        thickness=row.from_inches("thickness_in"),
        thickness_max=row.from_inches("thickness_max_in"),
        standard=row.text("type"),
    )
