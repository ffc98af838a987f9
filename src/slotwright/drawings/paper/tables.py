"""Ruled tables on paper: hole table, parts list, cut list.

A table is made of blocks. In a plain column each line of a block is a row of its own; in a merged column the lines
belong to the block as a whole and stand in its middle.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.sheet import Anchor, Line, Mark, Stroke, Text
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.symbols import control_frame, frame_cells

PAD = 1.5  # beside a cell's text, mm; our choice
ROW = 1.8  # height of a row in heights of capitals; our choice
FRAME_ROW = 2.6  # height a control frame takes in a cell, in heights of capitals


@dataclass(frozen=True, slots=True)
class ControlFrame:
    """A feature control frame as a line of a cell."""

    cells: tuple[str, ...]


Entry: TypeAlias = str | ControlFrame


@dataclass(frozen=True, slots=True)
class Column:
    """A column: what stands over it, how its text stands, and whether its cells span a block."""

    head: str
    anchor: Anchor = Anchor.CENTRE
    merged: bool = False


@dataclass(frozen=True, slots=True)
class Block:
    """Rows that belong together: for each column its lines."""

    cells: tuple[tuple[Entry, ...], ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A table with its title; rows from top to bottom.

    Widths, where given, are those of the columns; else the texts decide.
    """

    title: str
    columns: tuple[Column, ...]
    blocks: tuple[Block, ...]
    widths: tuple[float, ...] = ()

    @property
    def row_count(self) -> int:
        """Number of rows under the head."""
        return sum(rows_of(block, self.columns) for block in self.blocks)


def rows_of(block: Block, columns: Sequence[Column]) -> int:
    """Return how many rows a block has: the most lines in any column that is not merged."""
    return max([1, *(len(cell) for cell, column in zip(block.cells, columns, strict=True) if not column.merged)])


def table_size(table: Table, style: Style) -> tuple[float, float]:
    """Return width and height on paper, mm."""
    heights = sum(block_height(block, table.columns, style) for block in table.blocks)
    return max(sum(column_widths(table, style)), _title_width(table, style)), title_height(
        table, style
    ) + heights + head_height(style)


def _title_width(table: Table, style: Style) -> float:
    return lettering.width(table.title, style.text) if table.title else 0.0


def title_height(table: Table, style: Style) -> float:
    """Return the height of the title over the head, 0 without one."""
    return 1.8 * style.text if table.title else 0.0


def head_height(style: Style) -> float:
    """Return the height of the head."""
    return ROW * style.small + 1.0


def column_widths(table: Table, style: Style) -> list[float]:
    """Return the widths of the columns, mm."""
    if table.widths:
        return list(table.widths)
    widths = []
    for n, column in enumerate(table.columns):
        entries = (entry for block in table.blocks for entry in block.cells[n])
        need = max([lettering.width(column.head, style.small), *(entry_width(e, style.text) for e in entries)])
        widths.append(need + 2.0 * PAD)
    return widths


def entry_width(entry: Entry, height: float) -> float:
    """Return how long a line of a cell is."""
    return lettering.width(entry, height) if isinstance(entry, str) else sum(frame_cells(entry.cells, height))


def _stack_height(cell: Iterable[Entry], style: Style) -> float:
    return sum((ROW if isinstance(entry, str) else FRAME_ROW) * style.text for entry in cell)


def block_height(block: Block, columns: Sequence[Column], style: Style) -> float:
    """Return the height of a block, mm."""
    merged = [_stack_height(c, style) for c, column in zip(block.cells, columns, strict=True) if column.merged]
    return max([rows_of(block, columns) * ROW * style.text, *merged])


def table_marks(table: Table, left: float, top: float, style: Style) -> tuple[Mark, ...]:
    """Return the table drawn with its upper left corner at a paper point."""
    widths = column_widths(table, style)
    edges = [left]
    for width in widths:
        edges.append(edges[-1] + width)
    marks: list[Mark] = []
    y = top
    if table.title:
        marks.append(Text((left, y - style.text), table.title, style.text))
        y -= title_height(table, style)
    head_top = y
    y -= head_height(style)
    for column, a, b in zip(table.columns, edges, edges[1:], strict=False):
        marks.append(Text(((a + b) / 2.0, (head_top + y) / 2.0), column.head, style.small, Anchor.CENTRE, middle=True))
    marks.append(Stroke(((left, y), (edges[-1], y)), Line.OUTLINE))
    for block in table.blocks:
        height = block_height(block, table.columns, style)
        marks += _block(block, table.columns, edges, y, height, style)
        y -= height
    marks.append(_outline(left, y, edges[-1], head_top))
    marks += [Stroke(((x, y), (x, head_top)), Line.RULE) for x in edges[1:-1]]
    return tuple(marks)


def _outline(x0: float, y0: float, x1: float, y1: float) -> Stroke:
    return Stroke(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), Line.OUTLINE, closed=True)


def _block(
    block: Block, columns: Sequence[Column], edges: Sequence[float], top: float, height: float, style: Style
) -> list[Mark]:
    count = rows_of(block, columns)
    step = height / count
    marks: list[Mark] = [Stroke(((edges[0], top - height), (edges[-1], top - height)), Line.RULE)]
    for n, (column, cell) in enumerate(zip(columns, block.cells, strict=True)):
        a, b = edges[n], edges[n + 1]
        if column.merged:
            marks += _stack(cell, column.anchor, a, b, top - height / 2.0, style)
            continue
        for row, entry in enumerate(cell):
            marks += _entry(entry, column.anchor, a, b, top - (row + 0.5) * step, style)
        marks += [Stroke(((a, top - row * step), (b, top - row * step)), Line.RULE) for row in range(1, count)]
    return marks


def _stack(cell: Sequence[Entry], anchor: Anchor, a: float, b: float, middle: float, style: Style) -> list[Mark]:
    y = middle + _stack_height(cell, style) / 2.0
    marks: list[Mark] = []
    for entry in cell:
        high = _stack_height((entry,), style)
        marks += _entry(entry, anchor, a, b, y - high / 2.0, style)
        y -= high
    return marks


def _entry(entry: Entry, anchor: Anchor, a: float, b: float, middle: float, style: Style) -> list[Mark]:
    if isinstance(entry, ControlFrame):
        return list(control_frame(a + PAD, middle, entry.cells, style.text * 0.9, Line.NOTE))
    if not entry:
        return []
    x = {Anchor.LEFT: a + PAD, Anchor.CENTRE: (a + b) / 2.0, Anchor.RIGHT: b - PAD}[anchor]
    return [Text((x, middle), entry, style.text, anchor, 0.0, True)]
