"""Every piece's files must have names of their own, or one piece's drawing replaces another's."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from slotwright.findings import COMMON_PRACTICE, Figure, Finding, Severity
from slotwright.fixtures.layout import Solution
from slotwright.pieces.piece import Piece

SET_UP = "set-up"
"""What the files of a lay-out are named by; with several tables `set-up-` and the table's name."""

HARDWARE = "hardware"
"""What the lists of bolts and nuts are named by; with several tables a table's name follows."""
OF_PIECE = ("holes", "from-centre")
"""What follows a piece's name in the names of its lists."""


def check_piece_names(pieces: tuple[Piece, ...], solution: Solution) -> Iterator[Finding]:
    """Say which different pieces are named alike, and which are named as a lay-out is.

    Args:
        pieces: every different piece of the set-up.
        solution: with its lay-outs.
    """
    for name, count in Counter(piece.name for piece in pieces).items():
        if count > 1:
            yield _taken(name, f"{count} different pieces have this name, and one's files replace the other's", count)
    names = {SET_UP} if len(solution.layouts) == 1 else {f"{SET_UP}-{one.table.name}" for one in solution.layouts}
    for name in sorted(names & {piece.name for piece in pieces}):
        yield _taken(name, "the drawing of the whole set-up has this name, and its files replace the piece's", 2)
    lists = {f"{HARDWARE}-{one.table.name}" for one in solution.layouts} if len(solution.layouts) > 1 else set()
    for name in sorted(lists & {f"{HARDWARE}-{ending}" for ending in OF_PIECE}):
        if HARDWARE in {piece.name for piece in pieces}:
            yield _taken(
                HARDWARE, f"the list of bolts for one table is {name}.csv, as is a list of this piece's holes", 2
            )


def _taken(name: str, message: str, count: int) -> Finding:
    return Finding(
        code="piece-name-taken",
        severity=Severity.STOP,
        place=name,
        message=message,
        figure=Figure(value=float(count), unit=""),
        limit=Figure(value=1.0, unit=""),
        rule="files are named by their piece, so each piece has a name of its own",
        source=COMMON_PRACTICE,
        remedy="rename one in the design",
    )
