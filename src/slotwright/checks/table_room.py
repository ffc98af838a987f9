"""Room on the table: pieces on it, pieces clear of each other, and the load it may carry."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from slotwright.findings import COMMON_PRACTICE, Figure, Finding, Severity
from slotwright.fixtures.layout import Layout, PlacedPiece

Box = tuple[float, float, float, float]


def check_table_room(layout: Layout) -> Iterator[Finding]:
    """Yield what does not find room on one table."""
    for number, placed in enumerate(layout.pieces, 1):
        yield from _on_table(layout, placed, number)
    yield from _apart(layout)
    yield from _load(layout)


def box(placed: PlacedPiece) -> Box:
    """Return the piece's extent in the table frame: x0, y0, x1, y1, mm. Exact for pieces turned by quarter turns."""
    blank = placed.piece.blank
    corners = [placed.place.to_table(x, y) for x in (0.0, blank.length) for y in (0.0, blank.width)]
    xs, ys = zip(*corners, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _on_table(layout: Layout, placed: PlacedPiece, number: int) -> Iterator[Finding]:
    """A bar may hang over the ends it points to, but its width must lie on the table, clear of the edges."""
    x0, y0, x1, y1 = box(placed)
    table = layout.table
    lies_along_x = x1 - x0 >= y1 - y0
    clear = min(y0, table.width - y1) if lies_along_x else min(x0, table.length - x1)
    width = y1 - y0 if lies_along_x else x1 - x0
    if clear >= 0.0:
        return
    yield Finding(
        code="bar-wider-than-table",
        severity=Severity.STOP,
        place=f"{placed.piece.name}, copy {number} on {table.name}",
        message=f"the bar's side stands {-clear:.1f} mm over the table's edge",
        figure=Figure(value=width),
        limit=Figure(value=width + 2.0 * clear),
        rule="the whole width of a bar bears on the table",
        source=COMMON_PRACTICE,
        remedy="move the bar, take a narrower one, or another slot",
    )


def _apart(layout: Layout) -> Iterator[Finding]:
    for (first, a), (second, b) in combinations(enumerate(layout.pieces, 1), 2):
        ax0, ay0, ax1, ay1 = box(a)
        bx0, by0, bx1, by1 = box(b)
        gap = max(bx0 - ax1, ax0 - bx1, by0 - ay1, ay0 - by1)
        if gap < 0.0:
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
