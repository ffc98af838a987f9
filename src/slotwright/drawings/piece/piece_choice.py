"""Which sheet and scale a piece's drawing takes, and where everything stands on it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from slotwright.drawings.details import LEAST
from slotwright.drawings.hole_tables import hole_tables
from slotwright.drawings.paper.arranging import Item, Spot, arrange, centring
from slotwright.drawings.paper.blocks import Block, blocks
from slotwright.drawings.paper.formats import PRINTED, Format, formats, preferred_scales, scale_text
from slotwright.drawings.paper.notes import notes_size, stop_size, stop_texts
from slotwright.drawings.paper.sheet_choice import (
    NOTE_WIDTHS,
    STOP_WIDTHS,
    Choice,
    PlacedTable,
    PlacedWords,
    SheetError,
    fixed_boxes,
    room,
)
from slotwright.drawings.paper.sheet_data import SheetData
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.table_columns import columns_size, variants
from slotwright.drawings.paper.tables import Table
from slotwright.drawings.paper.view_group import ViewGroup
from slotwright.drawings.piece.breaks import most_breaks
from slotwright.drawings.piece.piece_image import PieceImage
from slotwright.drawings.piece.piece_notes import piece_notes
from slotwright.drawings.piece.piece_scales import Scales, scales_of
from slotwright.drawings.piece.piece_views import estimate, piece_views
from slotwright.drawings.piece.small_holes import JUST_READABLE
from slotwright.drawings.shapes.tables import shaped_tables
from slotwright.drawings.shapes.views_needed import is_shaped
from slotwright.findings import Finding
from slotwright.pieces.piece import Piece

LONG_TABLE = 40  # rows above which a table may go to a sheet of its own; our choice

_Variants: TypeAlias = tuple[tuple[tuple[Table, ...], ...], ...]
"""Of every table its variants, each in columns."""
_Details: TypeAlias = Sequence[Sequence[Block]]
"""Of all details together, or of each, the ways in which they stand."""


@dataclass(frozen=True, slots=True)
class _Way:
    """What goes on the first sheet and what on further ones.

    Attributes:
        group: the views.
        tables: on the first sheet.
        carried: a table that goes to further sheets, or None.
        details: on the first sheet.
        apart: details that go to further sheets.
    """

    group: ViewGroup
    tables: _Variants
    carried: Table | None
    details: _Details
    apart: tuple[ViewGroup, ...] = ()


def choose(piece: Piece, data: SheetData, style: Style) -> Choice:
    """Return the smallest sheet, and on it the largest scale, on which everything fits and can be read.

    Sheets larger than a shop prints itself are taken only where nothing else helps: smaller holes on paper, of which
    one of each size is enlarged, smaller lettering of tables and notes, a table or details on further sheets. A piece
    too large for all that gets the largest scale that fits any sheet. A long table goes to further sheets before the
    drawing goes to a larger sheet. A long piece stays unbroken where it is easy to read so.

    Raises:
        SheetError: it does not fit at all.
    """
    job = _Job(piece, data, style)
    scales = scales_of(piece, style)
    papers = formats(style.name)
    printed, others = papers[:PRINTED], papers[PRINTED:]
    found = (
        job.plain(printed, scales) or job.easy(printed, scales) or job.bearable(printed, scales)
        or job.finely(printed, scales) or job.carried(printed, scales) or job.easy(others, scales)
    )  # fmt: skip
    if found is not None:
        return found
    tries = [(paper, scale, True, 0.0) for paper in papers for scale in scales.larger]
    tries += [(paper, scale, False, 0.0) for paper in papers for scale in scales.legible]
    small = [(paper, scale) for scale in scales.small for paper in papers]
    tries += [(*one, False, below) for one in small for below in (JUST_READABLE, 0.0)]
    for paper, scale, complete, below in tries:
        found = job.fit(paper, scale, complete, enlarged=below, carry=below > 0.0)
        if found is not None:
            return found
    largest, smallest = papers[-1].name, scale_text(preferred_scales(style)[-1])
    raise SheetError(f"{piece.name} does not fit sheet {largest} at {smallest}; make it of several pieces")


class _Job:
    """One piece to be placed; what does not depend on the paper is made once a scale."""

    def __init__(self, piece: Piece, data: SheetData, style: Style) -> None:
        self.piece, self.data, self.style = piece, data, style
        self.words = style  # how tables and notes are lettered
        self.stops = stop_texts(about(piece, data.findings))
        self.shaped = is_shaped(piece)
        self._groups: dict[tuple[float, int, float], ViewGroup | None] = {}
        self._estimates: dict[tuple[float, int], tuple[float, float]] = {}
        self._tables: dict[tuple[bool, float], _Variants] = {}
        self._picture = PieceImage(piece, style)

    def group(self, scale: float, breaks: int, enlarged: float) -> ViewGroup | None:
        key = scale, breaks, enlarged
        if key not in self._groups:
            projection = self.data.projection
            made = piece_views(self.piece, scale, projection, self.style, breaks=breaks, enlarged=enlarged)
            self._groups[key] = made
        return self._groups[key]

    def estimate(self, scale: float, breaks: int) -> tuple[float, float]:
        """The least width and height of the views."""
        if (scale, breaks) not in self._estimates:
            made = estimate(self.piece, scale, self.data.projection, self.style, breaks=breaks)
            self._estimates[scale, breaks] = made
        return self._estimates[scale, breaks]

    def tables(self, located: bool, words: Style) -> _Variants:
        """Every table in all its variants, so lettered."""
        key = located, words.text
        if key not in self._tables:
            found = shaped_tables(self.piece, words) if self.shaped else hole_tables(self.piece, words, located=located)
            self._tables[key] = tuple(variants(table, words) for table in found)
        return self._tables[key]

    def plain(self, papers: Sequence[Format], scales: Scales, *, carry: bool = False) -> Choice | None:
        """Return the smallest sheet on which all of a bar can be read without details, or None."""
        for paper in papers:
            found = self.first(paper, scales.easy, (0,), carry=carry) or self.first(paper, scales.legible, carry=carry)
            if found is not None:
                return found
        return None

    def easy(self, papers: Sequence[Format], scales: Scales, *, carry: bool = False) -> Choice | None:
        """Return the smallest sheet on which all can be read, with details if need be, or None."""
        for paper in papers:
            found = self.plain((paper,), scales, carry=carry) or self.first(
                paper, scales.detailed, enlarged=LEAST, carry=carry
            )
            if found is not None:
                return found
        return None

    def bearable(self, papers: Sequence[Format], scales: Scales, *, carry: bool = False) -> Choice | None:
        """Return the largest scale at which only holes that could not be told apart are tagged in details, or None."""
        tries = ((paper, scale) for scale in scales.bearable for paper in papers)
        found = (self.fit(paper, scale, True, enlarged=JUST_READABLE, carry=carry) for paper, scale in tries)
        return next((one for one in found if one is not None), None)

    def finely(self, papers: Sequence[Format], scales: Scales) -> Choice | None:
        """Return the same with tables and notes in the smaller lettering that ISO 3098-1 has; ASME Y14.2 has none."""
        if self.style.name != "iso":
            return None
        self.words = replace(self.style, text=self.style.small)
        found = self.easy(papers, scales) or self.bearable(papers, scales)
        self.words = self.style
        return found

    def carried(self, papers: Sequence[Format], scales: Scales) -> Choice | None:
        """Return the same with details or a table on further sheets."""
        return self.easy(papers, scales, carry=True) or self.bearable(papers, scales, carry=True)

    def first(
        self,
        paper: Format,
        scales: Sequence[float],
        breaks: Sequence[int] | None = None,
        *,
        enlarged: float = 0.0,
        carry: bool = False,
    ) -> Choice | None:
        """Return the sheet at the first scale at which it fits complete, or None."""
        found = (self.fit(paper, scale, True, breaks, enlarged=enlarged, carry=carry) for scale in scales)
        return next((one for one in found if one is not None), None)

    def fit(
        self,
        paper: Format,
        scale: float,
        complete: bool,
        breaks: Sequence[int] | None = None,
        *,
        enlarged: float = 0.0,
        carry: bool = False,
    ) -> Choice | None:
        """Return the sheet with the first number of breaks with which it fits, or None.

        Breaks of None are all that a piece may have at the scale, the fewest first. Holes smaller than Enlarged, mm on
        paper, have details. Carry takes details, and a table of any length, to further sheets.
        """
        counts = range(most_breaks(self.piece, scale) + 1) if breaks is None else breaks
        found = (self._fit(paper, scale, complete, count, enlarged, carry) for count in counts)
        return next((one for one in found if one is not None), None)

    def _fit(
        self, paper: Format, scale: float, complete: bool, breaks: int, enlarged: float, carry: bool
    ) -> Choice | None:
        area = room(paper)
        wide, high = self.estimate(scale, breaks)
        if wide > area.width or high > area.height:
            return None
        group = self.group(scale, breaks, enlarged)
        if group is None or (complete and not group.complete):
            return None
        tables = self.tables(group.located, self.words)
        lots: list[tuple[_Variants, Table | None]] = [(tables, None)]
        if tables and (carry or tables[-1][0][0].row_count > LONG_TABLE):
            lots.append((tables[:-1], tables[-1][0][0]))
        groups = [one for one in (group, group.otherwise) if one is not None]
        together = _together(group.details)
        found = (self._place(paper, scale, way) for lot in lots for way in _ways(groups, lot, together, carry=carry))
        return next((one for one in found if one is not None), None)

    def _place(self, paper: Format, scale: float, way: _Way) -> Choice | None:
        style, words = self.style, self.words
        group, tables, details = way.group, way.tables, way.details
        area, fixed = room(paper), fixed_boxes(paper, self.data, style)
        notes = piece_notes(self.piece, style, group, carried=way.carried is not None, apart=bool(way.apart))
        parts = tuple(part.moved(-group.box.x0, -group.box.y0) for part in group.parts)
        items = [Item(((group.box.width, group.box.height),), "top", parts)]
        items += [Item(tuple(columns_size(v, words) for v in every), "lower right") for every in tables]
        items += [Item(tuple((block.width, block.height) for block in every), "top") for every in details]
        if self.stops:
            items.append(Item(tuple(stop_size(self.stops, w, style) for w in STOP_WIDTHS), "lower left"))
        items.append(Item(tuple(notes_size("NOTES", notes, w, words) for w in NOTE_WIDTHS), "lower left"))
        spots = arrange(area, fixed, items)
        if spots is None:
            return None
        others = [*fixed, *(spot.box for spot in spots[1:])]
        home = group.moved_to(spots[0].box)
        found = zip(details, spots[1 + len(tables) :], strict=False)
        larger = [one for every, spot in found for one in every[spot.variant].at(spot.box)]
        picture = self._picture.in_room(scale, area, [*others, *home.taken])
        home = home.moved(*centring(area, home.taken, [*others, *(p.box for p in picture)]))
        return Choice(
            paper=paper,
            scale=scale,
            lettering=words,
            groups=(home, *larger, *picture),
            tables=tuple(_placed(every, spot) for every, spot in zip(tables, spots[1:], strict=False)),
            carried=way.carried,
            apart=way.apart,
            notes_title="NOTES",
            notes=PlacedWords(words=notes, box=spots[-1].box),
            stops=PlacedWords(words=self.stops, box=spots[-2].box) if self.stops else None,
        )


def _together(details: Sequence[ViewGroup]) -> list[_Details]:
    """Return how details stand on a sheet: in rows or, where there is no room for that, each where it fits."""
    if not details:
        return [[]]
    rows: _Details = [blocks(details)]
    return [rows, [blocks((one,)) for one in details]] if len(details) > 1 else [rows]


def _ways(
    groups: Sequence[ViewGroup], lot: tuple[_Variants, Table | None], together: Sequence[_Details], *, carry: bool
) -> Iterator[_Way]:
    """Yield the ways with details on the first sheet, then, where they may be carried, on further ones."""
    for group in groups:
        yield from (_Way(group, *lot, details) for details in together)
    for group in groups:
        if carry and group.details:
            yield _Way(group, *lot, (), group.details)


def _placed(every: Sequence[tuple[Table, ...]], spot: Spot) -> PlacedTable:
    return PlacedTable(parts=every[spot.variant], box=spot.box)


def about(piece: Piece, findings: Iterable[Finding]) -> list[Finding]:
    """Return the findings whose place names the piece."""
    name = re.compile(rf"(?<![\w-]){re.escape(piece.name)}(?![\w-])")
    return [finding for finding in findings if name.search(finding.place)]
