"""Shapes of the CAD kernel from plain numbers and outlines, mm. Import it only where a solid is wanted.

The kernel's binding is called without the CAD library around it: that library's own imports take longer than all the
work of a make. Its objects are to be had from cadquery_solid.py.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import pi

from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.BRepAlgoAPI import BRepAlgoAPI_BooleanOperation, BRepAlgoAPI_Cut, BRepAlgoAPI_Fuse
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakePolygon,
    BRepBuilderAPI_MakeWire,
)
from OCP.BRepFilletAPI import BRepFilletAPI_MakeChamfer
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakePrism, BRepPrimAPI_MakeRevol
from OCP.BRepTools import BRepTools
from OCP.GC import GC_MakeArcOfCircle
from OCP.GeomAbs import GeomAbs_SurfaceType
from OCP.gp import gp_Ax1, gp_Ax2, gp_Circ, gp_Dir, gp_Pnt, gp_Vec
from OCP.ShapeFix import ShapeFix_Face
from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain
from OCP.TopAbs import TopAbs_ShapeEnum
from OCP.TopExp import TopExp
from OCP.TopoDS import TopoDS, TopoDS_Edge, TopoDS_Face, TopoDS_Shape, TopoDS_Solid, TopoDS_Wire
from OCP.TopTools import TopTools_IndexedMapOfShape, TopTools_ListOfShape

from slotwright.errors import SlotwrightError
from slotwright.pieces.block import Block
from slotwright.pieces.faces import plane_axes
from slotwright.pieces.outline import Outline


class SolidError(SlotwrightError, ValueError):
    """A piece of which nothing is left, or nothing can be made."""


# What a shape is made of


def parts(shape: TopoDS_Shape, sort: TopAbs_ShapeEnum) -> list[TopoDS_Shape]:
    """Return all parts of one sort in a shape, each once, in the shape's order."""
    found = TopTools_IndexedMapOfShape()
    TopExp.MapShapes_s(shape, sort, found)
    return list(found)


def solids(shape: TopoDS_Shape) -> list[TopoDS_Solid]:
    """Return the solids of a shape."""
    return [TopoDS.Solid_s(part) for part in parts(shape, TopAbs_ShapeEnum.TopAbs_SOLID)]


def faces(shape: TopoDS_Shape) -> list[TopoDS_Face]:
    """Return the faces of a shape."""
    return [TopoDS.Face_s(part) for part in parts(shape, TopAbs_ShapeEnum.TopAbs_FACE)]


def edges(shape: TopoDS_Shape) -> list[TopoDS_Edge]:
    """Return the edges of a shape."""
    return [TopoDS.Edge_s(part) for part in parts(shape, TopAbs_ShapeEnum.TopAbs_EDGE)]


def rim(face: TopoDS_Face) -> TopoDS_Wire:
    """Return the outer edge of a face as a wire."""
    return BRepTools.OuterWire_s(face)


def level(face: TopoDS_Face) -> float | None:
    """Return the Z of a face that is a plane square to Z, mm; None for any other."""
    surface = BRepAdaptor_Surface(face)
    if surface.GetType() != GeomAbs_SurfaceType.GeomAbs_Plane:
        return None
    plane = surface.Plane()
    return float(plane.Location().Z()) if abs(plane.Axis().Direction().Z()) > 1.0 - 1e-9 else None


# Shapes from numbers


def box(length: float, width: float, thickness: float) -> TopoDS_Solid:
    """Return a box with a corner in the origin."""
    return BRepPrimAPI_MakeBox(length, width, thickness).Solid()


def wire(outline: Outline, axis: int = 2, height: float = 0.0) -> TopoDS_Wire:
    """Return an outline as edges in the plane square to an axis, at a height along it."""
    diameter = outline.diameter
    if diameter is not None:
        place = gp_Ax2(_point(*outline.centroid, axis, height), gp_Dir(*_spread(0.0, 0.0, axis, 1.0)))
        return _wire([BRepBuilderAPI_MakeEdge(gp_Circ(place, diameter / 2.0)).Edge()])
    made = []
    for side in outline.segments:
        start, end = _point(*side.start, axis, height), _point(*side.end, axis, height)
        if side.bulge:
            middle = _point(*side.at(0.5), axis, height)
            made.append(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(start, middle, end).Value()).Edge())
        else:
            made.append(BRepBuilderAPI_MakeEdge(start, end).Edge())
    return _wire(made)


def drawn(block: Block, windows: Sequence[Outline] = ()) -> TopoDS_Solid:
    """Draw a block's outline, less its windows, out from where to where the block says."""
    outer, *inner = (wire(outline, block.axis, block.low) for outline in (block.outline, *windows))
    way = gp_Vec(*_spread(0.0, 0.0, block.axis, block.high - block.low))
    return TopoDS.Solid_s(BRepPrimAPI_MakePrism(_face(outer, inner), way, True).Shape())


def turned(profile: Sequence[tuple[float, float]]) -> TopoDS_Solid:
    """Turn a closed profile, given as radius and Z, about the Z axis."""
    corners = BRepBuilderAPI_MakePolygon()
    for radius, z in profile:
        corners.Add(gp_Pnt(radius, 0.0, z))
    corners.Close()
    axis = gp_Ax1(gp_Pnt(), gp_Dir(0.0, 0.0, 1.0))
    return TopoDS.Solid_s(BRepPrimAPI_MakeRevol(_face(corners.Wire()), axis, 2.0 * pi, True).Shape())


def _wire(made: Iterable[TopoDS_Edge]) -> TopoDS_Wire:
    maker = BRepBuilderAPI_MakeWire()
    maker.Add(_listed(made))
    return maker.Wire()


def _face(outer: TopoDS_Wire, inner: Iterable[TopoDS_Wire] = ()) -> TopoDS_Face:
    """The plane face within a wire, less its openings, whichever way round those run."""
    maker = BRepBuilderAPI_MakeFace(outer, True)
    for opening in inner:
        maker.Add(opening)
    right = ShapeFix_Face(maker.Face())
    right.FixOrientation()
    right.Perform()
    return TopoDS.Face_s(right.Result())


def _point(u: float, v: float, axis: int, height: float) -> gp_Pnt:
    return gp_Pnt(*_spread(u, v, axis, height))


def _spread(u: float, v: float, axis: int, height: float) -> list[float]:
    first, second = plane_axes(axis)
    ends = [0.0, 0.0, 0.0]
    ends[first], ends[second], ends[axis] = u, v, height
    return ends


# Shapes from shapes


def cut(body: TopoDS_Shape, cutters: Sequence[TopoDS_Shape], name: str) -> TopoDS_Shape:
    """Take all cutters away in one boolean operation; a single solid comes without a compound around it.

    Errors: SolidError naming the piece when nothing is left.
    """
    left = _worked(BRepAlgoAPI_Cut(), body, cutters) if cutters else body
    found = solids(left)
    if not found:
        raise SolidError(f"{name}: the features leave no metal; make the piece larger or the features smaller")
    return found[0] if len(found) == 1 else left


def joined(body: TopoDS_Shape, others: Sequence[TopoDS_Shape]) -> TopoDS_Shape:
    """Join bodies into one shape."""
    return _worked(BRepAlgoAPI_Fuse(), body, others) if others else body


def unified(shape: TopoDS_Shape) -> TopoDS_Shape:
    """Return a shape whose faces in one plane, and edges in one line, are one."""
    upgrade = ShapeUpgrade_UnifySameDomain(shape, True, True, True)
    upgrade.AllowInternalEdges(False)
    upgrade.Build()
    return upgrade.Shape()


def chamfered(body: TopoDS_Shape, size: float) -> TopoDS_Solid:
    """Chamfer the rims of the level faces of a body under 45 degrees."""
    maker = BRepFilletAPI_MakeChamfer(body)
    for face in faces(body):
        if level(face) is not None:
            for edge in edges(rim(face)):
                maker.Add(size, edge)
    return solids(maker.Shape())[0]


def _worked(operation: BRepAlgoAPI_BooleanOperation, body: TopoDS_Shape, tools: Iterable[TopoDS_Shape]) -> TopoDS_Shape:
    operation.SetArguments(_listed([body]))
    operation.SetTools(_listed(tools))
    operation.SetRunParallel(True)
    operation.Build()
    return operation.Shape()


def _listed(shapes: Iterable[TopoDS_Shape]) -> TopTools_ListOfShape:
    listed = TopTools_ListOfShape()
    for shape in shapes:
        listed.Append(shape)
    return listed
