"""The drawing of one piece: the smallest sheet at a preferred scale on which everything has its place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from slotwright import sizes
from slotwright.drawings.paper.formats import scale_text
from slotwright.drawings.paper.sheet import Drawing
from slotwright.drawings.paper.sheet_choice import Choice, chosen_sheet, framed
from slotwright.drawings.paper.sheet_data import SheetData
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.title_block import TitleFields
from slotwright.drawings.piece.further_sheets import further_sheets
from slotwright.drawings.piece.piece_choice import choose
from slotwright.pieces.piece import Piece

UNTAGGED = "some holes have no tag beside them; the note says to find them by X and Y"
UNENLARGED = "some of what is under 3 mm on paper is not drawn again larger; go by the figures"


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
    following = further_sheets(chosen, style)
    fields = _fields(piece, data, style, chosen, 1 + len(following))
    sheets = [chosen_sheet(chosen, fields, data, style)]
    for number, further in enumerate(following, start=2):
        here = replace(fields, sheet=f"{number}/{1 + len(following)}")
        sheets.append(framed(chosen.paper, here, data, further.views, further.marks, style))
    return Drawing(
        name=piece.name,
        title=f"{data.title}: {piece.title}",
        unit=style.unit,
        sheets=tuple(sheets),
        properties=(("design", data.title), ("piece", piece.name), ("content id", data.content_id)),
        lacks=tuple(_lacks(chosen)),
    )


def _lacks(chosen: Choice) -> Iterator[str]:
    groups = (*chosen.groups, *chosen.apart)
    if not all(group.tagged for group in groups):
        yield UNTAGGED
    if not all(group.enlarged for group in groups):
        yield UNENLARGED


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
