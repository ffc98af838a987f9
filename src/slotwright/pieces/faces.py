"""The six faces of a piece's bounding box, and how places on them are measured.

A place on a face is given along the two axes of the piece frame that the face contains, in their order: X and Y on top
and bottom, X and Z at front and back, Y and Z at the left and right end. So a coordinate means the same seen from
either side; whoever looks at the bottom, the back or the left end from outside sees it mirrored.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

Vector = tuple[float, float, float]


class Face(StrEnum):
    """Faces of a piece as it lies in the piece frame: front is where Y is 0, left where X is 0."""

    TOP = "top"
    BOTTOM = "bottom"
    FRONT = "front"
    BACK = "back"
    LEFT = "left"
    RIGHT = "right"

    @property
    def axis(self) -> int:
        """Axis of the piece frame the face is square to: 0 for X, 1 for Y, 2 for Z."""
        return _AXES[self]

    @property
    def far(self) -> bool:
        """Whether the face lies at the far end of its axis: top, back and right do."""
        return self in (Face.TOP, Face.BACK, Face.RIGHT)

    @property
    def upright(self) -> bool:
        """Whether it is a side or an end, not top or bottom."""
        return self.axis != 2


_AXES = {Face.TOP: 2, Face.BOTTOM: 2, Face.FRONT: 1, Face.BACK: 1, Face.LEFT: 0, Face.RIGHT: 0}


@dataclass(frozen=True, slots=True)
class Frame:
    """A face's own frame in the piece frame.

    Attributes:
        origin: where the face's coordinates are zero.
        u, v: directions of the first and the second coordinate.
        inward: direction into the metal, along which depths are measured.
    """

    origin: Vector
    u: Vector
    v: Vector
    inward: Vector

    def point(self, u: float, v: float, depth: float = 0.0) -> Vector:
        """Take a place on the face, at a depth below it, into the piece frame."""
        x, y, z = (
            o + u * a + v * b + depth * c for o, a, b, c in zip(self.origin, self.u, self.v, self.inward, strict=True)
        )
        return x, y, z


def frame(face: Face, size: Vector) -> Frame:
    """Return a face's frame on a piece whose bounding box (without tenons) has this length, width and thickness, mm."""
    first, second = plane_axes(face.axis)
    origin = [0.0, 0.0, 0.0]
    origin[face.axis] = size[face.axis] if face.far else 0.0
    return Frame(
        (origin[0], origin[1], origin[2]), _unit(first), _unit(second), _unit(face.axis, -1.0 if face.far else 1.0)
    )


def plane_axes(axis: int) -> tuple[int, int]:
    """Return the two axes square to one, in their order."""
    first, second = (other for other in range(3) if other != axis)
    return first, second


def _unit(axis: int, length: float = 1.0) -> Vector:
    ends = [0.0, 0.0, 0.0]
    ends[axis] = length
    return ends[0], ends[1], ends[2]
