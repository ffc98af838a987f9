"""The views a shaped piece needs, each with its dimensions, notes and tags, laid out round each other on paper."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from slotwright.drawings.dimensioning import Side, arrow, line
from slotwright.drawings.hole_tags import CLEAR, place_tags
from slotwright.drawings.piece_signs import origin_symbol
from slotwright.drawings.placing import Box, moved, union
from slotwright.drawings.shapes.measures import PLACES, Shaped, is_step, measure_features, measure_outline, measure_vee
from slotwright.drawings.shapes.panel import Panel, Wish
from slotwright.drawings.shapes.patterns import BoltCircle, Origin, bolt_circles, flat, origin_of
from slotwright.drawings.shapes.seen import Plane, hole_in_view, shown, view_marks
from slotwright.drawings.sheet import Anchor, Circle, Line, Mark, Point, Stroke, Text, View
from slotwright.drawings.sheet_data import Projection
from slotwright.drawings.style import Style
from slotwright.drawings.view_group import ViewGroup
from slotwright.drawings.views import centre_mark
from slotwright.pieces.blanks import Bar, Disc, Extrusion
from slotwright.pieces.faces import Face
from slotwright.pieces.features import Groove, Hole
from slotwright.pieces.hole_groups import TaggedHole, tagged_holes
from slotwright.pieces.piece import Piece

GAP = 8.0  # clear paper between neighbouring views and what is written to them, mm; our choice
NAMES = {
    Face.TOP: "plan", Face.FRONT: "front elevation", Face.RIGHT: "right end", Face.LEFT: "left end",
    Face.BACK: "rear elevation", Face.BOTTOM: "bottom view",
}  # fmt: skip
TITLES = {
    Face.RIGHT: "FROM THE RIGHT", Face.LEFT: "FROM THE LEFT", Face.BACK: "FROM BEHIND", Face.BOTTOM: "FROM BELOW",
}  # fmt: skip
TALL_ORIGIN = 32.0  # a section plane lower than this would meet the origin symbol, mm on paper
ON_CENTRE = "SECTION ON THE CENTRE LINE"


def is_shaped(piece: Piece) -> bool:
    """Say whether a piece is more than a bar with plain holes in top and bottom."""
    if not isinstance(piece.blank, Bar) or piece.pockets or piece.grooves or piece.tenons:
        return True
    return any(hole.face.upright or hole.countersink is not None for hole in piece.holes)


def shaped_views(piece: Piece, scale: float, projection: Projection, style: Style) -> ViewGroup:
    """Return all views of a shaped piece at a scale."""
    plane = plane_of(piece)
    circles, origin = bolt_circles(piece), origin_of(piece)
    panels = {face: _panel(piece, face, plane, scale, style) for face in faces_of(piece)}
    complete = True
    for face, panel in panels.items():
        wishes = _write(panel, piece, face, plane, circles, origin, frozenset(panels))
        panel.distances(wishes)
        if face is Face.RIGHT and isinstance(piece.blank, Extrusion):
            measure_vee(panel, piece.blank.profile)
        panel.write_notes()
        complete = _tag(panel, piece, panels) and complete and not panel.crowded
    for face, panel in panels.items():
        _title(panel, face, plane)
    return _laid_out(panels, complete, projection, piece)


# Which views


def faces_of(piece: Piece) -> tuple[Face, ...]:
    """Return the faces that are looked at, the main view first."""
    own = {feature.face for feature in _shaped(piece)} - set(_twins(piece).values())
    own |= {hole.face for hole in piece.holes if hole.face.upright or _one_sided(hole)}
    drawn_out = isinstance(piece.blank, Extrusion)
    above = not drawn_out or any(flat(hole) for hole in piece.holes) or Face.TOP in own or Face.BOTTOM in own
    wanted = [Face.TOP] if above else []
    wanted.append(Face.FRONT)
    if drawn_out or Face.RIGHT in own:
        wanted.append(Face.RIGHT)
    return (*wanted, *(face for face in (Face.LEFT, Face.BACK, Face.BOTTOM) if face in own))


def _shaped(piece: Piece) -> tuple[Shaped, ...]:
    return (*piece.tenons, *piece.grooves, *piece.pockets)


def _twins(piece: Piece) -> dict[Face, Face]:
    """Return the sides that need no view, for the face opposite has the same features, by that face."""
    found = {}
    for one, other in ((Face.FRONT, Face.BACK), (Face.RIGHT, Face.LEFT)):
        near = [replace(feature, face=one) for feature in _shaped(piece) if feature.face is one]
        far = [replace(feature, face=one) for feature in _shaped(piece) if feature.face is other]
        if near and sorted(map(repr, near)) == sorted(map(repr, far)):
            found[one] = other
    return found


def _one_sided(hole: Hole) -> bool:
    """Say whether a hole looks different from the face it starts in."""
    return hole.depth is not None or hole.counterbore is not None or hole.countersink is not None


def plane_of(piece: Piece) -> Plane | None:
    """Return the plane that stands for the front elevation, cutting most of what is hidden, or None."""
    if any(feature.face is Face.FRONT for feature in (*_shaped(piece), *piece.holes)):
        return None
    y0, y1 = piece.blank.plan.bounds[1], piece.blank.plan.bounds[3]
    middle = origin_of(piece).y if origin_of(piece).central else (y0 + y1) / 2.0
    shaped = [feature for feature in _shaped(piece) if not feature.face.upright]
    metal = piece.metal
    boxes = [metal.outline(f).bounds for f in shaped]
    rows = {round(hole.y, 6) for hole in piece.holes if flat(hole)}
    rows |= {round((b[1] + b[3]) / 2.0, 6) for b in boxes}
    best: tuple[float, float] | None = None
    for y in sorted({round(middle, 6), *rows}):
        if any(abs(y - edge) < 1e-3 for b in boxes for edge in (b[1], b[3])):
            continue
        cut = {_kind(hole) for hole in piece.holes if flat(hole) and abs(hole.y - y) < 1e-6}
        worth = sum(2.0 if blind else 0.5 for _, blind in cut)
        for feature, b in zip(shaped, boxes, strict=True):
            on_axis = abs((b[1] + b[3]) / 2.0 - y) < 1e-6
            if on_axis or (b[1] < y < b[3] and metal.outline(feature).diameter is None):
                worth += 3.0 if on_axis else 2.0
        worth += 1.0 if isinstance(piece.blank, Disc) and piece.blank.bore and abs(y - middle) < 1e-6 else 0.0
        worth += 0.4 if abs(y - middle) < 1e-6 else 0.0
        if worth >= 2.0 and (best is None or worth > best[0] + 1e-9):
            best = (worth, y)
    if best is None:
        return None
    return Plane(1, best[1], abs(best[1] - middle) < 1e-5)


def _kind(hole: Hole) -> tuple[object, bool]:
    size = (hole.diameter, hole.depth, hole.counterbore, hole.countersink, hole.thread, hole.face)
    return size, _one_sided(hole)


# What is written to one view


def _panel(piece: Piece, face: Face, plane: Plane | None, scale: float, style: Style) -> Panel:
    cut = plane if face is Face.FRONT else None
    marks = [*view_marks(piece, face, cut, scale, style), *_centre_lines(piece, face, scale, style)]
    name = NAMES[face] if cut is None else "section A-A"
    return Panel(face, View(name=name, origin=(0.0, 0.0), scale=scale, marks=tuple(marks)), style)


def _centre_lines(piece: Piece, face: Face, scale: float, style: Style) -> Iterable[Mark]:
    """Centre lines of a piece measured from its middle, bolt circles, middles of round features and of grooves."""
    origin, metal = origin_of(piece), piece.metal
    low, high = piece.overall
    over = style.centre_overrun / scale
    axes = [axis for axis in range(3) if axis != face.axis]
    if origin.central:
        u, v = origin.on(face)
        if 0 in axes or face.axis == 0:
            yield _shown_line(face, (u, low[axes[1]] - over), (u, high[axes[1]] + over))
        if face.axis == 2:
            yield _shown_line(face, (low[0] - over, v), (high[0] + over, v))
    for feature in _shaped(piece):
        if feature.face is not face:
            continue
        outline = metal.outline(feature)
        if isinstance(feature, Groove):
            if not is_step(feature, metal):
                yield _groove_axis(face, feature, outline.bounds, over)
        elif outline.diameter is not None:
            yield from centre_mark(
                shown(face, outline.centroid), Hole(x=0.0, y=0.0, diameter=outline.diameter), scale, style
            )  # noqa: E501
        else:
            yield from centre_mark(
                shown(face, _middle(outline.bounds)), Hole(x=0.0, y=0.0, diameter=6.0 / scale), scale, style
            )  # noqa: E501
    if face is Face.TOP or face is Face.BOTTOM:
        for circle in bolt_circles(piece):
            if face is _face_of(circle, faces_of(piece)):
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


def _face_of(circle: BoltCircle, faces: Iterable[Face]) -> Face:
    """The view in which a bolt circle is drawn: that of its holes' face when there is one."""
    below = all(hole.face is Face.BOTTOM for hole in circle.holes)
    return Face.BOTTOM if below and Face.BOTTOM in faces else Face.TOP


def _write(
    panel: Panel,
    piece: Piece,
    face: Face,
    plane: Plane | None,
    circles: tuple[BoltCircle, ...],
    origin: Origin,
    faces: frozenset[Face],
) -> list[Wish]:
    """Note what is noted on leaders, and return the distances that are still to be placed."""
    metal, blank = piece.metal, piece.blank
    if face in (Face.TOP, Face.BOTTOM) and any(flat(hole) for hole in piece.holes):
        panel.note(_origin_marks(panel, piece, origin))
    if face is Face.TOP and plane is not None and not plane.on_centre:
        panel.note(_trace(panel, plane))
    wishes: list[Wish] = []
    long, wide, thick = metal.size
    if face is Face.TOP and not isinstance(blank, Extrusion):
        wishes += measure_outline(panel, blank.plan)
        if isinstance(blank, Disc) and blank.bore:
            panel.diameter((long / 2.0, wide / 2.0), blank.bore / 2.0, "⌀<>")
        wishes += _origin_places(origin, long, wide)
    if face is Face.RIGHT and isinstance(blank, Extrusion):
        wishes += measure_outline(panel, blank.profile)
    if face is Face.FRONT:
        if isinstance(blank, Extrusion):
            wishes.append(Wish(False, 0.0, long, (0.0, thick), (0.0, thick), Side.BOTTOM, "<>", PLACES))
        else:
            wishes.append(Wish(True, 0.0, thick, (0.0, long), (0.0, long), Side.RIGHT, "<>", PLACES))
    own = [feature for feature in _shaped(piece) if feature.face is face]
    words = {Face.FRONT: "BOTH SIDES", Face.RIGHT: "BOTH ENDS"}
    both = {id(feature): words[face] for feature in own} if face in _twins(piece) else {}
    for circle in circles:
        if _face_of(circle, faces) is face:
            panel.diameter(shown(face, circle.centre), circle.diameter / 2.0, "⌀<> B.C.")
            wishes += _circle_places(panel, circle, origin)
    wishes += measure_features(panel, own, metal, origin, both)
    return wishes


def _origin_places(origin: Origin, long: float, wide: float) -> list[Wish]:
    """A centre that is not in the middle of the piece is located from the datum corner."""
    found = []
    if origin.central and abs(origin.x - long / 2.0) > 1e-4:
        found.append(Wish(False, 0.0, origin.x, (0.0, wide), (origin.y, origin.y), Side.BOTTOM))
    if origin.central and abs(origin.y - wide / 2.0) > 1e-4:
        found.append(Wish(True, 0.0, origin.y, (0.0, long), (origin.x, origin.x), Side.LEFT))
    return found


def _circle_places(panel: Panel, circle: BoltCircle, origin: Origin) -> list[Wish]:
    """A bolt circle about another place than the origin is located from that."""
    found = []
    u, v = shown(panel.face, circle.centre)
    ou, ov = shown(panel.face, (origin.x, origin.y))
    if abs(u - ou) > 1e-4:
        found.append(Wish(False, min(u, ou), max(u, ou), (v, v), (v, v), Side.BOTTOM))
    if abs(v - ov) > 1e-4:
        found.append(Wish(True, min(v, ov), max(v, ov), (u, u), (u, u), Side.LEFT))
    return found


def _origin_marks(panel: Panel, piece: Piece, origin: Origin) -> list[Mark]:
    """Mark where X and Y are counted from and which way."""
    style = panel.style
    if not origin.central:
        marks = origin_symbol(style)
        return marks if panel.face is Face.TOP else [_downward(mark) for mark in marks]
    u, v = panel.view.to_paper(shown(panel.face, (origin.x, origin.y)))
    up = 1.0 if panel.face is Face.TOP else -1.0
    right = panel.core.x1 + style.centre_overrun
    end = (panel.core.y1 if up > 0.0 else panel.core.y0) + up * style.centre_overrun
    return [
        line((right, v), (right + 3.0, v)), arrow((right + 6.0, v), 0.0, style),
        Text((right + 8.5, v), "X", style.text, Anchor.CENTRE, 0.0, True),
        line((u, end), (u, end + up * 3.0)), arrow((u, end + up * 6.0), up * 1.5707963267948966, style),
        Text((u, end + up * 8.5), "Y", style.text, Anchor.CENTRE, 0.0, True),
    ]  # fmt: skip


def _downward(mark: Mark) -> Mark:
    """Turn the origin symbol over, for a piece seen from below; letters stay upright."""
    match mark:
        case Stroke(points, kind, closed):
            return Stroke(tuple((x, -y) for x, y in points), kind, closed)
        case Text():
            return replace(mark, at=(mark.at[0], -mark.at[1] - (0.0 if mark.middle else mark.height)))
        case Circle():
            return mark
    return replace(mark, points=tuple((x, -y) for x, y in mark.points))  # type: ignore[union-attr]  # a Fill


def _trace(panel: Panel, plane: Plane) -> list[Mark]:
    """Ends of a section plane beside the plan, with arrows in the way one looks."""
    style, core = panel.style, panel.core
    y = panel.view.to_paper((0.0, plane.at))[1]
    marks: list[Mark] = []
    aside = 14.0 if y < TALL_ORIGIN else 0.0
    for x, way in ((core.x0 - aside, -1.0), (core.x1, 1.0)):
        near, end = x + way * 1.0, x + way * 8.0
        marks += [
            Stroke(((near, y), (end, y)), Line.SECTION),
            line((end, y - 9.0), (end, y - 1.0)),
            arrow((end, y), 1.5707963267948966, style),
            Text((end, y - 10.5 - 5.0), "A", 5.0, Anchor.CENTRE),
        ]
    return marks


def _title(panel: Panel, face: Face, plane: Plane | None) -> None:
    """Say under a view what it is, where that is not plain."""
    style = panel.style
    size, words = style.text, TITLES.get(face, "")
    if face is Face.FRONT and plane is not None:
        words = ON_CENTRE if plane.on_centre else "A-A" if style.name == "iso" else "SECTION A-A"
        size = style.text if plane.on_centre else 5.0
    if not words:
        return
    box = panel.box
    y = box.y0 - 3.0 - 1.2 * size
    panel.note([Text(((panel.core.x0 + panel.core.x1) / 2.0, y), words, size, Anchor.CENTRE)])


def _tag(panel: Panel, piece: Piece, panels: dict[Face, Panel]) -> bool:
    """Tag the holes that this view shows from the face they start in; say whether all found a place."""
    own = []
    for one in tagged_holes(piece):
        home = one.hole.face
        if home not in panels:
            home = Face.TOP if flat(one.hole) else Face.FRONT
        if home is panel.face:
            own.append(TaggedHole(one.tag, hole_in_view(one.hole, panel.face)))
    panel.keep_texts_clear(panel.style.text - CLEAR)
    tags, complete = place_tags(panel.view, own, panel.register, panel.style)
    panel.notes += tags
    return complete


# Lay-out


def _laid_out(panels: dict[Face, Panel], complete: bool, projection: Projection, piece: Piece) -> ViewGroup:
    spots = _spots({face: panel.box for face, panel in panels.items()}, projection)
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
        located=False,
        edges_noted=not piece.blank.edge_chamfer,
        complete=complete,
    )


def _spots(boxes: dict[Face, Box], projection: Projection) -> dict[Face, Point]:
    """Return where the origin of each view goes: the plan's at (0, 0), the others in line with it or each other."""
    third = projection == "third"
    row = [face for face in (Face.FRONT, Face.RIGHT, Face.LEFT, Face.BACK) if face in boxes]
    low, high = min(boxes[face].y0 for face in row), max(boxes[face].y1 for face in row)
    y = 0.0
    if Face.TOP in boxes:
        y = boxes[Face.TOP].y0 - GAP - high if third else boxes[Face.TOP].y1 + GAP - low
    spots = {Face.TOP: (0.0, 0.0), Face.FRONT: (0.0, y)}
    if Face.BOTTOM in boxes:
        box = boxes[Face.BOTTOM]
        spots[Face.BOTTOM] = (0.0, y + low - GAP - box.y1 if third else y + high + GAP - box.y0)
    left, right = boxes[Face.FRONT].x0, boxes[Face.FRONT].x1
    for face in (Face.RIGHT, Face.LEFT, Face.BACK):
        if face not in boxes:
            continue
        if face is Face.BACK or (face is Face.RIGHT) == third:
            x = right + GAP - boxes[face].x0
            right = x + boxes[face].x1
        else:
            x = left - GAP - boxes[face].x1
            left = x + boxes[face].x0
        spots[face] = (x, y)
    return spots


def places_note(piece: Piece) -> str:
    """Say where the places of holes are counted from."""
    if not is_shaped(piece):
        return "X AND Y FROM THE DATUM CORNER: LEFT END, FRONT EDGE."
    if not piece.holes:
        return ""
    sides = " HEIGHTS Z FROM THE BOTTOM FACE." if any(hole.face.upright for hole in piece.holes) else ""
    if not origin_of(piece).central:
        return "X AND Y FROM THE DATUM CORNER: LEFT END, FRONT EDGE." + sides
    angles = " ANGLES FROM X, COUNTER-CLOCKWISE SEEN FROM ABOVE." if bolt_circles(piece) else ""
    return "X AND Y FROM THE CENTRE." + angles + sides


def least_size(piece: Piece, scale: float) -> tuple[float, float]:
    """Return the least width and height the group can have on paper."""
    low, high = piece.overall
    faces = faces_of(piece)
    wide, high_ = high[0] - low[0], high[2] - low[2]
    if Face.TOP in faces:
        high_ += high[1] - low[1]
    if Face.BOTTOM in faces:
        high_ += high[1] - low[1]
    for face in (Face.RIGHT, Face.LEFT):
        wide += high[1] - low[1] if face in faces else 0.0
    return wide * scale + 20.0, high_ * scale + 20.0
