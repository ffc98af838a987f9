"""Where edges may be seen: the outlines of all bodies projected along an axis of the piece frame, or cut by a plane.

All in the plane square to the axis, its coordinates those of the two other axes in their order (`plane_axes`), mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from slotwright.drawings.shapes.bodies import Bodies, Body, Cone, Rimmed, inset
from slotwright.pieces.block import Block
from slotwright.pieces.faces import Vector, plane_axes
from slotwright.pieces.outline import Outline, circle
from slotwright.pieces.segment import Point, Segment

SHORTEST = 1e-6  # mm


def projected(bodies: Bodies, axis: int) -> Iterator[Segment]:
    """Yield every line an edge may lie on, seen along an axis; infinite bodies end at the piece's box."""
    for one in bodies.made:
        yield from _seen(one.body, axis, bodies.low, bodies.high)
    yield from _where_walls_meet(bodies, axis)
    yield from _where_cones_end(bodies, axis)


def cut_lines(bodies: Bodies, axis: int, at: float) -> Iterator[Segment]:
    """Yield the lines in which a plane square to an axis cuts the bodies."""
    for one in bodies.made:
        yield from _cut(one.body, axis, at, bodies.low, bodies.high)


def _seen(body: Body, axis: int, low: Vector, high: Vector) -> Iterator[Segment]:
    match body:
        case Block():
            start, end = max(body.low, low[body.axis]), min(body.high, high[body.axis])
            if body.axis == axis:
                yield from (side for side in body.outline.segments if side.chord < 1e5)
            elif start < end:
                yield from _drawn_out(body.axis, body.outline, start, end, axis)
        case Cone() if body.axis == axis:
            for r in (body.r0, body.r1):
                if r > 0.0:
                    yield from circle(2.0 * r, body.centre).segments
        case Cone():
            yield from _cone(body, axis)
        case Rimmed() if axis == 2:
            inner = inset(body.plan, body.chamfer)
            yield from body.plan.segments
            yield from inner.segments
            yield from _lines(zip(body.plan.points, inner.points, strict=True))
        case Rimmed():
            yield from _rimmed(body, axis)


def _where_walls_meet(bodies: Bodies, axis: int) -> Iterator[Segment]:
    """Edges at which walls drawn out the same way meet, seen square to them; of holes only with what is no hole."""
    walls = [(one.body, one.hole is None) for one in bodies.made if isinstance(one.body, Block | Rimmed)]
    shaped, holes = [body for body, no_hole in walls if no_hole], [body for body, no_hole in walls if not no_hole]
    for number, one in enumerate(shaped):
        for other in (*shaped[number + 1 :], *holes):
            yield from _meeting(one, other, axis, bodies.low, bodies.high)


def _meeting(one: Block | Rimmed, other: Block | Rimmed, axis: int, low: Vector, high: Vector) -> Iterator[Segment]:
    """Lines along which the walls of two bodies meet."""
    out = one.axis if isinstance(one, Block) else 2
    if out == axis or out != (other.axis if isinstance(other, Block) else 2):
        return
    across = next(a for a in range(3) if a not in (out, axis))
    index = plane_axes(out).index(across)
    outlines = [_outline(one), _outline(other)]
    if not _boxes_meet(outlines[0], outlines[1]):
        return
    points = _crossings(outlines[0], outlines[1])
    spans = [((p[index], low[out]), (p[index], high[out])) for p in points]
    for rim, cutter in ((one, outlines[1]), (other, outlines[0])):
        if isinstance(rim, Rimmed):
            c, top = rim.chamfer, rim.thickness
            for p, q in zip(points, _crossings(inset(rim.plan, c), cutter), strict=False):
                spans += [((p[index], c), (q[index], 0.0)), ((p[index], top - c), (q[index], top))]
    yield from _lines(_ordered(spans, across, out, axis))


def _outline(body: Block | Rimmed) -> Outline:
    return body.outline if isinstance(body, Block) else body.plan


def _boxes_meet(one: Outline, other: Outline) -> bool:
    (a0, b0, a1, b1), (c0, d0, c1, d1) = one.bounds, other.bounds
    return a0 <= c1 and c0 <= a1 and b0 <= d1 and d0 <= b1


def _crossings(one: Outline, other: Outline) -> list[Point]:
    """Points that two outlines have in common, in the order of their places."""
    found = {(round(x, 9), round(y, 9)) for a in one.segments for b in other.segments for x, y in a.crossings(b)}
    return sorted(found)


def _where_cones_end(bodies: Bodies, axis: int) -> Iterator[Segment]:
    """Circles at which cones come through a floor square to them, seen along both."""
    cones = [one.body for one in bodies.made if isinstance(one.body, Cone) and one.body.axis == axis]
    blocks = [one.body for one in bodies.made if isinstance(one.body, Block) and one.body.axis == axis]
    levels = sorted({round(z, 9) for block in blocks for z in (block.low, block.high)})
    for cone in cones:
        for level in levels:
            if cone.low < level < cone.high:
                share = (level - cone.low) / (cone.high - cone.low)
                yield from circle(2.0 * (cone.r0 + share * (cone.r1 - cone.r0)), cone.centre).segments


def _places(outline: Outline, index: int) -> list[float]:
    """Coordinates at which a drawn-out outline shows an edge or a silhouette, seen square to its drawing out."""
    points = [*outline.points, *(p for side in outline.segments for p in side.extremes())]
    return sorted({round(p[index], 9) for p in points})


def _drawn_out(out: int, outline: Outline, low: float, high: float, axis: int) -> Iterator[Segment]:
    """A drawn-out outline from the side: lines along it at every corner, and its two ends."""
    across = next(a for a in range(3) if a not in (out, axis))
    places = [c for c in _places(outline, plane_axes(out).index(across)) if abs(c) < 9e4]
    if not places:
        return
    spans = [((c, low), (c, high)) for c in places]
    spans += [((places[0], level), (places[-1], level)) for level in (low, high)]
    yield from _lines(_ordered(spans, across, out, axis))


def _cone(cone: Cone, axis: int) -> Iterator[Segment]:
    across = next(a for a in range(3) if a not in (cone.axis, axis))
    c = cone.centre[plane_axes(cone.axis).index(across)]
    low, high, r0, r1 = cone.low, cone.high, cone.r0, cone.r1
    spans = [((c - r0, low), (c - r1, high)), ((c + r0, low), (c + r1, high))]
    spans += [((c - r, level), (c + r, level)) for r, level in ((r0, low), (r1, high)) if r > 0.0]
    yield from _lines(_ordered(spans, across, cone.axis, axis))


def _rimmed(body: Rimmed, axis: int) -> Iterator[Segment]:
    """A chamfered blank from the side."""
    across, c, top = 1 - axis, body.chamfer, body.thickness
    inner = inset(body.plan, c)
    pairs = [(p[across], q[across]) for p, q in zip(body.plan.points, inner.points, strict=True)]
    for side, moved in zip(body.plan.segments, inner.segments, strict=True):
        pairs += [(p[across], q[across]) for p, q in zip(side.extremes(), moved.extremes(), strict=False)]
    spans: list[tuple[Point, Point]] = []
    for p, q in sorted({(round(p, 9), round(q, 9)) for p, q in pairs}):
        spans += [((p, c), (p, top - c)), ((p, c), (q, 0.0)), ((p, top - c), (q, top))]
    outer, inside = _places(body.plan, across), _places(inner, across)
    spans += [((outer[0], z), (outer[-1], z)) for z in (c, top - c)]
    spans += [((inside[0], z), (inside[-1], z)) for z in (0.0, top)]
    yield from _lines(_ordered(spans, across, 2, axis))


def _ordered(spans: Iterable[tuple[Point, Point]], first: int, second: int, axis: int) -> Iterator[tuple[Point, Point]]:
    """Put points given along two axes in the order of the plane square to a third."""
    swap = plane_axes(axis) != (first, second)
    for a, b in spans:
        yield ((a[1], a[0]), (b[1], b[0])) if swap else (a, b)


def _lines(spans: Iterable[tuple[Point, Point]]) -> Iterator[Segment]:
    for a, b in spans:
        side = Segment(a, b)
        if side.chord > SHORTEST:
            yield side


# Cut by a plane


def _cut(body: Body, axis: int, at: float, low: Vector, high: Vector) -> Iterator[Segment]:
    match body:
        case Block() if body.axis == axis:
            if body.low <= at <= body.high:
                yield from (side for side in body.outline.segments if side.chord < 1e5)
        case Block():
            yield from _cut_block(body, axis, at, low, high)
        case Cone() if body.axis != axis:
            place = dict(zip(plane_axes(body.axis), body.centre, strict=True))[axis]
            if abs(place - at) < 1e-6:
                yield from _cone(body, axis)
        case Rimmed() if axis != 2:
            for outline, z in ((body.plan, body.chamfer), (inset(body.plan, body.chamfer), 0.0)):
                spans = outline.spans(1 - axis, at)
                yield from _lines(((a, y), (b, y)) for a, b in spans for y in (z, body.thickness - z))
            yield from _cut_rim(body, axis, at)


def _cut_block(body: Block, axis: int, at: float, low: Vector, high: Vector) -> Iterator[Segment]:
    across = next(a for a in range(3) if a not in (body.axis, axis))
    fixed = plane_axes(body.axis).index(axis)
    start, end = max(body.low, low[body.axis]), min(body.high, high[body.axis])
    if start >= end:
        return
    for a, b in body.outline.spans(1 - fixed, at):
        a, b = max(a, low[across]), min(b, high[across])
        spans = [((a, start), (a, end)), ((b, start), (b, end)), ((a, start), (b, start)), ((a, end), (b, end))]
        yield from _lines(_ordered(spans, across, body.axis, axis))


def _cut_rim(body: Rimmed, axis: int, at: float) -> Iterator[Segment]:
    c, top = body.chamfer, body.thickness
    outer, inner = body.plan.spans(1 - axis, at), inset(body.plan, c).spans(1 - axis, at)
    for (a, b), (p, q) in zip(outer, inner, strict=False):
        spans = [((a, c), (a, top - c)), ((b, c), (b, top - c))]
        spans += [((a, c), (p, 0.0)), ((b, c), (q, 0.0)), ((a, top - c), (p, top)), ((b, top - c), (q, top))]
        yield from _lines(spans)
