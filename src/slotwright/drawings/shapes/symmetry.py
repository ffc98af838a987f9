"""Whether a piece is its own mirror image about the middle of its length or of its width."""

from __future__ import annotations

from dataclasses import replace
from math import cos, radians, sin

from slotwright.drawings.shapes.likeness import Key, alike
from slotwright.drawings.shapes.reading_outlines import symmetric_about
from slotwright.pieces.faces import Face, plane_axes
from slotwright.pieces.features import Groove, Hole, Pocket, Purpose, Tenon
from slotwright.pieces.outline import Outline
from slotwright.pieces.piece import Piece

ENDS = ((Face.LEFT, Face.RIGHT), (Face.FRONT, Face.BACK))
"""Faces square to X and to Y; what one of them has, the other must have for a mirror image."""


def mirrors_itself(piece: Piece, axis: int, at: float) -> bool:
    """Say whether outline and all features are their own mirror image in X (axis 0) or Y (axis 1), about a place (mm).

    Holes in the faces square to the axis are left out: they have no place along it, and the middle of the piece is no
    less its middle for a stop screwed into one side.
    """
    if not symmetric_about(piece.blank.plan, axis, at):
        return False
    if axis == 1 and hasattr(piece.blank, "profile") and not symmetric_about(piece.blank.profile, 0, at):
        return False
    near, far = (_of_face(piece, face) for face in ENDS[axis])
    if not (alike(near, far) and alike(far, near)):
        return False
    for face in Face:
        axes = plane_axes(face.axis)
        if axis not in axes:
            continue
        own = axes.index(axis)
        holes = [hole for hole in piece.holes if hole.face is face]
        every: tuple[Pocket | Tenon, ...] = (*piece.pockets, *piece.tenons)
        shaped = [feature for feature in every if feature.face is face]
        grooves = [groove for groove in piece.grooves if groove.face is face]
        if not (
            alike(map(_hole_key, holes), (_hole_key(_mirrored_hole(hole, own, at)) for hole in holes))
            and alike(
                (_shape_key(one, one.outline) for one in shaped),
                (_shape_key(one, _mirrored(one.outline, own, at)) for one in shaped),
            )
            and alike(map(_groove_key, grooves), (_groove_key(_mirrored_groove(one, own, at)) for one in grooves))
        ):
            return False
    return True


def _of_face(piece: Piece, face: Face) -> list[Key]:
    """What is cut into a face or stands out of it, but for holes."""
    shaped: tuple[Pocket | Tenon, ...] = (*piece.pockets, *piece.tenons)
    grooves = [_groove_key(groove) for groove in piece.grooves if groove.face is face]
    return [*(_shape_key(one, one.outline) for one in shaped if one.face is face), *grooves]


def _hole_key(hole: Hole) -> Key:
    plain = replace(hole, x=0.0, y=0.0, slot_angle=0.0, label="", note="", tables=(), purpose=Purpose.WORK,
                    revised="")  # fmt: skip
    turn = radians(2.0 * hole.slot_angle) if hole.slot_extra else 0.0
    return plain, (hole.x, hole.y, cos(turn), sin(turn))


def _mirrored_hole(hole: Hole, own: int, at: float) -> Hole:
    if own == 0:
        return replace(hole, x=2.0 * at - hole.x, slot_angle=-hole.slot_angle)
    return replace(hole, y=2.0 * at - hole.y, slot_angle=-hole.slot_angle)


def _mirrored(outline: Outline, own: int, at: float) -> Outline:
    points = [(2.0 * at - x, y) if own == 0 else (x, 2.0 * at - y) for x, y in reversed(outline.points)]
    bulges = (*reversed(outline.bulges[:-1]), outline.bulges[-1])
    return Outline(tuple(points), bulges)


def _shape_key(feature: Pocket | Tenon, outline: Outline) -> Key:
    deep = feature.depth if isinstance(feature, Pocket) else feature.height
    kind = (type(feature), deep, feature.length_limits, feature.width_limits)
    return kind, (*outline.centroid, *outline.bounds, outline.area)


def _mirrored_groove(groove: Groove, own: int, at: float) -> Groove:
    if (groove.along == "x") == (own == 1):
        return replace(groove, centre=2.0 * at - groove.centre)
    start = None if groove.end is None else 2.0 * at - groove.end
    end = None if groove.start is None else 2.0 * at - groove.start
    return replace(groove, start=start, end=end)


def _groove_key(groove: Groove) -> Key:
    kind = (groove.along, groove.width, groove.depth, groove.start is None, groove.end is None, groove.width_limits)
    return kind, (groove.centre, groove.start or 0.0, groove.end or 0.0)
