"""What a view of one face shows: edges, thread rings and crests, centre marks and axes, and the lining of cut metal.

A view's own coordinates are the face's (`plane_axes`), the first one mirrored at the back and the left end, the second
one on the bottom, so that every view is as one sees it from outside.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from math import ceil, sqrt

from slotwright.drawings.linings import Span, patterned
from slotwright.drawings.paper.sheet import Arc, Circle, Fill, Line, Mark, Point, Stroke, Text
from slotwright.drawings.paper.style import Style
from slotwright.drawings.shapes.bodies import Bodies, spans_of
from slotwright.drawings.shapes.edges import cut_lines, projected
from slotwright.drawings.shapes.judging import edges
from slotwright.drawings.views import centre_mark, rim_shows, thread_ring
from slotwright.pieces.faces import Face, plane_axes
from slotwright.pieces.features import Hole
from slotwright.pieces.metal import Metal
from slotwright.pieces.piece import Piece
from slotwright.pieces.segment import Segment

KEPT = 16  # views whose edges are kept while scales are tried
LEAST_THREAD = 0.5  # hidden lines of a thread nearer to those of its bore would run together, mm on paper; our choice


@dataclass(frozen=True, slots=True)
class Plane:
    """A section plane square to an axis of the piece; what lies before it, seen from the face, is taken away."""

    axis: int
    at: float
    on_centre: bool


def flips(face: Face) -> tuple[float, float]:
    """Return the signs that take a face's coordinates to the view of one who looks at it from outside."""
    return (-1.0 if face in (Face.BACK, Face.LEFT) else 1.0), (-1.0 if face is Face.BOTTOM else 1.0)


def shown(face: Face, point: Point) -> Point:
    """Take a place on a face into its view."""
    su, sv = flips(face)
    return point[0] * su + 0.0, point[1] * sv + 0.0


def view_marks(piece: Piece, face: Face, plane: Plane | None, scale: float, style: Style) -> tuple[Mark, ...]:
    """Return the view of a face in the view's own coordinates, cut by a plane or whole with hidden edges."""
    chamfers = rim_shows(piece.blank, scale)
    marks = [*_edges(piece, face, plane, chamfers)]
    if plane is not None:
        marks += lining_of(Bodies.of(piece, chamfers=chamfers), plane, piece.material.hatch, scale)
    metal = piece.metal
    marks += _threads(piece, metal, face, plane, scale, style)
    marks += _centres(piece, metal, face, plane, scale, style)
    return tuple(mirrored(mark, face) for mark in _once(marks))


def edges_from_above(piece: Piece, scale: float) -> tuple[Mark, ...]:
    """Return the edges seen from above, in the piece's X and Y, without axes and threads."""
    return _from_above(piece, rim_shows(piece.blank, scale))


@lru_cache(maxsize=KEPT)
def _from_above(piece: Piece, chamfers: bool) -> tuple[Mark, ...]:
    bodies = Bodies.of(piece, chamfers=chamfers)
    return tuple(edges(bodies, Face.TOP, list(projected(bodies, 2)), hidden=False))


@lru_cache(maxsize=KEPT)
def _edges(piece: Piece, face: Face, plane: Plane | None, chamfers: bool) -> tuple[Mark, ...]:
    """The edges of a view, which are the same at every scale that is tried."""
    seen = bodies = Bodies.of(piece, chamfers=chamfers)
    lines = list(projected(bodies, face.axis))
    if plane is not None:
        lines += cut_lines(bodies, plane.axis, plane.at)
        seen = bodies.cut(plane.axis, plane.at, keep_high=not face.far)
    return tuple(edges(seen, face, lines, hidden=plane is None))


def _once(marks: Iterable[Mark]) -> list[Mark]:
    return list(dict.fromkeys(marks))


def mirrored(mark: Mark, face: Face) -> Mark:
    """Take a mark in a face's coordinates into its view."""
    su, sv = flips(face)
    match mark:
        case Stroke(points, line, closed):
            return Stroke(tuple(shown(face, p) for p in points), line, closed)
        case Circle(centre, radius, line):
            return Circle(shown(face, centre), radius, line)
        case Arc(centre, radius, start, end, line):
            if su < 0.0:
                start, end = 180.0 - end, 180.0 - start
            if sv < 0.0:
                start, end = -end, -start
            return Arc(shown(face, centre), radius, start % 360.0, start % 360.0 + (end - start), line)
        case Fill(points, line):
            return Fill(tuple(shown(face, p) for p in points), line)
        case Text():
            return replace(mark, at=shown(face, mark.at))


# Threads, centres


def hole_in_view(hole: Hole, face: Face) -> Hole:
    """Return a hole of a face, or of the face opposite, as it stands in the view's own coordinates."""
    su, sv = flips(face)
    angle = hole.slot_angle if su * sv > 0.0 else -hole.slot_angle
    u, v = shown(face, (hole.x, hole.y))
    return replace(hole, x=u, y=v, slot_angle=angle)


def _threads(piece: Piece, metal: Metal, face: Face, plane: Plane | None, scale: float, style: Style) -> Iterator[Mark]:
    for hole in piece.holes:
        if hole.thread is None:
            continue
        if hole.face.axis == face.axis:
            opens = hole.face is face or hole.depth is None
            if opens or plane is None:
                # A ring's open quarter stays upper right as one sees it.
                ring = thread_ring(shown(face, (hole.x, hole.y)), hole.thread.major, opens, style)
                yield from (mirrored(mark, face) for mark in ring)
        elif plane is None or _cuts(plane, hole):
            line = Line.HIDDEN if plane is None else Line.THREAD
            if line is Line.HIDDEN and (hole.thread.major - hole.diameter) / 2.0 * scale < LEAST_THREAD:
                continue
            yield from (Stroke(crest, line) for crest in _crests(hole, metal, face))


def _cuts(plane: Plane, hole: Hole) -> bool:
    """Say whether a plane runs through the axis of a hole."""
    if hole.face.axis == plane.axis:
        return False
    place = dict(zip(plane_axes(hole.face.axis), (hole.x, hole.y), strict=True))
    return abs(place[plane.axis] - plane.at) < 1e-6


def _crests(hole: Hole, metal: Metal, face: Face) -> Iterator[tuple[Point, ...]]:
    """Lines of a thread's major diameter and of the end of the full thread, seen square to its axis."""
    if hole.thread is None:
        return
    spans = metal.depths(hole.face, (hole.x, hole.y))
    surface, far = spans[0][0], spans[-1][1]
    start = surface + (hole.counterbore.depth if hole.counterbore is not None else 0.0)
    full = far if hole.depth is None else surface + hole.depth
    end = full if hole.thread_depth is None else min(surface + hole.thread_depth, full)
    r = hole.thread.major / 2.0
    lines = [((off, start), (off, end)) for off in (-r, r)]
    if end < far:
        lines.append(((-r, end), (r, end)))
    for line in lines:
        yield tuple(_beside(hole, metal, face, off, deep) for off, deep in line)


def _beside(hole: Hole, metal: Metal, face: Face, off: float, deep: float) -> Point:
    """Where a point beside a hole's axis, at a depth below its face, stands in another face's plane."""
    axis = hole.face.axis
    along = metal.size[axis] - deep if hole.face.far else deep
    place = {axis: along, **dict(zip(plane_axes(axis), (hole.x, hole.y), strict=True))}
    across = next(a for a in range(3) if a not in (axis, face.axis))
    place[across] += off
    first, second = plane_axes(face.axis)
    return place[first], place[second]


def _centres(piece: Piece, metal: Metal, face: Face, plane: Plane | None, scale: float, style: Style) -> Iterator[Mark]:
    over = style.centre_overrun / scale
    for hole in piece.holes:
        if hole.face.axis == face.axis:
            if plane is None:
                yield from centre_mark((hole.x, hole.y), hole, scale, style)
            continue
        if plane is not None and not _cuts(plane, hole):
            continue
        spans = metal.depths(hole.face, (hole.x, hole.y))
        end = spans[-1][1] if hole.depth is None else spans[0][0] + hole.depth + hole.point_length
        ends = [_beside(hole, metal, face, 0.0, deep) for deep in (spans[0][0] - over, end + over)]
        yield Stroke((ends[0], ends[1]), Line.CENTRE)


# Lining


def lining_of(
    bodies: Bodies, plane: Plane, hatch: str, scale: float, *, leaning_left: bool = False
) -> Iterator[Stroke]:
    """Yield section lines in the pattern of a material where the plane cuts metal."""
    sides = [side for line in cut_lines(bodies, plane.axis, plane.at) for side in _straight(line)]

    def lines(space: float, phase: float, leans: bool) -> Iterator[Span]:
        return _lines(bodies, plane, sides, (space, phase), -1.0 if leans else 1.0)

    for span in patterned(hatch, scale, lines, leaning_left=leaning_left):
        yield Stroke(span, Line.HATCH)


def _lines(
    bodies: Bodies, plane: Plane, sides: Sequence[Span], spacing: tuple[float, float], lean: float
) -> Iterator[Span]:
    """Lines at 45 degrees over the cut metal: up to the right, or with a lean of -1 up to the left."""
    space, phase = spacing
    step = space * sqrt(2.0)  # lines are lean x - y = (k + phase) step
    hits: dict[int, list[float]] = {}
    for (x0, y0), (x1, y1) in sides:
        a, b = (lean * x0 - y0) / step - phase, (lean * x1 - y1) / step - phase
        if a == b:
            continue
        for k in range(ceil(min(a, b)), ceil(max(a, b))):
            hits.setdefault(k, []).append(y0 + (y1 - y0) * (k - a) / (b - a))
    for k in sorted(hits):
        off = (k + phase) * step
        runs: list[tuple[float, float]] = []
        for low, high in pairwise(sorted(hits[k])):
            middle = (low + high) / 2.0
            if high - low < 1e-6 or not _in_metal(bodies, plane, lean * (middle + off), middle):
                continue
            if runs and low - runs[-1][1] < 1e-6:
                runs[-1] = (runs[-1][0], high)
            else:
                runs.append((low, high))
        for low, high in runs:
            if high - low > 0.02 * space:
                yield (lean * (low + off), low), (lean * (high + off), high)


def _straight(side: Segment) -> Iterator[tuple[Point, Point]]:
    count = 1 if not side.bulge else 48
    points = [side.at(n / count) for n in range(count + 1)]
    yield from pairwise(points)


def _in_metal(bodies: Bodies, plane: Plane, u: float, v: float) -> bool:
    near = bodies.near(plane.axis, (u, v), 1e-3)
    return any(a < plane.at < b for a, b in spans_of(near, plane.axis, (u, v)))
