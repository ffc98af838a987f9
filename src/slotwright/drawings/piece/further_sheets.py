"""What of a piece's drawing stands on further sheets: a long table, and details for which the first has no room."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from slotwright.drawings.paper.arranging import Item, arrange
from slotwright.drawings.paper.blocks import blocks
from slotwright.drawings.paper.placing import Box
from slotwright.drawings.paper.sheet import Mark, View
from slotwright.drawings.paper.sheet_choice import INSET, Choice, block_box, room
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.table_columns import columns_marks, columns_size, pages
from slotwright.drawings.paper.view_group import ViewGroup


@dataclass(frozen=True, slots=True)
class Further:
    """What one further sheet shows."""

    views: tuple[View, ...]
    marks: tuple[Mark, ...]


def further_sheets(chosen: Choice, style: Style) -> list[Further]:
    """Return what the sheets after the first one show: the table's columns, then details beside or after them."""
    page, words = _page(chosen, style), chosen.lettering
    found: list[Further] = []
    waiting = chosen.apart
    for parts in () if chosen.carried is None else pages(chosen.carried, page, words):
        wide, high = columns_size(parts, words)
        columns = Box(page.x0, page.y1 - high, page.x0 + wide, page.y1)
        placed = _as_many_as_fit(page, [columns], waiting)
        waiting = waiting[len(placed) :]
        found.append(_sheet(placed, columns_marks(parts, page.x0, page.y1, words)))
    while waiting:
        placed = _as_many_as_fit(page, [], waiting) or list(waiting)  # one that fits no page stands over its edge
        waiting = waiting[len(placed) :]
        found.append(_sheet(placed, []))
    return found


def _page(chosen: Choice, style: Style) -> Box:
    """Room on a further sheet: all above the title block."""
    area = room(chosen.paper)
    return Box(area.x0, block_box(chosen.paper, style).y1 + INSET, area.x1, area.y1)


def _as_many_as_fit(page: Box, taken: Sequence[Box], groups: Sequence[ViewGroup]) -> list[ViewGroup]:
    """Return the first groups, placed, for as many as there is room."""
    for count in range(len(groups), 0, -1):
        ways = blocks(groups[:count])
        spots = arrange(page, taken, [Item(tuple((way.width, way.height) for way in ways), "top")])
        if spots is not None:
            return ways[spots[0].variant].at(spots[0].box)
    return []


def _sheet(groups: Sequence[ViewGroup], marks: Sequence[Mark]) -> Further:
    views = tuple(view for one in groups for view in one.views)
    return Further(views, (*marks, *(mark for one in groups for mark in one.marks)))
