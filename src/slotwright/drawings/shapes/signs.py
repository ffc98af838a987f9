"""What stands among the views of a shaped piece: origin, section plane, datum symbols, titles."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from slotwright.drawings.paper.crossing import tight_box
from slotwright.drawings.paper.dimensioning import UP, Side, arrow, line
from slotwright.drawings.paper.origin_signs import origin as origin_sign
from slotwright.drawings.paper.origin_signs import origin_symbol
from slotwright.drawings.paper.placing import text_box
from slotwright.drawings.paper.sheet import (
    Anchor,
    Circle,
    DimensionKind,
    Fill,
    Line,
    Mark,
    Point,
    Stroke,
    Text,
    on_paper,
)
from slotwright.drawings.paper.sheet_data import spelled
from slotwright.drawings.paper.symbols import SECTION_LETTER, datum
from slotwright.drawings.shapes.panel import Panel
from slotwright.drawings.shapes.patterns import Origin, Zero
from slotwright.drawings.shapes.seen import Plane, shown
from slotwright.pieces.faces import Face
from slotwright.pieces.piece import Piece

ON_EDGE = 0.01  # mm on paper
ORIGINS = (14.0, 18.0, 22.0)  # lengths of the arrows at the datum corner, mm on paper; our choice
AWAY = (0.0, 18.0)  # how far beyond a centre line's end its origin's arrows go on; clear of a section plane's end, mm
CLEAR = (0.7, 0.35)  # paper round a datum's letter, wished for and needed, mm; our choice
FOOT = 2.0  # half the width of a datum's triangle, mm on paper
DATUM = 4.0  # half the width of a datum's letter box, and a little, mm on paper
TALL_ORIGIN = 32.0  # a section plane lower than this would meet the origin symbol, mm on paper
ON_CENTRE = "SECTION ON THE CENTRE LINE"
TITLES = {
    Face.RIGHT: "FROM THE RIGHT", Face.LEFT: "FROM THE LEFT", Face.BACK: "FROM BEHIND", Face.BOTTOM: "FROM BELOW",
}  # fmt: skip


def origin_marks(panel: Panel, origin: Origin, lengths: Sequence[float] = ORIGINS) -> list[Mark]:
    """Return the marks of where X and Y are counted from, and which way; on an edge in the first clear length."""
    style = panel.style
    if origin.ring == (0.0, 0.0):
        tries = [_seen(panel.face, origin_symbol(style, long)) for long in lengths]
        words = [[text_box(mark) for mark in marks if isinstance(mark, Text)] for marks in tries]
        clear = (m for m, boxes in zip(tries, words, strict=True) if all(map(panel.register.free, boxes)))
        return next(clear, tries[0])
    if origin.ring is not None:
        tries = [_seen(panel.face, _line_symbol(panel, origin, long, away)) for away in AWAY for long in lengths]
        return next((marks for marks in tries if panel.register.free(tight_box(marks[1:]))), tries[0])
    u, v = panel.view.to_paper(shown(panel.face, (origin.x, origin.y)))
    up = 1.0 if panel.face is Face.TOP else -1.0
    right = panel.core.x1 + style.centre_overrun
    end = (panel.core.y1 if up > 0.0 else panel.core.y0) + up * style.centre_overrun
    return [
        line((right, v), (right + 3.0, v)), arrow((right + 6.0, v), 0.0, style),
        Text((right + 8.5, v), "X", style.text, Anchor.CENTRE, 0.0, True),
        line((u, end), (u, end + up * 3.0)), arrow((u, end + up * 6.0), up * UP, style),
        Text((u, end + up * 8.5), "Y", style.text, Anchor.CENTRE, 0.0, True),
    ]  # fmt: skip


def _seen(face: Face, marks: list[Mark]) -> list[Mark]:
    """A symbol as the plan has it, or the view from below."""
    return marks if face is Face.TOP else [_downward(mark) for mark in marks]


def _line_symbol(panel: Panel, origin: Origin, long: float, away: float) -> list[Mark]:
    """A ring where a centre line leaves an edge, as seen from above; arrows so long go on with it, so far away."""
    style, core, scale = panel.style, panel.core, panel.view.scale
    at = origin.x * scale, origin.y * scale
    out = style.centre_overrun + 2.0 + long + away
    beside = 1.5 + style.text / 2.0
    if origin.across is Zero.MIDDLE:
        u, v = min(at[0], core.x0) - out, at[1]
        letters = (u + long - style.arrow, v + beside), (u, v + long + beside)
    else:
        u, v = at[0], min(at[1], core.y0 if panel.face is Face.TOP else -core.y1) - out
        letters = (u + long + beside, v), (u + beside, v + long - style.arrow)
    return origin_sign(at, (u, v), long, letters, style)


def _downward(mark: Mark) -> Mark:
    """Turn an origin symbol over, for a piece seen from below; letters stay upright."""
    match mark:
        case Stroke(points, kind, closed):
            return Stroke(tuple((x, -y) for x, y in points), kind, closed)
        case Fill(points, kind):
            return Fill(tuple((x, -y) for x, y in points), kind)
        case Text():
            return replace(mark, at=(mark.at[0], -mark.at[1] - (0.0 if mark.middle else mark.height)))
        case Circle(centre, radius, kind):
            return Circle((centre[0], -centre[1] + 0.0), radius, kind)
    return mark


def trace(panel: Panel, plane: Plane, origin: Origin) -> list[Mark]:
    """Return the ends of a section plane beside the plan, with arrows in the way one looks."""
    style, core = panel.style, panel.core
    y = panel.view.to_paper((0.0, plane.at))[1]
    marks: list[Mark] = []
    aside = 14.0 if y < TALL_ORIGIN and origin.ring in (None, (0.0, 0.0)) else 0.0
    # Beside the arrow, where the extension lines of the plan's edges do not run through it.
    beside = next((v for v in (y - 5.5, y + 3.5) if all(abs(v - end) > 4.0 for end in (core.y0, core.y1))), y - 5.5)
    for x, way in ((core.x0 - aside, -1.0), (core.x1, 1.0)):
        near, end = x + way * 1.0, x + way * 8.0
        marks += [
            Stroke(((near, y), (end, y)), Line.SECTION),
            line((end, y - 9.0), (end, y - 1.0)),
            arrow((end, y), UP, style),
            Text((end + way * 4.5, beside), "A", SECTION_LETTER, Anchor.CENTRE, 0.0, True),
        ]
    return marks


def title(panel: Panel, face: Face, plane: Plane | None) -> None:
    """Say under a view what it is, where that is not plain."""
    style = panel.style
    size, words = style.text, TITLES.get(face, "")
    if face is Face.FRONT and plane is not None:
        words = ON_CENTRE if plane.on_centre else "A-A" if style.name == "iso" else "SECTION A-A"
        size = style.text if plane.on_centre else SECTION_LETTER
    if not words:
        return
    words, box = spelled(words, style), panel.box
    y = box.y0 - 3.0 - 1.2 * size
    panel.note([Text(((panel.core.x0 + panel.core.x1) / 2.0, y), words, size, Anchor.CENTRE)])


def datum_marks(panel: Panel, piece: Piece, origin: Origin) -> list[Mark]:
    """Return the datum symbols this view carries: A on the bottom face, B and C on edges or on the centre lines."""
    core, over = panel.core, panel.style.centre_overrun
    if panel.face is Face.FRONT:
        level = panel.view.to_paper((0.0, 0.0))[1]
        plain = [x for x in _along(core.x0, core.x1) if not _under_tenon(panel, piece, x) and _solid(panel, x, level)]
        return _free(panel, Side.BOTTOM, "A", [(x, level) for x in plain] or [(core.x1, level)])
    if panel.face is not Face.TOP:
        return []
    if origin.middle:
        u, v = panel.view.to_paper((origin.x, origin.y))
        return [*_free(panel, Side.LEFT, "B", [(core.x0 - over, v)]),
                *_free(panel, Side.BOTTOM, "C", [(u, core.y0 - over)])]  # fmt: skip
    marks: list[Mark] = []
    if origin.across is not Zero.MIDDLE:
        marks += _free(panel, Side.BOTTOM, "B", [(x, core.y0) for x in _along(*_edge(panel, Side.BOTTOM))])
    if origin.along is not Zero.MIDDLE:
        marks += _free(panel, Side.LEFT, "C", [(core.x0, y) for y in _along(*_edge(panel, Side.LEFT))])
    return marks


def middle_datum(panel: Panel, origin: Origin) -> list[Mark]:
    """Return the symbol of the one centre plane that is a datum, once its size has a dimension in the plan.

    It goes on with that dimension's line (ISO 5459, ASME Y14.5); where there is none, or no room, with the centre line.
    """
    upright = origin.across is Zero.MIDDLE
    if panel.face is not Face.TOP or upright == (origin.along is Zero.MIDDLE):
        return []
    sides, letter = ((Side.BOTTOM, Side.TOP), "B") if upright else ((Side.LEFT, Side.RIGHT), "C")
    feet = [foot for ends in _whole_sizes(panel, upright=upright) for foot in zip(ends, sides, strict=True)]
    symbols = [datum(at, side, letter, panel.style) for at, side in [*feet, _far_end(panel, origin, upright=upright)]]
    return _first_free(panel, symbols, symbols[-1])


def _far_end(panel: Panel, origin: Origin, *, upright: bool) -> tuple[Point, Side]:
    """The end of a centre line at which no letter and no ring stands, and its side."""
    core, over = panel.core, panel.style.centre_overrun
    u, v = panel.view.to_paper((origin.x, origin.y))
    if origin.ring is None:
        return ((core.x0 - over, v), Side.LEFT) if upright else ((u, core.y0 - over), Side.BOTTOM)
    return ((core.x1 + over, v), Side.RIGHT) if upright else ((u, core.y1 + over), Side.TOP)


def _whole_sizes(panel: Panel, *, upright: bool) -> Iterator[tuple[Point, Point]]:
    """The lower and the upper end of the dimension lines over the whole view one way."""
    own, other = (1, 0) if upright else (0, 1)
    for one in panel.dimensions:
        if one.kind is DimensionKind.LINEAR and (one.direction == 90.0) == upright:
            ends = sorted(panel.view.to_paper(point)[own] for point in one.points[:2])
            at = panel.view.to_paper(one.points[2])[other]
            if abs(ends[0] - panel.core[own]) < ON_EDGE and abs(ends[1] - panel.core[own + 2]) < ON_EDGE:
                yield ((at, ends[0]), (at, ends[1])) if upright else ((ends[0], at), (ends[1], at))


def _edge(panel: Panel, side: Side) -> tuple[float, float]:
    """From where to where the longest edge on a side of the view runs; the whole side where there is none."""
    core, along = panel.core, 0 if side.upright else 1
    low = core[1 - along]
    found = [(0.0, core[along], core[along + 2])]
    for mark in on_paper(panel.view):
        if isinstance(mark, Stroke) and mark.line is Line.OUTLINE:
            for a, b in pairwise(mark.path):
                if abs(a[1 - along] - low) < ON_EDGE and abs(b[1 - along] - low) < ON_EDGE:
                    start, end = sorted((a[along], b[along]))
                    found.append((end - start, start, end))
    return max(found)[1:]


def _solid(panel: Panel, x: float, level: float) -> bool:
    """Say whether an outline runs under the foot of a datum symbol, and not the mouth of a hole."""
    edges = (piece for mark in on_paper(panel.view) if isinstance(mark, Stroke) and mark.line is Line.OUTLINE
             for piece in pairwise(mark.path))  # fmt: skip
    return any(
        abs(a[1] - level) < ON_EDGE and abs(b[1] - level) < ON_EDGE
        and min(a[0], b[0]) <= x - FOOT and x + FOOT <= max(a[0], b[0])
        for a, b in edges
    )  # fmt: skip


def _under_tenon(panel: Panel, piece: Piece, x: float) -> bool:
    """Say whether something stands out of the bottom face at a place along a front elevation."""
    spans = (tenon.outline.bounds for tenon in piece.tenons if tenon.face is Face.BOTTOM)
    return any(panel.view.to_paper((b[0], 0.0))[0] - DATUM < x < panel.view.to_paper((b[2], 0.0))[0] + DATUM
               for b in spans)  # fmt: skip


def _along(low: float, high: float) -> Iterator[float]:
    """Places along an edge, from its far end."""
    for share in (0.9, 0.8, 0.7, 0.95, 0.6, 0.5, 0.4, 0.3, 0.98, 0.06):
        yield low + (high - low) * share


def _free(panel: Panel, side: Side, letter: str, feet: list[Point]) -> list[Mark]:
    """The symbol at the first foot where its stem and letter meet nothing."""
    symbols = (datum(foot, side, letter, panel.style) for foot in feet)
    return _first_free(panel, symbols, datum(feet[0], side, letter, panel.style))


def _first_free(panel: Panel, symbols: Iterable[Sequence[Mark]], else_: Sequence[Mark]) -> list[Mark]:
    """The first datum symbol whose stem and letter stand clear of all else; a view without one is crowded."""
    tries = list(symbols)
    for clear in CLEAR:
        for marks in tries:
            if panel.register.free(tight_box(marks[1:]).grown(clear)):
                return list(marks)
    panel.crowded = True
    return list(else_)
