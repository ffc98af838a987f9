"""T-nuts: the standard one for a slot, or the sizes of one to make; and which bolts a throat lets through.

A T-nut's seat is the face that bears on the underside of the slot's shoulders. Below it is the base, above it the
tongue, which stands in the throat.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import floor

from slotwright.errors import NotListedError, SizeError
from slotwright.parts.standards import INCH, METRIC, Row, find, length_said, rows, system_named
from slotwright.parts.t_slots import UNDER, WEAR, TSlot
from slotwright.parts.threads import Thread, thread

LEAST_WALL = 1.0
"""Metal each side of the thread within the throat's width, mm: what DIN 508 leaves from 8 mm slots upward."""

BOLT_PLAY = 0.8
"""A T-slot bolt is at least this much thinner than the throat, mm: ASME B5.1M's least, 0.032 in for 1/4 bolts."""

SHORT_OF_BOTTOM = 2.0
"""Pitches left unfinished at the bottom of a nut to make, so that a stud stops there; common practice, no source."""

LOOSEST = 0.040 * INCH
SLOT_TOLERANCE = 0.010 * INCH
"""Of an inch throat for holding, upward: ASME B5.1M."""

PREFERRED = {
    "metric": ("M4", "M5", "M6", "M8", "M10", "M12", "M16", "M20", "M24", "M30", "M36", "M42", "M48"),
    "inch": (
        "#8-32 UNC", "#10-24 UNC", "1/4-20 UNC", "5/16-18 UNC", "3/8-16 UNC", "1/2-13 UNC", "5/8-11 UNC",
        "3/4-10 UNC", "1-8 UNC", "1-1/4-7 UNC", "1-1/2-6 UNC",
    ),
}  # fmt: skip
"""Threads that studs, nuts and washers are commonly stocked in; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TNut:
    """One T-nut, mm.

    Attributes:
        thread: its thread.
        slot_width: nominal throat width it is for.
        tongue_width: largest width of the part in the throat.
        base_width: largest width across the slot of the part under the shoulders.
        base_length: along the slot.
        base_height: from its underside to its seat.
        height: from its underside to its top.
        standard: "DIN 508", "ASME B5.1M" or "made to measure".
        made_to_measure: whether no standard nut serves.
        note: why it must be made, or what is from memory; empty when nothing is to say.
    """

    thread: Thread
    slot_width: float
    tongue_width: float
    base_width: float
    base_length: float
    base_height: float
    height: float
    standard: str
    made_to_measure: bool = False
    note: str = ""

    @property
    def wall(self) -> float:
        """Metal each side of the thread within the throat's width, mm; negative where the thread is wider."""
        return (self.slot_width - self.thread.major) / 2.0

    @property
    def thread_depth(self) -> float:
        """Full thread from the top, mm: stops short of the bottom in one to make, goes through a bought one."""
        return self.height - (SHORT_OF_BOTTOM * self.thread.pitch if self.made_to_measure else 0.0)

    @property
    def tongue_height(self) -> float:
        """From the seat to the top, mm: how far it stands up into the throat."""
        return self.height - self.base_height


@cache
def standard_nuts(system: str) -> tuple[TNut, ...]:
    """All standard T-nuts; each slot's main thread comes before its reduced ones.

    Source:
        Metric DIN 508; inch ASME B5.1M (from memory, unconfirmed).
    """
    if system_named(system) == METRIC:
        return tuple(_metric(row) for row in rows("t_nuts"))
    return tuple(_inch(row) for row in rows("t_nuts_inch"))


def nut_for(slot: TSlot, system: str, thread: Thread | None = None) -> TNut:
    """The T-nut for a slot: a standard one where one fits, else the sizes of one to make.

    Args:
        slot: the slot as measured or completed.
        system: "metric" ("mm") or "inch" ("in"): whose standard nuts and threads to choose from.
        thread: the thread it must have, whatever wall that leaves (see TNut.wall); None takes the main one of the
            standard, or the largest that leaves 1 mm of wall each side in one to make.

    Raises:
        NotListedError: the thread asked is as wide as the nut itself, or no preferred thread leaves a wall.
        SizeError: the headspace leaves a nut no shoulder to bear on.
    """
    for nut in standard_nuts(system):
        if not misfits(nut, slot, system) and (thread is None or nut.thread == thread):
            return nut
    return _to_measure(slot, system_named(system), thread or largest_nut_thread(slot, system))


def misfits(nut: TNut, slot: TSlot, system: str) -> tuple[str, ...]:
    """What keeps a standard T-nut out of a slot, in words; nothing when it fits."""
    narrow = slot.width < nut.slot_width - UNDER or nut.tongue_width >= slot.width
    found = {
        "its tongue is too wide for the throat": narrow,
        "its tongue is loose in the throat": slot.width > widest_throat(nut, system) + 1e-9,
        "its base is too wide for the headspace": nut.base_width >= slot.headspace_width,
        "its base is too high for the headspace": nut.base_height >= slot.headspace_depth,
        "it would stand above the table top": nut.tongue_height >= slot.throat_depth,
    }
    return tuple(words for words, true in found.items() if true)


def widest_throat(nut: TNut, system: str) -> float:
    """The widest throat, mm, a standard T-nut still guides itself in.

    Metric: 0.5 mm over the nominal slot. Inch: 0.040 in over the tongue, the most ASME B5.1M leaves between a 5/8 slot
    and its nut, or the nominal slot with its 0.010 in tolerance where that is more. Wear beyond the standards'
    tolerances is common practice, no source.
    """
    if system_named(system) == METRIC:
        return nut.slot_width + WEAR[METRIC]
    return max(nut.tongue_width + LOOSEST, nut.slot_width + SLOT_TOLERANCE)


def bolt_passes(slot: TSlot, thread: Thread) -> bool:
    """Whether a bolt or stud of this thread goes through the throat with at least 0.8 mm of play."""
    return thread.major + BOLT_PLAY <= slot.width + 1e-9


def largest_bolt(slot: TSlot, system: str) -> Thread:
    """The largest bolt of the preferred series that the throat lets through.

    Raises:
        NotListedError: the throat is too narrow for every one of them.
    """
    for candidate in reversed(preferred_threads(system)):
        if bolt_passes(slot, candidate):
            return candidate
    raise _too_narrow(f"a bolt that passes a throat of {length_said(slot.width, system)}", system)


def largest_nut_thread(slot: TSlot, system: str) -> Thread:
    """The largest preferred thread that leaves a T-nut's tongue 1 mm of wall each side.

    Raises:
        NotListedError: the throat is too narrow for every one of them.
    """
    for candidate in reversed(preferred_threads(system)):
        if _wall_stands(slot, candidate):
            return candidate
    raise _too_narrow(f"a T-nut thread for a throat of {length_said(slot.width, system)}", system)


@cache
def preferred_threads(system: str) -> tuple[Thread, ...]:
    """The preferred series of a system, by rising size."""
    return tuple(thread(name) for name in PREFERRED[system_named(system)])


def _wall_stands(slot: TSlot, thread: Thread) -> bool:
    return (slot.width - thread.major) / 2.0 >= LEAST_WALL - UNDER / 2.0


def _too_narrow(wanted: str, system: str) -> NotListedError:
    return NotListedError(wanted, "the preferred threads", PREFERRED[system_named(system)])


def _to_measure(slot: TSlot, system: str, thread: Thread) -> TNut:
    """Sizes of a T-nut to make, with the standards' clearances, rounded down to a figure the shop can set."""
    play, base_play, height_play, step, tongue_step = _clearances(slot, system)
    base_width = _down(slot.headspace_width - base_play, step)
    base_height = _down(slot.headspace_depth - height_play, step)
    tongue_width = _down(slot.width - play, tongue_step)
    if not (base_width > slot.width and base_height > 0.0):
        throat, *head = (length_said(s, system) for s in (slot.width, slot.headspace_width, slot.headspace_depth))
        raise SizeError(
            f"T-slot {throat} over {' x '.join(head)}",
            "leaves a T-nut no shoulder to bear on",
            "measure the headspace again",
        )
    if not thread.major + 2.0 * LEAST_WALL <= base_width:
        small = tuple(t.designation for t in preferred_threads(system) if _wall_stands(slot, t))
        wanted = f"{thread.designation} in a T-nut {length_said(base_width, system)} wide"
        raise NotListedError(wanted, "the threads a T-nut for this slot can have", small or ("none",))
    tongue_height = min(base_height, max(slot.throat_depth - LEAST_WALL, slot.throat_depth / 2.0))
    return TNut(
        thread=thread,
        slot_width=slot.width,
        tongue_width=tongue_width,
        base_width=base_width,
        base_length=base_width,
        base_height=base_height,
        height=round(base_height + _down(tongue_height, tongue_step), 6),
        standard="made to measure",
        made_to_measure=True,
        note=_why(slot, system, thread),
    )


def _clearances(slot: TSlot, system: str) -> tuple[float, float, float, float, float]:
    """Tongue, base width and base height clearance, then the steps for the base and for the tongue, mm.

    Metric as between DIN 508 nuts and ISO 299 slots: 0.3 under the throat, then 1 mm, 2 mm above 14 mm slots. Inch as
    between ASME B5.1M nuts and slots: 0.020 under the throat, then 1/16 and 3/64, 1/16 above 11/16 slots.
    """
    if system == METRIC:
        play = 1.0 if slot.width <= 14.0 + WEAR[METRIC] else 2.0
        return 0.3, play, play, 0.5, 0.05
    height = 3.0 / 64.0 if slot.width <= 0.75 * INCH else 1.0 / 16.0
    return 0.020 * INCH, INCH / 16.0, height * INCH, INCH / 64.0, 0.005 * INCH


def _why(slot: TSlot, system: str, thread: Thread) -> str:
    """Say what keeps the nearest standard nut out."""
    near = min(standard_nuts(system), key=lambda nut: abs(nut.slot_width - slot.width))
    reasons = misfits(near, slot, system) or (f"it has no {thread.designation} thread",)
    return f"no standard T-nut serves: the nearest is {near.standard} {near.thread.designation}, but {reasons[0]}"


def _down(value: float, step: float) -> float:
    """Round down to a multiple of the step, forgiving float noise."""
    return round(floor(value / step + 1e-6) * step, 6)


def _metric(row: Row) -> TNut:
    width = row.number("slot_width_a_mm")
    base = row.number("square_base_width_e_mm")
    return TNut(
        thread=thread(row.text("thread")),
        slot_width=width,
        tongue_width=round(width - (0.3 if width <= 28.0 else 0.4), 6),  # DIN 508's upper deviation, from memory
        base_width=base,
        base_length=base,
        base_height=row.number("base_height_k_mm"),
        height=row.number("total_height_h_mm"),
        standard="DIN 508",
    )


def _inch(row: Row) -> TNut:
    slot = find("t_slots_inch", "nominal_bolt_size", row.text("t_slot_bolt_size"), "ASME B5.1M")
    return TNut(
        thread=thread(row.text("stud_thread_unc")),
        slot_width=slot.from_inches("throat_width_in"),
        tongue_width=row.from_inches("tongue_width_max_in"),
        base_width=row.from_inches("nut_width_max_in"),
        base_length=row.from_inches("nut_length_in"),
        base_height=row.from_inches("nut_base_height_max_in"),
        height=row.from_inches("total_thickness_in"),
        standard="ASME B5.1M",
        note="sizes of ASME B5.1M T-nuts are from memory, unconfirmed: measure the nut before relying on them",
    )
