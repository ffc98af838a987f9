"""What figures and callouts say, by the rules of ISO 129-1, ISO 6410-1 and ASME Y14.5: text in, millimetres out."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal

INCH = 25.4
FIGURE = r"\d*[.,]?\d+"


class UnreadableError(ValueError):
    """Words on a drawing from which no size can be read."""


@dataclass(frozen=True, slots=True)
class Size:
    """A length as written: its value, and how far the true one may be off for its figures to be these, mm."""

    value: float
    off: float

    def __add__(self, other: Size) -> Size:
        return Size(self.value + other.value, self.off + other.off)

    def __sub__(self, other: Size) -> Size:
        return Size(self.value - other.value, self.off + other.off)


NOTHING = Size(0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Figures:
    """How figures are to be read on a sheet: in inches or in millimetres.

    An inch figure is written out to its last place. Millimetres lose their trailing zeros (ISO 129-1; ASME Y14.5
    millimetre dimensioning), so each is taken to stand for hundredths, the finest place the sheets have, or finer
    where more places are written.
    """

    inch: bool

    def size(self, text: str, finest: int = 2) -> Size:
        """Read a length without its unit; finest is the decimals that a millimetre figure stands for at least."""
        text = one_unit(text)
        if re.fullmatch(rf"[+-]?{FIGURE}", text) is None:
            raise UnreadableError(f"{text!r} is no figure")
        _check_zeros(text, self.inch)
        value = Decimal(text.replace(",", "."))
        places = -int(value.as_tuple().exponent)
        unit = INCH if self.inch else 1.0
        return Size(float(value) * unit, 0.5 * 10.0 ** -(places if self.inch else max(places, finest)) * unit)


def _check_zeros(text: str, inch: bool) -> None:
    """ASME Y14.5: no zero before the point of an inch size, one before that of a millimetre size."""
    bare = text.lstrip("+-")
    if inch and bare.startswith("0."):
        raise UnreadableError(f"{text!r} has a zero before the point on an inch sheet")
    if not inch and bare[0] in ".,":
        raise UnreadableError(f"{text!r} lacks the zero before the point on a millimetre sheet")


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """What is written about a hole.

    Attributes:
        across: diameter of the bore, or width of a slot; None while only a thread is known.
        long: overall length of a slot.
        turned: direction of a slot from X, degrees, as far as it is written.
        deep: None through.
        thread: designation.
        thread_deep: None as deep as the hole.
        bore, bore_long, bore_deep: counterbore.
        sink, sink_angle: countersink.
        limits: upper and lower deviation of a reamed bore.
        from_below: it starts at the bottom face.
    """

    across: Size | None = None
    long: Size | None = None
    turned: float | None = None
    deep: Size | None = None
    thread: str = ""
    thread_deep: Size | None = None
    bore: Size | None = None
    bore_long: Size | None = None
    bore_deep: Size | None = None
    sink: Size | None = None
    sink_angle: float | None = None
    limits: tuple[Size, Size] | None = None
    from_below: bool = False


METRIC_THREAD = re.compile(rf"M({FIGURE})(?:[x×]({FIGURE}))? - 6H")
INCH_THREAD = re.compile(r"(#?\d[\d/-]*?)-(\d+) (UNC|UNF|UNEF|UN) - 2B")
SLOT = re.compile(rf"SLOT ({FIGURE}) [X×] ({FIGURE})(?: AT ({FIGURE})°)?")
REAMED = re.compile(rf"⌀({FIGURE}) ([A-Z]\d+) \(([+-]?{FIGURE})/([+-]?{FIGURE})\)")
BORED = re.compile(rf"⌀({FIGURE})(?: \(([#\w/-]+)\))?")
COUNTERBORED = re.compile(rf"⌴ ?(?:⌀({FIGURE})|({FIGURE}) [X×] ({FIGURE}))")
COUNTERSUNK = re.compile(rf"⌵ ?⌀({FIGURE}) [X×] ({FIGURE})°")
THOUSANDTHS = 3
"""Decimals of fits in millimetres: ISO 286-2 gives their limits in whole micrometres."""
FROM_BELOW = "FROM BOTTOM FACE"


def one_unit(text: str) -> str:
    """Leave out sizes in the other unit, which stand in square brackets for information."""
    return re.sub(rf" \[-?{FIGURE}(?:-{FIGURE})?\]", "", text)


def hole_sizes(lines: list[tuple[str, str]], figures: Figures) -> Sizes:
    """Read the lines of a hole's size, each with what stands beside it as its depth."""
    found = Sizes()
    for size, depth in lines:
        found = _with_line(found, one_unit(size.replace("\u00a0", " ").strip()), one_unit(depth.strip()), figures)
    if found.across is None:
        raise UnreadableError(f"no diameter is written: {lines}")
    return found


def _with_line(found: Sizes, size: str, depth: str, figures: Figures) -> Sizes:
    if size == FROM_BELOW:
        return replace(found, from_below=True)
    if METRIC_THREAD.fullmatch(size) or INCH_THREAD.fullmatch(size):
        return replace(found, thread=size.rpartition(" - ")[0], thread_deep=_depth(depth, figures))
    if m := COUNTERBORED.fullmatch(size):
        if depth in ("", "THRU"):
            raise UnreadableError(f"counterbore {size!r} has no depth")
        across, long = figures.size(m[1] or m[2]), figures.size(m[3]) if m[3] else None
        return replace(found, bore=across, bore_long=long, bore_deep=figures.size(depth))
    if m := COUNTERSUNK.fullmatch(size):
        return replace(found, sink=figures.size(m[1]), sink_angle=float(m[2].replace(",", ".")))
    if found.across is not None:
        raise UnreadableError(f"{size!r} is a second diameter of one hole")
    deep = _depth(depth, figures)
    if m := SLOT.fullmatch(size):
        turned = float(m[3].replace(",", ".")) if m[3] else None
        return replace(found, across=figures.size(m[1]), long=figures.size(m[2]), turned=turned, deep=deep)
    if m := REAMED.fullmatch(size):
        across, upper, lower = (figures.size(m[n], THOUSANDTHS) for n in (1, 3, 4))
        return replace(found, across=across, limits=(upper, lower), deep=deep)
    if m := BORED.fullmatch(size):
        return replace(found, across=figures.size(m[1]), deep=deep)
    raise UnreadableError(f"{size!r} is no size of a hole")


def _depth(text: str, figures: Figures) -> Size | None:
    if not text:
        raise UnreadableError("a hole has neither a depth nor THRU")
    return None if text == "THRU" else figures.size(text)


CHAMFER = re.compile(rf"({FIGURE})(?: \[{FIGURE}\])? [X×] 45°(?: (ALL EDGES OF TOP AND BOTTOM))?")
DRILL_POINTS = re.compile(rf"DRILL POINTS ({FIGURE})°")


def split_callout(line: str) -> tuple[str, str]:
    """Part a leader's line into size and depth, such as "M12 - 6H ↧ 25" or "⌀9 THRU"."""
    size, sign, depth = line.partition("↧")
    if sign:
        return size.strip(), depth.strip()
    return (size.removesuffix("THRU").strip(), "THRU") if line.endswith("THRU") else (line, "")
