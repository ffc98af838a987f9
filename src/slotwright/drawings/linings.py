"""The lining of cut metal: lines at 45 degrees whose pattern tells the material.

ISO 128-50 leaves the pattern to the drawing; these follow the usual symbols (ASME Y14.2 and Y14.3, from memory): single
lines for cast iron, pairs for steel, every second line dashed for copper alloys, lines crossed by dashes for light
alloys, a grid for plastics.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor, hypot, sqrt
from typing import TypeAlias

from slotwright.drawings.paper.sheet import Point

LINING = 3.0  # distance of section lines, mm on paper; our choice
DASH, DASH_GAP = 3.0, 1.5  # of dashed section lines, mm on paper; our choice

Span: TypeAlias = tuple[Point, Point]


@dataclass(frozen=True, slots=True)
class Strand:
    """One set of equal lines in a pattern.

    Attributes:
        phase: its place within the pattern's distance, 0 to 1.
        dashed: drawn in dashes.
        leaning_left: it runs up to the left.
    """

    phase: float = 0.0
    dashed: bool = False
    leaning_left: bool = False


PATTERNS: dict[str, tuple[float, tuple[Strand, ...]]] = {
    "iron": (1.0, (Strand(),)),
    "steel": (1.5, (Strand(), Strand(0.27))),
    "brass": (1.6, (Strand(), Strand(0.5, dashed=True))),
    "aluminium": (1.3, (Strand(), Strand(dashed=True, leaning_left=True))),
    "plastic": (1.4, (Strand(), Strand(leaning_left=True))),
}
"""Distance in units of LINING, and the strands, by `Material.hatch`."""


def metal_lining(
    regions: Sequence[Sequence[Point]], hatch: str, scale: float, *, leaning_left: bool = False
) -> Iterator[Span]:
    """Yield the lining of an area in the pattern of its material.

    Args:
        regions: polygons; a void is a polygon inside another.
        hatch: key of the pattern; one that is not known is lined like cast iron, which stands for any metal.
        scale: paper over model.
        leaning_left: the other way, for a neighbouring part.
    """

    def lines(space: float, phase: float, leans: bool) -> Iterable[Span]:
        return lining(regions, space, leaning_left=leans, phase=phase)

    yield from patterned(hatch, scale, lines, leaning_left=leaning_left)


def patterned(
    hatch: str, scale: float, lines: Callable[[float, float, bool], Iterable[Span]], *, leaning_left: bool = False
) -> Iterator[Span]:
    """Yield the pattern of a material, made of equal lines however the cut metal is told.

    Args:
        hatch, scale, leaning_left: as for `metal_lining`.
        lines: yields the lines over the metal for a distance, model mm, a shift by a share of that distance, and
            whether they lean left.
    """
    distance, strands = PATTERNS.get(hatch, PATTERNS["iron"])
    for strand in strands:
        for span in lines(distance * LINING / scale, strand.phase, strand.leaning_left != leaning_left):
            yield from _dashes(span, scale) if strand.dashed else (span,)


def _dashes(span: Span, scale: float) -> Iterator[Span]:
    """Cut a line into dashes that begin and end it."""
    (ax, ay), (bx, by) = span
    long = hypot(bx - ax, by - ay) * scale
    count = max(0, floor((long - DASH) / (DASH + DASH_GAP) + 0.5))
    unit = long / (count * (DASH + DASH_GAP) + DASH)
    for n in range(count + 1):
        start = n * (DASH + DASH_GAP) * unit / long
        end = start + DASH * unit / long
        yield (ax + (bx - ax) * start, ay + (by - ay) * start), (ax + (bx - ax) * end, ay + (by - ay) * end)


def lining(
    regions: Iterable[Sequence[Point]], space: float, *, leaning_left: bool = False, phase: float = 0.0
) -> list[tuple[Point, Point]]:
    """Return section lines at 45 degrees over the area that an odd number of polygons covers.

    Args:
        regions: polygons; a void is a polygon inside another.
        space: distance of neighbouring lines, model mm.
        leaning_left: the other way, for a neighbouring part.
        phase: shifts all lines by a share of their distance.
    """
    if leaning_left:
        mirrored = lining([[(-x, y) for x, y in region] for region in regions], space, phase=phase)
        return [((-a[0], a[1]), (-b[0], b[1])) for a, b in mirrored]
    step = space * sqrt(2.0)  # lines are x - y = (k + phase) step
    hits: dict[int, list[float]] = {}
    for polygon in regions:
        for (x0, y0), (x1, y1) in pairwise((*polygon, polygon[0])):
            a, b = (x0 - y0) / step - phase, (x1 - y1) / step - phase
            if a == b:
                continue
            low, high = (a, b) if a < b else (b, a)
            for k in range(ceil(low), ceil(high)):
                share = (k - a) / (b - a)
                hits.setdefault(k, []).append(y0 + (y1 - y0) * share)
    lines: list[tuple[Point, Point]] = []
    for k in sorted(hits):
        heights = sorted(hits[k])
        lines += [
            ((y + (k + phase) * step, y), (z + (k + phase) * step, z))
            for y, z in zip(heights[::2], heights[1::2], strict=True)
            if z - y > 0.02 * space
        ]
    return lines
