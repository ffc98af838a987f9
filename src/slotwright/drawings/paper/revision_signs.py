"""The sign of a revision beside what it changed: its index in a triangle (common practice, no source)."""

from __future__ import annotations

from math import sqrt

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.sheet import Anchor, Line, Mark, Point, Stroke, Text
from slotwright.pieces.hole_groups import TaggedHole

BESIDE = 0.4  # between a tag and the sign, in heights of capitals; our choice
INDEX = sqrt(0.5)  # of the tag's height: one step down the series of heights (ISO 3098-1)
AROUND = 0.3  # between the index and the sides of its triangle, in heights of the index; our choice


def tag_size(one: TaggedHole, height: float) -> tuple[float, float]:
    """Return width and height of a hole's tag on paper, the sign of its revision included, mm."""
    wide = lettering.width(one.tag, height)
    if not one.hole.revised:
        return wide, height
    side = _side(one.hole.revised, height)
    return wide + BESIDE * height + side, side * sqrt(0.75)


def tag_marks(one: TaggedHole, at: Point, height: float) -> tuple[Mark, ...]:
    """Return a hole's tag with the sign of its revision, its lower left corner at a place on paper."""
    tag = Text(at, one.tag, height, Anchor.LEFT)
    if not one.hole.revised:
        return (tag,)
    side = _side(one.hole.revised, height)
    left = at[0] + lettering.width(one.tag, height) + BESIDE * height
    small = INDEX * height
    corners = ((left, at[1]), (left + side, at[1]), (left + side / 2.0, at[1] + side * sqrt(0.75)))
    index = Text((left + side / 2.0, at[1] + AROUND * small), one.hole.revised, small, Anchor.CENTRE)
    return tag, Stroke(corners, Line.NOTE, closed=True), index


def _side(index: str, height: float) -> float:
    """Side of the triangle that the index just stands in, clear of all three sides."""
    small = INDEX * height
    wide = lettering.width(index, small) + 2.0 * AROUND * small
    return wide + 2.0 * (1.0 + AROUND) * small / sqrt(3.0)
