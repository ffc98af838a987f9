"""Solids as objects of the CAD library, for scripts and other programs. This loads that library."""

from __future__ import annotations

import cadquery as cq

from slotwright.pieces.solid import Item, Solids


def cadquery_solid(item: Item) -> cq.Shape:
    """Return the solid of a made piece, a bought item or the table in its own frame, mm.

    Errors: SolidError when a piece's features leave nothing.
    """
    return cq.Shape.cast(Solids()[item])
