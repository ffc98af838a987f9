"""Item balloons: a number in a circle on a leader that ends in a dot on the part (ISO 6433)."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import cos, hypot, pi, radians, sin

from slotwright.drawings.paper.placing import Register, circle_box
from slotwright.drawings.paper.sheet import Anchor, Circle, Fill, Line, Mark, Point, Stroke, Text
from slotwright.drawings.paper.style import Style

DOT = 0.6  # radius of the dot, mm; our choice
CLEAR = 1.5  # paper around a balloon, mm; our choice
REACHES = (14.0, 18.0, 23.0, 29.0, 36.0, 44.0, 53.0, 63.0, 75.0, 90.0)  # from a part to the balloon, mm; our choice
TURNS = (-37, -143, 37, 143, -60, -120, 60, 120, 0, 180, -20, -160, 20, 160, -80, -100, 80, 100)  # degrees


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


def free_balloon(
    tips: Sequence[Point], number: int, taken: Register, style: Style, *, over_circles: bool = False
) -> tuple[Mark, ...]:
    """Return a balloon on free paper whose leader crosses no text and no circle, as near to its part as may be.

    Args:
        tips: places on the part for the dot, the best one first; paper coordinates.
        number: the item's.
        taken: what stands already.
        style: how it looks.
        over_circles: the leader may run over holes and washers.

    Returns:
        Nothing where there is no such place.
    """
    radius, near = balloon_radius(style), 0.0
    ways = [(cos(radians(turn)), sin(radians(turn))) for turn in TURNS]
    rays: Iterable[tuple[Point, Point]] = (
        (tip, way) for tip in tips if taken.passable(tip, tip, over_circles=over_circles) for way in ways
    )
    for far in REACHES:
        rim, passed = far - radius, []
        for tip, way in rays:
            if not taken.passable(_along(tip, way, near), _along(tip, way, rim), over_circles=over_circles):
                continue
            passed.append((tip, way))
            centre = _along(tip, way, far)
            if taken.free(circle_box(centre, radius).grown(CLEAR)):
                return balloon(tip, centre, number, style)
        rays, near = passed, rim
    return ()


def _along(tip: Point, way: Point, far: float) -> Point:
    return tip[0] + far * way[0], tip[1] + far * way[1]
