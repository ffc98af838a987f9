"""How far pieces reach over the table's front and back edge, each dimensioned where nothing else stands."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from slotwright.drawings.paper.dimensioning import linear
from slotwright.drawings.paper.placing import Box, Register, crossing, points_box, text_box
from slotwright.drawings.paper.sheet import Dimension, DimensionKind, Fill, Point, Stroke, Text, View
from slotwright.drawings.paper.style import Style
from slotwright.drawings.setup.setup_plan import piece_box
from slotwright.fixtures.layout import Layout

NEAR, FAR, STEP = 8, 77, 3  # of a dimension line from its piece, mm on paper; our choice
COPIES = 3  # equal pieces that are tried; our choice
CROSSED = 40.0  # what a crossed dimension line costs, in mm further away; our choice
OVER_PIECE = 15.0  # what a line over another piece costs, the same way
SLIVER = 0.05  # half of what is left out around a dimension's own lines, mm


@dataclass(frozen=True, slots=True)
class Overhang:
    """One reach over an edge, and the pieces that have it.

    Attributes:
        edge: table Y of the edge.
        end: table Y of the pieces' end.
        boxes: of the equal pieces, table coordinates.
    """

    edge: float
    end: float
    boxes: tuple[Box, ...]


def overhangs(layout: Layout) -> list[Overhang]:
    """Return every reach over an edge once, those of equal pieces together, the short ones first."""
    found: dict[tuple[str, float, float], list[Box]] = {}
    for placed in sorted(layout.pieces, key=lambda p: p.place.x):
        box = piece_box(placed)
        for edge, end, over in ((0.0, box.y0, -box.y0), (layout.table.width, box.y1, box.y1 - layout.table.width)):
            if over > 1e-6:
                found.setdefault((placed.piece.name, edge, round(end, 6)), []).append(box)
    rows = [Overhang(edge, end, tuple(boxes)) for (_, edge, end), boxes in found.items()]
    return sorted(rows, key=lambda row: abs(row.end - row.edge))


def overhang_dimensions(
    view: View, layout: Layout, taken: Register, lines: Lines, style: Style
) -> tuple[list[Dimension], bool]:
    """Return the dimensions of all overhangs, and whether each stands free.

    Args:
        view: the table plan.
        layout: what is on the table.
        taken: what stands already; the dimensions are added.
        lines: of the dimensions that stand already; these are added.
        style: how they look.
    """
    pieces = [_on_paper(view, piece_box(placed)) for placed in layout.pieces]
    found, free = [], True
    for overhang in overhangs(layout):
        dimension = _best(_tries(view, layout, overhang, style), view, overhang, pieces, taken, lines, style)
        if dimension is None:
            free = False
            _, _, dimension = next(_tries(view, layout, overhang, style))
        taken.add(dimension.marks)
        taken.keep_clear(dimension.marks, style.text)
        lines.add([dimension])
        found.append(dimension)
    return found, free


@dataclass(slots=True)
class Lines:
    """Lines of dimensions: those that show a size, and those that lead to it."""

    dimension: list[tuple[Point, Point]] = field(default_factory=list)
    extension: list[tuple[Point, Point]] = field(default_factory=list)

    def add(self, dimensions: Iterable[Dimension]) -> None:
        """Take in the lines of dimensions."""
        for one in dimensions:
            upright = one.kind is DimensionKind.LINEAR and one.direction == 90.0
            for mark in one.marks:
                if isinstance(mark, Stroke):
                    along = abs(mark.points[0][0 if upright else 1] - mark.points[-1][0 if upright else 1]) < 1e-9
                    shows = one.kind is DimensionKind.LINEAR and along
                    (self.dimension if shows else self.extension).extend(pairwise(mark.points))

    def crossed_by(self, other: Lines) -> int:
        """Count where dimension lines of one are crossed by lines of the other."""
        pairs = [(a, b) for a in other.dimension for b in (*self.dimension, *self.extension)]
        pairs += [(a, b) for a in other.extension for b in self.dimension]
        return sum(crossing(*a, *b) for a, b in pairs)


def _tries(view: View, layout: Layout, overhang: Overhang, style: Style) -> Iterator[tuple[float, Box, Dimension]]:
    """Yield places, the nearest first: left or right of each equal piece, with the piece's box on paper."""
    edge, end = overhang.edge, overhang.end
    right = layout.table.length * view.scale
    for far in range(NEAR, FAR, STEP):
        for box in overhang.boxes[:COPIES]:
            for side, x in ((-1.0, box.x0), (1.0, box.x1)):
                start = x * view.scale
                at = start + side * far
                # The table's edge is its own extension line as far as it reaches; the other one starts at the piece.
                along_edge = min(max(at, 0.0), right)
                starts = (start, along_edge) if end < edge else (along_edge, start)
                a, b = (min(max(at / view.scale, 0.0), layout.table.length), edge), (x, end)
                # A text too long to stand between goes off the table, past the piece's end.
                dimension = linear(view, a, b, at, style, upright=True, starts=starts, overflow_up=end > edge)
                yield float(far), _on_paper(view, box), dimension


def _best(
    tries: Iterable[tuple[float, Box, Dimension]],
    view: View,
    overhang: Overhang,
    pieces: Sequence[Box],
    taken: Register,
    lines: Lines,
    style: Style,
) -> Dimension | None:
    """Return the cheapest place where the text stands clear and no line runs through lettering; None without one."""
    best, least = None, float("inf")
    for far, own, dimension in tries:
        if far >= least:
            break
        if not _stands_clear(dimension, view, overhang, taken, style):
            continue
        mine = Lines()
        mine.add([dimension])
        others = [box for box in pieces if box != own]
        cost = far + CROSSED * lines.crossed_by(mine) + OVER_PIECE * _pieces_met(mine, dimension, others)
        if cost < least:
            best, least = dimension, cost
    return best


def _pieces_met(mine: Lines, dimension: Dimension, pieces: Sequence[Box]) -> int:
    texts = [text_box(mark) for mark in dimension.marks if isinstance(mark, Text)]
    spans = (*mine.dimension, *mine.extension)
    return sum(any(box.cut_by(*span) for span in spans) or any(box.meets(t) for t in texts) for box in pieces)


def _stands_clear(dimension: Dimension, view: View, overhang: Overhang, taken: Register, style: Style) -> bool:
    for mark in dimension.marks:
        match mark:
            case Text():
                if not all(taken.free(part) for part in _around(mark, view, overhang, style)):
                    return False
            case Stroke(points):
                if not all(taken.passable(a, b, over_circles=True) for a, b in pairwise(points)):
                    return False
            case Fill(points):
                if not taken.free_of_boxes(points_box(points)):
                    return False
    return True


def _around(text: Text, view: View, overhang: Overhang, style: Style) -> list[Box]:
    """Return what must be free around a text: its own height on all sides, but for the lines it stands between."""
    body = text_box(text)
    low, high = sorted((overhang.edge * view.scale, overhang.end * view.scale))
    low, high = view.origin[1] + low, view.origin[1] + high
    own = [view.origin[1] + overhang.edge * view.scale]
    if low < body.y0 and body.y1 < high:
        own = [low, high]
    clear = body.grown(style.text)
    parts, y = [], clear.y0
    for line in own:
        if y < line < clear.y1:
            parts.append(Box(clear.x0, y, clear.x1, line - SLIVER))
            y = line + SLIVER
    return [*parts, Box(clear.x0, y, clear.x1, clear.y1)]


def _on_paper(view: View, box: Box) -> Box:
    return Box(*view.to_paper((box.x0, box.y0)), *view.to_paper((box.x1, box.y1)))
