"""A picture of a shaped piece from its bodies: every edge that shows, without the CAD kernel but for scripts' solids.

A curve is an edge where the surfaces on its two sides, seen along the line of sight, differ in direction or lie one
behind the other, and it shows where the nearer of them lies on the curve. Chamfers round a blank's rims are left out:
their two lines would run together at the size of such a picture.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil, cos, pi, sin, sqrt

import numpy as np
from numpy.typing import NDArray

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.placing import marks_box, text_box, union
from slotwright.drawings.paper.sheet import Anchor, Line, Mark, Stroke, Text, View, on_paper
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.view_group import ViewGroup
from slotwright.drawings.pictorial import EDGE, TITLE
from slotwright.drawings.shapes.bodies import Bodies
from slotwright.drawings.shapes.curves import Ridge, Rounded, Straight
from slotwright.drawings.shapes.judging import merged
from slotwright.drawings.shapes.ridges import ridges
from slotwright.drawings.shapes.sight import Array, Sight, sight_of
from slotwright.drawings.shapes.surfaces import Scene
from slotwright.pieces.piece import Piece
from slotwright.pieces.script_piece import ScriptPiece
from slotwright.pieces.segment import Segment

ASIDE = 1e-3  # how far beside a curve the metal is looked at, mm
ON = 4e-3  # a surface that passes a point no further off holds it, mm
BEND = 1.5e-4  # one less the cosine of the angle at which surfaces meet in an edge: 1 degree
SPACE = 1.0 / 90.0  # of the places looked at along a curve, of the piece's size; our choice
FEWEST, MOST = 16, 120  # of such places on one curve
HALVINGS = 9  # by which the place is found where a curve goes into hiding
STRAY = 1.0 / 2500.0  # how far the straight pieces of a curve leave it, of the piece's size; our choice
ROUND = 6
FROM_BELOW = "PICTORIAL FROM BELOW, NOT TO SCALE"

Marked = NDArray[np.bool_]


@dataclass(frozen=True)
class Picture:
    """What shows of a piece.

    Attributes:
        marks: edges in the picture's plane, mm at full size along the main axes.
        title: what is written under it.
    """

    marks: tuple[Mark, ...]
    title: str

    def size(self, scale: float, style: Style) -> tuple[float, float]:
        """Return width and height on paper with the title, mm."""
        seen, words = marks_box(self.marks), lettering.width(self.title, style.small)
        return max(seen.width * scale, words) + 2.0 * EDGE, seen.height * scale + 2.0 * EDGE + 2.5 * style.small

    def group(self, scale: float, style: Style) -> ViewGroup:
        """Return it as a view with its title, its lower left corner near paper (0, 0)."""
        view = View(name="pictorial", origin=(0.0, 0.0), scale=scale, marks=self.marks)
        seen = marks_box(on_paper(view))
        at = ((seen.x0 + seen.x1) / 2.0, seen.y0 - 2.2 * style.small)
        words = Text(at, self.title, style.small, Anchor.CENTRE)
        edge = seen.grown(EDGE)
        view = replace(view, frame=(edge.x0, edge.y0, edge.x1, edge.y1))
        return ViewGroup(views=(view,), marks=(words,), box=union([edge, text_box(words)]))


def shaped_picture(piece: Piece) -> Picture:
    """Return the picture of a shaped piece."""
    sight = sight_of(piece)
    return Picture(tuple(seen_marks(piece, sight)), FROM_BELOW if sight.from_below else TITLE)


def seen_marks(piece: Piece, sight: Sight) -> list[Mark]:
    """Return the edges of a piece that show."""
    if isinstance(piece, ScriptPiece):
        return list(_by_kernel(piece, sight))
    bodies = Bodies.of(piece, chamfers=False)
    stray = STRAY * _size(bodies)
    straight: list[Segment] = []
    marks: list[Mark] = []
    for ridge, low, high in _shown(bodies, sight):
        if isinstance(ridge, Straight):
            a, b = sight.picture(ridge.at(np.array((low, high)))).tolist()
            if abs(a[0] - b[0]) + abs(a[1] - b[1]) > ASIDE:
                straight.append(Segment((a[0], a[1]), (b[0], b[1])))
        else:
            count = 1 + _chords(ridge, low, high, stray)
            points = np.round(sight.picture(ridge.at(np.linspace(low, high, count))), ROUND) + 0.0
            marks.append(Stroke(tuple((x, y) for x, y in points.tolist()), Line.OUTLINE))
    return [*merged(straight, Line.OUTLINE), *marks]


def _by_kernel(piece: ScriptPiece, sight: Sight) -> Iterator[Stroke]:
    # Only a script's pieces are projected, and their script has loaded the kernel for this run already.
    from slotwright.pieces.projection import edges_toward

    for edge in edges_toward(piece, sight.toward, sight.across):
        chain = edge.points
        if edge.centre is not None:
            (x, y), r = edge.centre, edge.radius
            turns = np.radians(np.linspace(edge.start, edge.end, 49)).tolist()
            chain = tuple((x + r * cos(turn), y + r * sin(turn)) for turn in turns)
        k = sight.enlarged
        yield Stroke(tuple((round(x * k, ROUND) + 0.0, round(y * k, ROUND) + 0.0) for x, y in chain), Line.OUTLINE)


def _size(bodies: Bodies) -> float:
    return float(np.linalg.norm(np.subtract(bodies.high, bodies.low)))


def _chords(ridge: Ridge, low: float, high: float, stray: float) -> int:
    """How many chords a part of a curve needs: an arc that turns by t over a length l strays by t l / (8 n^2)."""
    turn = abs(ridge.side.sweep) if isinstance(ridge, Rounded) else pi
    long = _long(ridge.at(np.linspace(low, high, 9)))
    return max(1, ceil(sqrt(turn * (high - low) * long / (8.0 * stray))))


def _long(points: Array) -> float:
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())


def _shown(bodies: Bodies, sight: Sight) -> Iterator[tuple[Ridge, float, float]]:
    """Yield the parts of curves that show, as shares of each."""
    found = ridges(bodies, sight.toward)
    space = SPACE * _size(bodies)
    places = [_places(ridge, space) for ridge in found]
    owner = np.repeat(np.arange(len(found)), [len(shares) for shares in places])
    shares = np.concatenate(places)
    scene = Scene(bodies, -np.array(sight.toward))
    seen = _seen(scene, sight, found, owner, shares)
    change = np.flatnonzero((owner[1:] == owner[:-1]) & (seen[1:] != seen[:-1]))
    turns = _halved(scene, sight, found, owner[change], shares[change], shares[change + 1], seen[change])
    at = dict(zip(change.tolist(), turns.tolist(), strict=True))
    ends = np.flatnonzero(np.diff(owner, append=-1))
    start = 0
    for end in ends.tolist():
        yield from ((found[owner[end]], low, high) for low, high in _runs(seen, at, start, end))
        start = end + 1


def _runs(seen: Marked, at: dict[int, float], start: int, end: int) -> Iterator[tuple[float, float]]:
    """Yield from where to where one curve shows, between places from start to end."""
    low = 0.0
    for n in range(start, end):
        if n in at:
            if seen[n]:
                yield low, at[n]
            low = at[n]
    if seen[end]:
        yield low, 1.0


def _places(ridge: Ridge, space: float) -> Array:
    """Shares of a curve at which it is looked at, its ends nearly included."""
    long = _long(ridge.at(np.linspace(0.0, 1.0, 9)))
    count = min(MOST, max(FEWEST, int(long / space)))
    inner = (np.arange(count) + 0.5) / count
    return np.concatenate(((0.002,), inner, (0.998,)))


def _halved(
    scene: Scene, sight: Sight, found: Sequence[Ridge], owner: NDArray[np.intp], low: Array, high: Array, was: Marked
) -> Array:
    """Return the shares, between low and high, at which curves go into hiding or come out of it."""
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        same = _seen(scene, sight, found, owner, middle) == was
        low, high = np.where(same, middle, low), np.where(same, high, middle)
    result: Array = (low + high) / 2.0
    return result


def _seen(scene: Scene, sight: Sight, found: Sequence[Ridge], owner: NDArray[np.intp], shares: Array) -> Marked:
    """Say of places on curves whether an edge shows there."""
    if not len(owner):
        return np.zeros(0, dtype=bool)
    points, ways = np.empty((len(owner), 3)), np.empty((len(owner), 3))
    cuts = np.flatnonzero(np.diff(owner, prepend=-1, append=-1))
    for start, end in zip(cuts[:-1].tolist(), cuts[1:].tolist(), strict=True):
        ridge, here = found[owner[start]], shares[start:end]
        points[start:end] = ridge.at(here)
        ways[start:end] = ridge.at(here + 1e-4) - ridge.at(here - 1e-4)
    toward = np.array(sight.toward)
    sides = np.cross(ways, toward)
    long = np.linalg.norm(sides, axis=1, keepdims=True)
    end_on = long[:, 0] < 1e-6 * np.linalg.norm(ways, axis=1)
    sides = ASIDE * sides / np.where(long > 0.0, long, 1.0)
    hit = scene.nearest(np.concatenate((points + sides, points - sides)))
    # Whether the plane that touches the metal where a line of sight meets it passes through the curve's point.
    met = np.isfinite(hit.depth)
    off = np.concatenate((sides, -sides)) - np.where(met, hit.depth, 0.0)[:, None] * toward
    on = met & (np.abs(np.einsum("ij,ij->i", hit.facing, off)) < ON)
    count = len(points)
    on_left, on_right = on[:count], on[count:]
    bent = on_left & on_right & (np.einsum("ij,ij->i", hit.facing[:count], hit.facing[count:]) < 1.0 - BEND)
    behind = hit.depth > -ON
    one = (on_left & ~on_right & behind[count:]) | (on_right & ~on_left & behind[:count])
    shows: Marked = (bent | one) & ~end_on
    return shows
