"""The views of a set-up laid out with their dimensions, slot numbers and balloons.

Both groups are built with their own origin at paper (0, 0); whoever finds room for them moves them there.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import cos, radians, sin

from slotwright.drawings import lettering
from slotwright.drawings.balloons import balloon, balloon_radius
from slotwright.drawings.bolt_section import ZIGZAG, bolt_section
from slotwright.drawings.dimensioning import Side, Station, linear, ordinates
from slotwright.drawings.placing import Box, Register, circle_box, marks_box, spread, text_box
from slotwright.drawings.setup_plan import piece_box, plan_marks, work_box
from slotwright.drawings.setup_words import front_words, work_words
from slotwright.drawings.sheet import Anchor, Dimension, Mark, Text, View, on_paper
from slotwright.drawings.style import Style
from slotwright.drawings.view_group import ViewGroup, group_box
from slotwright.fixtures.joint import Joint
from slotwright.fixtures.layout import Layout

BALLOON_WAYS = tuple((cos(radians(turn)), sin(radians(turn))) for turn in (-37, -143, 37, 143, -60, -120, 0, 180))


def setup_plan(layout: Layout, items: dict[str, int], scale: float, style: Style) -> ViewGroup:
    """Return the table plan: slots numbered and located, pieces located, overhangs, work, front, balloons."""
    view = View(name="table plan", origin=(0.0, 0.0), scale=scale, marks=plan_marks(layout, scale, style))
    taken = Register()
    marks: list[Mark] = list(_slot_numbers(view, layout, style))
    taken.add([*on_paper(view), *marks])
    found = [*_slot_places(view, layout, style), *_piece_places(view, layout, style)]
    _take(taken, found, style)
    front = front_words(view, layout, taken, style)
    taken.keep_clear(front, style.text / 2.0)
    marks += front
    found += _overhangs(view, layout, taken, style)
    around = marks_box([*on_paper(view), *marks, *(m for d in found for m in d.marks)])
    size = _table_size(view, layout, around, marks, style)
    _take(taken, size, style)
    name = work_words(view, layout, taken, style)
    taken.add(name)
    marks += name
    marks += _piece_balloons(view, layout, items, taken, style)
    view = replace(view, dimensions=(*found, *size))
    return ViewGroup(views=(view,), marks=tuple(marks), box=group_box((view,), marks))


def _take(taken: Register, dimensions: Iterable[Dimension], style: Style) -> None:
    """Register dimensions; nothing else may come nearer to their texts than these are high."""
    for dimension in dimensions:
        taken.add(dimension.marks)
        taken.keep_clear(dimension.marks, style.text)


def _slot_numbers(view: View, layout: Layout, style: Style) -> Iterable[Mark]:
    right = layout.table.length * view.scale + style.centre_overrun + style.text_gap
    for number, y in enumerate(layout.table.slot_centres, start=1):
        yield Text((right, y * view.scale), f"SLOT {number}", style.text, Anchor.LEFT, 0.0, True)


def _slot_places(view: View, layout: Layout, style: Style) -> tuple[Dimension, ...]:
    """Slot centres from the front edge, on the left."""
    start = -style.centre_overrun - style.extension_gap
    stations = [Station((0.0, 0.0), -style.extension_gap)]
    stations += [Station((0.0, y), start) for y in layout.table.slot_centres]
    edge = -style.centre_overrun - 2.0 * style.extension_gap
    return ordinates(view, (0.0, 0.0), stations, Side.LEFT, edge, style)


def _piece_places(view: View, layout: Layout, style: Style) -> tuple[Dimension, ...]:
    """Left sides of the pieces from the table's left end, at the back."""
    boxes = [piece_box(placed) for placed in layout.pieces]
    top = max([layout.table.width, *(box.y1 for box in boxes)])
    work = work_box(layout.work, layout) if layout.work is not None else None
    if work is not None:
        top = max(top, work.y1)
    highest: dict[float, float] = {}
    for box in boxes:
        x = round(box.x0, 6)
        highest[x] = max(box.y1, highest.get(x, box.y1))
    gap = style.extension_gap
    stations = [Station((0.0, layout.table.width), layout.table.width * view.scale + gap)]
    stations += [Station((x, highest[x]), highest[x] * view.scale + gap) for x in sorted(highest)]
    return ordinates(view, (0.0, 0.0), stations, Side.TOP, top * view.scale + gap, style)


def _overhangs(view: View, layout: Layout, taken: Register, style: Style) -> list[Dimension]:
    """How far each piece reaches over the front and back edge; equal reaches are said at the first piece only."""
    found: list[Dimension] = []
    said: set[tuple[str, float, float]] = set()
    for placed in sorted(layout.pieces, key=lambda p: p.place.x):
        box = piece_box(placed)
        for edge, end in ((0.0, box.y0), (layout.table.width, box.y1)):
            over = edge - end if edge == 0.0 else end - edge
            key = (placed.piece.name, edge, round(end, 6))
            if over < 1e-6 or key in said:
                continue
            said.add(key)
            dimension = _overhang(view, box, edge, end, taken, style)
            _take(taken, (dimension,), style)
            found.append(dimension)
    return found


def _overhang(view: View, box: Box, edge: float, end: float, taken: Register, style: Style) -> Dimension:
    """Dimension one overhang where nothing else stands: left of the piece or right of it, near or further out."""
    tries = []
    for far in range(8, 90, 3):
        for side, x in ((-1.0, box.x0), (1.0, box.x1)):
            start = x * view.scale
            at = start + side * far
            # A long text stands off the table, past the piece's end.
            tries.append(
                linear(
                    view,
                    (x, edge),
                    (x, end),
                    at,
                    style,
                    upright=True,
                    starts=_starts(edge, end, start, at),
                    overflow_up=end > edge,
                )
            )
    for clear in (style.text, 1.0):
        for dimension in tries:
            if all(taken.free(text_box(m).grown(clear)) for m in dimension.marks if isinstance(m, Text)):
                return dimension
    return tries[0]


def _starts(edge: float, end: float, start: float, at: float) -> tuple[float, float]:
    """The table's edge is its own extension line; the other starts at the piece. Lower point first."""
    return (start, at) if end < edge else (at, start)


def _table_size(view: View, layout: Layout, around: Box, marks: Sequence[Mark], style: Style) -> list[Dimension]:
    """The table's own size, in brackets, for it is not made here."""
    table = layout.table
    low = around.y0 - style.first_offset
    right = max(text_box(m).x1 for m in marks if isinstance(m, Text)) + style.first_offset
    if not style.text_above:
        right += lettering.width(f"({style.number(table.width, 2)})", style.text) / 2.0 - style.text
    return [
        linear(view, (0.0, 0.0), (table.length, 0.0), low, style, text="(<>)", places=2),
        linear(
            view, (table.length, 0.0), (table.length, table.width), right, style, text="(<>)", places=2, upright=True
        ),
    ]


def _piece_balloons(view: View, layout: Layout, items: dict[str, int], taken: Register, style: Style) -> list[Mark]:
    """One balloon for each different piece, at whichever copy there is room."""
    marks: list[Mark] = []
    for title in dict.fromkeys(placed.piece.title for placed in layout.pieces):
        boxes = [piece_box(placed) for placed in layout.pieces if placed.piece.title == title]
        tips = [
            (box.x0 + box.width * u, box.y0 + box.height * v)
            for v in (0.12, 0.3, 0.5, 0.88)
            for box in boxes
            for u in (0.75, 0.25)
        ]
        drawn = _free_balloon(view, tips, items[title], taken, style)
        taken.add(drawn)
        marks += drawn
    return marks


def _free_balloon(
    view: View, tips: Sequence[tuple[float, float]], number: int, taken: Register, style: Style
) -> tuple[Mark, ...]:
    """Return a balloon on free paper whose leader crosses no text, as near to its part as may be."""
    radius = balloon_radius(style)
    for far in (14.0, 18.0, 24.0, 30.0, 40.0):
        for tip in (view.to_paper(t) for t in tips):
            for dx, dy in BALLOON_WAYS:
                centre = (tip[0] + far * dx, tip[1] + far * dy)
                rim = (tip[0] + (far - radius) * dx, tip[1] + (far - radius) * dy)
                if taken.free(circle_box(centre, radius).grown(1.5)) and taken.passable(tip, rim):
                    return balloon(tip, centre, number, style)
    tip = view.to_paper(tips[0])
    return balloon(tip, (tip[0] + 12.0, tip[1] - 9.0), number, style)


# Section


def bolt_group(layout: Layout, joint: Joint, items: dict[str, int], scale: float, style: Style) -> ViewGroup:
    """Return the section through a slot at one bolt, larger, with balloons and the engagement of the thread."""
    drawn = bolt_section(layout, joint, scale, style)
    view = View(name="section at a bolt", origin=(0.0, 0.0), scale=scale, marks=drawn.marks)
    right = drawn.right * scale
    marks: list[Mark] = list(_stacked_balloons(view, drawn.seats, items, right, style))
    low = max(joint.tip, joint.nut_bottom)
    text = "<> ENGAGED"
    written = text.replace("<>", style.number(joint.engagement, 2))
    aside = style.first_offset if style.text_above else lettering.width(written, style.text) / 2.0 + style.text
    at = drawn.left * scale - ZIGZAG - aside
    found: list[Dimension] = []
    if joint.engagement > 0.0:
        start = (drawn.left * scale, drawn.left * scale)
        found.append(
            linear(view, (0.0, low), (0.0, joint.nut_top), at, style, text=text, upright=True, starts=start, places=2)
        )
    title_low = drawn.bottom * scale - 3.5 - style.text
    words = [f"SECTION AT SLOT {joint.slot}", "SEEN FROM THE RIGHT END"]
    middle = (drawn.left + drawn.right) / 2.0 * scale
    marks += [
        Text((middle, title_low - n * 1.7 * style.text), w, style.text, Anchor.CENTRE) for n, w in enumerate(words)
    ]
    view = replace(view, dimensions=tuple(found))
    seen = marks_box([*on_paper(view), *(m for d in found for m in d.marks)]).grown(1.0)
    view = replace(view, frame=(seen.x0, seen.y0, seen.x1, seen.y1))
    return ViewGroup(views=(view,), marks=tuple(marks), box=group_box((view,), marks))


def _stacked_balloons(
    view: View, seats: Sequence[tuple[str, tuple[float, float]]], items: dict[str, int], right: float, style: Style
) -> Iterable[Mark]:
    """One balloon for each item, in a column on the right, in the order of height, so that no leaders cross."""
    known = sorted(((view.to_paper(at), items[title]) for title, at in seats if title in items), key=lambda s: s[0][1])
    pitch = 2.0 * balloon_radius(style) + 2.5
    heights = spread([tip[1] for tip, _ in known], pitch)
    for (tip, number), y in zip(known, heights, strict=True):
        yield from balloon(tip, (right + 10.0 + balloon_radius(style), y), number, style)
