"""Curves in space by shares of their length or, where two rounded walls meet, of a coordinate."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from typing import TypeAlias

import numpy as np

from slotwright.drawings.shapes.sight import Array
from slotwright.pieces.faces import Vector, plane_axes
from slotwright.pieces.segment import Point, Segment

SHORTEST = 1e-5  # mm


@dataclass(frozen=True)
class Straight:
    """A straight line between two points."""

    start: Vector
    end: Vector

    def at(self, shares: Array) -> Array:
        """Return its points, one a row, at shares from 0 to 1."""
        start = np.array(self.start)
        points: Array = start + shares[:, None] * (np.array(self.end) - start)
        return points


@dataclass(frozen=True)
class Rounded:
    """An arc in a plane square to an axis."""

    axis: int
    level: float
    side: Segment

    def at(self, shares: Array) -> Array:
        """Return its points, one a row, at shares from 0 to 1."""
        angle = self.side.start_angle + self.side.sweep * shares
        (x, y), r = self.side.centre, self.side.radius
        first, second = plane_axes(self.axis)
        points = np.empty((len(shares), 3))
        points[:, first], points[:, second] = x + r * np.cos(angle), y + r * np.sin(angle)
        points[:, self.axis] = self.level
        return points


@dataclass(frozen=True)
class Course:
    """Part of a side of an outline that never turns back along one coordinate, and so can be told from it."""

    side: Segment
    index: int  # of the coordinate it is told from
    start: Point
    end: Point

    @property
    def level(self) -> bool:
        """Whether its other coordinate is the same all along."""
        return not self.side.bulge and abs(self.start[1 - self.index] - self.end[1 - self.index]) < SHORTEST

    def other(self, at: Array) -> Array:
        """Return its other coordinate."""
        i, j = self.index, 1 - self.index
        if not self.side.bulge:
            share = (at - self.start[i]) / (self.end[i] - self.start[i])
            return self.start[j] + share * (self.end[j] - self.start[j])
        centre, r = self.side.centre, self.side.radius
        half = np.sqrt(np.maximum(0.0, r * r - (at - centre[i]) ** 2))
        return centre[j] + half if (self.start[j] + self.end[j]) / 2.0 > centre[j] else centre[j] - half


@dataclass(frozen=True)
class Woven:
    """Where two walls drawn out along different axes meet: told from the coordinate that both outlines have."""

    axis: int
    low: float
    high: float
    ways: tuple[tuple[int, Course], tuple[int, Course]]  # which coordinate each course tells

    def at(self, shares: Array) -> Array:
        """Return its points, one a row, at shares from 0 to 1; closer together toward its ends."""
        at = (self.low + self.high) / 2.0 - (self.high - self.low) / 2.0 * np.cos(pi * shares)
        points = np.empty((len(shares), 3))
        points[:, self.axis] = at
        for axis, course in self.ways:
            points[:, axis] = course.other(at)
        return points


Ridge: TypeAlias = Straight | Rounded | Woven
