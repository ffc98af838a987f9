"""What a sheet says beside the part itself: title, content id, tolerances, findings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from slotwright.drawings.style import Style
from slotwright.findings import Finding

Projection = Literal["first", "third"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetData:
    """Words and choices for the drawings of one design.

    Attributes:
        title: of the design.
        content_id: short id of the design's content; prints are traced by it.
        projection: "first" or "third" angle.
        general_tolerance: lines for the title block, or empty for the style's own default.
        owner: legal owner; "" leaves the field to be filled in by hand, as do the next four.
        creator, approved, date, revision: as the shop gives them.
        findings: of the design; those about the piece that stop are printed on its drawing.
    """

    title: str
    content_id: str
    projection: Projection = "third"
    general_tolerance: tuple[str, ...] = ()
    owner: str = ""
    creator: str = ""
    approved: str = ""
    date: str = ""
    revision: str = ""
    findings: tuple[Finding, ...] = ()


def unit_name(style: Style) -> str:
    """Return the unit of the drawing in capitals, as its standard spells it."""
    if style.unit == "in":
        return "INCHES"
    return "MILLIMETERS" if style.name == "asme" else "MILLIMETRES"


def tolerance_lines(data: SheetData, style: Style) -> tuple[str, ...]:
    """Return the general tolerance as the title block shows it.

    The defaults are common practice, no source: ISO 2768 class m; the inch block by the number of decimals.
    """
    if data.general_tolerance:
        return data.general_tolerance
    if style.unit == "in":
        return (".XX ±.01  .XXX ±.005", "ANGLES ±1°")
    if style.name == "iso":
        return ("ISO 2768-m",)
    return ("X ±0.5  X.X ±0.2  X.XX ±0.1", "ANGLES ±1°")
