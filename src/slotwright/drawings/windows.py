"""Where each view lies in the model space of a DXF file, and through which window of its sheet it is seen.

Model space is true size, mm. The views at the main scale of a sheet share one window that covers the sheet and lie
in model space as on paper, divided by the scale; the first view of the first sheet has its origin at (0, 0). Every
other view, and every further sheet, lies clear of them with a window of its own.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from slotwright.drawings import ink
from slotwright.drawings.ink import Box
from slotwright.drawings.sheet import Drawing, Mark, Point, Sheet, View, on_paper

CLEARANCE = 20.0  # between the windows in model space, mm of paper at the main scale
EDGE = 2.0  # added around a view that has no frame of its own, mm of paper


@dataclass(frozen=True, slots=True)
class Window:
    """A part of a sheet that shows a part of model space.

    Attributes:
        box: on paper.
        scale: paper mm a model mm.
        corner: where the box's lower left corner lies in model space.
        views: what is seen through it.
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
        if not sheet.views:
            rows.append(())
            continue
        gap = CLEARANCE / sheet.views[0].scale
        panes = [_Pane((0.0, 0.0, sheet.width, sheet.height), sheet.views[0].scale, _shared(sheet))]
        panes += [_Pane(_box_of(view), view.scale, (view,)) for view in _apart(sheet)]
        if not rows:
            first = sheet.views[0].origin if panes[0].views else (0.0, 0.0)
            left, base = -first[0] / panes[0].scale, -first[1] / panes[0].scale
        else:
            base = floor - gap - max(pane.height for pane in panes)
        rows.append(_row(panes, (left, base), gap))
        floor = base
    return rows


@dataclass(frozen=True, slots=True)
class _Pane:
    """A window that has no place yet."""

    box: Box
    scale: float
    views: tuple[View, ...]

    @property
    def width(self) -> float:
        return (self.box[2] - self.box[0]) / self.scale

    @property
    def height(self) -> float:
        return (self.box[3] - self.box[1]) / self.scale


def _row(panes: Sequence[_Pane], start: Point, gap: float) -> tuple[Window, ...]:
    placed, x = [], start[0]
    for pane in panes:
        placed.append(Window(pane.box, pane.scale, (x, start[1]), pane.views))
        x += pane.width + gap
    return tuple(placed)


def _shared(sheet: Sheet) -> tuple[View, ...]:
    main = sheet.views[0].scale
    return tuple(view for view in sheet.views if view.scale == main and view.frame is None)


def _apart(sheet: Sheet) -> tuple[View, ...]:
    main = sheet.views[0].scale
    return tuple(view for view in sheet.views if view.scale != main or view.frame is not None)


def _box_of(view: View) -> Box:
    """Return the frame of a view, or the box around everything it shows."""
    if view.frame is not None:
        return view.frame
    marks: list[Mark] = list(on_paper(view))
    for dimension in view.dimensions:
        marks += dimension.marks
    x0, y0, x1, y1 = ink.extent(tuple(marks)) or (*view.origin, *view.origin)
    return x0 - EDGE, y0 - EDGE, x1 + EDGE, y1 + EDGE
