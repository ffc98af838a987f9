"""A piece as bodies that add metal or take it away, holes and chamfered rims included, in the order they are made.

Every body says where a line along an axis of the piece frame runs inside it; so what is seen from a side, what is
hidden and what a section cuts follow without a CAD kernel.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from math import dist, radians, sqrt, tan
from typing import Protocol

from slotwright.pieces.blanks import Bar, Disc, Plate
from slotwright.pieces.block import Block, Spans, joined, without
from slotwright.pieces.faces import Vector, plane_axes
from slotwright.pieces.features import Hole
from slotwright.pieces.metal import Metal
from slotwright.pieces.outline import Outline, circle, obround
from slotwright.pieces.piece import Piece
from slotwright.pieces.segment import Point

FAR = 1e5  # beyond any piece, mm


class Body(Protocol):
    """A shape of metal or air."""

    @property
    def bounds(self) -> tuple[Vector, Vector]:
        """Lower and upper corner of a box around it."""

    def along(self, axis: int, at: Point) -> Spans:
        """Return where a line along an axis runs inside it; at is its place along the two other axes."""


@dataclass(frozen=True, slots=True)
class Cone:
    """A frustum or cone about a line along an axis: radius r0 at low, r1 at high."""

    axis: int
    centre: Point
    low: float
    high: float
    r0: float
    r1: float

    @property
    def bounds(self) -> tuple[Vector, Vector]:
        """Lower and upper corner of its bounding box."""
        r, (x, y) = max(self.r0, self.r1), self.centre
        return _point(self.axis, x - r, y - r, self.low), _point(self.axis, x + r, y + r, self.high)

    def along(self, axis: int, at: Point) -> Spans:
        """Return where a line along an axis runs inside it."""
        rise = (self.r1 - self.r0) / (self.high - self.low)
        if axis == self.axis:
            off = dist(at, self.centre)
            if off >= max(self.r0, self.r1):
                return ()
            cut = self.low + (off - self.r0) / rise
            if off < min(self.r0, self.r1):
                return ((self.low, self.high),)
            return ((cut, self.high),) if rise > 0.0 else ((self.low, cut),)
        fixed = dict(zip(plane_axes(axis), at, strict=True))
        level = fixed[self.axis]
        if not self.low < level < self.high:
            return ()
        radius = self.r0 + rise * (level - self.low)
        place = dict(zip(plane_axes(self.axis), self.centre, strict=True))
        other = next(a for a in range(3) if a not in (axis, self.axis))
        square = radius**2 - (fixed[other] - place[other]) ** 2
        return ((place[axis] - sqrt(square), place[axis] + sqrt(square)),) if square > 0.0 else ()


@dataclass(frozen=True)
class Rimmed:
    """An upright blank whose top and bottom rims are chamfered at 45 degrees."""

    plan: Outline
    thickness: float
    chamfer: float

    @property
    def bounds(self) -> tuple[Vector, Vector]:
        """Lower and upper corner of its bounding box."""
        x0, y0, x1, y1 = self.plan.bounds
        return (x0, y0, 0.0), (x1, y1, self.thickness)

    def along(self, axis: int, at: Point) -> Spans:
        """Return where a line along an axis runs inside it."""
        if axis == 2:
            deep = self.plan.distance_to_edge(at)
            sunk = max(0.0, self.chamfer - deep)
            return ((sunk, self.thickness - sunk),) if deep > 0.0 else ()
        other, z = at
        if not 0.0 < z < self.thickness:
            return ()
        return inset(self.plan, max(0.0, self.chamfer - min(z, self.thickness - z))).spans(axis, other)


@lru_cache(maxsize=256)
def inset(outline: Outline, by: float) -> Outline:
    """Return an outline moved inwards; kept, for neighbouring lines of sight ask the same."""
    return outline.inset(by)


@dataclass(frozen=True, slots=True)
class Made:
    """One body and whether it adds metal; hole is the hole it belongs to, or None."""

    body: Body
    adds: bool
    hole: Hole | None = None


@dataclass(frozen=True)
class Bodies:
    """A piece as bodies in the order they are made.

    Attributes:
        made: the bodies.
        low, high: corners of the box around the piece.
    """

    made: tuple[Made, ...]
    low: Vector
    high: Vector
    _boxes: tuple[tuple[Vector, Vector], ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_boxes", tuple(one.body.bounds for one in self.made))

    @classmethod
    def of(cls, piece: Piece, *, chamfers: bool = True) -> Bodies:
        """Take a piece apart; without chamfers its rims are taken as sharp."""
        metal = piece.metal
        low, high = metal.bounds
        made = [*_blank(piece, chamfers), *(Made(step.block, step.adds) for step in metal.steps)]
        for hole in piece.holes:
            made += [Made(body, False, hole) for body in hole_bodies(hole, metal)]
        return cls(tuple(made), low, high)

    def near(self, axis: int, at: Point, reach: float) -> tuple[Made, ...]:
        """Return the bodies that lines along an axis near a place may meet."""
        p, q = plane_axes(axis)
        u, v = at
        return tuple(
            one
            for one, (low, high) in zip(self.made, self._boxes, strict=True)
            if low[p] - reach < u < high[p] + reach and low[q] - reach < v < high[q] + reach
        )

    def cut(self, axis: int, at: float, keep_high: bool) -> Bodies:
        """Return what is left when all on one side of a plane square to an axis is taken away."""
        square = Outline(((-FAR, -FAR), (FAR, -FAR), (FAR, FAR), (-FAR, FAR)))
        away = Block(axis, square, -FAR, at) if keep_high else Block(axis, square, at, FAR)
        return Bodies((*self.made, Made(away, False)), self.low, self.high)


def spans_of(made: tuple[Made, ...], axis: int, at: Point) -> Spans:
    """Return where a line along an axis runs in metal."""
    spans: Spans = ()
    for one in made:
        met = one.body.along(axis, at)
        if met:
            spans = (joined if one.adds else without)(spans, met)
    return spans


def _blank(piece: Piece, chamfers: bool) -> Iterator[Made]:
    body, *taken = piece.blank.blocks
    blank = piece.blank
    if chamfers and blank.edge_chamfer > 0.0 and isinstance(blank, Bar | Plate | Disc):
        yield Made(Rimmed(blank.plan, blank.thickness, blank.edge_chamfer), True)
    else:
        yield Made(body, True)
    yield from (Made(block, False) for block in taken)


def hole_bodies(hole: Hole, metal: Metal) -> Iterator[Body]:
    """Yield the air of a hole: bore, enlargement, drill point; it stands out of the piece where it enters."""
    axis, size, far = hole.face.axis, metal.size[hole.face.axis], hole.face.far
    spans = metal.depths(hole.face, (hole.x, hole.y))
    start = spans[0][0]
    floor = size + FAR if hole.depth is None else start + hole.depth

    def block(diameter: float, deep: float) -> Block:
        low, high = (size - deep, size + FAR) if far else (-FAR, deep)
        return Block(axis, _across(hole, diameter), low, high)

    def cone(top: float, deep: float, wide: float, narrow: float) -> Cone:
        if far:
            return Cone(axis, (hole.x, hole.y), size - deep, size - top, narrow, wide)
        return Cone(axis, (hole.x, hole.y), top, deep, wide, narrow)

    yield block(hole.diameter, floor)
    if hole.counterbore is not None:
        yield block(hole.counterbore.diameter, start + hole.counterbore.depth)
    if hole.countersink is not None:
        wide = hole.countersink.diameter / 2.0
        yield cone(start, start + wide / tan(radians(hole.countersink.angle / 2.0)), wide, 0.0)
        yield block(hole.countersink.diameter, start)
    if hole.point_length:
        yield cone(floor, floor + hole.point_length, hole.diameter / 2.0, 0.0)


@lru_cache(maxsize=4096)
def _ring(x: float, y: float, diameter: float, extra: float, angle: float) -> Outline:
    return obround(diameter + extra, diameter, (x, y), angle) if extra else circle(diameter, (x, y))


def _across(hole: Hole, diameter: float) -> Outline:
    return _ring(hole.x, hole.y, diameter, hole.slot_extra, hole.slot_angle)


def _point(axis: int, u: float, v: float, w: float) -> Vector:
    placed = dict(zip((*plane_axes(axis), axis), (u, v, w), strict=True))
    return placed[0], placed[1], placed[2]
