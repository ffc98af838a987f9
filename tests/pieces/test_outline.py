"""Outlines against hand arithmetic and against shapely, which knows polygons alone.

For shapely an arc becomes chords that stray from it by STRAY at most, so that an area may differ by the perimeter times
STRAY, and a distance by STRAY for each outline.
"""

from __future__ import annotations

from math import asin, cos, dist, hypot, inf, pi, sin, sqrt
from random import Random

import pytest
import shapely
from shapely.geometry import Polygon

from slotwright.pieces.hulls import hull, penetration
from slotwright.pieces.outline import Outline, OutlineError, circle, obround, polygon, rectangle

STRAY = 1e-3
CASES = range(60)


def shaped(random: Random) -> Outline:
    """Any outline: rectangle, obround, circle or a star-shaped chain with arcs."""
    turn, place = random.uniform(0.0, 360.0), (random.uniform(-50.0, 50.0), random.uniform(-50.0, 50.0))
    kind = random.randrange(4)
    if kind == 0:
        radius = random.choice([0.0, 3.0, 8.0])
        return rectangle(random.uniform(20.0, 90.0), random.uniform(20.0, 90.0), radius, place).turned(turn, place)
    if kind == 1:
        return obround(random.uniform(40.0, 90.0), random.uniform(10.0, 30.0), place, turn)
    if kind == 2:
        return circle(random.uniform(5.0, 60.0), place)
    spokes = random.randrange(3, 9)
    corners = []
    for n in range(spokes):
        radius, way = random.uniform(20.0, 50.0), 2.0 * pi * (n + random.uniform(-0.3, 0.3)) / spokes
        corners.append((radius * cos(way), radius * sin(way)))
    return polygon(corners, [random.choice([0.0, 0.0, 0.2, -0.15]) for _ in corners])


def faceted(outline: Outline) -> Polygon:
    return Polygon(outline.facets(STRAY))


# By hand


@pytest.mark.parametrize(
    ("outline", "area", "perimeter"),
    [
        pytest.param(rectangle(60.0, 40.0), 2400.0, 200.0, id="rectangle"),
        pytest.param(rectangle(60.0, 40.0, 5.0), 2400.0 - (4.0 - pi) * 25.0, 160.0 + 10.0 * pi, id="rounded-rectangle"),
        pytest.param(obround(60.0, 20.0), 800.0 + 100.0 * pi, 80.0 + 20.0 * pi, id="obround-by-rectangle-and-circle"),
        pytest.param(circle(20.0), 100.0 * pi, 20.0 * pi, id="circle"),
        pytest.param(polygon([(0, 0), (30, 0), (0, 40)]), 600.0, 120.0, id="triangle-3-4-5"),
        pytest.param(
            polygon([(0, 0), (20, 0)], [0.0, 1.0]), 50.0 * pi, 20.0 + 10.0 * pi, id="half-circle-on-its-diameter"
        ),
    ],
)
def test_area_and_perimeter_by_hand(outline: Outline, area: float, perimeter: float) -> None:
    assert outline.area == pytest.approx(area, rel=1e-12)
    assert outline.perimeter == pytest.approx(perimeter, rel=1e-12)


def test_half_circle_has_its_centroid_4r_over_3pi_from_the_diameter() -> None:
    half = polygon([(0, 0), (20, 0)], [0.0, 1.0])
    assert half.centroid == pytest.approx((10.0, 40.0 / (3.0 * pi)), rel=1e-12)
    assert half.bounds == pytest.approx((0.0, 0.0, 20.0, 10.0), abs=1e-12)


def test_an_outline_far_away_loses_no_digits() -> None:
    far = circle(20.0, (3e5, -2e5))
    assert far.area == pytest.approx(100.0 * pi, rel=1e-9)
    assert far.centroid == pytest.approx((3e5, -2e5), rel=1e-12)


def test_window_on_a_circle_is_a_strip_by_its_formula() -> None:
    r, h = 50.0, 12.0
    area, mx, my = circle(2.0 * r, (7.0, 3.0)).moments((-inf, 3.0 - h), (inf, 3.0 + h))
    assert area == pytest.approx(2.0 * (h * sqrt(r * r - h * h) + r * r * asin(h / r)), rel=1e-12)
    assert (mx / area, my / area) == pytest.approx((7.0, 3.0), abs=1e-12)


def test_window_that_just_holds_an_outline_shows_all_of_it() -> None:
    for outline in (circle(20.0), obround(40.0, 10.0), rectangle(30.0, 20.0, 4.0)):
        x0, y0, x1, y1 = outline.bounds
        assert outline.moments((x0, y0), (x1, y1))[0] == pytest.approx(outline.area, rel=1e-12)


def test_makers_stand_at_the_origin_or_about_a_centre() -> None:
    for made in (rectangle(60.0, 40.0, 3.0), obround(60.0, 40.0), obround(60.0, 40.0, angle=30.0), circle(60.0)):
        assert made.bounds[:2] == pytest.approx((0.0, 0.0), abs=1e-12)
    for made in (rectangle(60.0, 40.0, 3.0, (5, 7)), obround(60.0, 40.0, (5, 7), 25.0), circle(60.0, (5, 7))):
        assert made.centroid == pytest.approx((5.0, 7.0), abs=1e-12)


def test_inset_of_a_rounded_rectangle_keeps_its_centres() -> None:
    assert rectangle(60.0, 40.0, 5.0).inset(2.0).area == pytest.approx(56.0 * 36.0 - (4.0 - pi) * 9.0, rel=1e-12)
    assert circle(20.0).inset(-3.0).diameter == pytest.approx(26.0)


def test_inset_at_an_inner_corner_is_mitred() -> None:
    angle = polygon([(0, 0), (60, 0), (60, 20), (20, 20), (20, 50), (0, 50)])
    assert angle.inset(2.0).area == pytest.approx(56.0 * 16.0 + 16.0 * 30.0, rel=1e-12)


def test_quarter_turns_are_exact() -> None:
    assert rectangle(60.0, 40.0).turned(90.0).bounds == (-40.0, 0.0, 0.0, 60.0)


def test_swapping_turns_it_over() -> None:
    half = polygon([(0, 0), (20, 0)], [0.0, 1.0]).swapped()
    assert half.bounds == pytest.approx((0.0, 0.0, 10.0, 20.0), abs=1e-12)
    assert half.area == pytest.approx(50.0 * pi, rel=1e-12)


def test_diameter_is_that_of_a_circle_alone() -> None:
    assert circle(20.0).diameter == pytest.approx(20.0)
    quarters = Outline(((10, 0), (0, 10), (-10, 0), (0, -10)), (sqrt(2.0) - 1.0,) * 4)
    assert quarters.diameter == pytest.approx(20.0)
    assert obround(60.0, 20.0).diameter is None
    assert rectangle(60.0, 20.0).diameter is None


def test_a_chain_from_elsewhere_may_run_either_way_and_repeat_its_corner() -> None:
    clockwise = polygon([(0, 0), (0, 40), (30, 0), (0, 0)])
    assert clockwise.area == pytest.approx(600.0)
    half = polygon([(20, 0), (0, 0), (20, 0)], [0.0, -1.0, 0.0])
    assert half.area == pytest.approx(50.0 * pi)
    assert half.bounds == pytest.approx((0.0, 0.0, 20.0, 10.0), abs=1e-12)


@pytest.mark.parametrize(
    ("points", "bulges", "words"),
    [
        pytest.param([(0, 0), (10, 10), (10, 0), (0, 10)], [], "area|meet", id="bow-tie"),
        pytest.param([(0, 0), (40, 0), (40, 30), (20, -10), (0, 30)], [], "meet", id="spike-through-a-side"),
        pytest.param([(0, 0), (40, 0), (40, 30), (20, 0), (0, 30)], [], "meet", id="spike-that-touches-a-side"),
        pytest.param([(0, 0), (40, 0), (40, 30), (60, 30), (40, 30), (0, 30)], [], "meet", id="side-run-twice"),
        pytest.param([(0, 0), (40, 0), (40, 5), (0, 5)], [-1.0, 0.0, 0.0, 0.0], "meet", id="arc-through-a-side"),
        pytest.param([(0, 0), (10, 0), (10, 0), (0, 10)], [], "no length", id="doubled-corner"),
        pytest.param([(0, 0), (10, 0)], [], "no area", id="two-corners"),
        pytest.param([(0, 0)], [], "three corners", id="one-corner"),
        pytest.param([(0, 0), (10, 0), (0, float("nan"))], [], "finite", id="not-a-number"),
        pytest.param([(0, 0), (10, 0), (0, 10)], [0.0], "one bulge a corner", id="too-few-bulges"),
    ],
)
def test_chains_that_bound_nothing_are_refused(
    points: list[tuple[float, float]], bulges: list[float], words: str
) -> None:
    with pytest.raises(OutlineError, match=words):
        polygon(points, bulges)


def test_insets_that_leave_nothing_or_have_no_corner_are_refused() -> None:
    with pytest.raises(OutlineError, match="vanishes"):
        rectangle(60.0, 40.0).inset(20.0)
    with pytest.raises(OutlineError, match="vanishes"):
        rectangle(60.0, 40.0, 5.0).inset(6.0)
    with pytest.raises(OutlineError, match="at an angle"):
        polygon([(0, 0), (20, 0)], [0.0, 1.0]).inset(1.0)


# Against shapely


@pytest.mark.parametrize("case", CASES)
def test_measures_agree_with_shapely(case: int) -> None:
    random = Random(case)
    outline = shaped(random)
    other = faceted(outline)
    slack = STRAY * outline.perimeter
    assert outline.is_simple()
    assert other.is_valid
    assert outline.area == pytest.approx(other.area, abs=slack)
    assert outline.perimeter == pytest.approx(other.length, rel=1e-3)
    assert outline.bounds == pytest.approx(other.bounds, abs=STRAY)
    reach = hypot(*outline.size)
    assert dist(outline.centroid, (other.centroid.x, other.centroid.y)) < slack * reach / outline.area
    assert other.contains(shapely.Point(outline.inner_point))


@pytest.mark.parametrize("case", CASES)
def test_a_window_agrees_with_shapely(case: int) -> None:
    random = Random(1000 + case)
    outline = shaped(random)
    (x0, x1), (y0, y1) = (sorted(random.uniform(-60.0, 60.0) for _ in "ab") for _ in "xy")
    area, mx, my = outline.moments((x0, y0), (x1, y1))
    seen = faceted(outline).intersection(shapely.box(x0, y0, x1, y1))
    slack = STRAY * outline.perimeter
    assert area == pytest.approx(seen.area, abs=slack)
    assert mx == pytest.approx(seen.area * seen.centroid.x if seen.area else 0.0, abs=120.0 * slack)
    assert my == pytest.approx(seen.area * seen.centroid.y if seen.area else 0.0, abs=120.0 * slack)


@pytest.mark.parametrize("case", CASES)
def test_distances_agree_with_shapely(case: int) -> None:
    random = Random(2000 + case)
    outline, other = shaped(random), shaped(random)
    point = (random.uniform(-60.0, 60.0), random.uniform(-60.0, 60.0))
    ring = faceted(outline).exterior
    away = ring.distance(shapely.Point(point))
    assert abs(outline.distance_to_edge(point)) == pytest.approx(away, abs=STRAY)
    if away > STRAY:
        assert outline.contains(point) is faceted(outline).contains(shapely.Point(point))
    assert outline.gap(other) == pytest.approx(ring.distance(faceted(other).exterior), abs=2.0 * STRAY)
    shared = faceted(outline).intersection(faceted(other)).area
    if not 0.0 < shared < 0.1:
        assert outline.overlaps(other) is (shared > 0.0)


@pytest.mark.parametrize("case", CASES)
def test_a_line_runs_inside_where_shapely_says(case: int) -> None:
    random = Random(3000 + case)
    outline, at = shaped(random), random.uniform(-50.0, 50.0)
    for axis in (0, 1):
        ends = [(-200.0, at), (200.0, at)] if axis == 0 else [(at, -200.0), (at, 200.0)]
        cut = faceted(outline).intersection(shapely.LineString(ends))
        along = sum(b - a for a, b in outline.spans(axis, at))
        # A line that only grazes an arc is cut short by a chord much more than one that meets it squarely.
        assert along == pytest.approx(cut.length, abs=4.0 * sqrt(2.0 * 100.0 * STRAY))


@pytest.mark.parametrize("case", CASES)
def test_insets_agree_with_shapely(case: int) -> None:
    outline = shaped(Random(4000 + case))
    try:
        inset = outline.inset(1.0)
    except OutlineError:
        pytest.skip("an arc meets a side at an angle, or a side vanishes")
    other = faceted(outline).buffer(-1.0, join_style="mitre", mitre_limit=50.0)
    if inset.is_simple():
        assert inset.area == pytest.approx(other.area, abs=2.0 * STRAY * outline.perimeter)


@pytest.mark.parametrize("case", CASES)
def test_penetration_takes_hulls_apart(case: int) -> None:
    random = Random(5000 + case)
    one, other = shaped(random), shaped(random)
    hulls = [faceted(outline).convex_hull for outline in (one, other)]
    assert Polygon(hull(one.facets(STRAY))).area == pytest.approx(hulls[0].area, rel=1e-9)
    deep = penetration(one, other)
    if abs(deep) > 0.05:
        assert (deep > 0.0) is hulls[0].intersects(hulls[1])


def test_penetration_of_two_squares_by_hand() -> None:
    assert penetration(rectangle(20.0, 20.0), rectangle(20.0, 20.0).moved(15.0, 3.0)) == pytest.approx(5.0)
    assert penetration(rectangle(20.0, 20.0), rectangle(20.0, 20.0).moved(26.0, 3.0)) == pytest.approx(-6.0)
    corner = rectangle(20.0, 20.0, 0.0, (0.0, 0.0)).turned(45.0).moved(20.0, 0.0)
    assert penetration(rectangle(20.0, 20.0, 0.0, (0.0, 0.0)), corner) == pytest.approx(10.0 * sqrt(2.0) - 10.0)
