"""Bought items: T-nuts, studs, nuts, washers and screws, with a simple body for the lay-out.

An item's own frame has the bolt's axis as Z; z = 0 is the face the item seats on, as its maker function says.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Cylinder:
    """A round body or bore, mm, about the item's Z axis or an axis beside it at x, y."""

    diameter: float
    bottom: float
    top: float
    x: float = 0.0
    y: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Prism:
    """A straight body over a polygon of the item's X, Y, mm; the outline runs counter-clockwise.

    Its windows are openings right through it that no round bore makes, such as a strap's slot; they too run
    counter-clockwise.
    """

    outline: tuple[tuple[float, float], ...]
    bottom: float
    top: float
    windows: tuple[tuple[tuple[float, float], ...], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardware:
    """One bought item.

    Attributes:
        kind: trade name, such as "T-nut", "stud", "washer", "hex nut", "socket head cap screw".
        size: designation, such as "M12 x 100" or "1/2-13 UNC x 4 in".
        standard: where its figures come from, such as "DIN 508", or "made to measure".
        body: solids that together make it.
        bores: round holes in them.
        note: what the buyer or maker must know; empty when nothing.
    """

    kind: str
    size: str
    standard: str
    body: tuple[Cylinder | Prism, ...]
    bores: tuple[Cylinder, ...] = ()
    note: str = ""

    @property
    def title(self) -> str:
        """One line for a hardware list."""
        return f"{self.kind} {self.size}, {self.standard}"
