"""Solids of made pieces, bought items and the table, by the CAD kernel.

Import this module only where a solid is wanted: the kernel takes seconds to load. Piece, item and table frames as their
own modules say; all lengths are mm.

A feature becomes either a window of the blank's profile, which costs almost nothing, or a cutter; all cutters cut in
one boolean operation, so the time grows with the number of features and not with its square.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from math import cos, hypot, radians, sin
from typing import TypeAlias

import cadquery as cq

from slotwright.errors import SlotwrightError
from slotwright.parts.hardware import Cylinder, Hardware, Prism
from slotwright.parts.table import Table
from slotwright.pieces.features import Face, Hole
from slotwright.pieces.piece import Bar, Piece

Item: TypeAlias = Piece | Hardware | Table

OVERSHOOT = 1.0
"""How far a cutter stands out of the metal, mm, so that no skin of zero thickness is left."""

APART = 1e-3
"""Windows of one profile keep this far from one another and from its rim, mm; the rest is cut."""


class SolidError(SlotwrightError, ValueError):
    """A piece of which nothing is left, or nothing can be made."""


class Solids(dict[Item, cq.Shape]):
    """The solids of one make, each built when it is first asked for: ``solids[piece]``."""

    def __missing__(self, item: Item) -> cq.Shape:
        """Build, keep and return the solid of an item."""
        match item:
            case Piece():
                self[item] = solid(item)
            case Hardware():
                self[item] = hardware_solid(item)
            case Table():
                self[item] = table_solid(item)
        return self[item]


def solid(piece: Piece) -> cq.Shape:
    """Build a made piece in the piece frame, threads at the size of their tap drill.

    Returns:
        One valid closed Solid; a Compound of several when the features cut the piece apart.

    Raises:
        SolidError: the features leave nothing.
    """
    clear = _clear_holes(piece)
    windows = {hole for hole in clear if hole.depth is None and hole.counterbore is None}
    body = _blank(piece.blank, [_ring(hole, hole.diameter) for hole in piece.holes if hole in windows])
    cut = _cut(body, _cutters(piece, windows), piece.name)
    return cut if len(clear) == len(piece.holes) else cut.clean()  # a cutter's seam may part a wall that is left


def hardware_solid(item: Hardware) -> cq.Shape:
    """Build a bought item in its own frame: its bodies joined, its bores through them."""
    first, *others = [_bought_body(body, [b for b in item.bores if _spans(b, body)]) for body in item.body]
    joined = first.fuse(*others).clean() if others else first
    blind = [bore for bore in item.bores if any(_overlap(bore, body) and not _spans(bore, body) for body in item.body)]
    return _cut(joined, [_bought_body(bore, []) for bore in blind], item.title)


def table_solid(table: Table) -> cq.Shape:
    """Build the table in the table frame: its profile with the T-slots, drawn out along X."""
    profile = [(0.0, -table.thickness), (table.width, -table.thickness), (table.width, 0.0)]
    for centre in reversed(table.slot_centres):
        profile += _slot_profile(table, centre)
    profile.append((0.0, 0.0))
    outline = cq.Wire.makePolygon([cq.Vector(0.0, y, z) for y, z in profile], close=True)
    return cq.Solid.extrudeLinear(outline, [], cq.Vector(table.length, 0.0, 0.0))


def _slot_profile(table: Table, centre: float) -> list[tuple[float, float]]:
    """Corners of one T-slot in Y, Z, from its rear edge to its front edge."""
    slot = table.slot
    half, wide = slot.width / 2.0, slot.headspace_width / 2.0
    shoulder, floor = -slot.throat_depth, -slot.depth
    rear = [(half, 0.0), (half, shoulder), (wide, shoulder), (wide, floor)]
    front = [(-y, z) for y, z in reversed(rear)]
    return [(centre + y, z) for y, z in rear + front]


# Blanks


def _blank(blank: Bar, windows: Sequence[cq.Wire]) -> cq.Shape:
    """Draw the blank's outline out along Z, its windows left open, and chamfer the rims."""
    outline = _polygon([(0.0, 0.0), (blank.length, 0.0), (blank.length, blank.width), (0.0, blank.width)])
    body = cq.Solid.extrudeLinear(outline, list(windows), cq.Vector(0.0, 0.0, blank.thickness))
    return _chamfered(body, blank.edge_chamfer) if blank.edge_chamfer > 0.0 else body


def _chamfered(body: cq.Solid, leg: float) -> cq.Shape:
    """Chamfer the outer edges of the bottom and the top face at 45 degrees."""
    ends = [face for face in body.Faces() if face.geomType() == "PLANE" and abs(face.normalAt().z) > 0.5]
    rims: list[cq.Edge] = [edge for face in ends for edge in face.outerWire().Edges()]
    chamfered: cq.Shape = body.chamfer(leg, None, rims)
    return chamfered


def _clear_holes(piece: Piece) -> list[Hole]:
    """Holes that meet neither the rim nor one another; only neighbours along X are compared."""
    row = sorted((hole for hole in piece.holes if _inside(hole, piece.blank)), key=lambda hole: hole.x)
    farthest = 2.0 * max(map(_reach, piece.holes), default=0.0) + APART
    meeting: set[int] = set()
    for i, hole in enumerate(row):
        for j in range(i + 1, len(row)):
            other = row[j]
            if other.x - hole.x > farthest:
                break
            if hypot(other.x - hole.x, other.y - hole.y) < _reach(hole) + _reach(other) + APART:
                meeting |= {i, j}
    return [hole for i, hole in enumerate(row) if i not in meeting]


def _inside(hole: Hole, blank: Bar) -> bool:
    margin = _reach(hole) + blank.edge_chamfer + APART
    return margin <= hole.x <= blank.length - margin and margin <= hole.y <= blank.width - margin


def _reach(hole: Hole) -> float:
    """Radius of the circle that holds the whole of a hole."""
    return (hole.widest + hole.slot_extra) / 2.0


# Cutters


def _cutters(piece: Piece, windows: set[Hole]) -> list[cq.Shape]:
    """The cutters of all holes that are no windows; holes of one kind share their cutters' shapes."""
    thickness = piece.blank.thickness
    made: dict[Hole, cq.Shape] = {}
    cutters: list[cq.Shape] = []
    for hole in piece.holes:
        if hole in windows:
            continue
        kind = replace(hole, x=0.0, y=0.0)
        if kind not in made:
            made[kind] = _round_cutter(kind, thickness) if kind.slot_extra == 0.0 else _slot_cutter(kind, thickness)
        cutters.append(made[kind].moved(cq.Location(hole.x, hole.y, 0.0)))
    return cutters


def _round_cutter(hole: Hole, thickness: float) -> cq.Shape:
    """Counterbore, bore and drill point of a round hole, turned in one."""
    level = _levels(hole.face, thickness)
    depth, radius = _bore_depth(hole, thickness), hole.diameter / 2.0
    profile = [(0.0, depth + hole.point_length), (radius, depth)]
    if hole.counterbore is not None:
        step, radius = hole.counterbore.depth, hole.counterbore.diameter / 2.0
        profile += [(hole.diameter / 2.0, step), (radius, step)]
    profile += [(radius, -OVERSHOOT), (0.0, -OVERSHOOT)]
    return _turned([(r, level(below)) for r, below in profile])


def _slot_cutter(hole: Hole, thickness: float) -> cq.Shape:
    """A slotted hole, with its counterbore of the same play; it is milled, so its floor is flat."""
    level = _levels(hole.face, thickness)
    bore, depth = hole.counterbore, _bore_depth(hole, thickness)
    if bore is None:
        return _drawn(_ring(hole, hole.diameter), level(-OVERSHOOT), level(depth))
    wide = _drawn(_ring(hole, bore.diameter), level(-OVERSHOOT), level(bore.depth))
    return wide.fuse(_drawn(_ring(hole, hole.diameter), level(bore.depth / 2.0), level(depth)))


def _bore_depth(hole: Hole, thickness: float) -> float:
    """Depth of the plain bore below its face; a through hole's cutter stands out on the far side."""
    return thickness + OVERSHOOT if hole.depth is None else hole.depth


def _levels(face: Face, thickness: float) -> Callable[[float], float]:
    """Return what turns a depth below a face into a Z of the piece frame."""
    if face is Face.TOP:
        return lambda depth: thickness - depth
    return lambda depth: depth


def _cut(body: cq.Shape, cutters: Sequence[cq.Shape], name: str) -> cq.Shape:
    """Take all cutters away in one boolean operation; a single solid comes without a compound around it."""
    left = body.cut(*cutters) if cutters else body
    solids = left.Solids()
    if not solids:
        raise SolidError(f"{name}: the holes leave no metal; make the piece larger or the holes smaller")
    return solids[0] if len(solids) == 1 else left


# Shapes


def _turned(profile: Sequence[tuple[float, float]]) -> cq.Shape:
    """Turn a closed profile, given as radius and Z, about the Z axis."""
    outline = cq.Wire.makePolygon([cq.Vector(r, 0.0, z) for r, z in profile], close=True)
    return cq.Solid.revolve(outline, [], 360.0, cq.Vector(0.0, 0.0, 0.0), cq.Vector(0.0, 0.0, 1.0))


def _drawn(outline: cq.Wire, start: float, end: float, windows: Sequence[cq.Wire] = ()) -> cq.Shape:
    """Draw an outline that lies in Z = 0, less its windows, out from one Z to another."""
    body = cq.Solid.extrudeLinear(outline, list(windows), cq.Vector(0.0, 0.0, abs(end - start)))
    return body.moved(cq.Location(0.0, 0.0, min(start, end)))


def _bought_body(body: Cylinder | Prism, bores: Sequence[Cylinder]) -> cq.Shape:
    outline = _circle(0.0, 0.0, body.diameter / 2.0) if isinstance(body, Cylinder) else _polygon(body.outline)
    return _drawn(outline, body.bottom, body.top, [_circle(0.0, 0.0, bore.diameter / 2.0) for bore in bores])


def _spans(bore: Cylinder, body: Cylinder | Prism) -> bool:
    return bore.bottom <= body.bottom and bore.top >= body.top


def _overlap(bore: Cylinder, body: Cylinder | Prism) -> bool:
    return bore.bottom < body.top and bore.top > body.bottom


def _ring(hole: Hole, diameter: float) -> cq.Wire:
    """Outline of a hole in plan, in Z = 0: a circle, or two half circles joined by straight lines."""
    radius = diameter / 2.0
    if hole.slot_extra == 0.0:
        return _circle(hole.x, hole.y, radius)
    along = cq.Vector(cos(radians(hole.slot_angle)), sin(radians(hole.slot_angle)), 0.0)
    across = cq.Vector(-along.y, along.x, 0.0) * radius
    centre = cq.Vector(hole.x, hole.y, 0.0)
    far, near = centre + along * (hole.slot_extra / 2.0), centre - along * (hole.slot_extra / 2.0)
    return cq.Wire.assembleEdges([
        cq.Edge.makeLine(near - across, far - across),
        cq.Edge.makeThreePointArc(far - across, far + along * radius, far + across),
        cq.Edge.makeLine(far + across, near + across),
        cq.Edge.makeThreePointArc(near + across, near - along * radius, near - across),
    ])  # fmt: skip


def _circle(x: float, y: float, radius: float) -> cq.Wire:
    return cq.Wire.makeCircle(radius, cq.Vector(x, y, 0.0), cq.Vector(0.0, 0.0, 1.0))


def _polygon(corners: Iterable[tuple[float, float]]) -> cq.Wire:
    return cq.Wire.makePolygon([cq.Vector(x, y, 0.0) for x, y in corners], close=True)
