"""Cutters: the metal that a feature takes away, as a shape of the CAD kernel.

A hole's cutter stands in a frame of its own: its axis is Z, its face lies in Z = 0 and the metal below, so that a depth
is a negative Z; the face's first coordinate is its X.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from OCP.gp import gp_Ax3, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS_Shape

from slotwright.pieces.block import Block, Spans
from slotwright.pieces.faces import Face, Frame, plane_axes
from slotwright.pieces.features import Groove, Hole, Pocket, Purpose
from slotwright.pieces.kernel import drawn, joined, turned
from slotwright.pieces.metal import Metal, Step
from slotwright.pieces.outline import Outline, obround

OVERSHOOT = 1.0
"""How far a cutter stands out of the metal, mm, so that no skin of zero thickness is left."""


@dataclass(frozen=True, slots=True)
class Reach:
    """How far a hole's cutter goes: depths below the face, mm, of its upper end, its surface and its far end."""

    top: float
    surface: float
    bottom: float


def snug(hole: Hole, spans: Spans) -> Reach:
    """Return the reach of a cutter that ends with the metal on its axis."""
    start = spans[0][0]
    return Reach(start, start, spans[-1][1] if hole.depth is None else start + hole.depth)


def standing_out(hole: Hole, spans: Spans, metal: Metal) -> Reach:
    """Return the reach of a cutter that stands out of the whole piece where it enters and where it goes through."""
    axis, size = hole.face.axis, metal.size[hole.face.axis]
    low, high = (corner[axis] for corner in metal.bounds)
    above, below = (size - high, size - low) if hole.face.far else (low, high)
    start = spans[0][0]
    return Reach(above - OVERSHOOT, start, below + OVERSHOOT if hole.depth is None else start + hole.depth)


def hole_cutters(
    holes: Iterable[tuple[Hole, Reach]], metal: Metal
) -> Iterator[tuple[TopoDS_Shape, Reach, list[Place]]]:
    """Yield the cutter of each kind of hole, how far it goes, and the holes it makes with their places."""
    kinds: dict[tuple[Hole, Reach], list[Place]] = {}
    frames = {face: metal.frame(face) for face in Face}
    for hole, reach in holes:
        kind = replace(hole, x=0.0, y=0.0, label="", note="", tables=(), purpose=Purpose.WORK, position_tolerance=None)
        kinds.setdefault((kind, reach), []).append(Place(hole, _location(hole, frames[hole.face])))
    for (kind, reach), places in kinds.items():
        make = _round_cutter if kind.slot_extra == 0.0 else _slot_cutter
        yield make(kind, reach), reach, places


@dataclass(frozen=True, slots=True)
class Place:
    """Where a cutter goes for one hole."""

    hole: Hole
    location: TopLoc_Location


def _location(hole: Hole, frame: Frame) -> TopLoc_Location:
    origin, move = frame.point(hole.x, hole.y), gp_Trsf()
    if hole.face is Face.TOP:
        move.SetTranslation(gp_Vec(*origin))
    else:
        outward = gp_Dir(*(-way for way in frame.inward))
        move.SetTransformation(gp_Ax3(gp_Pnt(*origin), outward, gp_Dir(*frame.u)), gp_Ax3())
    return TopLoc_Location(move)


def _round_cutter(hole: Hole, reach: Reach) -> TopoDS_Shape:
    """Counterbore or countersink, bore and drill point of a round hole, turned in one."""
    radius, below = hole.diameter / 2.0, reach.surface
    profile = [(0.0, reach.bottom + hole.point_length), (radius, reach.bottom)]
    if hole.counterbore is not None:
        wide, step = hole.counterbore.diameter / 2.0, below + hole.counterbore.depth
        profile += [(radius, step), (wide, step)]
        radius = wide
    if hole.countersink is not None:
        profile.append((radius, below + hole.sink_depth))
        radius = hole.countersink.diameter / 2.0
        if reach.top < below:
            profile.append((radius, below))
    profile += [(radius, reach.top), (0.0, reach.top)]
    return turned([(r, -depth) for r, depth in profile])


def _slot_cutter(hole: Hole, reach: Reach) -> TopoDS_Shape:
    """A slotted hole, with its counterbore of the same play; it is milled, so its floor is flat."""
    bore = hole.counterbore
    if bore is None:
        return drawn(Block(2, _slot(hole, hole.diameter), -reach.bottom, -reach.top))
    step = reach.surface + bore.depth
    wide = drawn(Block(2, _slot(hole, bore.diameter), -step, -reach.top))
    return joined(wide, [drawn(Block(2, _slot(hole, hole.diameter), -reach.bottom, bore.depth / 2.0 - step))])


def _slot(hole: Hole, diameter: float) -> Outline:
    """Outline of a slotted hole in its cutter's frame, which is mirrored on half of the faces."""
    mirrored = hole.face in (Face.BOTTOM, Face.BACK, Face.LEFT)
    angle = -hole.slot_angle if mirrored else hole.slot_angle
    return obround(diameter + hole.slot_extra, diameter, (0.0, 0.0), angle)


def shaped_cutter(step: Step, metal: Metal) -> TopoDS_Shape:
    """Return the cutter of a groove or pocket in the piece frame, standing out of the whole piece on its open sides."""
    block, feature = step.block, step.feature
    low, high = (corner[block.axis] for corner in metal.bounds)
    through = isinstance(feature, Pocket) and feature.depth is None
    start = low - OVERSHOOT if through or not feature.face.far else block.low
    end = high + OVERSHOOT if through or feature.face.far else block.high
    outline = _run_out(feature, metal) if isinstance(feature, Groove) else block.outline
    return drawn(Block(block.axis, outline, start, end))


def _run_out(groove: Groove, metal: Metal) -> Outline:
    """A groove's outline, standing out where it runs out of the piece."""
    first, second = plane_axes(groove.face.axis)
    axis, out = (first if groove.along == "x" else second), OVERSHOOT
    low, high = (corner[axis] for corner in metal.bounds)
    shift = out - low
    longer = replace(
        groove,
        start=None if groove.start is None else groove.start + shift,
        end=None if groove.end is None else groove.end + shift,
    ).outline(high - low + 2.0 * out)
    return longer.moved(-shift, 0.0) if groove.along == "x" else longer.moved(0.0, -shift)
