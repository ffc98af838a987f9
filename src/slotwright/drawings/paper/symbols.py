"""Leader notes, datum symbols and feature control frames; all paper mm."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.dimensioning import Side, arrow, line
from slotwright.drawings.paper.sheet import Anchor, Fill, Line, Mark, Point, Stroke, Text
from slotwright.drawings.paper.style import Style

SECTION_LETTER = 5.0  # height of section letters and titles, mm; our choice


def leader(tip: Point, elbow: Point, lines: Sequence[str], style: Style, *, to_left: bool = False) -> tuple[Mark, ...]:
    """Return a note on a leader: an arrow at the tip, a shoulder, and lines of text beside it.

    Args:
        tip: what it points at.
        elbow: where the slanted part ends and the level shoulder starts.
        lines: the note, top line first; the shoulder stands at the middle of the first line.
        style: how it looks.
        to_left: the text stands to the left of the elbow.
    """
    way = -1.0 if to_left else 1.0
    shoulder = (elbow[0] + way * style.arrow, elbow[1])
    marks: list[Mark] = [line(tip, elbow, shoulder)]
    marks.append(arrow(tip, atan2(tip[1] - elbow[1], tip[0] - elbow[0]), style))
    anchor = Anchor.RIGHT if to_left else Anchor.LEFT
    for n, words in enumerate(lines):
        at = (shoulder[0] + way * style.text_gap, elbow[1] - n * 1.6 * style.text)
        marks.append(Text(at, words, style.text, anchor, 0.0, True, Line.DIMENSION))
    return tuple(marks)


def datum(foot: Point, side: Side, letter: str, style: Style) -> tuple[Mark, ...]:
    """Return a datum symbol: a filled triangle on the surface, a stem and a framed letter (ISO 5459, ASME Y14.5)."""
    x, y = foot
    ox, oy = side.value
    base, high, stem, box = style.text * 0.55, style.text * 0.9, style.text * 1.9, style.text * 2.0
    triangle = Fill(
        ((x + base * oy, y - base * ox), (x - base * oy, y + base * ox), (x + high * ox, y + high * oy)), Line.DIMENSION
    )
    middle = (x + (stem + box / 2.0) * ox, y + (stem + box / 2.0) * oy)
    half = box / 2.0
    corners = tuple(
        (middle[0] + u, middle[1] + v) for u, v in ((-half, -half), (half, -half), (half, half), (-half, half))
    )
    return (
        triangle,
        line((x + high * ox, y + high * oy), (x + stem * ox, y + stem * oy)),
        Stroke(corners, Line.DIMENSION, closed=True),
        Text(middle, letter, style.text, Anchor.CENTRE, 0.0, True, Line.DIMENSION),
    )


def frame_cells(cells: Sequence[str], height: float) -> list[float]:
    """Return the widths of a feature control frame's compartments; each is at least square."""
    return [max(2.0 * height, lettering.width(cell, height) + height) for cell in cells]


def control_frame(
    left: float, middle: float, cells: Sequence[str], height: float, layer: Line = Line.DIMENSION
) -> tuple[Mark, ...]:
    """Return a feature control frame (ISO 1101, ASME Y14.5): compartments twice the lettering's height.

    Args:
        left: paper x of its left end.
        middle: paper y of its middle.
        cells: symbol, zone, datums in order.
        height: of the lettering.
        layer: of lines and text.
    """
    marks: list[Mark] = []
    x = left
    for cell, width in zip(cells, frame_cells(cells, height), strict=True):
        corners = (
            (x, middle - height),
            (x + width, middle - height),
            (x + width, middle + height),
            (x, middle + height),
        )
        marks.append(Stroke(corners, layer, closed=True))
        marks.append(Text((x + width / 2.0, middle), cell, height, Anchor.CENTRE, 0.0, True, layer))
        x += width
    return tuple(marks)
