"""The hole tables of a shaped piece: a table for each pair of faces, polar columns where holes stand on circles."""

from __future__ import annotations

from collections.abc import Sequence

from slotwright.drawings.callouts import DIAMETER
from slotwright.drawings.hole_tables import SHORT, MoreColumns, size_cells
from slotwright.drawings.paper.sheet import Anchor
from slotwright.drawings.paper.sheet_data import spelled
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.tables import Block, Column, Entry, Table
from slotwright.drawings.shapes.contours import contour_tables
from slotwright.drawings.shapes.patterns import (
    ANGLE_PLACES,
    BoltCircle,
    Origin,
    bolt_circles,
    circle_of,
    flat,
    origin_of,
)
from slotwright.pieces.faces import Face
from slotwright.pieces.hole_groups import HoleGroup, hole_groups
from slotwright.pieces.piece import Piece

FACES = {
    Face.FRONT: ("HOLES IN THE FRONT FACE", "X", "Z"), Face.BACK: ("HOLES IN THE BACK FACE", "X", "Z"),
    Face.LEFT: ("HOLES IN THE LEFT END", "Y", "Z"), Face.RIGHT: ("HOLES IN THE RIGHT END", "Y", "Z"),
}  # fmt: skip


def shaped_tables(piece: Piece, style: Style) -> tuple[Table, ...]:
    """Return the hole tables a sheet of a shaped piece needs."""
    groups, origin, circles = hole_groups(piece), origin_of(piece), bolt_circles(piece)
    level = [group for group in groups if flat(group.size)]
    tables: list[Table] = []
    for face, (title, first, second) in FACES.items():
        own = [group for group in groups if group.size.face is face]
        if own:
            tables.append(_combined(title, (first, second), own, (), origin, style))
    tables = [*contour_tables(piece, style), *tables]
    if not level:
        return tuple(tables)
    if sum(len(group.holes) for group in level) <= SHORT:
        return (*tables, _combined("HOLE TABLE", ("X", "Y"), level, circles, origin, style))
    numbered = not all(group.in_a_row for group in level)
    return (*tables, _sizes(level, numbered, style), _positions(level, circles, origin, numbered, style))


def _heads(names: tuple[str, str], polar: bool) -> list[Column]:
    more = [Column("CIRCLE"), Column("ANGLE", Anchor.RIGHT)] if polar else []
    return [Column("TAG"), Column(names[0], Anchor.RIGHT), Column(names[1], Anchor.RIGHT), *more]


def _combined(
    title: str,
    names: tuple[str, str],
    groups: Sequence[HoleGroup],
    circles: Sequence[BoltCircle],
    origin: Origin,
    style: Style,
) -> Table:
    more = MoreColumns.of(groups)
    columns = (*_heads(names, bool(circles)), Column("SIZE", Anchor.LEFT, merged=True), Column("DEPTH", merged=True),
               Column("QTY", merged=True), *more.columns)  # fmt: skip
    blocks = []
    for group in groups:
        sizes, depths = size_cells(group.size, style)
        cells = [*_place_cells(group, circles, origin, style), sizes, depths, (str(len(group.holes)),)]
        cells += more.cells(group)
        blocks.append(Block(tuple(cells)))
    return Table(title, columns, tuple(blocks))


def _place_cells(
    group: HoleGroup, circles: Sequence[BoltCircle], origin: Origin, style: Style
) -> list[tuple[Entry, ...]]:
    """Tag, both coordinates, and circle and angle; a hole on a circle has its coordinates in brackets."""
    ox, oy = origin.on(group.size.face)
    rows: list[list[str]] = []
    for one in group.holes:
        x, y = style.number(one.hole.x - ox), style.number(one.hole.y - oy)
        circle = circle_of(one.hole, circles)
        if circle is None:
            rows.append([one.tag, x, y, *(["-", "-"] if circles else [])])
        else:
            angle = style.angle(circle.angle(one.hole), ANGLE_PLACES)
            rows.append([one.tag, f"({x})", f"({y})", DIAMETER + style.number(circle.diameter), angle])
    return [tuple(column) for column in zip(*rows, strict=True)]


def _sizes(groups: Sequence[HoleGroup], numbered: bool, style: Style) -> Table:
    """Each size once with its tags, or with the number that the table of positions has beside them."""
    columns = (Column("HOLES", merged=True), Column("SIZE", Anchor.LEFT, merged=True), Column("DEPTH", merged=True),
               Column("QTY", merged=True))  # fmt: skip
    blocks = []
    for number, group in enumerate(groups, start=1):
        sizes, depths = size_cells(group.size, style)
        tags = f"SIZE NO. {number}" if numbered else group.tags
        blocks.append(Block(((tags,), sizes, depths, (str(len(group.holes)),))))
    return Table("HOLE SIZES", columns, tuple(blocks))


def _positions(
    groups: Sequence[HoleGroup], circles: Sequence[BoltCircle], origin: Origin, numbered: bool, style: Style
) -> Table:
    more = MoreColumns.of(groups)
    columns = (*_heads(("X", "Y"), bool(circles)), *([Column("SIZE NO.")] if numbered else []), *more.columns)
    blocks = []
    for number, group in enumerate(groups, start=1):
        numbers = [(str(number),) * len(group.holes)] if numbered else []
        cells = [*_place_cells(group, circles, origin, style), *numbers, *more.cells(group)]
        blocks.append(Block(tuple(cells)))
    return Table(f"HOLE POSITIONS FROM THE {spelled(origin.name, style)}", columns, tuple(blocks))
