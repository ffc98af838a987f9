"""Seen edges of shaped pieces against hidden-line removal by the CAD kernel, on the solid built from the features.

The two ways share the feature model alone: the drawing asks where lines of sight run in metal, the kernel projects the
solid's edges. Every point of a seen edge of one must lie on a seen edge of the other.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, hypot, radians, sin

import cadquery as cq
import pytest
from OCP.BRepLib import BRepLib
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
from OCP.HLRAlgo import HLRAlgo_Projector
from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape

from slotwright.drawings.paper.sheet import Arc, Circle, Line, Mark, Stroke
from slotwright.drawings.paper.style import style
from slotwright.drawings.shapes.seen import view_marks
from slotwright.pieces.blanks import Disc
from slotwright.pieces.faces import Face
from slotwright.pieces.features import Groove, Hole, Pocket
from slotwright.pieces.outline import rectangle
from slotwright.pieces.piece import Piece
from slotwright.pieces.solid import solid
from tests.drawings.shapes import ALL, piece

CLOSE = 0.02  # mm; the drawing looks a twentieth of that aside
APART = 0.6  # mm; the kernel's points stand up to 1 mm apart
PIERCED = piece(
    "pierced",  # a drill point comes through a groove's floor, a pocket breaks through a round rim
    Disc(diameter=40.0, thickness=16.0, edge_chamfer=1.0),
    Hole(x=20.0, y=20.0, face=Face.BOTTOM, diameter=10.0, depth=12.0),
    grooves=(Groove(face=Face.TOP, along="x", centre=20.0, width=6.0, depth=3.0),),
    pockets=(Pocket(outline=rectangle(12.0, 10.0, 2.0, (20.0, 38.0)), depth=4.0),),
)
SHOWN = {name: one for name, one in {**ALL, "pierced": PIERCED}.items() if name != "grid-plate"}
Point = tuple[float, float]

_LOOKS = {
    # Where one looks from, and what then runs to the right.
    Face.TOP: ((0.0, 0.0, 1.0), (1.0, 0.0, 0.0)),
    Face.BOTTOM: ((0.0, 0.0, -1.0), (1.0, 0.0, 0.0)),
    Face.FRONT: ((0.0, -1.0, 0.0), (1.0, 0.0, 0.0)),
    Face.BACK: ((0.0, 1.0, 0.0), (-1.0, 0.0, 0.0)),
    Face.RIGHT: ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0)),
    Face.LEFT: ((-1.0, 0.0, 0.0), (0.0, -1.0, 0.0)),
}


def seen_by_kernel(one: Piece, face: Face) -> list[Point]:
    """Points along all edges and silhouettes the kernel sees, no more than a millimetre apart."""
    towards, right = _LOOKS[face]
    algo = HLRBRep_Algo()
    algo.Add(solid(one))
    algo.Projector(HLRAlgo_Projector(gp_Ax2(gp_Pnt(0.0, 0.0, 0.0), gp_Dir(*towards), gp_Dir(*right))))
    algo.Update()
    algo.Hide()
    shapes = HLRBRep_HLRToShape(algo)
    points: list[Point] = []
    for compound in (shapes.VCompound(), shapes.OutLineVCompound()):
        if compound is None or compound.IsNull():
            continue
        BRepLib.BuildCurves3d_s(compound)
        for edge in cq.Shape.cast(compound).Edges():
            count = int(edge.Length()) + 3
            points += [(p.x, p.y) for p in edge.positions([n / count for n in range(count + 1)])]
    return points


def seen_by_drawing(one: Piece, face: Face) -> list[Mark]:
    marks = view_marks(one, face, None, 4.0, style("iso", "mm"))
    return [mark for mark in marks if mark.line is Line.OUTLINE]


def _distance(point: Point, mark: Mark) -> float:
    x, y = point
    if isinstance(mark, Stroke):
        (ax, ay), (bx, by) = mark.points[0], mark.points[-1]
        square = (bx - ax) ** 2 + (by - ay) ** 2
        share = min(1.0, max(0.0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / square))
        return hypot(x - ax - share * (bx - ax), y - ay - share * (by - ay))
    assert isinstance(mark, Circle | Arc)
    return abs(hypot(x - mark.centre[0], y - mark.centre[1]) - mark.radius)


def _along(mark: Mark) -> Iterator[Point]:
    if isinstance(mark, Stroke):
        (ax, ay), (bx, by) = mark.points[0], mark.points[-1]
        yield from ((ax + (bx - ax) * share, ay + (by - ay) * share) for share in (0.08, 0.35, 0.5, 0.77, 0.93))
        return
    assert isinstance(mark, Circle | Arc)
    start, end = (mark.start, mark.end) if isinstance(mark, Arc) else (0.0, 360.0)
    for share in (0.08, 0.35, 0.5, 0.77, 0.93):
        turn = radians(start + (end - start) * share)
        yield mark.centre[0] + mark.radius * cos(turn), mark.centre[1] + mark.radius * sin(turn)


SIDES = [(name, face) for name in SHOWN for face in (Face.TOP, Face.BOTTOM, Face.FRONT, Face.RIGHT)]
SIDES += [(name, face) for name in ("riser", "vee-block", "pierced") for face in (Face.BACK, Face.LEFT)]


@pytest.mark.parametrize(("name", "face"), SIDES)
def test_the_kernel_sees_the_same_edges(name: str, face: Face) -> None:
    marks, points = seen_by_drawing(SHOWN[name], face), seen_by_kernel(SHOWN[name], face)
    assert [p for p in points if min(_distance(p, mark) for mark in marks) > CLOSE] == []
    lonely = [p for mark in marks for p in _along(mark) if min(hypot(p[0] - u, p[1] - v) for u, v in points) > APART]
    assert lonely == []
