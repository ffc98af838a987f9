"""Room on the table: pieces on it, pieces clear of each other, and the load it may carry."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from slotwright.findings import COMMON_PRACTICE, Figure, Finding, Severity
from slotwright.fixtures.layout import Layout, PlacedPiece
from slotwright.pieces.blanks import Bar
from slotwright.pieces.hulls import penetration

Box = tuple[float, float, float, float]

TOUCHING = 1e-6
"""Pieces that reach into each other by less only touch, mm."""


def check_table_room(layout: Layout) -> Iterator[Finding]:
    """Yield what does not find room on one table."""
    for number, placed in enumerate(layout.pieces, 1):
        yield from _on_table(layout, placed, number)
    yield from _apart(layout)
    yield from _load(layout)


def box(placed: PlacedPiece) -> Box:
    """Return the piece's extent in the table frame: x0, y0, x1, y1, mm, at any turn."""
    return placed.footprint.bounds


def _on_table(layout: Layout, placed: PlacedPiece, number: int) -> Iterator[Finding]:
    """A bar square to the table must lie on it with its whole width; anything else with its weight."""
    if isinstance(placed.piece.blank, Bar) and placed.place.turn % 90.0 == 0.0:
        yield from _bar_on_table(layout, placed, number)
        return
    table = layout.table
    x, y = placed.place.to_table(*placed.piece.centre_of_gravity[:2])
    clear = min(x, table.length - x, y, table.width - y)
    if clear < 0.0:
        yield Finding(
            code="piece-tips-off-table",
            severity=Severity.CAUTION,
            place=f"{placed.piece.name}, copy {number} on {table.name}",
            message="the piece's weight lies beyond the table's edge; it falls off while its bolts are loose",
            figure=Figure(value=-clear),
            limit=Figure(value=0.0),
            rule="a piece's centre of gravity lies over the table",
            source=COMMON_PRACTICE,
            remedy="hold it with a hoist or a prop until it is bolted, or move it onto the table",
        )


def _bar_on_table(layout: Layout, placed: PlacedPiece, number: int) -> Iterator[Finding]:
    """A bar may hang over the ends it points to, but its width must lie on the table, clear of the edges."""
    x0, y0, x1, y1 = box(placed)
    table = layout.table
    lies_along_x = x1 - x0 >= y1 - y0
    clear = min(y0, table.width - y1) if lies_along_x else min(x0, table.length - x1)
    if clear >= 0.0:
        return
    yield Finding(
        code="bar-wider-than-table",
        severity=Severity.STOP,
        place=f"{placed.piece.name}, copy {number} on {table.name}",
        message="the bar's side stands over the table's edge",
        figure=Figure(value=-clear),
        limit=Figure(value=0.0),
        rule="the whole width of a bar bears on the table",
        source=COMMON_PRACTICE,
        remedy="move the bar, take a narrower one, or another slot",
    )


def _apart(layout: Layout) -> Iterator[Finding]:
    standing = [(number, placed, placed.footprint, placed.heights) for number, placed in enumerate(layout.pieces, 1)]
    for (first, a, ours, levels), (second, b, theirs, others) in combinations(standing, 2):
        if levels[0] >= others[1] - TOUCHING or others[0] >= levels[1] - TOUCHING or not ours.overlaps(theirs):
            continue
        gap = -penetration(ours, theirs)
        if gap < -TOUCHING:
            yield Finding(
                code="pieces-overlap",
                severity=Severity.STOP,
                place=f"{a.piece.name} copy {first} and {b.piece.name} copy {second} on {layout.table.name}",
                message="two pieces want the same place",
                figure=Figure(value=gap),
                limit=Figure(value=0.0),
                rule="pieces stand clear of each other",
                source=COMMON_PRACTICE,
                remedy="give their stations or slots, or make fewer",
            )


def _load(layout: Layout) -> Iterator[Finding]:
    if layout.table.load is None:
        return
    pieces = sum(placed.piece.mass for placed in layout.pieces)
    known = layout.work is not None and layout.work.mass is not None
    mass = pieces + (layout.work.mass or 0.0 if layout.work is not None else 0.0)
    over = mass > layout.table.load
    yield Finding(
        code="table-load",
        severity=Severity.STOP if over else Severity.FINE,
        place=layout.table.name,
        message=(
            "pieces and work are heavier than the table may carry" if over else "pieces and work are within the load"
        )
        + ("" if known else "; the work's mass is not given"),
        figure=Figure(value=mass, unit="kg"),
        limit=Figure(value=layout.table.load, unit="kg"),
        rule="mass on the table within the load its manual allows",
        source="the machine's manual, as given in the table's file",
        remedy="support the work from the floor, or use a larger machine" if over else "",
    )
