"""A made piece: the one source of its solid, drawing, hole table, blank size, mass and centre of gravity."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi

from slotwright.parts.materials import Material
from slotwright.pieces.features import Face, Hole


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """A rectangular blank: length along X, width along Y, thickness along Z, mm.

    Attributes:
        edge_chamfer: 45 degree chamfer around the top and the bottom face, mm leg; 0 leaves the edges sharp.
    """

    length: float
    width: float
    thickness: float
    edge_chamfer: float = 0.0

    @property
    def volume(self) -> float:
        """Closed form, mm3: the box less the two chamfered rims (each a frustum's difference)."""
        length, width, c = self.length, self.width, self.edge_chamfer
        rim = (length + width) * c**2 - 4.0 / 3.0 * c**3
        return length * width * self.thickness - 2.0 * rim


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A blank with features.

    Attributes:
        name: file-name-safe short name, unique in the set-up.
        title: what the drawing's title block says.
        blank: the finished outer shape.
        holes: all holes, in the order they are listed in the hole table before grouping.
        material: what it is made of.
        stock: the section as the rack names it, such as "1-1/2 x 3/4 in flat".
        quantity: how many to make.
        saw_allowance: added to the length when sawing, mm in all.
        notes: further lines for the drawing.
    """

    name: str
    title: str
    blank: Bar
    holes: tuple[Hole, ...]
    material: Material
    stock: str
    quantity: int = 1
    saw_allowance: float = 0.0
    notes: tuple[str, ...] = ()

    @property
    def volume(self) -> float:
        """Closed form, mm3; exact while no two features meet (a stop finding says when they do)."""
        return self.blank.volume - sum(hole.removed(self.blank.thickness) for hole in self.holes)

    @property
    def mass(self) -> float:
        """Mass of one piece, kg."""
        return self.volume * self.material.density * 1e-9

    @property
    def cut_length(self) -> float:
        """Length to saw, mm."""
        return self.blank.length + self.saw_allowance

    @property
    def centre_of_gravity(self) -> tuple[float, float, float]:
        """In the piece frame, mm."""
        blank = self.blank
        parts = [(blank.volume, (blank.length / 2.0, blank.width / 2.0, blank.thickness / 2.0))]
        parts += [(-v, at) for hole in self.holes for v, at in _removed_parts(hole, blank.thickness)]
        total = sum(volume for volume, _ in parts)
        x, y, z = (sum(volume * at[axis] for volume, at in parts) / total for axis in range(3))
        return x, y, z


def _removed_parts(hole: Hole, thickness: float) -> Sequence[tuple[float, tuple[float, float, float]]]:
    """Volumes a hole removes with their centroids; z is turned for holes that start at the bottom."""
    depth = thickness if hole.depth is None else hole.depth
    area = pi / 4.0 * hole.diameter**2
    slot = hole.slot_extra
    parts = [((area + slot * hole.diameter) * depth, depth / 2.0)]
    if hole.point_length:
        parts.append((area * hole.point_length / 3.0, depth + hole.point_length / 4.0))
    if hole.counterbore is not None:
        bore = hole.counterbore
        ring = pi / 4.0 * (bore.diameter**2 - hole.diameter**2) + slot * (bore.diameter - hole.diameter)
        parts.append((ring * bore.depth, bore.depth / 2.0))
    up = hole.face is Face.BOTTOM
    return [(volume, (hole.x, hole.y, below if up else thickness - below)) for volume, below in parts]
