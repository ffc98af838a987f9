"""Centre lines of a shaped piece: its own, those of features and grooves, and bolt circles."""

from __future__ import annotations

from collections.abc import Iterable

from slotwright.drawings.paper.sheet import Circle, Line, Mark, Point, Stroke
from slotwright.drawings.paper.style import Style
from slotwright.drawings.shapes.feature_measures import is_step
from slotwright.drawings.shapes.patterns import BoltCircle, Zero, bolt_circles, origin_of
from slotwright.drawings.shapes.reading_outlines import symmetric_about
from slotwright.drawings.shapes.seen import shown
from slotwright.drawings.shapes.views_needed import faces_of, shaped_features
from slotwright.drawings.views import centre_mark
from slotwright.pieces.blanks import Extrusion
from slotwright.pieces.faces import Face, plane_axes
from slotwright.pieces.features import Groove, Hole
from slotwright.pieces.piece import Piece

CROSS = 6.0  # size of the mark in the middle of a feature that is not round, mm on paper; our choice


def centre_lines(piece: Piece, face: Face, scale: float, style: Style) -> Iterable[Mark]:
    """Yield centre lines of a piece measured from its middle, of grooves and features, and bolt circles."""
    origin, metal = origin_of(piece), piece.metal
    low, high = piece.overall
    over = style.centre_overrun / scale
    first, second = plane_axes(face.axis)
    u, v = origin.on(face)
    if origin.zero(first) is not Zero.EDGE:
        yield _shown_line(face, (u, low[second] - over), (u, high[second] + over))
    elif face is Face.RIGHT and isinstance(piece.blank, Extrusion):
        # The widths of an even section lie about its middle, wherever holes are measured from.
        middle = piece.blank.width / 2.0
        if symmetric_about(piece.blank.profile, 0, middle):
            yield _shown_line(face, (middle, low[2] - over), (middle, high[2] + over))
    if origin.zero(second) is not Zero.EDGE:
        yield _shown_line(face, (low[first] - over, v), (high[first] + over, v))
    for feature in shaped_features(piece):
        if feature.face is not face:
            continue
        outline = metal.outline(feature)
        if isinstance(feature, Groove):
            if not is_step(feature, metal):
                yield _groove_axis(face, feature, outline.bounds, over)
        elif outline.diameter is not None:
            yield from centre_mark(
                shown(face, outline.centroid), Hole(x=0.0, y=0.0, diameter=outline.diameter), scale, style
            )
        else:
            yield from centre_mark(
                shown(face, _middle(outline.bounds)), Hole(x=0.0, y=0.0, diameter=CROSS / scale), scale, style
            )
    if face is Face.TOP or face is Face.BOTTOM:
        for circle in bolt_circles(piece):
            if face is face_of(circle, faces_of(piece)):
                yield Circle(shown(face, circle.centre), circle.diameter / 2.0, Line.CENTRE)


def _middle(bounds: tuple[float, float, float, float]) -> Point:
    return (bounds[0] + bounds[2]) / 2.0, (bounds[1] + bounds[3]) / 2.0


def _groove_axis(face: Face, groove: Groove, bounds: tuple[float, float, float, float], over: float) -> Stroke:
    x0, y0, x1, y1 = bounds
    if groove.along == "x":
        return _shown_line(face, (x0 - over, groove.centre), (x1 + over, groove.centre))
    return _shown_line(face, (groove.centre, y0 - over), (groove.centre, y1 + over))


def _shown_line(face: Face, a: Point, b: Point) -> Stroke:
    return Stroke((shown(face, a), shown(face, b)), Line.CENTRE)


def face_of(circle: BoltCircle, faces: Iterable[Face]) -> Face:
    """Return the view in which a bolt circle is drawn: that of its holes' face when there is one."""
    below = all(hole.face is Face.BOTTOM for hole in circle.holes)
    return Face.BOTTOM if below and Face.BOTTOM in faces else Face.TOP
