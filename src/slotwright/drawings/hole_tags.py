"""Tags beside the holes of a plan, where nothing else stands; with a leader where there is no room close by."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from math import cos, hypot, radians, sin
from typing import NamedTuple

from slotwright.drawings.hole_rims import Rim, Rims
from slotwright.drawings.paper.placing import DESCENT, Box, Register, crossing, marks_box
from slotwright.drawings.paper.revision_signs import tag_marks, tag_size
from slotwright.drawings.paper.sheet import Line, Mark, Point, Stroke, View
from slotwright.drawings.paper.style import Style
from slotwright.drawings.views import reach
from slotwright.pieces.hole_groups import TaggedHole

CLEAR = 0.8  # paper between a tag and anything else, mm; our choice
APART = 0.6  # further clear paper between two tags, in heights of capitals; our choice
HOPELESS = 12  # holes without a place, after which no more leaders are tried; our choice
NEAR = (0.0, 1.0, 2.0)  # further distances from the hole at which no leader is needed, mm
EASY = 8.0  # length of a leader, mm, above which smaller tags are tried; our choice
SMALLER = 4.0  # so many mm of longer leaders are borne before tags are lettered smaller; our choice
WIDER = 1.15  # so much wider than ours letters of a CAD program may be; our choice
PLAIN, JUST_PLAIN = 1.0, 0.5  # by how much a tag is to be nearer to its own hole than to any other, mm; our choice
OFF = 0.05  # mm
FAR = (4.0, 7.0, 10.0, 14.0, 18.0, 23.0, 28.0, 34.0, 41.0)  # with a leader
DESCENDING = frozenset("JQ")  # capitals that reach below the baseline
QUARTERS = (45.0, 135.0, -45.0, -135.0)
SLANTS = (25.0, 155.0, -25.0, -155.0, 65.0, 115.0, -65.0, -115.0, 75.0, 105.0, -75.0, -105.0)
AROUND = (*QUARTERS, 20.0, 160.0, -20.0, -160.0, 70.0, 110.0, -70.0, -110.0, 32.0, 148.0, -32.0, -148.0, 58.0, 122.0,
          -58.0, -122.0)  # fmt: skip
STEEP = (82.0, 98.0, -82.0, -98.0)  # so near to a hole's centre lines that they are tried last


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
    every = [(height, by) for height in (style.text, style.small) for by in (PLAIN, JUST_PLAIN)]
    found: list[tuple[float, list[Mark]]] = []
    for height, by in every:
        marks, missing = _all_tags(view, tagged, taken.copy(), height, by, 0)
        if not missing:
            found.append((_far_off(marks) + (SMALLER if height < style.text else 0.0), marks))
            if not _far_off(marks):
                break
    if found:
        marks, missing = min(found, key=lambda one: one[0])[1], 0
    else:
        marks, missing = _all_tags(view, tagged, taken.copy(), *every[-1], len(tagged))
    taken.add(marks)
    return tuple(marks), not missing


def _far_off(marks: Sequence[Mark]) -> float:
    """Return by how much in all the leaders are longer than the eye follows easily, mm."""
    leaders = (mark.points for mark in marks if isinstance(mark, Stroke) and len(mark.points) == 2)
    return sum(max(0.0, hypot(q[0] - p[0], q[1] - p[1]) - EASY) for p, q in leaders)


def _all_tags(
    view: View, tagged: Sequence[TaggedHole], trial: Register, height: float, by: float, patience: int
) -> tuple[list[Mark], int]:
    """Return the tags of one height and how many found no place; give up when that is more than patience allows.

    By is how much nearer to its own hole than to another a tag without a leader stands.
    """
    marks: list[Mark] = []
    missing = 0
    leaders: list[tuple[Point, Point]] = []
    rims = Rims(view, tagged)
    for one, rim in zip(tagged, rims.all, strict=True):
        tries = _tries(view, one, rim, height)
        spot = _spot(tries, rim, rims, trial, by, leaders if missing < HOPELESS else None)
        if spot is None:
            missing += 1
            if missing > patience:
                break
            continue
        shown = tag_marks(one, (spot.box.x0, spot.box.y0 + _deep(one, height)), height)
        marks += shown
        trial.add_box(marks_box(shown).grown(height * APART))
        if spot.leader is not None:
            leaders.append(spot.leader)
            marks.append(Stroke(spot.leader, Line.NOTE))
            trial.add(marks[-1:])
    return marks, missing


def _spot(
    tries: Iterable[_Try],
    rim: Rim,
    rims: Rims,
    taken: Register,
    by: float,
    leaders: Sequence[tuple[Point, Point]] | None,
) -> _Try | None:
    """Return the nearest free place that is plain by itself; else one with a leader that crosses nothing of weight.

    Args:
        tries: places, the nearest first.
        rim: of the hole itself.
        rims: of all holes.
        taken: what stands on the paper.
        by: how much nearer a place without a leader is to be.
        leaders: of other tags; None where no leader is to be tried.
    """
    for attempt in tries:
        if attempt.leader is not None and leaders is None:
            return None
        if not taken.free(attempt.box.grown(CLEAR)):
            continue
        if attempt.leader is None:
            if rims.nearest(_widened(attempt.box), rim, by):
                return attempt
        elif leaders is not None and _may_run(attempt.leader, rim, rims, taken, leaders):
            return attempt
    return None


def _widened(box: Box) -> Box:
    """Return the box of a tag as a CAD program may letter it."""
    more = (WIDER - 1.0) / 2.0 * box.width
    return Box(box.x0 - more, box.y0, box.x1 + more, box.y1)


def _may_run(
    leader: tuple[Point, Point], rim: Rim, rims: Rims, taken: Register, leaders: Sequence[tuple[Point, Point]]
) -> bool:
    """Say whether a leader starts at its own hole alone and runs over no lettering, no hole and no other leader."""
    start, end = leader
    out = _short_of(end, start, OFF)  # not from the very edge, on which the hole's own circle lies
    foot = Box(*start, *start)
    return (
        taken.passable(out, end, within_circles=True)
        and rims.nearest(foot, rim, PLAIN)
        and not rims.crossed(start, end, rim)
        and not any(crossing(start, end, *other) for other in leaders)
    )


def _tries(view: View, one: TaggedHole, rim: Rim, height: float) -> Iterator[_Try]:
    hole = one.hole
    x, y = view.to_paper((hole.x, hole.y))
    wide, high = tag_size(one, height)
    high += _deep(one, height)
    along, across = (part * view.scale for part in reach(hole))
    for far in NEAR:
        out = far + CLEAR + 0.3
        for c, s in _directions((*QUARTERS, *SLANTS)):
            yield _Try(_box_at(x + (along + out) * c, y + (across + out) * s, c, s, wide, high), None)
    for far, turns in (*((far, AROUND) for far in FAR), *((far, STEEP) for far in FAR)):
        for c, s in _directions(turns):
            start = rim.foot(c, s)
            end = (start[0] + far * c, start[1] + far * s)
            box = _box_at(*end, c, s, wide, high)
            yield _Try(box, (start, _short_of(start, end, CLEAR)))


def _deep(one: TaggedHole, height: float) -> float:
    """How far a tag reaches below its baseline."""
    return DESCENT * height if DESCENDING & set(one.tag) else 0.0


@cache
def _directions(turns: tuple[float, ...]) -> tuple[Point, ...]:
    return tuple((cos(radians(turn)), sin(radians(turn))) for turn in turns)


def _box_at(px: float, py: float, c: float, s: float, wide: float, high: float) -> Box:
    """Return a tag's box that touches a point and lies beyond it in a direction (c, s)."""
    left = px if c > 0.2 else px - wide if c < -0.2 else px - wide / 2.0
    low = py if s > 0.4 else py - high if s < -0.4 else py - high / 2.0
    return Box(left, low, left + wide, low + high)


def _short_of(start: Point, end: Point, by: float) -> Point:
    long = hypot(end[0] - start[0], end[1] - start[1])
    share = max(0.0, 1.0 - by / long) if long else 0.0
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share
