"""Which hole of one piece is which of another's, and what became of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from math import hypot

from slotwright import sizes
from slotwright.pieces.features import Hole
from slotwright.pieces.hole_groups import TaggedHole, tagged_holes
from slotwright.pieces.piece import Piece

SAME = 1e-6
"""Two places or sizes are one when they differ by less, mm."""
MOST_CELLS = 250_000
"""Up to so many pairs the nearest order-keeping match is sought; beyond, holes are matched by their order alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleMove:
    """What became of one hole.

    Attributes:
        piece: name of the piece.
        old, new: the hole before and after; None where it came or went.
    """

    piece: str
    old: TaggedHole | None
    new: TaggedHole | None

    @property
    def moved(self) -> tuple[float, float]:
        """How far it moved along the face's x and y, mm; (0, 0) where it came or went."""
        if self.old is None or self.new is None:
            return 0.0, 0.0
        return self.new.hole.x - self.old.hole.x, self.new.hole.y - self.old.hole.y

    @property
    def resized(self) -> bool:
        """Whether the hole itself is another, wherever it stands."""
        if self.old is None or self.new is None:
            return False
        return _plain(self.old.hole) != _plain(self.new.hole)

    @property
    def stays(self) -> bool:
        """Whether nothing that a drill would notice has changed."""
        return self.old is not None and self.new is not None and not self.resized and hypot(*self.moved) < SAME


def hole_moves(old: Piece | None, new: Piece | None) -> tuple[HoleMove, ...]:
    """Match the holes of a piece before and after, in the order of the new tags, then those that went.

    Holes of one purpose on one face are matched: first those that stand where one stood, the others in the order in
    which they stand along the face, so that the sum of the moves is least.
    """
    name = next((piece.name for piece in (new, old) if piece is not None), "")
    before, after = (tagged_holes(piece) if piece is not None else () for piece in (old, new))
    pairs: list[tuple[TaggedHole | None, TaggedHole | None]] = []
    for olds, news in _by_use(before, after):
        pairs += _matched(olds, news)
    order = {id(tagged): number for number, tagged in enumerate((*after, *before))}
    pairs.sort(key=lambda pair: order[id(pair[1] or pair[0])])
    return tuple(HoleMove(piece=name, old=a, new=b) for a, b in pairs)


def _plain(hole: Hole) -> Hole:
    """A hole without its place and what no drill notices; sizes rounded to what no drill can tell."""
    bore = hole.counterbore
    return replace(
        hole,
        x=0.0,
        y=0.0,
        diameter=round(hole.diameter, 6),
        depth=_rounded(hole.depth),
        thread_depth=_rounded(hole.thread_depth),
        slot_extra=round(hole.slot_extra, 6),
        counterbore=bore and replace(bore, diameter=round(bore.diameter, 6), depth=round(bore.depth, 6)),
        position_tolerance=None,
        tables=(),
        note="",
        label="",
        revised="",
    )


def _rounded(mm: float | None) -> float | None:
    return None if mm is None else round(mm, 6)


Groups = Iterator[tuple[list[TaggedHole], list[TaggedHole]]]


def _by_use(before: Iterable[TaggedHole], after: Iterable[TaggedHole]) -> Groups:
    def use(tagged: TaggedHole) -> tuple[str, str]:
        return tagged.hole.face.value, tagged.hole.purpose.value

    def grouped(holes: Iterable[TaggedHole]) -> dict[tuple[str, str], list[TaggedHole]]:
        return {key: list(group) for key, group in groupby(sorted(holes, key=use), key=use)}

    olds, news = grouped(before), grouped(after)
    for key in dict.fromkeys((*olds, *news)):
        yield olds.get(key, []), news.get(key, [])


Pairs = list[tuple[TaggedHole | None, TaggedHole | None]]


def _matched(olds: list[TaggedHole], news: list[TaggedHole]) -> Pairs:
    olds, news = (sorted(holes, key=_place) for holes in (olds, news))
    found: Pairs = []
    waiting: dict[tuple[float, float], list[TaggedHole]] = {}
    for old in olds:
        waiting.setdefault(_place(old), []).append(old)
    rest = []
    for new in news:
        there = waiting.get(_place(new))
        if there:
            found.append((there.pop(0), new))
        else:
            rest.append(new)
    taken = {id(old) for old, _ in found}
    return found + _in_order([old for old in olds if id(old) not in taken], rest)


def _place(tagged: TaggedHole) -> tuple[float, float]:
    return round(tagged.hole.x, 6), round(tagged.hole.y, 6)


def _in_order(olds: Sequence[TaggedHole], news: Sequence[TaggedHole]) -> Pairs:
    """Pair as many as there are of both, keeping their order, with the least sum of moves."""
    if len(olds) == len(news) or not olds or not news or len(olds) * len(news) > MOST_CELLS:
        pairs: Pairs = list(zip(olds, news, strict=False))
        return pairs + [(old, None) for old in olds[len(news) :]] + [(None, new) for new in news[len(olds) :]]
    few, many = (olds, news) if len(olds) < len(news) else (news, olds)
    chosen = _chosen(few, many)
    partner = dict(zip(chosen, few, strict=True))
    both: Pairs = [(partner.get(number), tagged) for number, tagged in enumerate(many)]
    return both if few is olds else [(b, a) for a, b in both]


def _chosen(few: Sequence[TaggedHole], many: Sequence[TaggedHole]) -> list[int]:
    """Numbers, in many, of the partners of few: least sum of distances over all choices that keep the order."""
    spare = len(many) - len(few)
    # best[j]: least sum for the holes so far, the last of them paired with many[j] or an earlier one.
    best = [0.0] * (spare + 1)
    steps: list[list[int]] = []
    for i, hole in enumerate(few):
        row, step, least, at = [], [], float("inf"), 0
        for j in range(spare + 1):
            cost = best[j] + _distance(hole, many[i + j])
            if cost < least:
                least, at = cost, j
            row.append(least)
            step.append(at)
        best = row
        steps.append(step)
    found, j = [], spare
    for i in reversed(range(len(few))):
        j = steps[i][j]
        found.append(i + j)
    return found[::-1]


def _distance(a: TaggedHole, b: TaggedHole) -> float:
    return hypot(a.hole.x - b.hole.x, a.hole.y - b.hole.y)


def hole_words(hole: Hole, unit: str) -> str:
    """Say what a hole is, without its place: "⌀13.5 mm drilled through"."""

    def size(mm: float) -> str:
        return sizes.say(mm, "mm", unit)

    if hole.thread is not None:
        words = f"{hole.thread.designation} tapped"
    elif hole.ream is not None:
        words = f"⌀{size(hole.diameter)} reamed {hole.ream.tolerance}"
    else:
        words = f"⌀{size(hole.diameter)} " + (f"slotted by {size(hole.slot_extra)}" if hole.slot_extra else "drilled")
    depth = hole.thread_depth if hole.thread_depth is not None else hole.depth
    words += " through" if depth is None else f" {size(depth)} deep"
    if hole.counterbore is not None:
        words += f", counterbored ⌀{size(hole.counterbore.diameter)} {size(hole.counterbore.depth)} deep"
    if hole.countersink is not None:
        words += f", countersunk ⌀{size(hole.countersink.diameter)}"
    return words
