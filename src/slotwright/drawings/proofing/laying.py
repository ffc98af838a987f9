"""Lay marks out on a sheet as straight pieces of line and boxes of lettering.

The proof knows two ways here: from a DXF file as it was written, or from a drawing before it is. Curves are chords that
leave them by less than a tenth of a narrow line.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import acos, ceil, cos, pi, radians, sin

import numpy as np

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.sheet import Arc, Circle, DimensionKind, Fill, Line, Mark, Point, Stroke, Text
from slotwright.drawings.proofing.paper import KINDS, PAPER, Box, Lettered, Lines, Lot, Paper, Rectangle, Role
from slotwright.drawings.writers import ink

SAGITTA = 0.02  # a chord leaves its curve by this at most, mm
MOST_CHORDS = 720
FARTHEST = 100_000.0  # of anything from the paper's corner, mm; what lies beyond comes of damage


@dataclass(slots=True)
class _Rows:
    """Lines on their way into columns."""

    ends: list[tuple[float, float, float, float]] = field(default_factory=list)
    tags: list[tuple[int, int, int, int, int]] = field(default_factory=list)  # mark, kind, role, lot, view

    def add(self, points: Sequence[Point], tag: tuple[int, int, int, int, int], clip: Box | None) -> None:
        """Take in a polyline."""
        for a, b in pairwise(points):
            piece = (*a, *b) if clip is None else _clipped(a, b, clip)
            if piece is not None:
                self.ends.append(piece)
                self.tags.append(tag)

    def lines(self) -> Lines:
        """Return the columns."""
        ends = np.array(self.ends, dtype=np.float64).reshape(-1, 4)
        if not (np.abs(ends) < FARTHEST).all():
            raise ValueError(f"something lies farther than {FARTHEST:g} mm from the sheet, or nowhere")
        tags = np.array(self.tags, dtype=np.int64).reshape(-1, 5)
        mark, kind, role, lot, view = np.ascontiguousarray(tags.T)
        return Lines(ends, mark, kind, role, lot, view)


def laid_out(
    name: str, width: float, height: float, lots: Sequence[Lot], unread: Iterable[tuple[str, Point]] = ()
) -> Paper:
    """Lay out the lots of one sheet. Errors: ValueError when something lies beyond all paper."""
    rows = _Rows()
    texts: list[Lettered] = []
    cut: list[Lettered] = []
    rectangles: list[Rectangle] = []
    numbers = _numbers(lots)
    for number, lot in zip(numbers, lots, strict=True):
        for mark in lot.marks:
            if isinstance(mark, Text):
                text = lettered(mark, number, lot)
                seen = _seen(text, lot.clip)
                if text.words and seen is not None:
                    (texts if seen else cut).append(text)
    marks = len(texts)
    for number, lot in zip(numbers, lots, strict=True):
        for mark in lot.marks:
            if isinstance(mark, Text):
                continue
            tag = (marks, KINDS.index(mark.line), _role(mark, lot), number, lot.view)
            rows.add(_path(mark), tag, lot.clip)
            if lot.view == PAPER and isinstance(mark, Stroke) and (box := upright_box(mark)) is not None:
                rectangles.append(Rectangle(box, mark.line, marks))
            marks += 1
    for number, text in enumerate(texts):
        rim = text.corners()
        rows.add((*rim, rim[0]), (number, KINDS.index(text.line), Role.LETTERING, text.lot, text.view), None)
    return Paper(
        name=name,
        width=width,
        height=height,
        lines=rows.lines(),
        texts=tuple(texts),
        rectangles=tuple(rectangles),
        views={lot.view: lot.name for lot in lots if lot.view != PAPER},
        cut=tuple(cut),
        unread=tuple(unread),
    )


def _numbers(lots: Sequence[Lot]) -> list[int]:
    """Return the number of each lot: that of the first one with its key."""
    first: dict[str, int] = {}
    return [first.setdefault(lot.key, number) if lot.key else number for number, lot in enumerate(lots)]


def lettered(text: Text, number: int, lot: Lot) -> Lettered:
    """Return the box of a text of a lot with a number."""
    words = lettering.safe(text.text)
    low, high = lettering.reach(words)
    long, at = lettering.advance(words, text.height), ink.start_of(text)
    low, high = low * text.height, high * text.height
    in_dimension = lot.dimension is not None
    return Lettered(words, at, text.angle, text.height, long, low, high, text.line, number, lot.view, in_dimension)


def _seen(text: Lettered, clip: Box | None) -> bool | None:
    """Say whether a window shows the whole text; None where it shows nothing of it."""
    if clip is None:
        return True
    x0, y0, x1, y1 = clip
    inside = [x0 <= x <= x1 and y0 <= y <= y1 for x, y in text.corners()]
    return all(inside) or (False if any(inside) else None)


def _role(mark: Mark, lot: Lot) -> Role:
    if isinstance(mark, Fill):
        return Role.FILLED
    match lot.dimension:
        case None:
            loose = lot.view == PAPER and isinstance(mark, Stroke) and not mark.closed
            return Role.LEADER if loose and mark.line is Line.DIMENSION else Role.PLAIN
        case DimensionKind.LINEAR:
            along = isinstance(mark, Stroke) and _parallel(mark, lot.direction)
            return Role.DIMENSION_LINE if along else Role.EXTENSION
        case DimensionKind.ANGLE:
            return Role.DIMENSION_LINE if isinstance(mark, Arc) else Role.EXTENSION
        case DimensionKind.ORDINATE_X | DimensionKind.ORDINATE_Y:
            return Role.EXTENSION
        case _:
            return Role.LEADER


def _parallel(mark: Stroke, direction: float) -> bool:
    (x0, y0), (x1, y1) = mark.points[0], mark.points[-1]
    c, s = cos(radians(direction)), sin(radians(direction))
    return abs((x1 - x0) * s - (y1 - y0) * c) < 1e-3


def _path(mark: Stroke | Circle | Arc | Fill) -> Sequence[Point]:
    """Return a mark as a polyline."""
    match mark:
        case Stroke():
            return mark.path
        case Fill(points):
            return (*points, points[0])
        case Circle(centre, radius):
            return _chords(centre, radius, 0.0, 360.0)
        case Arc(centre, radius, start):
            return _chords(centre, radius, start, ink.sweep(mark))


def _chords(centre: Point, radius: float, start: float, turn: float) -> list[Point]:
    step = 2.0 * acos(max(0.5, 1.0 - SAGITTA / radius)) if radius > 0.0 else pi
    count = min(max(2, ceil(radians(turn) / step)), MOST_CHORDS)
    angles = [radians(start + turn * n / count) for n in range(count + 1)]
    return [(centre[0] + radius * cos(a), centre[1] + radius * sin(a)) for a in angles]


def upright_box(mark: Stroke) -> Box | None:
    """Return the box of a stroke that is an upright rectangle, closed by itself or by its last point; else None."""
    points = mark.points[:-1] if not mark.closed and mark.points[0] == mark.points[-1] else mark.points
    if len(points) != 4 or not (mark.closed or len(points) < len(mark.points)):
        return None
    xs, ys = sorted({round(x, 6) for x, _ in points}), sorted({round(y, 6) for _, y in points})
    if len(xs) != 2 or len(ys) != 2:
        return None
    return xs[0], ys[0], xs[1], ys[1]


def _clipped(a: Point, b: Point, clip: Box) -> tuple[float, float, float, float] | None:
    """Return the part of a straight line inside a box."""
    low, high = 0.0, 1.0
    for start, end, least, most in ((a[0], b[0], clip[0], clip[2]), (a[1], b[1], clip[1], clip[3])):
        step = end - start
        if abs(step) < 1e-12:
            if not least <= start <= most:
                return None
            continue
        enter, leave = sorted(((least - start) / step, (most - start) / step))
        low, high = max(low, enter), min(high, leave)
        if low >= high:
            return None
    dx, dy = b[0] - a[0], b[1] - a[1]
    return a[0] + low * dx, a[1] + low * dy, a[0] + high * dx, a[1] + high * dy
