"""Middle lines of bars, from which places are given instead of from an edge, where both sides are alike.

A machinist finds a bar's middle from both sides and halves what the width is off, so a figure of half the width would
mislead. A centre line alone places what stands on it; what stands on both sides of it has its distance across it
(ISO 129-1, ASME Y14.5, from memory).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from slotwright.drawings.paper.sheet import Line, Point, Stroke
from slotwright.drawings.paper.style import Style
from slotwright.drawings.views import cross_reach, reach
from slotwright.pieces.blanks import Bar
from slotwright.pieces.features import Hole
from slotwright.pieces.piece import Piece

MOST_PAIRS = 3  # different distances across the middle; more are read better as ordinates from an edge; our choice
SAME = 1e-6  # mm
SIGN_AT = (1.2, 2.4)  # the two strokes of the sign of symmetry, beyond the outline, mm; our choice
GAP = 0.8  # in a centre line beside the cross of a hole, mm; our choice


@dataclass(frozen=True, slots=True)
class Middles:
    """Which places of a bar's holes count from the middle.

    Attributes:
        across: those across its width, for its holes are their own mirror image in its middle line.
        along: those along it, for all stand in the very middle and none bolts to a table.
    """

    across: bool = False
    along: bool = False

    def origin(self, piece: Piece) -> Point:
        """Return what X and Y of holes are counted from."""
        blank = piece.blank
        return blank.length / 2.0 if self.along else 0.0, blank.width / 2.0 if self.across else 0.0


def middles_of(piece: Piece) -> Middles:
    """Return the middles of a bar; holes of a bar that bolts to a table keep their places along it from its end."""
    flat = isinstance(piece.blank, Bar) and not any(hole.face.upright for hole in piece.holes)
    if not flat or not piece.holes:
        return Middles()
    across = _mirrored(piece)
    wide = piece.blank.length / 2.0
    alone = all(abs(hole.x - wide) < SAME and abs(off(piece, hole)) < SAME for hole in piece.holes)
    return Middles(across, across and alone and not piece.has_datums)


def off(piece: Piece, hole: Hole) -> float:
    """Return how far a hole stands off a bar's middle line, positive toward the back, mm."""
    return hole.y - piece.blank.width / 2.0


def pairs(piece: Piece) -> dict[float, list[Hole]]:
    """Return the holes on both sides by their distance from the middle line, rising, each list from left to right."""
    found: dict[float, list[Hole]] = {}
    for hole in sorted(piece.holes, key=lambda one: one.x):
        if abs(off(piece, hole)) >= SAME:
            found.setdefault(round(abs(off(piece, hole)), 6), []).append(hole)
    return dict(sorted(found.items()))


def _mirrored(piece: Piece) -> bool:
    apart = pairs(piece)
    if len(apart) > MOST_PAIRS:
        return False
    if any(hole.slot_extra and abs(off(piece, hole)) < SAME and hole.slot_angle % 90.0 for hole in piece.holes):
        return False
    back, front = ([hole for holes in apart.values() for hole in holes if off(piece, hole) * way > 0.0]
                   for way in (1.0, -1.0))  # fmt: skip
    if sorted(round(hole.x, 6) for hole in back) != sorted(round(hole.x, 6) for hole in front):
        return False  # quick to see, and so for most bars
    return sorted(_seen(piece, hole, 1.0) for hole in back) == sorted(_seen(piece, hole, -1.0) for hole in front)


def _seen(piece: Piece, hole: Hole, way: float) -> tuple[object, ...]:
    """What two holes that mirror each other have in common, as texts and numbers that sort."""
    size = (hole.diameter, hole.depth, hole.thread, hole.thread_depth, hole.counterbore, hole.countersink, hole.ream,
            hole.slot_extra, hole.face, hole.position_tolerance)  # fmt: skip
    turned = round(way * hole.slot_angle, 6) % 180.0 if hole.slot_extra else 0.0
    return round(hole.x, 6), round(way * off(piece, hole), 6), turned, repr(size)


# Lines


def middle_lines(piece: Piece, middles: Middles, scale: float, style: Style) -> Iterator[Stroke]:
    """Yield the centre lines with their signs of symmetry, in the plan's model coordinates."""
    long, wide = piece.blank.length, piece.blank.width
    if middles.across:
        on = [hole for hole in piece.holes if abs(off(piece, hole)) < SAME]
        stops = [(hole.x, reach(hole)[0]) for hole in on]
        yield from _line(0.0, long, wide / 2.0, stops, scale, style, upright=False)
    if middles.along:
        stops = [(hole.y, reach(hole)[1]) for hole in piece.holes]
        yield from _line(0.0, wide, long / 2.0, stops, scale, style, upright=True)


def _line(
    low: float, high: float, at: float, stops: list[tuple[float, float]], scale: float, style: Style, *, upright: bool
) -> Iterator[Stroke]:
    """A line in pieces that begin beside the crosses of the holes on it; two strokes square to it at each end."""

    def point(along: float, across: float) -> Point:
        return (across, along) if upright else (along, across)

    over = style.centre_overrun / scale
    clear = [
        (u - cross_reach(r, scale) - GAP / scale, u + cross_reach(r, scale) + GAP / scale)
        for u, r in sorted(set(stops))
    ]
    edges = [low - over, *(edge for pair in clear for edge in pair), high + over]
    for a, b in zip(edges[::2], edges[1::2], strict=True):
        if b > a:
            yield Stroke((point(a, at), point(b, at)), Line.CENTRE)
    half = style.text / 2.0 / scale
    kind = Line.SECTION if style.name == "asme" else Line.CENTRE  # wide by ASME Y14.2, narrow by ISO 128-3; from memory
    for out in SIGN_AT:
        for end in (low - out / scale, high + out / scale):
            yield Stroke((point(end, at - half), point(end, at + half)), kind)
