"""A sheet on which everything has its place, whatever it shows; and its marks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from slotwright.drawings.paper.formats import Format
from slotwright.drawings.paper.frame import drawing_space, frame
from slotwright.drawings.paper.notes import notes_marks, stop_marks
from slotwright.drawings.paper.placing import Box
from slotwright.drawings.paper.revisions import revision_box, revision_marks
from slotwright.drawings.paper.sheet import Mark, Sheet, View
from slotwright.drawings.paper.sheet_data import SheetData
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.table_columns import columns_marks
from slotwright.drawings.paper.tables import Table
from slotwright.drawings.paper.title_block import TitleFields, title_block, title_block_size
from slotwright.drawings.paper.view_group import ViewGroup
from slotwright.errors import SlotwrightError

INSET = 9.0  # clear paper inside the frame, mm: past the centring marks; our choice
NOTE_WIDTHS = (110.0, 130.0, 90.0, 75.0, 150.0, 60.0, 180.0)  # tried in this order; our choice
STOP_WIDTHS = (140.0, 180.0, 100.0)


class SheetError(SlotwrightError, ValueError):
    """A piece or set-up for which no sheet is large enough."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedTable:
    """Columns of one table and where they stand."""

    parts: tuple[Table, ...]
    box: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedWords:
    """Notes or stop findings and where they stand."""

    words: tuple[str, ...]
    box: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """A sheet on which everything has its place.

    Attributes:
        paper, scale: the sheet and the main scale.
        lettering: of tables and notes.
        groups: views, placed, the main ones first.
        tables: on this sheet.
        carried: a table that goes to sheets of its own, or None.
        apart: details that go to further sheets, not placed yet.
        notes_title: over the notes.
        notes, stops: the words, stops only where there are any.
    """

    paper: Format
    scale: float
    lettering: Style
    groups: tuple[ViewGroup, ...]
    tables: tuple[PlacedTable, ...]
    carried: Table | None = None
    apart: tuple[ViewGroup, ...] = ()
    notes_title: str
    notes: PlacedWords
    stops: PlacedWords | None


def room(paper: Format) -> Box:
    """Return what of a sheet may be filled."""
    return drawing_space(paper).grown(-INSET)


def block_box(paper: Format, style: Style) -> Box:
    """Return where the title block stands: in the lower right corner of the frame."""
    inner = drawing_space(paper)
    width, height = title_block_size(style)
    return Box(inner.x1 - width, inner.y0, inner.x1, inner.y0 + height)


def fixed_boxes(paper: Format, data: SheetData, style: Style) -> list[Box]:
    """Return what has its place on a sheet whatever it shows: the title block, and the revision table."""
    revisions = revision_box(data, room(paper), style)
    return [block_box(paper, style), *([] if revisions is None else [revisions])]


def chosen_sheet(chosen: Choice, fields: TitleFields, data: SheetData, style: Style) -> Sheet:
    """Return the sheet with views, tables, notes and stop findings where the choice has them."""
    marks: list[Mark] = []
    for table in chosen.tables:
        marks += columns_marks(table.parts, table.box.x0, table.box.y1, chosen.lettering)
    words, box = chosen.notes.words, chosen.notes.box
    marks += notes_marks(chosen.notes_title, words, box.x0, box.y1, box.width + 0.01, chosen.lettering)
    if chosen.stops is not None:
        box = chosen.stops.box
        marks += stop_marks(chosen.stops.words, box.x0, box.y1, box.width, style)
    for group in chosen.groups:
        marks += group.marks
    marks += revision_marks(data, room(chosen.paper), style)
    views = tuple(view for group in chosen.groups for view in group.views)
    return framed(chosen.paper, fields, data, views, marks, style)


def framed(
    paper: Format, fields: TitleFields, data: SheetData, views: tuple[View, ...], marks: Sequence[Mark], style: Style
) -> Sheet:
    """Return a sheet with frame and title block round what it shows."""
    inner = drawing_space(paper)
    border = (*frame(paper, block_box(paper, style)), *title_block(fields, data, inner.x1, inner.y0, style))
    return Sheet(size=paper.name, width=paper.width, height=paper.height, views=views, marks=(*border, *marks))
