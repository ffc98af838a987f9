"""What notes on leaders say about the shape of a piece, and figures that are more than a plain distance."""

from __future__ import annotations

import re
from dataclasses import dataclass

from tests.rebuilding.wording import FIGURE, Figures, Size, UnreadableError, one_unit

COUNT = r"(?:(?P<count>\d+) ?[X×] ?)?"
LIMITS = rf"(?: (?P<zone>[A-Za-z]+\d+))?(?: (?:\([^()]*/[^()]*\)|±{FIGURE}))?"
SPAN = re.compile(rf"{COUNT}(?P<round>⌀)?(?P<size>{FIGURE}){LIMITS}")
AUXILIARY = re.compile(rf"{COUNT}\((?P<round>[⌀R])?(?P<size>{FIGURE})\)")
ANGLE = re.compile(rf"(?P<size>{FIGURE})°")
RADIUS = re.compile(rf"{COUNT}R(?P<size>{FIGURE})")
CIRCLE = re.compile(rf"⌀(?P<size>{FIGURE}) B\.C\.")
BROKEN = re.compile(rf"{COUNT}(?P<size>{FIGURE}) [X×] 45°")
FEATURE = re.compile(
    rf"{COUNT}(?P<name>[A-Z][A-Z ']*?)(?: ⌀(?P<size>{FIGURE}){LIMITS})?"
    rf" (?:(?P<high>{FIGURE}) HIGH|↧ ?(?P<deep>{FIGURE})|(?P<through>THRU))(?: (?P<both>BOTH SIDES|BOTH ENDS))?"
)
TURNED = re.compile(rf"(?P<long>{FIGURE}) [X×] (?P<across>{FIGURE}) AT (?P<angle>{FIGURE})°")
ROUNDED = re.compile(rf"(?P<count>\d+) ?[X×] R(?P<size>{FIGURE})")
FITS = 3
"""Decimals of millimetre sizes with limits."""


@dataclass(frozen=True, slots=True)
class Said:
    """A feature as a note has it.

    Attributes:
        name: what it is called.
        count: how many alike.
        diameter: of a round one, or None.
        high: how far it stands out, or None for what is cut in.
        deep: how far it is cut in; None through.
        both: it comes on the opposite side too.
        radius: of the corners, where the note has it.
        corners: how many corners have it.
    """

    name: str
    count: int
    diameter: Size | None
    high: Size | None
    deep: Size | None
    both: bool
    radius: Size | None
    corners: int


def feature(lines: tuple[str, ...], figures: Figures) -> Said | None:
    """Read a note that says what a feature is, or None for another note."""
    m = FEATURE.fullmatch(one_unit(lines[0]))
    if m is None:
        return None
    rounded = next((r for line in lines[1:] if (r := ROUNDED.fullmatch(one_unit(line)))), None)
    return Said(
        name=m["name"],
        count=int(m["count"] or 1),
        diameter=figures.size(m["size"], FITS if m["zone"] else 2) if m["size"] else None,
        high=figures.size(m["high"]) if m["high"] else None,
        deep=figures.size(m["deep"]) if m["deep"] else None,
        both=m["both"] is not None,
        radius=figures.size(rounded["size"]) if rounded else None,
        corners=int(rounded["count"]) if rounded else 0,
    )


@dataclass(frozen=True, slots=True)
class Distance:
    """A written distance.

    Attributes:
        size: what is written.
        count: how many alike.
        known: it is in brackets: it follows from other figures.
    """

    size: Size
    count: int
    known: bool


def distance(text: str, figures: Figures) -> Distance:
    """Read a distance with its count, limits or brackets. Errors: UnreadableError."""
    text = one_unit(text)
    known = AUXILIARY.fullmatch(text)
    m = known or SPAN.fullmatch(text)
    if m is None:
        raise UnreadableError(f"{text!r} is no distance")
    finest = FITS if "(" in text and known is None else 2
    return Distance(figures.size(m["size"], finest), int(m["count"] or 1), known is not None)


def angle(text: str) -> Size | None:
    """Read an angle, degrees; it stands for tenths at least."""
    m = ANGLE.fullmatch(text)
    return None if m is None else degrees(m["size"], 1)


def degrees(text: str, finest: int) -> Size:
    """An angle's value and how far it may be off, where as many decimals are written as it needs up to finest."""
    whole, _, decimals = text.replace(",", ".").partition(".")
    return Size(float(f"{whole or 0}.{decimals or 0}"), 0.5 * 10.0 ** -max(len(decimals), finest))
