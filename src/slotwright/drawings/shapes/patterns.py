"""What the places of a piece's holes are measured from, and the circles they stand on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import Enum
from math import atan2, degrees, dist, isclose

from slotwright.drawings.middles import MOST_PAIRS
from slotwright.drawings.shapes.likeness import SAME as SAME
from slotwright.drawings.shapes.reading_outlines import Form, read
from slotwright.drawings.shapes.symmetry import mirrors_itself
from slotwright.pieces.blanks import Extrusion
from slotwright.pieces.faces import Face, plane_axes
from slotwright.pieces.features import Hole, Pocket, Purpose, Tenon
from slotwright.pieces.hole_groups import hole_groups
from slotwright.pieces.piece import Piece
from slotwright.pieces.segment import Point

ANGLE_PLACES = 3  # decimals of a hole's direction on its circle, degrees; our choice


class Zero(Enum):
    """What an axis is counted from."""

    EDGE = "left end or front edge"
    MIDDLE = "middle of the piece"
    CENTRE = "centre of a feature"


@dataclass(frozen=True, slots=True)
class Origin:
    """Where X and Y (and for sides Z) are counted from, piece frame.

    Attributes:
        x, y: mm.
        along, across: what X, and Y, are counted from; an edge and a feature's centre never go together.
        name: what the sheet calls it; one that is not the middle by the feature that has it.
    """

    x: float
    y: float
    along: Zero
    across: Zero
    name: str = "CENTRE"

    @property
    def central(self) -> bool:
        """It is a centre, neither the datum corner nor a place on an edge."""
        return Zero.EDGE not in (self.along, self.across)

    @property
    def middle(self) -> bool:
        """It is the middle of the piece both ways, so that nothing needs to locate it."""
        return self.along is self.across is Zero.MIDDLE

    @property
    def ring(self) -> Point | None:
        """Where a ring marks it: at the datum corner or at the end of a centre line; a centre needs none."""
        return None if self.central else (self.x, self.y)

    def zero(self, axis: int) -> Zero:
        """What X (axis 0), Y or Z are counted from."""
        return (self.along, self.across, Zero.EDGE)[axis]

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
    pieces, the centre of a bolt circle, else the datum corner; or the middle one way and the edge the other way.
    """
    plan = piece.blank.plan
    x0, y0, x1, y1 = plan.bounds
    middle = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    if piece.centre is not None:
        return _central(piece, piece.centre, middle)
    if read(plan).form in (Form.CIRCLE, Form.OBROUND):
        return _central(piece, middle, middle)
    circles = bolt_circles(piece)
    if circles:
        widest = max(circles, key=lambda c: len(c.holes))
        return _central(piece, widest.centre, middle)
    alike = [mirrors_itself(piece, axis, middle[axis]) for axis in (0, 1)]
    if all(alike):
        return _central(piece, middle, middle)
    if alike[0] and _worth_a_middle(piece, 0, middle[0]):
        return Origin(middle[0], 0.0, Zero.MIDDLE, Zero.EDGE, "CENTRE LINE AND THE FRONT EDGE")
    if alike[1] and _worth_a_middle(piece, 1, middle[1]):
        return Origin(0.0, middle[1], Zero.EDGE, Zero.MIDDLE, "LEFT END AND THE CENTRE LINE")
    return Origin(0.0, 0.0, Zero.EDGE, Zero.EDGE, "DATUM CORNER")


def _central(piece: Piece, centre: Point, middle: Point) -> Origin:
    if dist(centre, middle) < SAME:
        return Origin(*middle, Zero.MIDDLE, Zero.MIDDLE)
    along, across = (
        Zero.MIDDLE if abs(centre[n] - middle[n]) < SAME and mirrors_itself(piece, n, middle[n]) else Zero.CENTRE
        for n in (0, 1)
    )
    return Origin(*centre, along, across, f"{_owner(piece, centre)}'S CENTRE")


def _worth_a_middle(piece: Piece, axis: int, at: float) -> bool:
    """Say whether something stands on or off the middle of a piece, and at no more distances than are read well."""
    apart = {round(abs(place - at), 4) for place in _places(piece, axis)}
    return bool(apart) and len(apart - {0.0}) <= MOST_PAIRS


def _places(piece: Piece, axis: int) -> Iterator[float]:
    """Where holes and features stand along X (axis 0) or Y, and the corners of an outline that goes by them."""
    for hole in piece.holes:
        own = plane_axes(hole.face.axis)
        if axis in own:
            yield (hole.x, hole.y)[own.index(axis)]
    shaped: tuple[Pocket | Tenon, ...] = (*piece.pockets, *piece.tenons)
    for one in shaped:
        own = plane_axes(one.face.axis)
        if axis in own:
            yield one.outline.centroid[own.index(axis)]
    for groove in piece.grooves:
        own = plane_axes(groove.face.axis)
        if axis in own:
            across = (groove.along == "x") == (own.index(axis) == 1)
            yield from (at for at in ((groove.centre,) if across else (groove.start, groove.end)) if at is not None)
    reading = read(piece.blank.plan)
    if reading.form is Form.POLYGON and not isinstance(piece.blank, Extrusion):
        ends = piece.blank.plan.bounds[axis::2]
        yield from (corner[axis] for corner in reading.corners if all(abs(corner[axis] - end) > SAME for end in ends))


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
