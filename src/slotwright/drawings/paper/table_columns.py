"""Long tables side by side in columns, and over several sheets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import ceil, floor

from slotwright.drawings.paper.placing import Box
from slotwright.drawings.paper.sheet import Mark
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.tables import (
    ROW,
    Block,
    Column,
    Table,
    column_widths,
    head_height,
    rows_of,
    table_marks,
    table_size,
    title_height,
)

BETWEEN = 5.0  # between the columns of a split table, mm; our choice
MOST_COLUMNS = 16
LEAST_ROWS = 4  # in a column of a split table; our choice


def variants(table: Table, style: Style) -> tuple[tuple[Table, ...], ...]:
    """Return the table whole, and in two, three and more columns of about equal height."""
    table = replace(table, widths=tuple(column_widths(table, style)))
    counts = [n for n in range(2, MOST_COLUMNS + 1) if table.row_count >= LEAST_ROWS * n]
    return ((table,), *(_split(table, ceil(table.row_count / n)) for n in counts))


def pages(table: Table, room: Box, style: Style) -> tuple[tuple[Table, ...], ...]:
    """Return the table in as many pages of columns as it needs in a room of this size; whole where it fits so."""
    table = replace(table, widths=tuple(column_widths(table, style)))
    wide, high = table_size(table, style)
    if wide <= room.width and high <= room.height:
        return ((table,),)
    step = sum(table.widths) + BETWEEN
    across = max(1, floor((room.width + BETWEEN) / step))
    down = max(1, floor((room.height - title_height(table, style) - head_height(style)) / (ROW * style.text)))
    count = ceil(table.row_count / (across * down))
    level = ceil(table.row_count / (across * count))
    columns = _split(table, level)
    return tuple(columns[n : n + across] for n in range(0, len(columns), across))


def _split(table: Table, most: int) -> tuple[Table, ...]:
    """Divide a table into columns of at most so many rows; what spans a block is said again in each part."""
    parts: list[list[Block]] = [[]]
    room = most
    for block in table.blocks:
        start, count = 0, rows_of(block, table.columns)
        while start < count:
            if room == 0:
                parts.append([])
                room = most
            take = min(room, count - start)
            parts[-1].append(_rows(block, table.columns, start, take))
            start, room = start + take, room - take
    return tuple(replace(table, title=table.title if n == 0 else "", blocks=tuple(p)) for n, p in enumerate(parts))


def _rows(block: Block, columns: Sequence[Column], start: int, count: int) -> Block:
    return Block(
        tuple(
            cell if column.merged else cell[start : start + count]
            for cell, column in zip(block.cells, columns, strict=True)
        )
    )


def columns_size(parts: Sequence[Table], style: Style) -> tuple[float, float]:
    """Return width and height of columns side by side."""
    grid = sum(sum(column_widths(part, style)) for part in parts) + BETWEEN * (len(parts) - 1)
    below = max(table_size(part, style)[1] - title_height(part, style) for part in parts)  # their heads stand level
    return max(grid, table_size(parts[0], style)[0]), title_height(parts[0], style) + below


def columns_marks(parts: Sequence[Table], left: float, top: float, style: Style) -> list[Mark]:
    """Return columns side by side, their heads level, the first one's title above."""
    marks: list[Mark] = []
    head_top = top - title_height(parts[0], style)
    for part in parts:
        marks += table_marks(part, left, head_top + title_height(part, style), style)
        left += sum(column_widths(part, style)) + BETWEEN
    return marks
