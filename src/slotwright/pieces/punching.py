"""Punching: putting holes that keep clear of all else into a solid without a boolean operation."""

from __future__ import annotations

from collections.abc import Sequence

from OCP.BRep import BRep_Builder
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeVertex
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.gp import gp_Pnt
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS, TopoDS_Shape, TopoDS_Shell, TopoDS_Solid

from slotwright.pieces.cutters import Place, hole_cutters, snug
from slotwright.pieces.kernel import faces, level, rim
from slotwright.pieces.meeting import Bored
from slotwright.pieces.metal import Metal

SAME_LEVEL = 1e-6


def punched(body: TopoDS_Solid, holes: Sequence[Bored], metal: Metal) -> TopoDS_Solid:
    """Put upright holes that keep clear of all else into a body, with their cutters' faces for walls.

    Args:
        body: the piece before these holes.
        holes: from top or bottom, each with where its axis runs in metal.
        metal: the same piece before its holes, as a model.
    """
    if not holes:
        return body
    levels = _Levels(body)
    shell, builder = TopoDS_Shell(), BRep_Builder()
    builder.MakeShell(shell)
    for cutter, reach, places in hole_cutters(((hole, snug(hole, spans)) for hole, spans in holes), metal):
        for face in faces(cutter):
            height = level(face)
            open_end = height is not None and _opens(-height, reach.surface, reach.bottom, places[0])
            for place in places:
                if height is not None and open_end:
                    levels.open(rim(face).Moved(place.location).Reversed(), place.location, height)
                else:
                    builder.Add(shell, face.Moved(place.location).Reversed())
    for face in levels.faces():
        builder.Add(shell, face)
    shell.Closed(True)
    made = TopoDS_Solid()
    builder.MakeSolid(made)
    builder.Add(made, shell)
    return made


def _opens(depth: float, surface: float, bottom: float, place: Place) -> bool:
    """Whether a level face of a cutter is an opening and not a floor or a shoulder."""
    through = place.hole.depth is None and abs(depth - bottom) < SAME_LEVEL
    return through or abs(depth - surface) < SAME_LEVEL


class _Levels:
    """The faces of a body, its level ones by height, and the openings to be made in each."""

    def __init__(self, body: TopoDS_Solid) -> None:
        self._all = faces(body)
        self._level = [(number, z) for number, face in enumerate(self._all) if (z := level(face)) is not None]
        self._openings: dict[int, list[TopoDS_Shape]] = {}

    def open(self, ring: TopoDS_Shape, location: TopLoc_Location, height: float) -> None:
        """Make an opening in the face that lies at a height in a cutter's frame."""
        point = gp_Pnt(0.0, 0.0, height).Transformed(location.Transformation())
        found = [number for number, z in self._level if abs(z - point.Z()) < SAME_LEVEL]
        if len(found) > 1:
            vertex = BRepBuilderAPI_MakeVertex(point).Vertex()
            found.sort(key=lambda number: BRepExtrema_DistShapeShape(self._all[number], vertex).Value())
        self._openings.setdefault(found[0], []).append(ring)

    def faces(self) -> list[TopoDS_Shape]:
        """Return all faces with their openings, which already run the right way round."""
        made = []
        for number, face in enumerate(self._all):
            maker = BRepBuilderAPI_MakeFace(face)
            for ring in self._openings.get(number, ()):
                maker.Add(TopoDS.Wire_s(ring))
            made.append(maker.Face() if number in self._openings else face)
        return made
