"""The border of a sheet: frame, zones and centring marks (ISO 5457, ASME Y14.1)."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from slotwright.drawings.paper.formats import Format
from slotwright.drawings.paper.placing import Box
from slotwright.drawings.paper.sheet import Anchor, Line, Mark, Stroke, Text

ZONE_LETTERS = "ABCDEFGHJKLMNPRSTUVWXYZ"  # without I, O and Q
BAND = 5.0  # width of the zone band outside the frame, mm (ISO 5457)
CENTRING = 5.0  # how far a centring mark reaches inside the frame, mm; our choice, ISO 5457 has 10 in all


@dataclass(frozen=True, slots=True)
class _Zones:
    """How many fields a side is divided into, and which way they are counted."""

    across: int
    up: int
    letters_from_top: bool
    numbers_from_left: bool


def drawing_space(paper: Format) -> Box:
    """Return the rectangle inside the frame."""
    return Box(paper.margin_left, paper.margin_low, paper.width - paper.margin_right, paper.height - paper.margin_low)


def frame(paper: Format, block: Box) -> tuple[Mark, ...]:
    """Return frame, zone band and centring marks of a sheet; the lower mark stops at the frame under a title block."""
    inner = drawing_space(paper)
    marks: list[Mark] = [_rectangle(inner, Line.FRAME)]
    band = min(BAND, paper.margin_low - 1.0, paper.margin_right - 1.0)
    marks += _centring(inner, band, block)
    zones = _zones(paper)
    if zones is not None and band >= 3.5:
        outer = inner.grown(band)
        marks.append(_rectangle(outer, Line.RULE))
        marks += _numbers(inner, outer, zones)
        marks += _letters(inner, outer, zones)
    return tuple(marks)


def _zones(paper: Format) -> _Zones | None:
    """ISO 5457: fields of 50 mm counted from the centre. ASME Y14.1: even numbers of about 4.25 in, none on size A."""
    if paper.standard == "iso":
        return _Zones(_even(paper.width / 50.0), _even(paper.height / 50.0), True, True)
    if paper.name == "A":
        return None
    return _Zones(_even(paper.width / 108.0), _even(paper.height / 108.0), False, False)


def _even(count: float) -> int:
    return max(2, 2 * round(count / 2.0))


def _centring(inner: Box, band: float, block: Box) -> Iterable[Mark]:
    x, y = (inner.x0 + inner.x1) / 2.0, (inner.y0 + inner.y1) / 2.0
    foot = inner.y0 if block.x0 < x < block.x1 else inner.y0 + CENTRING
    for a, b in (
        ((x, inner.y0 - band), (x, foot)),
        ((x, inner.y1 + band), (x, inner.y1 - CENTRING)),
        ((inner.x0 - band, y), (inner.x0 + CENTRING, y)),
        ((inner.x1 + band, y), (inner.x1 - CENTRING, y)),
    ):
        yield Stroke((a, b), Line.FRAME)


def _numbers(inner: Box, outer: Box, zones: _Zones) -> Iterable[Mark]:
    step = inner.width / zones.across
    for n in range(zones.across):
        label = str(n + 1 if zones.numbers_from_left else zones.across - n)
        x = inner.x0 + n * step
        for low, high in ((outer.y0, inner.y0), (inner.y1, outer.y1)):
            yield _zone_text(label, x + step / 2.0, (low + high) / 2.0)
            if n and 2 * n != zones.across:
                yield Stroke(((x, low), (x, high)), Line.RULE)


def _letters(inner: Box, outer: Box, zones: _Zones) -> Iterable[Mark]:
    step = inner.height / zones.up
    for n in range(zones.up):
        label = ZONE_LETTERS[zones.up - 1 - n if zones.letters_from_top else n]
        y = inner.y0 + n * step
        for left, right in ((outer.x0, inner.x0), (inner.x1, outer.x1)):
            yield _zone_text(label, (left + right) / 2.0, y + step / 2.0)
            if n and 2 * n != zones.up:
                yield Stroke(((left, y), (right, y)), Line.RULE)


def _zone_text(label: str, x: float, y: float) -> Text:
    return Text((x, y), label, 2.5, Anchor.CENTRE, 0.0, True, Line.RULE)


def _rectangle(box: Box, line: Line) -> Stroke:
    return Stroke(((box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1)), line, closed=True)
