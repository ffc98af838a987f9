"""Middles of round parts that say where a set-up stands along the table, where no piece says it."""

from __future__ import annotations

from collections.abc import Iterator

from slotwright.drawings.paper.dimensioning import Station
from slotwright.drawings.paper.sheet import Line, Mark, Stroke, View
from slotwright.drawings.paper.style import Style
from slotwright.fixtures.layout import Layout
from slotwright.pieces.outline import Outline

CROSS = 2.5  # arm of the cross in a part's middle, mm on paper; our choice


def _parts(layout: Layout) -> list[Outline]:
    return [] if layout.pieces else [outline for outline in layout.work_outlines if outline.diameter is not None]


def crosses(layout: Layout, scale: float) -> Iterator[Mark]:
    """Mark these middles, table coordinates."""
    arm = CROSS / scale
    for x, y in (part.centroid for part in _parts(layout)):
        yield Stroke(((x - arm, y), (x + arm, y)), Line.NOTE)
        yield Stroke(((x, y - arm), (x, y + arm)), Line.NOTE)


def middle_stations(view: View, layout: Layout, style: Style) -> dict[float, Station]:
    """Return a station at each of them, seen from the back, by its place along the table, mm."""
    return {
        round(part.centroid[0], 6): Station(part.centroid, part.centroid[1] * view.scale + CROSS + style.extension_gap)
        for part in sorted(_parts(layout), key=lambda part: part.centroid)
    }
