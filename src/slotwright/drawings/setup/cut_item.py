"""A bought item cut along the table's Y, as much of it as a window shows: a slot key, a chuck beside its screw.

View frame as in `bolt_section`: u from the axis toward the column, z up from the table top, mm. The item is taken band
by band between the heights at which a body or a bore of it begins or ends.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import sqrt
from typing import NamedTuple

from slotwright.drawings.linings import metal_lining
from slotwright.drawings.paper.placing import Box
from slotwright.drawings.paper.sheet import Line, Mark, Point, Stroke
from slotwright.drawings.setup.cut_piece import shown_parts
from slotwright.fixtures.layout import PlacedHardware
from slotwright.parts.hardware import Cylinder, Prism
from slotwright.pieces.block import Spans, between, without
from slotwright.pieces.outline import Outline

LEAST = 1e-6


class _Band(NamedTuple):
    """What of a cut is metal from one height to another."""

    low: float
    high: float
    metal: Spans


@dataclass(frozen=True, slots=True)
class CutItem:
    """What the section shows of an item.

    Attributes:
        marks: edges and lining within the window.
        ends: where the window ends in metal: lines to break it off at.
        inside: a point in the metal, to the right where there is some.
    """

    marks: tuple[Mark, ...]
    ends: tuple[tuple[Point, Point], ...]
    inside: Point


def cut_item(
    placed: PlacedHardware,
    at: Point,
    window: Box,
    covers: Sequence[Box],
    hatch: str,
    scale: float,
    *,
    leaning_left: bool,
) -> CutItem | None:
    """Return an item as it is cut, or None where the cut passes it by.

    Args:
        placed: the item.
        at: the axis in the table frame; the cut runs through it along Y.
        window: what is shown, view frame.
        covers: what stands uncut before it.
        hatch: pattern of its lining.
        scale: paper over model.
        leaning_left: the lining leans left.
    """
    bands = _bands(placed, at, window)
    places = [(u, v, band) for band in bands for u, v in band.metal]
    if not places:
        return None
    marks: list[Mark] = [
        Stroke(part, Line.OUTLINE)
        for a, b in (*_walls(bands, window), *_floors(bands, window))
        for part in shown_parts(a, b, window, covers)
    ]
    regions = [((u, band.low), (v, band.low), (v, band.high), (u, band.high)) for u, v, band in places]
    marks += [Stroke(span, Line.HATCH) for span in metal_lining(regions, hatch, scale, leaning_left=leaning_left)]
    u, v, band = max(places, key=lambda one: (one[1], one[2].high - one[2].low))
    return CutItem(tuple(marks), tuple(_ends(placed, bands, window)), ((u + v) / 2.0, (band.low + band.high) / 2.0))


def _bands(placed: PlacedHardware, at: Point, window: Box) -> list[_Band]:
    lift, item = placed.place.z, placed.item
    levels = {z + lift for body in (*item.body, *item.bores) for z in (body.bottom, body.top)} | {window.y0, window.y1}
    bands = []
    for low, high in pairwise(sorted(z for z in levels if window.y0 <= z <= window.y1)):
        if high - low < LEAST:
            continue
        middle = (low + high) / 2.0 - lift
        metal: Spans = ()
        for body in item.body:
            if body.bottom < middle < body.top:
                more = _chord(placed, body, at)
                metal = tuple(sorted((*without(metal, more), *more)))
        for bore in item.bores:
            if bore.bottom < middle < bore.top:
                metal = without(metal, _chord(placed, bore, at))
        bands.append(_Band(low, high, between(metal, window.x0, window.x1)))
    return bands


def _chord(placed: PlacedHardware, body: Cylinder | Prism, at: Point) -> Spans:
    """Where the cut runs in a body, u."""
    if isinstance(body, Prism):
        ring = Outline(tuple(placed.place.to_table(*point) for point in body.outline))
        return tuple((a - at[1], b - at[1]) for a, b in ring.spans(1, at[0]))
    x, y = placed.place.to_table(body.x, body.y)
    square = body.diameter**2 / 4.0 - (x - at[0]) ** 2
    if square <= 0.0:
        return ()
    return ((y - at[1] - sqrt(square), y - at[1] + sqrt(square)),)


def _walls(bands: Iterable[_Band], window: Box) -> Iterator[tuple[Point, Point]]:
    for band in bands:
        for u in (end for span in band.metal for end in span):
            if window.x0 + LEAST < u < window.x1 - LEAST:
                yield (u, band.low), (u, band.high)


def _floors(bands: Sequence[_Band], window: Box) -> Iterator[tuple[Point, Point]]:
    """Level edges: where there is metal on one side only."""
    ends = (_Band(window.y0, window.y0, ()), *bands, _Band(window.y1, window.y1, ()))
    for below, above in pairwise(ends):
        z = below.high
        if window.y0 + LEAST < z < window.y1 - LEAST:
            for u, v in (*without(below.metal, above.metal), *without(above.metal, below.metal)):
                yield (u, z), (v, z)


def _ends(placed: PlacedHardware, bands: Sequence[_Band], window: Box) -> Iterator[tuple[Point, Point]]:
    """Lines at which the window's sides and its top cut off metal."""
    for band in bands:
        for u, v in band.metal:
            if u <= window.x0 + LEAST:
                yield (u, band.low), (u, band.high)
            if v >= window.x1 - LEAST:
                yield (v, band.low), (v, band.high)
    if bands and any(body.top + placed.place.z > window.y1 + LEAST for body in placed.item.body):
        yield from (((u, window.y1), (v, window.y1)) for u, v in bands[-1].metal)
