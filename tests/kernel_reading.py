"""Read STEP files back with the CAD kernel, for tests: what a file says, not what the program meant.

Nothing of Slotwright is imported here. Lengths are mm in the file's own frame, placements applied.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from math import degrees

import cadquery as cq
from OCP.Bnd import Bnd_Box
from OCP.BRep import BRep_Tool
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.BRepBndLib import BRepBndLib
from OCP.Quantity import Quantity_Color, Quantity_TypeOfColor
from OCP.STEPCAFControl import STEPCAFControl_Reader
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label, TDF_LabelSequence
from OCP.TDocStd import TDocStd_Document
from OCP.TopAbs import TopAbs_Orientation
from OCP.XCAFDoc import XCAFDoc_ColorTool, XCAFDoc_ColorType, XCAFDoc_DocumentTool, XCAFDoc_ShapeTool

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundFace:
    """One cylindrical face.

    Attributes:
        start, end: ends of its axis, as far as the face reaches along it, the lower end (by Z, Y, X) first.
        radius: of the cylinder.
        sweep: how far around it goes, degrees; 360 for a full hole.
        hollow: whether the metal is outside (a hole) and not inside (a shaft).
    """

    start: Vector
    end: Vector
    radius: float
    sweep: float
    hollow: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One placed copy of a part.

    Attributes:
        name: of the product.
        copy_name: of this copy in the assembly; the product's name where there is no assembly.
        colour: red, green, blue from 0 to 1 (sRGB), or None.
        shape: the solid where it stands.
        shared: the same for all copies of one part.
    """

    name: str
    copy_name: str
    colour: Vector | None
    shape: cq.Shape
    shared: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StepFile:
    """What a file holds: the top product's name and all placed parts, in the file's order."""

    title: str
    parts: tuple[Part, ...]

    def part(self, name: str) -> Part:
        """Return the first copy of a part by its product name."""
        return next(part for part in self.parts if part.name == name)

    def copies(self, name: str) -> tuple[Part, ...]:
        """Return all copies of a part by its product name."""
        return tuple(part for part in self.parts if part.name == name)


def read_step(data: bytes) -> StepFile:
    """Read a STEP file from its bytes, converted to mm by the kernel whatever its unit is."""
    document = TDocStd_Document(TCollection_ExtendedString("BinXCAF"))
    reader = STEPCAFControl_Reader()
    reader.SetNameMode(True)
    reader.SetColorMode(True)
    reader.ReadStream("in memory", BytesIO(data))
    assert reader.Transfer(document), "the kernel could not read the file"
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    free = TDF_LabelSequence()
    shapes.GetFreeShapes(free)
    assert free.Length() == 1, "a file holds one product at its top"
    return StepFile(title=_name(free.Value(1)), parts=tuple(_parts(free.Value(1))))


def _parts(top: TDF_Label) -> Iterator[Part]:
    if not XCAFDoc_ShapeTool.IsAssembly_s(top):
        yield _part(top, top)
        return
    components = TDF_LabelSequence()
    XCAFDoc_ShapeTool.GetComponents_s(top, components)
    for number in range(1, components.Length() + 1):
        product = TDF_Label()
        XCAFDoc_ShapeTool.GetReferredShape_s(components.Value(number), product)
        yield _part(components.Value(number), product)


def _part(copy: TDF_Label, product: TDF_Label) -> Part:
    return Part(
        name=_name(product),
        copy_name=_name(copy),
        colour=_colour(product),
        shape=cq.Shape.cast(XCAFDoc_ShapeTool.GetShape_s(copy)),
        shared=str(product.Tag()),
    )


def _name(label: TDF_Label) -> str:
    found = TDataStd_Name()
    return found.Get().ToExtString() if label.FindAttribute(TDataStd_Name.GetID_s(), found) else ""


def _colour(label: TDF_Label) -> Vector | None:
    found = Quantity_Color()
    for kind in (XCAFDoc_ColorType.XCAFDoc_ColorSurf, XCAFDoc_ColorType.XCAFDoc_ColorGen):
        if XCAFDoc_ColorTool.GetColor_s(label, kind, found):
            red, green, blue = found.Values(Quantity_TypeOfColor.Quantity_TOC_sRGB)
            return red, green, blue
    return None


def round_faces(shape: cq.Shape) -> tuple[RoundFace, ...]:
    """All cylindrical faces of a shape, ordered by their axes and radii."""
    found = [_round_face(face) for face in shape.Faces() if face.geomType() == "CYLINDER"]
    return tuple(sorted(found, key=lambda f: (f.start, f.end, f.radius)))


def holes(shape: cq.Shape) -> tuple[RoundFace, ...]:
    """The full hollow cylinders of a shape: drilled holes and counterbores, each face by itself."""
    return tuple(f for f in round_faces(shape) if f.hollow and abs(f.sweep - 360.0) < 1e-6)


def _round_face(face: cq.Face) -> RoundFace:
    surface = BRepAdaptor_Surface(face.wrapped)
    cylinder = surface.Cylinder()
    axis = cylinder.Axis()
    ends = [_along(axis, surface.FirstVParameter()), _along(axis, surface.LastVParameter())]
    start, end = sorted(ends, key=lambda at: at[::-1])
    outward = cylinder.Direct() == (face.wrapped.Orientation() == TopAbs_Orientation.TopAbs_FORWARD)
    return RoundFace(
        start=start,
        end=end,
        radius=cylinder.Radius(),
        sweep=degrees(surface.LastUParameter() - surface.FirstUParameter()),
        hollow=not outward,
    )


def _along(axis: object, distance: float) -> Vector:
    at, way = axis.Location(), axis.Direction()  # type: ignore[attr-defined]  # the kernel's types are not declared
    return at.X() + distance * way.X(), at.Y() + distance * way.Y(), at.Z() + distance * way.Z()


def box(shape: cq.Shape) -> tuple[Vector, Vector]:
    """Lowest and highest corner of the box around a shape, from its exact geometry and without the kernel's gap."""
    bounds = Bnd_Box()
    BRepBndLib.AddOptimal_s(shape.wrapped, bounds, False, False)
    low, high = bounds.CornerMin(), bounds.CornerMax()
    return (low.X(), low.Y(), low.Z()), (high.X(), high.Y(), high.Z())


def is_whole(shape: cq.Shape) -> bool:
    """Whether a shape is one valid solid with one closed shell, in which each edge is used once in each direction."""
    shells = shape.Shells()
    one = len(shape.Solids()) == 1 and len(shells) == 1
    return one and shape.isValid() and bool(BRep_Tool.IsClosed_s(shells[0].wrapped))
