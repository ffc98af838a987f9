"""The outline of a hole cut along its axis: the one shape behind hidden lines, sections and hatching.

Profile frame: u across from the hole's axis, z up from the bottom of the piece, mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin
from typing import Literal, TypeAlias

from slotwright.drawings.paper.sheet import Point
from slotwright.pieces.features import Face, Hole

Axis: TypeAlias = Literal["x", "y"]


@dataclass(frozen=True, slots=True)
class Profile:
    """A hole seen from the side.

    Attributes:
        walls: lines of the bore, drill point and counterbore.
        crests: lines of the thread's major diameter and of the end of the full thread.
        void: outline of the removed metal.
        bottom, top: where its axis starts and ends.
        half_width: widest half.
    """

    walls: tuple[tuple[Point, ...], ...]
    crests: tuple[tuple[Point, ...], ...]
    void: tuple[Point, ...]
    bottom: float
    top: float
    half_width: float


def profile(hole: Hole, thickness: float, axis: Axis = "x") -> Profile:
    """Return the outline of a hole in metal of this thickness, seen square to the axis named.

    Args:
        hole: the hole; its place does not matter.
        thickness: of the piece, mm.
        axis: piece axis that u runs along: "x" in the front elevation, "y" in the end view.
    """
    half = hole.diameter / 2.0 + _slot_half(hole, axis)
    right = tuple(_right_wall(hole, thickness, half))
    left = tuple((-u, depth) for u, depth in right)
    walls = [right, left, *_shoulders(hole, half)]
    crests = _crests(hole, thickness, half)
    void = _distinct((*right, *reversed(left)))
    ends = _risen(((0.0, 0.0), (0.0, right[-1][1])), hole, thickness)
    return Profile(
        tuple(_risen(line, hole, thickness) for line in walls),
        tuple(_risen(line, hole, thickness) for line in crests),
        _risen(void, hole, thickness),
        min(z for _, z in ends),
        max(z for _, z in ends),
        max(u for line in (*walls, *crests) for u, _ in line),
    )


def _slot_half(hole: Hole, axis: Axis) -> float:
    if not hole.slot_extra:
        return 0.0
    turn = radians(hole.slot_angle)
    return round(hole.slot_extra / 2.0 * abs(cos(turn) if axis == "x" else sin(turn)), 12)


def _right_wall(hole: Hole, thickness: float, half: float) -> list[Point]:
    """The wall from the face down, as (u, depth below the face), to the axis where a drill point ends on it."""
    points: list[Point] = []
    if hole.counterbore is not None:
        wide = hole.counterbore.diameter / 2.0 + half - hole.diameter / 2.0
        points += [(wide, 0.0), (wide, hole.counterbore.depth), (half, hole.counterbore.depth)]
    else:
        points.append((half, 0.0))
    depth = thickness if hole.depth is None else hole.depth
    points.append((half, depth))
    if hole.depth is not None:
        points.append((0.0, depth + hole.point_length))
    return points


def _shoulders(hole: Hole, half: float) -> list[tuple[Point, ...]]:
    """Edges that run right across: where the drill point starts, and the floor of a counterbore."""
    lines: list[tuple[Point, ...]] = []
    if hole.depth is not None and hole.point_length:
        lines.append(((-half, hole.depth), (half, hole.depth)))
    if hole.counterbore is not None:
        lines.append(((-half, hole.counterbore.depth), (half, hole.counterbore.depth)))
    return lines


def _crests(hole: Hole, thickness: float, half: float) -> list[tuple[Point, ...]]:
    if hole.thread is None:
        return []
    crest = hole.thread.major / 2.0 + half - hole.diameter / 2.0
    start = hole.counterbore.depth if hole.counterbore is not None else 0.0
    full = thickness if hole.depth is None else hole.depth
    end = full if hole.thread_depth is None else min(hole.thread_depth, full)
    lines: list[tuple[Point, ...]] = [((u, start), (u, end)) for u in (-crest, crest)]
    if end < thickness:
        lines.append(((-crest, end), (crest, end)))
    return lines


def _risen(points: tuple[Point, ...], hole: Hole, thickness: float) -> tuple[Point, ...]:
    """Turn depth below the starting face into height above the bottom."""
    if hole.face is Face.BOTTOM:
        return points
    return tuple((u, thickness - depth) for u, depth in points)


def _distinct(points: tuple[Point, ...]) -> tuple[Point, ...]:
    """Drop a point equal to the one before it."""
    return tuple(p for n, p in enumerate(points) if n == 0 or p != points[n - 1])
