"""What a sheet says beside the part itself: title, content id, tolerances, findings."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from slotwright.drawings.paper.style import Style
from slotwright.findings import Finding
from slotwright.parts.general_tolerances import angular_tolerance, linear_tolerance

Projection = Literal["first", "third"]


@dataclass(frozen=True, slots=True)
class Revision:
    """One row of the revision table: index, what was changed, date and name; all but the index may be ""."""

    index: str
    text: str = ""
    date: str = ""
    by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetData:
    """Words and choices for the drawings of one design.

    Attributes:
        title: of the design.
        content_id: short id of the design's content; prints are traced by it.
        pieces: names of the design's pieces, in its order; their drawings are numbered first.
        tables: names of the tables it is set up on; the drawings of these set-ups follow.
        projection: "first" or "third" angle.
        tolerance: class of general tolerance of ISO 2768-1, f, m, c or v.
        owner: legal owner; "" leaves the field to be filled in by hand, as do the next four.
        creator, approved, date, revision: as the shop gives them.
        revisions: the rows of the revision table, the oldest first.
        findings: of the design; those about the piece that stop are printed on its drawing.
    """

    title: str
    content_id: str
    pieces: tuple[str, ...] = ()
    tables: tuple[str, ...] = ()
    projection: Projection = "third"
    tolerance: str = "m"
    owner: str = ""
    creator: str = ""
    approved: str = ""
    date: str = ""
    revision: str = ""
    revisions: tuple[Revision, ...] = ()
    findings: tuple[Finding, ...] = ()

    def piece_number(self, name: str) -> str:
        """Return the identification number of a piece's drawing, such as "3f2a90c1b7-2" (ISO 7200: its own alone).

        That of a piece the design does not list, drawn for itself, is the content id.
        """
        return self._numbered(self.pieces.index(name)) if name in self.pieces else self.content_id

    def setup_number(self, table: str) -> str:
        """Return the identification number of the set-up drawing for a table, as that of a piece."""
        known = table in self.tables
        return self._numbered(len(self.pieces) + self.tables.index(table)) if known else self.content_id

    def _numbered(self, before: int) -> str:
        return f"{self.content_id}-{before + 1}"


MILLIMETRES = {"iso": "MILLIMETRES", "asme": "MILLIMETERS"}  # as each standard spells them
CENTRE = re.compile(r"(?<![\w-])(cent|CENT|Cent)(re|RE)(s?|S?|d|D)(?![\w-])")
STEPS = (6.0, 30.0, 120.0, 400.0, 1000.0, 2000.0)  # sizes up to which ISO 2768-1 steps its tolerances, mm
INCH_BLOCKS = {
    "f": (".XX ±.005  .XXX ±.002", "ANGLES ±0.5°"),
    "m": (".XX ±.01  .XXX ±.005", "ANGLES ±1°"),
    "c": (".XX ±.03  .XXX ±.010", "ANGLES ±1.5°"),
    "v": (".XX ±.06  .XXX ±.020", "ANGLES ±3°"),
}  # common practice, no source


def other_unit_name(style: Style) -> str:
    """Return the unit of alternate figures in capitals."""
    return MILLIMETRES[style.name] if style.unit == "in" else "INCHES"


def unit_name(style: Style) -> str:
    """Return the unit of the drawing in capitals, as its standard spells it."""
    return "INCHES" if style.unit == "in" else MILLIMETRES[style.name]


def spelled(words: str, style: Style) -> str:
    """Return words of a sheet as its standard spells them: centre by ISO, center by ASME."""
    if style.name == "iso":
        return words
    return CENTRE.sub(lambda match: match[1] + ("er" if match[2] == "re" else "ER") + match[3], words)


def tolerance_lines(data: SheetData, style: Style) -> tuple[str, ...]:
    """Return the general tolerance as the title block shows it.

    ISO 2768-1 by its class, or by size where no other standard is to be at hand; on inch sheets by the number of
    decimals. Millimetre figures have no trailing zeros, so that their decimals can't stand for a tolerance.
    """
    if style.unit == "in":
        return INCH_BLOCKS[data.tolerance]
    if style.name == "iso":
        return (f"ISO 2768-{data.tolerance}",)
    sizes = [f"{step:g} ±{linear_tolerance(step, data.tolerance):g}" for step in STEPS]
    angle = angular_tolerance(STEPS[0], data.tolerance)
    return ("UP TO " + "  ".join(sizes[:3]), "  ".join(sizes[3:]), f"ANGLES ±{angle:g}°")
