"""The angle of a V: its arc stands inside the V where there is room, else above it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, degrees, hypot, radians, sin

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.crossing import chords
from slotwright.drawings.paper.dimensioning import arrow, line
from slotwright.drawings.paper.placing import Box
from slotwright.drawings.paper.sheet import Anchor, Arc, Dimension, DimensionKind, Line, Mark, Point, Stroke, Text
from slotwright.drawings.shapes.panel import Panel, Stretch
from slotwright.drawings.shapes.reading_outlines import Vee

INSIDE = (0.75, 0.6, 0.9)  # of the flank's length, where the arc is tried inside the V
OUTSIDE = tuple(8.0 + 2.0 * n for n in range(40))  # beyond the lips, mm on paper
ASIDE = (0.0, 0.4, -0.4, 0.6, -0.6)  # of half the angle, where the text stands on the arc


def place_angle(panel: Panel, vee: Vee) -> None:
    """Place the angle of a V in the view that shows it."""
    at, lip = panel.view.to_paper(vee.vertex), panel.view.to_paper(vee.right)
    flank = hypot(lip[0] - at[0], lip[1] - at[1])
    written = panel.style.angle(vee.angle)
    for r, middle in _spots(panel, at, flank, vee.angle / 2.0):
        half = lettering.width(written, panel.style.text) / 2.0
        box = Box(middle[0] - half, middle[1] - panel.style.text / 2.0, middle[0] + half,
                  middle[1] + panel.style.text / 2.0)  # fmt: skip
        marks = _marks(panel, at, r, vee.angle / 2.0, flank)
        if _fits(panel, marks, box):
            words = Text(middle, written, panel.style.text, Anchor.CENTRE, 0.0, True, Line.DIMENSION)
            panel.take(_dimension(panel, vee, (at[0], at[1] + r), middle, (*marks, words)))
            return
    panel.crowded = True


def _spots(panel: Panel, at: Point, flank: float, half: float) -> Iterator[tuple[float, Point]]:
    """Yield radii of the arc, each with a place of the text beyond it or within it."""
    style = panel.style
    for r in (*(flank * share for share in INSIDE), *(flank + out for out in OUTSIDE)):
        for share in ASIDE:
            turn = radians(90.0 - share * half)
            for text_r in (r + style.text_gap + style.text / 2.0, r - style.text_gap - style.text):
                yield r, (at[0] + text_r * cos(turn), at[1] + text_r * sin(turn))


def _marks(panel: Panel, at: Point, r: float, half: float, flank: float) -> tuple[Mark, ...]:
    """Arc, arrows, and the flanks carried on where the arc stands beyond the lips."""
    style = panel.style
    marks: list[Mark] = [Arc(at, r, 90.0 - half, 90.0 + half, Line.DIMENSION)]
    tilt = degrees(style.arrow / (2.0 * r))  # an arrow on a curve leans by half of what it covers
    for way, out in ((90.0 - half, -90.0 + tilt), (90.0 + half, 90.0 - tilt)):
        c, s = cos(radians(way)), sin(radians(way))
        marks.append(arrow((at[0] + r * c, at[1] + r * s), radians(way + out), style))
        if r > flank:
            start, end = flank + style.extension_gap, r + style.extension_overrun
            marks.append(line((at[0] + start * c, at[1] + start * s), (at[0] + end * c, at[1] + end * s)))
    return tuple(marks)


def _fits(panel: Panel, marks: Sequence[Mark], box: Box) -> bool:
    clear = panel.style.text
    if not panel.register.free(box.grown(clear)):
        return False
    arcs = [mark for mark in marks if isinstance(mark, Arc)]
    if any(box.grown(0.8).touches_ring(arc.centre, arc.radius) for arc in arcs):
        return False
    along: list[Stretch] = [chord for arc in arcs for chord in chords(arc)]
    across: list[Stretch] = [(m.points[0], m.points[-1]) for m in marks if isinstance(m, Stroke)]
    if any(panel.meets_text(a, b, clear) for a, b in (*along, *across)):
        return False
    return not any(panel.crosses_any(a, b) for a, b in along) and not any(panel.crosses_measured(*s) for s in across)


def _dimension(panel: Panel, vee: Vee, top: Point, middle: Point, marks: tuple[Mark, ...]) -> Dimension:
    return Dimension(
        kind=DimensionKind.ANGLE,
        points=(vee.vertex, vee.right, vee.left, panel.view.to_model(top)),
        value=vee.angle,
        text="<>°",
        text_at=panel.view.to_model(middle),
        places=1,
        marks=marks,
    )
