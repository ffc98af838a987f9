"""From where a shaped piece is pictured, and where its points stand in that picture.

ISO 5456-3: isometric for plates, discs and what a script makes; dimetric with the long side in front for bars, with
the right end in front for what is one section all along, for there a 45 degree face would be seen edge on in isometric.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot, sqrt

import numpy as np
from numpy.typing import NDArray

from slotwright.pieces.blanks import Bar, Extrusion
from slotwright.pieces.faces import Face
from slotwright.pieces.features import Groove, Hole, Pocket, Tenon
from slotwright.pieces.piece import Piece
from slotwright.pieces.script_piece import ScriptPiece

Array = NDArray[np.float64]

SHAPE_COUNTS = 3  # as much as this many holes that are no plain through hole; our choice


@dataclass(frozen=True)
class Sight:
    """A parallel projection square to the line of sight.

    Attributes:
        toward: unit vector from the piece toward the viewer; no component is 0.
        enlarged: picture size over true projection, so that lengths along the main axes are drawn at full size.
    """

    toward: tuple[float, float, float]
    enlarged: float

    @property
    def from_below(self) -> bool:
        """Whether the bottom is seen."""
        return self.toward[2] < 0.0

    @property
    def across(self) -> tuple[float, float, float]:
        """Unit vector that runs to the right in the picture."""
        x, y, _ = self.toward
        return -y / hypot(x, y), x / hypot(x, y), 0.0

    def picture(self, points: Array) -> Array:
        """Return where points, one a row, stand in the picture: to the right and up, Z straight up, mm."""
        toward, right = np.array(self.toward), np.array(self.across)
        seen: Array = points @ np.stack((right, np.cross(toward, right)), axis=1) * self.enlarged
        return seen


def sight_of(piece: Piece) -> Sight:
    """Return the sight that shows most of what is made: from the right, the front and above unless others have more."""
    x = _sign(piece, Face.RIGHT, Face.LEFT)
    y = _sign(piece, Face.FRONT, Face.BACK)
    z = _sign(piece, Face.TOP, Face.BOTTOM)
    if isinstance(piece.blank, Bar | Extrusion) and not isinstance(piece, ScriptPiece):
        main = (sqrt(7.0), 1.0) if isinstance(piece.blank, Extrusion) else (1.0, sqrt(7.0))
        return Sight((x * main[0] / 3.0, -y * main[1] / 3.0, z / 3.0), 3.0 / sqrt(8.0))
    return Sight((x / sqrt(3.0), -y / sqrt(3.0), z / sqrt(3.0)), sqrt(1.5))


def _sign(piece: Piece, usual: Face, other: Face) -> float:
    """1 to look at the usual face, -1 when the one opposite shows more."""
    return -1.0 if _made_on(piece, other) > _made_on(piece, usual) else 1.0


def _made_on(piece: Piece, face: Face) -> int:
    shaped: tuple[Tenon | Groove | Pocket, ...] = (*piece.tenons, *piece.grooves, *piece.pockets)
    one_sided = sum(hole.face is face and _one_sided(hole) for hole in piece.holes)
    return SHAPE_COUNTS * sum(feature.face is face for feature in shaped) + one_sided


def _one_sided(hole: Hole) -> bool:
    return hole.depth is not None or hole.counterbore is not None or hole.countersink is not None
