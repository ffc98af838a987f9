"""Where a long bar may be broken: stretches of plain metal that its views leave out, so that the rest can be larger.

Paper frame of the views: x along the bar from its left end, before anything is left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import TypeAlias

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.placing import spread
from slotwright.drawings.paper.sheet import Line, Mark, Stroke
from slotwright.drawings.paper.style import Style
from slotwright.drawings.pitches import Row
from slotwright.drawings.views import mark_overrun, reach
from slotwright.pieces.piece import Piece

Stretch: TypeAlias = tuple[float, float]

LONG = 8.0  # lengths over widths above which a bar is broken where that helps
LONGEST = 4000.0  # of a bar that is broken, mm on paper before it is; our choice
THINNEST = 3.0  # of a bar that is broken, mm on paper; our choice
MOST = 3  # breaks in one bar; our choice
BESIDE = 8.0  # metal left beside a hole or a figure, mm; our choice
END = 16.0  # metal left at an end, mm; our choice
LEAST = 20.0  # a shorter stretch is not worth a break, mm; our choice
GAP = 4.0  # between the two break lines, mm; our choice
OVERRUN = 2.5  # of a break line beyond the outline, mm; our choice
ZIGZAG = 4.0  # height of the zigzag in a break line, mm; our choice


def most_breaks(piece: Piece, scale: float) -> int:
    """Return how many breaks a piece may have at a scale: none where it is not long, or too small to be read."""
    blank = piece.blank
    is_long = blank.length > LONG * blank.width and blank.length * scale <= LONGEST
    return MOST if is_long and min(blank.width, blank.thickness) * scale >= THINNEST else 0


def stretches(
    piece: Piece,
    scale: float,
    pitch: float | None,
    style: Style,
    most: int,
    bends: Iterable[float] = (),
    rows: Sequence[Row] = (),
) -> tuple[Stretch, ...]:
    """Return what can be left out of a bar's views, from left to right.

    No hole, no figure of an ordinate or a row and no bend of a section plane stands in a stretch, nor near it.

    Args:
        piece: the bar.
        scale: paper over model.
        pitch: of neighbouring figures of ordinates, mm; None where no ordinates locate the holes.
        style: of the ordinates.
        most: breaks at most; the widest stretches are taken.
        bends: where a section plane bends, model x.
        rows: of holes with one dimension each, whose figures stand half-way.
    """
    blank = piece.blank
    if not most:
        return ()
    kept = sorted(
        [
            (0.0, END),
            (blank.length * scale - END, blank.length * scale),
            *_kept(piece, scale, pitch, style, rows),
            *((x * scale - BESIDE, x * scale + BESIDE) for x in bends),
        ]
    )
    found: list[Stretch] = []
    end = kept[0][1]
    for low, high in kept[1:]:
        if low - end >= LEAST + GAP:
            found.append((end, low))
        end = max(end, high)
    longest = sorted(found, key=lambda one: (one[0] - one[1], one[0]))[:most]
    return tuple(sorted(longest))


def _kept(piece: Piece, scale: float, pitch: float | None, style: Style, rows: Sequence[Row]) -> Iterable[Stretch]:
    over = max(mark_overrun(style), BESIDE)
    for hole in piece.holes:
        wide = reach(hole)[0] * scale + over
        yield hole.x * scale - wide, hole.x * scale + wide
    if pitch is not None:
        columns = {round(hole.x, 6) for hole in piece.holes}
        places = sorted({0.0, *(x for x in columns if not any(row.inside(x) for row in rows))})
        for label in spread([x * scale for x in places], pitch):
            yield label - (pitch + BESIDE) / 2.0, label + (pitch + BESIDE) / 2.0
    for row in rows:
        half_way = (row.first + row.last) / 2.0 * scale
        half = lettering.width(row.written(style), style.text) / 2.0 + style.text_gap + BESIDE
        yield half_way - half, half_way + half


def parts(left: float, right: float, removed: Sequence[Stretch]) -> list[Stretch]:
    """Return what is left of the paper between two ends."""
    edges = [left, *(edge for stretch in removed for edge in stretch), right]
    return list(zip(edges[::2], edges[1::2], strict=True))


def folded(x: float, removed: Sequence[Stretch]) -> float:
    """Return where a place stands after the stretches are left out; a place within one goes to its left end."""
    return x - sum(min(x, high) - low - (GAP if x >= high else 0.0) for low, high in removed if x > low)


def widest_middle(right: float, removed: Sequence[Stretch]) -> float:
    """Return the middle of the widest part of a bar, before anything is left out."""
    low, high = max(parts(0.0, right, removed), key=lambda part: part[1] - part[0])
    return (low + high) / 2.0


def folded_middle(right: float, removed: Sequence[Stretch]) -> float:
    """Return the place, before anything is left out, that stands nearest to the middle of the broken bar."""
    wanted = folded(right, removed) / 2.0
    for low, high in parts(0.0, right, removed):
        if wanted <= folded(high, removed):
            return max(low, min(high, low + wanted - folded(low, removed)))
    return right / 2.0


def break_lines(bottom: float, top: float, removed: Sequence[Stretch]) -> list[Mark]:
    """Return the two lines of every break of a view between two heights of the paper, after folding.

    A narrow straight line with a zigzag: ISO 128-2 type 01.1 and the long break of ASME Y14.2, from memory.
    """
    centre, half = (bottom + top) / 2.0, min(ZIGZAG, 0.6 * (top - bottom)) / 2.0
    marks: list[Mark] = []
    for low, high in removed:
        for x in (folded(low, removed), folded(high, removed)):
            bend = ((x, centre - half), (x + half / 1.5, centre - half / 3.0), (x - half / 1.5, centre + half / 3.0),
                    (x, centre + half))  # fmt: skip
            marks.append(Stroke(((x, bottom - OVERRUN), *bend, (x, top + OVERRUN)), Line.BREAK))
    return marks


def gaps(removed: Sequence[Stretch]) -> list[Stretch]:
    """Return the empty places between the break lines, after folding."""
    return [(folded(low, removed), folded(high, removed)) for low, high in removed]


def within(removed: Sequence[Stretch], x: float) -> bool:
    """Say whether a place is left out."""
    return any(low < x < high for low, high in removed)


def pieces_of(points: Sequence[tuple[float, float]], low: float, high: float) -> list[tuple[tuple[float, float], ...]]:
    """Return the parts of a polyline between two values of x."""
    found: list[list[tuple[float, float]]] = []
    for a, b in pairwise(points):
        cut = _between(a, b, low, high)
        if cut is None:
            continue
        if found and found[-1][-1] == cut[0]:
            found[-1].append(cut[1])
        else:
            found.append(list(cut))
    return [tuple(one) for one in found]


def _between(
    a: tuple[float, float], b: tuple[float, float], low: float, high: float
) -> tuple[tuple[float, float], tuple[float, float]] | None:
    if max(a[0], b[0]) <= low or min(a[0], b[0]) >= high:
        return None
    return _held(a, b, low, high), _held(b, a, low, high)


def _held(a: tuple[float, float], b: tuple[float, float], low: float, high: float) -> tuple[float, float]:
    """Move a along the line toward b until it is within."""
    x = min(max(a[0], low), high)
    if x == a[0]:
        return a
    return x, a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])
