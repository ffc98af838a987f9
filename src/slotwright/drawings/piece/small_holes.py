"""Which small holes of a bar have enlarged details: those that stand near each other share one, with their tags in it.

Of holes that can just be told apart and stand alone, or find no room in details, one of each size is enlarged, and all
keep their tags on the plan.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot
from typing import TypeAlias

from slotwright.drawings.details import LARGEST, LEAST, LEAST_CIRCLE, Detail, free_letters, scales_for
from slotwright.drawings.paper.revision_signs import tag_size
from slotwright.drawings.paper.sheet import Point
from slotwright.drawings.paper.style import Style
from slotwright.drawings.typical import small_hole, typical_details
from slotwright.drawings.views import reach
from slotwright.pieces.features import Hole
from slotwright.pieces.hole_groups import TaggedHole, hole_groups, tagged_holes
from slotwright.pieces.piece import Piece

JUST_READABLE = 1.8  # diameter of a hole that can still be tagged on the plan, mm on paper; our choice
CLOSE = 10.0  # holes that stand nearer than this on the plan's paper share a detail, mm; our choice
MOST_SMALL = 40  # small holes that details may show; our choice
TAG_ROOM = 4.0  # between hole and circle beyond the length of a tag, mm on paper; our choice

_Tagged: TypeAlias = Sequence[TaggedHole]


def details_of(piece: Piece, scale: float, style: Style, below: float = LEAST) -> tuple[Detail, ...] | None:
    """Return the details a plan at a scale needs, from left to right; None where details can't show all.

    Args:
        piece: its holes are drawn from above.
        scale: of the plan, paper over model.
        style: gives the preferred scales.
        below: diameter of the largest hole that has its tag in a detail with others near it, mm on paper.
    """
    tagged, letters = tagged_holes(piece), free_letters(piece)
    small = [one for one in tagged if one.hole.diameter * scale < below]
    if len(small) > MOST_SMALL:
        return None
    clusters = [c for c in _clusters(small, CLOSE / scale) if len(c) > 1 or not _readable(c[0], scale)]
    if len(clusters) > len(letters):
        return None
    found: list[Detail] = []
    for letter, cluster in zip(letters, clusters, strict=False):
        detail = _detail(letter, cluster, tagged, scale, style)
        if detail is None or any(detail.meets(other) for other in found):
            return None
        found.append(detail)
    inside = {one.tag for detail in found for one in detail.holes}
    left = {group: [one.hole for one in group.holes if one.tag not in inside] for group in hole_groups(piece)}
    smalls = [small_hole(group, holes) for group, holes in left.items() if holes]
    more = typical_details(smalls, scale, style, letters[len(found) :], found)
    return None if more is None else (*found, *more)


def _clusters(small: Sequence[TaggedHole], near: float) -> list[list[TaggedHole]]:
    """Group holes that stand near each other, from left to right."""
    clusters: list[list[TaggedHole]] = []
    for one in sorted(small, key=lambda t: (t.hole.x, t.hole.y)):
        joined = [c for c in clusters if any(_apart(one.hole, other.hole) < near for other in c)]
        clusters = [c for c in clusters if c not in joined]
        clusters.append([*(other for c in joined for other in c), one])
    return sorted(clusters, key=lambda c: min(t.hole.x for t in c))


def _readable(one: TaggedHole, scale: float) -> bool:
    return one.hole.diameter * scale >= JUST_READABLE


def _apart(a: Hole, b: Hole) -> float:
    return hypot(a.x - b.x, a.y - b.y) - max(reach(a)) - max(reach(b))


def _detail(letter: str, cluster: _Tagged, tagged: _Tagged, scale: float, style: Style) -> Detail | None:
    xs, ys = [t.hole.x for t in cluster], [t.hole.y for t in cluster]
    centre = ((min(xs) + max(xs)) / 2.0, (min(ys) + max(ys)) / 2.0)
    least = min(t.hole.diameter for t in cluster)
    for larger in scales_for(least, scale, style):
        radius, inside = _circle(centre, cluster, tagged, LEAST_CIRCLE / scale, larger, style)
        if larger * radius <= LARGEST:
            return Detail(letter, centre, radius, larger, tuple(inside))
    return None


def _circle(
    centre: Point,
    cluster: Sequence[TaggedHole],
    tagged: Sequence[TaggedHole],
    lowest: float,
    scale: float,
    style: Style,
) -> tuple[float, list[TaggedHole]]:
    """Return the radius of a circle that cuts no hole and has room for tags, and the holes in it."""
    inside = list(cluster)
    radius = 0.0
    for _ in tagged:  # each turn takes in what the circle would cut; it can't take in more than there is
        tags = max(tag_size(one, style.text)[0] for one in inside) + TAG_ROOM
        radius = max(max(_far(t.hole, centre) for t in inside) + tags / scale, lowest)
        inside = [t for t in tagged if _near(t.hole, centre) < radius]
        if all(_far(t.hole, centre) < radius for t in inside):
            break
    return radius, inside


def _far(hole: Hole, centre: Point) -> float:
    return hypot(hole.x - centre[0], hole.y - centre[1]) + max(reach(hole))


def _near(hole: Hole, centre: Point) -> float:
    return hypot(hole.x - centre[0], hole.y - centre[1]) - max(reach(hole))


def zones(details: Sequence[Detail], scale: float) -> Iterator[float]:
    """Yield places along X, closely, where no break may run: those the details' circles take up."""
    for detail in details:
        reach_out = detail.radius + 4.0 / scale
        count = int(2.0 * reach_out * scale / 8.0) + 2
        yield from (detail.centre[0] - reach_out + 2.0 * reach_out * n / count for n in range(count + 1))


def untagged(piece: Piece, details: Sequence[Detail]) -> tuple[TaggedHole, ...]:
    """Return the holes whose tags stand on the plan: all but those in details."""
    shown = {one.tag for detail in details for one in detail.holes}
    return tuple(one for one in tagged_holes(piece) if one.tag not in shown)
