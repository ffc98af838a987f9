"""Holes of one size share a letter, each hole has a tag: the one source of tags for drawing, lists and findings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields
from itertools import count
from math import atan2, degrees, dist
from operator import attrgetter

from slotwright.pieces.features import Hole
from slotwright.pieces.piece import Piece
from slotwright.pieces.segment import Point

SAME = 1e-4  # radii that differ by less are one, mm
LETTERS = "ABCDEFGHJKLMNPRSTUVWXYZ"  # I, O and Q are read as 1 and 0; common practice, no source
_NO_SIZE = {"x", "y", "purpose", "tables", "label", "revised"}
_size = attrgetter(*(f.name for f in fields(Hole) if f.name not in _NO_SIZE))


@dataclass(frozen=True, slots=True)
class TaggedHole:
    """One hole with its tag, such as "A2", or the label it brings with it."""

    tag: str
    hole: Hole


@dataclass(frozen=True, slots=True)
class HoleGroup:
    """All holes of one size.

    Attributes:
        letter: of the group.
        holes: numbered from 1 by x, then y; those on one circle about the piece's centre round it, from X.
    """

    letter: str
    holes: tuple[TaggedHole, ...]

    @property
    def size(self) -> Hole:
        """A hole that stands for all of the group; its place and its tables mean nothing."""
        return self.holes[0].hole

    @property
    def tags(self) -> str:
        """From which tag to which its holes go, such as "A1 - A4", or the tag of its only one."""
        first, last = self.holes[0].tag, self.holes[-1].tag
        return first if first == last else f"{first} - {last}"

    @property
    def in_a_row(self) -> bool:
        """Whether its tags are all those from its first to its last; a hole's own name need not be one."""
        first = self.holes[0].tag
        letter = first.rstrip("0123456789")
        if not letter or letter == first:
            return False
        start = int(first.removeprefix(letter))
        return [one.tag for one in self.holes] == [f"{letter}{start + n}" for n in range(len(self.holes))]

    @property
    def tables(self) -> tuple[str, ...]:
        """Every table that any hole of the group serves, in the order met."""
        return tuple(dict.fromkeys(table for tagged in self.holes for table in tagged.hole.tables))


def hole_groups(piece: Piece) -> tuple[HoleGroup, ...]:
    """Group the holes of a piece by size, in the order in which each size first appears.

    A letter that begins a hole's own label is not given to a group, so that no tag stands twice.
    """
    by_size: dict[object, list[Hole]] = {}
    for hole in piece.holes:
        by_size.setdefault(_size(hole), []).append(hole)
    own = {hole.label.rstrip("0123456789") for hole in piece.holes if hole.label}
    free = (letter for letter in map(letters, count()) if letter not in own)
    return tuple(_group(letter, holes, piece) for letter, holes in zip(free, by_size.values(), strict=False))


def tagged_holes(piece: Piece) -> tuple[TaggedHole, ...]:
    """Return every hole with its tag, group by group."""
    return tuple(tagged for group in hole_groups(piece) for tagged in group.holes)


def tags(piece: Piece) -> tuple[str, ...]:
    """Return the tag of each hole in the order of `piece.holes`.

    Two holes of one size at one place get two tags, so that a finding can name both.
    """
    waiting: dict[Hole, Iterator[str]] = {}
    found: dict[Hole, list[str]] = {}
    for tagged in tagged_holes(piece):
        found.setdefault(tagged.hole, []).append(tagged.tag)
    for hole, names in found.items():
        waiting[hole] = iter(names)
    return tuple(next(waiting[hole]) for hole in piece.holes)


def letters(number: int) -> str:
    """Return the letter of a group counted from 0: A to Z without I, O, Q, then AA, AB and so on."""
    text = ""
    number += 1
    while number:
        number, place = divmod(number - 1, len(LETTERS))
        text = LETTERS[place] + text
    return text


def _group(letter: str, holes: list[Hole], piece: Piece) -> HoleGroup:
    placed = sorted(holes, key=lambda hole: (hole.x, hole.y))
    centre = piece.centre
    # Two holes of what is not round are a row, and go from left to right as those of the piece they meet.
    turned = len(holes) > 2 or piece.blank.plan.diameter is not None
    if centre is not None and turned and _on_one_circle(holes, centre):
        placed.sort(key=lambda hole: _angle(hole, centre))
    tagged = (TaggedHole(hole.label or f"{letter}{n}", hole) for n, hole in enumerate(placed, start=1))
    return HoleGroup(letter, tuple(tagged))


def _on_one_circle(holes: list[Hole], centre: Point) -> bool:
    """Say whether a dividing head or a rotary table comes to all of them by turning alone."""
    radii = [dist((hole.x, hole.y), centre) for hole in holes]
    return not holes[0].face.upright and max(radii) - min(radii) < SAME < min(radii)


def _angle(hole: Hole, centre: Point) -> float:
    """Direction from the centre, degrees counter-clockwise from X seen from above, below 360."""
    return round(degrees(atan2(hole.y - centre[1], hole.x - centre[0])) % 360.0, 6) % 360.0
