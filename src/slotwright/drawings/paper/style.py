"""How drawings look on paper: heights, widths, dashes, arrows and figures, by ISO or by ASME.

All lengths are mm on paper. Where a standard leaves a choice the value is ours, and said to be.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from math import isfinite
from typing import Literal

from slotwright.drawings.paper.sheet import Line

Standard = Literal["iso", "asme"]
Unit = Literal["mm", "in"]
INCH = 25.4

WIDE = frozenset({Line.OUTLINE, Line.SECTION, Line.FRAME})

# Dash and gap lengths in narrow line widths: ISO 128-2 table 2 (dash 12 d, long dash 24 d, gap 3 d, dot 0.5 d).
# The dot is drawn 1 d long, for a plotter's sake.
_DASHES: dict[Line, tuple[float, ...]] = {
    Line.HIDDEN: (12.0, 3.0),
    Line.CENTRE: (24.0, 3.0, 1.0, 3.0),
    Line.PHANTOM: (24.0, 3.0, 1.0, 3.0, 1.0, 3.0),
    Line.SECTION: (24.0, 3.0, 1.0, 3.0),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """One way of drawing.

    Attributes:
        name: "iso" or "asme".
        unit: "mm" or "in", the unit of written dimensions.
        decimal: "." or ",".
        alternate: figures are followed by the same size in the other unit, in brackets.
        small: height of capitals of table heads and field names.
        text: height of capitals of dimensions, notes and tables.
        title: height of capitals of titles, section letters and tags that must be seen first.
        wide, narrow: the two line widths.
        arrow: length of a filled arrowhead.
        arrow_width: its width at the back.
        extension_gap: from the outline to the start of an extension line.
        extension_overrun: of the extension line beyond the dimension line.
        text_gap: clear space between a text and the line it stands on or interrupts.
        text_above: dimension text stands above an unbroken line and turns with it; else it interrupts the line and is
            read from the bottom of the sheet.
        first_offset: least distance of the first dimension line from the outline.
        next_offset: least distance between neighbouring dimension lines.
        centre_overrun: of a centre line beyond the outline it belongs to.
    """

    name: Standard
    unit: Unit
    decimal: str
    small: float
    text: float
    title: float
    wide: float
    narrow: float
    arrow: float
    arrow_width: float
    extension_gap: float
    extension_overrun: float
    text_gap: float
    text_above: bool
    first_offset: float
    next_offset: float
    centre_overrun: float
    alternate: bool = False

    @property
    def unit_length(self) -> float:
        """Length of the drawing's unit, mm."""
        return INCH if self.unit == "in" else 1.0

    @property
    def places(self) -> int:
        """Decimals of a written size unless said otherwise: .001 in or 0.01 mm (our choice)."""
        return 3 if self.unit == "in" else 2

    def line_width(self, line: Line) -> float:
        """Return the width of a kind of line, mm."""
        return self.wide if line in WIDE else self.narrow

    def dashes(self, line: Line) -> tuple[float, ...]:
        """Return dash, gap, dash, gap ... of a kind of line, mm; empty for a continuous one."""
        return tuple(round(part * self.narrow, 4) for part in _DASHES.get(line, ()))

    def number(self, mm: float, places: int | None = None) -> str:
        """Write a length as the drawing shows it, in the drawing's unit, without a unit's name.

        mm: a leading zero, no trailing zeros (ISO 129-1; ASME Y14.5 millimetre dimensioning). Inch: no leading zero,
        all decimals written (ASME Y14.5 decimal inch dimensioning). Halves round away from zero; never "-0"; a
        negative number has a hyphen, as a readout shows it.

        Args:
            mm: the length, mm.
            places: decimals in the drawing's unit; None takes the style's.
        """
        written = self._rounded(mm / self.unit_length, self.places if places is None else places)
        written = _without_leading_zero(written) if self.unit == "in" else _without_trailing_zeros(written)
        return written.replace(".", self.decimal)

    def rounded(self, mm: float, places: int | None = None) -> Decimal:
        """Return the value that a size is written with, in the drawing's unit, to add and multiply written figures."""
        return Decimal(self._rounded(mm / self.unit_length, self.places if places is None else places))

    def figure(self, mm: float, places: int | None = None) -> str:
        """Write a size as `number` does, with its other unit in brackets where the drawing has alternate units."""
        return self.number(mm, places) + self.bracket(mm)

    def bracket(self, mm: float) -> str:
        """Return " [other unit]" behind a size, or nothing where the drawing has one unit (ASME Y14.5, from memory)."""
        if not self.alternate or abs(mm) < 1e-9:
            return ""
        other = self._rounded(mm / (1.0 if self.unit == "in" else INCH), 2 if self.unit == "in" else 3)
        if self.unit == "in":
            return f" [{_without_trailing_zeros(other)}]"
        return f" [{_without_leading_zero(other)}]".replace(".", self.decimal)

    def other(self, value: Decimal) -> str:
        """Write a rounded value in the drawing's other unit with all its decimals; inches have no leading zero."""
        written = f"{value:f}"
        return (written if self.unit == "in" else _without_leading_zero(written)).replace(".", self.decimal)

    def angle(self, degrees: float, places: int = 1) -> str:
        """Write an angle in decimal degrees with its sign, without trailing zeros."""
        return _without_trailing_zeros(self._rounded(degrees, places)).replace(".", self.decimal) + "°"

    def _rounded(self, value: float, places: int) -> str:
        if not isfinite(value):
            raise ValueError(f"a drawing can't show {value}")
        # Nine decimals first: 2.675 in kept as mm must still be a half, not 2.67499999.
        exact = Decimal(repr(round(value, 9)))
        written = str(exact.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP))
        return written.removeprefix("-") if Decimal(written) == 0 else written


def _without_trailing_zeros(written: str) -> str:
    return written.rstrip("0").rstrip(".") if "." in written else written


def _without_leading_zero(written: str) -> str:
    return written.replace("0.", ".", 1) if written.removeprefix("-").startswith("0.") else written


def style(
    name: str = "iso", unit: str = "mm", *, decimal: str = ".", wide: float | None = None, alternate: bool = False
) -> Style:
    """Return the style of a standard.

    Args:
        name: "iso" or "asme".
        unit: "mm" or "in".
        decimal: decimal sign, "." or ","; ASME and inch drawings always have the point.
        alternate: add sizes in the other unit in brackets.
        wide: width of wide lines, mm; None takes 0.5 (ISO 128-2 line group 0.5) or 0.6 (ASME Y14.2).

    Raises:
        ValueError: a name, unit or sign that is none of these.
    """
    known: Unit | None = "mm" if unit == "mm" else "in" if unit == "in" else None
    if name == "iso" and known is not None:
        return replace(_iso(known, decimal, 0.5 if wide is None else wide), alternate=alternate)
    if name == "asme" and known is not None:
        return replace(_asme(known, decimal, 0.6 if wide is None else wide), alternate=alternate)
    raise ValueError(f"there is no drawing style {name!r} with unit {unit!r}; there is iso and asme with mm and in")


def _iso(unit: Unit, decimal: str, wide: float) -> Style:
    """ISO 3098-1 heights, ISO 128-2 widths; gap and overrun of ISO 129-1 about 8 line widths; offsets are ours."""
    if decimal not in ((".", ",") if unit == "mm" else (".",)):
        raise ValueError(f"decimal sign {decimal!r} does not go with {unit}; a comma goes with mm only")
    narrow = wide / 2.0
    return Style(
        name="iso",
        unit=unit,
        decimal=decimal,
        small=2.5,
        text=3.5,
        title=5.0,
        wide=wide,
        narrow=narrow,
        arrow=3.0,
        arrow_width=1.0,
        extension_gap=1.0,
        extension_overrun=2.0,
        text_gap=1.0,
        text_above=True,
        first_offset=10.0,
        next_offset=8.0,
        centre_overrun=3.0,
    )


def _asme(unit: Unit, decimal: str, wide: float) -> Style:
    """ASME Y14.2: 3 mm (.12 in) lettering, arrows three to one; ASME Y14.5: 10 mm and 6 mm least offsets."""
    if decimal != ".":
        raise ValueError(f"decimal sign {decimal!r} does not go with asme; it has the point")
    inch = unit == "in"
    return Style(
        name="asme",
        unit=unit,
        decimal=".",
        small=0.10 * INCH if inch else 2.5,
        text=0.12 * INCH if inch else 3.0,
        title=0.24 * INCH if inch else 6.0,
        wide=wide,
        narrow=wide / 2.0,
        arrow=0.12 * INCH if inch else 3.0,
        arrow_width=0.04 * INCH if inch else 1.0,
        extension_gap=1.5,
        extension_overrun=3.0,
        text_gap=1.5,
        text_above=False,
        first_offset=10.0,
        next_offset=6.0 + (0.12 * INCH if inch else 3.0) / 2.0,
        centre_overrun=3.0,
    )
