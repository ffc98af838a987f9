"""Dimensions as they are drawn: what is written, and between which lines of the paper it is written."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TypeAlias

from tests.rebuilding.paper import Marks, Point, away, from_box
from tests.rebuilding.wording import FIGURE, NOTHING, Figures, Size, UnreadableError, one_unit

SAME = 0.05
"""Places on paper that differ by less are one to the eye, mm: a fifth of a narrow line."""

PLAIN = re.compile(rf"({FIGURE})(?: ?\[{FIGURE}\])?")
PITCHES = re.compile(rf"(\d+) ?[X×] ?({FIGURE}) ?\(=? ?({FIGURE})\)")
AUXILIARY = re.compile(rf"\({FIGURE}\)")


Edge: TypeAlias = tuple[float, float, Size, str]
"""Two places on paper, how far they are apart, and the words that say so."""


@dataclass(frozen=True, slots=True)
class Span:
    """A dimension: how far it is from one place on paper to another, along X or Y.

    Attributes:
        upright: whether it is measured along Y.
        start, end: places on paper; an ordinate's start is None, for it counts from the zero.
        size: what is written.
        steps: into how many equal parts it is divided.
        text: as written.
        at: where an ordinate's leader, or one of the arrows, touches the feature.
    """

    upright: bool
    start: float | None
    end: float
    size: Size
    steps: int
    text: str
    at: Point


def read_dimension(marks: Marks, figures: Figures) -> Span | None:
    """Read one dimension; None for an auxiliary one in brackets, which says nothing new."""
    written = " ".join(words.text for words in marks.words)
    if AUXILIARY.fullmatch(written):
        return None
    size, steps = _value(written, figures)
    if not marks.arrows:
        return _ordinate(marks, written, size)
    tips = [_tip(arrow) for arrow in marks.arrows]
    if len(tips) != 2:
        raise UnreadableError(f"dimension {written} has {len(tips)} arrows")
    upright = abs(tips[0][0] - tips[1][0]) < SAME
    axis = 1 if upright else 0
    low, high = sorted(tips, key=lambda tip: tip[axis])
    return Span(upright, low[axis], high[axis], size, steps, written, low)


def _value(written: str, figures: Figures) -> tuple[Size, int]:
    written = one_unit(written)
    if m := PITCHES.fullmatch(written):
        number, pitch, total = int(m[1]), figures.size(m[2]), figures.size(m[3])
        if abs(number * pitch.value - total.value) > number * pitch.off + total.off:
            raise UnreadableError(f"{written}: the pitches do not make the total")
        return total, number
    if m := PLAIN.fullmatch(written):
        return figures.size(m[1]), 1
    raise UnreadableError(f"{written!r} is no dimension")


def _ordinate(marks: Marks, written: str, size: Size) -> Span:
    """Its leader has one end at the words; the other points at the feature. A closed box round them is no leader."""
    leaders = [path for path in marks.paths if not path.closed]
    if len(leaders) != 1 or len(marks.words) != 1:
        raise UnreadableError(f"ordinate {written} has {len(leaders)} leaders and {len(marks.words)} texts")
    points, box = leaders[0].points, marks.words[0].box
    ends = points if from_box(points[-1], box) < from_box(points[0], box) else points[::-1]
    upright = abs(ends[0][1] - ends[1][1]) < 1e-6
    return Span(upright, None, ends[0][1 if upright else 0], size, 1, written, ends[0])


def _tip(arrow: tuple[Point, Point, Point]) -> Point:
    """The sharp corner of an arrow: the one that is farthest from the other two."""
    return max(arrow, key=lambda corner: sum(away(corner, other) for other in arrow))


@dataclass(slots=True)
class Axis:
    """Places along one axis of a view, and what is written about how far they are from each other.

    Each place that matters is to be reached from the origin in exactly one way.

    Attributes:
        origin: where it starts on paper.
        known: distance from the origin of the places reached, by place on paper.
        complaints: what is written twice, or points at nothing.
        middle: place of a centre line that halves what is between the origin and the far end, if one is drawn.
    """

    origin: float
    spans: list[Span] = field(default_factory=list)
    known: dict[float, Size] = field(default_factory=dict)
    complaints: list[str] = field(default_factory=list)
    middle: float | None = None

    def work_out(self, features: set[float]) -> None:
        """Follow the dimensions from the origin outward; features are the places that may be measured to."""
        places = _merged({*features, self.origin, *(() if self.middle is None else (self.middle,))})
        self.known = {at: NOTHING for at in places if abs(at - self.origin) < SAME}
        waiting = [edge for span in self.spans for edge in self._edges(span, places)]
        self._follow(waiting)
        if self.middle is not None:
            self._halve(self.middle, waiting)
            self._follow(waiting)
        self.complaints += [f"{text} hangs in the air: neither end is located" for *_, text in waiting]

    def _follow(self, waiting: list[Edge]) -> None:
        """Reach what can be reached, one dimension after the other, and take these out of what is waiting."""
        while True:
            usable = [e for e in waiting if e[0] in self.known or e[1] in self.known]
            if not usable:
                break
            start, end, size, text = usable[0]
            waiting.remove(usable[0])
            if start in self.known and end in self.known:
                self.complaints.append(f"{text} is written although it follows from other dimensions")
            elif start in self.known:
                self.known[end] = self.known[start] + size
            else:
                self.known[start] = Size(self.known[end].value - size.value, self.known[end].off + size.off)

    def _halve(self, middle: float, waiting: list[Edge]) -> None:
        """The centre line is half-way to the far end; a dimension across it has half of it on either side."""
        far = self.distance(2.0 * middle - self.origin)
        if far is None or self.distance(middle) is not None:
            self.complaints.append("what a centre line halves is not dimensioned, or the line is located twice")
            return
        centre = _half(far)
        self.known[middle] = centre
        for edge in [e for e in waiting if abs(e[0] + e[1] - 2.0 * middle) < SAME]:
            waiting.remove(edge)
            start, end = sorted(edge[:2])
            if self.distance(start) is not None:
                self.complaints.append(f"{edge[3]} is written although it follows from other dimensions")
                continue
            self.known[start], self.known[end] = centre - _half(edge[2]), centre + _half(edge[2])

    def _edges(self, span: Span, places: list[float]) -> list[Edge]:
        start = _at(self.origin if span.start is None else span.start, places)
        end = _at(span.end, places)
        if start is None or end is None:
            self.complaints.append(f"{span.text} points at nothing")
            return []
        if span.start is None and span.size.value == 0.0:
            if abs(end - self.origin) > SAME:
                self.complaints.append(f"the zero of the ordinates stands away from the datum corner: {span.text}")
            return []
        if span.steps == 1:
            return [(start, end, span.size, span.text)]
        step = Size(span.size.value / span.steps, span.size.off / span.steps)
        wanted = [start + (end - start) * n / span.steps for n in range(span.steps + 1)]
        stops = [at for at in (_at(place, places) for place in wanted) if at is not None]
        if len(stops) < len(wanted):
            self.complaints.append(f"{span.text} does not meet as many features as it says")
            return []
        return [(a, b, step, span.text) for a, b in pairwise(stops)]

    def distance(self, place: float) -> Size | None:
        """What is written about a place, or None."""
        return next((size for at, size in self.known.items() if abs(at - place) < SAME), None)


def _half(size: Size) -> Size:
    return Size(size.value / 2.0, size.off / 2.0)


def _merged(features: set[float]) -> list[float]:
    places: list[float] = []
    for place in sorted(features):
        if not places or place - places[-1] >= SAME:
            places.append(place)
    return places


def _at(place: float, places: list[float]) -> float | None:
    return next((at for at in places if abs(at - place) < SAME), None)
