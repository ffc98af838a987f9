"""What is seen in the views of a bar's sheet: which outline is the plan, which the side, and where holes are.

Places on paper only serve to tell which words belong to which hole; no size is taken from them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tests.rebuilding.paper import Box, Marks, Path, Point, Ring, Words, away, from_box
from tests.rebuilding.wording import UnreadableError

SAME = 0.05
ROUND = ("OUTLINE", "HIDDEN", "THREAD")
LEAST_GAP = 0.3
"""A tag or its leader belongs to the nearest hole if the next one is further away by this, mm on paper, a narrow
line's width; common practice, no source."""
AT_TAG = 2.0
"""A leader ends so near to its tag, mm on paper; how long words are is only known by eye."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A hole seen from above: its middle on paper, how far it reaches to both sides, and along X if it is a slot."""

    middle: Point
    reach_x: float
    reach_y: float

    def gap(self, box: Box) -> float:
        """Distance of a box from its edge."""
        x, y = self.middle
        half = self.reach_x - self.reach_y
        line = [(x - half, y), (x, y), (x + half, y)] if half > 0.0 else [(x, y - half), (x, y), (x, y + half)]
        return max(0.0, min(from_box(point, box) for point in line) - min(self.reach_x, self.reach_y))


@dataclass(frozen=True, slots=True)
class Views:
    """Boxes on paper of plan and side view, and the holes in the plan."""

    plan: Box
    side: Box
    spots: tuple[Spot, ...]


def find_views(marks: Marks) -> Views:
    """Find the plan, a rectangle with holes in it, and the side view, as long as the plan and beside it."""
    rounds = _rounds(marks)
    outlines = [path.box for path in marks.paths if path.layer == "OUTLINE" and path.closed]
    plans = [box for box in outlines if any(from_box(ring, box) == 0.0 for ring, *_ in rounds)]
    if not plans:
        raise UnreadableError("no view shows holes from above")
    plan = max(plans, key=lambda box: (box[2] - box[0]) * (box[3] - box[1]))
    sides = [box for box in outlines if _as_long(box, plan) and (box[1] > plan[3] or box[3] < plan[1])]
    if not sides:
        raise UnreadableError("no view shows the thickness")
    side = max(sides, key=lambda box: box[3] - box[1])
    return Views(plan, side, _spots(r for r in rounds if from_box(r[0], plan) == 0.0))


def spots_of(marks: Marks) -> tuple[Spot, ...]:
    """All holes seen from above in any view."""
    return _spots(_rounds(marks))


def _as_long(box: Box, plan: Box) -> bool:
    return abs(box[0] - plan[0]) < SAME and abs(box[2] - plan[2]) < SAME


def _rounds(marks: Marks) -> list[tuple[Point, float, float]]:
    """Middle and reaches of every round and slotted shape."""
    found = [(r.centre, r.radius, r.radius) for r in marks.rings if r.layer in ROUND and r.end - r.start >= 270.0]
    halves = [r for r in marks.rings if r.layer in ROUND and abs(r.end - r.start - 180.0) < 1e-6]
    while halves:
        one = halves.pop(0)
        others = [r for r in halves if abs(r.radius - one.radius) < 1e-6 and _faces(one, r)]
        if not others:
            raise UnreadableError(f"half a circle stands alone at {one.centre}")
        other = min(others, key=lambda r: away(r.centre, one.centre))
        halves.remove(other)
        (ax, ay), (bx, by) = one.centre, other.centre
        reach = abs(ax - bx) / 2.0 + one.radius, abs(ay - by) / 2.0 + one.radius
        found.append((((ax + bx) / 2.0, (ay + by) / 2.0), *reach))
    return found


def _faces(a: Ring, b: Ring) -> bool:
    return abs((a.start - b.start) % 360.0 - 180.0) < 1e-6


def _spots(rounds: Iterable[tuple[Point, float, float]]) -> tuple[Spot, ...]:
    """Put what has one middle together."""
    spots: list[Spot] = []
    for middle, reach_x, reach_y in rounds:
        same = next((spot for spot in spots if away(spot.middle, middle) < SAME), None)
        if same is not None:
            spots.remove(same)
            reach_x, reach_y = max(same.reach_x, reach_x), max(same.reach_y, reach_y)
        spots.append(Spot(middle, reach_x, reach_y))
    return tuple(sorted(spots, key=lambda spot: spot.middle))


def match_tags(
    tags: Sequence[Words], leaders: Sequence[Path], spots: Sequence[Spot]
) -> tuple[dict[str, Spot], list[str]]:
    """Say which tag belongs to which hole, by its leader or by nearness, and what is in doubt about that."""
    found: dict[str, Spot] = {}
    doubts: list[str] = []
    for tag in tags:
        lead = _leader_of(tag, leaders)
        gaps = sorted(((spot.gap((*lead, *lead) if lead else tag.box), spot) for spot in spots), key=lambda g: g[0])
        if not gaps:
            doubts.append(f"tag {tag.text} stands where there is no hole")
            continue
        found[tag.text] = gaps[0][1]
        if len(gaps) > 1 and gaps[1][0] < gaps[0][0] + LEAST_GAP:
            doubts.append(f"tag {tag.text} stands as near to another hole: {gaps[0][0]:.1f} and {gaps[1][0]:.1f} mm")
    for spot in spots:
        here = [tag for tag, other in found.items() if other == spot]
        if len(here) != 1:
            x, y = spot.middle
            doubts.append(f"{' and '.join(here) or 'no tag'} at the hole at {x:.1f}, {y:.1f} mm on paper")
    return found, doubts


def _leader_of(tag: Words, leaders: Sequence[Path]) -> Point | None:
    """The far end of a leader that starts at a tag."""
    for path in leaders:
        ends = sorted((path.points[0], path.points[-1]), key=lambda end: from_box(end, tag.box))
        if from_box(ends[0], tag.box) < AT_TAG < from_box(ends[1], tag.box):
            return ends[1]
    return None
