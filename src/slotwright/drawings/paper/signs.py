"""The signs of the trade that common fonts lack, as lines.

The lettering font is cut with them, and a DXF file draws them, since a CAD program letters with its own fonts. Shapes
by ISO 1101 and ASME Y14.5; the sizes, in heights of the capitals, are our own choice near theirs.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import cos, hypot, radians, sin, tan

from slotwright.drawings.paper.sheet import Anchor, Circle, Fill, Line, Mark, Point, Stroke, Text

MARGIN = 0.15  # clear space on either side of a sign
DIAMETER = "⌀"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sign:
    """One sign; the unit is the height of the capitals, (0, 0) the left end of the baseline, margins not counted.

    Attributes:
        width: from the left to the right end.
        paths: open polylines.
        rings: circles, centre and radius.
        fills: filled polygons.
        letter: a capital in the middle of the ring, or "".
    """

    width: float
    paths: tuple[tuple[Point, ...], ...] = ()
    rings: tuple[tuple[Point, float], ...] = ()
    fills: tuple[tuple[Point, ...], ...] = ()
    letter: str = ""


LETTER_HEIGHT = 0.75  # of a capital in a ring


@cache
def signs() -> dict[str, Sign]:
    """Return the signs by their characters."""
    return {
        DIAMETER: Sign(width=1.0, paths=(_through((0.5, 0.5), 0.7, 60.0),), rings=(((0.5, 0.5), 0.45),)),
        "□": Sign(width=1.0, paths=(((0.05, 0.05), (0.95, 0.05), (0.95, 0.95), (0.05, 0.95), (0.05, 0.05)),)),
        "⌴": Sign(width=1.8, paths=(((0.05, 0.95), (0.05, 0.05), (1.75, 0.05), (1.75, 0.95)),)),
        "⌵": Sign(width=1.86, paths=(((0.05, 0.95), (0.93, 0.07), (1.81, 0.95)),)),
        "↧": Sign(
            width=1.0,
            paths=(((0.05, 0.95), (0.95, 0.95)), ((0.5, 0.95), (0.5, 0.45))),
            fills=(((0.2, 0.5), (0.8, 0.5), (0.5, 0.0)),),
        ),
        "⌖": Sign(
            width=1.5,
            paths=(((0.05, 0.5), (1.45, 0.5)), ((0.75, -0.2), (0.75, 1.2))),
            rings=(((0.75, 0.5), 0.45),),
        ),
        "⏤": Sign(width=1.5, paths=(((0.05, 0.5), (1.45, 0.5)),)),
        "⌒": Sign(width=1.6, paths=(_half_circle(),)),
        "⌓": Sign(width=1.6, paths=((*_half_circle(), _half_circle()[0]),)),
        "⌭": Sign(width=1.6, paths=(_leaning(0.07, 0.96), _leaning(0.95, 0.96)), rings=(((0.8, 0.5), 0.38),)),
        "⫽": Sign(width=1.15, paths=(_leaning(0.1, 0.9), _leaning(0.5, 0.9))),
        "⟂": Sign(width=1.5, paths=(((0.05, 0.05), (1.45, 0.05)), ((0.75, 0.05), (0.75, 0.95)))),
        "⌯": Sign(
            width=1.5,
            paths=(((0.05, 0.5), (1.45, 0.5)), ((0.35, 0.15), (1.15, 0.15)), ((0.35, 0.85), (1.15, 0.85))),
        ),
        "⌲": Sign(
            width=1.75,
            paths=(
                ((0.05, 0.5), (0.4, 0.5), (0.4, 0.95), (1.4, 0.5), (0.4, 0.05), (0.4, 0.5)),
                ((1.4, 0.5), (1.7, 0.5)),
            ),
        ),
        "⌳": Sign(width=1.5, paths=(((1.45, 0.05), (0.05, 0.05), (0.05, 0.85), (1.45, 0.05)),)),
        "⌰": _total_runout(),
        **{char: Sign(width=1.5, rings=(((0.75, 0.5), 0.7),), letter=letter) for char, letter in _RINGED.items()},
    }


@cache
def drawn_in_cad() -> frozenset[str]:
    """Return the signs that a DXF file draws; for the diameter sign it has a code that every program knows."""
    return frozenset(signs()) - {DIAMETER}


def block_of(char: str) -> str:
    """Name the block that draws a sign in a DXF file, such as "SIGN-2316"; the number is the character's (Unicode)."""
    return f"SIGN-{ord(char):04X}"


_RINGED = {"Ⓔ": "E", "Ⓕ": "F", "Ⓛ": "L", "Ⓜ": "M", "Ⓟ": "P", "Ⓢ": "S", "Ⓣ": "T", "Ⓤ": "U"}


def _through(centre: Point, reach: float, angle: float) -> tuple[Point, Point]:
    """A line through a point, reaching as far to either side."""
    x, y = reach * cos(radians(angle)), reach * sin(radians(angle))
    return (centre[0] - x, centre[1] - y), (centre[0] + x, centre[1] + y)


def _half_circle() -> tuple[Point, ...]:
    return tuple((0.8 + 0.75 * cos(radians(a)), 0.15 + 0.75 * sin(radians(a))) for a in range(0, 181, 10))


def _leaning(foot: float, height: float) -> tuple[Point, Point]:
    """A line at 60 degrees, as far above the middle of the capitals as below."""
    low = (1.0 - height) / 2.0
    return (foot, low), (foot + height / tan(radians(60.0)), low + height)


def _total_runout() -> Sign:
    """Two arrows on a common base."""
    long = hypot(0.6, 0.95)
    along = (0.6 / long, 0.95 / long)
    shafts, heads = [], []
    for foot in (0.1, 0.9):
        tip = (foot + 0.6, 1.0)
        back = (tip[0] - 0.45 * along[0], tip[1] - 0.45 * along[1])
        shafts.append(((foot, 0.05), (tip[0] - 0.3 * along[0], tip[1] - 0.3 * along[1])))
        sides = [(back[0] - s * along[1], back[1] + s * along[0]) for s in (0.14, -0.14)]
        heads.append((tip, *sides))
    return Sign(width=1.6, paths=(((0.1, 0.05), (0.9, 0.05)), *shafts), fills=tuple(heads))


def marks_of(sign: Sign) -> tuple[Mark, ...]:
    """Return a sign as marks, the height of the capitals being 1."""
    marks: list[Mark] = [Stroke(path, Line.NOTE) for path in sign.paths]
    marks += [Circle(centre, radius, Line.NOTE) for centre, radius in sign.rings]
    marks += [Fill(fill, Line.NOTE) for fill in sign.fills]
    if sign.letter:
        marks.append(Text(sign.rings[0][0], sign.letter, LETTER_HEIGHT, Anchor.CENTRE, 0.0, True))
    return tuple(marks)
