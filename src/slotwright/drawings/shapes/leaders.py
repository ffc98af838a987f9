"""Notes on leaders: what a feature is, diameters, radii; each waits until all distances of its view have a place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from itertools import product
from math import cos, radians, sin

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.crossing import from_line
from slotwright.drawings.paper.placing import Box, text_box
from slotwright.drawings.paper.sheet import Circle, Dimension, DimensionKind, Line, Point, Text
from slotwright.drawings.paper.symbols import leader
from slotwright.drawings.shapes.panel import Panel

WAYS = (45.0, 135.0, -45.0, -135.0, 60.0, 120.0, -60.0, -120.0, 30.0, 150.0, -30.0, -150.0, 75.0, 105.0, -75.0,
        -105.0, 15.0, 165.0, -15.0, -165.0)  # fmt: skip
LENGTHS = (8.0, 11.0, 15.0, 20.0, 26.0, 33.0, 41.0, 50.0, 62.0, 76.0, 92.0, 110.0, 130.0, 150.0)  # of a leader, mm
SMALL_CIRCLE = 12.0  # radius up to which a leader does not run over a hole, mm on paper; our choice
OFF_HOLES, ON_RIM = 1.5, -0.1  # how far off that is: notes of features, and of circles themselves, mm; our choice
LOOSE = 1.0  # clear paper between a leader and a loose letter, mm; our choice
TIGHT = 1.2  # clear paper round a note where its own height cannot be had, mm; our choice
LEADING = 1.6  # from line to line, in heights of capitals

Tip = tuple[Point, float | None]
"""Where a leader may point on paper, and the only direction it may come from, degrees; None for any."""


def point_out(panel: Panel, tips: Sequence[Point], words: Sequence[str]) -> None:
    """Note words with a leader to one of some points of the model."""
    panel.waiting.append(partial(_point_out, panel, tuple(tips), tuple(words)))


def note_diameter(panel: Panel, centre: Point, radius: float, text: str, places: int | None = None) -> None:
    """Note a diameter; "<>" stands for its value, its other unit goes behind it unless one stands in the text."""
    arcs = ((centre, radius, 0.0, 360.0),)
    panel.waiting.append(partial(_round, panel, DimensionKind.DIAMETER, arcs, text, places))


def note_radius(
    panel: Panel, arcs: Sequence[tuple[Point, float, float, float]], text: str, places: int | None = None
) -> None:
    """Note a radius with a leader to one of some arcs: centre, radius, from, to in degrees."""
    panel.waiting.append(partial(_round, panel, DimensionKind.RADIUS, tuple(arcs), text, places))


def _point_out(panel: Panel, tips: Sequence[Point], words: Sequence[str]) -> None:
    tip, elbow, left = _spot(panel, [(panel.view.to_paper(point), None) for point in tips], words, OFF_HOLES)
    panel.note(leader(tip, elbow, words, panel.style, to_left=left))


def _round(
    panel: Panel,
    kind: DimensionKind,
    arcs: Sequence[tuple[Point, float, float, float]],
    text: str,
    places: int | None,
) -> None:
    style = panel.style
    shown = style.places if places is None else places
    value = arcs[0][1] * (2.0 if kind is DimensionKind.DIAMETER else 1.0)
    if "[" not in text:
        text = text.replace("<>", "<>" + style.bracket(value))
    written = text.replace("<>", style.number(value, shown))
    points = {panel.view.to_paper(near): (centre, near, way) for centre, near, way in _rim_points(arcs)}
    tip, elbow, left = _spot(panel, [(at, way) for at, (_, _, way) in points.items()], (written,), ON_RIM)
    marks = leader(tip, elbow, (written,), style, to_left=left)
    words = next(mark for mark in marks if isinstance(mark, Text))
    box = text_box(words)
    panel.take(
        Dimension(
            kind=kind,
            points=points[tip][:2],
            value=value,
            text=text,
            text_at=panel.view.to_model(((box.x0 + box.x1) / 2.0, words.at[1])),
            places=shown,
            marks=marks,
        )
    )


def _rim_points(arcs: Sequence[tuple[Point, float, float, float]]) -> list[tuple[Point, Point, float]]:
    """Centre, point on the curve and its direction, in the ways leaders run; at least one."""
    found = []
    for centre, r, start, end in arcs:
        ways = [way for way in WAYS if start < start + (way - start) % 360.0 < end]
        found += [(centre, _rim(centre, r, way), way) for way in ways]
    if not found:
        centre, r, start, end = arcs[0]
        way = (start + end) / 2.0
        found = [(centre, _rim(centre, r, way), way)]
    return found


def _rim(centre: Point, r: float, way: float) -> Point:
    return centre[0] + r * cos(radians(way)), centre[1] + r * sin(radians(way))


# Room


def _spot(panel: Panel, tips: Sequence[Tip], words: Sequence[str], beside: float) -> tuple[Point, Point, bool]:
    """Return the best free place of a note: tip, elbow, and whether its text stands to the left.

    Its leader keeps so far off small holes.
    """
    for clear, over_holes in product((panel.style.text, TIGHT), (False, True)):
        for tip, elbow, left, box in _tries(panel, tips, words):
            if _fits(panel, tip, elbow, box, clear) and (over_holes or not _over_hole(panel, tip, elbow, beside)):
                return tip, elbow, left
    panel.crowded = True
    (x, y), _ = tips[0]
    return (x, y), (x + 12.0, y + 12.0), False


def _tries(panel: Panel, tips: Sequence[Tip], words: Sequence[str]) -> Iterator[tuple[Point, Point, bool, Box]]:
    style = panel.style
    wide = max(lettering.width(word, style.text) for word in words)
    deep = style.text * (0.75 + LEADING * (len(words) - 1))  # below the first line's middle, descenders included
    for length in LENGTHS:
        for tip, own in tips:
            for way in WAYS if own is None else (own, own + 180.0):
                c, s = cos(radians(way)), sin(radians(way))
                elbow = (tip[0] + length * c, tip[1] + length * s)
                x = elbow[0] + (-1.0 if c < 0.0 else 1.0) * (style.arrow + style.text_gap)
                low, high = elbow[1] - deep, elbow[1] + style.text / 2.0
                yield tip, elbow, c < 0.0, Box(x - wide, low, x, high) if c < 0.0 else Box(x, low, x + wide, high)


def _fits(panel: Panel, tip: Point, elbow: Point, box: Box, clear: float) -> bool:
    if not panel.register.free(box.grown(clear)):
        return False
    shoulder = (box.x0 if elbow[0] < box.x0 else box.x1, elbow[1])
    return not any(
        panel.meets_text(a, b, clear, LOOSE) or panel.crosses_any(a, b) for a, b in ((tip, elbow), (elbow, shoulder))
    )


def _over_hole(panel: Panel, tip: Point, elbow: Point, beside: float) -> bool:
    """Say whether a leader comes so near to a small circle, or runs over it."""
    scale = panel.view.scale
    rims = (m for m in panel.view.marks if isinstance(m, Circle) and m.line is Line.OUTLINE)
    small = (rim for rim in rims if rim.radius * scale < SMALL_CIRCLE)
    return any(from_line(panel.view.to_paper(rim.centre), tip, elbow) < rim.radius * scale + beside for rim in small)
