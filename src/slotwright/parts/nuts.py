"""Hexagon nuts: plain ones and the tall ones for clamping."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from slotwright.errors import NotListedError
from slotwright.parts.standards import METRIC, find, rows
from slotwright.parts.threads import Thread

KINDS = ("hex", "clamping")


@dataclass(frozen=True, slots=True, kw_only=True)
class HexNut:
    """One hexagon nut, mm: largest width across flats and largest height."""

    thread: Thread
    across_flats: float
    height: float
    standard: str

    @property
    def across_corners(self) -> float:
        """Of the full hexagon, mm: flats times 2 / sqrt(3)."""
        return self.across_flats * 2.0 / sqrt(3.0)


def hex_nut(thread: Thread, kind: str = "hex") -> HexNut:
    """The nut for a thread.

    Args:
        thread: its size decides.
        kind: "hex" (ISO 4032, ASME B18.2.2) or "clamping" (DIN 6330, 1.5 d tall; where that has no such size, and for
            inch threads, the plain nut).

    Source:
        ISO 4032, DIN 6330, ASME B18.2.2 table 7 (Machinery's Handbook 31, p. 1677).

    Raises:
        NotListedError: no such kind, or no such size.
    """
    if kind not in KINDS:
        raise NotListedError(f"nut {kind!r}", "the kinds of nuts", KINDS)
    if thread.system != METRIC:
        return _inch(thread)
    return (_clamping(thread) if kind == "clamping" else None) or _metric(thread)


def _clamping(thread: Thread) -> HexNut | None:
    for row in rows("clamping_nuts_din6330_6331"):
        if row.text("standard") == "DIN 6330" and row.text("thread") == thread.designation:
            return HexNut(
                thread=thread,
                across_flats=row.number("across_flats_s_mm"),
                height=row.number("height_m_mm"),
                standard="DIN 6330",
            )
    return None


def _metric(thread: Thread) -> HexNut:
    row = find("hex_nuts_metric", "thread", thread.size, "ISO 4032")
    return HexNut(
        thread=thread,
        across_flats=row.number("across_flats_s_mm"),
        height=row.number("height_m_max_mm"),
        standard="ISO 4032",
    )


def _inch(thread: Thread) -> HexNut:
    row = find("hex_heads_nuts_inch", "size", thread.size, "ASME B18.2.2")
    return HexNut(
        thread=thread,
        across_flats=row.from_inches("nut_across_flats_max_in"),
        height=row.from_inches("nut_height_max_in"),
        standard="ASME B18.2.2",
    )
