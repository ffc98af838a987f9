"""Convex hulls, and how far two of them reach into each other."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from slotwright.pieces.outline import Outline
from slotwright.pieces.segment import Point

STRAY = 0.01
"""Arcs are taken as chords that stray from them by no more than this, mm; a hull is too small by that at most."""


def hull(points: Iterable[Point]) -> tuple[Point, ...]:
    """Return the corners of the convex hull, counter-clockwise, without points on its sides."""
    row = sorted(set(points))
    if len(row) < 3:
        return tuple(row)
    return (*_half(row)[:-1], *_half(row[::-1])[:-1])


def _half(row: Sequence[Point]) -> list[Point]:
    """The lower side of a hull, over points sorted by x (or the upper one, over points sorted the other way)."""
    kept: list[Point] = []
    for point in row:
        while len(kept) > 1 and _turn(kept[-2], kept[-1], point) <= 0.0:
            kept.pop()
        kept.append(point)
    return kept


def _turn(a: Point, b: Point, c: Point) -> float:
    """Positive when the way from a over b to c turns left."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def penetration(a: Outline, b: Outline) -> float:
    """Return the least shift that takes the hulls of two outlines apart, mm; negative when they stand clear.

    By separating axes: two convex polygons are apart if and only if a line along a side of one of them parts them. For
    arcs the figure is too small by at most twice STRAY; for outlines that are not convex it may be too large.
    """
    one, other = (np.array(hull(outline.facets(STRAY))) for outline in (a, b))
    least = float("inf")
    for corners in (one, other):
        sides = np.roll(corners, -1, axis=0) - corners
        outward = np.column_stack((sides[:, 1], -sides[:, 0])) / np.hypot(sides[:, 0], sides[:, 1])[:, None]
        ours, theirs = one @ outward.T, other @ outward.T
        forward, backward = ours.max(axis=0) - theirs.min(axis=0), theirs.max(axis=0) - ours.min(axis=0)
        least = min(least, float(np.minimum(forward, backward).min()))
    return least
