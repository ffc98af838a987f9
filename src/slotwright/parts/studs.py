"""Studs for clamping: the lengths of the standard series."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from slotwright.errors import NotListedError
from slotwright.findings import COMMON_PRACTICE
from slotwright.parts.standards import INCH, METRIC, find, length_said, rows
from slotwright.parts.threads import Thread

STANDARD = {"metric": "DIN 6379", "inch": "inch stud lengths"}
SOURCE = {"metric": "DIN 6379, from memory, unconfirmed", "inch": COMMON_PRACTICE}


def stud_lengths(thread: Thread) -> tuple[float, ...]:
    """Lengths studs of a thread come in, mm, rising.

    Source:
        Metric DIN 6379 (from memory, unconfirmed). Inch: 1 to 6 in by 1/2 in, to 12 in by 1 in: common practice, no
        source.

    Raises:
        NotListedError: DIN 6379 has no stud of this thread.
    """
    if thread.system != METRIC:
        halves = [half / 2.0 for half in range(2, 13)]
        return tuple(length * INCH for length in [*halves, *range(7, 13)])
    find("studs_din6379", "thread", thread.designation, STANDARD[METRIC])
    mine = [row for row in rows("studs_din6379") if row.text("thread") == thread.designation]
    return tuple(sorted(row.number("length_l_mm") for row in mine))


def stud_length(thread: Thread, needed: float) -> float:
    """The shortest stud of the series not under the length needed, mm.

    Raises:
        NotListedError: no stud is that long.
    """
    lengths = stud_lengths(thread)
    for length in lengths:
        if length >= needed - 1e-6:
            return length
    listed = tuple(length_said(length, thread.system) for length in lengths)
    wanted = f"a {thread.designation} stud of {length_said(needed, thread.system)}"
    raise NotListedError(wanted, STANDARD[thread.system], listed)


def nut_end(thread: Thread) -> float:
    """How far a stud screws into a T-nut, mm: its thread b1 there; inch studs are threaded throughout.

    Raises:
        NotListedError: DIN 6379 has no stud of this thread.
    """
    if thread.system != METRIC:
        return inf
    return find("studs_din6379", "thread", thread.designation, STANDARD[METRIC]).number("nut_end_thread_b1_mm")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stud:
    """One stud: thread, overall length and the thread at its nut end, mm; inch studs are threaded throughout."""

    thread: Thread
    length: float
    nut_end: float
    standard: str


def stud(thread: Thread, needed: float) -> Stud:
    """The shortest stud of the series not under the length needed, mm.

    Raises:
        NotListedError: no stud is that long.
    """
    length = stud_length(thread, needed)
    return Stud(thread=thread, length=length, nut_end=min(nut_end(thread), length), standard=STANDARD[thread.system])
