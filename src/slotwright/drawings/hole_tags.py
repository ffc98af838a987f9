"""Tags beside the holes of a plan, where nothing else stands; with a leader where there is no room close by."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from functools import cache
from math import cos, hypot, radians, sin
from typing import NamedTuple

from slotwright.drawings import lettering
from slotwright.drawings.placing import Box, Register, text_box
from slotwright.drawings.sheet import Anchor, Line, Mark, Point, Stroke, Text, View
from slotwright.drawings.style import Style
from slotwright.drawings.views import reach
from slotwright.pieces.hole_groups import TaggedHole

CLEAR = 0.8  # paper between a tag and anything else, mm; our choice
APART = 0.6  # further clear paper between two tags, in heights of capitals; our choice
HOPELESS = 12  # holes without a place, after which no more leaders are tried; our choice
NEAR = (0.0, 1.0, 2.0)  # further distances from the hole at which no leader is needed, mm
FAR = (4.0, 7.0, 10.0, 14.0, 18.0, 23.0, 28.0)  # with a leader
QUARTERS = (45.0, 135.0, -45.0, -135.0)
SLANTS = (25.0, 155.0, -25.0, -155.0, 65.0, 115.0, -65.0, -115.0)
AROUND = (*QUARTERS, 20.0, 160.0, -20.0, -160.0, 70.0, 110.0, -70.0, -110.0)


class _Rims:
    """The holes of the plan on paper, to see which one stands nearest to a tag."""

    def __init__(self, view: View, tagged: Sequence[TaggedHole]) -> None:
        found = ((*view.to_paper((t.hole.x, t.hole.y)), max(reach(t.hole)) * view.scale) for t in tagged)
        self._rims = sorted(found)
        self._xs = [x for x, _, _ in self._rims]
        self._widest = max((radius for _, _, radius in self._rims), default=0.0)

    def nearest(self, box: Box, x: float, y: float, radius: float) -> bool:
        """Say whether no other hole is nearer to the box than the one at x, y."""
        own = _gap(box, x, y, radius)
        near = own + self._widest
        first, last = bisect_left(self._xs, box.x0 - near), bisect_right(self._xs, box.x1 + near)
        return all(own <= _gap(box, *rim) + 1e-9 for rim in self._rims[first:last])


def _gap(box: Box, x: float, y: float, radius: float) -> float:
    """From a box to the rim of a hole."""
    return hypot(max(box.x0 - x, 0.0, x - box.x1), max(box.y0 - y, 0.0, y - box.y1)) - radius


class _Try(NamedTuple):
    """One possible place of a tag."""

    box: Box
    leader: tuple[Point, Point] | None


def place_tags(
    view: View, tagged: Sequence[TaggedHole], taken: Register, style: Style
) -> tuple[tuple[Mark, ...], bool]:
    """Return the tags of all holes in paper coordinates, and whether every one found a free place.

    The register takes in the tags. A hole without any free place stays without a tag.
    """
    for height in (style.text, style.small):
        trial = taken.copy()
        marks, missing = _all_tags(view, tagged, trial, height, 0 if height > style.small else len(tagged))
        if not missing:
            break
    taken.add(marks)
    return tuple(marks), not missing


def _all_tags(
    view: View, tagged: Sequence[TaggedHole], trial: Register, height: float, patience: int
) -> tuple[list[Mark], int]:
    """Return the tags of one height and how many found no place; give up when that is more than patience allows."""
    marks: list[Mark] = []
    missing = 0
    rims = _Rims(view, tagged)
    for one in tagged:
        spot = _spot(view, one, trial, rims, height, leaders=missing < HOPELESS)
        if spot is None:
            missing += 1
            if missing > patience:
                break
            continue
        text = Text((spot.box.x0, spot.box.y0), one.tag, height, Anchor.LEFT)
        leader = [] if spot.leader is None else [Stroke(spot.leader, Line.NOTE)]
        trial.add(leader)
        trial.add_box(text_box(text).grown(height * APART))
        marks += [text, *leader]
    return marks, missing


def _spot(view: View, one: TaggedHole, taken: Register, rims: _Rims, height: float, *, leaders: bool) -> _Try | None:
    """Return the nearest free place where no other hole is nearer; else one with a leader that crosses no text.

    Where there is neither, a free place beside the hole must do, though another hole may be as near.
    """
    x, y = view.to_paper((one.hole.x, one.hole.y))
    radius = max(reach(one.hole)) * view.scale
    second: _Try | None = None
    for attempt in _tries(view, one, height):
        if attempt.leader is not None and not leaders:
            break
        if not taken.free(attempt.box.grown(CLEAR)):
            continue
        if attempt.leader is None:
            if rims.nearest(attempt.box, x, y, radius):
                return attempt
            second = second or attempt
        elif taken.passable(*attempt.leader):
            return attempt
    return second


def _tries(view: View, one: TaggedHole, height: float) -> Iterable[_Try]:
    hole = one.hole
    x, y = view.to_paper((hole.x, hole.y))
    wide, high = lettering.width(one.tag, height), height
    along, across = (part * view.scale for part in reach(hole))
    near, around = _directions((*QUARTERS, *SLANTS)), _directions(AROUND)
    for far in NEAR:
        out = far + CLEAR + 0.3
        for c, s in near:
            yield _Try(_box_at(x + (along + out) * c, y + (across + out) * s, c, s, wide, high), None)
    for far in FAR:
        for c, s in around:
            box = _box_at(x + (along + far) * c, y + (across + far) * s, c, s, wide, high)
            start = (x + (along + 0.3) * c, y + (across + 0.3) * s)
            end = (min(max(start[0], box.x0), box.x1), min(max(start[1], box.y0), box.y1))
            yield _Try(box, (start, _short_of(start, end, CLEAR)))


@cache
def _directions(turns: tuple[float, ...]) -> tuple[Point, ...]:
    return tuple((cos(radians(turn)), sin(radians(turn))) for turn in turns)


def _box_at(px: float, py: float, c: float, s: float, wide: float, high: float) -> Box:
    """Return a tag's box that touches a point and lies beyond it in a direction (c, s)."""
    left = px if c > 0.4 else px - wide if c < -0.4 else px - wide / 2.0
    low = py if s > 0.4 else py - high if s < -0.4 else py - high / 2.0
    return Box(left, low, left + wide, low + high)


def _short_of(start: Point, end: Point, by: float) -> Point:
    long = hypot(end[0] - start[0], end[1] - start[1])
    share = max(0.0, 1.0 - by / long) if long else 0.0
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share
