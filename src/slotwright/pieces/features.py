"""Features of a made piece, each on a named face at a place measured from the face's datum corner.

Piece frame: origin at the datum corner (lower left of the plan view), X along the length, Y across, Z up from the
bottom face. All lengths are mm, all angles degrees.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import pi, radians, tan

from slotwright.parts.threads import Thread


class Face(StrEnum):
    """The faces of a blank. On TOP and BOTTOM a feature's x, y are the piece's own X, Y."""

    TOP = "top"
    BOTTOM = "bottom"


class Purpose(StrEnum):
    """What a hole is for; table holes carry the bolts that hold the piece to the table."""

    TABLE = "table"
    WORK = "work"


@dataclass(frozen=True, slots=True, kw_only=True)
class Counterbore:
    """A flat-bottomed enlargement at the face where the hole starts."""

    diameter: float
    depth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Ream:
    """A reamed size with its limits: deviations from the hole's diameter, mm, and the class they come from."""

    tolerance: str
    upper: float
    lower: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A drilled, tapped, reamed, counterbored or slotted hole.

    Attributes:
        x, y: axis in the piece frame, mm; for a slotted hole the middle of the slot.
        face: where it starts.
        diameter: finished plain diameter, mm; for a tapped hole the tap drill.
        depth: from the face to the shoulder of the drill point, mm; None goes through.
        point_angle: drill point of a blind hole, degrees; 180 is flat.
        thread: the thread, or None.
        thread_depth: full thread from the face, mm; None goes as deep as the hole.
        ream: limits of a reamed hole, or None.
        counterbore: enlargement at the start, or None.
        slot_extra: distance between the two end centres of a slotted hole, mm; 0 is a round hole.
        slot_angle: direction of the slot from X, degrees.
        position_tolerance: diameter of the position tolerance zone, mm, or None.
        purpose: table or work.
        tables: names of the tables it serves, where a piece serves several; else empty.
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
    slot_extra: float = 0.0
    slot_angle: float = 0.0
    position_tolerance: float | None = None
    purpose: Purpose = Purpose.WORK
    tables: tuple[str, ...] = ()

    @property
    def widest(self) -> float:
        """Largest diameter the hole has anywhere, mm, threads and counterbore included."""
        sizes = [self.diameter]
        if self.thread is not None:
            sizes.append(self.thread.major)
        if self.counterbore is not None:
            sizes.append(self.counterbore.diameter)
        return max(sizes)

    @property
    def point_length(self) -> float:
        """Height of the drill point below the shoulder, mm: (d / 2) / tan(angle / 2).

        0 for a through hole, and for a slotted one, which is milled and has a flat floor.
        """
        if self.depth is None or self.slot_extra > 0.0 or self.point_angle >= 180.0:
            return 0.0
        return self.diameter / 2.0 / tan(radians(self.point_angle / 2.0))

    def removed(self, thickness: float) -> float:
        """Volume it takes from solid metal of this thickness, mm3, the thread modelled at the tap drill's size."""
        depth = thickness if self.depth is None else self.depth
        volume = (pi / 4.0 * self.diameter**2 + self.slot_extra * self.diameter) * depth
        volume += pi / 12.0 * self.diameter**2 * self.point_length
        if self.counterbore is not None:
            bore = self.counterbore
            volume += pi / 4.0 * (bore.diameter**2 - self.diameter**2) * bore.depth
            volume += self.slot_extra * (bore.diameter - self.diameter) * bore.depth
        return volume
