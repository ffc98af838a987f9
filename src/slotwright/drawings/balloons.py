"""Item balloons: a number in a circle on a leader that ends in a dot on the part (ISO 6433)."""

from __future__ import annotations

from math import cos, hypot, pi, sin

from slotwright.drawings.sheet import Anchor, Circle, Fill, Line, Mark, Point, Stroke, Text
from slotwright.drawings.style import Style

DOT = 0.6  # radius of the dot, mm; our choice


def balloon_radius(style: Style) -> float:
    """Return the circle's radius on paper, mm; our choice."""
    return 1.3 * style.text


def balloon(tip: Point, centre: Point, number: int, style: Style) -> tuple[Mark, ...]:
    """Return a balloon, paper coordinates."""
    long = hypot(tip[0] - centre[0], tip[1] - centre[1])
    radius = balloon_radius(style)
    rim = (centre[0] + (tip[0] - centre[0]) * radius / long, centre[1] + (tip[1] - centre[1]) * radius / long)
    dot = tuple((tip[0] + DOT * cos(k * pi / 4.0), tip[1] + DOT * sin(k * pi / 4.0)) for k in range(8))
    return (
        Circle(centre, radius, Line.NOTE),
        Text(centre, str(number), style.text, Anchor.CENTRE, 0.0, True),
        Stroke((rim, tip), Line.NOTE),
        Fill(dot, Line.NOTE),
    )
