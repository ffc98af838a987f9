"""What of a mark lies in a circle, against shapely (GEOS): the same length of line at the same place."""

from __future__ import annotations

from itertools import pairwise
from math import cos, hypot, radians, sin
from random import Random

import pytest
import shapely

from slotwright.drawings.clipping import inside_circle
from slotwright.drawings.paper.sheet import Arc, Circle, Line, Mark, Stroke

CHORDS = 720
NEAR = 0.003  # mm: chords of circles up to 60 mm stay nearer to them


def _line(mark: Mark) -> shapely.LineString:
    match mark:
        case Stroke(points, _, closed):
            return shapely.LineString((*points, points[0]) if closed else points)
        case Circle(centre, radius):
            return _line(Arc(centre, radius, 0.0, 360.0, mark.line))
        case Arc((x, y), radius, start, end):
            turns = (radians(start + (end - start) * n / CHORDS) for n in range(CHORDS + 1))
            return shapely.LineString([(x + radius * cos(t), y + radius * sin(t)) for t in turns])
    raise TypeError(mark)


def _marks(random: Random) -> list[Mark]:
    def point() -> tuple[float, float]:
        return random.uniform(-40.0, 40.0), random.uniform(-40.0, 40.0)

    start = random.uniform(-400.0, 400.0)
    return [
        Stroke((point(), point()), Line.OUTLINE),
        Stroke(tuple(point() for _ in range(random.randint(3, 6))), Line.HIDDEN, closed=random.random() < 0.5),
        Circle(point(), random.uniform(1.0, 50.0), Line.OUTLINE),
        Arc(point(), random.uniform(1.0, 50.0), start, start + random.uniform(5.0, 360.0), Line.THREAD),
    ]


@pytest.mark.parametrize("seed", range(40))
def test_the_same_remains_as_by_shapely(seed: int) -> None:
    random = Random(seed)
    centre, radius = (random.uniform(-10.0, 10.0), random.uniform(-10.0, 10.0)), random.uniform(5.0, 40.0)
    disc = shapely.Point(centre).buffer(radius, quad_segs=2000)
    for mark in _marks(random):
        found = list(inside_circle([mark], centre, radius))
        wanted = _line(mark).intersection(disc)
        assert sum(_line(one).length for one in found) == pytest.approx(wanted.length, abs=0.05)
        assert all(one.line is mark.line for one in found)
        for one in found:
            assert wanted.buffer(NEAR * 4.0).covers(_line(one))
            for a, b in pairwise(_line(one).coords):
                assert hypot((a[0] + b[0]) / 2.0 - centre[0], (a[1] + b[1]) / 2.0 - centre[1]) < radius + NEAR


def test_what_lies_inside_stays_as_it_is() -> None:
    marks: list[Mark] = [
        Circle((1.0, 1.0), 2.0, Line.OUTLINE),
        Stroke(((0.0, 0.0), (3.0, 0.0), (3.0, 3.0)), Line.HATCH, True),
        Arc((0.0, 1.0), 4.0, 350.0, 370.0, Line.CENTRE),
    ]
    assert list(inside_circle(marks, (0.0, 0.0), 10.0)) == marks


def test_nothing_of_what_lies_outside_is_left() -> None:
    """A circle round the circle is no part of it; nor is one that only touches."""
    marks: list[Mark] = [
        Circle((0.0, 0.0), 12.0, Line.OUTLINE),
        Circle((15.0, 0.0), 5.0, Line.OUTLINE),
        Stroke(((-20.0, 10.0), (20.0, 10.0)), Line.OUTLINE),
        Arc((0.0, 0.0), 11.0, 0.0, 90.0, Line.HIDDEN),
    ]
    assert list(inside_circle(marks, (0.0, 0.0), 10.0)) == []


def test_a_plate_cut_at_its_corner_by_hand() -> None:
    """A 3-4-5 triangle: the circle runs through the corner and cuts its sides 6 and 8 from it."""
    plate = Stroke(((0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (0.0, 20.0)), Line.OUTLINE, True)
    left = [mark for mark in inside_circle([plate], (3.0, 4.0), 5.0) if isinstance(mark, Stroke)]
    ends = {(round(x, 9), round(y, 9)) for mark in left for x, y in mark.points}
    assert ends == {(0.0, 8.0), (0.0, 0.0), (6.0, 0.0)}
    assert sum(_line(mark).length for mark in left) == pytest.approx(14.0)
