"""The hole table as it stands on a sheet."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from slotwright.drawings.callouts import DATUMS, POSITION, size_lines, zone_text
from slotwright.drawings.middles import middles_of
from slotwright.drawings.paper.sheet import Anchor, Point
from slotwright.drawings.paper.sheet_data import spelled
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.tables import Block, Column, ControlFrame, Entry, Table
from slotwright.pieces.features import Hole
from slotwright.pieces.hole_groups import HoleGroup, hole_groups
from slotwright.pieces.piece import Piece

SHORT = 24  # holes up to which each has its size beside it; our choice


def hole_tables(piece: Piece, style: Style, *, located: bool) -> tuple[Table, ...]:
    """Return the tables a sheet needs: one for few holes, sizes and positions apart for many.

    Args:
        piece: whose holes.
        style: figures and symbols.
        located: dimensions of the plan locate the holes, so X and Y stand in brackets as auxiliary figures.
    """
    groups = hole_groups(piece)
    if not groups:
        return ()
    places = _Places(middles_of(piece).origin(piece), located)
    if len(piece.holes) <= SHORT:
        return (_combined(groups, style, places),)
    return _sizes(groups, style), _positions(groups, style, places, spelled(start_of(piece), style))


def start_of(piece: Piece) -> str:
    """Say in words what X and Y of the tables are counted from."""
    middles = middles_of(piece)
    if middles.along:
        return "THE CENTRE LINES"
    return "THE LEFT END AND THE CENTRE LINE" if middles.across else "THE DATUM CORNER"


@dataclass(frozen=True, slots=True)
class _Places:
    """How X and Y are written.

    Attributes:
        origin: what they are counted from.
        located: they stand in brackets and, as they only repeat a dimension, need no second unit.
    """

    origin: Point
    located: bool

    @property
    def heads(self) -> tuple[Column, Column]:
        """Their columns."""
        x, y = ("(X)", "(Y)") if self.located else ("X", "Y")
        return Column(x, Anchor.RIGHT), Column(y, Anchor.RIGHT)

    def cells(self, group: HoleGroup, style: Style) -> list[tuple[Entry, ...]]:
        """X and Y of a group's holes."""
        write = style.number if self.located else style.figure
        x, y = self.origin
        return [
            tuple(write(one.hole.x - x) for one in group.holes),
            tuple(write(one.hole.y - y) for one in group.holes),
        ]


def _combined(groups: tuple[HoleGroup, ...], style: Style, places: _Places) -> Table:
    more = MoreColumns.of(groups)
    columns = (
        Column("TAG"), *places.heads, Column("SIZE", Anchor.LEFT, merged=True),
        Column("DEPTH", merged=True), Column("QTY", merged=True), *more.columns,
    )  # fmt: skip
    return Table("HOLE TABLE", columns, tuple(_combined_block(group, style, more, places) for group in groups))


@dataclass(frozen=True, slots=True)
class MoreColumns:
    """Columns behind the others, where any hole needs them: the tables it serves, the revision that changed it."""

    served: bool
    revised: bool

    @classmethod
    def of(cls, groups: Iterable[HoleGroup]) -> MoreColumns:
        """Return what some hole of the groups needs."""
        holes = [one.hole for group in groups for one in group.holes]
        return cls(any(hole.tables for hole in holes), any(hole.revised for hole in holes))

    @property
    def columns(self) -> tuple[Column, ...]:
        """The columns' heads."""
        served = (Column("FOR TABLE", Anchor.LEFT),) if self.served else ()
        return (*served, Column("REV")) if self.revised else served

    def cells(self, group: HoleGroup) -> list[tuple[Entry, ...]]:
        """Return what stands in them for a group."""
        cells: list[tuple[Entry, ...]] = []
        if self.served:
            cells.append(tuple(", ".join(one.hole.tables) or "-" for one in group.holes))
        if self.revised:
            cells.append(tuple(one.hole.revised or "-" for one in group.holes))
        return cells


def _combined_block(group: HoleGroup, style: Style, more: MoreColumns, places: _Places) -> Block:
    holes = group.holes
    sizes, depths = size_cells(group.size, style)
    cells: list[tuple[Entry, ...]] = [
        tuple(one.tag for one in holes),
        *places.cells(group, style),
        sizes,
        depths,
        (str(len(holes)),),
        *more.cells(group),
    ]
    return Block(tuple(cells))


def size_cells(hole: Hole, style: Style) -> tuple[tuple[Entry, ...], tuple[Entry, ...]]:
    """Return size and depth line by line; a control frame takes a line in both."""
    lines = size_lines(hole, style)
    sizes: list[Entry] = [line.size for line in lines]
    depths: list[Entry] = [line.depth for line in lines]
    if hole.position_tolerance is not None:
        sizes.append(ControlFrame((POSITION, zone_text(hole.position_tolerance, style), *DATUMS)))
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
        tables = ((tuple(group.tables) or ("-",)),) if served else ()
        blocks.append(Block(((group.tags,), sizes, depths, (str(len(group.holes)),), *tables)))
    return Table("HOLE SIZES", columns, tuple(blocks))


def _positions(groups: tuple[HoleGroup, ...], style: Style, places: _Places, start: str) -> Table:
    more = MoreColumns.of(groups)
    columns = (Column("TAG"), *places.heads, *more.columns)
    blocks = []
    for group in groups:
        tags: tuple[Entry, ...] = tuple(one.tag for one in group.holes)
        blocks.append(Block((tags, *places.cells(group, style), *more.cells(group))))
    return Table(f"HOLE POSITIONS FROM {start}", columns, tuple(blocks))
