"""What the places of a piece's holes are measured from, and the circles they stand on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import atan2, cos, degrees, dist, isclose, radians, sin

from slotwright.drawings.shapes.likeness import SAME as SAME
from slotwright.drawings.shapes.likeness import Key, alike
from slotwright.drawings.shapes.reading_outlines import Form, read, symmetric_about
from slotwright.pieces.faces import Face, plane_axes
from slotwright.pieces.features import Groove, Hole, Pocket, Purpose, Tenon
from slotwright.pieces.hole_groups import hole_groups
from slotwright.pieces.outline import Outline
from slotwright.pieces.piece import Piece
from slotwright.pieces.segment import Point

ANGLE_PLACES = 3  # decimals of a hole's direction on its circle, degrees; our choice


@dataclass(frozen=True, slots=True)
class Origin:
    """Where X and Y (and for sides Z) are counted from, piece frame.

    Attributes:
        x, y: mm.
        central: it is a centre, not the datum corner.
        middle: it is the middle of the piece both ways, so that nothing needs to locate it.
        name: what the sheet calls it; one that is not the middle by the feature that has it.
    """

    x: float
    y: float
    central: bool
    middle: bool = False
    name: str = "CENTRE"

    def on(self, face: Face) -> Point:
        """Return it in a face's own coordinates; heights are counted from the bottom face."""
        place = (self.x, self.y, 0.0)
        first, second = plane_axes(face.axis)
        return place[first], place[second]


@dataclass(frozen=True, slots=True)
class BoltCircle:
    """A circle on which holes stand.

    Attributes:
        centre: in the piece's X, Y.
        diameter: mm.
        holes: those on it.
    """

    centre: Point
    diameter: float
    holes: tuple[Hole, ...]

    def angle(self, hole: Hole) -> float:
        """Direction of a hole from the centre, degrees from X, counter-clockwise seen from above, below 360."""
        turn = degrees(atan2(hole.y - self.centre[1], hole.x - self.centre[0])) % 360.0
        return round(turn, 6) % 360.0


def flat(hole: Hole) -> bool:
    """Say whether a hole starts in the top or the bottom face."""
    return not hole.face.upright


def bolt_circles(piece: Piece) -> tuple[BoltCircle, ...]:
    """Return the circles that holes of a piece stand on, each once, the smallest first."""
    found: dict[tuple[float, float, float], list[Hole]] = {}
    # Two holes across the middle are a circle's only where the piece is set up by its centre; else they are a row.
    least = 2 if piece.centre is not None and piece.blank.plan.diameter is not None else 3
    for group in hole_groups(piece):
        holes = [one.hole for one in group.holes if flat(one.hole) and one.hole.slot_extra == 0.0]
        for centre in _centres(piece):
            for radius, ring in _rings(holes, centre).items():
                if _evenly(ring, centre) and len(ring) >= least:
                    key = (round(centre[0], 4), round(centre[1], 4), round(2.0 * radius, 4))
                    found.setdefault(key, []).extend(ring)
                    holes = [hole for hole in holes if hole not in ring]
    circles = [BoltCircle((x, y), diameter, tuple(holes)) for (x, y, diameter), holes in found.items()]
    return tuple(sorted(circles, key=lambda c: c.diameter))


def circle_of(hole: Hole, circles: Iterable[BoltCircle]) -> BoltCircle | None:
    """Return the circle a hole stands on, or None."""
    return next((circle for circle in circles if hole in circle.holes), None)


def _centres(piece: Piece) -> list[Point]:
    """Places that holes may stand round: the middle of a round blank, registers, the only bore."""
    found: list[Point] = []
    if piece.blank.plan.diameter is not None:
        found.append(piece.blank.plan.centroid)
    shaped: tuple[Pocket | Tenon, ...] = (*piece.pockets, *piece.tenons)
    for feature in shaped:
        if not feature.face.upright and feature.outline.diameter is not None:
            found.append(feature.outline.centroid)
    sizes = [hole.widest for hole in piece.holes if flat(hole)]
    for group in hole_groups(piece):
        one = group.size
        alone = len(group.holes) == 1 and flat(one)
        if alone and (
            one.purpose is Purpose.REGISTER or one.widest > 1.2 * max([0.0, *(s for s in sizes if s < one.widest)])
        ):
            found.append((one.x, one.y))
    unlike: list[Point] = []
    for point in found:
        if all(dist(point, other) > SAME for other in unlike):
            unlike.append(point)
    return unlike


def _rings(holes: Iterable[Hole], centre: Point) -> dict[float, list[Hole]]:
    rings: dict[float, list[Hole]] = {}
    for hole in holes:
        radius = dist((hole.x, hole.y), centre)
        if radius < SAME:
            continue
        known = next((r for r in rings if abs(r - radius) < SAME), radius)
        rings.setdefault(known, []).append(hole)
    return rings


def _evenly(ring: list[Hole], centre: Point) -> bool:
    turns = sorted(degrees(atan2(hole.y - centre[1], hole.x - centre[0])) % 360.0 for hole in ring)
    steps = [b - a for a, b in zip(turns, [*turns[1:], turns[0] + 360.0], strict=True)]
    return all(isclose(step, 360.0 / len(ring), abs_tol=1e-2) for step in steps)


# Origin


def origin_of(piece: Piece) -> Origin:
    """Return what places are measured from: the centre a piece is set up by, the middle of round and of symmetric
    pieces, the centre of a bolt circle, else the datum corner.
    """
    plan = piece.blank.plan
    x0, y0, x1, y1 = plan.bounds
    middle = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    if piece.centre is not None:
        return _central(piece, piece.centre, middle)
    if read(plan).form in (Form.CIRCLE, Form.OBROUND):
        return Origin(*middle, True, True)
    circles = bolt_circles(piece)
    if circles:
        widest = max(circles, key=lambda c: len(c.holes))
        return _central(piece, widest.centre, middle)
    if _symmetric(piece, 0, middle[0]) and _symmetric(piece, 1, middle[1]):
        return Origin(*middle, True, True)
    return Origin(0.0, 0.0, False, name="DATUM CORNER")


def _central(piece: Piece, centre: Point, middle: Point) -> Origin:
    if dist(centre, middle) < SAME:
        return Origin(*middle, True, True)
    return Origin(*centre, True, name=f"{_owner(piece, centre)}'S CENTRE")


def _owner(piece: Piece, centre: Point) -> str:
    """What is there to set a place of the plan up by."""
    widest = max((hole.widest for hole in piece.holes if flat(hole)), default=0.0)
    if any(flat(hole) and hole.widest == widest and dist((hole.x, hole.y), centre) < SAME for hole in piece.holes):
        return "BORE"
    shaped: tuple[Pocket | Tenon, ...] = (*piece.tenons, *piece.pockets)
    for one in shaped:
        if not one.face.upright and dist(one.outline.centroid, centre) < SAME:
            return one.label.upper() or ("BOSS" if isinstance(one, Tenon) else "RECESS")
    return "BOLT CIRCLE"


def _symmetric(piece: Piece, axis: int, at: float) -> bool:
    """Say whether outline and all features are their own mirror image in X (axis 0) or Y (axis 1)."""
    if not symmetric_about(piece.blank.plan, axis, at):
        return False
    if axis == 1 and hasattr(piece.blank, "profile") and not symmetric_about(piece.blank.profile, 0, at):
        return False
    for face in Face:
        axes = plane_axes(face.axis)
        if axis not in axes:
            continue
        own = axes.index(axis)
        holes = [hole for hole in piece.holes if hole.face is face]
        every: tuple[Pocket | Tenon, ...] = (*piece.pockets, *piece.tenons)
        shaped = [feature for feature in every if feature.face is face]
        grooves = [groove for groove in piece.grooves if groove.face is face]
        if not (
            alike(map(_hole_key, holes), (_hole_key(_mirrored_hole(hole, own, at)) for hole in holes))
            and alike(
                (_shape_key(one, one.outline) for one in shaped),
                (_shape_key(one, _mirrored(one.outline, own, at)) for one in shaped),
            )
            and alike(map(_groove_key, grooves), (_groove_key(_mirrored_groove(one, own, at)) for one in grooves))
        ):
            return False
    return True


def _hole_key(hole: Hole) -> Key:
    plain = replace(hole, x=0.0, y=0.0, slot_angle=0.0, label="", note="", tables=(), purpose=Purpose.WORK,
                    revised="")  # fmt: skip
    turn = radians(2.0 * hole.slot_angle) if hole.slot_extra else 0.0
    return plain, (hole.x, hole.y, cos(turn), sin(turn))


def _mirrored_hole(hole: Hole, own: int, at: float) -> Hole:
    if own == 0:
        return replace(hole, x=2.0 * at - hole.x, slot_angle=-hole.slot_angle)
    return replace(hole, y=2.0 * at - hole.y, slot_angle=-hole.slot_angle)


def _mirrored(outline: Outline, own: int, at: float) -> Outline:
    points = [(2.0 * at - x, y) if own == 0 else (x, 2.0 * at - y) for x, y in reversed(outline.points)]
    bulges = (*reversed(outline.bulges[:-1]), outline.bulges[-1])
    return Outline(tuple(points), bulges)


def _shape_key(feature: Pocket | Tenon, outline: Outline) -> Key:
    deep = feature.depth if isinstance(feature, Pocket) else feature.height
    kind = (type(feature), deep, feature.length_limits, feature.width_limits)
    return kind, (*outline.centroid, *outline.bounds, outline.area)


def _mirrored_groove(groove: Groove, own: int, at: float) -> Groove:
    if (groove.along == "x") == (own == 1):
        return replace(groove, centre=2.0 * at - groove.centre)
    start = None if groove.end is None else 2.0 * at - groove.end
    end = None if groove.start is None else 2.0 * at - groove.start
    return replace(groove, start=start, end=end)


def _groove_key(groove: Groove) -> Key:
    kind = (groove.along, groove.width, groove.depth, groove.start is None, groove.end is None, groove.width_limits)
    return kind, (groove.centre, groove.start or 0.0, groove.end or 0.0)
