"""Webs: the metal left between a hole and an edge, a hole and the wall of a pocket, groove or tenon, and two holes."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import combinations, groupby
from math import cos, dist, hypot, inf, radians, sin

import numpy as np
from numpy.typing import NDArray

from slotwright.findings import COMMON_PRACTICE, Figure, Finding, Severity
from slotwright.pieces.block import Block
from slotwright.pieces.bores import Bore, bores
from slotwright.pieces.faces import plane_axes
from slotwright.pieces.features import Hole, Purpose
from slotwright.pieces.hole_groups import tags
from slotwright.pieces.metal import Metal, Step, step_names
from slotwright.pieces.outline import Outline
from slotwright.pieces.piece import Piece
from slotwright.pieces.segment import SAME_POINT, Segment

Floats = NDArray[np.float64]
Web = tuple[float, float, float, int, int]
"""Web, its limit, the web between the plain bores, mm, and the numbers of the two holes."""

SHARE = 0.5
"""A web is sound when it is at least this share of the larger hole's diameter."""
MOST_PAIRS = 200
"""Of more pairs of holes that stand too close, the rest is not told."""
_BROKEN = {
    "the edge": "the hole breaks out",
    "the wall": "the hole runs into the wall",
    "each other": "the holes run into each other",
}
_TWO_TABLES = "the tables' slots nearly agree: leave those slots out, or make a piece for each table"
_RULE = "web at least half the diameter of the larger hole, so that the drill does not push through and threads hold"


def check_webs(piece: Piece) -> Iterator[Finding]:
    """Yield the webs of one piece that are too thin, and of each sort the thinnest when all are sound."""
    if not piece.holes:
        return
    names, metal = tags(piece), piece.metal
    bored = bores(metal, piece.holes)
    yield from _edges(piece, metal, bored, names)
    yield from _walls(piece, metal, bored, names)
    yield from _pairs(piece, bored, names)


# Edges


def _edges(piece: Piece, metal: Metal, bored: Sequence[Bore], names: Sequence[str]) -> Iterator[Finding]:
    web_of = _edge_web(metal)
    webs = [
        (web_of(bore), SHARE * bore.hole.widest, name)
        for bore, name in zip(bored, names, strict=True)
        if bore.hole.purpose is not Purpose.NUT
    ]
    poor = [web for web in webs if web[0] < web[1]]
    for web, limit, name in poor or sorted(webs)[:1]:
        yield _finding("hole-to-edge", f"{piece.name}, hole {name}", "the edge", web, limit)


def _edge_web(metal: Metal) -> Callable[[Bore], float]:
    """Return what measures from a hole's widest rim to the blank's outside, mm; negative when it breaks out."""
    body, *hollows = metal.blank.blocks

    def web(bore: Bore) -> float:
        if bore.axis != body.axis:
            return _web_across(bore, body) - bore.radius
        inside = [_inside(bore, body.outline), *(-_inside(bore, hollow.outline) for hollow in hollows)]
        return min(inside) - bore.radius

    return web


def _inside(bore: Bore, outline: Outline) -> float:
    """How far a hole's axis, or the middle line of a slotted one, is inside an outline; negative outside."""
    a, b = bore.ends
    if dist(a, b) < SAME_POINT:
        return outline.distance_to_edge(a)
    ends = outline.distance_to_edge(a), outline.distance_to_edge(b)
    least = min(side.gap(Segment(a, b)) for side in outline.segments)
    if min(ends) > 0.0:
        return least
    return -least if max(ends) < 0.0 and least > 0.0 else min(ends)


def _web_across(bore: Bore, body: Block) -> float:
    """Least distance of a hole's axis from the sides of a body that it enters square to the body's own axis.

    The sides that the axis goes through, or would if it went on through the metal, are its mouth and its floor.
    """
    x, level, outline_axis = _in_plane(bore, body)
    start, end = bore.low, bore.high
    if bore.hole.depth is not None and bore.hole.face.far:
        start = min(start + bore.radius, end)
    elif bore.hole.depth is not None:
        end = max(end - bore.radius, start)
    line, whole = _line(outline_axis, x, start, end), _line(outline_axis, x, bore.metal_low, bore.metal_high)
    gaps = [side.gap(line) for side in body.outline.segments if side.gap(whole) > SAME_POINT]
    return min(*gaps, level - body.low, body.high - level) - bore.hole.slot_extra / 2.0


def _in_plane(bore: Bore, body: Block) -> tuple[float, float, int]:
    """A hole's place in a body's outline, its level along the body, and which axis of the outline it runs along."""
    fixed = dict(zip(plane_axes(bore.axis), bore.at, strict=True))
    first, second = plane_axes(body.axis)
    return fixed[second if bore.axis == first else first], fixed[body.axis], 0 if bore.axis == first else 1


def _line(axis: int, at: float, start: float, end: float) -> Segment:
    end = max(end, start + 10.0 * SAME_POINT)
    return Segment((start, at), (end, at)) if axis == 0 else Segment((at, start), (at, end))


# Walls


def _walls(piece: Piece, metal: Metal, bored: Sequence[Bore], names: Sequence[str]) -> Iterator[Finding]:
    webs = []
    for step, wall in zip(metal.steps, step_names(metal), strict=True):
        for bore, name in zip(bored, names, strict=True):
            gap = _wall_gap(bore, step)
            if gap < inf:
                webs.append((gap, SHARE * bore.hole.widest, f"{piece.name}, hole {name} and {wall}"))
    poor = [web for web in webs if web[0] < web[1]]
    for web, limit, place in poor or ([min(webs)] if webs else []):
        yield _finding("hole-to-wall", place, "the wall", web, limit)


def _wall_gap(bore: Bore, step: Step) -> float:
    """Metal from a hole's rim to the wall of a feature; infinite where no metal is between."""
    block = step.block
    if bore.axis == block.axis:
        inside = _inside(bore, block.outline)
        beside = min(bore.high, block.high) - max(bore.low, block.low) > SAME_POINT
        if not beside or (inside > 0.0) is not step.adds:
            return inf
        return abs(inside) - bore.radius_between(block.low, block.high)
    if step.adds:
        return inf
    x, level, outline_axis = _in_plane(bore, block)
    line = _line(outline_axis, x, bore.low, bore.high)
    within = block.outline.contains(line.start) or block.outline.contains(line.end)
    away = 0.0 if within else min(side.gap(line) for side in block.outline.segments)
    above = max(block.low - level, level - block.high, 0.0)
    # A hole that runs right through a pocket or groove has no web to it.
    return hypot(away, above) - bore.radius - bore.hole.slot_extra / 2.0 if away or above else inf


# Pairs


def _pairs(piece: Piece, bored: Sequence[Bore], names: Sequence[str]) -> Iterator[Finding]:
    webs = [*_parallel_webs(bored), *_crossing_webs(bored)]
    poor = [one for one in webs if one[0] < one[1]]
    closest = [min(webs, key=lambda one: one[0] - one[1])] if webs else []
    for web, limit, plain, a, b in poor[:MOST_PAIRS] or closest:
        # A counterbore that meets a hole its own bore would have cleared is a mistake of its own sort.
        sunk = bored[a].hole.counterbore is not None or bored[b].hole.counterbore is not None
        code = "hole-into-counterbore" if sunk and plain >= limit > web else "hole-to-hole"
        found = _finding(code, f"{piece.name}, holes {names[a]} and {names[b]}", "each other", web, limit)
        if found.severity is not Severity.FINE and _of_two_tables(bored[a].hole, bored[b].hole):
            found = replace(found, remedy=_TWO_TABLES)
        yield found


def _of_two_tables(a: Hole, b: Hole) -> bool:
    """Whether each is for tables that the other is not for; their places follow from the slots, not from a wish."""
    return bool(a.tables and b.tables) and set(a.tables).isdisjoint(b.tables)


def _parallel_webs(bored: Sequence[Bore]) -> Iterator[Web]:
    """Of pairs along one axis the poor ones, or the one that comes nearest to being poor."""
    by_axis = sorted(range(len(bored)), key=lambda number: (bored[number].axis, number))
    for _, group in groupby(by_axis, key=lambda number: bored[number].axis):
        numbers = list(group)
        if len(numbers) > 1:
            yield from _webs_along([bored[number] for number in numbers], numbers)


def _webs_along(bored: Sequence[Bore], numbers: Sequence[int]) -> Iterator[Web]:
    gaps = _gaps([bore.hole for bore in bored])
    radii = np.array([bore.hole.diameter / 2.0 for bore in bored])
    widest = np.array([bore.radius for bore in bored])
    lows, highs = np.array([bore.low for bore in bored]), np.array([bore.high for bore in bored])
    apart = np.maximum(lows[:, None], lows[None, :]) - np.minimum(highs[:, None], highs[None, :])
    webs = _past_ends(gaps - widest[:, None] - widest[None, :], apart)
    plain = _past_ends(gaps - radii[:, None] - radii[None, :], apart)
    limits = SHARE * 2.0 * np.maximum(widest[:, None], widest[None, :])
    first, second = np.triu_indices(len(bored), 1)
    short = (webs - limits)[first, second]
    poor = np.flatnonzero(webs[first, second] < limits[first, second])
    for pair in poor if len(poor) else [int(np.argmin(short))]:
        a, b = first[pair], second[pair]
        yield float(webs[a, b]), float(limits[a, b]), float(plain[a, b]), numbers[a], numbers[b]


def _past_ends(webs: Floats, apart: Floats) -> Floats:
    """Distance of two cylinders: beside each other, or also one past the end of the other by so much."""
    found: Floats = np.where(apart > 0.0, np.hypot(np.maximum(webs, 0.0), apart), webs)
    return found


def _crossing_webs(bored: Sequence[Bore]) -> Iterator[Web]:
    """Of pairs along different axes, those that come nearer than is sound."""
    across = [number for number, bore in enumerate(bored) if bore.hole.face.upright]
    upright = [number for number, bore in enumerate(bored) if not bore.hole.face.upright]
    pairs = [(a, b) for a in upright for b in across]
    pairs += [(a, b) for a, b in combinations(across, 2) if bored[a].axis != bored[b].axis]
    for a, b in pairs:
        gap = _box_gap(bored[a], bored[b])
        limit = SHARE * max(bored[a].hole.widest, bored[b].hole.widest)
        web = gap - bored[a].radius - bored[b].radius
        if web < limit:
            yield web, limit, gap - bored[a].hole.diameter / 2.0 - bored[b].hole.diameter / 2.0, min(a, b), max(a, b)


def _box_gap(a: Bore, b: Bore) -> float:
    """Distance of two holes' axes."""
    (low, high), (other_low, other_high) = a.axis_box, b.axis_box
    return hypot(*(max(other_low[i] - high[i], low[i] - other_high[i], 0.0) for i in range(3)))


def _gaps(holes: Sequence[Hole]) -> Floats:
    """Distances between the axes of all pairs, mm; for slotted holes between the lines of their axes."""
    at = np.array([(hole.x, hole.y) for hole in holes])
    gaps: Floats = np.linalg.norm(at[:, None, :] - at[None, :, :], axis=2)
    slotted = [number for number, hole in enumerate(holes) if hole.slot_extra]
    for number in slotted:
        for other in range(len(holes)):
            if other != number:
                gaps[number, other] = gaps[other, number] = _segment_gap(holes[number], holes[other])
    return gaps


def _segment_gap(a: Hole, b: Hole) -> float:
    """Distance between two axes' segments: zero when they cross, else from an end of one to the other."""
    one, two = _ends(a), _ends(b)
    if _cross(one, two):
        return 0.0
    return min(
        *(_point_gap(point, two) for point in one),
        *(_point_gap(point, one) for point in two),
    )


def _ends(hole: Hole) -> tuple[Floats, Floats]:
    half = np.array([cos(radians(hole.slot_angle)), sin(radians(hole.slot_angle))]) * hole.slot_extra / 2.0
    middle = np.array([hole.x, hole.y])
    return middle - half, middle + half


def _point_gap(point: Floats, segment: tuple[Floats, Floats]) -> float:
    start, along = segment[0], segment[1] - segment[0]
    length2 = float(along @ along)
    share = 0.0 if length2 == 0.0 else min(1.0, max(0.0, float((point - start) @ along) / length2))
    return float(np.linalg.norm(point - start - share * along))


def _cross(one: tuple[Floats, Floats], two: tuple[Floats, Floats]) -> bool:
    def side(a: Floats, b: Floats, c: Floats) -> float:
        return float((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))

    return side(*one, two[0]) * side(*one, two[1]) < 0.0 and side(*two, one[0]) * side(*two, one[1]) < 0.0


def _finding(code: str, place: str, what: str, web: float, limit: float) -> Finding:
    if web <= 0.0:
        severity, message = Severity.STOP, _BROKEN[what]
        remedy = "move the hole, or make it smaller"
    elif web < limit:
        severity, message = Severity.CAUTION, f"little metal is left to {what}"
        remedy = "move the hole, take a wider bar, or accept the thin web knowingly"
    else:
        severity, message, remedy = Severity.FINE, f"the thinnest web to {what} is sound", ""
    return Finding(
        code=code,
        severity=severity,
        place=place,
        message=message,
        figure=Figure(value=web),
        limit=Figure(value=limit),
        rule=_RULE,
        source=COMMON_PRACTICE,
        remedy=remedy,
    )
