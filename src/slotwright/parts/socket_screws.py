"""Socket head cap screws: heads, keys, lengths, and the counterbore that sinks the head."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from math import ceil

from slotwright.errors import NotListedError
from slotwright.findings import COMMON_PRACTICE
from slotwright.parts.standards import (
    INCH,
    METRIC,
    Row,
    find,
    length_said,
    millimetres,
    rows,
    source_state,
    system_named,
)
from slotwright.parts.threads import Thread

STANDARD = {"metric": "ISO 4762", "inch": "ASME B18.3"}


@dataclass(frozen=True, slots=True, kw_only=True)
class SocketScrew:
    """One size of socket head cap screw, mm.

    Attributes:
        thread: its thread.
        head_diameter: largest, knurled where the standard has knurled heads.
        head_height: largest.
        key: width across flats of the hexagon socket.
        key_name: as the key is stamped: "10" or "3/8".
        key_depth: least depth of the socket.
        standard: "ISO 4762" or "ASME B18.3".
    """

    thread: Thread
    head_diameter: float
    head_height: float
    key: float
    key_name: str
    key_depth: float
    standard: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CounterboreSize:
    """A counterbore that sinks a screw's head flush, mm, with where it comes from."""

    diameter: float
    depth: float
    source: str
    source_state: str


def socket_screw(thread: Thread) -> SocketScrew:
    """The screw of a thread.

    Source:
        ISO 4762; ASME B18.3.

    Raises:
        NotListedError: no such size.
    """
    standard = STANDARD[thread.system]
    if thread.system == METRIC:
        row = find("socket_head_screws_metric", "thread", thread.size, standard)
        return SocketScrew(
            thread=thread,
            head_diameter=row.number("head_dk_max_knurled_mm"),
            head_height=row.number("head_height_k_mm"),
            key=row.number("socket_s_mm"),
            key_name=row.text("socket_s_mm"),
            key_depth=row.number("socket_depth_t_min_mm"),
            standard=standard,
        )
    row = _inch_row(thread)
    return SocketScrew(
        thread=thread,
        head_diameter=row.from_inches("head_dk_max_in"),
        head_height=row.from_inches("head_height_k_in"),
        key=row.from_inches("socket_s"),
        key_name=row.text("socket_s"),
        key_depth=row.from_inches("socket_depth_t_min_in"),
        standard=standard,
    )


def counterbore(thread: Thread) -> CounterboreSize:
    """The counterbore for a socket head cap screw of a thread.

    Source:
        Metric: a public counterbore table for ISO 4762 screws, depth a little over the head. Inch: head diameter plus
        1/16 in (1/32 in under #10) to the next 1/64 in, head height as depth: common practice, no source.

    Raises:
        NotListedError: no such size.
    """
    if thread.system == METRIC:
        row = find("counterbores_metric", "for_thread", thread.size, "the counterbores for ISO 4762 screws")
        return CounterboreSize(
            diameter=row.number("counterbore_d_mm"),
            depth=row.number("counterbore_depth_mm"),
            source="counterbores for ISO 4762 screws",
            source_state=source_state(row, "counterbore_d_mm"),
        )
    screw = socket_screw(thread)
    play = INCH / 16.0 if thread.major > 0.18 * INCH else INCH / 32.0
    sixty_fourths = ceil((screw.head_diameter + play) / (INCH / 64.0) - 0.25)  # .5315 in is meant to be 17/32
    return CounterboreSize(
        diameter=millimetres(Fraction(sixty_fourths, 64)),
        depth=screw.head_height,
        source=COMMON_PRACTICE,
        source_state=COMMON_PRACTICE,
    )


@cache
def screw_lengths(system: str) -> tuple[float, ...]:
    """Lengths the screws come in, mm, rising; long ones are not made in every thread.

    Source:
        The bd_warehouse fastener library's length series for ISO 4762 and ASME B18.3; inch lengths under 3/4 in from
        memory, unconfirmed.
    """
    if system_named(system) == METRIC:
        return tuple(row.number("length") for row in rows("socket_screw_lengths") if row.text("unit") == "mm")
    return tuple(_mixed(row) for row in rows("socket_screw_lengths") if row.text("unit") == "in")


def shortest_length(system: str, needed: float) -> float:
    """The shortest length of the series not under the one needed, mm.

    Raises:
        NotListedError: none is that long.
    """
    for length in screw_lengths(system):
        if length >= needed - 1e-6:
            return length
    raise _no_length(system, f"a screw at least {length_said(needed, system)} long")


def longest_length(system: str, room: float) -> float:
    """The longest length of the series not over the room there is, mm.

    Raises:
        NotListedError: none is that short.
    """
    for length in reversed(screw_lengths(system)):
        if length <= room + 1e-6:
            return length
    raise _no_length(system, f"a screw at most {length_said(room, system)} long")


def _no_length(system: str, wanted: str) -> NotListedError:
    listed = tuple(length_said(length, system) for length in screw_lengths(system))
    return NotListedError(wanted, f"the lengths of {STANDARD[system_named(system)]}", listed)


def _inch_row(thread: Thread) -> Row:
    """The row of the thread itself, or of the coarse thread of its size: a fine one has the same head."""
    table = rows("socket_head_screws_inch")
    name = thread.designation.removesuffix(f" {thread.series}")
    for wanted in (name, f"{thread.size}-"):
        for row in table:
            if row.text("thread").startswith(wanted) and row.from_inches("d_in") == thread.major:
                return row
    listed = tuple(row.text("thread") for row in table)
    raise NotListedError(f"a socket head cap screw {thread.designation}", "ASME B18.3", listed)


def _mixed(row: Row) -> float:
    whole, _, part = row.text("length").rpartition("-")
    return millimetres(Fraction(part) + int(whole or 0))
