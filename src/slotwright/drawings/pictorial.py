"""A picture of a piece in dimetric projection, so that a reader sees at once what the views mean.

ISO 5456-3 dimetric: X runs to the right and 7 degrees down at full size, Y to the right and 42 degrees up at half
size, Z straight up. The viewer sees the top, the front and the right end.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import cos, hypot, pi, radians, sin
from typing import TypeAlias

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.placing import marks_box, points_box, text_box, union
from slotwright.drawings.paper.sheet import Anchor, Line, Mark, Point, Stroke, Text, View, on_paper
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.view_group import ViewGroup
from slotwright.drawings.views import rim_shows
from slotwright.pieces.blanks import Blank
from slotwright.pieces.features import Face, Hole
from slotwright.pieces.piece import Piece

Point3: TypeAlias = tuple[float, float, float]

_AX, _AY = cos(radians(7.0)), -sin(radians(7.0))
_BX, _BY = cos(radians(42.0)) / 2.0, sin(radians(42.0)) / 2.0
# What lies d below the top face is seen through the top face at this shift for d = 1 (two equations, two unknowns).
_DET = _AX * _BY - _BX * _AY
_SHIFT = (_BX / _DET, -_AX / _DET)
_VIEWER = (*_SHIFT, 1.0)  # toward the viewer: the direction that leaves no trace in the picture
TITLE = "PICTORIAL, NOT TO SCALE"
EDGE = 1.0  # between the picture and the edge of its window, mm
STEPS = 36  # straight pieces a circle is drawn with; our choice


def project(point: Point3) -> Point:
    """Return where a point of the piece stands in the picture, mm."""
    x, y, z = point
    return x * _AX + y * _BX, x * _AY + y * _BY + z


def pictorial(piece: Piece, scale: float) -> tuple[Mark, ...]:
    """Return the visible edges of a piece: its blank with chamfers that can be seen, and the holes in its top face."""
    chamfer = piece.blank.edge_chamfer if rim_shows(piece.blank, scale) else 0.0
    marks: list[Mark] = [Stroke((a, b), Line.OUTLINE) for a, b in _edges(piece.blank, chamfer)]
    for hole in piece.holes:
        marks += _hole(hole, piece.blank.thickness)
    return tuple(marks)


def picture_size(piece: Piece, scale: float, style: Style) -> tuple[float, float]:
    """Return width and height of the picture with its title on paper, mm, without drawing it."""
    blank = piece.blank
    seen = points_box(
        [project((x, y, z)) for x in (0.0, blank.length) for y in (0.0, blank.width) for z in (0.0, blank.thickness)]
    )
    words = lettering.width(TITLE, style.small)
    return max(seen.width * scale, words) + 2.0 * EDGE, seen.height * scale + 2.0 * EDGE + 2.5 * style.small


def picture_group(piece: Piece, scale: float, style: Style) -> ViewGroup:
    """Return the picture as a view with its title, its lower left corner near paper (0, 0)."""
    view = View(name="pictorial", origin=(0.0, 0.0), scale=scale, marks=pictorial(piece, scale))
    seen = marks_box(on_paper(view))
    words = Text(((seen.x0 + seen.x1) / 2.0, seen.y0 - 2.2 * style.small), TITLE, style.small, Anchor.CENTRE)
    edge = seen.grown(EDGE)
    view = replace(view, frame=(edge.x0, edge.y0, edge.x1, edge.y1))
    return ViewGroup(views=(view,), marks=(words,), box=union([edge, text_box(words)]))


def _edges(blank: Blank, chamfer: float) -> list[tuple[Point, Point]]:
    """Every edge of a face that looks at the viewer, once."""
    found: dict[frozenset[Point3], tuple[Point, Point]] = {}
    for face in _faces(blank, chamfer):
        if not _seen(face):
            continue
        for a, b in zip(face, (*face[1:], face[0]), strict=True):
            found.setdefault(frozenset((a, b)), (project(a), project(b)))
    return list(found.values())


def _faces(blank: Blank, c: float) -> Iterable[tuple[Point3, ...]]:
    """Faces of the blank, its rims chamfered by c, corners counter-clockwise seen from outside."""
    long, wide, high = blank.length, blank.width, blank.thickness

    def ring(inset: float, z: float) -> list[Point3]:
        x1, y1 = long - inset, wide - inset
        return [(inset, inset, z), (x1, inset, z), (x1, y1, z), (inset, y1, z)]

    levels = [ring(0.0, 0.0), ring(0.0, high)]
    if c:
        levels = [ring(c, 0.0), ring(0.0, c), ring(0.0, high - c), ring(c, high)]
    yield tuple(levels[-1])
    yield tuple(reversed(levels[0]))
    for low, up in pairwise(levels):
        for n in range(4):
            yield low[n], low[(n + 1) % 4], up[(n + 1) % 4], up[n]


def _seen(face: Sequence[Point3]) -> bool:
    a, b, c = face[:3]
    u = tuple(q - p for p, q in zip(a, b, strict=True))
    v = tuple(q - p for p, q in zip(a, c, strict=True))
    normal = (u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0])
    return sum(n * w for n, w in zip(normal, _VIEWER, strict=True)) > 1e-9


def _hole(hole: Hole, thickness: float) -> Iterable[Mark]:
    """Its mouth in the top face, and of deeper rims what is seen through the mouths above them."""
    rims = _rims(hole, thickness)
    for n, (radius, depth) in enumerate(rims):
        points = _rim(hole, radius, depth)
        if n == 0:
            yield Stroke(tuple(project((x, y, thickness)) for x, y in points), Line.OUTLINE, closed=True)
            continue
        if hypot(*_SHIFT) * (depth - rims[0][1]) >= radius + rims[0][0] + hole.slot_extra:
            continue  # too deep to be seen at all
        seen = [all(_within(hole, p, r, d) for r, d in rims[:n]) for p in points]
        for run in _runs(points, seen):
            yield Stroke(tuple(project((x, y, thickness)) for x, y in run), Line.OUTLINE)


def _rims(hole: Hole, thickness: float) -> list[tuple[float, float]]:
    """Radius and depth below the top face of each rim, from the top down."""
    bore = hole.diameter / 2.0
    if hole.face is Face.BOTTOM:
        return [] if hole.depth is not None else [(bore, 0.0)]
    rims: list[tuple[float, float]] = []
    if hole.counterbore is not None:
        rims += [(hole.counterbore.diameter / 2.0, 0.0), (hole.counterbore.diameter / 2.0, hole.counterbore.depth)]
        rims.append((bore, hole.counterbore.depth))
    else:
        rims.append((bore, 0.0))
    rims.append((bore, thickness if hole.depth is None else hole.depth))
    return rims


def _rim(hole: Hole, radius: float, depth: float) -> list[Point]:
    """A round or slotted rim at a depth, as it is seen in the plane of the top face."""
    x, y, half = hole.x + _SHIFT[0] * depth, hole.y + _SHIFT[1] * depth, hole.slot_extra / 2.0
    ring = [(radius * c + (half if c > 0.0 else -half), radius * s) for c, s in _circle()]
    if not half:
        return [(x + u, y + v) for u, v in ring]
    c, s = cos(radians(hole.slot_angle)), sin(radians(hole.slot_angle))
    return [(x + u * c - v * s, y + u * s + v * c) for u, v in ring]


@cache
def _circle() -> tuple[Point, ...]:
    """Points of a circle of radius 1; none lies on the Y axis, where a slot is pulled apart."""
    angles = [2.0 * pi * (n + 0.5) / STEPS for n in range(STEPS)]
    return tuple((cos(a), sin(a)) for a in angles)


def _within(hole: Hole, point: Point, radius: float, depth: float) -> bool:
    """Say whether a point of the top face's plane is seen through a rim."""
    turn, half = radians(hole.slot_angle), hole.slot_extra / 2.0
    x, y = point[0] - hole.x - _SHIFT[0] * depth, point[1] - hole.y - _SHIFT[1] * depth
    u, v = x * cos(turn) + y * sin(turn), -x * sin(turn) + y * cos(turn)
    return hypot(max(abs(u) - half, 0.0), v) < radius - 1e-9


def _runs(points: Sequence[Point], seen: Sequence[bool]) -> list[list[Point]]:
    """Cut a closed ring into the runs of points that are seen."""
    if all(seen):
        return [[*points, points[0]]]
    start = seen.index(False)
    order = [(start + n) % len(points) for n in range(len(points))]
    runs: list[list[Point]] = [[]]
    for n in order:
        if seen[n]:
            runs[-1].append(points[n])
        elif runs[-1]:
            runs.append([])
    return [run for run in runs if len(run) > 1]
