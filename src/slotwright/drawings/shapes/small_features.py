"""What is under 3 mm on paper in the views of a shaped piece: holes, short distances, low tenons, shallow cuts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby, pairwise
from math import dist

from slotwright.drawings.details import LEAST
from slotwright.drawings.paper.crossing import from_line
from slotwright.drawings.paper.sheet import Circle, DimensionKind, Line, Point, Stroke, View
from slotwright.drawings.shapes.panel import Panel
from slotwright.drawings.shapes.seen import Plane, hole_in_view, shown
from slotwright.drawings.shapes.views_needed import Shaped
from slotwright.drawings.typical import Small, small_hole
from slotwright.pieces.block import Block
from slotwright.pieces.faces import Face, plane_axes
from slotwright.pieces.features import Tenon
from slotwright.pieces.hole_groups import HoleGroup
from slotwright.pieces.metal import Step
from slotwright.pieces.piece import Piece

NEAR = 0.01  # an edge so near to a wall is its own, mm
Wall = tuple[Point, Point]
_Key = tuple[str, Face, float]


def small_holes(face: Face, groups: Iterable[HoleGroup]) -> Iterator[Small]:
    """Yield the holes of groups as kinds in a view of a face."""
    for group in groups:
        yield small_hole(group, [hole_in_view(one.hole, face) for one in group.holes])


def small_circles(panel: Panel) -> Iterator[Small]:
    """Yield the full circles of a view of which nothing but the edge is known, those of one size as one kind."""
    found: dict[float, list[Point]] = {}
    for mark in panel.view.marks:
        if isinstance(mark, Circle) and mark.line in (Line.OUTLINE, Line.HIDDEN):
            found.setdefault(round(mark.radius, 4), []).append(mark.centre)
    for radius, places in found.items():
        yield Small(2.0 * radius, tuple(places), radius, "TYPICAL" if len(places) > 1 else "")


def distances(panel: Panel) -> Iterator[Small]:
    """Yield the distances that are dimensioned in a view, each where its extension lines start."""
    for one in panel.dimensions:
        if one.kind is DimensionKind.LINEAR:
            (ax, ay), (bx, by), _ = one.points
            yield Small(abs(one.value), (((ax + bx) / 2.0, (ay + by) / 2.0),), abs(one.value) / 2.0)


def small_steps(piece: Piece, views: Sequence[tuple[View, Face]], plane: Plane | None) -> dict[Face, list[Small]]:
    """Return, by the view that shows them best, features that stand out or are cut in by little; alike ones once.

    Args:
        piece: what is drawn.
        views: with the faces they show.
        plane: of the section that stands for the front elevation, or None.
    """
    found: dict[Face, list[Small]] = {}
    steps = sorted(piece.metal.steps, key=_key)
    for (_, _, deep), alike in groupby((step for step in steps if _depth(step.feature) is not None), key=_key):
        best = _shown_best(list(alike), deep, views, plane)
        if best is not None:
            face, middles = best
            found.setdefault(face, []).append(Small(deep, middles, deep / 2.0))
    return found


def _key(step: Step) -> _Key:
    return type(step.feature).__name__, step.feature.face, round(_depth(step.feature) or 0.0, 4)


def _depth(feature: Shaped) -> float | None:
    return feature.height if isinstance(feature, Tenon) else feature.depth


def _shown_best(
    steps: Sequence[Step], deep: float, views: Sequence[tuple[View, Face]], plane: Plane | None
) -> tuple[Face, tuple[Point, ...]] | None:
    """Return the view in which most walls of features are seen, else are hidden, and the middles of these walls."""
    for lines in (Line.OUTLINE,), (Line.HIDDEN,):
        tries = []
        for view, face in views:
            if face.axis == steps[0].block.axis or deep * view.scale >= LEAST:
                continue
            edges = [m for m in view.marks if isinstance(m, Stroke) and m.line in lines]
            walls = [wall for step in steps for wall in _walls(step.block, face, plane if face is Face.FRONT else None)]
            tries.append((face, tuple(_middle(wall) for wall in walls if _is_drawn(wall, edges))))
        best = max(tries, key=lambda one: len(one[1]), default=None)
        if best is not None and best[1]:
            return best
    return None


def _walls(block: Block, face: Face, plane: Plane | None) -> Iterator[Wall]:
    """Yield the ends of a block as a view of a face shows them, from its floor to its mouth."""
    first, second = plane_axes(face.axis)
    across = second if block.axis == first else first
    low, high = block.bounds
    ends: tuple[float, ...] = (low[across], high[across])
    if plane is not None and low[plane.axis] < plane.at < high[plane.axis]:
        place = {plane.axis: plane.at, block.axis: (block.low + block.high) / 2.0}
        others = plane_axes(across)
        ends = tuple(end for span in block.along(across, (place[others[0]], place[others[1]])) for end in span)
    for end in ends:
        wall = [(depth, end) if block.axis == first else (end, depth) for depth in (block.low, block.high)]
        yield shown(face, wall[0]), shown(face, wall[1])


def _middle(wall: Wall) -> Point:
    (ax, ay), (bx, by) = wall
    return (ax + bx) / 2.0, (ay + by) / 2.0


def _is_drawn(wall: Wall, edges: Iterable[Stroke]) -> bool:
    """Say whether an edge of a view is at least half of a wall, and no more than it."""
    long = dist(*wall)
    for edge in edges:
        for part in pairwise(edge.path):
            if dist(*part) > long / 2.0 and all(from_line(end, *wall) < NEAR for end in part):
                return True
    return False
