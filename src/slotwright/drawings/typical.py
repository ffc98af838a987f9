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
    found: list[Detail] = []
    for small in (one for one in smalls if one.size * scale < LEAST - 1e-9):
        letter = letters[len(found)] if len(found) < len(letters) else ""
        now = next(_with(small, found, letter, scale, style, others, clear), None)
        if now is None:
            return None
        found = now
    return tuple(found)


def _with(
    small: Small,
    found: Sequence[Detail],
    letter: str,
    scale: float,
    style: Style,
    others: Sequence[Detail],
    clear: Callable[[Point, float], bool],
) -> Iterator[list[Detail]]:
    """Yield the details with a further kind: in one that shows it already, in one of its own, in one made larger."""
    for n, detail in enumerate(found):
        if small.shown_by(detail):
            yield _replaced(found, n, replace(detail, stands_for=_both(detail.stands_for, small.stands_for)))
    for one in _tries(small, letter, scale, style) if letter else ():
        if clear(one.centre, one.radius) and not any(map(one.meets, (*others, *found))):
            yield [*found, one]
    for n, detail in enumerate(found):
        apart = (*others, *found[:n], *found[n + 1 :])
        for one in _grown(detail, small, scale, style):
            if clear(one.centre, one.radius) and not any(map(one.meets, apart)):
                yield _replaced(found, n, one)


def _replaced(found: Sequence[Detail], n: int, detail: Detail) -> list[Detail]:
    return [*found[:n], detail, *found[n + 1 :]]


def _grown(detail: Detail, small: Small, scale: float, style: Style) -> Iterator[Detail]:
    """Yield a detail whose circle takes in a further kind too, at each place of it near by."""
    larger = max(detail.scale, next(scales_for(small.size, scale, style), detail.scale))
    for place in small.places:
        apart = dist(place, detail.centre)
        radius = (detail.radius + apart + ROUND * small.reach) / 2.0
        if radius > detail.radius and radius * larger <= LARGEST:
            share = (radius - detail.radius) / apart
            (x, y), (u, v) = detail.centre, place
            centre = x + (u - x) * share, y + (v - y) * share
            yield replace(detail, centre=centre, radius=radius, scale=larger,
                          stands_for=_both(detail.stands_for, small.stands_for))  # fmt: skip


def _tries(small: Small, letter: str, scale: float, style: Style) -> Iterator[Detail]:
    sizes = [(larger, _radius(small, scale, larger)) for larger in scales_for(small.size, scale, style, LEAST)]
    if not sizes:
        return
    easy = next((one for one in sizes if one[0] * small.size >= EASY), sizes[-1])
    if easy[0] * easy[1] > BIG:
        easy = max((one for one in sizes if one[0] * one[1] <= BIG), default=sizes[0])
    larger, radius = easy
    for place in small.places[:TRIED]:
        yield Detail(letter, place, radius, larger, stands_for=small.stands_for)


def _radius(small: Small, scale: float, larger: float) -> float:
    """Of a circle round one of a kind, mm."""
    return min(max(ROUND * small.reach, LEAST_CIRCLE / scale, SMALLEST / larger), LARGEST / larger)


def _both(one: str, other: str) -> str:
    if not one or not other:
        return one or other
    return f"{one}, {other.removeprefix('TYPICAL OF ')}"
