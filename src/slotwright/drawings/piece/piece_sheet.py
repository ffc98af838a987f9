"""The drawing of one piece: the smallest sheet at a preferred scale on which everything has its place."""

from __future__ import annotations

from dataclasses import replace

from slotwright import sizes
from slotwright.drawings.paper.formats import scale_text
from slotwright.drawings.paper.placing import Box
from slotwright.drawings.paper.sheet import Drawing
from slotwright.drawings.paper.sheet_choice import INSET, Choice, block_box, chosen_sheet, framed, room
from slotwright.drawings.paper.sheet_data import SheetData
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.table_columns import columns_marks, pages
from slotwright.drawings.paper.title_block import TitleFields
from slotwright.drawings.piece.piece_choice import choose
from slotwright.pieces.piece import Piece

UNTAGGED = "some holes have no tag beside them; the note says to find them by X and Y"


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
    page = _page(chosen, style)
    following = () if chosen.carried is None else pages(chosen.carried, page, style)
    fields = _fields(piece, data, style, chosen, 1 + len(following))
    sheets = [chosen_sheet(chosen, fields, data, style)]
    for number, parts in enumerate(following, start=2):
        here = replace(fields, sheet=f"{number}/{1 + len(following)}")
        sheets.append(framed(chosen.paper, here, data, (), columns_marks(parts, page.x0, page.y1, style), style))
    return Drawing(
        name=piece.name,
        title=f"{data.title}: {piece.title}",
        unit=style.unit,
        sheets=tuple(sheets),
        properties=(("design", data.title), ("piece", piece.name), ("content id", data.content_id)),
        lacks=() if all(group.tagged for group in chosen.groups) else (UNTAGGED,),
    )


def _page(chosen: Choice, style: Style) -> Box:
    """Room for a table on a sheet of its own: all above the title block."""
    area = room(chosen.paper)
    return Box(area.x0, block_box(chosen.paper, style).y1 + INSET, area.x1, area.y1)


def _fields(piece: Piece, data: SheetData, style: Style, chosen: Choice, total: int) -> TitleFields:
    return TitleFields(
        title=piece.title,
        subtitle=data.title,
        number=data.piece_number(piece.name),
        document="Part drawing",
        scale=scale_text(chosen.scale),
        size=chosen.paper.name,
        sheet=f"1/{total}",
        material=piece.material.name,
        stock=piece.stock,
        quantity=str(piece.quantity),
        mass=sizes.say(piece.mass, "kg", style.unit),
    )
