"""Where the metal of a piece is before its holes are made, and how much of it each feature adds or takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import inf, pi
from typing import TypeAlias

from slotwright.pieces.amount import Amount, total
from slotwright.pieces.blanks import EVERYWHERE, Blank
from slotwright.pieces.block import Block, Spans, between, joined, without
from slotwright.pieces.faces import Face, Frame, Vector, frame, plane_axes
from slotwright.pieces.features import Groove, Hole, Pocket, Tenon
from slotwright.pieces.outline import Outline
from slotwright.pieces.segment import Point

Shaped: TypeAlias = Tenon | Groove | Pocket


@dataclass(frozen=True, slots=True)
class Step:
    """One feature with the block of metal it adds, or of air it makes, from the surface there to its floor or end."""

    feature: Shaped
    block: Block

    @property
    def adds(self) -> bool:
        """Whether it adds metal."""
        return isinstance(self.feature, Tenon)


@dataclass(frozen=True, slots=True)
class Metal:
    """A blank with its tenons, grooves and pockets, in the order they are made."""

    blank: Blank
    steps: tuple[Step, ...] = ()

    @classmethod
    def of(cls, blank: Blank, features: Iterable[Shaped]) -> Metal:
        """Put features on a blank, one after another."""
        metal = cls(blank)
        for feature in features:
            metal = cls(blank, (*metal.steps, Step(feature, metal.block(feature))))
        return metal

    @property
    def size(self) -> Vector:
        """Length, width and thickness of the blank."""
        return self.blank.length, self.blank.width, self.blank.thickness

    @property
    def bounds(self) -> tuple[Vector, Vector]:
        """Lower and upper corner of the bounding box, tenons included."""
        boxes = [((0.0, 0.0, 0.0), self.size), *(step.block.bounds for step in self.steps if step.adds)]
        low, high = (tuple(zip(*corners, strict=True)) for corners in zip(*boxes, strict=True))
        return (min(low[0]), min(low[1]), min(low[2])), (max(high[0]), max(high[1]), max(high[2]))

    def frame(self, face: Face) -> Frame:
        """Return a face's frame in the piece frame."""
        return frame(face, self.size)

    def outline(self, feature: Shaped) -> Outline:
        """Return the outline of a feature in the frame of its face."""
        if not isinstance(feature, Groove):
            return feature.outline
        first, second = plane_axes(feature.face.axis)
        return feature.outline(self.size[first if feature.along == "x" else second])

    def along(self, axis: int, at: Point) -> Spans:
        """Return where a line along an axis of the piece frame runs in metal.

        Args:
            axis: of the line.
            at: its place along the two other axes, in their order, mm.
        """
        body, *taken = self.blank.blocks
        spans = body.along(axis, at)
        for block in taken:
            spans = without(spans, block.along(axis, at))
        for step in self.steps:
            spans = (joined if step.adds else without)(spans, step.block.along(axis, at))
        return spans

    def depths(self, face: Face, at: Point) -> Spans:
        """Return where the metal is under a place on a face, as depths below the plain face, mm.

        The first number is where the surface lies: 0 on the plain face, more in a pocket's floor or on a step,
        negative on a tenon. A place without any metal is taken to have the whole blank under it.
        """
        size = self.size[face.axis]
        found = self.along(face.axis, at) or ((0.0, size),)
        if face.far:
            return tuple((size - end, size - start) for start, end in reversed(found))
        return found

    def surface(self, face: Face, at: Point) -> float:
        """Return the depth of the surface below the plain face, mm; negative on a tenon."""
        return self.depths(face, at)[0][0]

    def block(self, feature: Shaped) -> Block:
        """Return the block that a further feature would add or take."""
        outline, face = self.outline(feature), feature.face
        match feature:
            case Groove():
                start, end = 0.0, feature.depth
            case Tenon():
                end = self.surface(face, outline.inner_point)
                start = end - feature.height
            case Pocket():
                spans = self.depths(face, outline.inner_point)
                start = spans[0][0]
                end = spans[-1][1] if feature.depth is None else start + feature.depth
        if face.far:
            start, end = self.size[face.axis] - end, self.size[face.axis] - start
        return Block(face.axis, outline, start, end)

    def amount(self) -> Amount:
        """Return all metal. Closed form while features that should not meet do not."""
        befores = (Metal(self.blank, self.steps[:number]) for number in range(len(self.steps)))
        changes = (before._change(step) for before, step in zip(befores, self.steps, strict=True))
        return total((self.blank.within(*EVERYWHERE), *changes))

    def _change(self, step: Step) -> Amount:
        """What a step adds to the metal before it, or takes from it."""
        block = step.block
        match step.feature:
            case Tenon():
                return block.amount
            case Groove() as groove:
                box = self.blank.within(*straight_part(groove, block))
                crossings = (self._crossing(groove, block, other) for other in self.steps)
                return total((box, *_round_ends(groove, block), *crossings)).times(-1.0)
            case Pocket():
                spans = between(self.along(block.axis, block.outline.inner_point), block.low, block.high)
                parts = (Block(block.axis, block.outline, *span) for span in spans)
                return total(part.amount for part in parts).times(-1.0)

    def _crossing(self, groove: Groove, block: Block, other: Step) -> Amount:
        """What an earlier groove has already taken of a further one, as a negative amount."""
        if not isinstance(other.feature, Groove):
            return total(())
        (low, high), (start, end) = straight_part(groove, block), straight_part(other.feature, other.block)
        lower = max(low[0], start[0]), max(low[1], start[1]), max(low[2], start[2])
        upper = min(high[0], end[0]), min(high[1], end[1]), min(high[2], end[2])
        met = all(a < b for a, b in zip(lower, upper, strict=True))
        return self.blank.within(lower, upper).times(-1.0) if met else total(())

    def taken_by(self, hole: Hole) -> Amount:
        """Return the metal a hole takes, its thread at the tap drill's size. Closed form while it meets no other."""
        place, spans = self.frame(hole.face), self.depths(hole.face, (hole.x, hole.y))
        parts = hole_parts(hole, spans)
        return total(Amount.at(volume, place.point(hole.x, hole.y, depth)) for volume, depth in parts)


def step_names(metal: Metal) -> tuple[str, ...]:
    """Return what to call each feature in words, such as "pocket 2" or its own label, in the order of the steps."""
    counts: dict[str, int] = {}
    names = []
    for step in metal.steps:
        kind = type(step.feature).__name__.lower()
        counts[kind] = counts.get(kind, 0) + 1
        names.append(step.feature.label or f"{kind} {counts[kind]}")
    return tuple(names)


def hole_parts(hole: Hole, spans: Spans) -> Iterator[tuple[float, float]]:
    """Yield the volumes a hole takes, mm3, each with the depth of its centroid below the face, mm.

    Args:
        hole: the hole.
        spans: where its axis runs in metal, as depths below its face.
    """
    start = spans[0][0]
    end = inf if hole.depth is None else start + hole.depth
    for a, b in between(spans, start, end):
        yield hole.area * (b - a), (a + b) / 2.0
    if hole.point_length:
        yield pi / 12.0 * hole.diameter**2 * hole.point_length, end + hole.point_length / 4.0
    if hole.counterbore is not None:
        wide, narrow = hole.counterbore.diameter, hole.diameter
        ring = pi / 4.0 * (wide**2 - narrow**2) + hole.slot_extra * (wide - narrow)
        for a, b in between(spans, start, start + hole.counterbore.depth):
            yield ring * (b - a), (a + b) / 2.0
    if hole.countersink is not None:
        r, high = hole.diameter / 2.0, hole.sink_depth
        wider = hole.countersink.diameter / 2.0 - r
        volume = pi * high * wider * (r + wider / 3.0)  # a frustum less the bore
        yield volume, start + pi * high**2 * wider * (r / 3.0 + wider / 12.0) / volume


def _along_axis(groove: Groove) -> int:
    first, second = plane_axes(groove.face.axis)
    return first if groove.along == "x" else second


def straight_part(groove: Groove, block: Block) -> tuple[Vector, Vector]:
    """Return the box of a groove without its half-round ends, unbounded where it runs out."""
    bounds, axis = block.bounds, _along_axis(groove)
    low, high = list(bounds[0]), list(bounds[1])
    low[axis] = -inf if groove.start is None else groove.start + groove.width / 2.0
    high[axis] = inf if groove.end is None else groove.end - groove.width / 2.0
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])


def _round_ends(groove: Groove, block: Block) -> Iterator[Amount]:
    """The half cylinders at a groove's closed ends."""
    r, axis = groove.width / 2.0, _along_axis(groove)
    middle = [(a + b) / 2.0 for a, b in zip(*block.bounds, strict=True)]
    for end, out in ((groove.start, -1.0), (groove.end, 1.0)):
        if end is not None:
            middle[axis] = end - out * r + out * 4.0 * r / (3.0 * pi)
            yield Amount.at(pi * r * r / 2.0 * (block.high - block.low), (middle[0], middle[1], middle[2]))
