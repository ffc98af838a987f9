"""Enlarged details on a sheet: a circle on the plan, and the same circle larger, tied by a letter (ISO 128-3)."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from tests.rebuilding.paper import Paper, Point, Ring, Words, away
from tests.rebuilding.seen import Spot, match_tags, spots_of
from tests.rebuilding.wording import UnreadableError

TITLE = re.compile(r"(?:([A-Z]) \((\d+):(\d+)\))|(?:DETAIL ([A-Z]) +SCALE (\d+):(\d+))")
AT = 0.1
"""A hole of a detail stands so near to its place on the plan, mm on the plan's paper."""


@dataclass(frozen=True, slots=True)
class Enlarged:
    """A part of the plan that is drawn again, larger.

    Attributes:
        letter: on both circles.
        here, there: the circle on the plan and the large one.
        scale: as its title says.
    """

    letter: str
    here: Ring
    there: Ring
    scale: float

    @property
    def ratio(self) -> float:
        """How much larger it is than the plan."""
        return self.there.radius / self.here.radius

    def covers(self, spot: Spot) -> bool:
        """Whether a hole of the plan is in it."""
        return away(spot.middle, self.here.centre) < self.here.radius

    def shows(self, at: Point) -> bool:
        """Whether a place on the paper is in the large circle."""
        return away(at, self.there.centre) < self.there.radius

    def on_plan(self, at: Point) -> Point:
        """Where a place in the large circle is on the plan."""
        (x, y), (u, v) = self.here.centre, self.there.centre
        return x + (at[0] - u) / self.ratio, y + (at[1] - v) / self.ratio


def enlarged(sheet: Paper) -> list[Enlarged]:
    """All details of a sheet. Errors: UnreadableError where a circle has no title or no partner."""
    found = []
    for there in _circles(sheet.views.rings):
        title = min(_titles(sheet.marks.words), key=lambda t: away(t[0].middle, _foot(there)), default=None)
        if title is None:
            raise UnreadableError(f"a circle at {there.centre} has no title")
        letters = [w for w in sheet.marks.words if w.text == title[1] and abs(w.height - title[0].height) < 0.01]
        if not letters:
            raise UnreadableError(f"detail {title[1]} is nowhere on the plan")
        pairs = [(away(w.middle, ring.centre), n, ring) for n, ring in enumerate(_circles(sheet.marks.rings))
                 for w in letters]  # fmt: skip
        if not pairs:
            raise UnreadableError(f"no circle on the plan belongs to detail {title[1]}")
        found.append(Enlarged(title[1], min(pairs)[2], there, title[2]))
    return found


def tags_in(
    one: Enlarged, sheet: Paper, tags: Sequence[Words], plan: Sequence[Spot]
) -> tuple[dict[str, Spot], list[str]]:
    """Say which hole of the plan each tag in a detail belongs to, and what is in doubt about that."""
    spots = [spot for spot in spots_of(sheet.views) if one.shows(spot.middle)]
    leaders = [path for path in sheet.marks.paths if path.layer == "NOTE" and not path.closed]
    found, doubts = match_tags([tag for tag in tags if one.shows(tag.middle)], leaders, spots)
    places: dict[str, Spot] = {}
    for tag, spot in found.items():
        at = one.on_plan(spot.middle)
        same = min(plan, key=lambda other: away(other.middle, at))
        if away(same.middle, at) > AT:
            doubts.append(f"detail {one.letter} shows a hole {tag} that the plan does not have there")
        places[tag] = same
    return places, doubts


def _circles(rings: Sequence[Ring]) -> list[Ring]:
    return [ring for ring in rings if ring.layer == "BREAK" and ring.end - ring.start >= 360.0]


def _foot(ring: Ring) -> Point:
    return ring.centre[0], ring.centre[1] - ring.radius


def _titles(words: Sequence[Words]) -> list[tuple[Words, str, float]]:
    found = [(one, TITLE.fullmatch(one.text)) for one in words]
    return [(one, m[1] or m[4], float(m[2] or m[5]) / float(m[3] or m[6])) for one, m in found if m]
