"""An independent look at a composed sheet: what touches what. Shares no geometry code with the program's placing."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise
from math import cos, hypot, radians, sin

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.sheet import Anchor, Arc, Circle, Fill, Line, Mark, Point, Sheet, Stroke, Text, on_paper

Corners = tuple[Point, Point, Point, Point]


def everything(sheet: Sheet) -> list[Mark]:
    found: list[Mark] = list(sheet.marks)
    for view in sheet.views:
        found += on_paper(view)
        found += (mark for dimension in view.dimensions for mark in dimension.marks)
    return found


def letter_box(text: Text, shrink: float = 0.0) -> Corners:
    """Corners of the capitals' box, made smaller by a margin on all sides."""
    long = lettering.width(text.text, text.height)
    start = {Anchor.LEFT: 0.0, Anchor.CENTRE: -0.5, Anchor.RIGHT: -1.0}[text.anchor] * long
    low = -text.height / 2 if text.middle else 0.0
    c, s = cos(radians(text.angle)), sin(radians(text.angle))
    u0, u1 = start + shrink, start + long - shrink
    v0, v1 = low + shrink, low + text.height - shrink
    x, y = text.at
    a, b, d, e = ((x + u * c - v * s, y + u * s + v * c) for u, v in ((u0, v0), (u1, v0), (u1, v1), (u0, v1)))
    return a, b, d, e


def bounds(corners: tuple[Point, ...]) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return min(xs), min(ys), max(xs), max(ys)


def texts_on_texts(sheet: Sheet) -> list[str]:
    """All lettering stands level or upright, so that boxes are rectangles along the axes."""
    boxes = [(t.text, bounds(letter_box(t, 0.05))) for t in everything(sheet) if isinstance(t, Text)]
    return [f"{a!r} on {b!r}" for (a, p), (b, q) in combinations(boxes, 2)
            if p[0] < q[2] and q[0] < p[2] and p[1] < q[3] and q[1] < p[3]]  # fmt: skip


def lines_through_texts(sheet: Sheet) -> list[str]:
    marks = everything(sheet)
    lines = list(_chords(marks))
    found = []
    for text in (m for m in marks if isinstance(m, Text)):
        x0, y0, x1, y1 = bounds(letter_box(text, 0.05))
        for kind, a, b in lines:
            if max(a[0], b[0]) < x0 or min(a[0], b[0]) > x1 or max(a[1], b[1]) < y0 or min(a[1], b[1]) > y1:
                continue
            if _crosses(a, b, x0, y0, x1, y1):
                found.append(f"{kind} through {text.text!r} at {a} {b}")
                break
    return found


def outside_frame(sheet: Sheet) -> list[str]:
    """Marks of views, dimensions, notes and tables that reach out of the frame (its rulings and zones may)."""
    frame = next(m for m in sheet.marks if isinstance(m, Stroke) and m.line is Line.FRAME and m.closed)
    x0, y0, x1, y1 = bounds(frame.points)
    found = []
    for mark in everything(sheet):
        if mark.line in (Line.FRAME, Line.RULE):
            continue
        if isinstance(mark, Text):
            corners: tuple[Point, ...] = letter_box(mark)
        elif isinstance(mark, Stroke | Fill):
            corners = mark.points
        else:
            (x, y), r = mark.centre, mark.radius
            corners = ((x - r, y - r), (x + r, y + r))
        a, b, c, d = bounds(corners)
        if a < x0 - 1e-6 or b < y0 - 1e-6 or c > x1 + 1e-6 or d > y1 + 1e-6:
            found.append(repr(mark))
    return found


def _chords(marks: list[Mark]) -> Iterator[tuple[str, Point, Point]]:
    for mark in marks:
        match mark:
            case Stroke(points, line, closed):
                for a, b in pairwise((*points, points[0]) if closed else points):
                    yield line, a, b
            case Circle(centre, radius, line):
                yield from _ring(centre, radius, 0.0, 360.0, line)
            case Arc(centre, radius, start, end, line):
                yield from _ring(centre, radius, start, end if end > start else end + 360.0, line)
            case Fill(points, line):
                for a, b in pairwise((*points, points[0])):
                    yield line, a, b


def _ring(centre: Point, radius: float, start: float, end: float, line: str) -> Iterator[tuple[str, Point, Point]]:
    steps = 24
    points = [
        (centre[0] + radius * cos(radians(a)), centre[1] + radius * sin(radians(a)))
        for a in (start + (end - start) * n / steps for n in range(steps + 1))
    ]
    for a, b in pairwise(points):
        yield line, a, b


def _crosses(a: Point, b: Point, x0: float, y0: float, x1: float, y1: float) -> bool:
    """Sample the line finely; plain, slow, and not the program's way."""
    steps = max(2, int(hypot(b[0] - a[0], b[1] - a[1]) / 0.05))
    if steps > 400:  # a long line: look only where it is near
        steps = 4000
    return any(
        x0 < a[0] + (b[0] - a[0]) * n / steps < x1 and y0 < a[1] + (b[1] - a[1]) * n / steps < y1
        for n in range(steps + 1)
    )
