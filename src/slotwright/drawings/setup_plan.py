"""The table seen from above with everything on it.

All marks are in the table frame (X along the slots, Y from the front edge), mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from slotwright.drawings.placing import Box, points_box
from slotwright.drawings.sheet import Arc, Circle, Fill, Line, Mark, Point, Stroke, Text
from slotwright.drawings.style import Style
from slotwright.drawings.views import hole_from_above
from slotwright.fixtures.layout import Layout, Place, PlacedHardware, PlacedPiece, Work
from slotwright.parts.hardware import Cylinder, Prism
from slotwright.parts.table import Table

SAME_AXIS = 1e-3  # mm


def plan_marks(layout: Layout, scale: float, style: Style) -> tuple[Mark, ...]:
    """Return table, slots, pieces with their holes, hardware from above, and the work's outline."""
    covers = [corners(placed) for placed in layout.pieces]
    marks = [*_table(layout.table, covers, scale, style)]
    for placed in layout.pieces:
        marks += _piece(placed, layout.hardware, style)
    for item in layout.hardware:
        marks += _hardware(item)
    if layout.work is not None:
        marks += _work(layout.work, layout)
    return tuple(marks)


def corners(placed: PlacedPiece) -> tuple[Point, ...]:
    """Return the corners of a piece on the table, counter-clockwise from its datum corner."""
    blank = placed.piece.blank
    ends = ((0.0, 0.0), (blank.length, 0.0), (blank.length, blank.width), (0.0, blank.width))
    return tuple(placed.place.to_table(x, y) for x, y in ends)


def piece_box(placed: PlacedPiece) -> Box:
    """Return the box around a piece on the table, table coordinates."""
    return points_box(corners(placed))


def _table(table: Table, covers: Sequence[Sequence[Point]], scale: float, style: Style) -> Iterable[Mark]:
    """Edges and slots, broken where a piece lies over them."""
    long, wide = table.length, table.width
    edges = [
        ((0.0, 0.0), (long, 0.0)),
        ((long, 0.0), (long, wide)),
        ((long, wide), (0.0, wide)),
        ((0.0, wide), (0.0, 0.0)),
    ]
    for centre in table.slot_centres:
        edges += [((0.0, y), (long, y)) for y in (centre - table.slot.width / 2.0, centre + table.slot.width / 2.0)]
    for a, b in edges:
        yield from (Stroke(span, Line.OUTLINE) for span in uncovered(a, b, covers))
    over = style.centre_overrun / scale
    for y in table.slot_centres:
        yield from (Stroke(span, Line.CENTRE) for span in uncovered((-over, y), (long + over, y), covers))


def uncovered(a: Point, b: Point, covers: Iterable[Sequence[Point]]) -> list[tuple[Point, Point]]:
    """Return the parts of a straight line that lie outside all of some convex, counter-clockwise polygons."""
    hidden = sorted(span for polygon in covers if (span := _inside(a, b, polygon)) is not None)
    spans: list[tuple[float, float]] = []
    at = 0.0
    for low, high in hidden:
        if low > at:
            spans.append((at, low))
        at = max(at, high)
    if at < 1.0:
        spans.append((at, 1.0))
    return [(_along(a, b, low), _along(a, b, high)) for low, high in spans]


def _inside(a: Point, b: Point, polygon: Sequence[Point]) -> tuple[float, float] | None:
    """Return from where to where (0 to 1) a line runs inside a convex polygon (clipping side by side)."""
    low, high = 0.0, 1.0
    for n, (px, py) in enumerate(polygon):
        qx, qy = polygon[(n + 1) % len(polygon)]
        start = (qx - px) * (a[1] - py) - (qy - py) * (a[0] - px)
        step = (qx - px) * (b[1] - a[1]) - (qy - py) * (b[0] - a[0])
        if abs(step) < 1e-9:
            if start <= 1e-9:
                return None
        elif step > 0.0:
            low = max(low, -start / step)
        else:
            high = min(high, -start / step)
    return (low, high) if high - low > 1e-9 else None


def _along(a: Point, b: Point, share: float) -> Point:
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


def _piece(placed: PlacedPiece, hardware: Sequence[PlacedHardware], style: Style) -> Iterable[Mark]:
    """Outline and the holes that no washer or head covers."""
    yield Stroke(corners(placed), Line.OUTLINE, closed=True)
    bolts = [(item.place.x, item.place.y) for item in hardware]
    for hole in placed.piece.holes:
        x, y = placed.place.to_table(hole.x, hole.y)
        if not any(abs(x - u) < SAME_AXIS and abs(y - v) < SAME_AXIS for u, v in bolts):
            yield from (turned(mark, placed.place) for mark in hole_from_above(hole, style))


def turned(mark: Mark, place: Place) -> Mark:
    """Return a mark of an item's own plan in the table frame."""
    match mark:
        case Stroke(points, line, closed):
            return Stroke(tuple(place.to_table(*p) for p in points), line, closed)
        case Circle(centre, radius, line):
            return Circle(place.to_table(*centre), radius, line)
        case Arc(centre, radius, start, end, line):
            return Arc(place.to_table(*centre), radius, start + place.turn, end + place.turn, line)
        case Fill(points, line):
            return Fill(tuple(place.to_table(*p) for p in points), line)
        case Text():
            return Text(
                place.to_table(*mark.at),
                mark.text,
                mark.height,
                mark.anchor,
                mark.angle + place.turn,
                mark.middle,
                mark.line,
            )


def _hardware(item: PlacedHardware) -> Iterable[Mark]:
    """What of a bought item stands above the table top."""
    for body in item.item.body:
        if body.top + item.place.z <= 0.0:
            continue
        if isinstance(body, Cylinder):
            yield Circle(item.place.to_table(0.0, 0.0), body.diameter / 2.0, Line.OUTLINE)
        elif isinstance(body, Prism):
            yield Stroke(tuple(item.place.to_table(*p) for p in body.outline), Line.OUTLINE, closed=True)


def work_box(work: Work, layout: Layout) -> Box | None:
    """Return the work's envelope on the table, table coordinates, or None when it has no size."""
    if work.size is None:
        return None
    at = work.at
    if at is None:
        around = points_box([p for placed in layout.pieces for p in corners(placed)] or [(0.0, 0.0)])
        at = ((around.x0 + around.x1) / 2.0, (around.y0 + around.y1) / 2.0)
    half_x, half_y = work.size[0] / 2.0, work.size[1] / 2.0
    return Box(at[0] - half_x, at[1] - half_y, at[0] + half_x, at[1] + half_y)


def _work(work: Work, layout: Layout) -> Iterable[Mark]:
    box = work_box(work, layout)
    if box is not None:
        ring = ((box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1))
        yield Stroke(ring, Line.PHANTOM, closed=True)
