"""A piece of any shape as its sheet has it: profile, features, holes, each with how far its figures may be off."""

from __future__ import annotations

from dataclasses import dataclass

from tests.rebuilding.hole_rows import PlacedHole
from tests.rebuilding.wording import Size


@dataclass(frozen=True, slots=True)
class Edge:
    """A side of a profile by its sizes: ends, and of an arc its centre, radius and which way it turns."""

    start: tuple[Size, Size]
    end: tuple[Size, Size]
    centre: tuple[Size, Size] | None = None
    radius: Size | None = None
    outward: bool = False


@dataclass(frozen=True, slots=True)
class Feature:
    """Metal that stands out of a side (high) or is cut into it (deep; None for both is through)."""

    side: str
    edges: tuple[Edge, ...]
    high: Size | None
    deep: Size | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadShape:
    """A piece as its sheet has it.

    Attributes:
        side: on which its profile is seen, "top" or "right".
        edges: of its profile.
        start, end: from where to where the profile is drawn out, along the axis square to its side.
        chamfer: leg around top and bottom.
        point: drill point of blind holes, degrees, or None for a flat floor.
        features: in the order in which they are made: what stands out first.
        holes: as the tables have them.
        central: axes that are counted from the middle of the piece.
        cornered: axes that are counted from its lower end.
        doubts: what is missing, written twice, or can be read in two ways.
        unclear: tags that stand as near to another hole as to their own.
    """

    side: str
    edges: tuple[Edge, ...]
    start: Size
    end: Size
    chamfer: Size
    point: float | None
    features: tuple[Feature, ...]
    holes: tuple[PlacedHole, ...]
    central: tuple[bool, bool, bool]
    cornered: tuple[bool, bool, bool]
    doubts: tuple[str, ...]
    unclear: tuple[str, ...] = ()
