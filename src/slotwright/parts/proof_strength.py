"""Proof strength of bolts and studs: what a bolt may be pulled with and come back."""

from __future__ import annotations

from slotwright.errors import NotListedError
from slotwright.parts.standards import INCH, METRIC, rows
from slotwright.parts.threads import Thread

STUD_CLASS = {"metric": "8.8", "inch": "5"}
"""What clamping studs are commonly made to; common practice, no source."""

_STANDARD = {"metric": "ISO 898-1", "inch": "SAE J429"}
_MPA_PER_KSI = 4.4482216152605 * 1000.0 / INCH**2


def proof_stress(thread: Thread, strength: str | None = None) -> float:
    """Proof stress of a bolt, MPa.

    Args:
        thread: its size decides where the class has steps.
        strength: property class or grade, "8.8" or "5"; None takes that of clamping studs.

    Source:
        ISO 898-1 for metric, SAE J429 for inch threads.

    Raises:
        NotListedError: no such class for this size.
    """
    wanted = strength or STUD_CLASS[thread.system]
    mine = [row for row in rows("proof_strength") if row.text("standard") == _STANDARD[thread.system]]
    for row in mine:
        if row.text("property_class") == wanted and row.number("size_from_mm") <= thread.major <= row.number(
            "size_to_mm"
        ):
            if thread.system == METRIC:
                return row.number("proof_stress_mpa")
            return row.number("proof_stress_ksi") * _MPA_PER_KSI
    listed = tuple(dict.fromkeys(row.text("property_class") for row in mine))
    raise NotListedError(f"class {wanted!r} for {thread.designation}", _STANDARD[thread.system], listed)


def proof_load(thread: Thread, strength: str | None = None) -> float:
    """Proof load of a bolt, N: stress area times proof stress.

    Source:
        ISO 898-1; SAE J429.

    Raises:
        NotListedError: no such class for this size.
    """
    return thread.stress_area * proof_stress(thread, strength)
