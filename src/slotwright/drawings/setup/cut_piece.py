"""A shaped piece on the table cut through a bolt's axis, as much of it as a window shows.

View frame as in `bolt_section`: u from the bolt's axis toward the column, z up from the table top, mm; seen from the
table's right end.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import cos, radians, sin
from typing import TypeAlias

from slotwright.drawings.paper.placing import Box
from slotwright.drawings.paper.sheet import Arc, Circle, Line, Mark, Point, Stroke
from slotwright.drawings.shapes.bodies import Bodies, spans_of
from slotwright.drawings.shapes.edges import cut_lines, projected
from slotwright.drawings.shapes.judging import edges
from slotwright.drawings.shapes.seen import Plane, lining_of, shown
from slotwright.fixtures.layout import PlacedPiece
from slotwright.pieces.faces import Face
from slotwright.pieces.features import Hole
from slotwright.pieces.outline import circle

Column: TypeAlias = Callable[[float], list[tuple[float, float]]]
"""Where, from one height to another, the cut is in metal at a place across."""

STRAY = 0.02  # how far the short sides that stand for an arc leave it, mm
LEAST = 1e-6
_FACES = {0: Face.RIGHT, 90: Face.FRONT, 180: Face.LEFT, 270: Face.BACK}


@dataclass(frozen=True, slots=True)
class CutPiece:
    """What the section shows of a piece.

    Attributes:
        marks: edges and lining within the window.
        ends: where the window ends in metal: lines to break it off at.
        inside: a point in the metal.
    """

    marks: tuple[Mark, ...]
    ends: tuple[tuple[Point, Point], ...]
    inside: Point


def squarely(placed: PlacedPiece) -> bool:
    """Say whether a piece stands square to the table, so that it can be cut along the table's Y."""
    return abs((placed.place.turn + 45.0) % 90.0 - 45.0) < LEAST


def cut_piece(placed: PlacedPiece, hole: Hole, y: float, window: Box, covers: Sequence[Box], scale: float) -> CutPiece:
    """Return a piece cut along the table's Y through the axis of one of its holes.

    Args:
        placed: the piece, square to the table.
        hole: in its top or bottom.
        y: of the bolt's axis, table frame.
        window: what is shown, view frame.
        covers: what stands uncut before it: bolts, washers and nuts.
        scale: paper over model.
    """
    face = _FACES[round(placed.place.turn) % 360]
    plane = Plane(face.axis, hole.x if face.axis == 0 else hole.y, on_centre=False)
    bodies = Bodies.of(placed.piece, chamfers=False)
    rest = bodies.cut(plane.axis, plane.at, keep_high=not face.far)
    lines = [*projected(bodies, face.axis), *cut_lines(bodies, plane.axis, plane.at)]
    marks = [
        *edges(rest, face, lines, hidden=False),
        *lining_of(bodies, plane, placed.piece.material.hatch, scale, leaning_left=True),
    ]
    across, up = placed.place.y - y, placed.place.z

    def seen(point: Point) -> Point:
        u, v = shown(face, point)
        return u + across, v + up

    kept = [
        Stroke(part, line)
        for points, line in _chains(marks)
        for a, b in pairwise(map(seen, points))
        for part in shown_parts(a, b, window, covers)
    ]
    flip = shown(face, (1.0, 0.0))[0]

    def column(u: float) -> list[tuple[float, float]]:
        """Heights at which the cut is in metal."""
        at = {plane.axis: plane.at, 1 - plane.axis: (u - across) * flip}
        near = bodies.near(2, (at[0], at[1]), 1e-3)
        return [(low + up, high + up) for low, high in spans_of(near, 2, (at[0], at[1]))]

    return CutPiece(tuple(kept), tuple(_ends(column, kept, window)), _inside(column, window, covers))


def _chains(marks: Iterable[Mark]) -> Iterator[tuple[Sequence[Point], Line]]:
    """Marks as chains of straight lines."""
    for mark in marks:
        match mark:
            case Stroke():
                yield mark.path, mark.line
            case Circle(centre, radius, line):
                ring = circle(2.0 * radius, centre).facets(STRAY)
                yield (*ring, ring[0]), line
            case Arc():
                yield [_on(mark, n / 24.0) for n in range(25)], mark.line


def _on(arc: Arc, share: float) -> Point:
    turn = radians(arc.start + (arc.end - arc.start) * share)
    return arc.centre[0] + arc.radius * cos(turn), arc.centre[1] + arc.radius * sin(turn)


def shown_parts(a: Point, b: Point, window: Box, covers: Sequence[Box]) -> Iterator[tuple[Point, Point]]:
    """Yield what of a straight line lies in the window and behind nothing."""
    span = _within(a, b, window)
    if span is None:
        return
    left = [span]
    for cover in covers:
        hidden = _within(a, b, cover.grown(-1e-4))
        if hidden is not None:
            cut = [((s, min(e, hidden[0])), (max(s, hidden[1]), e)) for s, e in left]
            left = [(s, e) for pair in cut for s, e in pair if e - s > LEAST]
    for s, e in left:
        ends = [(a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share) for share in (s, e)]
        yield ends[0], ends[1]


def _within(a: Point, b: Point, box: Box) -> tuple[float, float] | None:
    """From where to where, 0 to 1, a straight line runs in a box."""
    low, high = 0.0, 1.0
    for start, end, least, most in ((a[0], b[0], box.x0, box.x1), (a[1], b[1], box.y0, box.y1)):
        if abs(end - start) < 1e-12:
            if not least - 1e-9 <= start <= most + 1e-9:
                return None
            continue
        one, other = sorted(((least - start) / (end - start), (most - start) / (end - start)))
        low, high = max(low, one), min(high, other)
    return (low, high) if high - low > LEAST else None


def _ends(column: Column, kept: Sequence[Stroke], window: Box) -> Iterator[tuple[Point, Point]]:
    """Lines at which the window's sides and its top cut off metal."""
    for u in (window.x0, window.x1):
        for low, high in column(u):
            if min(high, window.y1) - max(low, window.y0) > LEAST:
                yield (u, max(low, window.y0)), (u, min(high, window.y1))
    top = window.y1
    cut = {x for mark in kept if mark.line is Line.OUTLINE for x, y in mark.points if abs(y - top) < LEAST}
    for a, b in pairwise(sorted({window.x0, window.x1, *cut})):
        if b - a > LEAST and any(low < top < high - LEAST for low, high in column((a + b) / 2.0)):
            yield (a, top), (b, top)


def _inside(column: Column, window: Box, covers: Sequence[Box]) -> Point:
    """A point in the metal to the right of the bolt, well off its edges."""
    wall = max((cover.x1 for cover in covers), default=0.0)
    for share in (0.4, 0.6, 0.2, 0.8, 0.05):
        u = wall + (window.x1 - wall) * share
        for low, high in column(u):
            return u, (low + min(high, window.y1)) / 2.0
    return window.x1 / 2.0, (window.y0 + window.y1) / 2.0
