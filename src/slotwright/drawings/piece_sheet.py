"""The drawing of one piece: the smallest sheet at a preferred scale on which everything has its place."""

from __future__ import annotations

from slotwright import sizes
from slotwright.drawings.formats import scale_text
from slotwright.drawings.frame import drawing_space, frame
from slotwright.drawings.notes import notes_marks, stop_marks
from slotwright.drawings.piece_choice import INSET, Choice, block_box, choose
from slotwright.drawings.placing import Box
from slotwright.drawings.sheet import Drawing, Mark, Sheet, View
from slotwright.drawings.sheet_data import SheetData
from slotwright.drawings.style import Style
from slotwright.drawings.table_columns import columns_marks, pages
from slotwright.drawings.tables import Table
from slotwright.drawings.title_block import TitleFields, title_block
from slotwright.pieces.piece import Piece


def piece_drawing(piece: Piece, data: SheetData, style: Style) -> Drawing:
    """Return the drawing of a piece.

    Args:
        piece: what is drawn.
        data: title block and findings; a stop finding about the piece is printed.
        style: ISO or ASME, mm or inch.

    Raises:
        SheetError: the piece does not fit the largest sheet at the smallest scale.
    """
    chosen = choose(piece, data, style)
    following = _pages(chosen, style)
    total = 1 + len(following)
    sheets = [_first(piece, data, style, chosen, total)]
    sheets += [_further(piece, data, style, chosen, parts, n, total) for n, parts in enumerate(following, start=2)]
    return Drawing(
        name=piece.name,
        title=f"{data.title}: {piece.title}",
        unit=style.unit,
        sheets=tuple(sheets),
        properties=(("design", data.title), ("piece", piece.name), ("content id", data.content_id)),
    )


def _first(piece: Piece, data: SheetData, style: Style, chosen: Choice, total: int) -> Sheet:
    marks: list[Mark] = []
    for table in chosen.tables:
        marks += columns_marks(table.parts, table.box.x0, table.box.y1, style)
    box = chosen.notes.box
    marks += notes_marks("NOTES", chosen.notes.words, box.x0, box.y1, box.width + 0.01, style)
    if chosen.stops is not None:
        box = chosen.stops.box
        marks += stop_marks(chosen.stops.words, box.x0, box.y1, box.width, style)
    for group in chosen.groups:
        marks += group.marks
    views = tuple(view for group in chosen.groups for view in group.views)
    return _framed(piece, data, style, chosen, f"1/{total}", views, marks)


def _pages(chosen: Choice, style: Style) -> tuple[tuple[Table, ...], ...]:
    return () if chosen.carried is None else pages(chosen.carried, _page(chosen, style), style)


def _page(chosen: Choice, style: Style) -> Box:
    """Room for a table on a sheet of its own: all above the title block."""
    area = drawing_space(chosen.paper).grown(-INSET)
    return Box(area.x0, block_box(chosen.paper, style).y1 + INSET, area.x1, area.y1)


def _further(
    piece: Piece, data: SheetData, style: Style, chosen: Choice, parts: tuple[Table, ...], number: int, total: int
) -> Sheet:
    room = _page(chosen, style)
    marks = columns_marks(parts, room.x0, room.y1, style)
    return _framed(piece, data, style, chosen, f"{number}/{total}", (), marks)


def _framed(
    piece: Piece, data: SheetData, style: Style, chosen: Choice, number: str, views: tuple[View, ...], marks: list[Mark]
) -> Sheet:
    """Put frame and title block round what a sheet shows."""
    paper, inner = chosen.paper, drawing_space(chosen.paper)
    fields = TitleFields(
        title=piece.title,
        subtitle=data.title,
        number=data.content_id,
        document="Part drawing",
        scale=scale_text(chosen.scale),
        size=paper.name,
        sheet=number,
        material=piece.material.name,
        stock=piece.stock,
        quantity=str(piece.quantity),
        mass=sizes.say(piece.mass, "kg", style.unit),
    )
    border = (*frame(paper, block_box(paper, style)), *title_block(fields, data, inner.x1, inner.y0, style))
    return Sheet(size=paper.name, width=paper.width, height=paper.height, views=views, marks=(*border, *marks))
