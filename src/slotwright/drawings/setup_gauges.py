"""The lengths a machinist sets the pieces by, drawn between their two ends on an enlarged part of the table plan.

Each has a letter and its number; the notes say what it is between.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise, product
from math import atan2, cos, degrees, hypot, radians, sin
from typing import TypeAlias

from slotwright.drawings import lettering
from slotwright.drawings.dimensioning import arrow, line
from slotwright.drawings.formats import scale_text
from slotwright.drawings.placing import Box, Register, mark_box, points_box, text_box, union
from slotwright.drawings.setup_plan import piece_box, plan_marks, rings
from slotwright.drawings.sheet import Anchor, Dimension, DimensionKind, Line, Mark, Point, Stroke, Text, View, on_paper
from slotwright.drawings.style import Style
from slotwright.drawings.view_group import ViewGroup
from slotwright.fixtures.layout import Gauge, Layout

AROUND = 8.0  # paper shown round what the detail is about, mm; our choice
NEAR = 20.0  # what lies this near to a gauge is shown whole, mm; our choice
TIGHT = 1.2  # clear paper round a text where its own height cannot be had, mm; our choice
ROUND_END = 2.0  # paper kept free of texts round the ends of all gauges, mm; our choice
Places: TypeAlias = tuple[tuple[bool, bool, float], ...]
"""Where texts are tried: whether beyond an end, whether the second one, and at which share of the length else."""
NEAR_PLACES: Places = ((False, True, 0.5), (False, False, 0.5), (True, True, 0.5), (True, False, 0.5))
PLACES: Places = (*NEAR_PLACES, (False, True, 0.3), (False, True, 0.7), (False, True, 0.1), (False, True, 0.9))
OFFSETS = tuple(4.0 + 3.0 * n for n in range(40))  # of the dimension line from the length itself, mm on paper


def gauge_name(number: int) -> str:
    """Return the short name of a gauge counted from 1."""
    return f"G{number}"


def gauge_notes(layout: Layout) -> list[str]:
    """Say what each gauge length is between."""
    return [f"SET BY {gauge_name(n)}: {gauge.name}." for n, gauge in enumerate(layout.gauges, 1)]


def gauge_group(layout: Layout, scale: float, style: Style) -> ViewGroup:
    """Return an enlarged part of the table plan with the gauge lengths, titled, its slots numbered."""
    view = View(name="detail for setting", origin=(0.0, 0.0), scale=scale, marks=plan_marks(layout, scale, style))
    region = _region(layout)
    shown = Box(*view.to_paper((region.x0, region.y0)), *view.to_paper((region.x1, region.y1))).grown(AROUND)
    taken = Register()
    taken.add(on_paper(view))
    marks: list[Mark] = []
    for number, y in enumerate(layout.table.slot_centres, start=1):
        if shown.y0 < y * scale < shown.y1:
            marks.append(Text((shown.x1 + style.text_gap, y * scale), f"SLOT {number}", style.text, middle=True))
    found, free = _gauge_dimensions(view, layout, taken, style)
    seen = union([shown, *(mark_box(mark) for one in found for mark in one.marks)]).grown(1.0)
    right = seen.x1 - shown.x1
    marks = [replace(mark, at=(mark.at[0] + right, mark.at[1])) for mark in marks if isinstance(mark, Text)]
    title = f"DETAIL FOR SETTING, {scale_text(scale)}"
    middle = ((seen.x0 + seen.x1) / 2.0, seen.y0 - 2.2 * style.text)
    marks.append(Text(middle, title, style.text, Anchor.CENTRE))
    view = replace(view, dimensions=tuple(found), frame=(seen.x0, seen.y0, seen.x1, seen.y1))
    return ViewGroup(views=(view,), marks=tuple(marks), box=union([seen, *map(mark_box, marks)]), complete=free)


def _region(layout: Layout) -> Box:
    """The part of the table that the detail shows: the gauges, the work, and what lies there."""
    ends = points_box([end for gauge in layout.gauges for end in (gauge.start, gauge.end)])
    boxes = [ends, *(Box(*outline.bounds) for outline in layout.work_outlines), *map(piece_box, layout.pieces)]
    boxes += [points_box(ring) for item in layout.hardware for ring in rings(item)]
    return union([ends, *(box for box in boxes if box.meets(ends.grown(NEAR)))])


def _gauge_dimensions(view: View, layout: Layout, taken: Register, style: Style) -> tuple[list[Dimension], bool]:
    """The gauge lengths as aligned dimensions, and whether they stand free of all else.

    Each takes the nearest place that is left. What comes first hinders the others, so orders are tried: the short ones
    first, as listed, the long ones first.
    """
    listed = [(number, gauge) for number, gauge in enumerate(layout.gauges, 1) if gauge.length >= 1e-6]
    short = sorted(listed, key=lambda one: one[1].length)
    for where in (NEAR_PLACES, PLACES):
        for order in (short, listed, short[::-1]):
            found = _in_order(view, layout, order, where, taken.copy(), style)
            if found is not None:
                return found, True
    return _crowded(view, layout, short, taken, style), False


def _in_order(
    view: View, layout: Layout, gauges: Sequence[tuple[int, Gauge]], where: Places, taken: Register, style: Style
) -> list[Dimension] | None:
    """The lengths one after the other, or None as soon as one finds no place."""
    found: list[Dimension] = []
    ends = [view.to_paper(end) for gauge in layout.gauges for end in (gauge.start, gauge.end)]
    for number, gauge in gauges:
        one = _free(_tries(view, gauge, gauge_name(number), where, style), ends, found, taken, style.text)
        if one is None:
            return None
        found.append(one)
        _take(one, taken, style)
    return found


def _crowded(
    view: View, layout: Layout, gauges: Sequence[tuple[int, Gauge]], taken: Register, style: Style
) -> list[Dimension]:
    """The lengths as free as may be, where not all can be: `slotwright proof` will tell."""
    found: list[Dimension] = []
    ends = [view.to_paper(end) for gauge in layout.gauges for end in (gauge.start, gauge.end)]
    for number, gauge in gauges:
        tries = [*_tries(view, gauge, gauge_name(number), PLACES, style)]
        free = (_free(tries, ends, found, taken, clear) for clear in (style.text, TIGHT))
        one = next((one for one in free if one is not None), tries[0])
        found.append(one)
        _take(one, taken, style)
    return found


def _take(one: Dimension, taken: Register, style: Style) -> None:
    taken.add(one.marks)
    for mark in one.marks:
        if isinstance(mark, Text):
            taken.add_box(text_box(mark).grown(style.text))


def _free(
    tries: Iterable[Dimension], ends: Sequence[Point], others: Sequence[Dimension], taken: Register, clear: float
) -> Dimension | None:
    """The nearest place where the text is so far clear of everything and no line crosses a text or another gauge."""
    for one in tries:
        boxes = [text_box(mark).grown(clear) for mark in one.marks if isinstance(mark, Text)]
        if not all(taken.free(box) for box in boxes):
            continue
        if any(box.grown(ROUND_END).cut_by(end, (end[0] + 0.01, end[1])) for box in boxes for end in ends):
            continue
        parts = [part for mark in one.marks if isinstance(mark, Stroke) for part in pairwise(mark.points)]
        if all(_passes(a, b, taken) for a, b in parts) and not _crossed(one, others):
            return one
    return None


def _passes(a: Point, b: Point, taken: Register) -> bool:
    """Say whether a line runs through no lettering; edges and circles it may cross."""
    steps = max(1, int(hypot(b[0] - a[0], b[1] - a[1]) / 1.5))
    points = [(a[0] + (b[0] - a[0]) * n / steps, a[1] + (b[1] - a[1]) * n / steps) for n in range(steps + 1)]
    return all(taken.free_of_boxes(Box(x - 0.4, y - 0.4, x + 0.4, y + 0.4)) for x, y in points)


def _crossed(one: Dimension, others: Iterable[Dimension]) -> bool:
    """Say whether a dimension line crosses any line of another dimension; extension lines may cross each other."""
    along, across = _parts(one)
    for other in others:
        theirs, extensions = _parts(other)
        if any(_meet(*a, *b) for a in along for b in (*theirs, *extensions)):
            return True
        if any(_meet(*a, *b) for a in across for b in theirs):
            return True
    return False


def _parts(one: Dimension) -> tuple[list[tuple[Point, Point]], list[tuple[Point, Point]]]:
    """The pieces of a dimension's line, and its extension lines."""
    c, s = cos(radians(one.direction)), sin(radians(one.direction))
    pieces = [part for mark in one.marks if isinstance(mark, Stroke) for part in pairwise(mark.points)]
    along = [(a, b) for a, b in pieces if abs((b[0] - a[0]) * s - (b[1] - a[1]) * c) < 1e-6]
    return along, [part for part in pieces if part not in along]


def _meet(a: Point, b: Point, c: Point, d: Point) -> bool:
    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < -1e-9 and side(c, d, a) * side(c, d, b) < -1e-9


def _tries(view: View, gauge: Gauge, name: str, where: Places, style: Style) -> Iterator[Dimension]:
    """Yield places from near to far: first as the style writes, then with level text, which needs less length."""
    looks = (style, replace(style, text_above=False)) if style.text_above else (style,)
    for look in looks:
        for off in OFFSETS:
            for way, (beyond, up, share) in product((1.0, -1.0), where):
                yield aligned(
                    view, gauge.start, gauge.end, way * off, look,
                    text=f"{name} <>", overflow_up=up, beyond=beyond, share=share,
                )  # fmt: skip


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
