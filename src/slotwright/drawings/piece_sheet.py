"""The drawing of one piece: the smallest sheet at a preferred scale on which everything has its place."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from slotwright import sizes
from slotwright.drawings.arranging import Item, arrange, centred
from slotwright.drawings.formats import Format, formats, preferred_scales, scale_text
from slotwright.drawings.frame import drawing_space, frame
from slotwright.drawings.hole_tables import hole_tables
from slotwright.drawings.notes import notes_marks, notes_size, stop_marks, stop_size, stop_texts
from slotwright.drawings.pictorial import picture_group
from slotwright.drawings.piece_notes import piece_notes
from slotwright.drawings.piece_views import estimate, piece_views
from slotwright.drawings.placing import Box
from slotwright.drawings.sheet import Drawing, Mark, Sheet
from slotwright.drawings.sheet_data import SheetData
from slotwright.drawings.style import Style
from slotwright.drawings.tables import Table, column_widths, split, table_marks, table_size
from slotwright.drawings.title_block import TitleFields, title_block, title_block_size
from slotwright.drawings.view_group import ViewGroup
from slotwright.errors import SlotwrightError
from slotwright.findings import Finding
from slotwright.pieces.piece import Piece

LEAST_HOLE = 3.0  # mm on paper; anything smaller would need an enlarged detail; our choice
LEAST_THICKNESS = 4.0  # of the piece on paper, mm; our choice
SMALL_PIECE = 150.0  # mm on paper up to which a small piece is drawn larger than it is; our choice
INSET = 6.0  # clear paper inside the frame, mm; our choice
BETWEEN = 5.0  # between the columns of a split table, mm; our choice
NOTE_WIDTHS = (110.0, 130.0, 90.0, 75.0, 150.0, 60.0)
STOP_WIDTHS = (140.0, 180.0, 100.0)
TABLE_COLUMNS = 8
PICTURE_PARTS = (1.0, 0.8, 0.6, 0.5, 0.4, 0.3)  # size of the pictorial view, of the main scale
LEAST_PICTURE = 60.0  # mm on paper; our choice


class SheetError(SlotwrightError, ValueError):
    """A piece for which no sheet is large enough."""


@dataclass(frozen=True, slots=True)
class _Chosen:
    """A sheet on which everything fits."""

    paper: Format
    scale: float
    group: ViewGroup
    tables: tuple[tuple[tuple[Table, ...], Box], ...]
    notes: tuple[tuple[str, ...], Box]
    stops: tuple[tuple[str, ...], Box] | None
    picture: ViewGroup | None


def piece_drawing(piece: Piece, data: SheetData, style: Style) -> Drawing:
    """Return the drawing of a piece.

    Args:
        piece: what is drawn.
        data: title block and findings; a stop finding about the piece is printed.
        style: ISO or ASME, mm or inch.

    Raises:
        SheetError: the piece does not fit the largest sheet at the smallest scale.
    """
    chosen = _choose(piece, data, style)
    return Drawing(
        name=piece.name,
        title=f"{data.title}: {piece.title}",
        unit=style.unit,
        sheets=(_sheet(piece, data, style, chosen),),
        properties=(("design", data.title), ("piece", piece.name), ("content id", data.content_id)),
    )


# Choosing


def _choose(piece: Piece, data: SheetData, style: Style) -> _Chosen:
    """Try the sheets from the smallest, each from the largest scale; be content with less only when all fail."""
    built: dict[float, ViewGroup] = {}
    for content_with_less in (False, True):
        for paper in formats(style.name):
            for scale in _scales(piece, style, legible=not content_with_less):
                chosen = _fit(piece, data, style, paper, scale, built)
                if chosen is not None and (chosen.group.complete or content_with_less):
                    return chosen
    largest, smallest = formats(style.name)[-1].name, scale_text(preferred_scales(style)[-1])
    raise SheetError(f"{piece.name} does not fit sheet {largest} at {smallest}; make it of several pieces")


def _scales(piece: Piece, style: Style, *, legible: bool) -> list[float]:
    blank = piece.blank
    most = max(1.0, SMALL_PIECE / blank.length)
    least = LEAST_THICKNESS / min(blank.thickness, blank.width)
    if piece.holes:
        least = max(least, LEAST_HOLE / min(hole.diameter for hole in piece.holes))
    found = [s for s in preferred_scales(style) if s <= max(most, least * 1.01)]
    return [s for s in found if s >= least] if legible else found


def _fit(
    piece: Piece, data: SheetData, style: Style, paper: Format, scale: float, built: dict[float, ViewGroup]
) -> _Chosen | None:
    area = drawing_space(paper).grown(-INSET)
    wide, high = estimate(piece, scale, style)
    if wide > area.width or high > area.height:
        return None
    if scale not in built:
        built[scale] = piece_views(piece, scale, data.projection, style)
    group = built[scale]
    block = block_box(paper, style)
    tables = [_variants(table) for table in hole_tables(piece, style, located=group.located)]
    notes, stops = piece_notes(piece, style, edges_noted=group.edges_noted), stop_texts(about(piece, data.findings))
    items = [Item(((group.box.width, group.box.height),), "top")]
    items += [Item(tuple(_columns_size(v, style) for v in variants), "lower right") for variants in tables]
    if stops:
        items.append(Item(tuple(stop_size(stops, w, style) for w in STOP_WIDTHS), "lower left"))
    items.append(Item(tuple(notes_size("NOTES", notes, w, style) for w in NOTE_WIDTHS), "lower left"))
    spots = arrange(area, [block], items)
    if spots is None:
        return None
    others = [block, *(spot.box for spot in spots[1:])]
    picture = _picture(piece, scale, area, [*others, spots[0].box], style)
    if picture is not None:
        others.append(picture.box)
    home = centred(area, spots[0].box, others)
    middle = spots[1 : 1 + len(tables)]
    return _Chosen(
        paper,
        scale,
        group.moved_to(home),
        tuple((variants[spot.variant], spot.box) for variants, spot in zip(tables, middle, strict=True)),
        (notes, spots[-1].box),
        (stops, spots[-2].box) if stops else None,
        picture,
    )


def _picture(piece: Piece, scale: float, area: Box, taken: Sequence[Box], style: Style) -> ViewGroup | None:
    """Return the pictorial view in the largest size for which there is room left, or None."""
    for part in PICTURE_PARTS:
        drawn = picture_group(piece, scale * part, style)
        if drawn.box.width < LEAST_PICTURE:
            return None
        spots = arrange(area, taken, [Item(((drawn.box.width, drawn.box.height),), "upper right")])
        if spots is not None:
            home = centred(area, spots[0].box, taken)
            return drawn.moved_to(home)
    return None


def about(piece: Piece, findings: Iterable[Finding]) -> list[Finding]:
    """Return the findings that name the piece as their place, or no piece at all."""
    return [f for f in findings if f.place.split(",")[0].strip() == piece.name]


def block_box(paper: Format, style: Style) -> Box:
    """Return where the title block stands."""
    inner = drawing_space(paper)
    width, height = title_block_size(style)
    return Box(inner.x1 - width, inner.y0, inner.x1, inner.y0 + height)


def _variants(table: Table) -> tuple[tuple[Table, ...], ...]:
    return tuple(split(table, n) for n in range(1, TABLE_COLUMNS + 1) if n == 1 or table.row_count >= 4 * n)


def _columns_size(parts: Sequence[Table], style: Style) -> tuple[float, float]:
    grid = sum(sum(column_widths(part, style)) for part in parts) + BETWEEN * (len(parts) - 1)
    return max(grid, table_size(parts[0], style)[0]), max(table_size(part, style)[1] for part in parts)


# Drawing


def _sheet(piece: Piece, data: SheetData, style: Style, chosen: _Chosen) -> Sheet:
    paper = chosen.paper
    inner = drawing_space(paper)
    fields = TitleFields(
        title=piece.title,
        subtitle=data.title,
        number=data.content_id,
        document="Part drawing",
        scale=scale_text(chosen.scale),
        size=paper.name,
        sheet="1/1",
        material=piece.material.name,
        stock=piece.stock,
        quantity=str(piece.quantity),
        mass=sizes.say(piece.mass, "kg", style.unit),
    )
    marks: list[Mark] = [*frame(paper, block_box(paper, style)), *title_block(fields, data, inner.x1, inner.y0, style)]
    for parts, box in chosen.tables:
        marks += _columns(parts, box, style)
    words, box = chosen.notes
    marks += notes_marks("NOTES", words, box.x0, box.y1, box.width + 0.01, style)
    if chosen.stops is not None:
        words, box = chosen.stops
        marks += stop_marks(words, box.x0, box.y1, box.width, style)
    views = chosen.group.views
    marks += chosen.group.marks
    if chosen.picture is not None:
        views += chosen.picture.views
        marks += chosen.picture.marks
    return Sheet(size=paper.name, width=paper.width, height=paper.height, views=views, marks=tuple(marks))


def _columns(parts: Sequence[Table], box: Box, style: Style) -> list[Mark]:
    marks: list[Mark] = []
    x = box.x0
    top = table_top(parts, box.y1, style)
    for n, part in enumerate(parts):
        marks += table_marks(part, x, box.y1 if n == 0 else top, style)
        x += sum(column_widths(part, style)) + BETWEEN
    return marks


def table_top(parts: Sequence[Table], top: float, style: Style) -> float:
    """Return where the second and further columns of a split table start: level with the first one's head."""
    return top - (1.8 * style.text if parts[0].title else 0.0)
