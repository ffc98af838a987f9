"""Which sheet and scale a set-up drawing takes, and where everything stands on it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import product

from slotwright.drawings.paper.arranging import Item, arrange, centred
from slotwright.drawings.paper.formats import PRINTED, Format, formats, preferred_scales
from slotwright.drawings.paper.notes import notes_size, stop_size, stop_texts
from slotwright.drawings.paper.placing import Box
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
from slotwright.drawings.paper.tables import table_size
from slotwright.drawings.paper.view_group import ViewGroup
from slotwright.drawings.setup.bolt_section import seated
from slotwright.drawings.setup.parts_list import PartsLine, parts_table
from slotwright.drawings.setup.setup_gauges import gauge_group
from slotwright.drawings.setup.setup_plan import piece_box
from slotwright.drawings.setup.setup_views import bolt_group, setup_plan
from slotwright.drawings.setup.stacks import stacks
from slotwright.fixtures.layout import Layout

LEAST_PIECE = 4.5  # narrow side of the narrowest piece on paper, mm; our choice
SECTION_SCALES = (1.0, 0.5)
NOTES_TITLE = "NOTES AND CAUTIONS"


def choose(layout: Layout, lines: Sequence[PartsLine], notes: tuple[str, ...], data: SheetData, style: Style) -> Choice:
    """Return the smallest sheet, and on it the largest scale, on which everything fits; sections go before size.

    A plan in which every word, balloon and dimension stands free goes before one that is smaller. Before a sheet
    larger than a shop prints itself the notes and the parts list take the smaller lettering that ISO 3098-1 has; ASME
    Y14.2 has none.

    Raises:
        SheetError: the table does not fit the largest sheet at the smallest scale.
    """
    job = _Job(layout, lines, notes, data, style)
    papers = formats(style.name)
    printed, others = papers[:PRINTED], papers[PRINTED:]
    finely = replace(style, text=style.small) if style.name == "iso" else None
    for whole, least in product((True, False), (LEAST_PIECE, 0.0)):
        for these, words in ((printed, style), (printed, finely), (others, style)):
            found = job.first(these, words, least, whole=whole) if words is not None else None
            if found is not None:
                return found
    raise SheetError(f"table {layout.table.name} does not fit the largest sheet; check its sizes")


class _Job:
    """One set-up to be placed; what does not depend on the paper is made once a scale."""

    def __init__(
        self, layout: Layout, lines: Sequence[PartsLine], notes: tuple[str, ...], data: SheetData, style: Style
    ) -> None:
        self.layout, self.notes, self.data, self.style = layout, notes, data, style
        self.words = style  # how notes and parts list are lettered
        self.stops = stop_texts(data.findings)
        self.items = {line.title: line.item for line in lines}
        self.table = parts_table(tuple(lines))
        self.stacks = stacks(layout, lambda joint: len(seated(layout, joint)))
        sectioned = {title for one in self.stacks for title in seated(layout, one)}
        self.on_plan = {title: item for title, item in self.items.items() if title not in sectioned}
        self.boxes = [piece_box(placed) for placed in layout.pieces]
        self._plans: dict[float, ViewGroup] = {}
        self._sections: dict[float, tuple[ViewGroup, ...]] = {}
        self._settings: dict[tuple[float, bool], ViewGroup | None] = {}

    def plan(self, scale: float) -> ViewGroup:
        if scale not in self._plans:
            self._plans[scale] = setup_plan(self.layout, self.on_plan, scale, self.style)
        return self._plans[scale]

    def enlarged(self, scale: float, setting: float, *, whole: bool) -> tuple[ViewGroup, ...] | None:
        """Return the sections at bolts at one scale, and at another the part of the plan with the gauge lengths.

        Whole wants all lengths free, and gets None where that can't be.
        """
        if scale not in self._sections:
            drawn = (bolt_group(self.layout, stack, self.items, scale, self.style) for stack in self.stacks)
            self._sections[scale] = tuple(drawn)
        if not self.layout.gauges:
            return self._sections[scale]
        if (setting, whole) not in self._settings:
            self._settings[setting, whole] = gauge_group(self.layout, setting, self.style, whole=whole)
        lengths = self._settings[setting, whole]
        return None if lengths is None else (*self._sections[scale], lengths)

    def _enlargements(self, scale: float) -> Iterator[tuple[float, float]]:
        """Yield scales for sections and gauge lengths, the larger ones first; lengths may have to do with less.

        A plan in full size has sections of that size beside it.
        """
        further = (one for one in preferred_scales(self.style) if scale < one < min(SECTION_SCALES))
        for size in (size for size in SECTION_SCALES if size > scale or scale == max(SECTION_SCALES) == size):
            yield size, size
        if self.layout.gauges and scale < min(SECTION_SCALES):
            yield from ((min(SECTION_SCALES), setting) for setting in further)

    def first(self, papers: Sequence[Format], words: Style, least: float, *, whole: bool) -> Choice | None:
        """Return the first sheet on which all fits, so lettered, at the largest scale, or None."""
        self.words = words
        found = (
            self.fit(paper, scale, least, whole=whole) for paper, scale in product(papers, preferred_scales(self.style))
        )
        return next((one for one in found if one is not None), None)

    def fit(self, paper: Format, scale: float, least: float, *, whole: bool) -> Choice | None:
        if scale > 1.0 or not self._worth_trying(paper, scale, least):
            return None
        plan, area = self.plan(scale), room(paper)
        if (whole and not plan.complete) or plan.box.width > area.width or plan.box.height > area.height:
            return None
        for sizes in self._enlargements(scale):
            drawn = self.enlarged(*sizes, whole=whole)
            if drawn is not None and (found := self._place(paper, scale, drawn)) is not None:
                return found
        return None if self.stacks or self.layout.gauges else self._place(paper, scale, ())

    def _worth_trying(self, paper: Format, scale: float, least: float) -> bool:
        area, table, boxes = room(paper), self.layout.table, self.boxes
        narrow = min((placed.piece.blank.width for placed in self.layout.pieces), default=table.width)
        high = max([table.width, *(b.y1 for b in boxes)]) - min([0.0, *(b.y0 for b in boxes)])
        wide = max([table.length, *(b.x1 for b in boxes)]) - min([0.0, *(b.x0 for b in boxes)])
        return narrow * scale >= least and wide * scale < area.width and high * scale < area.height

    def _place(self, paper: Format, scale: float, sections: tuple[ViewGroup, ...]) -> Choice | None:
        area, fixed = room(paper), fixed_boxes(paper, self.data, self.style)
        style, words = self.style, self.words
        plan = self.plan(scale)
        tables = (self.table,) if self.table.blocks else ()
        items = [Item(((plan.box.width, plan.box.height),), "top")]
        items += [Item((table_size(table, words),), "lower right") for table in tables]
        items += [Item(((drawn.box.width, drawn.box.height),), "lower left") for drawn in sections]
        if self.stops:
            items.append(Item(tuple(stop_size(self.stops, w, style) for w in STOP_WIDTHS), "lower left"))
        items.append(Item(tuple(notes_size(NOTES_TITLE, self.notes, w, words) for w in NOTE_WIDTHS), "lower left"))
        boxes = _arranged(area, fixed, items, 1 + len(tables))
        if boxes is None:
            return None
        home = centred(area, boxes[0], [*fixed, *boxes[1:]])
        first = 1 + len(tables)
        return Choice(
            paper=paper,
            scale=scale,
            lettering=words,
            groups=(plan.moved_to(home), *(s.moved_to(b) for s, b in zip(sections, boxes[first:], strict=False))),
            tables=tuple(PlacedTable(parts=(t,), box=b) for t, b in zip(tables, boxes[1:], strict=False)),
            notes_title=NOTES_TITLE,
            notes=PlacedWords(words=self.notes, box=boxes[-1]),
            stops=PlacedWords(words=self.stops, box=boxes[-2]) if self.stops else None,
        )


def _arranged(area: Box, fixed: Sequence[Box], items: Sequence[Item], first: int) -> list[Box] | None:
    """Return where the items stand, or None; those from the first on choose as listed, else the largest before others.

    The many places of a small item would take the only ones of a large one.
    """
    large = sorted(range(first, len(items)), key=lambda n: -min(wide * high for wide, high in items[n].sizes))
    for order in ([*range(len(items))], [*range(first), *large]):
        spots = arrange(area, fixed, [items[n] for n in order])
        if spots is not None:
            found = dict(zip(order, spots, strict=True))
            return [found[n].box for n in range(len(items))]
    return None
