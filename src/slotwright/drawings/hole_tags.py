"""Tags beside the holes of a plan, where nothing else stands; with a leader where there is no room close by."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import cos, hypot, radians, sin

from slotwright.drawings import lettering
from slotwright.drawings.placing import Box, Register, text_box
from slotwright.drawings.sheet import Anchor, Line, Mark, Point, Stroke, Text, View
from slotwright.drawings.style import Style
from slotwright.drawings.views import reach
from slotwright.pieces.hole_groups import TaggedHole

CLEAR = 0.8  # paper between a tag and anything else, mm; our choice
APART = 0.6  # further clear paper between two tags, in heights of capitals; our choice
NEAR = (0.0, 1.0, 2.0)  # further distances from the hole at which no leader is needed, mm
FAR = (4.0, 7.0, 10.0, 14.0, 18.0, 23.0, 28.0)  # with a leader
QUARTERS = (45.0, 135.0, -45.0, -135.0)
SLANTS = (25.0, 155.0, -25.0, -155.0, 65.0, 115.0, -65.0, -115.0)
AROUND = (*QUARTERS, 20.0, 160.0, -20.0, -160.0, 70.0, 110.0, -70.0, -110.0)


@dataclass(frozen=True, slots=True)
class _Try:
    """One possible place of a tag."""

    box: Box
    leader: tuple[Point, Point] | None


def place_tags(
    view: View, tagged: Sequence[TaggedHole], taken: Register, style: Style
) -> tuple[tuple[Mark, ...], bool]:
    """Return the tags of all holes in paper coordinates, and whether every one found a free place.

    The register takes in each tag as it is placed. A hole without any free place gets its tag in its middle.
    """
    for height in (style.text, style.small):
        trial = taken.copy()
        marks = _all_tags(view, tagged, trial, height, give_up=height > style.small)
        if marks is not None:
            break
    assert marks is not None  # noqa: S101  the last height never gives up
    taken.add(marks)
    return tuple(marks), not any(isinstance(m, Text) and m.middle for m in marks)


def _all_tags(
    view: View, tagged: Sequence[TaggedHole], trial: Register, height: float, *, give_up: bool
) -> list[Mark] | None:
    marks: list[Mark] = []
    for one in tagged:
        spot = _spot(view, one, trial, height)
        if spot is None and give_up:
            return None
        text, leader = _tag(view, one, spot, height)
        trial.add(leader)
        trial.add_box(text_box(text).grown(height * APART))
        marks += [text, *leader]
    return marks


def _spot(view: View, one: TaggedHole, taken: Register, height: float) -> _Try | None:
    """Return the nearest free place; a place with a leader only where the leader crosses no text."""
    for attempt in _tries(view, one, height):
        if not taken.free(attempt.box.grown(CLEAR)):
            continue
        if attempt.leader is None or taken.passable(*attempt.leader):
            return attempt
    return None


def _tries(view: View, one: TaggedHole, height: float) -> Iterable[_Try]:
    hole = one.hole
    x, y = view.to_paper((hole.x, hole.y))
    wide, high = lettering.width(one.tag, height), height
    along, across = (part * view.scale for part in reach(hole))
    for far in NEAR:
        for turn in (*QUARTERS, *SLANTS):
            yield _Try(_beside(x, y, along, across, turn, far + CLEAR + 0.3, wide, high), None)
    for far in FAR:
        for turn in AROUND:
            box = _beside(x, y, along, across, turn, far, wide, high)
            c, s = cos(radians(turn)), sin(radians(turn))
            start = (x + (along + 0.3) * c, y + (across + 0.3) * s)
            end = (min(max(start[0], box.x0), box.x1), min(max(start[1], box.y0), box.y1))
            yield _Try(box, (start, _short_of(start, end, CLEAR)))


def _beside(x: float, y: float, along: float, across: float, turn: float, far: float, wide: float, high: float) -> Box:
    """Return the tag's box whose nearest point lies at an angle and a distance outside the hole."""
    c, s = cos(radians(turn)), sin(radians(turn))
    px, py = x + (along + far) * c, y + (across + far) * s
    left = px if c > 0.4 else px - wide if c < -0.4 else px - wide / 2.0
    low = py if s > 0.4 else py - high if s < -0.4 else py - high / 2.0
    return Box(left, low, left + wide, low + high)


def _short_of(start: Point, end: Point, by: float) -> Point:
    long = hypot(end[0] - start[0], end[1] - start[1])
    share = max(0.0, 1.0 - by / long) if long else 0.0
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _tag(view: View, one: TaggedHole, spot: _Try | None, height: float) -> tuple[Text, list[Mark]]:
    if spot is None:
        at = view.to_paper((one.hole.x, one.hole.y))
        return Text(at, one.tag, height, Anchor.CENTRE, 0.0, True), []
    text = Text((spot.box.x0, spot.box.y0), one.tag, height, Anchor.LEFT)
    return text, [] if spot.leader is None else [Stroke(spot.leader, Line.NOTE)]
