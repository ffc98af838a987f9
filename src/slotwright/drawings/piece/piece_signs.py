"""What stands among the views of a piece: datum symbols, the section plane, the origin, the note on its edges."""

from __future__ import annotations

from collections.abc import Iterable

from slotwright.drawings.callouts import times
from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.dimensioning import UP, Side, arrow, line
from slotwright.drawings.paper.origin_signs import AXIS, origin
from slotwright.drawings.paper.placing import Register, mark_box, text_box
from slotwright.drawings.paper.sheet import Anchor, Line, Mark, Point, Stroke, Text, View
from slotwright.drawings.paper.sheet_data import spelled
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.symbols import SECTION_LETTER, datum, leader
from slotwright.drawings.piece.breaks import folded_middle, within
from slotwright.drawings.piece.piece_setting import TRACE_OUT, Setting
from slotwright.drawings.piece.sections import Cut
from slotwright.pieces.piece import Piece

TRACE_LEFT = 16.0  # the left end of the plane's trace stands beyond the origin symbol, mm; our choice
ARROW_TAIL = 9.0  # length of the arrow at the end of a section plane, mm; our choice
EDGES = "ALL EDGES OF TOP AND BOTTOM"


def datums(side: View, setting: Setting) -> list[Mark]:
    """Return the symbols of bottom face A, front edge B, left end C, where a tolerance refers to them.

    Where places count from the middle of the width, B is its centre plane: its symbol goes on with the dimension line
    (ISO 5459, ASME Y14.5).
    """
    if not setting.has_datums:
        return []
    style = setting.style
    beyond = setting.width_line + style.extension_overrun
    far = beyond + 2.0 * style.text
    foot = side.origin[1]
    middle = foot + setting.piece.blank.thickness * setting.scale / 2.0
    second = [line((beyond, 0.0), (far + style.text, 0.0)), *datum((far, 0.0), Side.BOTTOM, "B", style)]
    if setting.middles.across:
        second = list(datum((setting.across_line, 0.0), Side.BOTTOM, "B", style))
    return [
        *datum((_clear_x(setting), foot), Side.BOTTOM, "A", style),
        *second,
        *datum((0.0, middle), Side.LEFT, "C", style),
    ]


def _clear_x(setting: Setting) -> float:
    """Return a place along the bottom face, toward the right end, that no axis runs through."""
    piece, scale, style = setting.piece, setting.scale, setting.style
    right = piece.blank.length * scale
    need = style.text + 2.0
    axes = {round(hole.x * scale, 3) for hole in piece.holes}
    x = right - max(need, piece.blank.edge_chamfer * scale + style.text)
    shut = tuple((low - need, high + need) for low, high in setting.removed)
    while x > need and (any(abs(x - a) < need for a in axes) or within(shut, x)):
        x -= 1.0
    return x if x > need else right / 2.0


# Sections


def section_marks(top: View, side: View, setting: Setting) -> list[Mark]:
    """Return the title of a section, and for a plane that must be shown its trace with arrows and letters."""
    cut = setting.cut
    if cut is None:
        return []
    plain = spelled("SECTION THROUGH HOLE CENTRES", setting.style)
    title = plain if cut.plain else "A-A" if setting.style.name == "iso" else "SECTION A-A"
    size = setting.style.text if cut.plain else SECTION_LETTER
    middle = folded_middle(setting.right, setting.removed)
    aside = lettering.width(title, size) / 2.0 + setting.style.text
    boxes = [mark_box(mark) for dimension in side.dimensions for mark in dimension.marks]
    boxes = [box for box in boxes if box.x0 < middle + aside and box.x1 > middle - aside]
    y = min(b.y0 for b in boxes) - 3.0 - 1.2 * size if setting.third else max(b.y1 for b in boxes) + 3.5
    marks: list[Mark] = [Text((middle, y), title, size, Anchor.CENTRE)]
    return marks if cut.plain else marks + _trace(top, cut, setting.style)


def _trace(top: View, cut: Cut, style: Style) -> list[Mark]:
    """Wide strokes at the ends and bends of the plane; arrows in the way one looks, from front to back."""
    points = [top.to_paper(p) for p in cut.path]
    first, last = (points[0][0] - TRACE_LEFT, points[0][1]), (points[-1][0] + TRACE_OUT, points[-1][1])
    stub = 4.0
    marks: list[Mark] = []
    for end, inner in ((first, first[0] + 7.0), (last, points[-1][0] - stub)):
        foot = (end[0], end[1] - ARROW_TAIL)
        marks.append(Stroke((end, (inner, end[1])), Line.SECTION))
        marks.append(line(foot, (end[0], end[1] - 1.0)))
        marks.append(arrow(end, UP, style))
        marks.append(Text((end[0], foot[1] - 1.5 - SECTION_LETTER), "A", SECTION_LETTER, Anchor.CENTRE))
    for before, at, after in zip(points, points[1:], points[2:], strict=False):
        marks.append(Stroke((_toward(at, before, stub), at, _toward(at, after, stub)), Line.SECTION))
    return marks


def _toward(a: Point, b: Point, by: float) -> Point:
    long = abs(b[0] - a[0]) + abs(b[1] - a[1])
    share = min(0.45, by / long) if long else 0.0
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


# Origin and edges


def middle_origin(setting: Setting) -> list[Mark]:
    """Mark the left end of a bar's centre line, from which X and Y are counted; the arrows stand beside the line."""
    style = setting.style
    middle = setting.piece.blank.width * setting.scale / 2.0
    left = -style.centre_overrun - 2.0 - AXIS - (TRACE_LEFT + 2.0 if setting.traced else 0.0)
    above = 1.5 + style.text / 2.0
    letters = ((left + AXIS - style.arrow, middle + above), (left, middle + AXIS + above))
    return origin((0.0, middle), (left, middle), AXIS, letters, style)


def edge_text(piece: Piece, style: Style) -> str:
    """Return the chamfer's size."""
    return f"{style.figure(piece.blank.edge_chamfer)} {times(style)} 45°"


def edge_note(side: View, setting: Setting, taken: Register) -> tuple[Mark, ...]:
    """Call out the chamfer at a corner of the elevation, where there is room; nothing where there is none."""
    if not setting.piece.blank.edge_chamfer:
        return ()
    for clear in (setting.style.text, 1.0):
        for marks in _edge_tries(side, setting):
            texts = [text_box(mark).grown(clear) for mark in marks if isinstance(mark, Text)]
            path = next(mark for mark in marks if isinstance(mark, Stroke)).points
            if all(taken.free(box) for box in texts) and taken.passable(path[1], path[2]) and taken.passable(*path[:2]):
                return marks
    return ()


def _edge_tries(side: View, setting: Setting) -> Iterable[tuple[Mark, ...]]:
    """Leaders from all four corners, first on the side of the plan, first on one line."""
    style, scale = setting.style, setting.scale
    half = setting.piece.blank.edge_chamfer * scale / 2.0
    low, high = side.origin[1], side.origin[1] + setting.piece.blank.thickness * scale
    size = edge_text(setting.piece, style)
    ways = (1.0, -1.0) if setting.third else (-1.0, 1.0)
    for words in ((f"{size} {EDGES}",), (size, EDGES)):
        for up in ways:
            corner = high - half if up > 0.0 else low + half
            for far in (9.0, 10.0, 12.0, 15.0, 19.0):
                lift = up * far + (1.6 * style.text * (len(words) - 1) if up > 0.0 else 0.0)
                for x, aside in ((half, 5.0), (setting.right - half, 5.0), (half, -5.0), (setting.right - half, -5.0)):
                    tip = (x, corner)
                    elbow = (x + aside, corner + lift)
                    yield leader(tip, elbow, words, style, to_left=aside < 0.0)
