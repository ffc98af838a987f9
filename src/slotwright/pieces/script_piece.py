"""A piece whose solid comes from a user's script: a shape that the feature model does not know."""

from __future__ import annotations

from dataclasses import dataclass, field
from hashlib import sha256
from typing import Literal, TypeAlias

from slotwright.pieces.amount import Amount
from slotwright.pieces.faces import Face, Vector
from slotwright.pieces.piece import Piece

ViewName: TypeAlias = Literal["plan", "front", "end"]

FACES: dict[str, Face] = {"plan": Face.TOP, "front": Face.FRONT, "end": Face.RIGHT}
"""The face each view looks at."""


@dataclass(frozen=True, slots=True)
class NamedDistance:
    """A distance that the script's author wants on the drawing.

    Attributes:
        name: what it is, for errors about it.
        start, end: its ends, mm, in the frame the script draws in.
        view: where it stands: plan (X to the right, Y up), front (X, Z) or end (Y, Z, seen from the right). There it is
            measured along the one of the two in which its ends are farther apart.
        text: how it is written, "<>" standing for the figure; "⌀<>" for a diameter.
    """

    name: str
    start: Vector
    end: Vector
    view: ViewName = "plan"
    text: str = "<>"


@dataclass(frozen=True, slots=True, kw_only=True)
class ScriptPiece(Piece):
    """A piece with a solid of its own; its blank is the solid's bounding box, and it has no features.

    Attributes:
        brep: the solid in the kernel's own text form, its bounding box starting at the origin.
        own: volume and first moments, by the kernel.
        distances: what the drawing shows beside the overall sizes, in the piece frame.
    """

    brep: bytes = field(repr=False)
    own: Amount
    distances: tuple[NamedDistance, ...] = ()

    @property
    def digest(self) -> str:
        """Hex digits that change with the solid or what is dimensioned on it."""
        return sha256(self.brep + repr(self.distances).encode()).hexdigest()

    def _amount(self) -> Amount:
        return self.own
