"""Sheets of paper as they lie on the board, and the scales a drawing may choose from."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from slotwright.drawings.paper.style import INCH, Style
from slotwright.parts import sheets


@dataclass(frozen=True, slots=True, kw_only=True)
class Format:
    """One size of paper as it lies on the board, mm.

    Attributes:
        name: "A3", "B".
        standard: "iso" or "asme".
        width, height: trimmed, the long side level.
        margin_left, margin_right, margin_low: from the trimmed edge to the frame; the upper equals the lower.
    """

    name: str
    standard: str
    width: float
    height: float
    margin_left: float
    margin_right: float
    margin_low: float


# Level and upright margins, inch: ASME Y14.1, from memory; A has wider ones, for printers that can't reach the edge.
_ASME_MARGINS = {"A": (0.38, 0.38), "B": (0.62, 0.38), "C": (0.5, 0.75), "D": (1.0, 0.5), "E": (0.5, 1.0)}
LARGEST_SCALE = 10.0
PRINTED = 2  # so many of the smallest sheets (A4 and A3, A and B) come from a shop's own printer; our choice


@cache
def formats(standard: str) -> tuple[Format, ...]:
    """Return the sheets of a drawing style's standard, smallest first."""
    if standard == "iso":
        return tuple(_iso(size) for size in sheets.sheet_sizes("metric"))
    return tuple(_asme(size) for size in sheets.sheet_sizes("inch"))


def _iso(size: sheets.SheetSize) -> Format:
    return Format(
        name=size.name, standard="iso", width=size.long, height=size.short,
        margin_left=size.margin_left or 20.0, margin_right=size.margin or 10.0, margin_low=size.margin or 10.0,
    )  # fmt: skip


def _asme(size: sheets.SheetSize) -> Format:
    level, upright = _ASME_MARGINS[size.name]
    return Format(
        name=size.name, standard="asme", width=size.long, height=size.short,
        margin_left=level * INCH, margin_right=level * INCH, margin_low=upright * INCH,
    )  # fmt: skip


@cache
def preferred_scales(style: Style) -> tuple[float, ...]:
    """Return the preferred scales as paper over model, largest first."""
    listed = sheets.scales("inch" if style.name == "asme" else "metric")
    return tuple(scale.ratio for scale in listed if scale.ratio <= LARGEST_SCALE)


def scale_text(scale: float) -> str:
    """Write a scale as 1:2 or 2:1 (ISO 5455)."""
    return f"{scale:g}:1" if scale >= 1.0 else f"1:{round(1.0 / scale, 6):g}"
