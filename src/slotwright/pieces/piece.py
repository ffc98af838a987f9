"""A made piece: the one source of its solid, drawing, hole table, blank size, mass and centre of gravity."""

from __future__ import annotations

from dataclasses import dataclass

from slotwright.parts.materials import Material
from slotwright.pieces.amount import Amount, total
from slotwright.pieces.blanks import Bar as Bar
from slotwright.pieces.blanks import Blank
from slotwright.pieces.faces import Vector
from slotwright.pieces.features import Groove, Hole, Limits, Pocket, Tenon
from slotwright.pieces.metal import Metal
from slotwright.pieces.segment import Point

THERE_ALREADY = "there already"
"""Stock of a piece that is worked on and not made: nothing is sawn for it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A blank with features.

    Attributes:
        name: file-name-safe short name, unique in the set-up.
        title: what the drawing's title block says.
        blank: the finished outer shape.
        holes: all holes, in the order they are listed in the hole table before grouping.
        material: what it is made of.
        stock: the section as the rack names it, such as "1-1/2 x 3/4 in flat"; or THERE_ALREADY.
        quantity: how many to make.
        oversize: what the stock has over the finished width and thickness each, to be milled or ground away, mm.
        across_round: whether it is sawn across a round bar, so that its thickness is the length to saw.
        saw_allowance: added to that length when sawing, mm in all.
        notes: further lines for the drawing.
        pockets, grooves, tenons: the other features, each in the order made.
        width_limits: sizes of the blank across X, mm, that have limits, with those.
        centre: place in the plan that it is set up by: holes are counted from there, and also listed in X/Y and
            polar; or None.
        cut_out: along X and along Y, whether it reaches farther than the blank shows; such a size is no requirement.
    """

    name: str
    title: str
    blank: Blank
    holes: tuple[Hole, ...]
    material: Material
    stock: str
    quantity: int = 1
    oversize: float = 0.0
    across_round: bool = False
    saw_allowance: float = 0.0
    notes: tuple[str, ...] = ()
    pockets: tuple[Pocket, ...] = ()
    grooves: tuple[Groove, ...] = ()
    tenons: tuple[Tenon, ...] = ()
    width_limits: tuple[tuple[float, Limits], ...] = ()
    centre: Point | None = None
    cut_out: tuple[bool, bool] = (False, False)

    @property
    def sawn(self) -> bool:
        """Whether it is made from stock, and not there already."""
        return self.stock != THERE_ALREADY

    @property
    def has_datums(self) -> bool:
        """Whether a position tolerance refers to datums."""
        return any(hole.position_tolerance is not None for hole in self.holes)

    @property
    def metal(self) -> Metal:
        """Where the metal is before the holes are made. Built anew each time: keep it while asking much."""
        return Metal.of(self.blank, (*self.tenons, *self.grooves, *self.pockets))

    @property
    def overall(self) -> tuple[Vector, Vector]:
        """Lower and upper corner of the bounding box in the piece frame, tenons included, mm."""
        return self.metal.bounds

    @property
    def volume(self) -> float:
        """Closed form, mm3; exact while no two features meet that should not (a stop finding says when they do)."""
        return self._amount().volume

    @property
    def mass(self) -> float:
        """Mass of one piece, kg."""
        return self.volume * self.material.density * 1e-9

    @property
    def sides(self) -> tuple[float, float, float]:
        """Finished length along the stock, then width and thickness of its section, tenons included, mm."""
        low, high = self.overall
        length, width, thickness = (b - a for a, b in zip(low, high, strict=True))
        return (thickness, length, width) if self.across_round else (length, width, thickness)

    @property
    def cut_length(self) -> float:
        """Length to saw, mm."""
        return self.sides[0] + self.saw_allowance

    @property
    def centre_of_gravity(self) -> Vector:
        """In the piece frame, mm."""
        return self._amount().centroid

    def _amount(self) -> Amount:
        metal = self.metal
        return total((metal.amount(), *(metal.taken_by(hole).times(-1.0) for hole in self.holes)))
