"""The areas of a sheet that keep clear of each other: views, tables, notes and title block."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import cos, hypot, pi, sin

import numpy as np

from slotwright.drawings.paper.sheet import Line, Point
from slotwright.drawings.proofing.paper import PAPER, Box, Floats, Lettered, Paper, Rectangle, Role

DEEP = 0.3  # areas that overlap by less only touch, mm
NESTED = 3.0  # a double border lies no further apart, mm
LEADING = 2.0  # lines of a note stand no further apart, heights of capitals
LINES = 3  # lines that a block of notes has at least; what a view is named by has fewer
SENTENCE = 12  # letters that one of them has at least; tags that stand under each other are shorter


@dataclass(frozen=True, slots=True)
class Area:
    """A convex part of the paper; its corners run counter-clockwise."""

    name: str
    corners: tuple[Point, ...]
    is_note: bool = False


def areas(paper: Paper, frame: Box | None) -> list[Area]:
    """Return the areas of one sheet."""
    zones = _zones(paper, frame)
    return [*_views(paper), *(Area(name, _corners(box)) for name, box in zones), *_notes(paper, [b for _, b in zones])]


def overlap(a: Area, b: Area) -> Point | None:
    """Return a point in the middle of where two areas overlap, or None where they are clear or only touch."""
    shared = list(a.corners)
    for p, q in pairwise((*b.corners, b.corners[0])):
        shared = _left_of(shared, p, q)
        if not shared:
            return None
    xs, ys = zip(*shared, strict=True)
    deep = min(_thickness(shared, p, q) for p, q in _edges(a) + _edges(b))
    return (sum(xs) / len(xs), sum(ys) / len(ys)) if deep > DEEP else None


def _views(paper: Paper) -> list[Area]:
    """Hulls of what each view shows, without its dimensions."""
    lines = paper.lines
    body = (lines.role == Role.PLAIN) & ~lines.is_kind(Line.CENTRE, Line.SECTION, Line.DIMENSION, Line.NOTE)
    found = []
    for number, name in paper.views.items():
        ends = lines.ends[body & (lines.view == number)]
        corners = hull(np.vstack((ends[:, :2], ends[:, 2:])))
        if len(corners) > 2:
            found.append(Area(name, corners))
    return found


def _zones(paper: Paper, frame: Box | None) -> list[tuple[str, Box]]:
    """Title block, tables and boxed words: rectangles in wide lines inside the frame."""
    wide = [r for r in paper.rectangles if r.line in (Line.FRAME, Line.OUTLINE) and r.box != frame]
    named = [("title block" if r.line is Line.FRAME else _table_name(paper, r), r.box) for r in wide]
    return [(name, box) for name, box in named if not any(_border_of(box, other) for _, other in named)]


def _border_of(inner: Box, outer: Box) -> bool:
    gaps = (inner[0] - outer[0], inner[1] - outer[1], outer[2] - inner[2], outer[3] - inner[3])
    return inner != outer and all(0.0 <= gap <= NESTED for gap in gaps)


def _table_name(paper: Paper, rectangle: Rectangle) -> str:
    """Name a table by the first words in it."""
    x0, y0, x1, y1 = rectangle.box
    inside = [t for t in paper.texts if x0 < t.middle()[0] < x1 and y0 < t.middle()[1] < y1]
    first = min(inside, key=lambda t: (-round(t.middle()[1]), t.middle()[0]), default=None)
    return f'table that begins with "{first.words}"' if first else "box"


def _notes(paper: Paper, zones: Sequence[Box]) -> list[Area]:
    """Blocks of notes: level lines on the paper under each other with one margin, outside of tables."""
    loose = [t for t in paper.texts if t.view == PAPER and t.line is Line.NOTE and t.angle == 0.0]
    for x0, y0, x1, y1 in zones:
        loose = [t for t in loose if not (x0 < t.at[0] < x1 and y0 < t.at[1] < y1)]
    blocks: list[list[Lettered]] = []
    for text in sorted(loose, key=lambda t: (round(t.at[0], 3), -t.at[1])):
        last = blocks[-1][-1] if blocks else None
        if last is not None and _next_line(last, text):
            blocks[-1].append(text)
        else:
            blocks.append([text])
    wordy = [b for b in blocks if len(b) >= LINES and max(len(text.words) for text in b) >= SENTENCE]
    return [Area(f'note "{b[0].words}"', _around(b), is_note=True) for b in wordy]


def _next_line(one: Lettered, other: Lettered) -> bool:
    level = abs(one.at[0] - other.at[0]) < 0.01 and one.height == other.height
    return level and 0.0 < one.at[1] - other.at[1] <= LEADING * one.height


def _around(block: Iterable[Lettered]) -> tuple[Point, ...]:
    xs, ys = zip(*(corner for text in block for corner in text.corners()), strict=True)
    return _corners((min(xs), min(ys), max(xs), max(ys)))


def _corners(box: Box) -> tuple[Point, ...]:
    x0, y0, x1, y1 = box
    return (x0, y0), (x1, y0), (x1, y1), (x0, y1)


# Convex shapes


def hull(points: Floats) -> tuple[Point, ...]:
    """Return the corners of the convex hull, counter-clockwise (monotone chain)."""
    ordered = sorted({(round(x, 6), round(y, 6)) for x, y in _outer(points).tolist()})
    if len(ordered) < 3:
        return tuple(ordered)
    halves = []
    for run in (ordered, ordered[::-1]):
        half: list[Point] = []
        for point in run:
            while len(half) > 1 and _side(half[-2], half[-1], point) <= 0.0:
                half.pop()
            half.append(point)
        halves += half[:-1]
    return tuple(halves)


def _outer(points: Floats) -> Floats:
    """Leave out points that lie well inside the polygon of the outermost ones in eight directions."""
    if len(points) < 100:
        return points
    ways = [(cos(n * pi / 4.0), sin(n * pi / 4.0)) for n in range(8)]
    far = [points[int(np.argmax(points @ np.array(way)))] for way in ways]
    inside = np.ones(len(points), dtype=np.bool_)
    for a, b in pairwise((*far, far[0])):
        if hypot(*(b - a)) > 1e-9:
            away = points - a
            inside &= (b[0] - a[0]) * away[:, 1] - (b[1] - a[1]) * away[:, 0] > 1e-6
    return points[~inside]


def _side(a: Point, b: Point, point: Point) -> float:
    """Positive where a point lies to the left of a line."""
    return (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0])


def _left_of(shape: Sequence[Point], a: Point, b: Point) -> list[Point]:
    """Return the part of a convex shape to the left of a line (Sutherland and Hodgman's clipping)."""
    kept = []
    for p, q in pairwise((*shape, shape[0])):
        u, v = _side(a, b, p), _side(a, b, q)
        if u >= 0.0:
            kept.append(p)
        if u * v < 0.0:
            kept.append((p[0] + (q[0] - p[0]) * u / (u - v), p[1] + (q[1] - p[1]) * u / (u - v)))
    return kept


def _edges(area: Area) -> list[tuple[Point, Point]]:
    return list(pairwise((*area.corners, area.corners[0])))


def _thickness(shape: Sequence[Point], a: Point, b: Point) -> float:
    """Return how far a shape extends across the direction of a line."""
    long = hypot(b[0] - a[0], b[1] - a[1])
    if long < 1e-9:
        return float("inf")
    sides = [_side(a, b, p) / long for p in shape]
    return max(sides) - min(sides)
