"""Compare a rebuilt piece of any shape with the STEP file of the same design, face by face, within the printed figures.

Every flat face, round wall and cone of one must be there in the other: as large, and as far along its axes as the
figures leave open; so must the box around all and the volume.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import cadquery as cq

from tests.kernel_reading import RoundFace, box, round_faces
from tests.rebuilding.comparing import EXACT, Outcome
from tests.rebuilding.hole_rows import PlacedHole
from tests.rebuilding.shape import Edge, ReadShape
from tests.rebuilding.shape_built import SIDES, build_shape
from tests.rebuilding.wording import NOTHING, Size

Point = tuple[float, float, float]
TURN = 2e-3
"""How far flat faces may be turned against each other, radians: what half a tenth of a degree leaves open."""


@dataclass(slots=True)
class Offs:
    """How far off places along the axes and radii may be, by their values as read.

    Attributes:
        places: for each axis, values with what they may be off.
        radii: the same of radii.
    """

    places: tuple[list[Size], list[Size], list[Size]] = field(default_factory=lambda: ([], [], []))
    radii: list[Size] = field(default_factory=list)

    def along(self, axis: int, value: float) -> float:
        """What a place may be off: the most of those that are there, else of all."""
        here = [one.off for one in self.places[axis] if abs(one.value - value) < 1e-4]
        return max(here or [one.off for one in self.places[axis]], default=0.0)

    def of_radius(self, value: float) -> float:
        """What a radius may be off."""
        here = [one.off for one in self.radii if abs(one.value - value) < 1e-4]
        return max(here or [one.off for one in self.radii], default=0.0)

    def moved(self, points: Sequence[Point], way: Point) -> float:
        """How far points may be off in a direction, the most of them."""
        return max(sum(abs(w) * self.along(axis, point[axis]) for axis, w in enumerate(way)) for point in points)


def offs_of(shape: ReadShape) -> Offs:
    """Gather what each figure of a piece leaves open."""
    offs = Offs()
    first, second, _ = SIDES[shape.side]
    third = 3 - first - second
    offs.places[third].extend((shape.start, shape.end))
    if shape.chamfer.value:
        for axis, ends in ((2, (shape.start, shape.end)),):
            offs.places[axis].extend((ends[0] + shape.chamfer, ends[1] - shape.chamfer))
        offs.radii.extend(radius - shape.chamfer for edge in shape.edges for radius in _radius(edge))
    _take_edges(offs, shape.edges, (first, second))
    levels = [list(one) for one in offs.places]
    for feature in shape.features:
        first, second, _ = SIDES[feature.side]
        _take_edges(offs, feature.edges, (first, second))
        deep = feature.high or feature.deep
        if deep is not None:
            axis = 3 - first - second
            steps = [one + deep for one in levels[axis]] + [one - deep for one in levels[axis]]
            offs.places[axis].extend(steps)
            levels[axis] += steps
    for hole in shape.holes:
        _take_hole(offs, hole, levels)
    _take_frame(offs, shape)
    return offs


def _take_frame(offs: Offs, shape: ReadShape) -> None:
    """A zero that a figure places from the edge is no surer than that figure, and so is all that is counted from it.

    The two pieces are laid edge on edge (`_in_frame`), which takes the figure's rounding along.
    """
    for axis in range(2):
        if not shape.central[axis] and not shape.cornered[axis]:
            sizes = offs.places[axis]
            edge = min(sizes, key=lambda size: size.value, default=NOTHING)
            offs.places[axis][:] = [Size(size.value, size.off + edge.off) for size in sizes]


def _take_edges(offs: Offs, edges: tuple[Edge, ...], axes: tuple[int, int]) -> None:
    for edge in edges:
        for place in (edge.start, edge.end, *([edge.centre] if edge.centre else [])):
            for axis, size in zip(axes, place, strict=True):
                offs.places[axis].append(size)
        for radius in _radius(edge):
            offs.radii.append(radius)
            for axis, size in zip(axes, edge.centre or (), strict=True):
                offs.places[axis].extend((size + radius, size - radius))


def _radius(edge: Edge) -> list[Size]:
    return [] if edge.radius is None else [edge.radius]


def _take_hole(offs: Offs, hole: PlacedHole, levels: list[list[Size]]) -> None:
    first, second, _ = SIDES[hole.side]
    axis, sizes = 3 - first - second, hole.sizes
    ends = 0.0
    for across, long, deep in ((sizes.across, sizes.long, sizes.deep), (sizes.bore, sizes.bore_long, sizes.bore_deep),
                               (sizes.sink, None, None)):  # fmt: skip
        if across is None:
            continue
        offs.radii.append(Size(across.value / 2.0, across.off / 2.0))
        if long is not None:
            ends = max(ends, (across.off + long.off) / 2.0)
        if deep is not None:
            offs.places[axis].extend(step for one in levels[axis] for step in (one + deep, one - deep))
    for own, size in zip((first, second), hole.place, strict=True):
        offs.places[own].append(Size(size.value, size.off + ends))
        if sizes.long is not None and sizes.across is not None:
            half = (sizes.long.value - sizes.across.value) / 2.0
            offs.places[own].extend(Size(size.value + way * half, size.off + ends) for way in (-1.0, 1.0))


def compare_shape(shape: ReadShape, step: cq.Shape) -> Outcome:
    """Say how the piece as read differs from the solid of a STEP file."""
    rebuilt = build_shape(shape)
    offs = offs_of(shape)
    step = _in_frame(shape, rebuilt, step)
    found = [*_boxes(offs, rebuilt, step), *_rounds(offs, rebuilt, step), *_flats(offs, rebuilt, step),
             *_cones(offs, rebuilt, step)]  # fmt: skip
    allowed = EXACT * rebuilt.Area() + sum(face.Area() * _face_off(offs, face) for face in rebuilt.Faces())
    volume, true = rebuilt.Volume(), step.Volume()
    if abs(true - volume) > allowed:
        found.append(f"volume {volume:.3f} rebuilt, {true:.3f} in the STEP file, {allowed:.3f} mm3 allowed")
    return Outcome(tuple(found), abs(true - volume) / allowed)


def _in_frame(shape: ReadShape, rebuilt: cq.Shape, step: cq.Shape) -> cq.Shape:
    """Move the solid of a STEP file to where the sheet counts from: its datum corner is at the origin."""
    (low, high), (own_low, own_high) = box(step), box(rebuilt)
    shift = []
    for axis in range(3):
        if axis == 2:
            shift.append(0.0)
        elif shape.cornered[axis]:
            shift.append(-low[axis])
        elif shape.central[axis]:
            shift.append((own_low[axis] + own_high[axis] - low[axis] - high[axis]) / 2.0)
        else:
            shift.append(own_low[axis] - low[axis])
    return step.moved(cq.Location(cq.Vector(*shift)))


def _boxes(offs: Offs, rebuilt: cq.Shape, step: cq.Shape) -> list[str]:
    ends = zip(box(rebuilt), box(step), strict=True)
    return [
        f"{'XYZ'[axis]}: the box ends at {a[axis]:.4f} rebuilt, {b[axis]:.4f} in the STEP file"
        for a, b in ends for axis in range(3) if abs(a[axis] - b[axis]) > offs.along(axis, a[axis]) + EXACT
    ]  # fmt: skip


# Round walls


def _rounds(offs: Offs, rebuilt: cq.Shape, step: cq.Shape) -> list[str]:
    ours, theirs = list(round_faces(rebuilt)), list(round_faces(step))
    if len(ours) != len(theirs):
        return [f"{len(ours)} round walls rebuilt, {len(theirs)} in the STEP file"]
    found = []
    for wall in ours:
        other = min(theirs, key=lambda face: _away(face, wall))
        theirs.remove(other)
        if not _close(offs, wall, other):
            found.append(f"{_said(wall)} rebuilt, {_said(other)} in the STEP file")
    return found


def _away(a: RoundFace, b: RoundFace) -> float:
    ends = sum(abs(p - q) for one, two in ((a.start, b.start), (a.end, b.end)) for p, q in zip(one, two, strict=True))
    return ends + abs(a.radius - b.radius) + abs(a.sweep - b.sweep) / 10.0


def _close(offs: Offs, a: RoundFace, b: RoundFace) -> bool:
    ends = all(
        abs(one[axis] - two[axis]) <= offs.along(axis, one[axis]) + EXACT
        for one, two in ((a.start, b.start), (a.end, b.end)) for axis in range(3)
    )  # fmt: skip
    return ends and abs(a.radius - b.radius) <= offs.of_radius(a.radius) + EXACT and a.hollow == b.hollow


def _said(wall: RoundFace) -> str:
    ends = " to ".join("({:.4f}, {:.4f}, {:.4f})".format(*end) for end in (wall.start, wall.end))
    return f"radius {wall.radius:.4f} from {ends}"


# Flat faces


@dataclass(frozen=True, slots=True)
class _Flat:
    """A flat face: its direction, its middle, how large."""

    way: Point
    middle: Point
    area: float
    face: cq.Face


def _flats(offs: Offs, rebuilt: cq.Shape, step: cq.Shape) -> list[str]:
    ours, theirs = _flat_faces(rebuilt), _flat_faces(step)
    if len(ours) != len(theirs):
        return [f"{len(ours)} flat faces rebuilt, {len(theirs)} in the STEP file"]
    found = []
    for face in ours:
        other = min(theirs, key=lambda one: _unlike(one, face))
        theirs.remove(other)
        turned = max(abs(a - b) for a, b in zip(face.way, other.way, strict=True))
        high = sum(w * (a - b) for w, a, b in zip(face.way, face.middle, other.middle, strict=True))
        open_ = offs.moved(_corners(face.face), face.way)
        if turned > TURN or abs(high) > open_ + EXACT or abs(face.area - other.area) > _area_off(offs, face):
            found.append(f"{_flat_said(face)} rebuilt, {_flat_said(other)} in the STEP file")
    return found


def _flat_faces(shape: cq.Shape) -> list[_Flat]:
    faces = [face for face in shape.Faces() if face.geomType() == "PLANE"]
    return [_Flat(face.normalAt().toTuple(), face.Center().toTuple(), face.Area(), face) for face in faces]


def _flat_said(face: _Flat) -> str:
    return "flat face of {:.3f} mm2 about ({:.4f}, {:.4f}, {:.4f})".format(face.area, *face.middle)


def _area_off(offs: Offs, face: _Flat) -> float:
    """How much larger or smaller a flat face may be: each of its edges moves by what it may be off."""
    most = EXACT * 10.0
    for edge in face.face.Edges():
        if edge.geomType() == "CIRCLE":
            middle = edge.arcCenter().toTuple()
            across = tuple(0.0 if edge.IsClosed() else 1.0 - abs(way) for way in face.way)
            off = offs.of_radius(edge.radius()) + offs.moved([middle], (across[0], across[1], across[2]))
        else:
            off = offs.moved(_ends(edge), edge.tangentAt(0.0).cross(cq.Vector(*face.way)).toTuple())
        most += off * edge.Length()
    return most


def _unlike(a: _Flat, b: _Flat) -> float:
    turned = sum(abs(p - q) for p, q in zip(a.way, b.way, strict=True))
    return 1e3 * turned + sum(abs(p - q) for p, q in zip(a.middle, b.middle, strict=True))


def _face_off(offs: Offs, face: cq.Face) -> float:
    """How far a face may move."""
    middle = face.Center().toTuple()
    if face.geomType() == "PLANE":
        return offs.moved(_corners(face), face.normalAt().toTuple())
    if face.geomType() == "CYLINDER":
        axis = face._geomAdaptor().Cylinder()
        at = axis.Location()
        moved = max(offs.along(n, value) for n, value in enumerate((at.X(), at.Y(), at.Z())))
        return offs.of_radius(axis.Radius()) + moved
    return sum(offs.along(axis, middle[axis]) for axis in range(3))


def _corners(face: cq.Face) -> list[Point]:
    """Ends of its straight edges, or its middle where it has none."""
    found = [end for edge in face.Edges() if edge.geomType() == "LINE" for end in _ends(edge)]
    return found or [face.Center().toTuple()]


def _ends(edge: cq.Edge) -> list[Point]:
    return [edge.startPoint().toTuple(), edge.endPoint().toTuple()]


# Cones


def _cones(offs: Offs, rebuilt: cq.Shape, step: cq.Shape) -> list[str]:
    ours, theirs = ([_tip(face) for face in body.Faces() if face.geomType() == "CONE"] for body in (rebuilt, step))
    if len(ours) != len(theirs):
        return [f"{len(ours)} cones rebuilt, {len(theirs)} in the STEP file"]
    found = []
    for at, angle in ours:
        other = min(theirs, key=lambda one: sum(abs(p - q) for p, q in zip(one[0], at, strict=True)))
        theirs.remove(other)
        limits = [offs.along(axis, at[axis]) for axis in range(3)]
        limits = [limit + max((one.off for one in offs.radii), default=0.0) for limit in limits]
        if abs(angle - other[1]) > 1e-4 or any(
            abs(p - q) > d + EXACT for p, q, d in zip(at, other[0], limits, strict=True)
        ):
            found.append(f"cone to {at} rebuilt, to {other[0]} in the STEP file")
    return found


def _tip(face: cq.Face) -> tuple[Point, float]:
    cone = face._geomAdaptor().Cone()
    at = cone.Apex()
    return (at.X(), at.Y(), at.Z()), abs(cone.SemiAngle())
