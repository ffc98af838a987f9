"""What drawings are drawn on and with: sheet sizes, preferred scales, line widths, lettering heights."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from slotwright.errors import NotListedError
from slotwright.parts.standards import METRIC, Row, rows, system_named


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSize:
    """One trimmed sheet lying on its long side, mm.

    Attributes:
        name: "A4" to "A0" or "A" to "E".
        system: "metric" (ISO 5457) or "inch" (ASME Y14.1).
        long, short: trimmed sides.
        margin_left, margin: filing margin and the other three, or None where the table has none.
    """

    name: str
    system: str
    long: float
    short: float
    margin_left: float | None
    margin: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """A drawing scale: its name, such as "1:2", and paper mm a model mm, 0.5."""

    name: str
    ratio: float


@cache
def sheet_sizes(system: str) -> tuple[SheetSize, ...]:
    """Sheets of a system, the smallest first.

    Source:
        Metric ISO 216 and ISO 5457 (margins from memory, unconfirmed); inch ASME Y14.1 (no margins listed).
    """
    if system_named(system) == METRIC:
        found = [_sheet(row, "metric") for row in rows("sheet_sizes") if row.text("unit") == "mm"]
    else:
        found = [_sheet(row, "inch") for row in rows("sheet_sizes") if row.text("unit") == "in"]
    return tuple(sorted(found, key=lambda sheet: sheet.long * sheet.short))


def sheet_size(name: str, system: str) -> SheetSize:
    """A sheet by its name.

    Raises:
        NotListedError: no such sheet in the system.
    """
    for sheet in sheet_sizes(system):
        if sheet.name == name:
            return sheet
    raise NotListedError(f"sheet {name!r}", "the sheet sizes", tuple(s.name for s in sheet_sizes(system)))


@cache
def scales(system: str) -> tuple[Scale, ...]:
    """Preferred scales, the largest ratio first.

    Source:
        Metric ISO 5455 (from memory, unconfirmed). Inch 4:1, 2:1 and 1:1 to 1:64 by halves: common practice, no source.
    """
    if system_named(system) == METRIC:
        found = [Scale(name=row.text("scale"), ratio=row.number("ratio")) for row in rows("scales_iso5455")]
    else:
        halves = [Fraction(4), Fraction(2)] + [Fraction(1, 2**n) for n in range(7)]
        found = [Scale(name=f"{ratio.numerator}:{ratio.denominator}", ratio=float(ratio)) for ratio in halves]
    return tuple(sorted(found, key=lambda scale: -scale.ratio))


@cache
def line_groups() -> tuple[tuple[float, float], ...]:
    """Wide and narrow line width of each line group, mm, rising.

    Source:
        ISO 128-2, from memory, unconfirmed.
    """
    return tuple((row.number("wide_line_mm"), row.number("narrow_line_mm")) for row in rows("line_widths_iso128"))


@cache
def lettering_heights() -> tuple[float, ...]:
    """Nominal heights of capitals, mm, rising.

    Source:
        ISO 3098-1, from memory, unconfirmed.
    """
    return tuple(row.number("letter_height_h_mm") for row in rows("lettering_iso3098"))


def _sheet(row: Row, system: str) -> SheetSize:
    read = row.number if row.text("unit") == "mm" else row.from_inches
    return SheetSize(
        name=row.text("size"),
        system=system,
        long=read("trimmed_long"),
        short=read("trimmed_short"),
        margin_left=row.optional("frame_margin_left"),
        margin=row.optional("frame_margin_other"),
    )
