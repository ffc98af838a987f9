"""Features of a made piece, each on a named face at a place measured from the face's datum corner.

Piece frame: origin at the datum corner (lower left of the plan view), X along the length, Y across, Z up from the
bottom face. A place on a face is x, y in the face's own frame (see `slotwright.pieces.faces`): the piece's X, Y on top
and bottom, its X, Z at front and back, its Y, Z at the ends. All lengths are mm, all angles degrees.

A piece is thought of as made in this order: blank with its tenons, then grooves, then pockets, then holes. Depths are
measured from the surface that is there before the cut: a pocket or hole in a pocket's floor starts at that floor, one
on a tenon at the tenon's end.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import pi, radians, tan
from typing import Literal, TypeAlias

from slotwright.errors import SlotwrightError
from slotwright.parts.threads import Thread
from slotwright.pieces.faces import Face as Face
from slotwright.pieces.outline import Outline, circle, obround
from slotwright.pieces.segment import SAME_POINT

Along: TypeAlias = Literal["x", "y"]


class FeatureError(SlotwrightError, ValueError):
    """A feature or blank that can't be made as it is described."""


class Purpose(StrEnum):
    """What a hole is for.

    Table holes carry the bolts that hold the piece to the table. A nut's is the thread of a T-nut, whose thin walls are
    judged by the rule of T-nuts.
    """

    TABLE = "table"
    WORK = "work"
    SCREW = "screw"
    DOWEL = "dowel"
    BUSH = "bush"
    STOP = "stop"
    REGISTER = "register"
    RELIEF = "relief"
    NUT = "nut"


@dataclass(frozen=True, slots=True, kw_only=True)
class Counterbore:
    """A flat-bottomed enlargement at the face where the hole starts."""

    diameter: float
    depth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Countersink:
    """A conical enlargement: its diameter at the face where the hole starts, and the whole angle of its cone."""

    diameter: float
    angle: float = 90.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Limits of a size: deviations from it, mm, and the class they come from ("" when given by number)."""

    tolerance: str
    upper: float
    lower: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Ream(Limits):
    """A reamed size with its limits: deviations from the hole's diameter, mm, and the class they come from."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A drilled, tapped, reamed, counterbored, countersunk or slotted hole.

    Attributes:
        x, y: axis in the frame of its face, mm; for a slotted hole the middle of the slot.
        face: where it starts.
        diameter: finished plain diameter, mm; for a tapped hole the tap drill.
        depth: from the surface to the shoulder of the drill point, mm; None goes through all metal on its axis.
        point_angle: drill point of a blind hole, degrees; 180 is flat.
        thread: the thread, or None.
        thread_depth: full thread from the surface, mm; None goes as deep as the hole.
        ream: limits of a reamed hole, or None.
        counterbore: enlargement at the start, or None.
        countersink: conical enlargement at the start, or None; not beside a counterbore, nor on a slotted hole.
        slot_extra: distance between the two end centres of a slotted hole, mm; 0 is a round hole.
        slot_angle: direction of the slot from the face's x, degrees.
        position_tolerance: diameter of the position tolerance zone, mm, or None.
        purpose: what it is for.
        tables: names of the tables it serves, where a piece serves several; else empty.
        label: its own name on the piece, such as "C4" in a grid, or "" for a tag that is given to it.
        note: what its callout adds; "" when nothing.
        revised: index of the revision that moved or changed it last, for drawings to mark; "" for none.
    """

    x: float
    y: float
    face: Face = Face.TOP
    diameter: float
    depth: float | None = None
    point_angle: float = 118.0
    thread: Thread | None = None
    thread_depth: float | None = None
    ream: Ream | None = None
    counterbore: Counterbore | None = None
    countersink: Countersink | None = None
    slot_extra: float = 0.0
    slot_angle: float = 0.0
    position_tolerance: float | None = None
    purpose: Purpose = Purpose.WORK
    tables: tuple[str, ...] = ()
    label: str = ""
    note: str = ""
    revised: str = ""

    def __post_init__(self) -> None:
        if self.countersink is None:
            return
        if self.counterbore is not None or self.slot_extra > 0.0:
            raise FeatureError("a countersink stands on a round hole without a counterbore; leave one of them out")
        if not self.countersink.diameter > self.diameter or not 0.0 < self.countersink.angle < 180.0:
            raise FeatureError("a countersink is wider than its hole and its angle is between 0 and 180 degrees")

    @property
    def widest(self) -> float:
        """Largest diameter the hole has anywhere, mm, threads and enlargements included."""
        sizes = [self.diameter]
        if self.thread is not None:
            sizes.append(self.thread.major)
        if self.counterbore is not None:
            sizes.append(self.counterbore.diameter)
        if self.countersink is not None:
            sizes.append(self.countersink.diameter)
        return max(sizes)

    @property
    def point_length(self) -> float:
        """Height of the drill point below the shoulder, mm: (d / 2) / tan(angle / 2).

        0 for a through hole, and for a slotted one, which is milled and has a flat floor.
        """
        if self.depth is None or self.slot_extra > 0.0 or self.point_angle >= 180.0:
            return 0.0
        return self.diameter / 2.0 / tan(radians(self.point_angle / 2.0))

    @property
    def sink_depth(self) -> float:
        """Depth of the countersink where it meets the bore, mm; 0 without one."""
        if self.countersink is None:
            return 0.0
        return (self.countersink.diameter - self.diameter) / 2.0 / tan(radians(self.countersink.angle / 2.0))

    @property
    def area(self) -> float:
        """Area of the plain bore or slot, mm2."""
        return pi / 4.0 * self.diameter**2 + self.slot_extra * self.diameter

    @property
    def outline(self) -> Outline:
        """What the hole shows on its face at its widest."""
        if self.slot_extra == 0.0:
            return circle(self.widest, (self.x, self.y))
        return obround(self.widest + self.slot_extra, self.widest, (self.x, self.y), self.slot_angle)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pocket:
    """A pocket, recess, register bore or window with straight walls and a flat floor.

    Attributes:
        outline: in the frame of its face, counter-clockwise; corners as round as its cutter leaves them.
        face: where it starts.
        depth: from the surface to the floor, mm; None goes through.
        length_limits, width_limits: limits of the outline's size along the face's x and y, or None; of a round pocket
            the first is its diameter's.
        label: what it is for, such as "register"; "" when it needs no name.
        note: what its callout adds.
    """

    outline: Outline
    face: Face = Face.TOP
    depth: float | None
    length_limits: Limits | None = None
    width_limits: Limits | None = None
    label: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Groove:
    """A straight groove of rectangular section across a face; one that overlaps the edge is a step.

    Attributes:
        face: where it is cut.
        along: which coordinate of the face it runs along.
        centre: its centre line's other coordinate, mm.
        width: mm.
        depth: from the face, mm.
        start, end: where its ends stand along it, mm, measured over the half-round that the cutter leaves; None runs
            out of the piece.
        width_limits: limits of its width, or None.
        label: what it is for, such as "key seat"; "" when it needs no name.
        note: what its callout adds.
    """

    face: Face = Face.TOP
    along: Along = "x"
    centre: float
    width: float
    depth: float
    start: float | None = None
    end: float | None = None
    width_limits: Limits | None = None
    label: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        if self.start is not None and self.end is not None and self.end - self.start < self.width:
            raise FeatureError("a groove closed at both ends is at least as long as its cutter is wide; use a hole")

    def outline(self, length: float) -> Outline:
        """Return it in the frame of its face, which is this long along the groove, mm."""
        low, high, r = self.start or 0.0, length if self.end is None else self.end, self.width / 2.0
        first = low if self.start is None else low + r
        last = high if self.end is None else high - r
        y0, y1 = self.centre - r, self.centre + r
        if last - first < SAME_POINT:
            shape = circle(self.width, ((first + last) / 2.0, self.centre))
        else:
            ends = (0.0 if self.end is None else 1.0), (0.0 if self.start is None else 1.0)
            shape = Outline(((first, y0), (last, y0), (last, y1), (first, y1)), (0.0, ends[0], 0.0, ends[1]))
        return shape if self.along == "x" else shape.swapped()


@dataclass(frozen=True, slots=True, kw_only=True)
class Tenon:
    """Metal that stands out of a face: a tenon, boss, register, key or pad with straight walls and a flat end.

    Attributes:
        outline: in the frame of its face, counter-clockwise.
        face: where it stands.
        height: above the surface there, mm; one tenon on another starts at the end of the one listed before.
        length_limits, width_limits: limits of the outline's size along the face's x and y, or None; of a round one the
            first is its diameter's.
        label: what it is for, such as "register"; "" when it needs no name.
        note: what its callout adds.
    """

    outline: Outline
    face: Face = Face.BOTTOM
    height: float
    length_limits: Limits | None = None
    width_limits: Limits | None = None
    label: str = ""
    note: str = ""
