"""The views of a piece with their dimensions, tags and datums, laid out round each other on paper.

The group of views is built with the plan's datum corner at paper (0, 0); whoever finds room for it moves it there.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from slotwright.drawings.callouts import times
from slotwright.drawings.dimensioning import Side, Station, arrow, datum, leader, line, linear, ordinates
from slotwright.drawings.hole_tags import place_tags
from slotwright.drawings.placing import Box, Register, marks_box, moved, text_box, union
from slotwright.drawings.sections import Cut, cut_for, section
from slotwright.drawings.sheet import Anchor, Circle, Dimension, Line, Mark, Point, Stroke, Text, View, on_paper
from slotwright.drawings.sheet_data import Projection
from slotwright.drawings.style import Style
from slotwright.drawings.views import elevation, mark_overrun, plan, reach
from slotwright.pieces.features import Hole
from slotwright.pieces.hole_groups import tagged_holes
from slotwright.pieces.piece import Piece

SECTION_LETTER = 5.0  # height of section letters and titles, mm; our choice
MOST_ORDINATES = 24  # above it, holes are located by the table alone; our choice


@dataclass(frozen=True, slots=True)
class ViewGroup:
    """Views that are aligned with each other, and what stands among them.

    Attributes:
        views: plan first.
        marks: tags, datums, leaders and view titles, paper coordinates.
        box: around all of it.
        located: ordinates locate the holes; else the table must.
        complete: every tag found a free place.
    """

    views: tuple[View, ...]
    marks: tuple[Mark, ...]
    box: Box
    located: bool
    complete: bool

    def moved(self, dx: float, dy: float) -> ViewGroup:
        """Return the group shifted on the paper."""
        return ViewGroup(
            tuple(_moved_view(view, dx, dy) for view in self.views),
            tuple(moved(mark, dx, dy) for mark in self.marks),
            self.box.moved(dx, dy),
            self.located,
            self.complete,
        )


def _moved_view(view: View, dx: float, dy: float) -> View:
    origin = (view.origin[0] + dx, view.origin[1] + dy)
    shifted = tuple(replace(d, marks=tuple(moved(m, dx, dy) for m in d.marks)) for d in view.dimensions)
    return View(
        name=view.name, origin=origin, scale=view.scale, marks=view.marks, dimensions=shifted, frame=_moved_frame(view.frame, dx, dy)
    )


def _moved_frame(
    window: tuple[float, float, float, float] | None, dx: float, dy: float
) -> tuple[float, float, float, float] | None:
    if window is None:
        return None
    return window[0] + dx, window[1] + dy, window[2] + dx, window[3] + dy


def piece_views(piece: Piece, scale: float, projection: Projection, style: Style) -> ViewGroup:
    """Return plan and front elevation (or section) of a piece at a scale."""
    located = can_be_located(piece, scale, style)
    cut = cut_for(piece)
    if cut is not None and not cut.plain and located:
        cut = None  # the ends of a bent plane would run into the ordinates
    top = _plan_view(piece, scale, style)
    side = _side_view(piece, cut, scale, projection, style)
    top = replace(top, dimensions=_plan_dimensions(top, piece, located, projection, style))
    side = replace(side, dimensions=_side_dimensions(side, piece, projection, style))
    marks = [*_datums(top, side, piece, style), *_edge_note(side, piece, projection, style)]
    marks += _section_marks(top, side, cut, projection, style)
    if not located and piece.holes:
        marks += _origin_symbol(top, style)
    tags, complete = _tags(top, side, marks, piece, style)
    marks += tags
    drawn = [*on_paper(top), *on_paper(side), *(m for v in (top, side) for d in v.dimensions for m in d.marks), *marks]
    return ViewGroup((top, side), tuple(marks), marks_box(drawn), located, complete)


def estimate(piece: Piece, scale: float, style: Style) -> tuple[float, float]:
    """Return the least width and height the group can have on paper."""
    blank = piece.blank
    return blank.length * scale + 2.0 * style.first_offset, (blank.width + blank.thickness) * scale + 50.0


# Views


def _plan_view(piece: Piece, scale: float, style: Style) -> View:
    return View(name="plan", origin=(0.0, 0.0), scale=scale, marks=plan(piece, scale, style))


def _side_view(piece: Piece, cut: Cut | None, scale: float, projection: Projection, style: Style) -> View:
    """Third angle: the view from the front stands below the plan; first angle: above it."""
    gap = _gap(piece, projection, style)
    drop = -gap - piece.blank.thickness * scale
    rise = piece.blank.width * scale + gap
    name = "front elevation" if cut is None else "section A-A"
    marks = elevation(piece, scale, style) if cut is None else section(piece, cut, scale, style)
    return View(name=name, origin=(0.0, drop if projection == "third" else rise), scale=scale, marks=marks)


def _gap(piece: Piece, projection: Projection, style: Style) -> float:
    """Room between plan and elevation: for axes, the note on the edges, and in first angle datum A."""
    gap = 4.0 * style.centre_overrun
    if piece.blank.edge_chamfer:
        gap = max(gap, 15.0)
    if projection == "first" and has_datums(piece):
        gap = max(gap, 4.0 * style.text + style.centre_overrun + 2.0)
    return gap


def has_datums(piece: Piece) -> bool:
    """Say whether a position tolerance refers to datums."""
    return any(hole.position_tolerance is not None for hole in piece.holes)


# Which way holes are located


def can_be_located(piece: Piece, scale: float, style: Style) -> bool:
    """Say whether ordinates can locate every hole without one leader running across another hole."""
    columns = {round(hole.x, 6) for hole in piece.holes}
    rows = {round(hole.y, 6) for hole in piece.holes}
    if max(len(columns), len(rows)) > MOST_ORDINATES:
        return False
    pitch = 2.0 * style.text
    if (len(columns) + 1) * pitch > piece.blank.length * scale + 8.0 * pitch:
        return False
    if (len(rows) + 1) * pitch > piece.blank.width * scale + 6.0 * pitch:
        return False
    return not any(_hides(a, b) for a in piece.holes for b in piece.holes if a is not b)


def _hides(a: Hole, b: Hole) -> bool:
    """Say whether a hole stands across the leaders of another (above it, or to its left)."""
    above = a.y > b.y and 1e-6 < abs(a.x - b.x) < reach(a)[0]
    below = a.y < b.y and 1e-6 < abs(a.x - b.x) < reach(a)[0]
    beside = a.x < b.x and 1e-6 < abs(a.y - b.y) < reach(a)[1]
    return above or below or beside


# Dimensions


def _plan_dimensions(
    view: View, piece: Piece, located: bool, projection: Projection, style: Style
) -> tuple[Dimension, ...]:
    blank, scale = piece.blank, view.scale
    found: list[Dimension] = []
    if located and piece.holes:
        outer = Side.TOP if projection == "third" else Side.BOTTOM
        edge = blank.width * scale if outer is Side.TOP else 0.0
        found += ordinates(view, (0.0, 0.0), _stations(view, piece, outer, style), outer, edge, style)
        found += ordinates(view, (0.0, 0.0), _stations(view, piece, Side.LEFT, style), Side.LEFT, 0.0, style)
    right = blank.length * scale
    at = right + style.first_offset
    found.append(linear(view, (blank.length, 0.0), (blank.length, blank.width), at, style, upright=True, places=blank_places(style)))
    return tuple(found)


def blank_places(style: Style) -> int:
    """Return the decimals of outer sizes and depths: one fewer than of hole positions on inch drawings."""
    return 2


def _stations(view: View, piece: Piece, side: Side, style: Style) -> list[Station]:
    """Return zero and each different x (or y) with the hole nearest to the side."""
    axis = 0 if side.upright else 1
    edge = 0.0
    nearest: dict[float, Hole] = {}
    for hole in piece.holes:
        key = round((hole.x, hole.y)[axis], 6)
        across = (hole.x, hole.y)[1 - axis] * side.sign
        if key not in nearest or across > (nearest[key].x, nearest[key].y)[1 - axis] * side.sign:
            nearest[key] = hole
    corner = (0.0, piece.blank.width) if side is Side.TOP else (0.0, 0.0)
    edge = view.to_paper(corner)[1 - axis] + side.sign * style.extension_gap
    stations = [Station((0.0, 0.0) if axis else corner, edge)]
    for key in sorted(nearest):
        hole = nearest[key]
        if abs(key) < 1e-9:
            continue
        out = view.to_paper((hole.x, hole.y))[1 - axis]
        start = out + side.sign * (reach(hole)[1 - axis] * view.scale + mark_overrun(style) + style.extension_gap)
        stations.append(Station((hole.x, hole.y), start))
    return stations


def _side_dimensions(view: View, piece: Piece, projection: Projection, style: Style) -> tuple[Dimension, ...]:
    blank, scale = piece.blank, view.scale
    low, high = view.origin[1], view.origin[1] + blank.thickness * scale
    far = _length_offset(piece, projection, style)
    at = low - far if projection == "third" else high + far
    z = 0.0 if projection == "third" else blank.thickness
    places = blank_places(style)
    right = blank.length * scale + style.first_offset
    return (
        linear(view, (0.0, z), (blank.length, z), at, style, places=places),
        linear(view, (blank.length, 0.0), (blank.length, blank.thickness), right, style, upright=True, places=places),
    )


def _length_offset(piece: Piece, projection: Projection, style: Style) -> float:
    """Distance of the length's dimension line: beyond datum A where that hangs on the same side."""
    if projection == "third" and has_datums(piece):
        return 4.0 * style.text + 4.0 + (style.text if style.text_above else style.text / 2.0)
    return max(style.first_offset, style.centre_overrun + 5.0)


# What stands among the views


def _datums(top: View, side: View, piece: Piece, style: Style) -> list[Mark]:
    """Bottom face A, front edge B, left end C."""
    if not has_datums(piece):
        return []
    blank, scale = piece.blank, top.scale
    right = blank.length * scale
    far = right + style.first_offset + style.extension_overrun + 2.0 * style.text
    marks = list(datum((_clear_x(piece, scale, style), side.origin[1]), Side.BOTTOM, "A", style))
    marks.append(line((right + style.first_offset + style.extension_overrun, 0.0), (far + style.text, 0.0)))
    marks += datum((far, 0.0), Side.BOTTOM, "B", style)
    marks += datum((0.0, side.origin[1] + blank.thickness * scale / 2.0), Side.LEFT, "C", style)
    return marks


def _clear_x(piece: Piece, scale: float, style: Style) -> float:
    """Return a place along the bottom face, toward the right end, that no axis runs through."""
    right = piece.blank.length * scale
    need = style.text + 2.0
    axes = sorted({hole.x * scale for hole in piece.holes})
    x = right - max(need, piece.blank.edge_chamfer * scale + style.text)
    while x > need and any(abs(x - a) < need for a in axes):
        x -= 1.0
    return x if x > need else right / 2.0


def _edge_note(side: View, piece: Piece, projection: Projection, style: Style) -> tuple[Mark, ...]:
    """Call out the chamfer at the left corner that looks at the plan."""
    c, scale = piece.blank.edge_chamfer, side.scale
    if not c:
        return ()
    up = 1.0 if projection == "third" else -1.0
    corner = side.origin[1] + (piece.blank.thickness * scale if up > 0 else 0.0)
    tip = (side.origin[0] + c * scale / 2.0, corner - up * c * scale / 2.0)
    elbow = (tip[0] + 5.0, corner + up * 9.0)
    note = f"{style.number(c)} {times(style)} 45° ALL EDGES OF TOP AND BOTTOM"
    return leader(tip, elbow, (note,), style)


def _section_marks(top: View, side: View, cut: Cut | None, projection: Projection, style: Style) -> list[Mark]:
    """Title of a section, and for a plane with bends its trace on the plan with arrows and letters."""
    if cut is None:
        return []
    title = "SECTION THROUGH HOLE CENTRES" if cut.plain else "A-A" if style.name == "iso" else "SECTION A-A"
    lows = [text_box(m).y0 for d in side.dimensions for m in d.marks if isinstance(m, Text)]
    highs = [text_box(m).y1 for d in side.dimensions for m in d.marks if isinstance(m, Text)]
    lines = [p[1] for d in side.dimensions for m in d.marks if isinstance(m, Stroke) for p in m.points]
    middle = side.to_paper((sum((cut.path[0][0], cut.path[-1][0])) / 2.0, 0.0))[0]
    size = style.text if cut.plain else SECTION_LETTER
    y = min([*lows, *lines]) - 3.5 - 1.2 * size if projection == "third" else max([*highs, *lines]) + 4.0
    marks: list[Mark] = [Text((middle, y), title, size, Anchor.CENTRE)]
    return marks if cut.plain else marks + _trace_marks(top, cut, style)


def _trace_marks(top: View, cut: Cut, style: Style) -> list[Mark]:
    points = [top.to_paper(p) for p in cut.path]
    stub, long, reach_down = 4.0, 7.0, 9.0
    first, last = (points[0][0] - 16.0, points[0][1]), (points[-1][0] + 9.0, points[-1][1])
    marks: list[Mark] = []
    for end, inward in ((first, 1.0), (last, -1.0)):
        marks.append(Stroke((end, (end[0] + inward * long, end[1])), Line.SECTION))
        foot = (end[0], end[1] - reach_down)
        marks.append(line(foot, (end[0], end[1] - style.arrow)))
        marks.append(arrow(end, 1.5707963267948966, style))
        marks.append(Text((end[0], foot[1] - 1.5 - SECTION_LETTER), "A", SECTION_LETTER, Anchor.CENTRE))
    for before, at, after in zip(points, points[1:], points[2:], strict=False):
        marks.append(Stroke((_toward(at, before, stub), at, _toward(at, after, stub)), Line.SECTION))
    return marks


def _toward(a: Point, b: Point, by: float) -> Point:
    long = abs(b[0] - a[0]) + abs(b[1] - a[1])
    share = min(0.45, by / long) if long else 0.0
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


def _origin_symbol(top: View, style: Style) -> list[Mark]:
    """Mark the datum corner and the ways X and Y are counted."""
    x, y = top.to_paper((0.0, 0.0))
    off, long = 4.0, 14.0
    start = (x - off, y - off)
    marks: list[Mark] = [Circle((x, y), 1.2, Line.DIMENSION)]
    for dx, dy, name in ((1.0, 0.0, "X"), (0.0, 1.0, "Y")):
        tip = (start[0] + dx * long, start[1] + dy * long)
        marks.append(line(start, (tip[0] - dx * style.arrow, tip[1] - dy * style.arrow)))
        marks.append(arrow(tip, 0.0 if dx else 1.5707963267948966, style))
        at = (tip[0] + dx * 2.5, tip[1] + dy * (2.0 + style.text / 2.0))
        marks.append(Text(at, name, style.text, Anchor.CENTRE, 0.0, True))
    marks.append(Text((start[0] - 1.5, start[1] - style.text - 1.0), "0", style.text, Anchor.CENTRE))
    return marks


def _tags(
    top: View, side: View, marks: Sequence[Mark], piece: Piece, style: Style
) -> tuple[tuple[Mark, ...], bool]:
    taken = Register()
    taken.add(on_paper(top))
    taken.add(marks)
    for dimension in (*top.dimensions, *side.dimensions):
        taken.add(dimension.marks)
    taken.add_box(union([marks_box(on_paper(side))]))
    return place_tags(top, tagged_holes(piece), taken, style)
