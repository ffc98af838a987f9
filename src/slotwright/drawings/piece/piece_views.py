"""The views of a piece with their dimensions, tags and datums, laid out round each other on paper.

The group of views is built with the plan's datum corner at paper (0, 0); whoever finds room for it moves it there.
"""

from __future__ import annotations

from dataclasses import replace

from slotwright.drawings.details import LEAST, Detail, circles_on_view, detail_group
from slotwright.drawings.hole_tags import CLEAR, place_tags
from slotwright.drawings.middles import middle_lines
from slotwright.drawings.paper.origin_signs import origin_symbol
from slotwright.drawings.paper.placing import Box, Register, marks_box
from slotwright.drawings.paper.sheet import Mark, View
from slotwright.drawings.paper.sheet_data import Projection
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.view_group import ViewGroup, drawn
from slotwright.drawings.piece.breaks import folded
from slotwright.drawings.piece.folding import fold
from slotwright.drawings.piece.piece_dimensions import plan_dimensions, side_dimensions
from slotwright.drawings.piece.piece_setting import Setting, setting
from slotwright.drawings.piece.piece_signs import datums, edge_note, middle_origin, section_marks
from slotwright.drawings.piece.sections import section
from slotwright.drawings.piece.small_holes import details_of, untagged
from slotwright.drawings.shapes.group import shaped_views
from slotwright.drawings.shapes.views_needed import is_shaped, least_size
from slotwright.drawings.views import elevation, plan
from slotwright.pieces.piece import Piece

SHUT = 2.5  # clear paper beside a break line, mm; our choice


def piece_views(
    piece: Piece, scale: float, projection: Projection, style: Style, *, breaks: int = 0, enlarged: float = 0.0
) -> ViewGroup | None:
    """Return plan and front elevation (or section) of a piece at a scale; None where it can't be as asked for.

    Args:
        piece: what is drawn.
        scale: paper over model.
        projection: first or third angle.
        style: ISO or ASME.
        breaks: how many times the views are broken; a shaped piece's are never.
        enlarged: diameter of the largest hole of a bar that has its tag in a detail, mm on paper; 0 for no details at
            all. A shaped piece has what details it needs, and all its tags in its views.
    """
    if is_shaped(piece):
        return None if breaks else shaped_views(piece, scale, projection, style)
    details = details_of(piece, scale, style, enlarged) if enlarged else ()
    if details is None:
        return None
    chosen = setting(piece, scale, projection, style, breaks=breaks, details=details)
    if len(chosen.removed) < breaks:
        return None
    top, side = _plan(chosen), _side(chosen)
    marks: list[Mark] = [*datums(side, chosen), *section_marks(top, side, chosen)]
    if not chosen.located:
        marks += middle_origin(chosen) if chosen.middles.across else origin_symbol(style)
    taken = Register()
    shown = drawn((top, side), marks)
    taken.add(shown)
    for view in (top, side):
        for dimension in view.dimensions:
            taken.keep_clear(dimension.marks, style.text - CLEAR)
    _shut(chosen, taken)
    circles, lettered = circles_on_view(top, details, taken)
    marks += circles
    note = edge_note(side, chosen, taken)
    taken.keep_clear(note, style.text - CLEAR)
    taken.add(note)
    over = style.centre_overrun
    taken.add_box(Box(0.0, side.origin[1] - over, chosen.right, side.origin[1] + piece.blank.thickness * scale + over))
    tags, tagged = place_tags(top, untagged(piece, details), taken, style)
    marks += [*note, *tags]
    larger = tuple(_larger(piece, detail, style) for detail in details)
    tagged = tagged and all(one.tagged for one in larger)
    group = ViewGroup(
        views=(top, side),
        marks=tuple(marks),
        box=marks_box([*shown, *circles, *note, *tags]),
        located=chosen.located,
        edges_noted=bool(note) or not piece.blank.edge_chamfer,
        complete=tagged and lettered,
        tagged=tagged,
        enlarged=bool(enlarged) or all(hole.diameter * scale >= LEAST for hole in piece.holes),
        details=larger,
    )
    return fold(group, chosen.removed, [_span(view, chosen) for view in (top, side)])


def _larger(piece: Piece, detail: Detail, style: Style) -> ViewGroup:
    return detail_group(detail, plan(piece, detail.scale, style), style)


def _span(view: View, chosen: Setting) -> tuple[float, float]:
    """From which height of the paper to which a view's outline reaches."""
    blank = chosen.piece.blank
    return view.origin[1], view.origin[1] + (blank.width if view.name == "plan" else blank.thickness) * chosen.scale


def _shut(chosen: Setting, taken: Register) -> None:
    """Keep what is left out of a broken bar free of all that is placed later."""
    blank = chosen.piece.blank
    high = 2.0 * (blank.width + blank.thickness) * chosen.scale + 100.0
    for low, top in chosen.removed:
        taken.add_box(Box(low - SHUT, -high, top + SHUT, high))


def _plan(chosen: Setting) -> View:
    piece, scale, style, middles = chosen.piece, chosen.scale, chosen.style, chosen.middles
    level = piece.blank.width / 2.0 if middles.across else None
    upright = piece.blank.length / 2.0 if middles.along else None
    marks = (*plan(piece, scale, style, level=level, upright=upright), *middle_lines(piece, middles, scale, style))
    view = View(name="plan", origin=(0.0, 0.0), scale=scale, marks=marks)
    return replace(view, dimensions=plan_dimensions(view, chosen))


def _side(chosen: Setting) -> View:
    piece, scale, style = chosen.piece, chosen.scale, chosen.style
    name = "front elevation" if chosen.cut is None else "section A-A"
    marks = elevation(piece, scale, style) if chosen.cut is None else section(piece, chosen.cut, scale, style)
    view = View(name=name, origin=(0.0, chosen.side_origin), scale=scale, marks=marks)
    return replace(view, dimensions=side_dimensions(view, chosen))


def estimate(
    piece: Piece, scale: float, projection: Projection, style: Style, *, breaks: int = 0
) -> tuple[float, float]:
    """Return the least width and height the group can have on paper."""
    if is_shaped(piece):
        return least_size(piece, scale)
    blank = piece.blank
    long = blank.length * scale
    if breaks:
        long = folded(long, setting(piece, scale, projection, style, breaks=breaks).removed)
    return long + 2.0 * style.first_offset, (blank.width + blank.thickness) * scale + 50.0
