"""A refit's changes on its drawings: a row of the revision table, its sign beside each changed hole, and notes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from slotwright import sizes
from slotwright.pieces.hole_groups import tagged_holes
from slotwright.pieces.piece import Piece
from slotwright.sharing.compare import Comparison, compare
from slotwright.sharing.design_file import DrawingChoices, RevisionEntry
from slotwright.sharing.hole_moves import SAME, HoleMove, hole_words
from slotwright.sharing.refit import Refit
from slotwright.sharing.refit_report import place_words
from slotwright.sharing.set_up import SetUp

MOST_MARKS = 12
"""Holes that one note on a drawing lists; beyond, it gives their number. Our choice."""
INDEXES = "ABCDEFGHJKLMNPRTUVWY"
"""Revision letters; I, O, Q, S, X and Z are left out (ASME Y14.35, from memory)."""


def marked(done: Refit) -> SetUp:
    """Return the refitted set-up with the changes marked as a revision, for drawings made now.

    The refitted design file says nothing of it, and the content id is that of the file.
    """
    found = compare(done.old, done.new)
    drawing = done.new.design.drawing
    index = next_index(drawing.revision or (drawing.revisions[-1].index if drawing.revisions else ""))
    noted = {piece: _marked_piece(piece, found, done, index) for piece in done.new.pieces}
    solution = done.new.solution
    layouts = tuple(
        replace(layout, pieces=tuple(replace(placed, piece=noted[placed.piece]) for placed in layout.pieces))
        for layout in solution.layouts
    )
    loose = tuple(noted[piece] for piece in solution.loose)
    design = replace(done.new.design, drawing=_revised(drawing, done, index))
    return replace(done.new, design=design, solution=replace(solution, layouts=layouts, loose=loose))


def next_index(last: str) -> str:
    """Return the index of the revision after one: A after none, B after A, AA after Y, 4 after 3."""
    if re.fullmatch(r"[0-9]{1,9}", last, re.ASCII):
        return str(int(last) + 1)
    if not all(letter in INDEXES for letter in last):
        return f"{last}.1"
    if not last:
        return INDEXES[0]
    place = INDEXES.index(last[-1]) + 1
    return last[:-1] + INDEXES[place] if place < len(INDEXES) else next_index(last[:-1]) + INDEXES[0]


def _revised(drawing: DrawingChoices, done: Refit, index: str) -> DrawingChoices:
    old, new = (_tables(made) for made in (done.old, done.new))
    row = RevisionEntry(index=index, text=f"REFITTED FROM TABLE {old} TO {new}", date=None, by=None)
    return replace(drawing, revisions=(*drawing.revisions, row), revision=index)


def _tables(made: SetUp) -> str:
    return " AND ".join(table.name for table in made.bench.tables)


def _marked_piece(piece: Piece, found: Comparison, done: Refit, index: str) -> Piece:
    mine = [move for move in found.changed_holes if move.piece == piece.name]
    tags = {move.new.tag for move in mine if move.new is not None}
    holes = {id(one.hole): index for one in tagged_holes(piece) if one.tag in tags}
    return replace(
        piece,
        holes=tuple(replace(hole, revised=holes.get(id(hole), "")) for hole in piece.holes),
        notes=(*piece.notes, *_notes(piece, mine, found, done)),
    )


def _notes(piece: Piece, mine: list[HoleMove], found: Comparison, done: Refit) -> Iterator[str]:
    yield f"DESIGN BEFORE THE REFIT: {done.old.name}, {done.old.content_id}."
    unit = done.new.bench.unit
    blank = [one for one in found.pieces if one.place.startswith(f"{piece.name}: ") and one.old and one.new]
    changed = [f"{one.place.removeprefix(f'{piece.name}: ').upper()} (WAS {one.old})" for one in blank]
    changed += [_was(move, unit) for move in mine if move.old and move.new]
    new_ones = [move.new.tag for move in mine if move.new and not move.old]
    gone = [place_words(move.old.hole.x, move.old.hole.y, unit) for move in mine if move.old and not move.new]
    for title, marks in (("CHANGED", changed), ("NEW HOLES", new_ones), ("HOLES NO MORE THERE", gone)):
        if marks:
            more = f" AND {len(marks) - MOST_MARKS} MORE" if len(marks) > MOST_MARKS else ""
            yield f"{title}: {'; '.join(marks[:MOST_MARKS])}{more}."


def _was(move: HoleMove, unit: str) -> str:
    assert move.old is not None and move.new is not None  # noqa: S101, PT018  the caller has seen to it
    was = [f"{name} {sizes.say(value, 'mm', unit)}" for name, value, change in zip(
        ("X", "Y"), (move.old.hole.x, move.old.hole.y), move.moved, strict=True) if abs(change) >= SAME]  # fmt: skip
    if move.resized:
        was.append(hole_words(move.old.hole, unit))
    return f"{move.new.tag} (WAS {', '.join(was)})"
