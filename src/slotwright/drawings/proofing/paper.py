"""What lies on a sheet, ready to be judged: straight pieces of line and boxes of lettering, paper mm."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from math import cos, radians, sin
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from slotwright.drawings.paper.sheet import DimensionKind, Line, Mark, Point
from slotwright.drawings.paper.style import WIDE

Floats: TypeAlias = NDArray[np.float64]
Numbers: TypeAlias = NDArray[np.int64]
Box: TypeAlias = tuple[float, float, float, float]  # x0, y0, x1, y1

KINDS = tuple(Line)
WIDE_LINE = 0.5  # mm
PAPER = 0  # the view number of what belongs to the sheet itself


class Role(IntEnum):
    """What a piece of line is for."""

    PLAIN = 0
    DIMENSION_LINE = 1
    EXTENSION = 2  # extension lines and the leaders of ordinates
    LEADER = 3  # of notes, diameters and radii
    FILLED = 4  # the rim of a filled shape, such as an arrowhead
    LETTERING = 5  # the rim of a text's box


@dataclass(frozen=True, slots=True)
class Lot:
    """Marks that belong together: a view's geometry, one dimension, or what stands on the paper itself.

    Attributes:
        view: number of the view from 1; PAPER for the sheet's own.
        name: the view's name.
        marks: paper coordinates.
        clip: what of them is seen, or None for all.
        dimension: the kind of the dimension they draw, or None.
        direction: of a linear dimension, degrees.
        key: names a dimension that is seen through several windows; its lots have one number. Empty for other lots.
    """

    view: int
    name: str
    marks: tuple[Mark, ...]
    clip: Box | None = None
    dimension: DimensionKind | None = None
    direction: float = 0.0
    key: str = ""


@dataclass(frozen=True, slots=True)
class Lettered:
    """One line of lettering and the box of its ink.

    Attributes:
        words: what it says.
        at: start of the baseline.
        angle: degrees.
        height: of the capitals.
        width: along the baseline.
        low, high: of the ink, from the baseline.
        line: layer.
        lot: number of its lot.
        view: of its lot.
        in_dimension: its lot is a dimension.
    """

    words: str
    at: Point
    angle: float
    height: float
    width: float
    low: float
    high: float
    line: Line
    lot: int
    view: int
    in_dimension: bool

    def corners(self) -> tuple[Point, ...]:
        """Return the corners of the ink's box, counter-clockwise from the start of the baseline."""
        (x, y), c, s = self.at, cos(radians(self.angle)), sin(radians(self.angle))
        box = ((0.0, self.low), (self.width, self.low), (self.width, self.high), (0.0, self.high))
        return tuple((x + u * c - v * s, y + u * s + v * c) for u, v in box)

    def middle(self) -> Point:
        """Return the middle of the capitals."""
        (x, y), c, s = self.at, cos(radians(self.angle)), sin(radians(self.angle))
        u, v = self.width / 2.0, self.height / 2.0
        return x + u * c - v * s, y + u * s + v * c


@dataclass(frozen=True, slots=True)
class Lines:
    """Straight pieces of line, one a row; a column is an attribute.

    Attributes:
        ends: x0, y0, x1, y1.
        mark: number of the mark; lettering has marks of its own.
        kind: place of its Line in KINDS.
        role: its Role.
        lot, view: whose it is.
    """

    ends: Floats
    mark: Numbers
    kind: Numbers
    role: Numbers
    lot: Numbers
    view: Numbers

    def is_kind(self, *lines: Line) -> NDArray[np.bool_]:
        """Say which rows are of these kinds of line."""
        return np.isin(self.kind, [KINDS.index(line) for line in lines])


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A closed upright rectangle that is drawn on the paper itself."""

    box: Box
    line: Line
    mark: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """One sheet.

    Attributes:
        name: the sheet's name.
        width, height: trimmed size, mm.
        lines: all lines, rims of lettering among them.
        texts: all lettering; text n has the mark number n.
        rectangles: upright rectangles of the sheet's own.
        views: names of the views by number.
        cut: texts that a view's window cuts through.
        unread: what the reader could not judge: kind and place.
    """

    name: str
    width: float
    height: float
    lines: Lines
    texts: tuple[Lettered, ...]
    rectangles: tuple[Rectangle, ...]
    views: dict[int, str]
    cut: tuple[Lettered, ...] = ()
    unread: tuple[tuple[str, Point], ...] = ()


def half_widths(kinds: Numbers) -> Floats:
    """Return half the widths of kinds of line by their places in KINDS, mm: of the line group 0.5 of ISO 128-2."""
    widths = np.array([WIDE_LINE if line in WIDE else WIDE_LINE / 2.0 for line in KINDS])
    halves: Floats = widths[kinds] / 2.0
    return halves
