"""Views of a made piece, drawn from its features: every edge is known, so no kernel is asked.

All marks are in model coordinates, mm. The plan's frame is the piece's X, Y; the front elevation's is X, Z; the end
view's is Y, Z. Lengths that must look the same at any scale (overruns of centre lines) are given as mm on paper and
divided by the scale.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import cos, radians, sin

from slotwright.drawings.paper.sheet import Arc, Circle, Line, Mark, Point, Stroke
from slotwright.drawings.paper.style import Style
from slotwright.drawings.profiles import Axis, Profile, profile
from slotwright.pieces.blanks import Blank
from slotwright.pieces.features import Face, Hole
from slotwright.pieces.piece import Piece

LEAST_LINE_SPACE = 0.7  # mm on paper between two lines; ISO 128-2, from memory
THREAD_OPENING = (10.0, 100.0)  # the open quarter of a thread's circle, upper right (ISO 6410-1)
CROSS = 1.5  # half length of the small cross in a centre mark, mm on paper; our choice


def plan(
    piece: Piece, scale: float, style: Style, *, level: float | None = None, upright: float | None = None
) -> tuple[Mark, ...]:
    """Return the view from above: outline, rim of the chamfer, holes, centre marks.

    Holes on a centre line of the whole piece, level at a Y or upright at an X, have no mark of their own along it.
    """
    blank = piece.blank
    marks: list[Mark] = [_box(0.0, 0.0, blank.length, blank.width)]
    if rim_shows(blank, scale):
        c = blank.edge_chamfer
        marks.append(_box(c, c, blank.length - c, blank.width - c))
    for hole in piece.holes:
        marks += hole_from_above(hole, style)
        bare = (_at(hole.y, level), _at(hole.x, upright))
        marks += centre_mark((hole.x, hole.y), hole, scale, style, bare)
    return tuple(marks)


def _at(place: float, line: float | None) -> bool:
    return line is not None and abs(place - line) < 1e-6


def elevation(piece: Piece, scale: float, style: Style, axis: Axis = "x") -> tuple[Mark, ...]:
    """Return the front elevation (axis "x") or the view of the end (axis "y") with hidden edges and axes."""
    marks = list(side_outline(piece.blank, scale, axis))
    seen: set[tuple[float, Profile]] = set()
    for hole in piece.holes:
        shape = profile(hole, piece.blank.thickness, axis)
        at = round(hole.x if axis == "x" else hole.y, 6)
        if (at, shape) in seen:
            continue
        seen.add((at, shape))
        marks += [Stroke(_moved(wall, at), Line.HIDDEN) for wall in (*shape.walls, *shape.crests)]
        marks.append(axis_line(at, shape, scale, style))
    return tuple(marks)


def side_outline(blank: Blank, scale: float, axis: Axis = "x", *, cut: bool = False) -> tuple[Mark, ...]:
    """Return a bar's outline from the front (axis "x") or from its end (axis "y"), chamfers included.

    A cut bar shows no edges of the chamfers along it, for they lie on the part taken away or behind the lining.
    """
    across = blank.length if axis == "x" else blank.width
    c, high = blank.edge_chamfer, blank.thickness
    marks: list[Mark] = [Stroke(side_polygon(blank, axis), Line.OUTLINE, closed=True)]
    if not cut and rim_shows(blank, scale):
        marks += [Stroke(((0.0, z), (across, z)), Line.OUTLINE) for z in (c, high - c)]
    return tuple(marks)


def side_polygon(blank: Blank, axis: Axis = "x") -> tuple[Point, ...]:
    """Return the corners of a bar's outline from the side, counter-clockwise."""
    across = blank.length if axis == "x" else blank.width
    c, high = blank.edge_chamfer, blank.thickness
    if not c:
        return ((0.0, 0.0), (across, 0.0), (across, high), (0.0, high))
    right = ((across - c, 0.0), (across, c), (across, high - c), (across - c, high))
    return (*right, (c, high), (0.0, high - c), (0.0, c), (c, 0.0))


def hole_from_above(hole: Hole, style: Style) -> tuple[Mark, ...]:
    """Return a hole's circles (or slot outlines) in the plan."""
    opens_up = hole.face is Face.TOP
    bore = Line.OUTLINE if opens_up or hole.depth is None else Line.HIDDEN
    marks = list(_ring(hole, hole.diameter, bore))
    if hole.thread is not None:
        marks += thread_ring((hole.x, hole.y), hole.thread.major, opens_up or hole.depth is None, style)
    if hole.counterbore is not None:
        marks += _ring(hole, hole.counterbore.diameter, Line.OUTLINE if opens_up else Line.HIDDEN)
    return tuple(marks)


def thread_ring(centre: Point, major: float, visible: bool, style: Style) -> tuple[Mark, ...]:
    """Return the major diameter of an internal thread seen along its axis.

    ISO 6410-1: three quarters of a narrow circle; ASME Y14.6 simplified: a hidden circle.
    """
    if style.name == "asme":
        return (Circle(centre, major / 2.0, Line.HIDDEN),)
    opening, opened = THREAD_OPENING
    return (Arc(centre, major / 2.0, opened, 360.0 + opening, Line.THREAD if visible else Line.HIDDEN),)


def _ring(hole: Hole, diameter: float, line: Line) -> Sequence[Mark]:
    if not hole.slot_extra:
        return (Circle((hole.x, hole.y), diameter / 2.0, line),)
    return obround((hole.x, hole.y), diameter, hole.slot_extra, hole.slot_angle, line)


def obround(centre: Point, width: float, extra: float, angle: float, line: Line) -> tuple[Mark, ...]:
    """Return a slot with round ends: two straight sides and two half circles.

    Args:
        centre: middle of the slot.
        width: across the sides.
        extra: distance between the centres of the ends.
        angle: direction, degrees from X.
        line: how it is drawn.
    """
    c, s = round(cos(radians(angle)), 15), round(sin(radians(angle)), 15)
    half, radius = extra / 2.0, width / 2.0

    def at(u: float, v: float) -> Point:
        return centre[0] + u * c - v * s, centre[1] + u * s + v * c

    return (
        Stroke((at(-half, -radius), at(half, -radius)), line),
        Arc(at(half, 0.0), radius, angle - 90.0, angle + 90.0, line),
        Stroke((at(half, radius), at(-half, radius)), line),
        Arc(at(-half, 0.0), radius, angle + 90.0, angle + 270.0, line),
    )


def centre_mark(
    centre: Point, hole: Hole, scale: float, style: Style, bare: tuple[bool, bool] = (False, False)
) -> Iterable[Mark]:
    """Yield a centre mark: a small cross, and dashes that run out of the widest circle on all four sides.

    Where it is bare along X or along Y, a longer centre line runs there, and only the cross is drawn.
    """
    for across, dx, dy, alone in zip(reach(hole), (1.0, 0.0), (0.0, 1.0), bare, strict=True):
        spans = [(-cross_reach(across, scale), cross_reach(across, scale))] if alone else _spans(across, scale, style)
        yield from (Stroke(((centre[0] + a * dx, centre[1] + a * dy), (centre[0] + b * dx, centre[1] + b * dy)),
                           Line.CENTRE) for a, b in spans)  # fmt: skip


def reach(hole: Hole) -> tuple[float, float]:
    """Return how far a hole reaches from its middle along X and along Y, mm."""
    radius = hole.widest / 2.0
    turn = radians(hole.slot_angle)
    half = hole.slot_extra / 2.0
    return radius + round(half * abs(cos(turn)), 12), radius + round(half * abs(sin(turn)), 12)


def mark_overrun(style: Style) -> float:
    """Return how far a centre mark runs out of its circle, mm on paper; our choice, half of what an axis does."""
    return style.centre_overrun / 2.0


def cross_reach(radius: float, scale: float) -> float:
    """Return how far the arms of the cross in a centre mark reach, mm of the model."""
    return min(CROSS / scale, radius * 0.4)


def _spans(radius: float, scale: float, style: Style) -> Sequence[tuple[float, float]]:
    """A centre line in pieces, so that the cross stands in the middle whatever the pattern of the line is."""
    end = radius + mark_overrun(style) / scale
    cross = cross_reach(radius, scale)
    start = max(end - 3.0 * mark_overrun(style) / scale, cross + 0.8 / scale, radius * 0.6)
    return ((-end, -start), (-cross, cross), (start, end)) if start < radius else ((-end, end),)


def axis_line(at: float, shape: Profile, scale: float, style: Style) -> Stroke:
    """Return the axis of a hole seen from the side, running out at both ends."""
    over = style.centre_overrun / scale
    return Stroke(((at, shape.bottom - over), (at, shape.top + over)), Line.CENTRE)


def rim_shows(blank: Blank, scale: float) -> bool:
    """Say whether the two lines of a chamfer stand far enough apart on paper to be drawn."""
    return blank.edge_chamfer * scale >= LEAST_LINE_SPACE


def _moved(points: Iterable[Point], u: float) -> tuple[Point, ...]:
    return tuple((u + x, z) for x, z in points)


def _box(x0: float, y0: float, x1: float, y1: float) -> Stroke:
    return Stroke(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), Line.OUTLINE, closed=True)
