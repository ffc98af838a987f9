"""Blocks: outlines drawn out square to their plane. Blanks, tenons, grooves and pockets are all made of them."""

from __future__ import annotations

from dataclasses import dataclass

from slotwright.pieces.amount import Amount
from slotwright.pieces.faces import Vector, plane_axes
from slotwright.pieces.outline import Outline
from slotwright.pieces.segment import Point

Spans = tuple[tuple[float, float], ...]
"""Stretches along a line: from, to; in rising order and apart from each other, mm."""


@dataclass(frozen=True, slots=True)
class Block:
    """An outline drawn out along one axis of the piece frame.

    Attributes:
        axis: 0 for X, 1 for Y, 2 for Z.
        outline: in the plane of the two other axes, in their order.
        low, high: from where to where along the axis, mm; may be infinite.
    """

    axis: int
    outline: Outline
    low: float
    high: float

    @property
    def bounds(self) -> tuple[Vector, Vector]:
        """Lower and upper corner of its bounding box."""
        x0, y0, x1, y1 = self.outline.bounds
        return self._point(x0, y0, self.low), self._point(x1, y1, self.high)

    def along(self, axis: int, at: Point) -> Spans:
        """Return where a line along an axis runs inside it.

        Args:
            axis: of the line.
            at: its place along the two other axes, in their order.
        """
        if axis == self.axis:
            return ((self.low, self.high),) if self.outline.contains(at) else ()
        fixed = dict(zip(plane_axes(axis), at, strict=True))
        if not self.low < fixed[self.axis] < self.high:
            return ()
        first, second = plane_axes(self.axis)
        return self.outline.spans(0 if axis == first else 1, fixed[second if axis == first else first])

    @property
    def amount(self) -> Amount:
        """All of it. Closed form."""
        area, mx, my = self.outline.moments()
        thick, middle = self.high - self.low, (self.low + self.high) / 2.0
        return Amount(area * thick, self._point(mx * thick, my * thick, area * thick * middle))

    def within(self, low: Vector, high: Vector) -> Amount:
        """Return what of it a box holds, given by the box's lower and upper corner. Closed form."""
        first, second = plane_axes(self.axis)
        start, end = max(self.low, low[self.axis]), min(self.high, high[self.axis])
        if start >= end:
            return Amount(0.0, (0.0, 0.0, 0.0))
        area, mx, my = self.outline.moments((low[first], low[second]), (high[first], high[second]))
        thick, middle = end - start, (start + end) / 2.0
        return Amount(area * thick, self._point(mx * thick, my * thick, area * thick * middle))

    def _point(self, u: float, v: float, w: float) -> Vector:
        """Put coordinates in the outline's plane and along the axis in the order X, Y, Z."""
        placed = dict(zip((*plane_axes(self.axis), self.axis), (u, v, w), strict=True))
        return placed[0], placed[1], placed[2]


def joined(one: Spans, other: Spans) -> Spans:
    """Return the stretches that lie in one or the other; those that touch become one."""
    found: list[tuple[float, float]] = []
    for start, end in sorted((*one, *other)):
        if found and start <= found[-1][1] + 1e-9:
            found[-1] = (found[-1][0], max(found[-1][1], end))
        else:
            found.append((start, end))
    return tuple(found)


def without(spans: Spans, taken: Spans) -> Spans:
    """Return the stretches less those taken away."""
    left = list(spans)
    for start, end in taken:
        pieces = [((a, min(b, start)), (max(a, end), b)) for a, b in left]
        left = [(a, b) for pair in pieces for a, b in pair if b - a > 1e-9]
    return tuple(left)


def between(spans: Spans, start: float, end: float) -> Spans:
    """Return what of the stretches lies from start to end."""
    cut = ((max(a, start), min(b, end)) for a, b in spans)
    return tuple((a, b) for a, b in cut if b - a > 1e-9)
