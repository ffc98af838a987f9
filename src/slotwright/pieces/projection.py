"""The edges of a solid seen from one side, those that show and those that are hidden. This loads the CAD kernel."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from math import atan2, degrees, hypot

from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepLib import BRepLib
from OCP.GCPnts import GCPnts_QuasiUniformDeflection
from OCP.GeomAbs import GeomAbs_CurveType
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
from OCP.HLRAlgo import HLRAlgo_Projector
from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape
from OCP.TopoDS import TopoDS_Edge, TopoDS_Shape

from slotwright.pieces.faces import Face, Vector
from slotwright.pieces.kernel import edges
from slotwright.pieces.script_piece import ScriptPiece
from slotwright.pieces.script_solid import script_solid
from slotwright.pieces.segment import Point

TOLERANCE = 0.01
"""How far the chords of a curve that is no arc may stand off it, mm."""
_SAME = 1e-5
_PLACES = 6
_LOOKING = {Face.TOP: ((0, 0, 1), (1, 0, 0)), Face.FRONT: ((0, -1, 0), (1, 0, 0)), Face.RIGHT: ((1, 0, 0), (0, 1, 0))}


@dataclass(frozen=True, slots=True)
class SeenEdge:
    """One edge in the face's own coordinates, mm.

    Attributes:
        points: its ends, or more where it is a curve.
        visible: else it is hidden.
        centre, radius: of an arc or, with equal first and last point, a circle; None and 0 for all else.
        start, end: of an arc, degrees counter-clockwise, end larger than start.
    """

    points: tuple[Point, ...]
    visible: bool
    centre: Point | None = None
    radius: float = 0.0
    start: float = 0.0
    end: float = 0.0

    @property
    def straight(self) -> bool:
        """Whether it is a straight line."""
        return len(self.points) == 2 and self.centre is None


@lru_cache(maxsize=32)
def seen_edges(piece: ScriptPiece, face: Face) -> tuple[SeenEdge, ...]:
    """Return what shows of a piece from outside a face (top, front or right), and what is hidden behind it.

    Edges between faces that run smoothly into each other are left out; what is hidden behind an edge that shows too.
    """
    found = _projected(piece, *_LOOKING[face])
    shown = _once(_edges((found.VCompound(), found.OutLineVCompound()), True))
    return (*shown, *_behind(_once(_edges((found.HCompound(), found.OutLineHCompound()), False)), shown))


def edges_toward(piece: ScriptPiece, toward: Vector, across: Vector) -> tuple[SeenEdge, ...]:
    """Return what shows of a piece to a viewer far off in any direction, as `seen_edges` does.

    Args:
        piece: what is looked at.
        toward: unit vector from the piece toward the viewer.
        across: square to it, what runs to the right in the picture.
    """
    found = _projected(piece, toward, across)
    return _once(_edges((found.VCompound(), found.OutLineVCompound()), True))


def _projected(piece: ScriptPiece, toward: Vector, across: Vector) -> HLRBRep_HLRToShape:
    hidden_lines = HLRBRep_Algo()
    hidden_lines.Add(script_solid(piece))
    hidden_lines.Projector(HLRAlgo_Projector(gp_Ax2(gp_Pnt(), gp_Dir(*toward), gp_Dir(*across))))
    hidden_lines.Update()
    hidden_lines.Hide()
    return HLRBRep_HLRToShape(hidden_lines)


def _edges(compounds: Iterable[TopoDS_Shape | None], visible: bool) -> Iterator[SeenEdge]:
    for compound in compounds:
        if compound is None or compound.IsNull():
            continue
        BRepLib.BuildCurves3d_s(compound)
        for edge in edges(compound):
            one = _edge(edge, visible)
            if max(hypot(x - one.points[0][0], y - one.points[0][1]) for x, y in one.points) > _SAME:
                yield one


def _edge(edge: TopoDS_Edge, visible: bool) -> SeenEdge:
    curve = BRepAdaptor_Curve(edge)
    first, last = curve.FirstParameter(), curve.LastParameter()
    if curve.GetType() == GeomAbs_CurveType.GeomAbs_Circle:
        return _arc(curve, visible)
    if curve.GetType() == GeomAbs_CurveType.GeomAbs_Line:
        return SeenEdge(tuple(sorted(_flat(curve.Value(at)) for at in (first, last))), visible)
    chords = GCPnts_QuasiUniformDeflection(curve, TOLERANCE)
    points = tuple(_flat(chords.Value(n)) for n in range(1, chords.NbPoints() + 1))
    if _in_line(points):  # a curve seen from its own plane
        points = min(points), max(points)
    return SeenEdge(min(points, points[::-1]), visible)


def _arc(curve: BRepAdaptor_Curve, visible: bool) -> SeenEdge:
    circle, begin, end = curve.Circle(), curve.FirstParameter(), curve.LastParameter()
    centre, radius = _flat(circle.Location()), round(circle.Radius(), _PLACES)
    points = tuple(_flat(curve.Value(at)) for at in (begin, (begin + end) / 2.0, end))
    if hypot(points[0][0] - points[2][0], points[0][1] - points[2][1]) < _SAME:
        points = (centre[0] + radius, centre[1]), (centre[0] - radius, centre[1]), (centre[0] + radius, centre[1])
        return SeenEdge(points, visible, centre, radius, 0.0, 360.0)
    first, middle, last = (degrees(atan2(y - centre[1], x - centre[0])) % 360.0 for x, y in points)
    if (middle - first) % 360.0 > (last - first) % 360.0:
        first, last, points = last, first, points[::-1]
    return SeenEdge(points, visible, centre, radius, round(first, 9), round(first + (last - first) % 360.0, 9))


def _flat(point: gp_Pnt) -> Point:
    return round(point.X(), _PLACES) + 0.0, round(point.Y(), _PLACES) + 0.0


def _in_line(points: tuple[Point, ...]) -> bool:
    (x0, y0), (x1, y1) = min(points), max(points)
    long = hypot(x1 - x0, y1 - y0)
    return all(abs((x - x0) * (y1 - y0) - (y - y0) * (x1 - x0)) <= _SAME * long for x, y in points)


def _once(edges: Iterable[SeenEdge]) -> tuple[SeenEdge, ...]:
    return tuple(sorted(dict.fromkeys(edges), key=lambda edge: (edge.points, edge.radius, edge.start)))


# What is hidden behind an edge that shows


def _behind(hidden: Iterable[SeenEdge], shown: tuple[SeenEdge, ...]) -> Iterator[SeenEdge]:
    """Yield what of the hidden edges does not lie on others."""
    others = list(shown)
    for edge in hidden:
        if edge.straight:
            left = list(_uncovered(edge, [other for other in others if other.straight]))
        else:
            like = [(other.points, other.radius, other.start, other.end) for other in others]
            left = [] if (edge.points, edge.radius, edge.start, edge.end) in like else [edge]
        others += left
        yield from left


def _uncovered(edge: SeenEdge, others: Iterable[SeenEdge]) -> Iterator[SeenEdge]:
    (x0, y0), (x1, y1) = edge.points
    long = hypot(x1 - x0, y1 - y0)
    ux, uy = (x1 - x0) / long, (y1 - y0) / long
    spans = []
    for other in others:
        if all(abs((x - x0) * uy - (y - y0) * ux) <= _SAME for x, y in other.points):
            spans.append(sorted((x - x0) * ux + (y - y0) * uy for x, y in other.points))
    at = 0.0
    for low, high in [*sorted(spans), [long, long]]:
        if min(low, long) - at > _SAME:
            ends = tuple(_flat(gp_Pnt(x0 + t * ux, y0 + t * uy, 0.0)) for t in (at, min(low, long)))
            yield SeenEdge(ends, edge.visible)
        at = max(at, high)
