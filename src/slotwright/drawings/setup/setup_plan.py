"""The table seen from above with everything on it.

All marks are in the table frame (X along the slots, Y from the front edge), mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import cos, degrees, dist, hypot, radians, sin

from slotwright.drawings.paper.placing import Box, points_box
from slotwright.drawings.paper.sheet import Arc, Circle, Fill, Line, Mark, Point, Stroke, Text
from slotwright.drawings.paper.style import Style
from slotwright.drawings.setup.covering import holds, inside, uncovered
from slotwright.drawings.shapes.seen import edges_from_above
from slotwright.drawings.shapes.views_needed import is_shaped
from slotwright.drawings.views import hole_from_above
from slotwright.fixtures.layout import Layout, Place, PlacedHardware, PlacedPiece, Work
from slotwright.parts.hardware import Cylinder, Prism
from slotwright.parts.table import Table
from slotwright.pieces.faces import Face
from slotwright.pieces.outline import Outline, circle
from slotwright.pieces.script_piece import ScriptPiece

SAME_AXIS = 1e-3  # mm
STRAY = 0.05  # how far the short sides that stand for an arc leave it, mm


def plan_marks(layout: Layout, scale: float, style: Style) -> tuple[Mark, ...]:
    """Return table, slots, pieces with their holes, hardware from above, and the work's outline."""
    covers = [*map(corners, layout.pieces), *(ring for item in layout.hardware for ring in rings(item))]
    marks = [*_table(layout.table, covers, scale, style)]
    for placed in layout.pieces:
        marks += _piece(placed, layout.hardware, scale, style)
    reaches = [(item, max(map(_reach, item.item.body), default=0.0)) for item in layout.hardware]
    for item, far in reaches:
        beside = [other for other, reach in reaches if other is not item and _apart(item, other) < far + reach]
        marks += _hardware(item, beside, layout.pieces)
    if layout.work is not None:
        marks += _work(layout.work, layout)
    for outline in layout.work_outlines:
        marks += outline_marks(outline, Line.PHANTOM)
    return tuple(marks)


def corners(placed: PlacedPiece) -> tuple[Point, ...]:
    """Return the corners of a piece on the table, counter-clockwise; arcs are many short sides."""
    return tuple(placed.place.to_table(x, y) for x, y in placed.piece.blank.plan.facets(STRAY))


def outline_marks(outline: Outline, kind: Line) -> Iterable[Mark]:
    """Yield an outline as strokes, arcs or a circle."""
    if outline.diameter is not None:
        yield Circle(outline.centroid, outline.diameter / 2.0, kind)
    elif not any(outline.bulges):
        yield Stroke(outline.points, kind, closed=True)
    else:
        for side in outline.segments:
            if not side.bulge:
                yield Stroke((side.start, side.end), kind)
                continue
            start, turn = degrees(side.start_angle), degrees(side.sweep)
            low = min(start, start + turn) % 360.0
            yield Arc(side.centre, side.radius, low, low + abs(turn), kind)


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


def _piece(placed: PlacedPiece, hardware: Sequence[PlacedHardware], scale: float, style: Style) -> Iterable[Mark]:
    """Outline and the holes that no washer or head covers; of shaped pieces all edges that are seen."""
    if is_shaped(placed.piece):
        for mark in edges_from_above(placed.piece, scale):
            shown = turned(mark, placed.place)
            hidden = isinstance(shown, Circle) and _covered(shown, placed.heights[1], hardware)
            if not hidden and not _under_head(shown, placed, hardware):
                yield shown
        return
    yield Stroke(corners(placed), Line.OUTLINE, closed=True)
    bolts = [(item.place.x, item.place.y) for item in hardware]
    for hole in placed.piece.holes:
        x, y = placed.place.to_table(hole.x, hole.y)
        if not any(abs(x - u) < SAME_AXIS and abs(y - v) < SAME_AXIS for u, v in bolts):
            yield from (turned(mark, placed.place) for mark in hole_from_above(hole, style))


def _under_head(mark: Mark, placed: PlacedPiece, hardware: Sequence[PlacedHardware]) -> bool:
    """Say whether a rim lies under the bolt head, nut or washer on its own axis."""
    if not isinstance(mark, Circle | Arc):
        return False
    return any(
        body.top + item.place.z > placed.place.z
        and dist((item.place.x, item.place.y), mark.centre) < SAME_AXIS
        and _reach(body) >= mark.radius - SAME_AXIS
        for item in hardware
        for body in item.item.body
    )


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


def _hardware(item: PlacedHardware, beside: Sequence[PlacedHardware], pieces: Sequence[PlacedPiece]) -> Iterable[Mark]:
    """What of a bought item stands above the table top and under no piece, where no other bought item is over it."""
    for body in item.item.body:
        top = body.top + item.place.z
        if top <= 0.0 or any(_lies_over(placed, item, body, top) for placed in pieces):
            continue
        if isinstance(body, Cylinder):
            shown = Circle(item.place.to_table(body.x, body.y), body.diameter / 2.0, Line.OUTLINE)
            if not _covered(shown, top, beside):
                yield shown
        elif isinstance(body, Prism):
            over = [ring for other in beside for ring in rings(other, top)]
            for ring in (body.outline, *body.windows):
                yield from _open_ring([item.place.to_table(*p) for p in ring], over)


def _open_ring(ring: Sequence[Point], covers: Sequence[Sequence[Point]]) -> Iterable[Stroke]:
    """A closed ring of straight lines without what lies under polygons, in runs."""
    if not any(inside(a, b, cover) for a, b in pairwise((*ring, ring[0])) for cover in covers):
        yield Stroke(tuple(ring), Line.OUTLINE, closed=True)
        return
    run: list[Point] = []
    for a, b in pairwise((*ring, ring[0])):
        for start, end in uncovered(a, b, covers):
            if dist(start, end) < SAME_AXIS:
                continue
            if run and dist(run[-1], start) < SAME_AXIS:
                run.append(end)
                continue
            if run:
                yield Stroke(tuple(run), Line.OUTLINE)
            run = [start, end]
    if run:
        yield Stroke(tuple(run), Line.OUTLINE)


def _apart(one: PlacedHardware, other: PlacedHardware) -> float:
    """From axis to axis of two bought items."""
    return hypot(one.place.x - other.place.x, one.place.y - other.place.y)


def _covered(mark: Circle, top: float, hardware: Iterable[PlacedHardware]) -> bool:
    """Say whether something bought and round stands over a circle, and no bore through its top shows the circle."""

    def holds(item: PlacedHardware, ring: Cylinder) -> bool:
        off = dist(item.place.to_table(ring.x, ring.y), mark.centre)
        return off + mark.radius <= ring.diameter / 2.0 + SAME_AXIS

    return any(
        isinstance(over, Cylinder)
        and over.top + item.place.z > top + SAME_AXIS
        and holds(item, over)
        and not any(bore.top >= over.top and holds(item, bore) for bore in item.item.bores)
        for item in hardware
        for over in item.item.body
    )


def _lies_over(placed: PlacedPiece, item: PlacedHardware, body: Cylinder | Prism, top: float) -> bool:
    """Say whether a piece covers a body of a bought item: there is metal above it, and no hole it is seen through."""
    at = (item.place.x, item.place.y)
    if not holds(corners(placed), at) or top > surface(placed, at) - SAME_AXIS:
        return False
    reach = _reach(body)
    for hole in placed.piece.holes:
        mouth = hole.widest if hole.face is Face.TOP else hole.diameter
        if dist(placed.place.to_table(hole.x, hole.y), at) < SAME_AXIS and mouth / 2.0 >= reach - SAME_AXIS:
            open_above = hole.face is Face.TOP or (hole.face is Face.BOTTOM and hole.depth is None)
            return not open_above
    return True


def _reach(body: Cylinder | Prism) -> float:
    return body.diameter / 2.0 if isinstance(body, Cylinder) else max(hypot(x, y) for x, y in body.outline)


def surface(placed: PlacedPiece, at: Point) -> float:
    """Return the height of a piece above the table top at a place, mm, its holes left out."""
    place, thick = placed.place, placed.piece.blank.thickness
    if not is_shaped(placed.piece) or isinstance(placed.piece, ScriptPiece):
        return place.z + thick
    c, s = cos(radians(place.turn)), sin(radians(place.turn))
    x, y = at[0] - place.x, at[1] - place.y
    spans = placed.piece.metal.along(2, (x * c + y * s, y * c - x * s))
    return place.z + (spans[-1][1] if spans else thick)


def stands_over(item: PlacedHardware, at: Point, above: float = 0.0, near: float = 0.0) -> bool:
    """Say whether a bought item reaches over a place, or a round one near to it, higher than the table top or so."""
    for body in item.item.body:
        if body.top + item.place.z <= above:
            continue
        if isinstance(body, Cylinder):
            if dist(item.place.to_table(body.x, body.y), at) < body.diameter / 2.0 + near:
                return True
        elif holds([item.place.to_table(*point) for point in body.outline], at):
            return True
    return False


def is_seen(item: PlacedHardware, layout: Layout) -> bool:
    """Say whether anything of a bought item is seen from above."""
    beside = [other for other in layout.hardware if other is not item]
    return any(True for _ in _hardware(item, beside, layout.pieces))


def rings(item: PlacedHardware, above: float = 0.0) -> Iterable[tuple[Point, ...]]:
    """Yield the outlines of what of a bought item stands above a height, the table top's or another, as polygons."""
    for body in item.item.body:
        if body.top + item.place.z > above:
            yield tuple(item.place.to_table(*p) for p in _ring(body))


def _ring(body: Cylinder | Prism) -> tuple[Point, ...]:
    if isinstance(body, Prism):
        return body.outline
    return circle(body.diameter, (body.x, body.y)).facets(STRAY)


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
