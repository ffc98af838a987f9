"""Dimensions of a piece's plan and elevation: outer sizes, and ordinates that locate the holes."""

from __future__ import annotations

from slotwright.drawings.middles import pairs
from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.dimensioning import BOX_PAD, Side, Station, linear, ordinates
from slotwright.drawings.paper.sheet import Dimension, View
from slotwright.drawings.paper.style import Style
from slotwright.drawings.piece.breaks import widest_middle
from slotwright.drawings.piece.piece_setting import OUTER_PLACES, TRACE_OUT, Setting
from slotwright.drawings.pitches import SAME
from slotwright.drawings.views import mark_overrun, reach
from slotwright.pieces.features import Hole


def plan_dimensions(view: View, setting: Setting) -> tuple[Dimension, ...]:
    """Return what locates the holes where the plan does, and the width."""
    blank, style = setting.piece.blank, setting.style
    found: list[Dimension] = []
    if setting.located and setting.piece.holes:
        outer = Side.TOP if setting.third else Side.BOTTOM
        edge = blank.width * setting.scale if setting.third else 0.0
        rows = _row_dimensions(view, setting, outer, edge)
        found += rows
        beyond = edge + outer.sign * max(row_room(style) if rows else 0.0, _circles_out(setting))
        if not setting.middles.along:
            found += ordinates(view, (0.0, 0.0), _stations(view, setting, outer), outer, beyond, style)
        if setting.middles.across:
            found += _across(view, setting)
        else:
            found += ordinates(view, (0.0, 0.0), _stations(view, setting, Side.LEFT), Side.LEFT, 0.0, style)
    hung = setting.middles.across and setting.has_datums  # datum B hangs on its lower end
    start = setting.right + (2.0 * TRACE_OUT - style.extension_gap if setting.traced else 0.0)
    a, b = (blank.length, 0.0), (blank.length, blank.width)
    found.append(
        linear(
            view,
            a,
            b,
            setting.across_line,
            style,
            upright=True,
            places=OUTER_PLACES,
            starts=(start, start),
            overflow_up=setting.third or hung,
            roomy=hung,
        )
    )
    return tuple(found)


def _across(view: View, setting: Setting) -> list[Dimension]:
    """Return how far holes on both sides of the middle line are from each other; the nearest pairs first."""
    style, half = setting.style, setting.piece.blank.width / 2.0
    apart = pairs(setting.piece)
    wide = (
        0.0
        if style.text_above
        else max((lettering.width(style.figure(2.0 * far), style.text) for far in apart), default=0.0)
    )
    at = 0.0
    found: list[Dimension] = []
    for far, holes in apart.items():
        first = holes[0]
        exact = all(hole.position_tolerance is not None for hole in holes)
        step = style.next_offset if found else max(style.first_offset, style.centre_overrun + style.text)
        at -= step + (BOX_PAD * style.text * 2.0 if exact else 0.0) + (wide if found else wide / 2.0)
        start = view.to_paper((first.x - reach(first)[0], 0.0))[0] - mark_overrun(style)
        a, b = (first.x, half - far), (first.x, half + far)
        found.append(
            linear(view, a, b, at, style, upright=True, starts=(start, start), overflow_up=setting.third, exact=exact)
        )
    return found


def _circles_out(setting: Setting) -> float:
    """Return how far circles of details reach out of the plan on the ordinates' side, with clear paper, mm."""
    wide = setting.piece.blank.width
    out = [y + d.radius - wide if setting.third else d.radius - y for d in setting.details for _, y in (d.centre,)]
    far = max(out, default=0.0) * setting.scale
    return far + setting.style.text if far > 0.0 else 0.0


def row_room(style: Style) -> float:
    """Return how far from the outline the ordinates begin to spread where dimensions of rows stand below them, mm."""
    above = style.text_gap + style.text if style.text_above else style.text / 2.0
    return style.first_offset + above + style.text


def _row_dimensions(view: View, setting: Setting, side: Side, edge: float) -> list[Dimension]:
    """Return one dimension for each row of equal holes; the first hole's ordinate is its first extension line."""
    style = setting.style
    above = style.text_gap + style.text if style.text_above and side.sign < 0.0 else 0.0
    at = edge + side.sign * (style.first_offset + above)
    clear = mark_overrun(style)
    found = []
    for row in setting.rows:
        hole = next(h for h in setting.piece.holes if abs(h.x - row.last) < SAME and abs(h.y - row.y) < SAME)
        start = view.to_paper((row.last, row.y))[1] + side.sign * (reach(hole)[1] * view.scale + clear)
        a, b = (row.first, row.y), (row.last, row.y)
        found.append(linear(view, a, b, at, style, text=row.text, starts=(at, start)))
    return found


def _stations(view: View, setting: Setting, side: Side) -> list[Station]:
    """Return zero and each different x (or y) with the hole nearest to the side."""
    piece, style = setting.piece, setting.style
    axis = 0 if side.upright else 1
    nearest: dict[float, Hole] = {}
    for hole in piece.holes:
        key = round((hole.x, hole.y)[axis], 6)
        if key not in nearest or _out(hole, side) > _out(nearest[key], side):
            nearest[key] = hole
    corner = (0.0, piece.blank.width) if side is Side.TOP else (0.0, 0.0)
    edge = view.to_paper(corner)[1 - axis] + side.sign * style.extension_gap
    stations = [Station(corner, edge)]
    for key in sorted(nearest):
        hole = nearest[key]
        if abs(key) < 1e-9 or (side.upright and any(row.inside(key) for row in setting.rows)):
            continue
        out = view.to_paper((hole.x, hole.y))[1 - axis]
        clear = reach(hole)[1 - axis] * view.scale + mark_overrun(style) + style.extension_gap
        here = [one for one in piece.holes if round((one.x, one.y)[axis], 6) == key]
        exact = all(one.position_tolerance is not None for one in here)
        stations.append(Station((hole.x, hole.y), out + side.sign * clear, exact))
    return stations


def _out(hole: Hole, side: Side) -> float:
    return side.sign * (hole.y if side.upright else hole.x)


def side_dimensions(view: View, setting: Setting) -> tuple[Dimension, ...]:
    """Return length and thickness."""
    blank, style = setting.piece.blank, setting.style
    low, high = view.origin[1], view.origin[1] + blank.thickness * setting.scale
    far = length_offset(setting)
    at = low - far if setting.third else high + far
    z = 0.0 if setting.third else blank.thickness
    return (
        linear(  # a figure too long for the bar goes to the left: the thickness stands on the right
            view, (0.0, z), (blank.length, z), at, style, places=OUTER_PLACES, text_along=_length_text(setting),
            overflow_up=False,
        ),
        linear(
            view, (blank.length, 0.0), (blank.length, blank.thickness), setting.width_line, style, upright=True,
            places=OUTER_PLACES, overflow_up=not setting.third,
        ),
    )  # fmt: skip


def _length_text(setting: Setting) -> float | None:
    """Say where along a broken bar the figure of its length stands: on metal that is shown."""
    return widest_middle(setting.right, setting.removed) if setting.removed else None


def length_offset(setting: Setting) -> float:
    """Return the distance of the length's dimension line: beyond datum A where that hangs on the same side."""
    style = setting.style
    if setting.third and setting.has_datums:
        return 5.0 * style.text + 1.5 + (style.text if style.text_above else style.text / 2.0)
    between = style.text + style.text_gap if style.text_above and setting.third else style.text / 2.0
    return max(style.first_offset, style.centre_overrun + style.text + between + 0.5)
