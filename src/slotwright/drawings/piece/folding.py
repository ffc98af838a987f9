"""Broken views: the views of a bar composed whole, then cut into parts that stand close together on paper.

What the figures say is true to size, for all of it is composed before anything is left out. In a DXF file the whole
view lies in model space, and each part is a window on it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from slotwright.drawings.paper.placing import Box, mark_box, marks_box, moved
from slotwright.drawings.paper.sheet import Dimension, DimensionKind, Line, Mark, Stroke, View
from slotwright.drawings.paper.view_group import ViewGroup, drawn
from slotwright.drawings.piece.breaks import Stretch, break_lines, folded, gaps, parts, pieces_of

MARGIN = 2.0  # of a window around what stands in it, mm


def fold(group: ViewGroup, removed: Sequence[Stretch], spans: Sequence[Stretch]) -> ViewGroup:
    """Return a group with stretches of its paper left out, and break lines beside them.

    Args:
        group: composed whole.
        removed: stretches along x, on the whole group's paper.
        spans: from which to which height each view's outline reaches, for its break lines.
    """
    if not removed:
        return group
    room = group.box.grown(MARGIN)
    kept = parts(room.x0, room.x1, removed)
    views = tuple(_part(view, low, high, removed, room) for low, high in kept for view in group.views)
    marks: list[Mark] = [_folded(mark, removed) for mark in group.marks]
    for bottom, top in spans:
        marks += break_lines(bottom, top, removed)
    marks += _bridges(group.views, removed)
    return replace(group, views=views, marks=tuple(marks), box=marks_box(drawn(views, marks)))


def _folded(mark: Mark, removed: Sequence[Stretch]) -> Mark:
    """Move a mark with the part it stands in; none of them spans a break."""
    box = mark_box(mark)
    x = (box.x0 + box.x1) / 2.0
    return moved(mark, folded(x, removed) - x, 0.0)


def _part(view: View, low: float, high: float, removed: Sequence[Stretch], room: Box) -> View:
    """Return what a view shows between two places of the whole paper."""
    shift = folded(low, removed) - low if low > room.x0 else 0.0
    start, end = view.to_model((low, 0.0))[0], view.to_model((high, 0.0))[0]
    dimensions = (_shown(dimension, low, high, shift) for dimension in view.dimensions)
    return replace(
        view,
        origin=(view.origin[0] + shift, view.origin[1]),
        marks=tuple(_cut(view.marks, start, end)),
        dimensions=tuple(one for one in dimensions if one.marks),
        frame=(low + shift, room.y0, high + shift, room.y1),
        whole=view,
    )


def _shown(dimension: Dimension, low: float, high: float, shift: float) -> Dimension:
    return replace(dimension, marks=tuple(moved(mark, shift, 0.0) for mark in _cut(dimension.marks, low, high)))


def _cut(marks: Iterable[Mark], low: float, high: float) -> Iterable[Mark]:
    """Yield what of marks stands between two places; only straight lines are ever cut."""
    for mark in marks:
        if isinstance(mark, Stroke):
            if all(low <= x <= high for x, _ in mark.points):
                yield mark
            else:
                yield from (Stroke(points, mark.line) for points in pieces_of(mark.path, low, high))
        else:
            box = mark_box(mark)
            if low < (box.x0 + box.x1) / 2.0 < high:
                yield mark


def _bridges(views: Iterable[View], removed: Sequence[Stretch]) -> Iterable[Mark]:
    """Yield the dimension lines that run over the gaps of the breaks: ISO 129-1, from memory."""
    for view in views:
        for dimension in view.dimensions:
            if dimension.kind is DimensionKind.LINEAR and not dimension.direction:
                yield from _over(dimension, removed)


def _over(dimension: Dimension, removed: Sequence[Stretch]) -> Iterable[Mark]:
    for mark in dimension.marks:
        if not isinstance(mark, Stroke) or abs(mark.points[0][1] - mark.points[-1][1]) > 1e-9:
            continue
        low, high = sorted((mark.points[0][0], mark.points[-1][0]))
        for (start, end), (left, right) in zip(removed, gaps(removed), strict=True):
            if low <= start and high >= end:
                yield Stroke(((left, mark.points[0][1]), (right, mark.points[0][1])), Line.DIMENSION)
