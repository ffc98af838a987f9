"""Blanks: the outer shape a piece is made from, before anything is cut into it or stands out of it.

Piece frame: the bounding box of the blank starts at the origin; length along X, width along Y, thickness along Z, mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise, product
from math import inf, isfinite, sqrt
from typing import TypeAlias

from slotwright.pieces.amount import Amount, total
from slotwright.pieces.block import Block
from slotwright.pieces.faces import Vector
from slotwright.pieces.features import FeatureError
from slotwright.pieces.outline import Outline, circle, rectangle

EVERYWHERE: tuple[Vector, Vector] = ((-inf, -inf, -inf), (inf, inf, inf))

_GAUSS = (
    (0.0, 128.0 / 225.0),
    *((sign * sqrt(5.0 - 2.0 * sqrt(10.0 / 7.0)) / 3.0, (322.0 + 13.0 * sqrt(70.0)) / 900.0) for sign in (-1.0, 1.0)),
    *((sign * sqrt(5.0 + 2.0 * sqrt(10.0 / 7.0)) / 3.0, (322.0 - 13.0 * sqrt(70.0)) / 900.0) for sign in (-1.0, 1.0)),
)
"""Five points and weights of Gauss and Legendre on -1 to 1; exact for polynomials up to the ninth degree."""


class _Upright:
    """What blanks with one plan at every height have in common; their rims may be chamfered."""

    __slots__ = ()
    thickness: float
    edge_chamfer: float

    @property
    def plan(self) -> Outline:
        """Outline seen from above."""
        raise NotImplementedError

    @property
    def bore(self) -> float:
        """Diameter of a bore through the middle, mm; 0 when there is none."""
        return 0.0

    @property
    def blocks(self) -> tuple[Block, ...]:
        """The blank as drawn-out outlines, its rims taken as sharp; those after the first are taken away from it."""
        solid = Block(2, self.plan, 0.0, self.thickness)
        if self.bore == 0.0:
            return (solid,)
        return solid, Block(2, circle(self.bore, self.plan.centroid), 0.0, self.thickness)

    @property
    def volume(self) -> float:
        """Closed form, mm3."""
        return self.within(*EVERYWHERE).volume

    @property
    def centroid(self) -> Vector:
        """Closed form, mm."""
        return self.within(*EVERYWHERE).centroid

    def within(self, low: Vector, high: Vector) -> Amount:
        """Return the blank's metal in a box, given by the box's lower and upper corner in the piece frame.

        Closed form; where the box cuts a chamfered rim, by slices, which are exact for straight sides.
        """
        c, top = self.edge_chamfer, self.thickness
        _, *taken = self.blocks
        body = Block(2, self.plan, c, top - c).within(low, high)
        rims = (self._rim(low, high, start, start + c) for start in (0.0, top - c) if c > 0.0)
        return total((body, *rims, *(block.within(low, high).times(-1.0) for block in taken)))

    def _rim(self, low: Vector, high: Vector, start: float, end: float) -> Amount:
        """The metal of a chamfered rim between two levels, by slices; apart where a side of the box meets a corner."""
        upper = start > 0.0
        start, end = max(start, low[2]), min(end, high[2])
        if start >= end:
            return total(())
        insets = _kinks(self.plan, self.edge_chamfer, low, high)
        bends = (self.thickness - self.edge_chamfer + t if upper else self.edge_chamfer - t for t in insets)
        levels = sorted({start, end, *(z for z in bends if start < z < end)})
        return total(self._slices(low, high, a, b) for a, b in pairwise(levels))

    def _slices(self, low: Vector, high: Vector, start: float, end: float) -> Amount:
        slices = []
        for place, weight in _GAUSS:
            z = (start + end) / 2.0 + place * (end - start) / 2.0
            inset = self.edge_chamfer - min(z, self.thickness - z)
            area, mx, my = self.plan.inset(inset).moments(low[:2], high[:2])
            thick = weight * (end - start) / 2.0
            slices.append(Amount(area * thick, (mx * thick, my * thick, area * thick * z)))
        return total(slices)


def _kinks(plan: Outline, chamfer: float, low: Vector, high: Vector) -> Iterator[float]:
    """Insets, up to the chamfer, at which a corner or an arc's outermost point passes a side of a box.

    Both move evenly as the inset grows.
    """
    ends = (
        [*outline.points, *(point for side in outline.segments for point in side.extremes())]
        for outline in (plan, plan.inset(chamfer))
    )
    for p, q in zip(*ends, strict=True):
        for axis, side in product((0, 1), (low, high)):
            if isfinite(side[axis]) and p[axis] != q[axis]:
                yield chamfer * (side[axis] - p[axis]) / (q[axis] - p[axis])


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar(_Upright):
    """A rectangular blank: length along X, width along Y, thickness along Z, mm.

    Attributes:
        edge_chamfer: 45 degree chamfer around the top and the bottom face, mm leg; 0 leaves the edges sharp.
    """

    length: float
    width: float
    thickness: float
    edge_chamfer: float = 0.0

    @property
    def plan(self) -> Outline:
        """Outline seen from above."""
        return rectangle(self.length, self.width)


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate(_Upright):
    """A flat blank of any outline.

    Attributes:
        outline: seen from above, its bounding box starting at the origin (`Outline.at_origin`).
        thickness: mm.
        edge_chamfer: 45 degree chamfer around the top and the bottom face, mm leg; 0 leaves the edges sharp.

    Errors: FeatureError when the outline stands elsewhere or the chamfer leaves nothing; OutlineError when the
    outline crosses itself or can't be chamfered.
    """

    outline: Outline
    thickness: float
    edge_chamfer: float = 0.0

    def __post_init__(self) -> None:
        _check_corner(self.outline.require_simple(), "a plate's outline")
        _check_chamfer(self)

    @property
    def length(self) -> float:
        """Of the bounding box, mm."""
        return self.outline.bounds[2]

    @property
    def width(self) -> float:
        """Of the bounding box, mm."""
        return self.outline.bounds[3]

    @property
    def plan(self) -> Outline:
        """Outline seen from above."""
        return self.outline


@dataclass(frozen=True, slots=True, kw_only=True)
class Disc(_Upright):
    """A round blank, its middle half a diameter from the origin in X and Y.

    Attributes:
        diameter: mm.
        thickness: mm.
        bore: diameter of the bore the blank comes with, mm, as a ring sawn from tube has one; 0 when it is whole. A
            bore that is made is a hole.
        edge_chamfer: 45 degree chamfer around the top and the bottom face's outer rim, mm leg.

    Errors: FeatureError when bore or chamfer leave nothing.
    """

    diameter: float
    thickness: float
    bore: float = 0.0
    edge_chamfer: float = 0.0

    def __post_init__(self) -> None:
        if not 0.0 <= self.bore < self.diameter - 2.0 * self.edge_chamfer:
            raise FeatureError(f"a bore of {self.bore:.4g} mm leaves nothing of a disc {self.diameter:.4g} mm wide")
        _check_chamfer(self)

    @property
    def length(self) -> float:
        """Of the bounding box, mm."""
        return self.diameter

    @property
    def width(self) -> float:
        """Of the bounding box, mm."""
        return self.diameter

    @property
    def plan(self) -> Outline:
        """Outline seen from above."""
        return circle(self.diameter)


@dataclass(frozen=True, slots=True, kw_only=True)
class Extrusion:
    """A blank of one section all along X: a V-block, T-nut or stepped block.

    Attributes:
        profile: the section seen from the right end, its x the piece's Y and its y the piece's Z, its bounding box
            starting at the origin (`Outline.at_origin`).
        length: along X, mm.

    Errors: FeatureError when the profile stands elsewhere; OutlineError when it crosses itself.
    """

    profile: Outline
    length: float

    def __post_init__(self) -> None:
        _check_corner(self.profile.require_simple(), "an extrusion's profile")

    @property
    def width(self) -> float:
        """Of the bounding box, mm."""
        return self.profile.bounds[2]

    @property
    def thickness(self) -> float:
        """Of the bounding box, mm."""
        return self.profile.bounds[3]

    @property
    def edge_chamfer(self) -> float:
        """0: chamfers along the length are part of the profile."""
        return 0.0

    @property
    def plan(self) -> Outline:
        """Outline seen from above."""
        return rectangle(self.length, self.width)

    @property
    def blocks(self) -> tuple[Block, ...]:
        """The blank as drawn-out outlines; those after the first are taken away from it."""
        return (Block(0, self.profile, 0.0, self.length),)

    @property
    def volume(self) -> float:
        """Closed form, mm3."""
        return self.profile.area * self.length

    @property
    def centroid(self) -> Vector:
        """Closed form, mm."""
        return self.length / 2.0, *self.profile.centroid

    def within(self, low: Vector, high: Vector) -> Amount:
        """Return the blank's metal in a box, given by the box's lower and upper corner in the piece frame."""
        return self.blocks[0].within(low, high)


Blank: TypeAlias = Bar | Plate | Disc | Extrusion


def _check_corner(outline: Outline, what: str) -> None:
    x, y, _, _ = outline.bounds
    if abs(x) > 1e-6 or abs(y) > 1e-6:
        raise FeatureError(f"{what} must start at the origin; move it there with at_origin()")


def _check_chamfer(blank: Plate | Disc) -> None:
    if not 0.0 <= 2.0 * blank.edge_chamfer < blank.thickness:
        raise FeatureError(
            f"an edge chamfer of {blank.edge_chamfer:.4g} mm leaves nothing of a thickness of {blank.thickness:.4g} mm"
        )
    blank.plan.inset(blank.edge_chamfer)
