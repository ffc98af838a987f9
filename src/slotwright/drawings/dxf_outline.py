"""Read a plate's outline from somebody's DXF file: one closed polyline of lines and arcs in model space."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from io import StringIO
from math import dist, isfinite

from ezdxf.document import Drawing as Document
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.entities.polyline import Polyline
from ezdxf.filemanagement import read as read_document

from slotwright.drawings.proofing.reading import DAMAGE
from slotwright.errors import UnfitFileError

MOST_CORNERS = 400
JOINED = 1e-3
"""A polyline whose ends are nearer than this, mm, is closed, whether or not it is marked so."""
_UNITS = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0}
"""$INSUNITS: inch, foot, mm, cm, m."""


class DxfOutlineError(UnfitFileError):
    """A file that holds no outline to make a plate from."""


@dataclass(frozen=True, slots=True)
class Chain:
    """A closed chain: corners, mm, and for each the bulge of the side to the next (as `Outline` has it)."""

    points: tuple[tuple[float, float], ...]
    bulges: tuple[float, ...]


def read_outline(data: bytes, unit: str) -> Chain:
    """Return the one closed polyline of a DXF file.

    Args:
        data: the file.
        unit: "mm" or "in": what its numbers are when the file does not say.

    Errors: DxfOutlineError when it is no DXF file, has no closed polyline or several, or one that is not flat.
    """
    try:
        text = data.decode("utf-8-sig")
        document = read_document(StringIO(text))
        said = document.header.get("$INSUNITS", 0) if "$INSUNITS" in text else 0  # the library supposes metres
        per = _UNITS.get(said, 25.4 if unit == "in" else 1.0)
        chains = [_chain(found, per) for found in _polylines(document)]
    except DxfOutlineError:
        raise
    except DAMAGE:
        raise DxfOutlineError("is no DXF file that can be read", "save it again as ASCII DXF R2000 or later") from None
    return _the_one(chains)


def _the_one(chains: list[tuple[Chain, float]]) -> Chain:
    closed = [chain for chain, gap in chains if gap < JOINED]
    if len(closed) == 1:
        return closed[0]
    if closed:
        raise DxfOutlineError(f"holds {len(closed)} closed polylines", "leave only the plate's outline in the file")
    if chains:
        gap = min(gap for _, gap in chains)
        raise DxfOutlineError(f"holds an open polyline: its ends are {gap:.4g} mm apart", "close it")
    raise DxfOutlineError("holds no polyline in model space", "join lines and arcs to one closed polyline")


def _polylines(document: Document) -> Iterator[LWPolyline | Polyline]:
    for entity in document.modelspace():
        if isinstance(entity, LWPolyline):
            yield entity
        elif isinstance(entity, Polyline):
            if not entity.is_2d_polyline:
                raise DxfOutlineError("holds a polyline in space or a mesh", "flatten it to a 2D polyline")
            yield entity


def _chain(found: LWPolyline | Polyline, per: float) -> tuple[Chain, float]:
    """A polyline in mm, with the gap between its ends; 0 when it is marked closed."""
    if tuple(found.dxf.extrusion) != (0.0, 0.0, 1.0):
        raise DxfOutlineError("holds a polyline that is not drawn in the X-Y plane", "draw it seen from above")
    if isinstance(found, LWPolyline):
        closed, corners = found.closed, [(x, y, bulge) for x, y, bulge in found.get_points("xyb")]
    else:
        closed = found.is_closed
        corners = [(*vertex.dxf.location.vec2, vertex.dxf.get("bulge", 0.0)) for vertex in found.vertices]
    if not 2 <= len(corners) <= MOST_CORNERS:
        raise DxfOutlineError(f"holds a polyline of {len(corners)} corners", f"2 to {MOST_CORNERS} may be; simplify it")
    if not all(isfinite(value) and abs(value) < 1e6 for corner in corners for value in corner):
        raise DxfOutlineError("holds a corner beyond any plate", "draw the outline near the origin")
    points = [(round(x * per, 6), round(y * per, 6)) for x, y, _ in corners]
    bulges = [float(bulge) for _, _, bulge in corners]
    gap = dist(points[0], points[-1])
    if gap < JOINED and len(points) > 2:
        points, bulges, gap = points[:-1], bulges[:-1], 0.0
    return Chain(tuple(points), tuple(bulges)), 0.0 if closed else gap
