"""Gauge lengths as aligned dimensions, each where nothing else stands."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise, product
from math import atan2, cos, degrees, hypot, radians, sin
from typing import TypeAlias

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.crossing import apart, level
from slotwright.drawings.paper.dimensioning import arrow, line
from slotwright.drawings.paper.placing import Register, crossing, text_box
from slotwright.drawings.paper.sheet import (
    Anchor,
    Dimension,
    DimensionKind,
    Line,
    Mark,
    Point,
    Stroke,
    Text,
    View,
    on_paper,
)
from slotwright.drawings.paper.style import Style
from slotwright.fixtures.layout import Gauge, Layout

TIGHT = 1.2  # clear paper round a text where its own height cannot be had, mm; our choice
OFF_EDGES = 1.5  # clear paper between a dimension line and an edge that runs along it, mm; our choice
ROUND_END = 2.0  # paper kept free of texts round the ends of all gauges, mm; our choice
OFFSETS = (*(4.0 + 3.0 * n for n in range(14)), *(48.0 + 5.0 * n for n in range(15)))
"""Of the dimension line from the length itself, mm on paper; our choice."""
Places: TypeAlias = tuple[tuple[bool, bool, float], ...]
"""Where texts are tried: whether beyond an end, whether the second one, and at which share of the length else."""
NEAR_PLACES: Places = ((False, True, 0.5), (False, False, 0.5), (True, True, 0.5), (True, False, 0.5))
FURTHER_PLACES: Places = ((False, True, 0.3), (False, True, 0.7), (False, True, 0.1), (False, True, 0.9))


def gauge_name(number: int) -> str:
    """Return the short name of a gauge counted from 1."""
    return f"G{number}"


def gauge_dimensions(
    view: View, layout: Layout, taken: Register, style: Style, *, whole: bool
) -> tuple[Dimension, ...] | None:
    """Return the gauge lengths as dimensions in the view.

    Each takes the nearest place that is left. What comes first hinders the others, so orders are tried: the short ones
    first, as listed, the long ones first.

    Args:
        view: shows what they are between.
        layout: has the gauges.
        taken: what stands on the paper.
        style: how they look.
        whole: None is returned where not all stand free; else those left stand as free as may be.
    """
    ends = [view.to_paper(end) for gauge in layout.gauges for end in (gauge.start, gauge.end)]
    listed = [
        _Wanted(view, gauge, number, ends, taken, style)
        for number, gauge in enumerate(layout.gauges, 1)
        if not gauge.flush
    ]
    short = sorted(listed, key=lambda one: one.gauge.length)
    for order in (short, listed, short[::-1]):
        found: list[Dimension] = []
        for one in order:
            spot = _first(one.free(style.text), found, style.text)
            if spot is None:
                break
            found.append(spot)
        else:
            return tuple(found)
    return None if whole else _crowded(short, style)


def _crowded(order: Sequence[_Wanted], style: Style) -> tuple[Dimension, ...]:
    """As free as may be, where not all can be: `slotwright proof` will tell."""
    found: list[Dimension] = []
    for one in order:
        spots = (_first(one.free(clear), found, clear) for clear in (style.text, TIGHT))
        found.append(next((spot for spot in spots if spot is not None), next(one.tries(NEAR_PLACES))))
    return tuple(found)


class _Wanted:
    """A gauge, and the places where its dimension stands free of the plan, found as they are asked for."""

    def __init__(
        self, view: View, gauge: Gauge, number: int, ends: Sequence[Point], taken: Register, style: Style
    ) -> None:
        self.gauge = gauge
        self._view, self._name, self._ends, self._taken, self._style = view, gauge_name(number), ends, taken, style
        self._beside = _edges_along(view, gauge)
        self._known: dict[float, list[Dimension]] = {}
        self._rest: dict[float, Iterator[Dimension]] = {}

    def free(self, clear: float) -> Iterator[Dimension]:
        """Yield places, the nearest first, where the text is so far clear of the plan."""
        known = self._known.setdefault(clear, [])
        every = (one for where in (NEAR_PLACES, FURTHER_PLACES) for one in self.tries(where))
        rest = self._rest.setdefault(clear, (one for one in every if self._clear(one, clear)))
        at = 0
        while True:
            if at == len(known):
                further = next(rest, None)
                if further is None:
                    return
                known.append(further)
            yield known[at]
            at += 1

    def _clear(self, one: Dimension, clear: float) -> bool:
        for mark in one.marks:
            if isinstance(mark, Text):
                box = text_box(mark).grown(clear)
                near = box.grown(ROUND_END)
                if not self._taken.free(box) or any(near.cut_by(end, (end[0] + 0.01, end[1])) for end in self._ends):
                    return False
        return not self._on_edge(one) and all(self._taken.passable(a, b, over_circles=True) for a, b in _pieces(one))

    def _on_edge(self, one: Dimension) -> bool:
        """Say whether the dimension line would be taken for an edge of the view."""
        along, _ = _parts(one)
        return any(apart(part, edge) < OFF_EDGES for part in along for edge in self._beside)

    def tries(self, where: Places) -> Iterator[Dimension]:
        """Yield places from near to far: first as the style writes, then with level text, which needs less length."""
        style = self._style
        for look in (style, replace(style, text_above=False)) if style.text_above else (style,):
            for off, way, (beyond, up, share) in product(OFFSETS, (1.0, -1.0), where):
                yield aligned(
                    self._view, self.gauge.start, self.gauge.end, way * off, look,
                    text=f"{self._name} <>", overflow_up=up, beyond=beyond, share=share,
                )  # fmt: skip


def _edges_along(view: View, gauge: Gauge) -> list[tuple[Point, Point]]:
    """Return the straight edges of a view, on paper, that run the way a gauge does."""
    way = view.to_paper(gauge.start), view.to_paper(gauge.end)
    edges = (mark for mark in on_paper(view) if isinstance(mark, Stroke) and mark.line is Line.OUTLINE)
    sides = (side for edge in edges for side in pairwise(edge.path))
    return [side for side in sides if side[0] != side[1] and level(side, way)]


def _first(places: Iterable[Dimension], others: Sequence[Dimension], clear: float) -> Dimension | None:
    """The first place where the text is clear of other lengths, and no line runs through their texts or lines."""
    there = Register()
    for other in others:
        there.add(other.marks)
        there.keep_clear(other.marks, clear)
    for one in places:
        boxes = (text_box(mark).grown(clear) for mark in one.marks if isinstance(mark, Text))
        passes = all(map(there.free, boxes)) and all(there.passable(*piece) for piece in _pieces(one))
        if passes and not _crossed(one, others):
            return one
    return None


def _pieces(one: Dimension) -> Iterator[tuple[Point, Point]]:
    return (piece for mark in one.marks if isinstance(mark, Stroke) for piece in pairwise(mark.points))


def _crossed(one: Dimension, others: Iterable[Dimension]) -> bool:
    """Say whether a dimension line crosses any line of another dimension; extension lines may cross each other."""
    along, across = _parts(one)
    for other in others:
        theirs, extensions = _parts(other)
        if any(crossing(*a, *b) for a in along for b in (*theirs, *extensions)):
            return True
        if any(crossing(*a, *b) for a in across for b in theirs):
            return True
    return False


def _parts(one: Dimension) -> tuple[list[tuple[Point, Point]], list[tuple[Point, Point]]]:
    """The pieces of a dimension's line, and its extension lines."""
    c, s = cos(radians(one.direction)), sin(radians(one.direction))
    pieces = list(_pieces(one))
    along = [(a, b) for a, b in pieces if abs((b[0] - a[0]) * s - (b[1] - a[1]) * c) < 1e-6]
    return along, [part for part in pieces if part not in along]


def aligned(
    view: View,
    a: Point,
    b: Point,
    off: float,
    style: Style,
    *,
    text: str = "<>",
    overflow_up: bool = True,
    beyond: bool = False,
    share: float = 0.5,
) -> Dimension:
    """Return the true distance of two points, measured along the line between them.

    Args:
        view: the view it belongs to.
        a, b: model points.
        off: how far the dimension line stands off, to the left of the way from a to b where positive, paper mm.
        style: how it looks.
        text: what is written, "<>" standing for the value.
        overflow_up: a text too long to stand between goes beyond b, else beyond a.
        beyond: the text stands beyond an end though it may have room between.
        share: where a text that stands between has its middle, of the way from a to b; as near as it has room.
    """
    value = hypot(b[0] - a[0], b[1] - a[1])
    turn = atan2(b[1] - a[1], b[0] - a[0])
    c, s = cos(turn), sin(turn)
    written = text.replace("<>", style.figure(value))
    pa, pb = view.to_paper(a), view.to_paper(b)
    long, wide = hypot(pb[0] - pa[0], pb[1] - pa[1]), lettering.width(written, style.text)
    reading = (degrees(turn) + 90.0 - 1e-9) % 180.0 - 90.0 + 1e-9 if style.text_above else 0.0
    # How much room the text takes along the line, and how far its middle stands off it.
    tilt = radians(reading) - turn
    need = abs(wide * cos(tilt)) + abs(style.text * sin(tilt))
    inside = long >= need + 2.0 * (style.arrow + style.text_gap)
    inside = inside and not beyond
    between = inside or (long >= need + 2.0 * style.text_gap and not beyond)

    def at(along: float, across: float) -> Point:
        return pa[0] + along * c - across * s, pa[1] + along * s + across * c

    tail = 2.0 * style.arrow
    out = tail + style.text_gap + need / 2.0
    least = min(long, need + 2.0 * (style.arrow if inside else 0.0) + 2.0 * style.text_gap) / 2.0
    middle = min(max(share * long, least), long - least) if between else long + out if overflow_up else -out
    away = 1.0 if off > 0.0 else -1.0
    marks: list[Mark] = []
    for along in (0.0, long):
        start, end = at(along, away * style.extension_gap), at(along, off + away * style.extension_overrun)
        marks.append(line(start, end))
    low, high = (0.0, long) if inside else (min(-tail, middle - need / 2.0), max(long + tail, middle + need / 2.0))
    spans = [(low, high)]
    if not style.text_above:
        half = need / 2.0 + style.text_gap
        spans = [(u, v) for u, v in ((low, middle - half), (middle + half, high)) if v - u > 1e-6]
    marks += [line(at(u, off), at(v, off)) for u, v in spans]
    marks.append(arrow(at(0.0, off), turn + (0.0 if not inside else radians(180.0)), style))
    marks.append(arrow(at(long, off), turn + (radians(180.0) if not inside else 0.0), style))
    above = style.text_gap + style.text / 2.0 if style.text_above else 0.0
    side = 1.0 if abs(reading - degrees(turn)) % 360.0 < 90.0 or abs(reading - degrees(turn)) % 360.0 > 270.0 else -1.0
    spot = at(middle, off + side * above)
    marks.append(Text(spot, written, style.text, Anchor.CENTRE, reading, True, Line.DIMENSION))
    return Dimension(
        kind=DimensionKind.LINEAR,
        points=(a, b, view.to_model(at(long, off))),
        direction=degrees(turn),
        value=value,
        text=text,
        text_at=view.to_model(spot),
        text_angle=reading,
        places=style.places,
        marks=tuple(marks),
    )
