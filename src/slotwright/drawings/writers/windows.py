"""Where each view lies in the model space of a DXF file, and through which window of its sheet it is seen.

Model space is true size, mm. The views at the main scale of a sheet share one window and lie in model space as on
paper, divided by the scale; the first view of the first sheet has its origin at (0, 0). Every other view, and every
further sheet, lies clear of them with a window of its own. A window without a frame is as large as what is in it.
Broken views lie in model space whole; their parts are so many windows on them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from slotwright.drawings.paper.sheet import Drawing, Mark, Point, Sheet, View, on_paper
from slotwright.drawings.writers import ink
from slotwright.drawings.writers.ink import Box

CLEARANCE = 20.0  # between the windows in model space, mm of paper at the main scale
EDGE = 2.0  # added around views that have no frame of their own, mm of paper


@dataclass(frozen=True, slots=True)
class Window:
    """A part of a sheet that shows a part of model space.

    Attributes:
        box: on paper.
        scale: paper mm a model mm.
        corner: where the box's lower left corner lies in model space.
        views: what is seen through it and is not in an earlier window.
    """

    box: Box
    scale: float
    corner: Point
    views: tuple[View, ...]

    @property
    def size(self) -> Point:
        """Width and height of the window in model space."""
        return (self.box[2] - self.box[0]) / self.scale, (self.box[3] - self.box[1]) / self.scale

    def to_model(self, point: Point) -> Point:
        """Take a point of the paper to model space."""
        return (
            self.corner[0] + (point[0] - self.box[0]) / self.scale,
            self.corner[1] + (point[1] - self.box[1]) / self.scale,
        )


def windows(drawing: Drawing) -> list[tuple[Window, ...]]:
    """Return the windows of each sheet, the one at the main scale first.

    The sheets lie one below the other in model space, a sheet's further windows to the right of its first one.
    """
    rows: list[tuple[Window, ...]] = []
    left = floor = 0.0
    for sheet in drawing.sheets:
        panes = _panes(sheet)
        if not panes:
            rows.append(())
            continue
        gap = CLEARANCE / panes[0].scale
        if not any(rows):
            left, base = panes[0].from_first_origin
        else:
            base = floor - gap - max(pane.height for pane in panes)
        rows.append(_row(panes, (left, base), gap))
        floor = base
    return rows


@dataclass(frozen=True, slots=True)
class _Pane:
    """A window that has no place yet.

    Attributes:
        room: all that its views draw, which the box may cut, and all that its windows show.
        further: windows on the same views, and how far to the left each shows them.
    """

    box: Box
    room: Box
    scale: float
    views: tuple[View, ...]
    further: tuple[tuple[Box, float], ...] = ()

    @property
    def width(self) -> float:
        return (self.room[2] - self.room[0]) / self.scale

    @property
    def height(self) -> float:
        return (self.room[3] - self.room[1]) / self.scale

    @property
    def from_first_origin(self) -> Point:
        """Lower left corner of the room, seen from the first view's origin."""
        x, y = self.views[0].origin
        return (self.room[0] - x) / self.scale, (self.room[1] - y) / self.scale

    def at(self, corner: Point) -> Iterator[Window]:
        """Put the room's lower left corner there."""
        x = corner[0] + (self.box[0] - self.room[0]) / self.scale
        y = corner[1] + (self.box[1] - self.room[1]) / self.scale
        yield Window(self.box, self.scale, (x, y), self.views)
        for box, left in self.further:
            yield Window(box, self.scale, (x + (box[0] + left - self.box[0]) / self.scale, y), ())


def _row(panes: Sequence[_Pane], start: Point, gap: float) -> tuple[Window, ...]:
    placed: list[Window] = []
    x = start[0]
    for pane in panes:
        placed += pane.at((x, start[1]))
        x += pane.width + gap
    return tuple(placed)


def _panes(sheet: Sheet) -> list[_Pane]:
    if not sheet.views:
        return []
    main = sheet.views[0].scale
    shared = [view for view in sheet.views if view.scale == main and view.frame is None]
    apart = [[view] for view in sheet.views if view.whole is None and (view.scale != main or view.frame is not None)]
    broken = _broken([view for view in sheet.views if view.whole is not None])
    return [*broken, *(_pane(tuple(views)) for views in (shared, *apart) if views)]


def _broken(found: Sequence[View]) -> list[_Pane]:
    """Return one pane for all parts of the broken views, which are broken at the same places."""
    windows: dict[Box, float] = {}
    wholes: dict[int, View] = {}
    for view in found:
        if view.whole is not None and view.frame is not None:
            windows[view.frame] = view.whole.origin[0] - view.origin[0]
            wholes[id(view.whole.marks)] = view.whole
    if not wholes:
        return []
    (first, _), *others = windows.items()
    pane = _pane(tuple(wholes.values()))
    # The last part of a view may show more than the view draws: the clear paper beside it is its own too.
    seen = [first, *((box[0] + left, first[1], box[2] + left, first[1] + box[3] - box[1]) for box, left in others)]
    x0, y0, x1, y1 = zip(pane.room, *seen, strict=True)
    return [replace(pane, box=first, room=(min(x0), min(y0), max(x1), max(y1)), further=tuple(others))]


def _pane(views: tuple[View, ...]) -> _Pane:
    marks: list[Mark] = []
    for view in views:
        marks += on_paper(view)
        for dimension in view.dimensions:
            marks += dimension.marks
    x0, y0, x1, y1 = ink.extent(tuple(marks)) or (*views[0].origin, *views[0].origin)
    room = (x0 - EDGE, y0 - EDGE, x1 + EDGE, y1 + EDGE)
    frame = views[0].frame
    if frame is None:
        return _Pane(room, room, views[0].scale, views)
    both = (min(room[0], frame[0]), min(room[1], frame[1]), max(room[2], frame[2]), max(room[3], frame[3]))
    return _Pane(frame, both, views[0].scale, views)
