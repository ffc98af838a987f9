"""The hole table as it stands on a sheet."""

from __future__ import annotations

from slotwright.drawings.callouts import DATUMS, DIAMETER, POSITION, size_lines
from slotwright.drawings.sheet import Anchor
from slotwright.drawings.style import Style
from slotwright.drawings.tables import Block, Column, ControlFrame, Entry, Table
from slotwright.pieces.features import Hole
from slotwright.pieces.hole_groups import HoleGroup, hole_groups
from slotwright.pieces.piece import Piece

SHORT = 24  # holes up to which each has its size beside it; our choice


def hole_tables(piece: Piece, style: Style, *, located: bool) -> tuple[Table, ...]:
    """Return the tables a sheet needs: one for few holes, sizes and positions apart for many.

    Args:
        piece: whose holes.
        style: figures and symbols.
        located: ordinates on the plan locate the holes, so X and Y stand in brackets as auxiliary figures.
    """
    groups = hole_groups(piece)
    if not groups:
        return ()
    if len(piece.holes) <= SHORT:
        return (_combined(groups, style, located),)
    return _sizes(groups, style), _positions(groups, style, located)


def _combined(groups: tuple[HoleGroup, ...], style: Style, located: bool) -> Table:
    served = any(group.tables for group in groups)
    x, y = ("(X)", "(Y)") if located else ("X", "Y")
    columns = (
        Column("TAG"), Column(x, Anchor.RIGHT), Column(y, Anchor.RIGHT), Column("SIZE", Anchor.LEFT, merged=True),
        Column("DEPTH", merged=True), Column("QTY", merged=True), *_served_column(served),
    )  # fmt: skip
    return Table("HOLE TABLE", columns, tuple(_combined_block(group, style, served, located) for group in groups))


def _place(mm: float, style: Style, located: bool) -> str:
    """Write a coordinate; what only repeats an ordinate needs no second unit."""
    return style.number(mm) if located else style.figure(mm)


def _served_column(served: bool) -> tuple[Column, ...]:
    return (Column("FOR TABLE", Anchor.LEFT),) if served else ()


def _combined_block(group: HoleGroup, style: Style, served: bool, located: bool) -> Block:
    holes = group.holes
    sizes, depths = size_cells(group.size, style)
    cells: list[tuple[Entry, ...]] = [
        tuple(one.tag for one in holes),
        tuple(_place(one.hole.x, style, located) for one in holes),
        tuple(_place(one.hole.y, style, located) for one in holes),
        sizes,
        depths,
        (str(len(holes)),),
    ]
    if served:
        cells.append(tuple(", ".join(one.hole.tables) or "-" for one in holes))
    return Block(tuple(cells))


def size_cells(hole: Hole, style: Style) -> tuple[tuple[Entry, ...], tuple[Entry, ...]]:
    """Return size and depth line by line; a control frame takes a line in both."""
    lines = size_lines(hole, style)
    sizes: list[Entry] = [line.size for line in lines]
    depths: list[Entry] = [line.depth for line in lines]
    if hole.position_tolerance is not None:
        zone = DIAMETER + style.number(hole.position_tolerance)
        sizes.append(ControlFrame((POSITION, zone, *DATUMS)))
        depths.append(ControlFrame(()))
    return tuple(sizes), tuple(depths)


def _sizes(groups: tuple[HoleGroup, ...], style: Style) -> Table:
    served = any(group.tables for group in groups)
    columns = (
        Column("HOLES", merged=True), Column("SIZE", Anchor.LEFT, merged=True), Column("DEPTH", merged=True),
        Column("QTY", merged=True), *((Column("FOR TABLE", Anchor.LEFT, merged=True),) if served else ()),
    )  # fmt: skip
    blocks = []
    for group in groups:
        sizes, depths = size_cells(group.size, style)
        first, last = group.holes[0].tag, group.holes[-1].tag
        tags = first if first == last else f"{first} - {last}"
        tables = ((tuple(group.tables) or ("-",)),) if served else ()
        blocks.append(Block(((tags,), sizes, depths, (str(len(group.holes)),), *tables)))
    return Table("HOLE SIZES", columns, tuple(blocks))


def _positions(groups: tuple[HoleGroup, ...], style: Style, located: bool) -> Table:
    served = any(group.tables for group in groups)
    x, y = ("(X)", "(Y)") if located else ("X", "Y")
    columns = (
        Column("TAG"), Column(x, Anchor.RIGHT), Column(y, Anchor.RIGHT),
        *_served_column(served),
    )  # fmt: skip
    blocks = []
    for group in groups:
        cells: list[tuple[Entry, ...]] = [
            tuple(one.tag for one in group.holes),
            tuple(_place(one.hole.x, style, located) for one in group.holes),
            tuple(_place(one.hole.y, style, located) for one in group.holes),
        ]
        if served:
            cells.append(tuple(", ".join(one.hole.tables) or "-" for one in group.holes))
        blocks.append(Block(tuple(cells)))
    return Table("HOLE POSITIONS FROM THE DATUM CORNER", columns, tuple(blocks))
