"""The signs that say where X and Y are counted from, and which way; all paper mm."""

from __future__ import annotations

from slotwright.drawings.paper.dimensioning import UP, arrow, line
from slotwright.drawings.paper.sheet import Anchor, Circle, Line, Mark, Point, Text
from slotwright.drawings.paper.style import Style

AXIS = 14.0  # length of the arrows at an origin, mm; our choice


def origin_symbol(style: Style, long: float = AXIS) -> list[Mark]:
    """Mark the datum corner of the plan and the ways X and Y are counted, with arrows so long."""
    off = 4.0
    letters = ((-off + long + 2.5, -off), (-off, -off + long + 2.0 + style.text / 2.0))
    return origin((0.0, 0.0), (-off, -off), long, letters, style)


def origin(at: Point, corner: Point, long: float, letters: tuple[Point, Point], style: Style) -> list[Mark]:
    """Mark an origin with a ring, and X and Y with arrows so long from a corner beside it; letters stand where told."""
    marks: list[Mark] = [Circle(at, 1.2, Line.DIMENSION)]
    for (dx, dy), name, spot in zip(((1.0, 0.0), (0.0, 1.0)), "XY", letters, strict=True):
        tip = (corner[0] + dx * long, corner[1] + dy * long)
        marks.append(line(corner, (tip[0] - dx * style.arrow, tip[1] - dy * style.arrow)))
        marks.append(arrow(tip, 0.0 if dx else UP, style))
        marks.append(Text(spot, name, style.text, Anchor.CENTRE, 0.0, True))
    marks.append(Text((corner[0] - 1.5, corner[1] - style.text - 1.0), "0", style.text, Anchor.CENTRE))
    return marks
