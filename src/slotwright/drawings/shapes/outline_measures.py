"""Sizes of outlines, each where it is seen true: distances beside the view, notes on leaders."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from math import degrees

from slotwright.drawings.callouts import deviations, times
from slotwright.drawings.converted import limits_bracket
from slotwright.drawings.paper.dimensioning import Side
from slotwright.drawings.paper.style import Style
from slotwright.drawings.shapes.distances import Wish
from slotwright.drawings.shapes.leaders import note_radius, point_out
from slotwright.drawings.shapes.panel import Panel
from slotwright.drawings.shapes.patterns import SAME
from slotwright.drawings.shapes.reading_outlines import Form, Reading, distinct, read, symmetric_about
from slotwright.drawings.shapes.seen import flips, shown
from slotwright.drawings.shapes.stairs import stairs_among
from slotwright.pieces.features import Limits
from slotwright.pieces.outline import Outline
from slotwright.pieces.segment import Point, Segment

STRAY = 0.01  # how far the short sides that stand for an arc leave it, mm
PLACES = 2  # decimals of outer sizes, as for bars
Span = tuple[float, float]


def limited(limits: Limits | None, size: float, style: Style, before: str = "") -> tuple[str, int | None]:
    """Return how a size (mm) with limits is written, "<>" standing for it alone, and its decimals."""
    if limits is None:
        return f"{before}<>", None
    places = 4 if style.unit == "in" else 3
    upper, lower = deviations(limits, places, style)
    said = f"({upper}/{lower})"
    if abs(limits.upper + limits.lower) < 1e-9:
        said = f"±{style.number(limits.upper, places)}"
    other = limits_bracket(size, limits, places, style)
    return f"{before}<> {limits.tolerance} {said}{other}".replace("  ", " "), places


def measure_outline(panel: Panel, outline: Outline, about: tuple[bool, bool] = (True, False)) -> list[Wish]:
    """Return the distances that give an outline its size; rounded and broken corners are noted on leaders.

    Args:
        panel: the view it is seen in.
        outline: as the view shows it.
        about: whether a polygon that is alike about its middle, along the view's u and v, has widths about it; there
            a centre line must stand.
    """
    reading = read(outline)
    x0, y0, x1, y1 = outline.bounds
    if reading.form is Form.CIRCLE:
        middle = (y0 + y1) / 2.0
        return [Wish(False, x0, x1, (middle, middle), (middle, middle), Side.TOP, "⌀<>", PLACES)]
    corner_notes(panel, reading, outline)
    if reading.form is Form.OBROUND or reading.form is Form.RECTANGLE:
        return [*length_and_width(outline, reading, ("<>", PLACES), ("<>", PLACES))]
    if reading.form is Form.FREE:
        rim = outline.facets(STRAY)
        left, right = (_span(rim, 0, x, 2.0 * STRAY) for x in (x0, x1))
        front, back = (_span(rim, 1, y, 2.0 * STRAY) for y in (y0, y1))
        return [Wish(False, x0, x1, left, right, Side.TOP, "(<>)", PLACES),
                Wish(True, y0, y1, front, back, Side.RIGHT, "(<>)", PLACES)]  # fmt: skip
    wishes = [wish for axis in (0, 1) for wish in _across(reading, outline, axis, panel.style, about[axis])]
    if reading.vee is not None:
        vee = reading.vee
        (rx, ry), (lx, _) = vee.right, vee.left
        wishes.append(Wish(False, lx, rx, (ry, ry), (ry, ry), Side.TOP))
        middle = vee.vertex[0]
        if abs(middle - (x0 + x1) / 2.0) > SAME:
            wishes.append(Wish(False, x0, middle, (y0, y1), (ry, ry), Side.TOP))
        if vee.relief:
            walls, floor = vee.relief, min(y for _, y in vee.relief)
            low, high = min(x for x, _ in walls), max(x for x, _ in walls)
            if high - low > SAME:
                wishes.append(Wish(False, low, high, (floor, floor), (floor, floor), Side.BOTTOM))
            wishes.append(Wish(True, floor, ry, (low, high), (lx, rx), Side.LEFT))
    return wishes


def with_limits(
    wishes: Iterable[Wish], sizes: Iterable[tuple[float, Limits]], style: Style, *, upright: bool
) -> Iterator[Wish]:
    """Give the distances one way across a blank the limits that sizes (mm) have."""
    for wish in wishes:
        own = (both for both in sizes if wish.upright == upright and abs(wish.high - wish.low - both[0]) < SAME)
        size, limits = next(own, (0.0, None))
        if limits is None:
            yield wish
            continue
        text, places = limited(limits, size, style)
        yield replace(wish, text=text, places=places)


def for_reference(wishes: Iterable[Wish], outline: Outline, cut_out: tuple[bool, bool]) -> Iterator[Wish]:
    """Put overall sizes in brackets, along X and along Y, that only say how much of a part is shown."""
    for wish in wishes:
        own = 1 if wish.upright else 0
        whole = abs(wish.high - wish.low - outline.size[own]) < SAME
        yield replace(wish, text=f"({wish.text})") if cut_out[own] and whole else wish


def length_and_width(
    outline: Outline, reading: Reading, along: tuple[str, int | None], across: tuple[str, int | None]
) -> Iterator[Wish]:
    """Yield length and width of a rectangle or a slot with round ends, each as it is written and with its decimals."""
    x0, y0, x1, y1 = outline.bounds
    x_ends, y_ends = (y0, y1), (x0, x1)
    if reading.form is Form.OBROUND:
        r = min(x1 - x0, y1 - y0) / 2.0
        if reading.angle < 1.0:
            x_ends, y_ends = ((y0 + y1) / 2.0,) * 2, (x0 + r, x1 - r)
        else:
            x_ends, y_ends = (y0 + r, y1 - r), ((x0 + x1) / 2.0,) * 2
    yield Wish(False, x0, x1, x_ends, x_ends, Side.TOP, *along)
    yield Wish(True, y0, y1, y_ends, y_ends, Side.RIGHT, *across)


def _across(reading: Reading, outline: Outline, axis: int, style: Style, about: bool) -> Iterator[Wish]:
    """Distances between the corners of a polygon along X (axis 0) or Y: widths about a middle line, else from 0."""
    low, high = outline.bounds[axis], outline.bounds[axis + 2]
    corners = (*reading.corners, *(p for p in outline.points if min(abs(p[axis] - low), abs(p[axis] - high)) < SAME))
    values = distinct(point[axis] for point in corners)
    spans = {value: _span(corners, axis, value) for value in values}
    upright, side = axis == 1, (Side.BOTTOM if axis == 0 else Side.RIGHT)
    if about and symmetric_about(outline, axis, (low + high) / 2.0):
        for a, b in zip(values, reversed(values), strict=True):
            if b - a > SAME:
                yield Wish(upright, a, b, spans[a], spans[b], side, "<>", PLACES if a == values[0] else None)
        return
    stairs = stairs_among(values, style)
    if stairs is not None:
        low, high = stairs.low, stairs.high
        yield Wish(upright, low, high, spans[low], spans[high], side, stairs.text)
        whole = [] if low == values[0] and high == values[-1] else values[-1:]
        values = [value for value in values[:-1] if not stairs.inside(value)] + whole
    for value in values[1:]:
        places = PLACES if abs(value - outline.bounds[axis + 2]) < SAME else None
        text = "(<>)" if stairs is not None and value == stairs.high else "<>"  # then it follows from the steps
        yield Wish(upright, values[0], value, spans[values[0]], spans[value], side, text, places)


def _span(corners: Sequence[Point], axis: int, value: float, near: float = 2e-5) -> Span:
    across = [point[1 - axis] for point in corners if abs(point[axis] - value) < near]
    return min(across), max(across)


def corner_notes(panel: Panel, reading: Reading, outline: Outline) -> None:
    """Note radii and chamfers, each size once with how often it comes; the full radii of an obround in brackets."""
    sign = times(panel.style)
    if reading.form is Form.OBROUND:
        arcs = [side for side in outline.segments if side.bulge]
        note_radius(panel, [_arc(panel, side) for side in arcs], f"2{sign} (R<>)")
    for _, sides in reading.fillets:
        count = f"{len(sides)}{sign} " if len(sides) > 1 else ""
        note_radius(panel, [_arc(panel, side) for side in sides], f"{count}R<>")
    for leg, sides in reading.chamfers:
        count = f"{len(sides)}{sign} " if len(sides) > 1 else ""
        size = f"{count}{panel.style.figure(leg)} {sign} 45°"
        point_out(panel, [shown(panel.face, side.at(0.5)) for side in sides], (size,))


def _arc(panel: Panel, side: Segment) -> tuple[Point, float, float, float]:
    """An arc as the view shows it: centre, radius, and from where to where, degrees counter-clockwise."""
    su, sv = flips(panel.face)
    start = degrees(side.start_angle)
    low, high = sorted((start, start + degrees(side.sweep)))
    if su < 0.0:
        low, high = 180.0 - high, 180.0 - low
    if sv < 0.0:
        low, high = -high, -low
    return shown(panel.face, side.centre), side.radius, low, high
