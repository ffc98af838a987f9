"""The revision table: what was changed on a drawing since its first issue."""

from __future__ import annotations

from slotwright.drawings.paper.notes import wrapped
from slotwright.drawings.paper.placing import Box
from slotwright.drawings.paper.sheet import Anchor, Mark
from slotwright.drawings.paper.sheet_data import SheetData
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.tables import Block, Column, Table, table_marks, table_size

LONGEST = 70.0  # a line of a description, mm; our choice


def revision_table(data: SheetData, style: Style) -> Table | None:
    """Return the table, the oldest revision first, or None for a first issue."""
    if not data.revisions:
        return None
    columns = (Column("REV"), Column("DESCRIPTION", Anchor.LEFT, merged=True), Column("DATE"), Column("BY"))
    rows = (
        Block(((one.index,), tuple(wrapped(one.text, style.text, LONGEST)), (one.date,), (one.by,)))
        for one in data.revisions
    )
    return Table("REVISIONS", columns, tuple(rows))


def revision_box(data: SheetData, area: Box, style: Style) -> Box | None:
    """Return where the table stands: in the upper right corner (ASME Y14.1, from memory)."""
    table = revision_table(data, style)
    if table is None:
        return None
    wide, high = table_size(table, style)
    return Box(area.x1 - wide, area.y1 - high, area.x1, area.y1)


def revision_marks(data: SheetData, area: Box, style: Style) -> tuple[Mark, ...]:
    """Return the table as drawn, or nothing."""
    table, box = revision_table(data, style), revision_box(data, area, style)
    return () if table is None or box is None else table_marks(table, box.x0, box.y1, style)
