"""Whether the sides of a closed chain keep clear of each other."""

from __future__ import annotations

from collections.abc import Sequence
from math import dist

from slotwright.pieces.segment import SAME_POINT, Point, Segment


def first_fault(chain: Sequence[Segment]) -> str | None:
    """Return what is wrong with a closed chain of sides, naming two sides and a place, or None."""
    count = len(chain)
    boxed = sorted(((*side.bounds(), number) for number, side in enumerate(chain)))
    for place, (_, y0, x1, y1, number) in enumerate(boxed):
        for a0, b0, _, b1, other in boxed[place + 1 :]:
            if a0 > x1 + SAME_POINT:
                break
            if b0 <= y1 + SAME_POINT and y0 <= b1 + SAME_POINT:
                met = _wrongly_met(chain[number], chain[other])
                if met is not None:
                    one, two = sorted((number + 1, other + 1))
                    return f"sides {one} and {two} of {count} meet at {met[0]:.4g}, {met[1]:.4g} mm; draw it anew"
    return None


def _wrongly_met(a: Segment, b: Segment) -> Point | None:
    """Where two sides meet other than at a corner they share, or None."""
    shared = [p for p in (a.start, a.end) if min(dist(p, b.start), dist(p, b.end)) < SAME_POINT]
    ends = [p for p in (a.start, a.end) if b.distance(p) < SAME_POINT]
    ends += [p for p in (b.start, b.end, b.at(0.5)) if a.distance(p) < SAME_POINT]
    for point in (*a.crossings(b), *ends):
        # Two sides that run on into each other seem to meet all along a short stretch beside their corner.
        near = 1e-4 if shared else SAME_POINT
        if all(dist(point, p) > near for p in shared):
            return point
    return None
