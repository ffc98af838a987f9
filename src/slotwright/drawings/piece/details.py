"""Enlarged details: what would be too small to read in the plan is drawn again, larger, in a circle of its own.

The circle stands on the plan with a letter; the detail repeats the letter with its scale (ISO 128-3, ASME Y14.3, from
memory). Holes in it have their tags there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import cos, hypot, radians, sin, sqrt
from typing import TypeAlias

from slotwright.drawings.hole_tags import place_tags
from slotwright.drawings.paper.formats import preferred_scales, scale_text
from slotwright.drawings.paper.placing import Register, marks_box, text_box
from slotwright.drawings.paper.revision_signs import tag_size
from slotwright.drawings.paper.sheet import Anchor, Circle, Line, Mark, Point, Stroke, Text, View
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.view_group import ViewGroup, drawn
from slotwright.drawings.views import centre_mark, hole_from_above, reach, rim_shows
from slotwright.pieces.features import Hole
from slotwright.pieces.hole_groups import TaggedHole, tagged_holes
from slotwright.pieces.piece import Piece

LEAST_HOLE = 3.0  # mm on paper; anything smaller is enlarged
LETTERS = "DEFGH"  # A is the section's, A to C are the datums'
LETTER = 5.0  # height of a detail's letter, mm; our choice
LETTER_CLEAR = 1.0  # paper round the letter, mm; our choice
LETTER_NEARER = 2.0  # by which a letter is nearer to the middle of its own circle than to that of another; our choice
CLOSE = 10.0  # holes that stand nearer than this on the plan's paper share a detail, mm; our choice
MOST_SMALL = 40  # small holes that details may show; our choice
EASY = 5.0  # of the smallest hole in a detail, mm on paper; our choice
LARGEST = 40.0  # radius of a detail, mm on paper; our choice
LEAST_CIRCLE = 3.0  # radius of its circle on the plan, mm on paper; our choice
TAG_ROOM = 4.0  # between hole and circle beyond the length of a tag, mm on paper; our choice

_Tagged: TypeAlias = Sequence[TaggedHole]


@dataclass(frozen=True, slots=True)
class Detail:
    """One enlarged detail.

    Attributes:
        letter: that names it.
        centre, radius: of its circle, model.
        scale: paper over model.
        holes: all that are drawn in it.
    """

    letter: str
    centre: Point
    radius: float
    scale: float
    holes: tuple[TaggedHole, ...]


def details_of(piece: Piece, scale: float, style: Style, below: float = LEAST_HOLE) -> tuple[Detail, ...] | None:
    """Return the details a plan at a scale needs, from left to right; None where details can't show all.

    Args:
        piece: its holes are drawn from above.
        scale: of the plan, paper over model.
        style: gives the preferred scales.
        below: diameter of the largest hole that needs no detail, mm on paper.
    """
    tagged = tagged_holes(piece)
    small = [one for one in tagged if one.hole.diameter * scale < below]
    clusters = _clusters(small, CLOSE / scale) if len(small) <= MOST_SMALL else []
    if len(small) > MOST_SMALL or len(clusters) > len(LETTERS):
        return None
    found: list[Detail] = []
    for letter, cluster in zip(LETTERS, clusters, strict=False):
        detail = _detail(letter, cluster, tagged, scale, style)
        if detail is None or any(_meet(detail, other) for other in found):
            return None
        found.append(detail)
    return tuple(found)


def _clusters(small: Sequence[TaggedHole], near: float) -> list[list[TaggedHole]]:
    """Group holes that stand near each other, from left to right."""
    clusters: list[list[TaggedHole]] = []
    for one in sorted(small, key=lambda t: (t.hole.x, t.hole.y)):
        joined = [c for c in clusters if any(_apart(one.hole, other.hole) < near for other in c)]
        clusters = [c for c in clusters if c not in joined]
        clusters.append([*(other for c in joined for other in c), one])
    return sorted(clusters, key=lambda c: min(t.hole.x for t in c))


def _apart(a: Hole, b: Hole) -> float:
    return hypot(a.x - b.x, a.y - b.y) - max(reach(a)) - max(reach(b))


def _meet(a: Detail, b: Detail) -> bool:
    return hypot(a.centre[0] - b.centre[0], a.centre[1] - b.centre[1]) < 1.2 * (a.radius + b.radius)


def _detail(letter: str, cluster: _Tagged, tagged: _Tagged, scale: float, style: Style) -> Detail | None:
    xs, ys = [t.hole.x for t in cluster], [t.hole.y for t in cluster]
    centre = ((min(xs) + max(xs)) / 2.0, (min(ys) + max(ys)) / 2.0)
    least = min(t.hole.diameter for t in cluster)
    for larger in sorted(preferred_scales(style)):
        if larger * least >= EASY and larger > scale:
            radius, inside = _circle(centre, cluster, tagged, LEAST_CIRCLE / scale, larger, style)
            if larger * radius <= LARGEST:
                return Detail(letter, centre, radius, larger, tuple(inside))
    return None


def _circle(
    centre: Point,
    cluster: Sequence[TaggedHole],
    tagged: Sequence[TaggedHole],
    lowest: float,
    scale: float,
    style: Style,
) -> tuple[float, list[TaggedHole]]:
    """Return the radius of a circle that cuts no hole and has room for tags, and the holes in it."""
    inside = list(cluster)
    radius = 0.0
    for _ in tagged:  # each turn takes in what the circle would cut; it can't take in more than there is
        tags = max(tag_size(one, style.text)[0] for one in inside) + TAG_ROOM
        radius = max(max(_far(t.hole, centre) for t in inside) + tags / scale, lowest)
        inside = [t for t in tagged if _near(t.hole, centre) < radius]
        if all(_far(t.hole, centre) < radius for t in inside):
            break
    return radius, inside


def _far(hole: Hole, centre: Point) -> float:
    return hypot(hole.x - centre[0], hole.y - centre[1]) + max(reach(hole))


def _near(hole: Hole, centre: Point) -> float:
    return hypot(hole.x - centre[0], hole.y - centre[1]) - max(reach(hole))


def circles_on_plan(view: View, details: Sequence[Detail], taken: Register) -> list[Mark]:
    """Return the circles around what is enlarged, each with its letter where there is room, in paper coordinates.

    The register takes in both.
    """
    circles = [Circle(view.to_paper(one.centre), one.radius * view.scale, Line.BREAK) for one in details]
    taken.add(circles)
    marks: list[Mark] = [*circles]
    for detail, circle in zip(details, circles, strict=True):
        letters = list(_letters(detail.letter, circle.centre, circle.radius))
        free = (
            one
            for one in letters
            if taken.free(text_box(one).grown(LETTER_CLEAR)) and _beside(one.at, circle.centre, circles)
        )
        marks.append(next(free, letters[0]))
        taken.add(marks[-1:])
    return marks


def _beside(at: Point, own: Point, circles: Sequence[Circle]) -> bool:
    """Say whether a letter is plainly nearer to its own circle than to the others."""
    near = hypot(at[0] - own[0], at[1] - own[1]) + LETTER_NEARER
    return all(c.centre == own or hypot(at[0] - c.centre[0], at[1] - c.centre[1]) >= near for c in circles)


def _letters(letter: str, at: Point, radius: float) -> Iterator[Text]:
    """Yield places for the letter round a circle, the nearest first."""
    half = LETTER / 2.0
    for far in (1.5, 4.0, 8.0):
        for turn in (0.0, 180.0, 45.0, 135.0, -45.0, -135.0, 65.0, 115.0, -65.0, -115.0, 90.0, -90.0):
            c, s = cos(radians(turn)), sin(radians(turn))
            out = radius + far + half
            yield Text((at[0] + out * c, at[1] + out * s), letter, LETTER, Anchor.CENTRE, 0.0, True)


def detail_group(piece: Piece, detail: Detail, style: Style) -> ViewGroup:
    """Return one detail with its tags and title, its centre at paper (0, 0)."""
    (x, y), scale = detail.centre, detail.scale
    view = View(
        name=f"detail {detail.letter}",
        origin=(-x * scale, -y * scale),
        scale=scale,
        marks=tuple(_marks(piece, detail, style)),
    )
    radius = detail.radius * scale
    marks: list[Mark] = []
    taken = Register()
    taken.add(drawn((view,)))
    tags, tagged = place_tags(view, detail.holes, taken, style)
    marks += tags
    low = min([-radius, *(marks_box([m]).y0 for m in tags)])
    words = f"{detail.letter} ({scale_text(scale)})"
    if style.name == "asme":
        words = f"DETAIL {detail.letter}  SCALE {scale_text(scale)}"
    marks.append(Text((0.0, low - 3.0 - LETTER), words, LETTER, Anchor.CENTRE))
    shown = drawn((view,), marks)
    return ViewGroup(views=(view,), marks=tuple(marks), box=marks_box(shown), complete=tagged, tagged=tagged)


def _marks(piece: Piece, detail: Detail, style: Style) -> Iterator[Mark]:
    yield Circle(detail.centre, detail.radius, Line.BREAK)
    blank = piece.blank
    yield from _edges(0.0, 0.0, blank.length, blank.width, detail)
    if rim_shows(blank, detail.scale):
        c = blank.edge_chamfer
        yield from _edges(c, c, blank.length - c, blank.width - c, detail)
    for one in detail.holes:
        yield from hole_from_above(one.hole, style)
        yield from centre_mark((one.hole.x, one.hole.y), one.hole, detail.scale, style)


def _edges(x0: float, y0: float, x1: float, y1: float, detail: Detail) -> Iterator[Stroke]:
    """Yield what of a rectangle lies in the circle."""
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0))
    for a, b in pairwise(corners):
        span = _chord(a, b, detail.centre, detail.radius)
        if span is not None:
            yield Stroke(span, Line.OUTLINE)


def _chord(a: Point, b: Point, centre: Point, radius: float) -> tuple[Point, Point] | None:
    """Return the part of a straight line inside a circle."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    long = hypot(dx, dy)
    if not long:
        return None
    ux, uy = dx / long, dy / long
    along = (centre[0] - a[0]) * ux + (centre[1] - a[1]) * uy
    off = abs((centre[0] - a[0]) * uy - (centre[1] - a[1]) * ux)
    if off >= radius:
        return None
    half = sqrt(radius**2 - off**2)
    low, high = max(0.0, along - half), min(long, along + half)
    if high - low < 1e-9:
        return None
    return (a[0] + ux * low, a[1] + uy * low), (a[0] + ux * high, a[1] + uy * high)


def zones(details: Sequence[Detail], scale: float) -> Iterator[float]:
    """Yield places along X, closely, where no break may run: those the details' circles take up."""
    for detail in details:
        reach_out = detail.radius + 4.0 / scale
        count = int(2.0 * reach_out * scale / 8.0) + 2
        yield from (detail.centre[0] - reach_out + 2.0 * reach_out * n / count for n in range(count + 1))


def untagged(piece: Piece, details: Sequence[Detail]) -> tuple[TaggedHole, ...]:
    """Return the holes whose tags stand on the plan: all but those in details."""
    shown = {one.tag for detail in details for one in detail.holes}
    return tuple(one for one in tagged_holes(piece) if one.tag not in shown)
