"""What a sheet shows and in which order: the one walk that every writer follows, all in paper coordinates, mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from math import cos, dist, pi, radians, sin
from typing import TypeAlias

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.sheet import Anchor, Arc, Circle, Fill, Mark, Point, Sheet, Stroke, Text, on_paper

Box: TypeAlias = tuple[float, float, float, float]  # x0, y0, x1, y1


class Layer(StrEnum):
    """What a group of marks belongs to."""

    VIEW = "view"
    DIMENSION = "dimension"
    SHEET = "sheet"


@dataclass(frozen=True, slots=True)
class Group:
    """Marks that belong together.

    Attributes:
        layer: view geometry, one dimension, or the sheet itself.
        number: of the view on its sheet, from 1; 0 for the sheet.
        name: the view's name, or the sheet's size.
        marks: paper coordinates.
        clip: what of them is seen, or None for all.
    """

    layer: Layer
    number: int
    name: str
    marks: tuple[Mark, ...]
    clip: Box | None = None


def groups(sheet: Sheet) -> Iterator[Group]:
    """Yield everything a sheet shows: each view with its dimensions, then what belongs to the paper."""
    for number, view in enumerate(sheet.views, 1):
        yield Group(Layer.VIEW, number, view.name, tuple(on_paper(view)), view.frame)
        for dimension in view.dimensions:
            yield Group(Layer.DIMENSION, number, view.name, dimension.marks, view.frame)
    yield Group(Layer.SHEET, 0, sheet.size, sheet.marks)


def start_of(text: Text) -> Point:
    """Return where the baseline of a text begins."""
    back = {Anchor.LEFT: 0.0, Anchor.CENTRE: 0.5, Anchor.RIGHT: 1.0}[text.anchor]
    along = -back * lettering.width(text.text, text.height)
    up = -text.height / 2.0 if text.middle else 0.0
    c, s = cos(radians(text.angle)), sin(radians(text.angle))
    return text.at[0] + along * c - up * s, text.at[1] + along * s + up * c


def length(mark: Stroke | Circle | Arc) -> float:
    """Return the length of a line, mm."""
    if isinstance(mark, Stroke):
        return sum(dist(a, b) for a, b in pairwise(mark.path))
    turn = 360.0 if isinstance(mark, Circle) else sweep(mark)
    return 2.0 * pi * mark.radius * turn / 360.0


def sweep(arc: Arc) -> float:
    """Return the angle an arc covers, degrees, above 0 and up to 360."""
    turn = (arc.end - arc.start) % 360.0
    return turn if turn > 0.0 else 360.0


SMALLEST = 0.3  # dashes are shrunk so far at most; a shorter line is drawn unbroken (ISO 128-2 lets small axes be so)


def dash_scale(pattern: tuple[float, ...], mark: Stroke | Circle | Arc) -> float | None:
    """Return by what to stretch a dash pattern so that the line begins and ends with a whole dash.

    Args:
        pattern: dash, gap, dash, gap ..., mm on paper.
        mark: the line, in the same units.

    Returns:
        The factor, or None where the line is too short for the pattern and is drawn unbroken.
    """
    total, whole = length(mark), sum(pattern)
    end = 0.0 if isinstance(mark, Circle) or (isinstance(mark, Stroke) and mark.closed) else pattern[0]
    repeats = max(1, round((total - end) / whole))
    factor = total / (repeats * whole + end)
    return factor if factor >= SMALLEST else None


def extent(marks: tuple[Mark, ...]) -> Box | None:
    """Return the box around marks (whole circles for arcs), or None for no marks."""
    corners = [corner for mark in marks for corner in _corners(mark)]
    if not corners:
        return None
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return min(xs), min(ys), max(xs), max(ys)


def _corners(mark: Mark) -> tuple[Point, ...]:
    match mark:
        case Stroke() | Fill():
            return mark.points
        case Circle((x, y), radius) | Arc((x, y), radius):
            return (x - radius, y - radius), (x + radius, y + radius)
        case Text():
            x, y = start_of(mark)
            c, s = cos(radians(mark.angle)), sin(radians(mark.angle))
            long, low, high = lettering.width(mark.text, mark.height), -0.3 * mark.height, 1.2 * mark.height
            box = ((0.0, low), (long, low), (long, high), (0.0, high))
            return tuple((x + a * c - b * s, y + a * s + b * c) for a, b in box)
