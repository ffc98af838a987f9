"""Pictorial views of shaped pieces against hidden-line removal by the CAD kernel on the solid of the same features.

The two ways share the feature model alone: the drawing asks where lines of sight run in metal, the kernel hides edges
of the solid. Both leave out chamfers round a blank's rims, which the picture does not show.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import dist
from pathlib import Path

import pytest
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepLib import BRepLib
from OCP.GCPnts import GCPnts_AbscissaPoint
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
from OCP.HLRAlgo import HLRAlgo_Projector
from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape
from OCP.TopAbs import TopAbs_EDGE
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS

from slotwright.drawings.paper.sheet import Stroke
from slotwright.drawings.shapes.picture import seen_marks
from slotwright.drawings.shapes.sight import Sight, sight_of
from slotwright.drawings.shapes.views_needed import is_shaped
from slotwright.fixtures.family import families
from slotwright.pieces.blanks import Extrusion
from slotwright.pieces.piece import Piece
from slotwright.pieces.solid import solid
from slotwright.sharing.set_up import set_up
from slotwright.sharing.starters import starter
from tests.drawings.shapes import ALL

ROOT = Path(__file__).parents[2]
STRAY = 0.01  # of the visible length


def lines_by_kernel(piece: Piece, sight: Sight) -> Iterator[float]:
    """Lengths of all edges and outlines of rounded walls that the kernel sees, enlarged as the picture is."""
    right = (-sight.toward[1], sight.toward[0], 0.0)
    algo = HLRBRep_Algo()
    shape = solid(piece)
    algo.Add(getattr(shape, "wrapped", shape))
    algo.Projector(HLRAlgo_Projector(gp_Ax2(gp_Pnt(0.0, 0.0, 0.0), gp_Dir(*sight.toward), gp_Dir(*right))))
    algo.Update()
    algo.Hide()
    shapes = HLRBRep_HLRToShape(algo)
    for compound in (shapes.VCompound(), shapes.OutLineVCompound()):
        if compound is None or compound.IsNull():
            continue
        BRepLib.BuildCurves3d_s(compound)
        found = TopExp_Explorer(compound, TopAbs_EDGE)
        while found.More():
            yield GCPnts_AbscissaPoint.Length_s(BRepAdaptor_Curve(TopoDS.Edge_s(found.Current()))) * sight.enlarged
            found.Next()


def without_chamfer(piece: Piece) -> Piece:
    blank = piece.blank
    return piece if isinstance(blank, Extrusion) else replace(piece, blank=replace(blank, edge_chamfer=0.0))


def seen_length(piece: Piece, sight: Sight) -> float:
    strokes = [mark for mark in seen_marks(piece, sight) if isinstance(mark, Stroke)]
    return sum(dist(a, b) for stroke in strokes for a, b in zip(stroke.points, stroke.points[1:], strict=False))


def compared(piece: Piece, sight: Sight) -> None:
    kernel = sum(lines_by_kernel(without_chamfer(piece), sight))
    assert seen_length(piece, sight) == pytest.approx(kernel, rel=STRAY), piece.name


ODD = {
    # From where no two edges of the pieces fall on each other by chance: the kernel then draws both.
    "above": Sight((0.53, -0.62, 0.5781), 1.0),
    "below": Sight((-0.61, 0.47, -0.6379), 1.0),
}


@pytest.mark.parametrize("sight", ODD.values(), ids=ODD)
@pytest.mark.parametrize("piece", ALL.values(), ids=ALL)
def test_visible_length_of_every_shape(piece: Piece, sight: Sight) -> None:
    compared(piece, sight)


@pytest.mark.parametrize("kind", sorted(families()))
def test_visible_length_of_every_familys_starter(kind: str, tmp_path: Path) -> None:
    (tmp_path / "fixtures").mkdir()
    (tmp_path / "parts").mkdir()
    for name in ("canal-mill-1100", "knee-mill-9x42"):
        (tmp_path / "parts" / f"{name}.toml").write_bytes((ROOT / "parts" / f"{name}.toml").read_bytes())
    path = tmp_path / "fixtures" / "starter.toml"
    path.write_text(starter(kind, "mm", None, path.parent), encoding="utf-8")
    for piece in set_up(path).pieces:
        if is_shaped(piece):
            compared(piece, sight_of(piece))
