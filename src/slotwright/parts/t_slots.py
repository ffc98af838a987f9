"""T-slots: standard profiles, the one a measured throat belongs to, and a safe profile where little was measured."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from slotwright.errors import NotListedError, SizeError
from slotwright.parts.standards import INCHES, METRIC, Row, find, length_said, rows, system_named
from slotwright.parts.threads import inch_size, thread, threads

ISO = "ISO 299"
ASME = "ASME B5.1M"
MEASURED = "measured"

UNDER = 0.05
"""A measured throat may be this much under the nominal, mm: the calliper, and inch tables that round fractions."""

WEAR = {METRIC: 0.5, INCHES: 1.016}
"""A worn throat may be this much over the nominal, mm (0.5 mm, 0.040 in); common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TSlot:
    """Cross section of a T-slot, mm.

    Attributes:
        width: throat width, between the two shoulders.
        headspace_width: width of the wide lower part.
        headspace_depth: height of the wide lower part, from the floor to the underside of the shoulders.
        depth: from the table top to the floor of the slot.
        standard: "ISO 299", "ASME B5.1M" or "measured".
        bolt: the T-slot bolt the standard gives it, as a thread designation, or None.
        assumed: names of the fields that were not measured but taken from a standard slot.
    """

    width: float
    headspace_width: float
    headspace_depth: float
    depth: float
    standard: str = MEASURED
    bolt: str | None = None
    assumed: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a profile that is no T."""
        if not 0.0 < self.width < self.headspace_width:
            raise SizeError(
                f"T-slot {self.width:g} mm wide over {self.headspace_width:g} mm",
                "has no shoulders",
                "the headspace must be wider than the throat; measure both",
            )
        if not 0.0 < self.headspace_depth < self.depth:
            raise SizeError(
                f"T-slot {self.depth:g} mm deep with a headspace {self.headspace_depth:g} mm deep",
                "has no throat",
                "the depth goes from the table top to the floor of the slot; measure both",
            )

    @property
    def throat_depth(self) -> float:
        """From the table top to the underside of the shoulders, mm."""
        return self.depth - self.headspace_depth


@cache
def standard_slots(system: str) -> tuple[TSlot, ...]:
    """All slots of the standard by rising width, each with its smallest headspace and depth.

    The smallest figures are the safe ones: whatever fits them fits any slot made to the standard.

    Source:
        Metric ISO 299 (DIN 650, BS 2485 agree); inch ASME B5.1M, whose depth is throat plus headspace.
    """
    if system_named(system) == METRIC:
        return tuple(_metric(row) for row in rows("t_slots_metric"))
    return tuple(_inch(row) for row in rows("t_slots_inch"))


def slot_for_width(width: float, system: str) -> TSlot | None:
    """The standard slot a measured throat width, mm, belongs to, or None when no standard has it.

    The throat may be 0.05 mm under the nominal and, for wear, 0.5 mm (metric) or 0.040 in (inch) over it: common
    practice, no source. A 5/8 in slot belongs to none.
    """
    over = WEAR[system_named(system)]
    for slot in reversed(standard_slots(system)):
        if slot.width - UNDER <= width <= slot.width + over:
            return slot
    return None


def complete_slot(
    width: float,
    headspace_width: float | None = None,
    headspace_depth: float | None = None,
    depth: float | None = None,
    system: str = "mm",
) -> TSlot:
    """Make a slot from what was measured; the standard fills in the rest.

    Args:
        width: throat width, mm.
        headspace_width, headspace_depth, depth: mm, or None when not measured.
        system: "mm" or "metric", "in" or "inch": which standard to fill in from.

    Returns:
        The slot; fields from the standard are named in its assumed. Where no standard slot has this throat, the
        next narrower one fills in, which errs to the small and so to the safe side.

    Raises:
        NotListedError: something is missing and the throat is narrower than every standard slot.
        SizeError: the figures make no T-slot.
    """
    given = {"headspace_width": headspace_width, "headspace_depth": headspace_depth, "depth": depth}
    assumed = tuple(name for name, value in given.items() if value is None)
    match = slot_for_width(width, system)
    model = match or (_next_narrower(width, system) if assumed else None)
    sizes = {n: v if v is not None else _of(model, n) for n, v in given.items()}
    if depth is None and model is not None:
        sizes["depth"] = sizes["headspace_depth"] + model.throat_depth
    return TSlot(
        width=width,
        **sizes,
        standard=match.standard if match else MEASURED,
        bolt=match.bolt if match else None,
        assumed=assumed,
    )


def standard_pitches(width: float) -> tuple[float, ...]:
    """Slot pitches ISO 299 gives for a metric slot of this nominal width, mm, rising.

    Raises:
        NotListedError: no such slot.
    """
    row = find("t_slots_metric", "slot_width_a_mm", f"{width:g}", f"{ISO}, slot widths in mm")
    found = (row.optional(f"pitch_p{n}_mm") for n in (1, 2, 3, 4))
    return tuple(pitch for pitch in found if pitch is not None)


def pitch_tolerance(pitch: float) -> float:
    """Tolerance of the distance of two slots, plus or minus mm, for a pitch in mm.

    Source:
        BS 2485 (ISO 299): 0.2 from 20 to 25, 0.3 from 32 to 100, 0.5 from 125 to 250, 0.8 from 320 to 500. A pitch
        between two ranges takes the wider tolerance.

    Raises:
        NotListedError: the pitch is under 20 or over 500 mm.
    """
    table = rows("t_slot_pitch_tolerances")
    if pitch >= table[0].number("pitch_from_mm"):
        for row in table:
            if pitch <= row.number("pitch_to_mm"):
                return row.number("pitch_tolerance_plus_minus_mm")
    listed = tuple(f"{row.text('pitch_from_mm')} to {row.text('pitch_to_mm')} mm" for row in table)
    raise NotListedError(f"a pitch of {pitch:g} mm", f"the pitch tolerances of {ISO}", listed)


def _metric(row: Row) -> TSlot:
    return TSlot(
        width=row.number("slot_width_a_mm"),
        headspace_width=row.number("base_width_b_min_mm"),
        headspace_depth=row.number("base_depth_c_min_mm"),
        depth=row.number("total_depth_h_min_mm"),
        standard=ISO,
        bolt=row.text("bolt_thread"),
    )


def _inch(row: Row) -> TSlot:
    return TSlot(
        width=row.from_inches("throat_width_in"),
        headspace_width=row.from_inches("headspace_width_min_in"),
        headspace_depth=row.from_inches("headspace_depth_min_in"),
        depth=row.from_inches("headspace_depth_min_in", "throat_depth_min_in"),
        standard=ASME,
        bolt=_coarse(row.text("nominal_bolt_size")),
    )


def _coarse(size: str) -> str | None:
    """The coarse inch thread of a bolt size, or None where the thread table has no such size."""
    major = inch_size(size)
    for candidate in threads(INCHES):
        if candidate.series == "UNC" and candidate.major == major:
            return thread(candidate.designation).designation
    return None


def _next_narrower(width: float, system: str) -> TSlot:
    for slot in reversed(standard_slots(system)):
        if slot.width <= width:
            return slot
    listed = tuple(length_said(slot.width, system) for slot in standard_slots(system))
    raise NotListedError(
        f"a T-slot as narrow as {length_said(width, system)}, so its headspace and depth must be measured,",
        standard_slots(system)[0].standard,
        listed,
    )


def _of(slot: TSlot | None, field: str) -> float:
    return float(getattr(slot, field)) if slot is not None else 0.0
