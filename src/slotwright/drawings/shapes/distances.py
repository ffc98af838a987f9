"""Distances beside a view: each takes the nearest place where it touches and crosses nothing, the shortest first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from slotwright.drawings.paper.crossing import level, runs_along
from slotwright.drawings.paper.dimensioning import Side, linear
from slotwright.drawings.paper.placing import points_box, text_box
from slotwright.drawings.paper.sheet import Dimension, Fill, Stroke, Text
from slotwright.drawings.shapes.panel import Panel

STEP = 2.0  # between the places tried for a dimension line, mm; our choice
NEAR, FARTHEST = 26, 70  # places tried on the better side before the other one, and in all; our choice
OTHER_ORDERS = 4  # in which distances are tried before one has to stand in the way; our choice
BRUSH = 1.0  # an extension line passes a loose letter no nearer, mm; our choice
_OPPOSITE = {Side.TOP: Side.BOTTOM, Side.BOTTOM: Side.TOP, Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT}


@dataclass(frozen=True, slots=True)
class Wish:
    """A distance that is to be dimensioned beside a view.

    Attributes:
        upright: measured along the view's v, else along its u.
        low, high: from where to where, model.
        low_span, high_span: for each end, from where to where the feature reaches across, model.
        side: where it would best stand.
        text: "<>" stands for the value.
        places: decimals, None for the style's.
    """

    upright: bool
    low: float
    high: float
    low_span: tuple[float, float]
    high_span: tuple[float, float]
    side: Side
    text: str = "<>"
    places: int | None = None


def place_distances(panel: Panel, wishes: Iterable[Wish]) -> None:
    """Place distances in a panel; one that finds no free place stands where it best would, and the panel is crowded.

    The shortest are placed first; when one finds no place, it is tried before the others.
    """
    order = sorted(wishes, key=lambda w: (w.high - w.low, w.upright, w.low))
    for _ in range(OTHER_ORDERS):
        trial = panel.copy()
        stuck = _place(trial, order)
        if stuck is None:
            panel.become(trial)
            return
        order = [stuck, *(wish for wish in order if wish is not stuck)]
    order.sort(key=lambda w: (w.high - w.low, w.upright, w.low))
    while (stuck := _place(panel, order)) is not None:
        panel.crowded = True
        panel.take(next(_tries(panel, stuck)))
        order = order[next(n for n, wish in enumerate(order) if wish is stuck) + 1 :]


def _place(panel: Panel, order: Iterable[Wish]) -> Wish | None:
    """Place distances one after another; return the first that finds no free place."""
    for wish in order:
        found = _first_clean(panel, wish)
        if found is None:
            return wish
        panel.take(found)
    return None


def _first_clean(panel: Panel, wish: Wish) -> Dimension | None:
    for clear in (panel.style.text, BRUSH):
        for one in _tries(panel, wish):
            if _clean(panel, one, clear):
                return one
    return None


def _tries(panel: Panel, wish: Wish) -> Iterator[Dimension]:
    near, far = range(NEAR), range(NEAR, FARTHEST)
    other = _OPPOSITE[wish.side]
    for side, steps in ((wish.side, near), (other, near), (wish.side, far), (other, far)):
        for step in steps:
            out = panel.style.first_offset + step * STEP
            yield _placed(panel, wish, side, out, up=True)
            yield _placed(panel, wish, side, out, up=False)


def _placed(panel: Panel, wish: Wish, side: Side, out: float, *, up: bool) -> Dimension:
    core = panel.core
    edge = {Side.TOP: core.y1, Side.BOTTOM: core.y0, Side.LEFT: core.x0, Side.RIGHT: core.x1}[side]
    nearest = 1 if side.sign > 0.0 else 0
    a, b = wish.low_span[nearest], wish.high_span[nearest]
    ends = ((a, wish.low), (b, wish.high)) if wish.upright else ((wish.low, a), (wish.high, b))
    return linear(
        panel.view, *ends, edge + side.sign * out, panel.style, text=wish.text, places=wish.places,
        upright=wish.upright, overflow_up=up,
    )  # fmt: skip


def _clean(panel: Panel, dimension: Dimension, clear: float) -> bool:
    """Say whether a dimension touches and crosses nothing."""
    for mark in dimension.marks:
        if isinstance(mark, Text) and not panel.register.free(text_box(mark).grown(clear)):
            return False
        if isinstance(mark, Fill):
            head = points_box(mark.points)
            if any(box.grown(clear).meets(head) for box, _ in panel.texts):
                return False
    strokes = [mark for mark in dimension.marks if isinstance(mark, Stroke)]
    return all(_passes(panel, mark, dimension.direction, clear) for mark in strokes)


def _passes(panel: Panel, mark: Stroke, direction: float, clear: float) -> bool:
    a, b = mark.points[0], mark.points[-1]
    if panel.meets_text(a, b, clear, BRUSH):
        return False
    if not runs_along(mark, direction):
        return not panel.crosses_measured(a, b)
    beside = points_box((a, b)).grown(panel.style.next_offset - 1.0)
    if any(beside.cut_by(*other) and level(other, (a, b)) for other in panel.measured):
        return False
    return not panel.crosses_any(a, b)
