"""How a machinist reads an outline: its sharp corners, what rounds or breaks them, and a V cut into it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from math import atan2, degrees, dist, pi

from slotwright.drawings.shapes.likeness import Key, alike
from slotwright.pieces.outline import Outline
from slotwright.pieces.segment import Point, Segment

NEAR = 1e-6
SMALL_PART = 0.25  # a chamfer's leg is no more of the outline's narrow side; our choice


class Form(StrEnum):
    """What an outline is called."""

    CIRCLE = "circle"
    OBROUND = "obround"
    RECTANGLE = "rectangle"
    POLYGON = "polygon"
    FREE = "free"


@dataclass(frozen=True, slots=True)
class Vee:
    """A V in an outline that opens upwards.

    Attributes:
        right, left: its lips.
        angle: included, degrees.
        vertex: where its flanks would meet.
        relief: corners of a slot at its root, from right to left: wall top, floor, floor, wall top; or empty.
    """

    right: Point
    left: Point
    angle: float
    vertex: Point
    relief: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Reading:
    """An outline as it is dimensioned.

    Attributes:
        form: what it is.
        corners: sharp corners, counter-clockwise, without those of a V's inside; empty for circle, obround, free.
        fillets: radius and sides of each different one.
        chamfers: leg and sides of each different one.
        angle: of an obround's length from x, degrees.
        vee: a V, or None.
    """

    form: Form
    corners: tuple[Point, ...] = ()
    fillets: tuple[tuple[float, tuple[Segment, ...]], ...] = ()
    chamfers: tuple[tuple[float, tuple[Segment, ...]], ...] = ()
    angle: float = 0.0
    vee: Vee | None = None


def read(outline: Outline) -> Reading:
    """Read an outline."""
    if outline.diameter is not None:
        return Reading(Form.CIRCLE)
    angle = _obround_angle(outline)
    if angle is not None:
        return Reading(Form.OBROUND, angle=angle)
    vee, kept = _without_vee(outline.segments)
    fillets: dict[float, list[Segment]] = {}
    chamfers: dict[float, list[Segment]] = {}
    corners: list[Point] = []
    narrow = min(outline.size)
    for n, (here, inner) in enumerate(kept):
        if inner:
            continue
        before, after = kept[n - 1][0], kept[(n + 1) % len(kept)][0]
        met = _would_meet(before, after) if not kept[n - 1][1] and not kept[(n + 1) % len(kept)][1] else None
        if here.bulge:
            if met is None or not _tangent(before, here) or not _tangent(here, after):
                return Reading(Form.FREE)
            fillets.setdefault(round(here.radius, 5), []).append(here)
            corners.append(met)
        elif met is not None and (leg := _chamfer_leg(before, here, after, narrow)) is not None:
            chamfers.setdefault(leg, []).append(here)
            corners.append(met)
        elif not before.bulge and not kept[n - 1][1] and not _is_chamfer(kept, n - 1, narrow):
            corners.append(here.start)
    return Reading(
        _form(corners, vee),
        tuple(corners),
        tuple((r, tuple(sides)) for r, sides in sorted(fillets.items())),
        tuple((leg, tuple(sides)) for leg, sides in sorted(chamfers.items())),
        vee=vee,
    )


def _form(corners: list[Point], vee: Vee | None) -> Form:
    xs, ys = {round(x, 5) for x, _ in corners}, {round(y, 5) for _, y in corners}
    if vee is None and len(corners) == 4 and len(xs) == len(ys) == 2:
        return Form.RECTANGLE
    return Form.POLYGON


def _obround_angle(outline: Outline) -> float | None:
    """Direction of an obround's length, or None for anything else."""
    sides = outline.segments
    if len(sides) != 4:
        return None
    arcs, straight = [s for s in sides if s.bulge], [s for s in sides if not s.bulge]
    if len(arcs) != 2 or any(abs(s.bulge - 1.0) > 1e-6 for s in arcs) or (sides[0].bulge and sides[1].bulge):
        return None
    (x0, y0), (x1, y1) = straight[0].start, straight[0].end
    return round(degrees(atan2(y1 - y0, x1 - x0)) % 180.0, 6) % 180.0


def _along_axis(side: Segment) -> bool:
    dx, dy = side.way(0.5)
    return not side.bulge and min(abs(dx), abs(dy)) < NEAR


def _tangent(a: Segment, b: Segment) -> bool:
    (ax, ay), (bx, by) = a.way(1.0), b.way(0.0)
    return abs(ax * by - ay * bx) < 1e-5


def _would_meet(a: Segment, b: Segment) -> Point | None:
    """Where two straight sides meet when they are made longer."""
    if a.bulge or b.bulge:
        return None
    (ax, ay), (bx, by) = a.way(0.0), b.way(0.0)
    cross = ax * by - ay * bx
    if abs(cross) < 1e-6:
        return None
    share = ((b.start[0] - a.start[0]) * by - (b.start[1] - a.start[1]) * bx) / cross
    return a.start[0] + ax * share, a.start[1] + ay * share


def _chamfer_leg(before: Segment, here: Segment, after: Segment, narrow: float) -> float | None:
    if not (_along_axis(before) and _along_axis(after)) or _along_axis(here):
        return None
    dx, dy = abs(here.end[0] - here.start[0]), abs(here.end[1] - here.start[1])
    if abs(dx - dy) > 1e-5 or dx > SMALL_PART * narrow:
        return None
    return round(dx, 5)


def _is_chamfer(kept: list[tuple[Segment, bool]], n: int, narrow: float) -> bool:
    here = kept[n][0]
    before, after = kept[n - 1][0], kept[(n + 1) % len(kept)][0]
    if kept[n][1] or here.bulge:
        return False
    return _would_meet(before, after) is not None and _chamfer_leg(before, here, after, narrow) is not None


# V


def _without_vee(sides: tuple[Segment, ...]) -> tuple[Vee | None, list[tuple[Segment, bool]]]:
    """Find a V that opens upwards; sides inside it are marked."""
    count = len(sides)
    for n in range(count):
        for long in (1, 3, 4):
            run = [sides[(n + k) % count] for k in range(long + 1)]
            vee = _vee(run)
            if vee is not None:
                inside = {(n + k) % count for k in range(long + 1)}
                return vee, [(side, k in inside) for k, side in enumerate(sides)]
    return None, [(side, False) for side in sides]


def _vee(run: list[Segment]) -> Vee | None:
    first, last, between = run[0], run[-1], run[1:-1]
    if first.bulge or last.bulge or not all(_along_axis(side) for side in between):
        return None
    (ax, ay), (bx, by) = first.way(0.0), last.way(0.0)
    if not (ax < -0.05 and ay < -0.05 and abs(bx - ax) < 1e-6 and abs(by + ay) < 1e-6):
        return None
    if abs(first.start[1] - last.end[1]) > 1e-5 or first.start[0] <= last.end[0]:
        return None
    half = atan2(-ax, -ay)
    middle = (first.start[0] + last.end[0]) / 2.0
    deep = (first.start[0] - last.end[0]) / 2.0 / abs(ax) * abs(ay)
    relief = tuple(side.start for side in between) + ((between[-1].end,) if between else ())
    return Vee(first.start, last.end, round(degrees(2.0 * half), 6), (middle, first.start[1] - deep), relief)


def symmetric_about(outline: Outline, axis: int, at: float) -> bool:
    """Say whether an outline is its own mirror image about x = at (axis 0) or y = at (axis 1)."""
    mirrored = (_side_key(_mirror(side, axis, at)) for side in outline.segments)
    return alike(map(_side_key, outline.segments), mirrored)


def _mirror(side: Segment, axis: int, at: float) -> Segment:
    def over(point: Point) -> Point:
        return (2.0 * at - point[0], point[1]) if axis == 0 else (point[0], 2.0 * at - point[1])

    return Segment(over(side.end), over(side.start), side.bulge)


def _side_key(side: Segment) -> Key:
    return "", (*side.at(0.5), *side.start, *side.end)


def distinct(values: Iterable[float]) -> list[float]:
    """Return values in rising order, those that are equal once."""
    found: list[float] = []
    for value in sorted(values):
        if not found or value - found[-1] > 1e-5:
            found.append(value)
    return found


def round_parts(outline: Outline) -> list[Segment]:
    """Return the arcs of an outline."""
    return [side for side in outline.segments if side.bulge]


def turn_of(side: Segment) -> float:
    """Direction from an arc's centre to its middle, radians."""
    x, y = side.centre
    px, py = side.at(0.5)
    return atan2(py - y, px - x) % (2.0 * pi)


def same_place(a: Point, b: Point) -> bool:
    """Say whether two points are one."""
    return dist(a, b) < 1e-5
