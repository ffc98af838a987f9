"""The views of a shaped piece, each with its dimensions, notes and tags, laid out round each other on paper."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from slotwright.drawings.hole_tags import CLEAR, place_tags
from slotwright.drawings.paper.dimensioning import Side
from slotwright.drawings.paper.placing import Box, moved, union
from slotwright.drawings.paper.sheet import Point, Text, View
from slotwright.drawings.paper.sheet_data import Projection
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.view_group import ViewGroup
from slotwright.drawings.shapes.axes import face_of
from slotwright.drawings.shapes.contours import contour_tags
from slotwright.drawings.shapes.distances import Wish, place_distances
from slotwright.drawings.shapes.enlargement import Enlarged, enlarge, enlarge_projected, homes_of, seen_marks
from slotwright.drawings.shapes.feature_measures import measure_features
from slotwright.drawings.shapes.leaders import note_diameter
from slotwright.drawings.shapes.outline_measures import PLACES, for_reference, measure_outline, with_limits
from slotwright.drawings.shapes.panel import Panel
from slotwright.drawings.shapes.patterns import SAME, BoltCircle, Origin, Zero, bolt_circles, flat, origin_of
from slotwright.drawings.shapes.reading_outlines import read
from slotwright.drawings.shapes.script_panels import script_panels
from slotwright.drawings.shapes.seen import Plane, hole_in_view, shown
from slotwright.drawings.shapes.signs import ORIGINS, datum_marks, middle_datum, origin_marks, title, trace
from slotwright.drawings.shapes.vee_angle import place_angle
from slotwright.drawings.shapes.views_needed import faces_of, plane_of, shaped_features, twins
from slotwright.pieces.blanks import Disc, Extrusion
from slotwright.pieces.faces import Face
from slotwright.pieces.hole_groups import HoleGroup, TaggedHole
from slotwright.pieces.piece import Piece
from slotwright.pieces.script_piece import ScriptPiece

GAP = 8.0  # clear paper between neighbouring views and what is written to them, mm; our choice
NAMES = {
    Face.TOP: "plan", Face.FRONT: "front elevation", Face.RIGHT: "right end", Face.LEFT: "left end",
    Face.BACK: "rear elevation", Face.BOTTOM: "bottom view",
}  # fmt: skip
SHEET = 1.41  # width of a sheet over its height
BOTH = {Face.FRONT: "BOTH SIDES", Face.RIGHT: "BOTH ENDS"}


def shaped_views(piece: Piece, scale: float, projection: Projection, style: Style) -> ViewGroup:
    """Return all views of a shaped piece at a scale."""
    if isinstance(piece, ScriptPiece):
        by_kernel = script_panels(piece, scale, style)
        larger = enlarge_projected(piece, by_kernel)
        return _detailed(_laid_out(by_kernel, projection, piece, tagged=True), larger)
    plane, origin = plane_of(piece), origin_of(piece)
    faces = faces_of(piece)
    panels = {face: _panel(piece, face, plane, scale, style) for face in faces}
    for face, bare in panels.items():
        panels[face] = panel = _measured(bare, piece, plane, faces, origin)
        if panel.face is Face.RIGHT and isinstance(piece.blank, Extrusion):
            vee = read(piece.blank.profile).vee
            if vee is not None:
                place_angle(panel, vee)
        panel.write_notes()
    homes = homes_of(piece, faces)
    larger = enlarge(piece, panels, homes, plane)
    tagged = True
    for panel in panels.values():
        tagged = _tag(panel, piece, homes[panel.face]) and tagged
        title(panel, panel.face, plane)
    return _detailed(_laid_out(panels, projection, piece, tagged=tagged), larger)


def _detailed(group: ViewGroup, larger: Enlarged) -> ViewGroup:
    """Return a group, and its other way, with its details."""
    return replace(
        group,
        details=larger.details,
        enlarged=larger.complete,
        complete=group.complete and larger.complete,
        otherwise=None if group.otherwise is None else _detailed(group.otherwise, larger),
    )


def _measured(bare: Panel, piece: Piece, plane: Plane | None, faces: tuple[Face, ...], origin: Origin) -> Panel:
    """Sign and measure a view; where distances find no place, with other lengths of the arrows at the datum corner."""
    ringed = not bare.face.upright and origin.ring is not None
    for shorter in range(len(ORIGINS) if ringed else 1):
        panel = bare.copy()
        _sign(panel, piece, plane, origin, ORIGINS[shorter:])
        place_distances(panel, _distances(panel, piece, faces, origin))
        if not panel.crowded:
            break
    if piece.has_datums:
        panel.note(middle_datum(panel, origin))
    return panel


def _panel(piece: Piece, face: Face, plane: Plane | None, scale: float, style: Style) -> Panel:
    marks = seen_marks(piece, face, plane, scale, style)
    name = "section A-A" if face is Face.FRONT and plane is not None else NAMES[face]
    return Panel(face, View(name=name, origin=(0.0, 0.0), scale=scale, marks=marks), style)


def _sign(panel: Panel, piece: Piece, plane: Plane | None, origin: Origin, lengths: Sequence[float]) -> None:
    """Put in place what all else goes round: origin, section plane, datums."""
    if panel.face is Face.TOP and plane is not None and not plane.on_centre:
        panel.note(trace(panel, plane, origin))
    if not panel.face.upright and any(flat(hole) for hole in piece.holes):
        letters = origin_marks(panel, origin, lengths)
        panel.note(letters)
        for mark in letters if origin.ring != (0.0, 0.0) else ():
            if isinstance(mark, Text):
                panel.keep_row_clear(mark)
    if piece.has_datums:
        panel.note(datum_marks(panel, piece, origin))


def _distances(panel: Panel, piece: Piece, faces: tuple[Face, ...], origin: Origin) -> list[Wish]:
    """Return the distances of a view; what is noted on leaders waits in the panel."""
    metal, blank, face = piece.metal, piece.blank, panel.face
    long, wide, thick = metal.size
    drawn_out = isinstance(blank, Extrusion)
    wishes: list[Wish] = []
    if face is Face.TOP and not drawn_out:
        about = origin.along is Zero.MIDDLE, origin.across is Zero.MIDDLE
        outer = for_reference(measure_outline(panel, blank.plan, about), blank.plan, piece.cut_out)
        wishes += with_limits(outer, piece.width_limits, panel.style, upright=True)
        wishes += _origin_places(origin, long, wide)
        if isinstance(blank, Disc) and blank.bore:
            note_diameter(panel, (long / 2.0, wide / 2.0), blank.bore / 2.0, "⌀<>")
    if face is Face.RIGHT and isinstance(blank, Extrusion):
        wishes += with_limits(measure_outline(panel, blank.profile), piece.width_limits, panel.style, upright=False)
    if face is Face.FRONT and drawn_out:
        wishes.append(Wish(False, 0.0, long, (0.0, thick), (0.0, thick), Side.BOTTOM, "<>", PLACES))
    elif face is Face.FRONT:
        wishes.append(Wish(True, 0.0, thick, (0.0, long), (0.0, long), Side.RIGHT, "<>", PLACES))
    for circle in bolt_circles(piece):
        if face_of(circle, faces) is face:
            note_diameter(panel, shown(face, circle.centre), circle.diameter / 2.0, "⌀<> B.C.")
            wishes += _circle_places(panel, circle, origin)
    own = [feature for feature in shaped_features(piece) if feature.face is face]
    both = {id(feature): BOTH[face] for feature in own} if face in twins(piece) else {}
    return [*wishes, *measure_features(panel, own, metal, origin, both)]


def _origin_places(origin: Origin, long: float, wide: float) -> list[Wish]:
    """A feature's centre that all is counted from is located from the edges that are its datums."""
    ends = (0.0, wide), (0.0, long)  # its own centre lines lead out to where the extension lines start
    found = []
    if origin.along is Zero.CENTRE:
        found.append(Wish(False, 0.0, origin.x, ends[0], ends[0], Side.BOTTOM))
    if origin.across is Zero.CENTRE:
        found.append(Wish(True, 0.0, origin.y, ends[1], ends[1], Side.LEFT))
    return found


def _circle_places(panel: Panel, circle: BoltCircle, origin: Origin) -> list[Wish]:
    """A bolt circle about another place than the origin is located from that."""
    found = []
    (u, v), (ou, ov) = shown(panel.face, circle.centre), shown(panel.face, (origin.x, origin.y))
    if abs(u - ou) > SAME:
        found.append(Wish(False, min(u, ou), max(u, ou), (v, v), (v, v), Side.BOTTOM))
    if abs(v - ov) > SAME:
        found.append(Wish(True, min(v, ov), max(v, ov), (u, u), (u, u), Side.LEFT))
    return found


def _tag(panel: Panel, piece: Piece, groups: Iterable[HoleGroup]) -> bool:
    """Tag the holes this view shows from the face they start in, and contour points; say whether all found a place."""
    own = list(contour_tags(piece, panel.face, panel.view.scale))
    for group in groups:
        own += [TaggedHole(one.tag, hole_in_view(one.hole, panel.face)) for one in group.holes]
    panel.keep_texts_clear(panel.style.text - CLEAR)
    tags, complete = place_tags(panel.view, own, panel.register, panel.style)
    panel.notes += tags
    return complete


# Lay-out


def _laid_out(panels: dict[Face, Panel], projection: Projection, piece: Piece, *, tagged: bool) -> ViewGroup:
    first, *others = _spots({face: panel.box for face, panel in panels.items()}, projection)
    found: ViewGroup | None = None
    for spots in others:
        found = _group(panels, spots, piece, tagged=tagged, otherwise=found)
    return _group(panels, first, piece, tagged=tagged, otherwise=found)


def _group(
    panels: dict[Face, Panel], spots: dict[Face, Point], piece: Piece, *, tagged: bool, otherwise: ViewGroup | None
) -> ViewGroup:
    views, marks, boxes = [], [], []
    for face, panel in panels.items():
        dx, dy = spots[face]
        dimensions = tuple(replace(d, marks=tuple(moved(m, dx, dy) for m in d.marks)) for d in panel.dimensions)
        views.append(replace(panel.view, origin=(dx, dy), dimensions=dimensions))
        marks += [moved(mark, dx, dy) for mark in panel.notes]
        boxes.append(panel.box.moved(dx, dy))
    return ViewGroup(
        views=tuple(views),
        marks=tuple(marks),
        box=union(boxes),
        parts=tuple(boxes),
        located=False,
        edges_noted=not piece.blank.edge_chamfer,
        complete=tagged and not any(panel.crowded for panel in panels.values()),
        tagged=tagged,
        otherwise=otherwise,
    )


def _spots(boxes: dict[Face, Box], projection: Projection) -> list[dict[Face, Point]]:
    """Return where the origin of each view goes: the plan's at (0, 0), the others in line with it or each other.

    The view from below stands on the far side of the elevation, or beside the others: what fits paper better is first.
    """
    third = projection == "third"
    row = [face for face in (Face.FRONT, Face.RIGHT, Face.LEFT, Face.BACK) if face in boxes]
    low, high = min(boxes[face].y0 for face in row), max(boxes[face].y1 for face in row)
    y = 0.0
    if Face.TOP in boxes:
        y = boxes[Face.TOP].y0 - GAP - high if third else boxes[Face.TOP].y1 + GAP - low
    spots = {Face.TOP: (0.0, 0.0), Face.FRONT: (0.0, y)}
    left, right = boxes[Face.FRONT].x0, boxes[Face.FRONT].x1
    for face in row[1:]:
        box = boxes[face]
        if face is Face.BACK or (face is Face.RIGHT) == third:
            x = right + GAP - box.x0
            right = x + box.x1
        else:
            x = left - GAP - box.x1
            left = x + box.x0
        spots[face] = (x, y)
    if Face.BOTTOM in boxes:
        box = boxes[Face.BOTTOM]
        others = union(boxes[face].moved(*spots[face]) for face in boxes if face is not Face.BOTTOM)
        below = (0.0, y + low - GAP - box.y1 if third else y + high + GAP - box.y0)
        beside = (others.x1 + GAP - box.x0, (others.y0 + others.y1 - box.y0 - box.y1) / 2.0)
        both = sorted((below, beside), key=lambda spot: _paper(union([others, box.moved(*spot)])))
        return [{**spots, Face.BOTTOM: spot} for spot in both]
    return [spots]


def _paper(box: Box) -> float:
    """How high a sheet of the usual shape must be for a box."""
    return max(box.height, box.width / SHEET)
