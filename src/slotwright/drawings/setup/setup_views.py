"""The views of a set-up laid out with their dimensions, slot numbers and balloons.

Both groups are built with their own origin at paper (0, 0); whoever finds room for them moves them there.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise
from math import ceil

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.dimensioning import Side, Station, linear, ordinates
from slotwright.drawings.paper.placing import Box, Register, marks_box, points_box, spread, text_box, union
from slotwright.drawings.paper.sheet import Anchor, Dimension, Line, Mark, Stroke, Text, View, on_paper
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.view_group import ViewGroup, group_box
from slotwright.drawings.setup.balloons import balloon, balloon_radius
from slotwright.drawings.setup.bolt_section import ZIGZAG, bolt_section
from slotwright.drawings.setup.setup_balloons import setup_balloons
from slotwright.drawings.setup.setup_middles import crosses, middle_stations
from slotwright.drawings.setup.setup_overhangs import Lines, overhang_dimensions
from slotwright.drawings.setup.setup_plan import piece_box, plan_marks, rings, work_box
from slotwright.drawings.setup.setup_words import front_words, section_words, work_words
from slotwright.drawings.setup.stacks import Axis
from slotwright.fixtures.joint import Joint
from slotwright.fixtures.layout import Layout

RESERVED = 100.0  # length of paper kept for the extension lines of the table's size, mm
LABEL_STEP = 3.0  # from one place tried for a slot's number to the next, mm; our choice
STRAY = 0.5  # a label that stands no further off its slot needs no line to it, mm


def setup_plan(layout: Layout, items: dict[str, int], scale: float, style: Style) -> ViewGroup:
    """Return the table plan: slots numbered and located, pieces located, overhangs, work, front, balloons."""
    shown = (*plan_marks(layout, scale, style), *crosses(layout, scale))
    view = View(name="table plan", origin=(0.0, 0.0), scale=scale, marks=shown)
    reach = _reach(view, layout)
    taken, lines = Register(), Lines()
    taken.add(on_paper(view))
    slots = _slot_places(view, layout, reach, style)
    found = [*slots, *_piece_places(view, layout, reach, style)]
    _take(taken, found, style)
    lines.add(found)
    _keep_size_lines(view, layout, taken, lines)
    marks, numbered = _slot_numbers(view, layout, reach, taken, style)
    if not numbered and reach.x1 > layout.table.length * scale + STRAY:
        beside = _numbers_beside(slots[1:], style)
        numbered = all(taken.free(text_box(mark)) for mark in beside)
        marks = [*beside] if numbered else marks
    taken.add(marks)
    beyond, free = overhang_dimensions(view, layout, taken, lines, style)
    found += beyond
    front = front_words(view, layout, taken, style)
    taken.add(front)
    marks += front
    around = marks_box([*on_paper(view), *marks, *(m for d in found for m in d.marks)])
    size = _table_size(view, layout, around, style)
    _take(taken, size, style)
    name = work_words(view, layout, taken, style)
    taken.add(name)
    marks += name
    balloons = setup_balloons(view, layout, items, taken, style)
    marks += (mark for drawn in balloons for mark in drawn)
    view = replace(view, dimensions=(*found, *size))
    complete = free and numbered and bool(front) and (bool(name) or layout.work is None or layout.work.size is None)
    return ViewGroup(
        views=(view,),
        marks=tuple(marks),
        box=group_box((view,), marks),
        complete=complete and all(balloons),
    )


def _reach(view: View, layout: Layout) -> Box:
    """Return the box around table, pieces, bought items and work on paper, without centre lines."""
    boxes = [Box(0.0, 0.0, layout.table.length, layout.table.width), *map(piece_box, layout.pieces)]
    boxes += [points_box(ring) for item in layout.hardware for ring in rings(item)]
    boxes += [Box(*outline.bounds) for outline in layout.work_outlines]
    work = work_box(layout.work, layout) if layout.work is not None else None
    around = union([*boxes, *([] if work is None else [work])])
    return Box(*view.to_paper((around.x0, around.y0)), *view.to_paper((around.x1, around.y1)))


def _take(taken: Register, dimensions: Iterable[Dimension], style: Style) -> None:
    """Register dimensions; nothing else may come nearer to their texts than these are high."""
    for dimension in dimensions:
        taken.add(dimension.marks)
        taken.keep_clear(dimension.marks, style.text)


def _slot_numbers(view: View, layout: Layout, reach: Box, taken: Register, style: Style) -> tuple[list[Mark], bool]:
    """Number the slots at their right ends; say whether every number stands free.

    They stand in a column each beside its slot; where slots are too narrow for that in two columns by turns, else
    spread out. A line goes to each that does not stand at its slot.
    """
    centres = [y * view.scale for y in layout.table.slot_centres]
    end = layout.table.length * view.scale + style.centre_overrun
    aside = lettering.width(f"SLOT {len(centres)}", style.text) + style.text
    for places, turns in ((centres, (0.0,)), (centres, (0.0, aside)), (spread(centres, 1.6 * style.text), (0.0,))):
        marks, free = _numbered(centres, places, turns, end, reach, taken.copy(), style)
        if free:
            break
    return marks, free


def _numbers_beside(slots: Sequence[Dimension], style: Style) -> list[Text]:
    """Number the slots beside the figures that locate them, where a piece lies over their right ends."""
    figures = [mark for one in slots for mark in one.marks if isinstance(mark, Text)]
    left = min(text_box(mark).x0 for mark in figures) - 1.2 * style.text
    return [
        Text((left, mark.at[1]), f"SLOT {number}", style.text, Anchor.RIGHT, 0.0, True)
        for number, mark in enumerate(figures, start=1)
    ]


def _numbered(
    centres: Sequence[float],
    places: Sequence[float],
    turns: Sequence[float],
    end: float,
    reach: Box,
    taken: Register,
    style: Style,
) -> tuple[list[Mark], bool]:
    """Number slots at these heights, by turns so far aside; the register takes the numbers in."""
    gap = style.text_gap
    steps = ceil(max(0.0, reach.x1 - end) / LABEL_STEP) + 1
    apart = [end + 2.0 * (gap + style.text) + n * LABEL_STEP for n in range(steps)]
    marks: list[Mark] = []
    free = True
    for number, (centre, y) in enumerate(zip(centres, places, strict=True), start=1):
        aside = turns[number % len(turns)]
        near = [] if abs(centre - y) > STRAY else [end + gap + aside]
        for x in (*near, *(x + aside for x in apart)):
            text = Text((x, y), f"SLOT {number}", style.text, Anchor.LEFT, 0.0, True)
            tie = ((end + gap, centre), (x - 2.0 * gap, y), (x - gap, y)) if x > end + gap else ()
            clear = all(taken.passable(a, b) for a, b in pairwise(tie))
            if clear and taken.free(text_box(text).grown(STRAY)):
                break
        else:
            free = False
        drawn: tuple[Mark, ...] = (Stroke(tie, Line.NOTE), text) if tie else (text,)
        taken.add(drawn)
        marks += drawn
    return marks, free


def _slot_places(view: View, layout: Layout, reach: Box, style: Style) -> tuple[Dimension, ...]:
    """Slot centres from the front edge, on the left."""
    start = -style.centre_overrun - style.extension_gap
    stations = [Station((0.0, 0.0), -style.extension_gap)]
    stations += [Station((0.0, y), start) for y in layout.table.slot_centres]
    edge = min(start - style.extension_gap, reach.x0 - style.extension_gap)
    return ordinates(view, (0.0, 0.0), stations, Side.LEFT, edge, style)


def _piece_places(view: View, layout: Layout, reach: Box, style: Style) -> tuple[Dimension, ...]:
    """Left sides of the pieces, else middles of the parts held, from the table's left end, at the back."""
    highest: dict[float, float] = {}
    square = [placed for placed in layout.pieces if abs((placed.place.turn + 45.0) % 90.0 - 45.0) < 1e-9]
    for box in map(piece_box, square):  # the others are set by gauge lengths
        x = round(box.x0, 6)
        highest[x] = max(box.y1, highest.get(x, box.y1))
    gap = style.extension_gap
    highest.setdefault(0.0, layout.table.width)
    found = middle_stations(view, layout, style)
    found |= {x: Station((x, high), high * view.scale + gap) for x, high in highest.items()}
    stations = [found[x] for x in sorted(found)]
    return ordinates(view, (0.0, 0.0), stations, Side.TOP, reach.y1 + gap, style)


def _keep_size_lines(view: View, layout: Layout, taken: Register, lines: Lines) -> None:
    """Keep clear where the extension lines of the table's own size will run, whatever comes between."""
    right, top = view.to_paper((layout.table.length, layout.table.width))
    corners = ((0.0, 0.0), (right, 0.0), (right, 0.0), (right, top))
    ways = ((0.0, -RESERVED), (0.0, -RESERVED), (RESERVED, 0.0), (RESERVED, 0.0))
    spans = [((x, y), (x + dx, y + dy)) for (x, y), (dx, dy) in zip(corners, ways, strict=True)]
    for span in spans:
        taken.add_line(span)
    lines.extension.extend(spans)


def _table_size(view: View, layout: Layout, around: Box, style: Style) -> list[Dimension]:
    """The table's own size past all else, in brackets, for it is not made here."""
    table = layout.table
    low = around.y0 - style.first_offset
    right = around.x1 + style.first_offset
    if not style.text_above:
        right += lettering.width(f"({style.figure(table.width, 2)})", style.text) / 2.0 - style.text
    return [
        linear(view, (0.0, 0.0), (table.length, 0.0), low, style, text="(<>)", places=2),
        linear(
            view, (table.length, 0.0), (table.length, table.width), right, style, text="(<>)", places=2, upright=True
        ),
    ]


# Section


def bolt_group(layout: Layout, at: Axis, items: dict[str, int], scale: float, style: Style) -> ViewGroup:
    """Return the section at one stack, larger, with balloons and the engagement of a bolt's thread."""
    drawn = bolt_section(layout, at, scale, style)
    view = View(name="section at a bolt", origin=(0.0, 0.0), scale=scale, marks=drawn.marks)
    around = marks_box(drawn.marks)  # straps reach out of the window on both sides
    right = max(drawn.right, around.x1) * scale
    marks: list[Mark] = list(_stacked_balloons(view, drawn.seats, items, right, drawn.bottom * scale, style))
    left = min(drawn.left, around.x0)
    found = _engagement(view, at, drawn.left, left, style) if isinstance(at, Joint) else []
    title_low = drawn.bottom * scale - 3.5 - style.text
    middle = (drawn.left + drawn.right) / 2.0 * scale
    marks += [
        Text((middle, title_low - n * 1.7 * style.text), words, style.text, Anchor.CENTRE)
        for n, words in enumerate(section_words(layout, at, scale))
    ]
    view = replace(view, dimensions=tuple(found))
    seen = marks_box([*on_paper(view), *(m for d in found for m in d.marks)]).grown(1.0)
    view = replace(view, frame=(seen.x0, seen.y0, seen.x1, seen.y1))
    return ViewGroup(views=(view,), marks=tuple(marks), box=group_box((view,), marks))


def _engagement(view: View, joint: Joint, start: float, left: float, style: Style) -> list[Dimension]:
    """How much thread the T-nut holds, on the left of all else."""
    if joint.engagement <= 0.0:
        return []
    low, high = joint.engaged
    text = "<> ENGAGED"
    written = text.replace("<>", style.figure(joint.engagement, 2))
    aside = style.first_offset if style.text_above else lettering.width(written, style.text) / 2.0 + style.text
    at, from_ = left * view.scale - ZIGZAG - aside, start * view.scale
    return [
        linear(
            view, (0.0, low), (0.0, high), at, style,
            text=text, upright=True, starts=(from_, from_), places=2,
        )
    ]  # fmt: skip


def _stacked_balloons(
    view: View,
    seats: Sequence[tuple[str, tuple[float, float]]],
    items: dict[str, int],
    right: float,
    lowest: float,
    style: Style,
) -> Iterable[Mark]:
    """One balloon for each item, in a column on the right, in the order of height, so that no leaders cross."""
    known: dict[int, tuple[float, float]] = {}
    for title, at in seats:
        if title in items:
            known.setdefault(items[title], view.to_paper(at))
    column = sorted(known.items(), key=lambda one: one[1][1])
    radius = balloon_radius(style)
    heights = spread([tip[1] for _, tip in column], 2.0 * radius + 1.0)
    rise = max([0.0, *(lowest + radius - y for y in heights)])
    for (number, tip), y in zip(column, heights, strict=True):
        yield from balloon(tip, (right + 10.0 + radius, y + rise), number, style)
