"""The three views of a piece from a script, its edges by hidden-line projection, with the distances it names."""

from __future__ import annotations

from collections.abc import Iterator

from slotwright.drawings.paper.dimensioning import Side
from slotwright.drawings.paper.sheet import Arc, Circle, Line, Mark, Stroke, View
from slotwright.drawings.paper.style import Style
from slotwright.drawings.shapes.distances import Wish, place_distances
from slotwright.drawings.shapes.panel import Panel
from slotwright.drawings.shapes.signs import title
from slotwright.pieces.faces import Face, plane_axes
from slotwright.pieces.script_piece import FACES, NamedDistance, ScriptPiece

NAMES = {Face.TOP: "plan", Face.FRONT: "front elevation", Face.RIGHT: "right end"}
OVERALL = {Face.TOP: (0, 1), Face.FRONT: (2,), Face.RIGHT: ()}
"""The axes of the piece frame along which a view gives the overall size."""
PLACES = 2  # decimals of overall sizes, as for bars


def script_panels(piece: ScriptPiece, scale: float, style: Style) -> dict[Face, Panel]:
    """Return plan, front elevation and right end of a piece at a scale; this loads the CAD kernel."""
    panels = {}
    for face, name in NAMES.items():
        view = View(name=name, origin=(0.0, 0.0), scale=scale, marks=tuple(_marks(piece, face)))
        panels[face] = panel = Panel(face, view, style)
        place_distances(panel, _wishes(piece, face))
        title(panel, face, None)
    return panels


def _marks(piece: ScriptPiece, face: Face) -> Iterator[Mark]:
    # Only a script's pieces are projected, and their script has loaded the kernel for this run already.
    from slotwright.pieces.projection import seen_edges

    for edge in seen_edges(piece, face):
        line = Line.OUTLINE if edge.visible else Line.HIDDEN
        if edge.centre is None:
            yield Stroke(edge.points, line)
        elif edge.end - edge.start == 360.0:
            yield Circle(edge.centre, edge.radius, line)
        else:
            yield Arc(edge.centre, edge.radius, edge.start, edge.end, line)


def _wishes(piece: ScriptPiece, face: Face) -> list[Wish]:
    """The overall sizes and the distances named for a view, none twice."""
    size = (piece.blank.length, piece.blank.width, piece.blank.thickness)
    named = [_named(distance, face) for distance in piece.distances if FACES[distance.view] is face]
    found = [_overall(size, face, axis) for axis in OVERALL[face]]
    spans = [(wish.upright, wish.low, wish.high) for wish in found]
    return found + [wish for wish in named if (wish.upright, wish.low, wish.high) not in spans]


def _overall(size: tuple[float, float, float], face: Face, axis: int) -> Wish:
    upright = plane_axes(face.axis)[1] == axis
    across = (0.0, size[plane_axes(face.axis)[0 if upright else 1]])
    return Wish(upright, 0.0, size[axis], across, across, Side.RIGHT if upright else Side.TOP, "<>", PLACES)


def _named(distance: NamedDistance, face: Face) -> Wish:
    first, second = plane_axes(face.axis)
    du, dv = abs(distance.end[first] - distance.start[first]), abs(distance.end[second] - distance.start[second])
    along, aside = (second, first) if dv > du else (first, second)
    low, high = sorted((distance.start, distance.end), key=lambda point: point[along])
    side = Side.LEFT if dv > du else Side.BOTTOM
    ends = (low[aside], low[aside]), (high[aside], high[aside])
    return Wish(dv > du, low[along], high[along], *ends, side, distance.text)
