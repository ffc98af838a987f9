"""Enlarged details: what would be too small to read in a view is drawn again, larger, in a circle of its own.

The circle stands on the view with a letter; the detail repeats the letter with its scale (ISO 128-3, ASME Y14.3, from
memory). Holes whose tags the view has no room for have them in the detail; where many holes are alike, the detail shows
one of them and says which it stands for.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import cos, hypot, radians, sin, sqrt
from typing import TypeAlias

from slotwright.drawings.clipping import inside_circle
from slotwright.drawings.hole_tags import place_tags
from slotwright.drawings.paper.crossing import tight_box
from slotwright.drawings.paper.formats import preferred_scales, scale_text
from slotwright.drawings.paper.placing import Register, marks_box, text_box
from slotwright.drawings.paper.sheet import Anchor, Arc, Circle, Line, Mark, Point, Stroke, Text, View
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.view_group import ViewGroup, drawn
from slotwright.pieces.hole_groups import TaggedHole, tagged_holes
from slotwright.pieces.piece import Piece

LEAST = 3.0  # mm on paper; anything smaller is enlarged
LETTERS = "DEFGHJKLMNPRSTUVW"  # A is the section's, A to C are the datums', X to Z the axes'; I, O, Q are misread
MOST = 10  # details on a sheet; our choice
EASY = 5.0  # of the smallest in a detail, mm on paper; our choice
LARGEST = 40.0  # radius of a detail, mm on paper; our choice
SMALLEST, BIG = 9.0, 18.0  # the same, where it need not be larger, and where it would better be smaller; our choice
LEAST_CIRCLE = 3.0  # radius of its circle on the view, mm on paper; our choice
LETTER = 5.0  # height of a detail's letter, mm; our choice
LETTER_CLEAR = 1.0  # paper round the letter, mm; our choice
LETTER_NEARER = 2.0  # by which a letter is nearer to the middle of its own circle than to that of another; our choice
NEAR, FAR = (1.5, 4.0, 8.0), (12.0, 17.0, 23.0, 30.0)  # from its circle, without and with a leader, mm; our choice
AROUND = (0.0, 180.0, 45.0, 135.0, -45.0, -135.0, 65.0, 115.0, -65.0, -115.0, 90.0, -90.0)
UNDER = 3.0  # paper between a detail and its title, mm; our choice
APART = 1.2  # between the centres of two circles, in the sum of their radii; our choice

_Letter: TypeAlias = tuple[Text] | tuple[Text, Stroke]


@dataclass(frozen=True, slots=True)
class Detail:
    """One enlarged detail.

    Attributes:
        letter: that names it.
        centre, radius: of its circle, in the coordinates of the view that has it.
        scale: paper over model.
        holes: those that have their tags in it.
        stands_for: what is alike and not drawn again, such as "TYPICAL OF A1 - A4", or "".
    """

    letter: str
    centre: Point
    radius: float
    scale: float
    holes: tuple[TaggedHole, ...] = ()
    stands_for: str = ""

    def meets(self, other: Detail) -> bool:
        """Say whether the circles of two details on one view come too near to each other."""
        (x, y), (u, v) = self.centre, other.centre
        return hypot(x - u, y - v) < APART * (self.radius + other.radius)


def free_letters(piece: Piece) -> tuple[str, ...]:
    """Return the letters of details: those that no tag of a hole begins with, doubled ones after all others."""
    taken = {one.tag.rstrip("0123456789") for one in tagged_holes(piece)}
    every = (*LETTERS, *(2 * letter for letter in LETTERS))
    return tuple(letter for letter in every if letter not in taken)[:MOST]


def scales_for(size: float, scale: float, style: Style, least: float = EASY) -> Iterator[float]:
    """Yield preferred scales at which a size is so large on paper, the smallest first; all larger than a view's own."""
    return (larger for larger in sorted(preferred_scales(style)) if larger > scale and larger * size >= least)


def circles_on_view(view: View, details: Sequence[Detail], taken: Register) -> tuple[list[Mark], bool]:
    """Return the circles around what is enlarged, each with its letter, and whether all letters found a free place.

    All in paper coordinates; the register takes them in.
    """
    circles = [Circle(view.to_paper(one.centre), one.radius * view.scale, Line.BREAK) for one in details]
    for detail, circle in zip(details, circles, strict=True):
        # No leader runs over a circle whose holes are tagged elsewhere, but one may lead out of any other.
        taken.add([circle if detail.holes else Arc(circle.centre, circle.radius, 0.0, 360.0, circle.line)])
    marks: list[Mark] = [*circles]
    complete = True
    for detail, circle in zip(details, circles, strict=True):
        letters = list(_letters(detail.letter, circle.centre, circle.radius))
        free = (one for one in letters if _is_free(one, taken) and _beside(one[0].at, circle.centre, circles))
        lettered = next(free, None)
        complete = complete and lettered is not None
        marks += lettered or letters[0]
        taken.add(lettered or letters[0])
    return marks, complete


def has_room_for_letter(centre: Point, radius: float, taken: Register) -> bool:
    """Say whether there is room for a letter beside a circle, paper."""
    return any(_is_free(one, taken) for one in _letters(LETTERS[0], centre, radius))


def _is_free(letter: _Letter, taken: Register) -> bool:
    text, *leaders = letter
    return taken.free(text_box(text).grown(LETTER_CLEAR)) and all(
        taken.passable(*one.points, within_circles=True) for one in leaders
    )


def _beside(at: Point, own: Point, circles: Sequence[Circle]) -> bool:
    """Say whether a letter is plainly nearer to its own circle than to the others."""
    near = hypot(at[0] - own[0], at[1] - own[1]) + LETTER_NEARER
    return all(c.centre == own or hypot(at[0] - c.centre[0], at[1] - c.centre[1]) >= near for c in circles)


def _letters(letter: str, at: Point, radius: float) -> Iterator[_Letter]:
    """Yield places for the letter round a circle, the nearest first; farther ones have a leader."""
    half = LETTER / 2.0
    for far in (*NEAR, *FAR):
        for turn in AROUND:
            c, s = cos(radians(turn)), sin(radians(turn))
            out = radius + far + half
            text = Text((at[0] + out * c, at[1] + out * s), letter, LETTER, Anchor.CENTRE, 0.0, True)
            if far in NEAR:
                yield (text,)
            else:
                ends = [(at[0] + r * c, at[1] + r * s) for r in (radius, out - sqrt(2.0) * half - LETTER_CLEAR)]
                yield text, Stroke((ends[0], ends[1]), Line.NOTE)


def detail_group(detail: Detail, seen: Iterable[Mark], style: Style) -> ViewGroup:
    """Return one detail with its tags and title, its centre at paper (0, 0).

    Args:
        detail: what is enlarged.
        seen: marks of the view that has its circle, as that view would show them at the detail's scale.
        style: of tags and title.
    """
    (x, y), scale = detail.centre, detail.scale
    circle = Circle(detail.centre, detail.radius, Line.BREAK)
    view = View(
        name=f"detail {detail.letter}",
        origin=(-x * scale, -y * scale),
        scale=scale,
        marks=(circle, *inside_circle(seen, detail.centre, detail.radius)),
    )
    marks: list[Mark] = []
    taken = Register()
    taken.add(drawn((view,)))
    tags, tagged = place_tags(view, detail.holes, taken, style)
    marks += tags
    marks += _title(detail, min([-detail.radius * scale, *(marks_box([m]).y0 for m in tags)]) - UNDER, style)
    shown = drawn((view,), marks)
    return ViewGroup(views=(view,), marks=tuple(marks), box=tight_box(shown), complete=tagged, tagged=tagged)


def _title(detail: Detail, top: float, style: Style) -> Iterator[Text]:
    words = f"{detail.letter} ({scale_text(detail.scale)})"
    if style.name == "asme":
        words = f"DETAIL {detail.letter}  SCALE {scale_text(detail.scale)}"
    yield Text((0.0, top - LETTER), words, LETTER, Anchor.CENTRE)
    if detail.stands_for:
        yield Text((0.0, top - LETTER - UNDER - style.text), detail.stands_for, style.text, Anchor.CENTRE)
