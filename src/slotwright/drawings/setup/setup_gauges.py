"""The lengths a machinist sets the pieces by, drawn between their two ends on an enlarged part of the table plan.

Each has a letter and its number; the notes say what it is between.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from slotwright.drawings.paper.formats import scale_text
from slotwright.drawings.paper.placing import Box, Register, mark_box, points_box, union
from slotwright.drawings.paper.sheet import Anchor, Text, View, on_paper
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.view_group import ViewGroup
from slotwright.drawings.setup.gauge_dimensions import gauge_dimensions, gauge_name
from slotwright.drawings.setup.setup_plan import piece_box, plan_marks, rings
from slotwright.fixtures.layout import Layout

AROUND = 5.0  # paper shown round what the detail is about, mm; our choice
LINE = 2.0  # from one slot's number to the next at least, in heights of capitals; our choice
NEAR = 20.0  # what lies this near to a gauge is shown whole, mm; our choice


def gauge_notes(layout: Layout) -> list[str]:
    """Say what each gauge length is between, or what is flush where there is no length."""
    return [
        f"SET FLUSH: {gauge.name}." if gauge.flush else f"SET BY {gauge_name(n)}: {gauge.name}."
        for n, gauge in enumerate(layout.gauges, 1)
    ]


def gauge_group(layout: Layout, scale: float, style: Style, *, whole: bool = False) -> ViewGroup | None:
    """Return an enlarged part of the table plan with the gauge lengths, titled, its slots numbered.

    Whole wants all lengths free of all else, and gets None where that can't be.
    """
    view = View(name="detail for setting", origin=(0.0, 0.0), scale=scale, marks=plan_marks(layout, scale, style))
    region = _region(layout)
    shown = Box(*view.to_paper((region.x0, region.y0)), *view.to_paper((region.x1, region.y1))).grown(AROUND)
    taken = Register()
    taken.add(on_paper(view))
    marks: list[Text] = []
    for number, y in enumerate(layout.table.slot_centres, start=1):
        if shown.y0 < y * scale < shown.y1:
            marks.append(Text((shown.x1 + style.text_gap, y * scale), f"SLOT {number}", style.text, middle=True))
    if whole and any(one.at[1] + LINE * style.text > other.at[1] for one, other in pairwise(marks)):
        return None
    found = gauge_dimensions(view, layout, taken, style, whole=whole)
    if found is None:
        return None
    seen = union([shown, *(mark_box(mark) for one in found for mark in one.marks)]).grown(1.0)
    right = seen.x1 - shown.x1
    marks = [replace(mark, at=(mark.at[0] + right, mark.at[1])) for mark in marks]
    title = f"DETAIL FOR SETTING, {scale_text(scale)}"
    middle = ((seen.x0 + seen.x1) / 2.0, seen.y0 - 2.2 * style.text)
    marks.append(Text(middle, title, style.text, Anchor.CENTRE))
    view = replace(view, dimensions=tuple(found), frame=(seen.x0, seen.y0, seen.x1, seen.y1))
    return ViewGroup(views=(view,), marks=tuple(marks), box=union([seen, *map(mark_box, marks)]))


def _region(layout: Layout) -> Box:
    """The part of the table that the detail shows: the gauges, the work, and what lies there."""
    ends = points_box([end for gauge in layout.gauges for end in (gauge.start, gauge.end)])
    boxes = [ends, *(Box(*outline.bounds) for outline in layout.work_outlines), *map(piece_box, layout.pieces)]
    boxes += [points_box(ring) for item in layout.hardware for ring in rings(item)]
    return union([ends, *(box for box in boxes if box.meets(ends.grown(NEAR)))])
