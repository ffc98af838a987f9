"""Which views a shaped piece needs, and whether a section stands for its front elevation."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise

from slotwright.drawings.middles import middles_of
from slotwright.drawings.shapes.patterns import Origin, Zero, bolt_circles, flat, origin_of
from slotwright.drawings.shapes.seen import Plane
from slotwright.pieces.blanks import Bar, Disc, Extrusion
from slotwright.pieces.faces import Face
from slotwright.pieces.features import Groove, Hole, Pocket, Tenon
from slotwright.pieces.outline import Outline
from slotwright.pieces.piece import Piece
from slotwright.pieces.script_piece import ScriptPiece

Shaped = Pocket | Tenon | Groove
WORTH_CUTTING = 2.0  # what a section must show at least; our choice
ANY_HOLE = 0.5  # the same where hidden lines would be a tangle
TANGLE = 3  # pairs of holes that hide each other from which on they do; our choice


def is_shaped(piece: Piece) -> bool:
    """Say whether a piece is more than a bar of plain sizes with plain holes in top and bottom."""
    if isinstance(piece, ScriptPiece):
        return True
    if not isinstance(piece.blank, Bar) or piece.width_limits or piece.pockets or piece.grooves or piece.tenons:
        return True
    return any(hole.face.upright or hole.countersink is not None for hole in piece.holes)


def least_size(piece: Piece, scale: float) -> tuple[float, float]:
    """Return the least width and height the group can have on paper, wherever the view from below stands."""
    low, high = piece.overall
    long, wide, thick = (b - a for a, b in zip(low, high, strict=True))
    faces = faces_of(piece)
    across = long + sum(wide for face in (Face.RIGHT, Face.LEFT) if face in faces)
    up = thick + (wide if Face.TOP in faces else 0.0)
    return across * scale + 20.0, up * scale + 20.0


def places_note(piece: Piece) -> str:
    """Say where the places of holes are counted from."""
    if not piece.holes:
        return ""
    if not is_shaped(piece):
        middles = middles_of(piece)
        if middles.along:
            return "X AND Y FROM THE CENTRE LINES."
        if middles.across:
            return "X FROM THE LEFT END, Y FROM THE CENTRE LINE."
        return "X AND Y FROM THE DATUM CORNER: LEFT END, FRONT EDGE."
    sides = " HEIGHTS Z FROM THE BOTTOM FACE." if any(hole.face.upright for hole in piece.holes) else ""
    origin = origin_of(piece)
    turned = origin.central and bolt_circles(piece)
    angles = " ANGLES FROM X, COUNTER-CLOCKWISE SEEN FROM ABOVE." if turned else ""
    return f"{_counted_from(origin)}{angles}{sides}"


def _counted_from(origin: Origin) -> str:
    """Say what X and Y of a shaped piece are counted from."""
    if origin.along is origin.across:
        return f"X AND Y FROM THE {origin.name}{': LEFT END, FRONT EDGE' if origin.along is Zero.EDGE else ''}."
    first, second = ({Zero.EDGE: edge, Zero.MIDDLE: "CENTRE LINE", Zero.CENTRE: origin.name}
                     for edge in ("LEFT END", "FRONT EDGE"))  # fmt: skip
    return f"X FROM THE {first[origin.along]}, Y FROM THE {second[origin.across]}."


def datums_note(piece: Piece) -> str:
    """Say what the datums of position tolerances are."""
    origin = origin_of(piece) if is_shaped(piece) else None
    if origin is not None and origin.middle:
        return "DATUMS: A BOTTOM FACE, B CENTRE PLANE ALONG X, C CENTRE PLANE ALONG Y."
    across = middles_of(piece).across if origin is None else origin.across is Zero.MIDDLE
    along = origin is not None and origin.along is Zero.MIDDLE
    second = "CENTRE PLANE OF THE WIDTH" if across else "FRONT EDGE"
    third = "CENTRE PLANE OF THE LENGTH" if along else "LEFT END"
    return f"DATUMS: A BOTTOM FACE, B {second}, C {third}."


def faces_of(piece: Piece) -> tuple[Face, ...]:
    """Return the faces that are looked at, the main view first."""
    if isinstance(piece, ScriptPiece):
        return Face.TOP, Face.FRONT, Face.RIGHT
    own = {feature.face for feature in shaped_features(piece)} - set(twins(piece).values())
    own |= {hole.face for hole in piece.holes if hole.face.upright or _one_sided(hole)}
    drawn_out = isinstance(piece.blank, Extrusion)
    above = not drawn_out or any(flat(hole) for hole in piece.holes) or Face.TOP in own or Face.BOTTOM in own
    wanted = [Face.TOP] if above else []
    wanted.append(Face.FRONT)
    if drawn_out or Face.RIGHT in own:
        wanted.append(Face.RIGHT)
    return (*wanted, *(face for face in (Face.LEFT, Face.BACK, Face.BOTTOM) if face in own))


def shaped_features(piece: Piece) -> tuple[Shaped, ...]:
    """Return tenons, grooves and pockets, in the order they are made."""
    return (*piece.tenons, *piece.grooves, *piece.pockets)


def twins(piece: Piece) -> dict[Face, Face]:
    """Return the sides that need no view, for the face opposite has the same features, by that face."""
    found = {}
    for one, other in ((Face.FRONT, Face.BACK), (Face.RIGHT, Face.LEFT)):
        near = [replace(feature, face=one) for feature in shaped_features(piece) if feature.face is one]
        far = [replace(feature, face=one) for feature in shaped_features(piece) if feature.face is other]
        if near and sorted(map(repr, near)) == sorted(map(repr, far)):
            found[one] = other
    return found


def _one_sided(hole: Hole) -> bool:
    """Say whether a hole looks different from the face it starts in."""
    enlarged = hole.counterbore is not None or hole.countersink is not None
    return enlarged or hole.depth is not None or hole.thread_depth is not None


def plane_of(piece: Piece) -> Plane | None:
    """Return the plane that stands for the front elevation, cutting most of what is hidden, or None."""
    if any(feature.face is Face.FRONT for feature in (*shaped_features(piece), *piece.holes)):
        return None
    origin, bounds = origin_of(piece), piece.blank.plan.bounds
    middle = (bounds[1] + bounds[3]) / 2.0 if origin.across is Zero.EDGE else origin.y
    metal = piece.metal
    outlines = [metal.outline(feature) for feature in shaped_features(piece) if not feature.face.upright]
    rows = {round(middle, 6), *(round(hole.y, 6) for hole in piece.holes if flat(hole))}
    rows |= {round(_middle(outline), 6) for outline in outlines}
    walls = [wall for outline in outlines for wall in (outline.bounds[1], outline.bounds[3])]
    free = [y for y in rows if all(abs(y - wall) > 1e-3 for wall in walls)]
    worth = {y: _worth(piece, outlines, y, middle) for y in sorted(free)}
    best = max(worth, key=lambda y: worth[y], default=None)
    if best is None or worth[best] < (ANY_HOLE if _tangled(piece.holes) else WORTH_CUTTING):
        return None
    return Plane(1, best, abs(best - middle) < 1e-5)


def _middle(outline: Outline) -> float:
    return (outline.bounds[1] + outline.bounds[3]) / 2.0


def _worth(piece: Piece, outlines: Sequence[Outline], y: float, middle: float) -> float:
    """How much a plane shows: blind holes and features through their middle most; our choice."""
    cut = {_kind(hole) for hole in piece.holes if flat(hole) and abs(hole.y - y) < 1e-6}
    worth = sum(2.0 if blind else 0.5 for _, blind in cut)
    for outline in outlines:
        if abs(_middle(outline) - y) < 1e-6:
            worth += 3.0
        elif outline.bounds[1] < y < outline.bounds[3] and outline.diameter is None:
            worth += 2.0
    on_middle = abs(y - middle) < 1e-6
    bored = isinstance(piece.blank, Disc) and piece.blank.bore > 0.0 and on_middle
    return worth + (1.0 if bored else 0.0) + (0.4 if on_middle else 0.0)


def _tangled(holes: Iterable[Hole]) -> bool:
    """Say whether hidden lines of many holes would run through each other."""
    spans = sorted((hole.x - hole.widest / 2.0, hole.x + hole.widest / 2.0, hole.x) for hole in holes if flat(hole))
    mixed = sum(b[0] < a[1] and abs(a[2] - b[2]) > 1e-6 for a, b in pairwise(spans))
    return mixed >= TANGLE


def _kind(hole: Hole) -> tuple[object, bool]:
    size = (hole.diameter, hole.depth, hole.counterbore, hole.countersink, hole.thread, hole.face)
    return size, _one_sided(hole)
