"""Enlarged details: a circle in a view, and the same circle larger, tied by a letter (ISO 128-3).

The larger one stands on the same sheet or on a later one.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tests.rebuilding.paper import Marks, Paper, Point, Ring, Words, away, break_circles
from tests.rebuilding.seen import Spot, match_tags, spots_of
from tests.rebuilding.wording import UnreadableError

TITLE = re.compile(r"(?:([A-Z]+) \((\d+):(\d+)\))|(?:DETAIL ([A-Z]+) +SCALE (\d+):(\d+))")
AT = 0.1
"""A hole of a detail stands so near to its place on the plan, mm on the plan's paper."""


@dataclass(frozen=True, slots=True)
class Enlarged:
    """A part of the plan that is drawn again, larger.

    Attributes:
        letter: on both circles.
        here, there: the circle in the view and the large one.
        scale: as its title says.
        sheet: that has the large one.
    """

    letter: str
    here: Ring
    there: Ring
    scale: float
    sheet: Paper

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


def enlarged(sheets: Sequence[Paper]) -> list[Enlarged]:
    """All details of the views on the first sheet. Errors: UnreadableError where a circle has no title or partner."""
    return [_enlarged(sheets[0].marks, there, sheet) for sheet in sheets for there in break_circles(sheet.views.rings)]


def _enlarged(views: Marks, there: Ring, sheet: Paper) -> Enlarged:
    title = min(_titles(sheet.marks.words), key=lambda t: away(t[0].middle, _foot(there)), default=None)
    if title is None:
        raise UnreadableError(f"a circle at {there.centre} has no title")
    letters = [w for w in views.words if w.text == title[1] and abs(w.height - title[0].height) < 0.01]
    if not letters:
        raise UnreadableError(f"detail {title[1]} is nowhere in the views")
    pairs = [
        (away(w.middle, ring.centre), n, ring) for n, ring in enumerate(break_circles(views.rings)) for w in letters
    ]
    if not pairs:
        raise UnreadableError(f"no circle in a view belongs to detail {title[1]}")
    return Enlarged(title[1], min(pairs)[2], there, title[2], sheet)


def unlike(details: Sequence[Enlarged], first: Paper) -> list[str]:
    """Say which circles of the views have no detail, and which details show something else than the views have."""
    letters = [one.letter for one in details]
    doubts = [f"detail {letter} comes twice" for letter in set(letters) if letters.count(letter) > 1]
    lone = [ring for ring in break_circles(first.marks.rings) if all(one.here is not ring for one in details)]
    doubts += [f"the circle at {ring.centre} has no detail" for ring in lone]
    for one in details:
        seen = [(r.centre, r.radius) for r in first.views.rings if _is_edge(r) and _whole_in(r, one.here)]
        rings = [r for r in one.sheet.views.rings if _is_edge(r) and _whole_in(r, one.there)]
        drawn = [(one.on_plan(r.centre), r.radius / one.ratio) for r in rings]
        doubts += [f"detail {one.letter} lacks the circle at {at}" for at, r in seen if not _among(at, r, drawn)]
        doubts += [f"detail {one.letter} has a circle not at {at}" for at, r in drawn if not _among(at, r, seen)]
    return doubts


def _among(at: Point, radius: float, circles: Iterable[tuple[Point, float]]) -> bool:
    return any(away(at, centre) < AT and abs(radius - r) < AT for centre, r in circles)


def _is_edge(ring: Ring) -> bool:
    return ring.layer in ("OUTLINE", "HIDDEN") and ring.end - ring.start >= 360.0


def _whole_in(ring: Ring, circle: Ring) -> bool:
    return away(ring.centre, circle.centre) + ring.radius <= circle.radius


def has_tags(one: Enlarged, tags: Sequence[Words]) -> bool:
    """Whether holes have their tags in a detail; else it only shows what one of them looks like."""
    return any(one.shows(tag.middle) for tag in tags)


def tags_in(one: Enlarged, tags: Sequence[Words], plan: Sequence[Spot]) -> tuple[dict[str, Spot], list[str]]:
    """Say which hole of the plan each tag in a detail belongs to, and what is in doubt about that."""
    spots = [spot for spot in spots_of(one.sheet.views) if one.shows(spot.middle)]
    leaders = [path for path in one.sheet.marks.paths if path.layer == "NOTE" and not path.closed]
    found, doubts = match_tags([tag for tag in tags if one.shows(tag.middle)], leaders, spots)
    places: dict[str, Spot] = {}
    for tag, spot in found.items():
        at = one.on_plan(spot.middle)
        same = min(plan, key=lambda other: away(other.middle, at))
        if away(same.middle, at) > AT:
            doubts.append(f"detail {one.letter} shows a hole {tag} that the plan does not have there")
        places[tag] = same
    return places, doubts


def _foot(ring: Ring) -> Point:
    return ring.centre[0], ring.centre[1] - ring.radius


def _titles(words: Sequence[Words]) -> list[tuple[Words, str, float]]:
    found = [(one, TITLE.fullmatch(one.text)) for one in words]
    return [(one, m[1] or m[4], float(m[2] or m[5]) / float(m[3] or m[6])) for one, m in found if m]
