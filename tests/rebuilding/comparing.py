"""Compare a rebuilt bar with the STEP file of the same design, size by size, within what the figures allow.

A length written to a last place stands for any length within half a unit of it. So the ends of a hole may differ by
the halves of its place, and along Z by the half of its depth and of the thickness, whose top face depths count from.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import cadquery as cq

from tests.kernel_reading import RoundFace, box, round_faces
from tests.rebuilding.bar_reading import ReadBar, ReadHole
from tests.rebuilding.rebuilt import build, volume_limits
from tests.rebuilding.wording import Size

Point = tuple[float, float, float]
EXACT = 1e-6
"""What the kernel and the file's own figures may be off beside, mm."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """How two bars differ.

    Attributes:
        differences: each that the written figures do not explain.
        volume_off: difference of volume as a share of what the figures allow, 0 to 1 where they explain it.
    """

    differences: tuple[str, ...]
    volume_off: float


def compare(bar: ReadBar, step: cq.Shape) -> Outcome:
    """Say how the bar as read differs from the solid of a STEP file."""
    rebuilt = build(bar)
    found = [*_boxes(bar, rebuilt, step), *_rims(bar, step), *_rounds(bar, rebuilt, step), *_cones(bar, rebuilt, step)]
    least, most = volume_limits(bar)
    volume, true = rebuilt.Volume(), step.Volume()
    slack = EXACT * rebuilt.Area()
    allowed = max(most - volume, volume - least) + slack
    if not least - slack <= volume <= most + slack:
        found.append(f"rebuilt volume {volume:.3f} is not within the closed form's {least:.3f} to {most:.3f} mm3")
    if abs(true - volume) > allowed:
        found.append(f"volume {volume:.3f} rebuilt, {true:.3f} in the STEP file, {allowed:.3f} mm3 allowed")
    return Outcome(tuple(found), abs(true - volume) / allowed)


def _boxes(bar: ReadBar, rebuilt: cq.Shape, step: cq.Shape) -> list[str]:
    offs = (bar.length.off, bar.width.off, bar.thickness.off)
    (low, high), (step_low, step_high) = box(rebuilt), box(step)
    return [
        f"{name}: {a:.4f} to {b:.4f} rebuilt, {c:.4f} to {d:.4f} in the STEP file"
        for name, off, a, b, c, d in zip("XYZ", offs, low, high, step_low, step_high, strict=True)
        if abs(a - c) > EXACT or abs(b - d) > off + EXACT
    ]


def _rims(bar: ReadBar, step: cq.Shape) -> list[str]:
    """Each leg of the chamfer in the STEP file: how far the flat faces stay inside of the box around all."""
    low, high = box(step)
    found = []
    for axis, name in enumerate("XYZ"):
        ways = [0, 1, 2]
        ways.remove(axis)
        for level in (low[axis], high[axis]):
            inner = _flat_faces(step, axis, level)
            for way in ways:
                legs = inner[0][way] - low[way], high[way] - inner[1][way]
                found += [
                    f"chamfer {bar.chamfer.value:.4f} read, {leg:.4f} along {'XYZ'[way]} at the face {name} {level:.3f}"
                    for leg, wanted in zip(legs, _legs(bar, axis, way), strict=True)
                    if abs(leg - wanted) > bar.chamfer.off + EXACT
                ]
    return found


def _legs(bar: ReadBar, axis: int, way: int) -> tuple[float, float]:
    """What is taken off a face toward both sides: upright edges keep sharp, all edges of top and bottom are broken."""
    leg = bar.chamfer.value if 2 in (axis, way) else 0.0
    return leg, leg


def _flat_faces(step: cq.Shape, axis: int, level: float) -> tuple[Point, Point]:
    """Box around all flat faces at a level along an axis; a wide hole may part a face in two."""
    faces = [face for face in step.Faces() if face.geomType() == "PLANE"]
    return box(cq.Compound.makeCompound([f for f in faces if abs(f.Center().toTuple()[axis] - level) < EXACT]))


# Round walls: drilled, bored, and the half round ends of slots


@dataclass(frozen=True, slots=True)
class _Allowed:
    """How far a round wall may be off: its axis along X and Y, its radius, its ends along Z."""

    x: float
    y: float
    radius: float
    z: float


def _rounds(bar: ReadBar, rebuilt: cq.Shape, step: cq.Shape) -> list[str]:
    ours, theirs = list(round_faces(rebuilt)), list(round_faces(step))
    found = []
    if len(ours) != len(theirs):
        found.append(f"{len(ours)} round walls rebuilt, {len(theirs)} in the STEP file")
    for wall in ours:
        if not theirs:
            break
        other = min(theirs, key=lambda face: _away(face, wall))
        theirs.remove(other)
        hole = _hole_at(bar, wall)
        if not _close(wall, other, _allowed(hole, bar)):
            found.append(f"hole {hole.tag}: {_said(wall)} rebuilt, {_said(other)} in the STEP file")
    return found


def _away(a: RoundFace, b: RoundFace) -> float:
    """How unlike two walls are: differences of ends, radii and sweeps together."""
    ends = sum(
        abs(u - v) for one, other in ((a.start, b.start), (a.end, b.end)) for u, v in zip(one, other, strict=True)
    )
    return ends + abs(a.radius - b.radius) + abs(a.sweep - b.sweep)


def _hole_at(bar: ReadBar, wall: RoundFace) -> ReadHole:
    x, y, _ = wall.start
    return min(bar.holes, key=lambda hole: (hole.x.value - x) ** 2 + (hole.y.value - y) ** 2)


def _allowed(hole: ReadHole, bar: ReadBar) -> _Allowed:
    sizes = hole.sizes
    widths = [_off(size) / 2.0 for size in (sizes.across, sizes.bore)]
    lengths = [_off(size) / 2.0 for size in (sizes.long, sizes.bore_long)]
    end = max(lengths) + max(widths) if any(lengths) else 0.0  # a slot's ends lie half (long - across) off its middle
    depths = max(_off(sizes.deep), _off(sizes.bore_deep))
    return _Allowed(hole.x.off + end, hole.y.off, max(widths), bar.thickness.off + depths)


def _off(size: Size | None) -> float:
    return 0.0 if size is None else size.off


def _close(a: RoundFace, b: RoundFace, allowed: _Allowed) -> bool:
    return (
        all(_axis_close(u, v, allowed) for u, v in ((a.start, b.start), (a.end, b.end)))
        and abs(a.radius - b.radius) <= allowed.radius + EXACT
        and abs(a.sweep - b.sweep) < 1e-3
        and a.hollow == b.hollow
    )


def _axis_close(a: tuple[float, ...], b: tuple[float, ...], allowed: _Allowed) -> bool:
    limits = (allowed.x, allowed.y, allowed.z)
    return all(abs(u - v) <= limit + EXACT for u, v, limit in zip(a, b, limits, strict=True))


def _said(wall: RoundFace) -> str:
    ends = " to ".join("({:.4f}, {:.4f}, {:.4f})".format(*end) for end in (wall.start, wall.end))
    return f"radius {wall.radius:.4f} from {ends}"


# Drill points and countersinks


def _cones(bar: ReadBar, rebuilt: cq.Shape, step: cq.Shape) -> list[str]:
    ours, theirs = (
        sorted(_tip(face) for face in body.Faces() if face.geomType() == "CONE") for body in (rebuilt, step)
    )
    if len(ours) != len(theirs):
        return [f"{len(ours)} drill points rebuilt, {len(theirs)} in the STEP file"]
    found = []
    for ax, ay, az, angle in ours:
        bx, by, bz, other = min(theirs, key=lambda t: (t[0] - ax) ** 2 + (t[1] - ay) ** 2)
        hole = min(bar.holes, key=lambda h: (h.x.value - ax) ** 2 + (h.y.value - ay) ** 2)
        allowed = _allowed(hole, bar)
        allowed = replace(allowed, z=allowed.z + allowed.radius)  # no point of 90 degrees or more is higher than that
        if not _axis_close((ax, ay, az), (bx, by, bz), allowed) or abs(angle - other) > 1e-4:
            found.append(f"hole {hole.tag}: drill point at {az:.4f} rebuilt, {bz:.4f} in the STEP file")
    return found


def _tip(face: cq.Face) -> tuple[float, float, float, float]:
    """Apex of a cone, and its half angle, radians."""
    cone = face._geomAdaptor().Cone()
    at = cone.Apex()
    return at.X(), at.Y(), at.Z(), abs(cone.SemiAngle())
