"""Features that must not meet: the model adds metal up as if they did not, and no shop would make them so."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations
from math import inf

from slotwright.findings import COMMON_PRACTICE, Figure, Finding, Severity
from slotwright.pieces.blanks import Bar, Extrusion
from slotwright.pieces.block import Block, Spans, between
from slotwright.pieces.bores import Bore, bores
from slotwright.pieces.faces import plane_axes
from slotwright.pieces.features import Groove, Pocket, Tenon
from slotwright.pieces.hole_groups import tags
from slotwright.pieces.meeting import level_around
from slotwright.pieces.metal import Metal, Step, step_names, straight_part
from slotwright.pieces.outline import Outline, circle
from slotwright.pieces.piece import Piece
from slotwright.pieces.segment import Point

SAME = 1e-6
"""Levels and places that differ by less are the same, mm."""
STRAY = 0.05
"""Arcs are probed at points whose chords stray from them by no more than this, mm."""


def check_features(piece: Piece) -> Iterator[Finding]:
    """Yield a stop for each feature that lies off the metal or meets another that it must keep clear of."""
    metal = piece.metal
    names = step_names(metal)
    for number, step in enumerate(metal.steps):
        before = Metal(metal.blank, metal.steps[:number])
        problem = _off_metal(before, step)
        if problem:
            yield _stop(f"{piece.name}, {names[number]}", problem, "move it, or make it smaller")
    for (one, a), (other, b) in combinations(zip(names, metal.steps, strict=True), 2):
        if _meet(a, b, metal):
            yield _stop(f"{piece.name}, {one} and {other}", "they run into each other", "move one, or make it smaller")
    if piece.holes:
        yield from _holes(piece, metal, names)


def _holes(piece: Piece, metal: Metal, names: tuple[str, ...]) -> Iterator[Finding]:
    for tag, bore in zip(tags(piece), bores(metal, piece.holes), strict=True):
        place = f"{piece.name}, hole {tag}"
        if not metal.along(bore.axis, bore.at):
            yield _stop(place, "there is no metal on its axis", "move it")
        if not isinstance(metal.blank, Bar) and not _surface_even(bore, metal):
            yield _stop(place, "it starts or ends on a slope, a curve or a step", "move it to a flat place")
        for name, step in zip(names, metal.steps, strict=True):
            if _straddles(bore, step, metal):
                yield _stop(f"{place} and {name}", "the hole is half in, half out", "move it wholly in or wholly out")
        if _into_chamfer(bore, metal):
            yield _chamfered(place)
        left = bore.low - bore.metal_low if bore.hole.face.far else bore.metal_high - bore.high
        if bore.hole.depth is not None and left < -SAME:
            yield _broken_through(place, -left)


# A feature on the metal before it


def _off_metal(before: Metal, step: Step) -> str:
    """What is wrong with where a feature lies, or nothing."""
    feature, block = step.feature, step.block
    if isinstance(feature, Groove):
        return _off_groove(before, feature, block)
    if isinstance(before.blank, Extrusion) and not feature.face.upright:
        _, y0, _, y1 = block.outline.bounds
        if not level_around(before.blank, (y0 + y1) / 2.0, (y1 - y0) / 2.0 - SAME):
            return "the face there is not level"
    through = isinstance(feature, Pocket) and feature.depth is None
    whole = _depths(before, step, block.outline.inner_point)
    surface = before.surface(feature.face, block.outline.inner_point)
    floor = -inf if isinstance(feature, Tenon) else surface + (block.high - block.low)
    for point in _probes(block.outline):
        spans = _depths(before, step, point)
        if not spans or abs(spans[0][0] - surface) > SAME:
            return "it does not lie wholly on one level of the metal"
        if through and not _same_spans(spans, whole):
            return "what it goes through is not of one thickness"
        if not through and spans[0][1] < floor + SAME:
            return "it is as deep as the metal there"
    body = before.blank.blocks[0]
    if body.axis == block.axis and any(block.outline.distance_to_edge(corner) > SAME for corner in body.outline.points):
        return "it does not lie wholly on the metal"
    if _within_chamfer(before, step):
        return "it runs into the chamfered edge"
    return ""


def _off_groove(before: Metal, groove: Groove, block: Block) -> str:
    if not 0.0 < groove.depth < before.size[groove.face.axis]:
        return "it is as deep as the piece"
    for end, out in ((groove.start, 1.0), (groove.end, -1.0)):
        if end is None:
            continue
        middle = end + out * groove.width / 2.0
        round_end = circle(groove.width, (middle, groove.centre) if groove.along == "x" else (groove.centre, middle))
        step = Step(groove, replace(block, outline=round_end))
        if not all(_full(_depths(before, step, point), groove.depth) for point in _probes(round_end)):
            return "its closed end is not all in metal"
        if any(hollow.axis == block.axis and hollow.outline.overlaps(round_end) for hollow in before.blank.blocks[1:]):
            return "its closed end is not all in metal"
        if _within_chamfer(before, step):
            return "its closed end runs into the chamfered edge"
    return ""


def _full(spans: Spans, depth: float) -> bool:
    return bool(spans) and spans[0][0] < SAME and spans[0][1] > depth + SAME


def _depths(before: Metal, step: Step, point: Point) -> Spans:
    """Metal under a place as depths below the plain face; nothing where there is none."""
    face = step.feature.face
    return before.depths(face, point) if before.along(face.axis, point) else ()


def _probes(outline: Outline) -> tuple[Point, ...]:
    """Points along an outline and halfway between, a hair inside it."""
    corners = outline.facets(STRAY)
    ends = (*corners[1:], corners[0])
    points = [*corners, *(((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0) for a, b in zip(corners, ends, strict=True))]
    x, y = outline.inner_point
    return tuple((px + (x - px) * 1e-5, py + (y - py) * 1e-5) for px, py in points)


def _within_chamfer(before: Metal, step: Step) -> bool:
    """Whether a pocket or tenon on top or bottom comes into the blank's edge chamfer, or one on a side does."""
    chamfer, block = before.blank.edge_chamfer, step.block
    if chamfer == 0.0:
        return False
    if block.axis == 2:
        return before.blank.plan.gap(block.outline) < chamfer - SAME
    _, low, _, high = block.outline.bounds
    return low < chamfer - SAME or high > before.blank.thickness - chamfer + SAME


# Two features


def _meet(a: Step, b: Step, metal: Metal) -> bool:
    """Whether two features, the first made first, meet in a way they must not."""
    if isinstance(a.feature, Groove) and isinstance(b.feature, Groove):
        return _boxes_meet(a, b) and not _cross(a.feature, a.block, b.feature, b.block)
    if a.block.axis != b.block.axis:
        return _boxes_meet(a, b)
    apart = max(a.block.low, b.block.low) - min(a.block.high, b.block.high)
    if apart > SAME or not a.block.outline.overlaps(b.block.outline):
        return False
    # The later one may stand on the end of the earlier, or start in its floor.
    stacked = a.feature.face is b.feature.face and abs(_end(a) - _start(b)) < SAME
    return not stacked or not _holds(a.block.outline, b.block.outline)


def _start(step: Step) -> float:
    """Level at which a feature starts: the foot of a tenon, the mouth of a pocket or groove."""
    return step.block.low if step.adds is step.feature.face.far else step.block.high


def _end(step: Step) -> float:
    """Level of a tenon's end or a pocket's floor."""
    return step.block.high if step.adds is step.feature.face.far else step.block.low


def _holds(outer: Outline, inner: Outline) -> bool:
    return all(outer.distance_to_edge(point) > -SAME for point in _probes(inner))


def _boxes_meet(a: Step, b: Step) -> bool:
    (low, high), (other_low, other_high) = _box(a), _box(b)
    return all(min(high[i], other_high[i]) - max(low[i], other_low[i]) > SAME for i in range(3))


def _box(step: Step) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """The box of a feature, without end where a groove runs out: its cutter goes on through what stands there."""
    low, high = step.block.bounds
    if not isinstance(step.feature, Groove):
        return low, high
    first, last = straight_part(step.feature, step.block)
    return tuple(map(min, low, first)), tuple(map(max, high, last))


def _cross(a: Groove, of_a: Block, b: Groove, of_b: Block) -> bool:
    """Whether two grooves cross each other with their straight parts alone."""
    one, other = straight_part(a, of_a), straight_part(b, of_b)
    (low, high), (other_low, other_high) = of_a.bounds, of_b.bounds
    for i in range(3):
        start, end = max(low[i], other_low[i]), min(high[i], other_high[i])
        if start < max(one[0][i], other[0][i]) - SAME or end > min(one[1][i], other[1][i]) + SAME:
            return False
    return True


# A hole and its surroundings


def _surface_even(bore: Bore, metal: Metal) -> bool:
    """Whether the blank's surfaces that a hole goes through are square to it over its whole width."""
    body = metal.blank.blocks[0]
    if bore.axis == body.axis:
        return True
    across = (
        0 if plane_axes(bore.axis)[0] != body.axis else 1
    )  # the coordinate that lies in the plane of the body's outline
    r = bore.radius + bore.hole.slot_extra / 2.0
    seen = []
    for off in (-r + SAME, 0.0, r - SAME):
        at = (bore.at[0] + off, bore.at[1]) if across == 0 else (bore.at[0], bore.at[1] + off)
        seen.append(between(body.along(bore.axis, at), *_swept(bore)))
    return all(_same_spans(seen[1], spans) for spans in seen)


def _swept(bore: Bore) -> tuple[float, float]:
    """From where to where the tool cuts: it comes from outside, and goes on outside when it goes through."""
    through, far = bore.hole.depth is None, bore.hole.face.far
    return -inf if through or not far else bore.low, inf if through or far else bore.high


def _same_spans(one: Spans, other: Spans) -> bool:
    ends = zip(one, other, strict=False)
    return len(one) == len(other) and all(abs(a - b) < SAME for s, t in ends for a, b in zip(s, t, strict=True))


def _straddles(bore: Bore, step: Step, metal: Metal) -> bool:
    """Whether a hole meets a feature's wall, floor or end other than squarely and with its whole width."""
    block = step.block
    if bore.axis == block.axis:
        low, high = _swept(bore)
        if min(high, block.high) - max(low, block.low) <= SAME:
            return False
        shape = bore.hole.outline
        if shape.diameter is not None:
            radius = bore.radius_between(block.low, block.high)
            return abs(block.outline.distance_to_edge(bore.at)) < radius - SAME
        return block.outline.gap(shape) == 0.0 or shape.contains(block.outline.points[0])
    return not _passes_squarely(bore, step, metal)


def _passes_squarely(bore: Bore, step: Step, metal: Metal) -> bool:
    """Whether a hole square to a feature's own direction keeps clear of it, or goes right through it."""
    block, r = step.block, bore.radius + bore.hole.slot_extra / 2.0
    fixed = dict(zip(plane_axes(bore.axis), bore.at, strict=True))
    first, second = plane_axes(block.axis)
    at = fixed[second if bore.axis == first else first]
    level = fixed[block.axis]
    seen = [
        between(block.outline.spans(0 if bore.axis == first else 1, at + off), *_swept(bore))
        for off in (-r + SAME, 0.0, r - SAME)
    ]
    if not any(seen) or level + r <= block.low + SAME or level - r >= block.high - SAME:
        return True
    low, high = _open_ends(step, metal)
    return low <= level - r + SAME and level + r <= high + SAME and all(_same_spans(seen[1], one) for one in seen)


def _open_ends(step: Step, metal: Metal) -> tuple[float, float]:
    """Where a feature's block ends, without end on the side on which it is open."""
    block, face = step.block, step.feature.face
    if step.adds:
        return block.low, block.high
    if isinstance(step.feature, Pocket) and step.feature.depth is None:
        return -inf, inf
    return (block.low, inf) if face.far else (-inf, block.high)


def _into_chamfer(bore: Bore, metal: Metal) -> bool:
    """Whether a hole's rim cuts the blank's chamfered edge."""
    chamfer, blank = metal.blank.edge_chamfer, metal.blank
    if chamfer == 0.0:
        return False
    if bore.axis == 2:
        inside = blank.plan.distance_to_edge(bore.at)
        if bore.hole.slot_extra > 0.0:
            return inside < 0.0 or blank.plan.gap(bore.hole.outline) < chamfer - SAME
        return inside - bore.radius < chamfer - SAME
    _, low, _, high = bore.hole.outline.bounds
    return low < chamfer - SAME or high > blank.thickness - chamfer + SAME


def _chamfered(place: str) -> Finding:
    return Finding(
        code="hole-into-chamfer",
        severity=Severity.CAUTION,
        place=place,
        message="the hole's rim cuts the chamfered edge",
        rule="a hole's rim lies on one face, or its drill wanders and its mass is not what is said",
        source=COMMON_PRACTICE,
        remedy="move the hole, or make the chamfer smaller",
    )


def _stop(place: str, message: str, remedy: str) -> Finding:
    return Finding(
        code="features-meet",
        severity=Severity.STOP,
        place=place,
        message=message,
        rule="each feature wholly in metal or wholly out of it, so that sizes and mass are what they say",
        source=COMMON_PRACTICE,
        remedy=remedy,
    )


def _broken_through(place: str, far: float) -> Finding:
    return Finding(
        code="drill-point-breaks-through",
        severity=Severity.CAUTION,
        place=place,
        message="a hole drawn blind comes out on the far side with its drill point",
        figure=Figure(value=far),
        limit=Figure(value=0.0),
        rule="a blind hole ends in metal",
        source=COMMON_PRACTICE,
        remedy="make it less deep, or drill it through",
    )
