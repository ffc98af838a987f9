"""A section through one T-slot at a bolt: table, T-nut, stud, piece, washer and nut as they go together.

View frame: u from the bolt's axis toward the column (the section is seen from the table's right end), z up from the
table top, mm. Bolts, washers and nuts are not cut, as is the custom (ISO 128-3, ASME Y14.3).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from slotwright.drawings.linings import LINING, lining, metal_lining
from slotwright.drawings.paper.placing import Box, points_box
from slotwright.drawings.paper.sheet import Line, Mark, Point, Stroke
from slotwright.drawings.paper.style import Style
from slotwright.drawings.profiles import profile
from slotwright.drawings.setup.covering import holds
from slotwright.drawings.setup.cut_item import cut_item
from slotwright.drawings.setup.cut_piece import cut_piece, shown_parts, squarely
from slotwright.drawings.setup.setup_plan import SAME_AXIS, corners, rings, stands_over
from slotwright.drawings.setup.stacks import Axis, hole_at, on_axis
from slotwright.drawings.shapes.views_needed import is_shaped
from slotwright.fixtures.joint import Joint
from slotwright.fixtures.layout import Layout, PlacedHardware, PlacedPiece
from slotwright.parts.hardware import Cylinder, Prism
from slotwright.parts.table import Table
from slotwright.pieces.block import Spans, without
from slotwright.pieces.outline import Outline

FINER = 0.6  # distance of a small part's lining, of the usual; our choice
OPEN_BELOW = 4.0  # shown below the table top where no slot is, mm; our choice
ZIGZAG = 2.0  # how far the zigzag of a break line reaches aside, mm on paper; our choice
UNCUT = ("stud", "washer", "hex nut", "socket head cap screw")


@dataclass(frozen=True, slots=True)
class BoltSection:
    """What the section shows.

    Attributes:
        marks: view frame.
        seats: for each bought item and the piece, by their title, a point on it to aim a leader at.
        left, right, bottom, top: of the drawn window.
    """

    marks: tuple[Mark, ...]
    seats: tuple[tuple[str, Point], ...]
    left: float
    right: float
    bottom: float
    top: float


def bolt_section(layout: Layout, at: Axis, scale: float, style: Style) -> BoltSection:
    """Return the section at one joint, or at a screw that holds something to a piece; that one may be off the slots."""
    slot = layout.table.slot
    items = [item for item in layout.hardware if on_axis(item, at.x, at.y)]
    held = next((p for p in layout.pieces if p.piece.name == at.piece and hole_at(p, at.x, at.y) is not None), None)
    half = slot.headspace_width / 2.0 + max(0.45 * slot.headspace_width, 8.0)
    bottom, marks = -OPEN_BELOW, list[Mark]()
    if at.slot is not None:
        bottom = -slot.depth - max(6.0, 0.25 * slot.depth)
        marks += _table(layout.table, half, bottom, scale)
    seats: list[tuple[str, Point]] = []
    fronts = [box for item in items for box in _fronts(item)]
    tops = [body.top + item.place.z for item in items for body in item.item.body]
    top, over = max([at.seat, *tops] if isinstance(at, Joint) else tops), style.centre_overrun / scale
    window = Box(-half, 0.0, half, top + over)
    if held is not None:
        if is_shaped(held.piece) and squarely(held):
            drawn, seat = _shaped_piece(held, at, window, fronts, scale)
        else:
            drawn, seat = _piece(held, at, half, scale)
        marks += drawn
        seats.append((held.piece.name, seat))
    for item in items:
        marks += _item(item, items, at, scale)
        seats.append((item.item.title, _aim(item, at)))
        for title, rectangle in _packing(item, layout, at):
            marks += _behind(rectangle, fronts)
            seats.append((title, (rectangle.x1 - 0.15 * rectangle.width, (rectangle.y0 + rectangle.y1) / 2.0)))
    if not isinstance(at, Joint):
        for item in fastened(layout, at):
            cut = cut_item(item, (at.x, at.y), window, fronts, "iron", scale, leaning_left=False)
            if cut is not None:
                marks += [*cut.marks, *(mark for end in cut.ends for mark in _break(*end, scale))]
                seats.append((item.item.title, cut.inside))
    marks.append(Stroke(((0.0, bottom + over), (0.0, top + over)), Line.CENTRE))
    return BoltSection(tuple(marks), tuple(seats), -half, half, bottom, top + over)


def seated(layout: Layout, at: Axis) -> set[str]:
    """Return the titles of the bought items that stand on an axis, or that what stands there rests on."""
    items = [item for item in layout.hardware if on_axis(item, at.x, at.y)]
    return {item.item.title for item in items} | {title for one in items for title, _ in _packing(one, layout, at)}


def fastened(layout: Layout, at: Axis) -> list[PlacedHardware]:
    """Return the bought items that an axis other than their own runs through, such as a chuck at one of its screws."""
    return [item for item in layout.hardware if not on_axis(item, at.x, at.y) and stands_over(item, (at.x, at.y))]


def _table(table: Table, half: float, bottom: float, scale: float) -> Iterable[Mark]:
    slot = table.slot
    throat, head = slot.width / 2.0, slot.headspace_width / 2.0
    roof = -slot.throat_depth
    walls = [(throat, 0.0), (throat, roof), (head, roof), (head, -slot.depth)]
    void = [*walls, *((-u, z) for u, z in reversed(walls))]
    yield Stroke(((-half, 0.0), *reversed([(-u, z) for u, z in reversed(walls)])), Line.OUTLINE)
    yield Stroke(((half, 0.0), *walls), Line.OUTLINE)
    yield Stroke(((-head, -slot.depth), (head, -slot.depth)), Line.OUTLINE)
    block = [(-half, bottom), (half, bottom), (half, 0.0), (-half, 0.0)]
    yield from (Stroke(span, Line.HATCH) for span in lining([block, void], LINING / scale))
    yield from _break((-half, bottom), (-half, 0.0), scale)
    yield from _break((half, bottom), (half, 0.0), scale)
    yield from _break((-half, bottom), (half, bottom), scale)


def _break(a: Point, b: Point, scale: float) -> Iterable[Mark]:
    """A straight narrow line with one zigzag in its middle (ISO 128-2)."""
    size = ZIGZAG / scale
    mx, my = (a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0
    if a[0] == b[0]:
        zigzag = [
            (mx, my - size / 2.0),
            (mx + size, my - size / 4.0),
            (mx - size, my + size / 4.0),
            (mx, my + size / 2.0),
        ]
        if b[1] < a[1]:
            zigzag.reverse()
    else:
        zigzag = [
            (mx - size / 2.0, my),
            (mx - size / 4.0, my + size),
            (mx + size / 4.0, my - size),
            (mx + size / 2.0, my),
        ]
    yield Stroke((a, *zigzag, b), Line.BREAK)


def _piece(placed: PlacedPiece, at: Axis, half: float, scale: float) -> tuple[list[Mark], Point]:
    """The piece cut along table Y through the bolt's axis, and a point on it."""
    hole = hole_at(placed, at.x, at.y)
    assert hole is not None  # noqa: S101  the caller chose the piece by it
    thick = placed.piece.blank.thickness
    box = points_box(corners(placed))
    lengthwise = round(placed.place.turn) % 180 == 90
    shape = profile(hole, thick, "x" if lengthwise else "y")
    centre = placed.place.to_table(hole.x, hole.y)[1] - at.y
    left, right = max(box.y0 - at.y, -half), min(box.y1 - at.y, half)
    base = placed.place.z
    ring = [(left, base), (right, base), (right, base + thick), (left, base + thick)]
    void = [(centre + u, base + z) for u, z in shape.void]
    marks: list[Mark] = [Stroke((a, b), Line.OUTLINE) for a, b in ((ring[0], ring[1]), (ring[3], ring[2]))]
    for u, clipped in ((left, box.y0 - at.y < -half), (right, box.y1 - at.y > half)):
        end = ((u, base), (u, base + thick))
        marks += _break(*end, scale) if clipped else [Stroke(end, Line.OUTLINE)]
    marks += [Stroke(tuple((centre + u, base + z) for u, z in wall), Line.OUTLINE) for wall in shape.walls]
    hatch = placed.piece.material.hatch
    marks += [Stroke(span, Line.HATCH) for span in metal_lining([ring, void], hatch, scale, leaning_left=True)]
    wall = max(u for u, _ in void)
    return marks, ((wall + right) / 2.0, base + thick / 2.0)


def _shaped_piece(
    placed: PlacedPiece, at: Axis, window: Box, covers: Sequence[Box], scale: float
) -> tuple[list[Mark], Point]:
    """A piece of any shape, cut as `_piece` is, broken off where the window ends."""
    hole = hole_at(placed, at.x, at.y)
    assert hole is not None  # noqa: S101  the caller chose the piece by it
    cut = cut_piece(placed, hole, at.y, window, covers, scale)
    return [*cut.marks, *(mark for end in cut.ends for mark in _break(*end, scale))], cut.inside


def _fronts(placed: PlacedHardware) -> Iterable[Box]:
    """What an uncut item stands before, as boxes."""
    if placed.item.kind in UNCUT:
        lift = placed.place.z
        for body in placed.item.body:
            yield Box(-_half(body), body.bottom + lift, _half(body), body.top + lift)


def _item(placed: PlacedHardware, items: Sequence[PlacedHardware], at: Axis, scale: float) -> Iterable[Mark]:
    if placed.item.kind not in UNCUT:
        yield from _cut_item(placed, at, scale)
        return
    lift = placed.place.z
    for body in placed.item.body:
        half = _half(body)
        hidden = _covered(placed, items) if placed.item.kind == "stud" else []
        for low, high in _open_spans(body.bottom + lift, body.top + lift, hidden):
            ring = ((-half, low), (half, low), (half, high), (-half, high))
            yield Stroke(ring, Line.OUTLINE, closed=True)
            if isinstance(at, Joint) and placed.item.kind == "stud":
                root = at.thread.minor_external / 2.0
                yield from (Stroke(((u, low), (u, high)), Line.THREAD) for u in (-root, root))
        if isinstance(body, Prism):
            edges = sorted({round(y, 6) for x, y in body.outline if x > -1e-6 and abs(abs(y) - half) > 1e-6})
            yield from (Stroke(((u, body.bottom + lift), (u, body.top + lift)), Line.OUTLINE) for u in edges)


def _cut_item(placed: PlacedHardware, at: Axis, scale: float) -> Iterable[Mark]:
    """A T-nut: its bodies joined to one outline, lined where no bolt fills the bore. A strap: cut through its slot."""
    lift = placed.place.z
    if (strap := _strap(placed)) is not None:
        yield from _cut_strap(placed, strap, at, scale)
        return
    if len({bore.diameter for bore in placed.item.bores}) > 1:
        yield from _cut_key(placed, at, scale)
        return
    bodies = sorted(placed.item.body, key=lambda body: body.bottom)
    bore = max([bore.diameter for bore in placed.item.bores], default=0.0) / 2.0
    right: list[Point] = []
    for body in bodies:
        right += [(_half(body), body.bottom + lift), (_half(body), body.top + lift)]
    ring = [*right, *((-u, z) for u, z in reversed(right))]
    yield Stroke(tuple(ring), Line.OUTLINE, closed=True)
    low, high = bodies[0].bottom + lift, bodies[-1].top + lift
    void = [(-bore, low), (bore, low), (bore, high), (-bore, high)]
    yield from (Stroke(((u, low), (u, high)), Line.OUTLINE) for u in (-bore, bore))
    yield from (
        Stroke(span, Line.HATCH) for span in metal_lining([ring, void], "steel", scale / FINER, leaning_left=True)
    )


def _cut_key(placed: PlacedHardware, at: Axis, scale: float) -> Iterable[Mark]:
    """A key with a stepped bore that its screw fills."""
    around = [(_half(body), body.bottom + placed.place.z, body.top + placed.place.z) for body in placed.item.body]
    half, low, high = max(one[0] for one in around), min(one[1] for one in around), max(one[2] for one in around)
    whole = Box(-half, low, half, high).grown(1.0)
    cut = cut_item(placed, (at.x, at.y), whole, (), "steel", scale / FINER, leaning_left=True)
    return cut.marks if cut is not None else ()


def _strap(placed: PlacedHardware) -> Prism | None:
    """Return the body of a strap, which has a slot, or None for another item."""
    only = placed.item.body[0] if len(placed.item.body) == 1 else None
    return only if isinstance(only, Prism) and only.windows else None


def _strap_spans(placed: PlacedHardware, strap: Prism, at: Axis) -> Spans:
    """Where a strap at any angle is metal along table Y, from the axis."""
    outlines = [
        Outline(tuple(placed.place.to_table(*point) for point in ring)) for ring in (strap.outline, *strap.windows)
    ]
    metal, *open_ = (outline.spans(1, at.x) for outline in outlines)
    for spans in open_:
        metal = without(metal, spans)
    return tuple((a - at.y, b - at.y) for a, b in metal)


def _cut_strap(placed: PlacedHardware, strap: Prism, at: Axis, scale: float) -> Iterable[Mark]:
    """A strap at any angle, cut along table Y, its slot open."""
    low, high = strap.bottom + placed.place.z, strap.top + placed.place.z
    for a, b in _strap_spans(placed, strap, at):
        ring = ((a, low), (b, low), (b, high), (a, high))
        yield Stroke(ring, Line.OUTLINE, closed=True)
        yield from (Stroke(span, Line.HATCH) for span in metal_lining([ring], "steel", scale, leaning_left=True))


def _packing(strap: PlacedHardware, layout: Layout, at: Axis) -> Iterable[tuple[str, Box]]:
    """What a strap stands on, as far as it is seen under the cut: beyond the cut, or through it."""
    if not any(isinstance(body, Prism) and body.windows for body in strap.item.body):
        return
    under = [ring for ring in rings(strap) if _spans_at(ring, at.x)]
    if not under:
        return
    low, high = _spans_at(under[0], at.x)[0][0], _spans_at(under[0], at.x)[-1][1]
    for other in layout.hardware:
        for body, ring in zip(other.item.body, rings(other), strict=False):
            box = points_box(ring)
            stands = isinstance(body, Prism) and abs(body.top + other.place.z - strap.place.z) < SAME_AXIS
            start, end = max(box.y0, low), min(box.y1, high)
            under_it = holds(under[0], other.place.to_table(0.0, 0.0))
            if stands and under_it and box.x0 < at.x and end - start > SAME_AXIS:
                yield other.item.title, Box(start - at.y, body.bottom + other.place.z, end - at.y, strap.place.z)


def _spans_at(ring: Sequence[Point], x: float) -> Spans:
    """Where a polygon reaches along table Y at a place along X."""
    return Outline(tuple(ring)).spans(1, x)


def _behind(box: Box, covers: Sequence[Box]) -> Iterable[Mark]:
    """A rectangle's edges that nothing uncut stands before."""
    corners_ = ((box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1), (box.x0, box.y0))
    for a, b in pairwise(corners_):
        yield from (Stroke(part, Line.OUTLINE) for part in shown_parts(a, b, box, covers))


def _half(body: Cylinder | Prism) -> float:
    return body.diameter / 2.0 if isinstance(body, Cylinder) else max(y for _, y in body.outline)


def _covered(placed: PlacedHardware, items: Sequence[PlacedHardware]) -> list[tuple[float, float]]:
    """Heights at which uncut items stand in front of a stud."""
    return sorted(
        (body.bottom + item.place.z, body.top + item.place.z)
        for item in items
        if item is not placed and item.item.kind in UNCUT
        for body in item.item.body
    )


def _open_spans(low: float, high: float, hidden: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    spans, at = [], low
    for start, end in hidden:
        if start > at:
            spans.append((at, min(start, high)))
        at = max(at, end)
    if at < high:
        spans.append((at, high))
    return spans


def _aim(placed: PlacedHardware, at: Axis) -> Point:
    """A point on an item for a leader: near its right side; on a stud, near its top; on a strap, in its metal."""
    widest = max(placed.item.body, key=_half)
    low, high = widest.bottom + placed.place.z, widest.top + placed.place.z
    if (strap := _strap(placed)) is not None and (spans := _strap_spans(placed, strap, at)):
        return sum(spans[-1]) / 2.0, (low + high) / 2.0
    if placed.item.kind == "stud":
        return _half(widest) * 0.5, high - min(2.0, 0.1 * (high - low))
    return _half(widest) * 0.85, (low + high) / 2.0
