"""The set-up drawing: the table with everything on it, a section at a bolt, parts list, cautions, findings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from slotwright import sizes
from slotwright.drawings.arranging import Item, arrange, centred
from slotwright.drawings.callouts import times
from slotwright.drawings.formats import Format, formats, preferred_scales, scale_text
from slotwright.drawings.frame import drawing_space, frame
from slotwright.drawings.notes import CAUTIONS, notes_marks, notes_size, stop_marks, stop_size, stop_texts
from slotwright.drawings.parts_list import PartsLine, parts_lines, parts_table
from slotwright.drawings.piece_choice import INSET, NOTE_WIDTHS, STOP_WIDTHS, SheetError, block_box
from slotwright.drawings.placing import Box
from slotwright.drawings.setup_plan import piece_box
from slotwright.drawings.setup_views import bolt_group, setup_plan
from slotwright.drawings.sheet import Drawing, Mark, Sheet
from slotwright.drawings.sheet_data import SheetData
from slotwright.drawings.style import Style
from slotwright.drawings.tables import Table, table_marks, table_size
from slotwright.drawings.title_block import TitleFields, title_block
from slotwright.drawings.view_group import ViewGroup
from slotwright.findings import Severity
from slotwright.fixtures.joint import Joint
from slotwright.fixtures.layout import Layout

LEAST_PIECE = 5.0  # narrow side of the narrowest piece on paper, mm; our choice
SECTION_SCALES = (1.0, 0.5)


@dataclass(frozen=True, slots=True)
class _Chosen:
    """A sheet on which everything fits."""

    paper: Format
    scale: float
    groups: tuple[ViewGroup, ...]
    table: Box
    notes: Box
    stops: Box | None


def setup_drawing(layout: Layout, data: SheetData, style: Style) -> Drawing:
    """Return the set-up drawing of a lay-out.

    Args:
        layout: table, pieces, hardware, work.
        data: title block and findings; stop findings are printed in a box, cautions among the notes.
        style: ISO or ASME, mm or inch.

    Raises:
        SheetError: the table does not fit the largest sheet at the smallest scale.
    """
    lines = parts_lines(layout, style)
    table, notes = parts_table(lines), setup_notes(layout, data, lines, style)
    stops = stop_texts(data.findings)
    chosen = _choose(layout, lines, table, notes, stops, style)
    sheet = _sheet(layout, data, style, chosen, table, notes, stops)
    name = f"set-up-{layout.table.name}"
    return Drawing(
        name=name,
        title=f"{data.title}: set-up on {layout.table.title}",
        unit=style.unit,
        sheets=(sheet,),
        properties=(("design", data.title), ("table", layout.table.name), ("content id", data.content_id)),
    )


def setup_notes(layout: Layout, data: SheetData, lines: Sequence[PartsLine], style: Style) -> tuple[str, ...]:
    """Return the cautions and what else the set-up sheet says in words."""
    unit = "INCHES" if style.unit == "in" else "MILLIMETRES"
    notes = [f"DIMENSIONS IN {unit}, FROM THE TABLE'S LEFT END AND FRONT EDGE. SLOTS ARE NUMBERED FROM THE FRONT."]
    work = layout.work
    if work is not None and work.mass is not None:
        notes.append(f"WORK: {work.name}, {sizes.say(work.mass, 'kg', style.unit)}.")
    cautions = [f"CAUTION, {f.place}: {f.message}" for f in data.findings if f.severity is Severity.CAUTION]
    said = " ".join(cautions)
    notes += [f"ITEM {line.item}: {line.note}." for line in lines if line.note and line.words.split()[0] not in said]
    notes += cautions
    return (*notes, *CAUTIONS)


# Choosing


def _choose(
    layout: Layout, lines: Sequence[PartsLine], table: Table, notes: Sequence[str], stops: Sequence[str], style: Style
) -> _Chosen:
    items = {line.title: line.item for line in lines}
    plans: dict[float, ViewGroup] = {}
    joint = layout.joints[0] if layout.joints else None
    for least in (LEAST_PIECE, 0.0):
        for paper in formats(style.name):
            for scale in preferred_scales(style):
                if scale > 1.0 or not _worth_trying(layout, paper, scale, least):
                    continue
                if scale not in plans:
                    plans[scale] = setup_plan(layout, items, scale, style)
                chosen = _fit(layout, paper, scale, plans[scale], joint, items, table, notes, stops, style)
                if chosen is not None:
                    return chosen
    raise SheetError(f"table {layout.table.name} does not fit the largest sheet; check its sizes")


def _worth_trying(layout: Layout, paper: Format, scale: float, least: float) -> bool:
    area = drawing_space(paper)
    narrow = min((p.piece.blank.width for p in layout.pieces), default=layout.table.width)
    boxes = [piece_box(p) for p in layout.pieces]
    high = max([layout.table.width, *(b.y1 for b in boxes)]) - min([0.0, *(b.y0 for b in boxes)])
    wide = max([layout.table.length, *(b.x1 for b in boxes)]) - min([0.0, *(b.x0 for b in boxes)])
    return narrow * scale >= least and wide * scale < area.width and high * scale < area.height


def _fit(
    layout: Layout,
    paper: Format,
    scale: float,
    plan: ViewGroup,
    joint: Joint | None,
    items: dict[str, int],
    table: Table,
    notes: Sequence[str],
    stops: Sequence[str],
    style: Style,
) -> _Chosen | None:
    area = drawing_space(paper).grown(-INSET)
    block = block_box(paper, style)
    sections = []
    if joint is not None:
        sections = [bolt_group(layout, joint, items, s, style) for s in SECTION_SCALES if s > scale]
    wanted = [Item(((plan.box.width, plan.box.height),), "top"), Item((table_size(table, style),), "lower right")]
    if sections:
        wanted.append(Item(tuple((s.box.width, s.box.height) for s in sections), "lower left"))
    if stops:
        wanted.append(Item(tuple(stop_size(stops, w, style) for w in STOP_WIDTHS), "lower left"))
    wanted.append(Item(tuple(notes_size("NOTES AND CAUTIONS", notes, w, style) for w in NOTE_WIDTHS), "lower left"))
    spots = arrange(area, [block], wanted)
    if spots is None:
        return None
    home = centred(area, spots[0].box, [block, *(spot.box for spot in spots[1:])])
    groups = [plan.moved_to(home)]
    if sections:
        drawn = sections[spots[2].variant]
        groups.append(drawn.moved_to(spots[2].box))
    stop_at = spots[-2].box if stops else None
    return _Chosen(paper, scale, tuple(groups), spots[1].box, spots[-1].box, stop_at)


# Drawing


def _slots(layout: Layout, style: Style) -> str:
    """Number and throat width of the slots."""
    return f"{len(layout.table.slot_centres)} {times(style)} {style.number(layout.table.slot.width)}"


def _sheet(
    layout: Layout,
    data: SheetData,
    style: Style,
    chosen: _Chosen,
    table: Table,
    notes: Sequence[str],
    stops: Sequence[str],
) -> Sheet:
    paper, inner = chosen.paper, drawing_space(chosen.paper)
    fields = TitleFields(
        title=data.title,
        subtitle=f"Set-up on {layout.table.title}",
        number=data.content_id,
        document="Set-up drawing",
        scale=scale_text(chosen.scale),
        size=paper.name,
        sheet="1/1",
        material=layout.table.title,
        stock=_slots(layout, style),
        quantity=str(len(layout.joints)),
        mass=sizes.say(sum(placed.piece.mass for placed in layout.pieces), "kg", style.unit),
        heads=("Machine table", "T-slots", "Bolts", "Mass of pieces"),
        tolerances=(),
    )
    marks: list[Mark] = [*frame(paper, block_box(paper, style)), *title_block(fields, data, inner.x1, inner.y0, style)]
    marks += table_marks(table, chosen.table.x0, chosen.table.y1, style)
    box = chosen.notes
    marks += notes_marks("NOTES AND CAUTIONS", notes, box.x0, box.y1, box.width + 0.01, style)
    if chosen.stops is not None:
        marks += stop_marks(stops, chosen.stops.x0, chosen.stops.y1, chosen.stops.width, style)
    for group in chosen.groups:
        marks += group.marks
    views = tuple(view for group in chosen.groups for view in group.views)
    return Sheet(size=paper.name, width=paper.width, height=paper.height, views=views, marks=tuple(marks))
