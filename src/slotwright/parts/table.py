"""A machine's table: its size, its T-slots as measured, its travels and the load it may carry.

Table frame: origin at the front left corner of the table top, X to the right along the T-slots, Y toward the column,
Z up. All lengths are mm.
"""

from __future__ import annotations

from dataclasses import dataclass

from slotwright.parts.t_slots import TSlot


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A T-slotted table.

    Attributes:
        name: the name of its file in parts/, or of the inline table.
        title: what the shop calls it.
        unit: "mm" or "in": the unit it was measured in.
        length: along X.
        width: along Y, the front edge being Y = 0.
        thickness: of the table casting, for the lay-out picture only.
        slot: cross section of every slot.
        slot_centres: Y of each slot's centre, from the front edge, rising; slot 1 is the front one.
        uncertainty: of each centre, plus or minus; 0 when not stated.
        travel: along X, Y, Z, or None where not stated.
        load: allowed load, kg, or None where not stated.
    """

    name: str
    title: str
    unit: str
    length: float
    width: float
    thickness: float
    slot: TSlot
    slot_centres: tuple[float, ...]
    uncertainty: float = 0.0
    travel: tuple[float | None, float | None, float | None] = (None, None, None)
    load: float | None = None
