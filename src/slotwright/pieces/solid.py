"""Solids of made pieces, bought items and the table, by the CAD kernel.

Import this module only where a solid is wanted: the kernel takes seconds to load. Piece, item and table frames as their
own modules say; all lengths are mm.

Each hole is first a cutter, the metal that it takes away. Where a hole keeps clear of the rim and of all else, the
cutter's faces turned inside out are its walls and the cutter's ends its openings: nothing need be computed. The cutters
of holes that do meet something cut together, in one boolean operation. So the time grows with the number of holes and
not with its square.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

from OCP.TopoDS import TopoDS_Shape, TopoDS_Solid

from slotwright.parts.hardware import Cylinder, Hardware, Prism
from slotwright.parts.table import Table
from slotwright.pieces.blanks import Bar, Blank
from slotwright.pieces.block import Block
from slotwright.pieces.cutters import hole_cutters, shaped_cutter, standing_out
from slotwright.pieces.kernel import SolidError as SolidError
from slotwright.pieces.kernel import box, chamfered, cut, drawn, joined, unified
from slotwright.pieces.meeting import sorted_out
from slotwright.pieces.metal import Metal
from slotwright.pieces.outline import Outline, circle
from slotwright.pieces.piece import Piece
from slotwright.pieces.punching import punched
from slotwright.pieces.script_piece import ScriptPiece
from slotwright.pieces.script_solid import script_solid

Item: TypeAlias = Piece | Hardware | Table


class Solids(dict[Item, TopoDS_Shape]):
    """The solids of one make, each built when it is first asked for: ``solids[piece]``."""

    def __missing__(self, item: Item) -> TopoDS_Shape:
        """Build, keep and return the solid of an item."""
        match item:
            case Piece():
                self[item] = solid(item)
            case Hardware():
                self[item] = hardware_solid(item)
            case Table():
                self[item] = table_solid(item)
        return self[item]


def solid(piece: Piece) -> TopoDS_Shape:
    """Build a made piece in the piece frame, threads at the size of their tap drill.

    Returns:
        One valid closed Solid; a Compound of several when the features cut the piece apart.

    Raises:
        SolidError: the features leave nothing.
    """
    if isinstance(piece, ScriptPiece):
        return script_solid(piece)
    metal = piece.metal
    body = _shaped(metal, piece.name)
    clear, meeting = sorted_out(metal, piece.holes)
    if isinstance(body, TopoDS_Solid):
        body = punched(body, clear, metal)
    else:
        meeting = clear + meeting
    if not meeting:
        return body
    reaching = ((hole, standing_out(hole, spans, metal)) for hole, spans in meeting)
    cutters = [cutter.Moved(place.location) for cutter, _, places in hole_cutters(reaching, metal) for place in places]
    return unified(cut(body, cutters, piece.name))  # a cutter's seam may part a wall that is left


def _shaped(metal: Metal, name: str) -> TopoDS_Shape:
    """The blank with its tenons, grooves and pockets."""
    body = _blank(metal.blank)
    if not metal.steps:
        return body
    tenons = [drawn(step.block) for step in metal.steps if step.adds]
    cutters = [shaped_cutter(step, metal) for step in metal.steps if not step.adds]
    whole = unified(cut(joined(body, tenons), cutters, name))
    return cut(whole, [], name)  # a lone solid out of its compound


def hardware_solid(item: Hardware) -> TopoDS_Shape:
    """Build a bought item in its own frame: its bodies joined, its bores through them."""
    first, *others = [_bought_body(body, [b for b in item.bores if _spans(b, body)]) for body in item.body]
    whole = unified(joined(first, others)) if others else first
    blind = [bore for bore in item.bores if any(_overlap(bore, body) and not _spans(bore, body) for body in item.body)]
    return cut(whole, [_bought_body(bore, []) for bore in blind], item.title)


def table_solid(table: Table) -> TopoDS_Shape:
    """Build the table in the table frame: its profile with the T-slots, drawn out along X."""
    profile = [(0.0, -table.thickness), (table.width, -table.thickness), (table.width, 0.0)]
    for centre in reversed(table.slot_centres):
        profile += _slot_profile(table, centre)
    profile.append((0.0, 0.0))
    return drawn(Block(0, Outline(tuple(profile)), 0.0, table.length))


def _slot_profile(table: Table, centre: float) -> list[tuple[float, float]]:
    """Corners of one T-slot in Y, Z, from its rear edge to its front edge."""
    slot = table.slot
    half, wide = slot.width / 2.0, slot.headspace_width / 2.0
    shoulder, floor = -slot.throat_depth, -slot.depth
    rear = [(half, 0.0), (half, shoulder), (wide, shoulder), (wide, floor)]
    front = [(-y, z) for y, z in reversed(rear)]
    return [(centre + y, z) for y, z in rear + front]


def _blank(blank: Blank) -> TopoDS_Shape:
    """The blank alone, its top and bottom rims chamfered."""
    if isinstance(blank, Bar):
        body = box(blank.length, blank.width, blank.thickness)
    else:
        solid, *windows = blank.blocks
        body = drawn(solid, [window.outline for window in windows])
    return body if blank.edge_chamfer == 0.0 else chamfered(body, blank.edge_chamfer)


def _bought_body(body: Cylinder | Prism, bores: Sequence[Cylinder]) -> TopoDS_Shape:
    outline = circle(body.diameter, (body.x, body.y)) if isinstance(body, Cylinder) else Outline(body.outline)
    openings = [circle(bore.diameter, (bore.x, bore.y)) for bore in bores]
    if isinstance(body, Prism):
        openings += [Outline(window) for window in body.windows]
    return drawn(Block(2, outline, body.bottom, body.top), openings)


def _spans(bore: Cylinder, body: Cylinder | Prism) -> bool:
    return bore.bottom <= body.bottom and bore.top >= body.top


def _overlap(bore: Cylinder, body: Cylinder | Prism) -> bool:
    return bore.bottom < body.top and bore.top > body.bottom
