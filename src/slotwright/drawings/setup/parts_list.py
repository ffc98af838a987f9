"""What a set-up is made of: item numbers, one line for each different piece and bought item."""

from __future__ import annotations

from dataclasses import dataclass

from slotwright.drawings.callouts import times
from slotwright.drawings.paper.sheet import Anchor
from slotwright.drawings.paper.sheet_data import SheetData
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.tables import Block, Column, Table
from slotwright.fixtures.layout import Layout


@dataclass(frozen=True, slots=True)
class PartsLine:
    """One line of the parts list.

    Attributes:
        item: its number, as in the balloons.
        quantity: how many the set-up needs.
        title: by which layouts and sections name it: a piece's name, a bought item's title.
        words: what the list says.
        source: drawing's number and file, or standard.
        note: what the maker or buyer must know, or "".
    """

    item: int
    quantity: int
    title: str
    words: str
    source: str
    note: str = ""


def parts_lines(layout: Layout, data: SheetData, style: Style) -> tuple[PartsLine, ...]:
    """Return the lines, made pieces first, each in the order met."""
    made: dict[str, list[str]] = {}
    count: dict[str, int] = {}
    for placed in layout.pieces:
        piece = placed.piece
        size = f" {times(style)} ".join(
            style.number(v, 2) for v in (piece.blank.length, piece.blank.width, piece.blank.thickness)
        )
        made.setdefault(piece.name, [f"{piece.title}, {size}", _drawing(piece.name, data), ""])
        count[piece.name] = count.get(piece.name, 0) + 1
    drawn = {f"drawing {name}": _drawing(name, data) for name in data.pieces}
    for item in (placed.item for placed in layout.hardware):
        source = drawn.get(item.standard, _capital(item.standard))
        made.setdefault(item.title, [_capital(f"{item.kind} {item.size}"), source, item.note])
        count[item.title] = count.get(item.title, 0) + 1
    return tuple(
        PartsLine(n, count[title], title, words, source, note)
        for n, (title, (words, source, note)) in enumerate(made.items(), start=1)
    )


def _drawing(name: str, data: SheetData) -> str:
    """Return by what a piece's drawing is found: its number, and the name of its file."""
    return f"{data.piece_number(name)}, {name}"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def parts_table(lines: tuple[PartsLine, ...]) -> Table:
    """Return the list as a table for the sheet."""
    columns = (
        Column("ITEM"),
        Column("QTY"),
        Column("DESCRIPTION", Anchor.LEFT),
        Column("DRAWING, STANDARD", Anchor.LEFT),
    )
    blocks = tuple(Block(((str(line.item),), (str(line.quantity),), (line.words,), (line.source,))) for line in lines)
    return Table("PARTS LIST", columns, blocks)
