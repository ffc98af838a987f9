"""Shapes of the CAD kernel from plain numbers and outlines, mm. Import it only where a solid is wanted."""

from __future__ import annotations

from collections.abc import Sequence

import cadquery as cq

from slotwright.errors import SlotwrightError
from slotwright.pieces.block import Block
from slotwright.pieces.faces import plane_axes
from slotwright.pieces.outline import Outline


class SolidError(SlotwrightError, ValueError):
    """A piece of which nothing is left, or nothing can be made."""


def wire(outline: Outline, axis: int = 2, level: float = 0.0) -> cq.Wire:
    """Return an outline as edges in the plane square to an axis, at a level along it."""
    diameter = outline.diameter
    if diameter is not None:
        centre, normal = _vector(*outline.centroid, axis, level), _vector(0.0, 0.0, axis, 1.0)
        return cq.Wire.makeCircle(diameter / 2.0, centre, normal)
    edges = []
    for side in outline.segments:
        start, end = _vector(*side.start, axis, level), _vector(*side.end, axis, level)
        if side.bulge:
            edges.append(cq.Edge.makeThreePointArc(start, _vector(*side.at(0.5), axis, level), end))
        else:
            edges.append(cq.Edge.makeLine(start, end))
    return cq.Wire.assembleEdges(edges)


def drawn(block: Block, windows: Sequence[Outline] = ()) -> cq.Solid:
    """Draw a block's outline, less its windows, out from where to where the block says."""
    outer, *inner = (wire(outline, block.axis, block.low) for outline in (block.outline, *windows))
    return cq.Solid.extrudeLinear(outer, inner, _vector(0.0, 0.0, block.axis, block.high - block.low))


def turned(profile: Sequence[tuple[float, float]]) -> cq.Solid:
    """Turn a closed profile, given as radius and Z, about the Z axis."""
    outline = cq.Wire.makePolygon([cq.Vector(r, 0.0, z) for r, z in profile], close=True)
    return cq.Solid.revolve(outline, [], 360.0, cq.Vector(0.0, 0.0, 0.0), cq.Vector(0.0, 0.0, 1.0))


def cut(body: cq.Shape, cutters: Sequence[cq.Shape], name: str) -> cq.Shape:
    """Take all cutters away in one boolean operation; a single solid comes without a compound around it.

    Errors: SolidError naming the piece when nothing is left.
    """
    left = body.cut(*cutters) if cutters else body
    solids = left.Solids()
    if not solids:
        raise SolidError(f"{name}: the features leave no metal; make the piece larger or the features smaller")
    return solids[0] if len(solids) == 1 else left


def lies_flat(face: cq.Face) -> bool:
    """Whether a face is a plane square to Z."""
    return face.geomType() == "PLANE" and abs(face.normalAt().z) > 1.0 - 1e-9


def _vector(u: float, v: float, axis: int, level: float) -> cq.Vector:
    first, second = plane_axes(axis)
    ends = [0.0, 0.0, 0.0]
    ends[first], ends[second], ends[axis] = u, v, level
    return cq.Vector(*ends)
