"""From a script's solid to a piece, and from the piece back to its solid. This loads the CAD kernel."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from io import BytesIO
from typing import TYPE_CHECKING

from OCP.BRep import BRep_Builder
from OCP.BRepTools import BRepTools
from OCP.TopoDS import TopoDS_Shape

from slotwright.parts.materials import material as material_of
from slotwright.pieces.amount import Amount
from slotwright.pieces.blanks import Bar
from slotwright.pieces.faces import Vector
from slotwright.pieces.kernel import SolidError, solids
from slotwright.pieces.script_piece import FACES, NamedDistance, ScriptPiece

if TYPE_CHECKING:
    import cadquery as cq

_PLACES = 6  # the kernel knows the bounding box of a curved face no better, mm


def script_piece(
    solid: cq.Workplane | cq.Shape,
    *,
    name: str,
    title: str,
    material: str,
    stock: str,
    quantity: int = 1,
    distances: Iterable[NamedDistance] = (),
    notes: tuple[str, ...] = (),
) -> ScriptPiece:
    """Return the piece of a solid drawn in any place, mm; the piece frame starts at its bounding box's lower corner.

    Args:
        solid: one solid.
        name: short, of a to z, 0 to 9 and hyphens; its files are named by it.
        title: on the drawing.
        material: a name in the material table.
        stock: what it is made from, in words.
        quantity: how many to make.
        distances: what the drawing shows beside the overall sizes.
        notes: further lines for the drawing.

    Raises:
        SolidError: it is no single valid solid, or a distance has no length in its view.
        NotListedError: the material is not known.
    """
    import cadquery as cq  # the script has loaded it; who only builds the solid again needs no more than the kernel

    shape = solid.combine().val() if isinstance(solid, cq.Workplane) else solid
    bodies = shape.Solids() if isinstance(shape, cq.Shape) else []
    if len(bodies) != 1 or not bodies[0].isValid() or not bodies[0].Volume() > 0.0:
        raise SolidError(f"{name}: a piece is one valid solid; this is {len(bodies)}, or one with a fault in it")
    box = bodies[0].BoundingBox()
    corner = (box.xmin, box.ymin, box.zmin)
    body = bodies[0].translate(cq.Vector(*(-c for c in corner)))
    stream = BytesIO()
    body.exportBrep(stream)
    x, y, z = body.Center().toTuple()
    return ScriptPiece(
        name=name,
        title=title,
        blank=Bar(length=round(box.xlen, _PLACES), width=round(box.ylen, _PLACES), thickness=round(box.zlen, _PLACES)),
        holes=(),
        material=material_of(material),
        stock=stock,
        quantity=quantity,
        notes=notes,
        brep=stream.getvalue(),
        own=Amount.at(body.Volume(), (x, y, z)),
        distances=tuple(_from_corner(distance, corner, name) for distance in distances),
    )


def script_solid(piece: ScriptPiece) -> TopoDS_Shape:
    """Return the solid of a piece, in the piece frame."""
    shape = TopoDS_Shape()
    BRepTools.Read_s(shape, BytesIO(piece.brep), BRep_Builder())
    return solids(shape)[0]


def _from_corner(distance: NamedDistance, corner: Vector, piece: str) -> NamedDistance:
    if distance.view not in FACES:
        raise SolidError(f"{piece}: {distance.name} stands in view {distance.view!r}; use one of: {', '.join(FACES)}")
    unseen = FACES[distance.view].axis
    if all(abs(a - b) < 1e-6 for axis, (a, b) in enumerate(zip(distance.start, distance.end, strict=True))
           if axis != unseen):  # fmt: skip
        raise SolidError(f"{piece}: {distance.name} has no length in view {distance.view!r}; name another view")
    return replace(distance, start=_less(distance.start, corner), end=_less(distance.end, corner))


def _less(point: Vector, corner: Vector) -> Vector:
    x, y, z = (round(a - b, _PLACES) + 0.0 for a, b in zip(point, corner, strict=True))
    return x, y, z
