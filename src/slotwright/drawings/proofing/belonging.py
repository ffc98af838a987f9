"""What belongs to a text and may stand close to it: its dimension's lines, its frame, its leader, its note's lines."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from itertools import combinations
from math import cos, hypot, radians, sin

import numpy as np

from slotwright.drawings.paper.sheet import Line
from slotwright.drawings.proofing.near import Flags
from slotwright.drawings.proofing.paper import KINDS, PAPER, Floats, Lettered, Numbers, Paper, Role

SAME = 0.05  # lines and points that lie nearer are at one place, mm
STACKED = 2.0  # lines of one note stand no further apart, heights of capitals
LEADER_END = 1.5  # a leader that ends so near to a note is its own, heights of capitals


class Belonging:
    """Knows, for one sheet, which lines are a text's own.

    A dimension's text owns all lines of its dimension (an ordinate its leader, whatever the bends), lines that run on
    top of them, as neighbours share extension lines, the edge that one of its arrows ends on, for it stands in place of
    an extension line, and the centre line that one of its extension lines goes on with. A note owns its leader with
    the arrowhead, its other lines, and, in a frame, all that is around.
    """

    def __init__(self, paper: Paper) -> None:
        self.texts, self.lines = paper.texts, paper.lines
        self._lot = np.array([text.lot for text in paper.texts], dtype=np.int64)
        self._in_dimension = np.array([text.in_dimension for text in paper.texts], dtype=np.bool_)
        self._loose = [n for n, t in enumerate(paper.texts) if t.line is Line.DIMENSION and not t.in_dimension]
        frames = [r.box for r in paper.rectangles if r.line is Line.DIMENSION]
        middles = {n: paper.texts[n].middle() for n in self._loose}
        self._framed = {n for n, (x, y) in middles.items() if any(b[0] < x < b[2] and b[1] < y < b[3] for b in frames)}

    def same_dimension(self, text: Numbers, row: Numbers) -> Flags:
        """Say for pairs of text and line whether they are parts of one dimension."""
        same: Flags = (self.lines.lot[row] == self._lot[text]) & self._in_dimension[text]
        return same

    def own(self, number: int, row: int, spot: Floats) -> bool:
        """Say whether a line is a text's own.

        Args:
            number: of the text.
            row: of the line.
            spot: the point of the line that is nearest to the text.
        """
        one, mark = self.texts[number], int(self.lines.mark[row])
        if not one.in_dimension:
            note = self._notes[number]
            return number in self._framed or self._notes.get(mark, -1) == note or (note, mark) in self._leaders
        line = self.lines.ends[row]
        own = (self.lines.lot == one.lot) & (self.lines.role != Role.LETTERING)
        tips = self.lines.ends[own & (self.lines.role == Role.FILLED), :2]
        if _from_lines(spot, self.lines.ends[own]) < SAME or _from_points(tips, line) < SAME:
            return True
        is_centre = KINDS[int(self.lines.kind[row])] is Line.CENTRE
        return is_centre and _in_line(self.lines.ends[own & (self.lines.role == Role.EXTENSION)], line)

    @cached_property
    def _notes(self) -> dict[int, int]:
        """Number the notes that loose texts belong to: lines under each other with one margin in common."""
        note = {n: n for n in self._loose}
        for a, b in combinations(self._loose, 2):
            if _stacked(self.texts[a], self.texts[b]):
                old, new = note[b], note[a]
                note = {n: new if number == old else number for n, number in note.items()}
        return note

    @cached_property
    def _leaders(self) -> set[tuple[int, int]]:
        """Pairs of a note and a mark of its leader: the line whose bare end is beside it, the head at the other end."""
        lines = self.lines
        rows = np.flatnonzero(lines.role == Role.LEADER)
        heads = np.flatnonzero((lines.role == Role.FILLED) & (lines.view == PAPER))
        found: set[tuple[int, int]] = set()
        for mark in np.unique(lines.mark[rows]).tolist():
            path = lines.ends[rows[lines.mark[rows] == mark]]
            ends = [path[0, :2], path[-1, 2:]]
            touching = {n: [h for h in heads.tolist() if _from_points([end], lines.ends[h]) < SAME]
                        for n, end in enumerate(ends)}  # fmt: skip
            marks = {mark, *lines.mark[[h for hits in touching.values() for h in hits]].tolist()}
            for one in self._loose:
                bare = [_from_box(self.texts[one], end) for n, end in enumerate(ends) if not touching[n]]
                if min(bare, default=np.inf) < LEADER_END * self.texts[one].height:
                    found |= {(self._notes[one], m) for m in marks}
        return found


def _stacked(a: Lettered, b: Lettered) -> bool:
    if a.angle != b.angle or abs(a.height - b.height) > 1e-6:
        return False
    c, s = cos(radians(a.angle)), sin(radians(a.angle))
    dx, dy = b.at[0] - a.at[0], b.at[1] - a.at[1]
    along, up = dx * c + dy * s, dy * c - dx * s
    margins = (along, along + b.width - a.width, along + (b.width - a.width) / 2.0)
    return 0.0 < abs(up) <= STACKED * a.height and min(abs(margin) for margin in margins) < 0.1


def _in_line(lines: Floats, one: Floats) -> bool:
    """Say whether one of the lines lies on the endless straight line through another."""
    step = one[2:] - one[:2]
    away = lines.reshape(-1, 2, 2) - one[:2]
    off = np.abs(away[:, :, 0] * step[1] - away[:, :, 1] * step[0]) / max(float(np.hypot(*step)), 1e-9)
    return bool((off.max(axis=1) < SAME).any()) if len(lines) else False


def _from_box(text: Lettered, point: Floats) -> float:
    """Return the distance of a point from the capitals of a text."""
    c, s = cos(radians(text.angle)), sin(radians(text.angle))
    dx, dy = point[0] - text.at[0], point[1] - text.at[1]
    u, v = dx * c + dy * s, dy * c - dx * s
    return hypot(max(-u, 0.0, u - text.width), max(-v, 0.0, v - text.height))


def _from_points(points: Floats | Sequence[Floats], line: Floats) -> float:
    """Return the least distance of points from a straight line."""
    return min((_from_lines(point, line[None, :]) for point in points), default=float("inf"))


def _from_lines(point: Floats, ends: Floats) -> float:
    """Return the least distance of a point from straight lines."""
    if not len(ends):
        return float("inf")
    step = ends[:, 2:] - ends[:, :2]
    square = np.maximum((step * step).sum(axis=1), 1e-18)
    share = np.clip(((point - ends[:, :2]) * step).sum(axis=1) / square, 0.0, 1.0)
    gap = ends[:, :2] + step * share[:, None] - point
    return float(np.hypot(gap[:, 0], gap[:, 1]).min())
