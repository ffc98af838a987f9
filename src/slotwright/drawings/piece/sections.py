"""Sections through a piece: where the plane runs and what it cuts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from slotwright.drawings.linings import metal_lining
from slotwright.drawings.paper.sheet import Line, Mark, Point, Stroke
from slotwright.drawings.paper.style import Style
from slotwright.drawings.profiles import profile
from slotwright.drawings.views import axis_line, reach, side_outline, side_polygon
from slotwright.pieces.features import Hole
from slotwright.pieces.hole_groups import hole_groups
from slotwright.pieces.piece import Piece

BEND_ROOM = 1.0  # clear metal between a cut hole and a bend of the plane, mm


@dataclass(frozen=True, slots=True)
class Cut:
    """A section plane square to the plan.

    Attributes:
        path: corners of the plane's trace in the plan, from the left end to the right; two points for a plain section.
        holes: the holes whose axes it runs through.
        plain: it has no bend and runs through every hole, so that nobody can mistake it.
    """

    path: tuple[Point, ...]
    holes: tuple[Hole, ...]

    plain: bool = False


def cut_for(piece: Piece) -> Cut | None:
    """Return the section that shows the piece better than hidden lines would, or None where those are clear.

    A plain section where all holes stand in one row and one of them is blind or counterbored; a section with bends
    where holes of several rows hide behind each other; hidden lines for all else.
    """
    if not any(_has_floor(hole) for hole in piece.holes):
        return None
    rows = {round(hole.y, 6) for hole in piece.holes}
    if len(rows) == 1:
        y = piece.holes[0].y
        return Cut(((0.0, y), (piece.blank.length, y)), tuple(sorted(piece.holes, key=lambda hole: hole.x)), plain=True)
    return _bent_cut(piece) if _tangled(piece.holes) else None


def _has_floor(hole: Hole) -> bool:
    """Say whether a hole has a depth or an enlargement, which only a view from the side shows."""
    return hole.depth is not None or hole.counterbore is not None or hole.countersink is not None


def _tangled(holes: Sequence[Hole]) -> bool:
    """Say whether two holes that differ in the elevation overlap there."""
    spans = sorted((hole.x - reach(hole)[0], hole.x + reach(hole)[0], hole.x) for hole in holes)
    return any(b[0] < a[1] and abs(a[2] - b[2]) > 1e-6 for a, b in pairwise(spans)) or _stacked(holes)


def _stacked(holes: Iterable[Hole]) -> bool:
    """Say whether unlike holes stand at one x."""
    at: dict[float, set[tuple[object, ...]]] = {}
    for hole in holes:
        at.setdefault(round(hole.x, 6), set()).add(
            (hole.diameter, hole.depth, hole.counterbore, hole.thread, hole.face)
        )
    return any(len(kinds) > 1 for kinds in at.values())


def _bent_cut(piece: Piece) -> Cut | None:
    """Run the plane through one hole of each size, and through all others that need no further bend.

    Plain through holes, which the plan and their size tell of in full, are passed by where they stand in the way.
    """
    chosen: list[Hole] = []
    for group in sorted(hole_groups(piece), key=lambda one: not _has_floor(one.size)):
        free = [t.hole for t in group.holes if all(_apart(t.hole, other) for other in chosen)]
        if not free and _has_floor(group.size):
            return None
        if not free:
            continue
        level = {round(hole.y, 6) for hole in chosen}
        chosen.append(next((hole for hole in free if round(hole.y, 6) in level), free[0]))
    chosen.sort(key=lambda hole: hole.x)
    path = _trace(chosen, piece)
    rest = [hole for hole in piece.holes if hole not in chosen and _on(path, hole)]
    return Cut(tuple(path), tuple(sorted([*chosen, *rest], key=lambda hole: hole.x)))


def _apart(a: Hole, b: Hole) -> bool:
    return abs(a.x - b.x) > reach(a)[0] + reach(b)[0] + 2.0 * BEND_ROOM


def _trace(chosen: Sequence[Hole], piece: Piece) -> list[Point]:
    path: list[Point] = [(0.0, chosen[0].y)]
    for a, b in pairwise(chosen):
        if abs(a.y - b.y) < 1e-6:
            continue
        x = _bend(a, b, piece.holes)
        path += [(x, a.y), (x, b.y)]
    path.append((piece.blank.length, chosen[-1].y))
    return path


def _bend(a: Hole, b: Hole, holes: Sequence[Hole]) -> float:
    """Put a bend between two holes, clear of all others where that can be."""
    low, high = a.x + reach(a)[0] + BEND_ROOM, b.x - reach(b)[0] - BEND_ROOM
    taken = sorted(
        (h.x - reach(h)[0], h.x + reach(h)[0]) for h in holes if low < h.x + reach(h)[0] and h.x - reach(h)[0] < high
    )
    best, start = (-1.0, (low + high) / 2.0), low
    for left, right in [*taken, (high, high)]:
        best = max(best, (min(left, high) - start, (start + min(left, high)) / 2.0))
        start = max(start, right)
    return best[1] if best[0] > 0.0 else (low + high) / 2.0


def _on(path: Sequence[Point], hole: Hole) -> bool:
    wide = reach(hole)[0] + BEND_ROOM
    return any(
        abs(p[1] - hole.y) < 1e-6 and abs(q[1] - hole.y) < 1e-6 and p[0] + wide <= hole.x <= q[0] - wide
        for p, q in pairwise(path)
    )


def section(piece: Piece, cut: Cut, scale: float, style: Style) -> tuple[Mark, ...]:
    """Return the front elevation in section, in the elevation's frame (X, Z)."""
    thick = piece.blank.thickness
    marks: list[Mark] = list(side_outline(piece.blank, scale, cut=True))
    regions = [side_polygon(piece.blank)]
    for hole in cut.holes:
        shape = profile(hole, thick)
        marks += [Stroke(tuple((hole.x + u, z) for u, z in wall), Line.OUTLINE) for wall in shape.walls]
        marks += [Stroke(tuple((hole.x + u, z) for u, z in crest), Line.THREAD) for crest in shape.crests]
        marks.append(axis_line(hole.x, shape, scale, style))
        regions.append(tuple((hole.x + u, z) for u, z in shape.void))
    marks += [Stroke(span, Line.HATCH) for span in metal_lining(regions, piece.material.hatch, scale)]
    return tuple(marks)
