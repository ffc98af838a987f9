"""The card of a pack in words: what the set-up is for, what it was made for, its holes, its cautions.

It is made from the design alone, so that a receiver's program can say it anew rather than believe what came.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import zip_longest
from textwrap import wrap

from slotwright import sizes
from slotwright.checks.supplies import SHOPPING
from slotwright.drawings.hole_tables import hole_tables, start_of
from slotwright.drawings.paper.notes import CAUTIONS
from slotwright.drawings.paper.sheet import Anchor
from slotwright.drawings.paper.tables import ControlFrame, Entry, Table
from slotwright.findings import Severity
from slotwright.fixtures.layout import Layout
from slotwright.pieces.piece import Piece
from slotwright.sharing.set_up import SetUp
from slotwright.sharing.sheets import sheet_style
from slotwright.sharing.table_list import table_row

WIDTH = 100
"""Columns of the text."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """What a card says.

    Attributes:
        title, name, content_id: of the design.
        made_for: the tables by their titles.
        facts: head and words of each line about it.
        holes: for each piece a heading, its hole table, and where the rest stands, or "".
        stops: what forbids to make it as it is.
        cautions: what to look out for, the sender's own first.
    """

    title: str
    name: str
    content_id: str
    made_for: str
    facts: tuple[tuple[str, str], ...]
    holes: tuple[tuple[str, Table, str], ...]
    stops: tuple[str, ...]
    cautions: tuple[str, ...]


def card_of(made: SetUp) -> Card:
    """Write the card of a set-up; what this shop would have to buy is nothing to another."""
    told = [finding for finding in made.findings if finding.code not in SHOPPING]
    found = [(f.severity, f"{f.place}: {f.message}" + (f"; {f.remedy}" if f.remedy else "")) for f in told]
    return Card(
        title=made.design.title,
        name=made.name,
        content_id=made.content_id,
        made_for=", ".join(table.title for table in made.bench.tables),
        facts=tuple(_facts(made)),
        holes=tuple(_holes(made)),
        stops=tuple(words for severity, words in found if severity is Severity.STOP),
        cautions=(
            *made.design.sharing.cautions,
            *(words for severity, words in found if severity is Severity.CAUTION),
            *CAUTIONS,
        ),
    )


def _facts(made: SetUp) -> Iterator[tuple[str, str]]:
    sharing, unit = made.design.sharing, made.bench.unit
    if sharing.purpose:
        yield "Good for", sharing.purpose
    work = made.bench.work
    if work is not None:
        yield "Holds", work.name + ("" if work.mass is None else f", {sizes.say(work.mass, 'kg', unit)}")
    for table in made.bench.tables:
        yield "Made for", "{title} ({name}), {size}, {slots}".format(**table_row(table))
    for piece in made.pieces:
        yield "Piece", _piece(piece, unit)
    for layout in made.layouts:
        if layout.hardware:
            yield "Hardware" if len(made.layouts) == 1 else f"On {layout.table.name}", _hardware(layout)
    if sharing.author:
        yield "Author", sharing.author
    if sharing.licence:
        yield "Licence", sharing.licence


def _piece(piece: Piece, unit: str) -> str:
    long = sizes.say(piece.blank.length, "mm", unit)
    mass = sizes.say(piece.mass, "kg", unit)
    return f"{piece.quantity} {piece.name}: {piece.title}, {piece.stock}, {piece.material.name}, {long} long, {mass}"


def _hardware(layout: Layout) -> str:
    counted = Counter(placed.item for placed in layout.hardware)
    return "; ".join(f"{number} {item.kind} {item.size}" for item, number in counted.items())


def _holes(made: SetUp) -> Iterator[tuple[str, Table, str]]:
    unit = "inches" if made.bench.unit == "in" else "mm"
    for piece in made.pieces:
        tables = hole_tables(piece, sheet_style(made), located=False)
        if tables:
            rest = f"Places of the holes: {piece.name}-holes.csv" if len(tables) > 1 else ""
            yield f"Holes of {piece.name}, {unit}, X and Y from {start_of(piece).lower()}", tables[0], rest


def card_text(card: Card) -> str:
    """Return the card as plain text."""
    lines = [card.title, "=" * len(card.title), f"{card.name}, content id {card.content_id}", ""]
    wide = max(len(head) for head, _ in card.facts) + 2
    for head, words in card.facts:
        lines += wrap(f"{head + ':':{wide}}{words}", WIDTH, subsequent_indent=" " * wide)
    for heading, table, rest in card.holes:
        lines += ["", heading, *_table_lines(table), *([rest] if rest else [])]
    for heading, texts in (("STOP: DO NOT MAKE OR USE", card.stops), ("Cautions", card.cautions)):
        if texts:
            lines += ["", heading]
            for text in texts:
                lines += wrap(f"- {text}", WIDTH, subsequent_indent="  ")
    return "\n".join(lines) + "\n"


def _table_lines(table: Table) -> Iterator[str]:
    rows = [tuple(column.head for column in table.columns)]
    for block in table.blocks:
        rows += zip_longest(*([_words(entry) for entry in cell] for cell in block.cells), fillvalue="")
    widths = [max(len(row[n]) for row in rows) for n in range(len(table.columns))]
    right = [column.anchor is Anchor.RIGHT for column in table.columns]
    for row in rows:
        cells = (
            f"{cell:>{width}}" if at_right else f"{cell:<{width}}"
            for cell, width, at_right in zip(row, widths, right, strict=True)
        )
        yield "  " + "  ".join(cells).rstrip()


def _words(entry: Entry) -> str:
    if isinstance(entry, ControlFrame):
        return f"[{' | '.join(entry.cells)}]" if entry.cells else ""
    return entry
