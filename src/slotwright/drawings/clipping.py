"""What of a view's marks lies inside a circle: an enlarged detail shows no more.

All coordinates are the view's own, mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise
from math import acos, atan2, degrees, dist, sqrt

from slotwright.drawings.paper.sheet import Arc, Circle, Fill, Mark, Point, Stroke, Text

LEAST = 1e-9  # shorter remains are dropped, mm
TURN = 360.0


def inside_circle(marks: Iterable[Mark], centre: Point, radius: float) -> Iterator[Mark]:
    """Yield marks as far as they lie in a circle; lettering and filled shapes whole where their middle does."""
    for mark in marks:
        match mark:
            case Stroke():
                yield from _stroke(mark, centre, radius)
            case Circle() | Arc():
                yield from _round(mark, centre, radius)
            case Fill(points):
                middle = sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)
                if dist(middle, centre) < radius:
                    yield mark
            case Text(at):
                if dist(at, centre) < radius:
                    yield mark


def _stroke(mark: Stroke, centre: Point, radius: float) -> Iterator[Stroke]:
    if all(dist(point, centre) <= radius for point in mark.points):
        yield mark
        return
    run: list[Point] = []
    for a, b in pairwise(mark.path):
        part = chord(a, b, centre, radius)
        if part is None:
            continue
        if run and run[-1] == part[0]:
            run.append(part[1])
            continue
        if run:
            yield replace(mark, points=tuple(run), closed=False)
        run = [*part]
    if run:
        yield replace(mark, points=tuple(run), closed=False)


def chord(a: Point, b: Point, centre: Point, radius: float) -> tuple[Point, Point] | None:
    """Return the part of a straight line inside a circle, its own ends where they are inside; None for no part."""
    long = dist(a, b)
    if not long:
        return None
    ux, uy = (b[0] - a[0]) / long, (b[1] - a[1]) / long
    along = (centre[0] - a[0]) * ux + (centre[1] - a[1]) * uy
    off = abs((centre[0] - a[0]) * uy - (centre[1] - a[1]) * ux)
    if off >= radius:
        return None
    half = sqrt(radius**2 - off**2)
    low, high = max(0.0, along - half), min(long, along + half)
    if high - low < LEAST:
        return None
    start = (a[0] + ux * low, a[1] + uy * low) if low > 0.0 else a
    end = (a[0] + ux * high, a[1] + uy * high) if high < long else b
    return start, end


def _round(mark: Circle | Arc, centre: Point, radius: float) -> Iterator[Circle | Arc]:
    """Yield the parts of a circle or an arc that lie inside another circle."""
    apart = dist(mark.centre, centre)
    if apart + mark.radius <= radius:
        yield mark
        return
    if apart >= radius + mark.radius or apart + radius <= mark.radius:
        return
    # The circles meet at two points, to both sides of the line between their centres.
    toward = degrees(atan2(centre[1] - mark.centre[1], centre[0] - mark.centre[0]))
    cosine = (apart**2 + mark.radius**2 - radius**2) / (2.0 * apart * mark.radius)
    half = degrees(acos(max(-1.0, min(1.0, cosine))))
    start, end = (mark.start, mark.end) if isinstance(mark, Arc) else (toward - half, toward - half + TURN)
    first = start + (toward - half - start) % TURN - TURN
    for low in (first, first + TURN):
        a, b = max(start, low), min(end, low + 2.0 * half)
        if (b - a) * mark.radius > degrees(LEAST):
            yield Arc(mark.centre, mark.radius, a, b, mark.line)
