"""Clamping straps: plain flat ones with a slot for the stud, as the shop measured them or as DIN 6314 has them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from slotwright.errors import NotListedError
from slotwright.parts.standards import Row, find, rows
from slotwright.parts.threads import Thread

STANDARD = "DIN 6314"

SLOT_STARTS, SLOT_ENDS = 0.3, 0.75
"""Where the slot of a DIN 6314 strap is taken to run, in shares of its length from the nose: the table here does not
say; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Strap:
    """One flat strap, mm; lengths along it are measured from its nose.

    Attributes:
        name: as a design names it.
        size: designation for lists.
        length, width, thickness: over all.
        slot_width: of the slot the stud passes.
        slot_from, slot_to: ends of the slot, over its round ends.
        straight_from, straight_to: between which its long edges are straight.
        standard: "DIN 6314" or "as measured".
        note: what must be measured or is from memory; empty when nothing.
    """

    name: str
    size: str
    length: float
    width: float
    thickness: float
    slot_width: float
    slot_from: float
    slot_to: float
    straight_from: float
    straight_to: float
    standard: str = "as measured"
    note: str = ""

    @property
    def stud_from(self) -> float:
        """Nearest place of a stud's axis to the nose, mm: the middle of the slot's round end."""
        return self.slot_from + self.slot_width / 2.0

    @property
    def stud_to(self) -> float:
        """Farthest place of a stud's axis from the nose, mm."""
        return self.slot_to - self.slot_width / 2.0

    @property
    def slot_middle(self) -> float:
        """Middle of the slot from the nose, mm."""
        return (self.slot_from + self.slot_to) / 2.0


@cache
def standard_straps() -> tuple[Strap, ...]:
    """All straps of DIN 6314, by rising slot width and length.

    Source:
        DIN 6314, from memory, unconfirmed; where the slot runs is assumed.
    """
    return tuple(_strap(row) for row in rows("straps_din6314"))


def strap_named(name: str) -> Strap:
    """Return the strap of DIN 6314 with a name such as "din6314-14x100".

    Raises:
        NotListedError: no such strap.
    """
    for strap in standard_straps():
        if strap.name == name:
            return strap
    raise NotListedError(f"strap {name[:60]!r}", STANDARD, tuple(strap.name for strap in standard_straps()))


def strap_for(thread: Thread) -> Strap:
    """Return the shortest strap of DIN 6314 for a stud.

    Raises:
        NotListedError: it has none for this thread.
    """
    return _strap(find("straps_din6314", "for_bolt", thread.designation, f"{STANDARD}, straps by bolt"))


def _strap(row: Row) -> Strap:
    length, thickness = row.number("length_l_mm"), row.number("thickness_a_mm")
    slot = row.text("slot_b2_mm")
    return Strap(
        name=f"din6314-{slot.replace('.', '-')}x{length:g}",
        size=f"{slot} x {length:g}",
        length=length,
        width=row.number("width_b1_mm"),
        thickness=thickness,
        slot_width=row.number("slot_b2_mm"),
        slot_from=SLOT_STARTS * length,
        slot_to=SLOT_ENDS * length,
        straight_from=thickness / 2.0,
        straight_to=length - thickness / 4.0,
        standard=STANDARD,
        note="sizes of DIN 6314 from memory, run of the slot assumed: measure the strap before relying on them",
    )
