"""Model space: first origin at zero, nothing in two windows, paper and model agreeing."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest

from slotwright.drawings.paper.sheet import Circle, Drawing, Line, Sheet, Stroke, View
from slotwright.drawings.writers import ink
from slotwright.drawings.writers.windows import Window, windows


def _room(window: Window) -> tuple[float, float, float, float]:
    """All that the window's views draw in model space."""
    corners = []
    for view in window.views:
        box = ink.extent(view.marks)
        assert box is not None
        x, y = window.to_model(view.origin)
        corners.append((x + box[0], y + box[1], x + box[2], y + box[3]))
    x0, y0, x1, y1 = zip(*corners, strict=True)
    return min(x0), min(y0), max(x1), max(y1)


def _apart(a: tuple[float, ...], b: tuple[float, ...]) -> bool:
    return a[2] < b[0] or b[2] < a[0] or a[3] < b[1] or b[3] < a[1]


def test_first_view_is_at_the_origin_and_its_neighbour_as_on_paper(drawing: Drawing) -> None:
    main = windows(drawing)[0][0]
    assert [view.name for view in main.views] == ["plan", "front elevation"]
    assert main.to_model(main.views[0].origin) == pytest.approx((0.0, 0.0), abs=1e-12)
    assert main.to_model(main.views[1].origin) == pytest.approx((0.0, -60.0))


def test_no_window_shows_another_windows_views(drawing: Drawing) -> None:
    places = [window for row in windows(drawing) for window in row]
    assert len(places) == 3
    for one, other in combinations(places, 2):
        seen = (*one.corner, one.corner[0] + one.size[0], one.corner[1] + one.size[1])
        assert _apart(_room(one), _room(other))
        assert _apart(seen, _room(other))


def test_scales_and_boxes(drawing: Drawing) -> None:
    (main, detail), (small,) = windows(drawing)
    assert (main.scale, detail.scale, small.scale) == (1.0, 2.0, 0.2)
    assert detail.box == (220.0, 50.0, 300.0, 150.0)
    assert detail.size == pytest.approx((40.0, 50.0))
    plan, elevation = main.views
    for view in (plan, elevation):
        for corner in (view.to_paper((0.0, 0.0)), view.to_paper((100.0, 15.0))):
            assert main.box[0] < corner[0] < main.box[2]
            assert main.box[1] < corner[1] < main.box[3]


def test_a_large_view_behind_a_small_frame_keeps_its_distance() -> None:
    bar = Stroke(((0.0, 0.0), (1000.0, 0.0), (1000.0, 50.0), (0.0, 50.0)), Line.OUTLINE, True)
    plan = View(name="plan", origin=(20.0, 200.0), scale=0.2, marks=(bar,))
    first = View(name="detail A", origin=(50.0, 50.0), scale=2.0, marks=(bar,), frame=(60.0, 60.0, 90.0, 90.0))
    second = View(name="detail B", origin=(-900.0, 50.0), scale=1.0, marks=(bar,), frame=(60.0, 60.0, 90.0, 90.0))
    sheet = Sheet(size="A3", width=420.0, height=297.0, views=(plan, first, second), marks=())
    places = windows(Drawing(name="a", title="a", unit="mm", sheets=(sheet,)))[0]
    assert all(_apart(_room(one), _room(other)) for one, other in combinations(places, 2))


def test_a_sheet_without_views_has_no_windows() -> None:
    empty = Sheet(size="A4", width=210.0, height=297.0, views=(), marks=(Circle((9.0, 9.0), 5.0, Line.NOTE),))
    assert windows(Drawing(name="a", title="a", unit="mm", sheets=(empty,))) == [()]


def test_the_last_window_of_a_broken_view_shows_its_own_view_only() -> None:
    """The last part of a bar in a window far wider than what is left of the bar, with another view beside it."""
    bar = Stroke(((0.0, 0.0), (1000.0, 0.0), (1000.0, 50.0), (0.0, 50.0)), Line.OUTLINE, True)
    whole = View(name="plan", origin=(20.0, 200.0), scale=0.2, marks=(bar,))
    parts = tuple(
        replace(whole, origin=(20.0 - left, 200.0), frame=frame, whole=whole)
        for left, frame in ((0.0, (15.0, 195.0, 50.0, 215.0)), (120.0, (53.0, 195.0, 390.0, 215.0)))
    )
    other = View(name="pictorial", origin=(60.0, 60.0), scale=0.3, marks=(bar,))
    sheet = Sheet(size="A3", width=420.0, height=297.0, views=(*parts, other), marks=())
    *broken, pictorial = windows(Drawing(name="a", title="a", unit="mm", sheets=(sheet,)))[0]
    assert len(broken) == 2
    for window in broken:
        assert _apart((*window.corner, *map(sum, zip(window.corner, window.size, strict=True))), _room(pictorial))
