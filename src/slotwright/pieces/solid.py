"""Solids of made pieces, bought items and the table, by the CAD kernel.

Import this module only where a solid is wanted: the kernel takes seconds to load. Piece, item and table frames as their
own modules say; all lengths are mm.

Each hole is first a cutter, the metal that it takes away. Where a hole keeps clear of the rim and of all others, the
cutter's faces turned inside out are its walls and the cutter's ends its openings: nothing need be computed. The cutters
of holes that do meet something cut together, in one boolean operation. So the time grows with the number of holes and
not with its square.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from math import cos, hypot, radians, sin
from typing import TypeAlias

import cadquery as cq
from OCP.BRep import BRep_Builder
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
from OCP.TopoDS import TopoDS, TopoDS_Shape, TopoDS_Shell, TopoDS_Solid

from slotwright.errors import SlotwrightError
from slotwright.parts.hardware import Cylinder, Hardware, Prism
from slotwright.parts.table import Table
from slotwright.pieces.blanks import Bar, Blank
from slotwright.pieces.features import Face, Hole
from slotwright.pieces.piece import Piece

Item: TypeAlias = Piece | Hardware | Table

OVERSHOOT = 1.0
"""How far a cutter stands out of the metal, mm, so that no skin of zero thickness is left."""

APART = 1e-3
"""Holes nearer than this to a rim, the far face or one another, mm, count as meeting."""


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
    clear, meeting = _sorted_out(piece)
    body = _punched(_blank(piece.blank), clear, piece.blank.thickness)
    if not meeting:
        return body
    cutters = [
        cutter.moved(place)
        for cutter, places in _cutters(meeting, piece.blank.thickness, OVERSHOOT)
        for place in places
    ]
    return _cut(body, cutters, piece.name).clean()  # a cutter's seam may part a wall that is left


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


def _blank(blank: Blank) -> cq.Shape:
    """A box, its top and bottom rims chamfered."""
    if not isinstance(blank, Bar):
        raise SolidError("only bars have solids so far")
    body = cq.Solid.makeBox(blank.length, blank.width, blank.thickness)
    if blank.edge_chamfer == 0.0:
        return body
    rims = [edge for face in body.Faces() if _lies_flat(face) for edge in face.outerWire().Edges()]
    chamfered: cq.Shape = body.chamfer(blank.edge_chamfer, None, rims)
    return chamfered


def _lies_flat(face: cq.Face) -> bool:
    """Whether a face is parallel to the top and the bottom."""
    return face.geomType() == "PLANE" and abs(face.normalAt().z) > 1.0 - 1e-9


# Holes


def _sorted_out(piece: Piece) -> tuple[list[Hole], list[Hole]]:
    """Part the holes that keep clear of all else from those that meet a rim, the far face or another hole.

    Only neighbours along X are compared.
    """
    row = sorted(range(len(piece.holes)), key=lambda number: piece.holes[number].x)
    farthest = 2.0 * max(map(_reach, piece.holes), default=0.0) + APART
    meeting = {number for number in row if not _inside(piece.holes[number], piece.blank)}
    for place, number in enumerate(row):
        hole = piece.holes[number]
        for neighbour in (row[n] for n in range(place + 1, len(row))):
            other = piece.holes[neighbour]
            if other.x - hole.x > farthest:
                break
            if hypot(other.x - hole.x, other.y - hole.y) < _reach(hole) + _reach(other) + APART:
                meeting |= {number, neighbour}
    parted: tuple[list[Hole], list[Hole]] = ([], [])
    for number, hole in enumerate(piece.holes):
        parted[number in meeting].append(hole)
    return parted


def _inside(hole: Hole, blank: Blank) -> bool:
    """Whether a hole keeps clear of the rims, and of the far face unless it goes through, step by step."""
    margin = _reach(hole) + blank.edge_chamfer + APART
    within = margin <= hole.x <= blank.length - margin and margin <= hole.y <= blank.width - margin
    bottom = blank.thickness if hole.depth is None else hole.depth
    step = 0.0 if hole.counterbore is None else hole.counterbore.depth + APART
    return within and step < bottom and (hole.depth is None or bottom + hole.point_length < blank.thickness - APART)


def _reach(hole: Hole) -> float:
    """Radius of the circle that holds the whole of a hole."""
    return (hole.widest + hole.slot_extra) / 2.0


def _punched(blank: cq.Shape, holes: Sequence[Hole], thickness: float) -> cq.Shape:
    """Put holes that keep clear of all else into a blank, with their cutters' faces for walls."""
    shell, builder = TopoDS_Shell(), BRep_Builder()
    builder.MakeShell(shell)
    openings: dict[float, list[TopoDS_Shape]] = {0.0: [], thickness: []}
    for cutter, places in _cutters(holes, thickness, 0.0):
        for face in cutter.Faces():
            level = _level_of(face, openings)
            for place in places:
                if level is None:
                    builder.Add(shell, face.wrapped.Moved(place.wrapped).Reversed())
                else:
                    openings[level].append(face.outerWire().wrapped.Moved(place.wrapped).Reversed())
    for face in blank.Faces():
        level = _level_of(face, openings)
        builder.Add(shell, face.wrapped if level is None else _opened(face, openings[level]))
    shell.Closed(True)
    body = TopoDS_Solid()
    builder.MakeSolid(body)
    builder.Add(body, shell)
    return cq.Solid(body)


def _level_of(face: cq.Face, levels: Iterable[float]) -> float | None:
    """The level a face lies in, if it is one of these."""
    z = face.Center().z
    return next((level for level in levels if _lies_flat(face) and abs(z - level) < 1e-9), None)


def _opened(face: cq.Face, openings: Sequence[TopoDS_Shape]) -> TopoDS_Shape:
    """A face with holes in it; the openings already run the right way round."""
    maker = BRepBuilderAPI_MakeFace(face.wrapped)
    for opening in openings:
        maker.Add(TopoDS.Wire_s(opening))
    return maker.Face()


def _cutters(holes: Iterable[Hole], thickness: float, overshoot: float) -> Iterator[tuple[cq.Shape, list[cq.Location]]]:
    """The cutter of each kind of hole, about the Z axis, and the places it goes to."""
    kinds: dict[Hole, list[cq.Location]] = {}
    for hole in holes:
        kinds.setdefault(replace(hole, x=0.0, y=0.0), []).append(cq.Location(hole.x, hole.y, 0.0))
    for kind, places in kinds.items():
        make = _round_cutter if kind.slot_extra == 0.0 else _slot_cutter
        yield make(kind, thickness, overshoot), places


def _round_cutter(hole: Hole, thickness: float, overshoot: float) -> cq.Shape:
    """Counterbore, bore and drill point of a round hole, turned in one."""
    level = _levels(hole.face, thickness)
    depth, radius = _bore_depth(hole, thickness, overshoot), hole.diameter / 2.0
    profile = [(0.0, depth + hole.point_length), (radius, depth)]
    if hole.counterbore is not None:
        step, radius = hole.counterbore.depth, hole.counterbore.diameter / 2.0
        profile += [(hole.diameter / 2.0, step), (radius, step)]
    profile += [(radius, -overshoot), (0.0, -overshoot)]
    return _turned([(r, level(below)) for r, below in profile])


def _slot_cutter(hole: Hole, thickness: float, overshoot: float) -> cq.Shape:
    """A slotted hole, with its counterbore of the same play; it is milled, so its floor is flat."""
    level = _levels(hole.face, thickness)
    bore, depth = hole.counterbore, _bore_depth(hole, thickness, overshoot)
    if bore is None:
        return _drawn(_ring(hole, hole.diameter), level(-overshoot), level(depth))
    wide = _drawn(_ring(hole, bore.diameter), level(-overshoot), level(bore.depth))
    return wide.fuse(_drawn(_ring(hole, hole.diameter), level(bore.depth / 2.0), level(depth)))


def _bore_depth(hole: Hole, thickness: float, overshoot: float) -> float:
    """Depth of the plain bore below its face; a through hole's cutter stands out on the far side."""
    return thickness + overshoot if hole.depth is None else hole.depth


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
