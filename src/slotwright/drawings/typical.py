"""What is small and comes often is enlarged once: one of its kind is drawn in a detail that says what it stands for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import cos, dist, radians, sin

from slotwright.drawings.details import BIG, EASY, LARGEST, LEAST, LEAST_CIRCLE, SMALLEST, Detail, scales_for
from slotwright.drawings.paper.sheet import Point
from slotwright.drawings.paper.style import Style
from slotwright.pieces.features import Hole
from slotwright.pieces.hole_groups import HoleGroup

ROUND = 1.4  # radius of a circle over what is in it; our choice
TRIED = 12  # of a kind, before it is enlarged nowhere; our choice


@dataclass(frozen=True, slots=True)
class Small:
    """Something of which one of its kind is to be enlarged.

    Attributes:
        size: its smallest size, mm.
        places: middles of all of the kind, in a view's coordinates.
        reach: how far one reaches from its middle, mm.
        stands_for: what a detail of one says of the others, or "".
    """

    size: float
    places: tuple[Point, ...]
    reach: float
    stands_for: str = ""

    def shown_by(self, detail: Detail) -> bool:
        """Say whether a detail shows one of the kind large enough."""
        inside = any(dist(place, detail.centre) + self.reach <= detail.radius for place in self.places)
        return inside and self.size * detail.scale >= LEAST


def small_hole(group: HoleGroup, holes: Sequence[Hole]) -> Small:
    """Return holes of a group, in a view's coordinates, as what may be too small; of a slot, its ends."""
    first, others = holes[0], f"{len(group.holes)} HOLES"
    return Small(
        size=first.diameter,
        places=tuple(place for hole in holes for place in _middles(hole)),
        reach=first.widest / 2.0,
        stands_for=f"TYPICAL OF {group.tags if group.in_a_row else others}" if len(group.holes) > 1 else "",
    )


def _middles(hole: Hole) -> Iterator[Point]:
    half, turn = hole.slot_extra / 2.0, radians(hole.slot_angle)
    yield hole.x + half * cos(turn), hole.y + half * sin(turn)
    if half:
        yield hole.x - half * cos(turn), hole.y - half * sin(turn)


def typical_details(
    smalls: Iterable[Small],
    scale: float,
    style: Style,
    letters: Sequence[str],
    others: Sequence[Detail] = (),
    *,
    clear: Callable[[Point, float], bool] = lambda _centre, _radius: True,
) -> tuple[Detail, ...] | None:
    """Return one detail for each kind that is under 3 mm on paper; kinds that stand together share one.

    Args:
        smalls: kinds in the coordinates of one view.
        scale: of the view, paper over model.
        style: gives the preferred scales.
        letters: that are free.
        others: details the view has already.
        clear: says whether a circle, model, runs through nothing that is to be read.

    Returns:
        The details, or None where a kind finds no place or no letter.
    """
    search = _Search(scale, style, tuple(others), clear)
    found: list[Detail] = []
    for small in (one for one in smalls if one.size * scale < LEAST - 1e-9):
        letter = letters[len(found)] if len(found) < len(letters) else ""
        now = next(search.with_kind(small, found, letter), None)
        if now is None:
            return None
        found = now
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _Search:
    """The view in which circles find their places.

    Attributes:
        scale, style: of the view.
        others: details it has already.
        clear: says whether a circle, model, runs through nothing that is to be read.
    """

    scale: float
    style: Style
    others: tuple[Detail, ...]
    clear: Callable[[Point, float], bool]

    def with_kind(self, small: Small, found: Sequence[Detail], letter: str) -> Iterator[list[Detail]]:
        """Yield the details with a further kind: in one that shows it, in one of its own, in one made larger."""
        for n, detail in enumerate(found):
            if small.shown_by(detail):
                yield _replaced(found, n, _standing_for(detail, small))
        for one in self._own(small, letter) if letter else ():
            if self._fits(one, found):
                yield [*found, one]
        for n, detail in enumerate(found):
            for one in self._grown(detail, small):
                if self._fits(one, [*found[:n], *found[n + 1 :]]):
                    yield _replaced(found, n, one)

    def _fits(self, detail: Detail, found: Sequence[Detail]) -> bool:
        return self.clear(detail.centre, detail.radius) and not any(map(detail.meets, (*self.others, *found)))

    def _own(self, small: Small, letter: str) -> Iterator[Detail]:
        """Yield details of one of a kind at its places: easy to read, or smaller rather than a large circle."""
        scales = scales_for(small.size, self.scale, self.style, LEAST)
        sizes = [(larger, self._radius(small, larger)) for larger in scales]
        if not sizes:
            return
        chosen = next((one for one in sizes if one[0] * small.size >= EASY), sizes[-1])
        if chosen[0] * chosen[1] > BIG:
            chosen = max((one for one in sizes if one[0] * one[1] <= BIG), default=sizes[0])
        larger, radius = chosen
        for place in small.places[:TRIED]:
            yield Detail(letter, place, radius, larger, stands_for=small.stands_for)

    def _radius(self, small: Small, larger: float) -> float:
        """Of a circle round one of a kind, mm."""
        return min(max(ROUND * small.reach, LEAST_CIRCLE / self.scale, SMALLEST / larger), LARGEST / larger)

    def _grown(self, detail: Detail, small: Small) -> Iterator[Detail]:
        """Yield a detail whose circle takes in a further kind too, at each place of it near by."""
        larger = max(detail.scale, next(scales_for(small.size, self.scale, self.style), detail.scale))
        for place in small.places:
            apart = dist(place, detail.centre)
            radius = (detail.radius + apart + ROUND * small.reach) / 2.0
            if radius > detail.radius and radius * larger <= LARGEST:
                share = (radius - detail.radius) / apart
                (x, y), (u, v) = detail.centre, place
                centre = x + (u - x) * share, y + (v - y) * share
                yield replace(_standing_for(detail, small), centre=centre, radius=radius, scale=larger)


def _replaced(found: Sequence[Detail], n: int, detail: Detail) -> list[Detail]:
    return [*found[:n], detail, *found[n + 1 :]]


def _standing_for(detail: Detail, small: Small) -> Detail:
    """Return the detail with what it says of a further kind."""
    if not detail.stands_for or not small.stands_for:
        return replace(detail, stands_for=detail.stands_for or small.stands_for)
    return replace(detail, stands_for=f"{detail.stands_for}, {small.stands_for.removeprefix('TYPICAL OF ')}")
