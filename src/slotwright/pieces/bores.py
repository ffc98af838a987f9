"""Holes as they lie in the piece: axis, reach and width of each, whatever face it starts from."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, inf, radians, sin

from slotwright.pieces.block import Spans
from slotwright.pieces.faces import Vector, plane_axes
from slotwright.pieces.features import Hole
from slotwright.pieces.metal import Metal
from slotwright.pieces.segment import Point


@dataclass(frozen=True, slots=True)
class Bore:
    """One hole in the piece frame.

    Attributes:
        hole: what it is.
        low, high: where it starts and ends along its axis, the drill point counted, mm.
        metal_low, metal_high: ends of the stretch of metal it starts in.
    """

    hole: Hole
    low: float
    high: float
    metal_low: float
    metal_high: float

    @property
    def axis(self) -> int:
        """0 for X, 1 for Y, 2 for Z."""
        return self.hole.face.axis

    @property
    def at(self) -> Point:
        """Its place along the two other axes."""
        return self.hole.x, self.hole.y

    @property
    def radius(self) -> float:
        """Half its widest, mm."""
        return self.hole.widest / 2.0

    def radius_between(self, low: float, high: float) -> float:
        """Half its widest between two levels along its axis, mm; a counterbore counts in itself and before it."""
        hole = self.hole
        wide = hole.sink_depth if hole.counterbore is None else hole.counterbore.depth
        first, last = (self.high - wide, inf) if hole.face.far else (-inf, self.low + wide)
        if min(last, high) > max(first, low):
            return self.radius
        return max(hole.diameter, hole.thread.major if hole.thread is not None else 0.0) / 2.0

    @property
    def ends(self) -> tuple[Point, Point]:
        """Ends of a slotted hole's middle line on its face; twice the same point for a round hole."""
        half, way = self.hole.slot_extra / 2.0, radians(self.hole.slot_angle)
        dx, dy = half * cos(way), half * sin(way)
        (x, y) = self.at
        return (x - dx, y - dy), (x + dx, y + dy)

    @property
    def axis_box(self) -> tuple[Vector, Vector]:
        """Lower and upper corner of the box that just holds its axis, or its axes when slotted."""
        (x0, y0), (x1, y1) = self.ends
        corners = []
        for u, v, w in ((min(x0, x1), min(y0, y1), self.low), (max(x0, x1), max(y0, y1), self.high)):
            placed = dict(zip((*plane_axes(self.axis), self.axis), (u, v, w), strict=True))
            corners.append((placed[0], placed[1], placed[2]))
        return corners[0], corners[1]


def bores(metal: Metal, holes: tuple[Hole, ...]) -> tuple[Bore, ...]:
    """Return all holes as they lie in the piece, in their order."""
    return tuple(_bore(hole, metal.depths(hole.face, (hole.x, hole.y)), metal) for hole in holes)


def _bore(hole: Hole, spans: Spans, metal: Metal) -> Bore:
    start = spans[0][0]
    end = spans[-1][1] if hole.depth is None else start + hole.depth + hole.point_length
    ends = (start, end), spans[0]
    if hole.face.far:
        size = metal.size[hole.face.axis]
        ends = (size - end, size - start), (size - spans[0][1], size - start)
    return Bore(hole, *ends[0], *ends[1])
