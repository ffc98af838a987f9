"""Cut the lettering font out of DejaVu Sans Condensed and draw the symbols of the trade that it lacks.

Not used when drawings are made: run it by hand (``python -m slotwright.drawings.fonts.cut DejaVuSansCondensed.ttf``)
when the choice of characters changes. The same source font gives the same bytes.
"""

from __future__ import annotations

import sys
from itertools import pairwise
from math import atan2, cos, pi, sin
from pathlib import Path

from fontTools.misc.transform import Transform
from fontTools.pens.transformPen import TransformPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

from slotwright.drawings.paper.sheet import Point
from slotwright.drawings.paper.signs import LETTER_HEIGHT, MARGIN, Sign, signs

CAPITALS = 1493  # height of a capital H in the source font's units (2048 a em)
PEN = CAPITALS / 10  # line width of lettering, ISO 3098-1 type B
FAMILY = "Slotwright Lettering"

KEPT = (
    *range(0x20, 0x7F),
    *range(0xA0, 0xAD),
    *range(0xAE, 0x180),  # Latin-1 and Latin Extended-A, without the soft hyphen
    0x218, 0x219, 0x21A, 0x21B, 0x1E9E,
    *(code for code in range(0x384, 0x3CF) if code not in (0x38B, 0x38D, 0x3A2)),
    *range(0x400, 0x460), 0x490, 0x491,
    *map(ord, "‐‑‒–—―‖‘’‚“”„†•…‰′″⁄€№™Ω←↑→↓↔↕↗⅓⅔⅛⅜⅝⅞−√∞∠∥∦≈≠≡≤≥⊥⏥○◎●△▽▲▼◁▷◀▶■◇◆⊕⊗⁰¹²³⁴⁵⁶⁷⁸⁹"),
    *range(0x2460, 0x2469),
)  # fmt: skip


class Nib:
    """Draws in units of the capitals' height, (0, 0) at the left end of the baseline."""

    def __init__(self) -> None:
        """Start an empty glyph."""
        self.pen = TTGlyphPen(None)

    def polygon(self, *points: Point) -> None:
        """Fill a polygon, turned clockwise as TrueType wants its outsides."""
        area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1], strict=True))
        turned = points[::-1] if area > 0 else points
        placed = [(round(x * CAPITALS), round(y * CAPITALS)) for x, y in turned]
        self.pen.moveTo(placed[0])
        for point in placed[1:]:
            self.pen.lineTo(point)
        self.pen.closePath()

    def line(self, start: Point, end: Point) -> None:
        """Draw a line of the pen's width with square ends."""
        half = PEN / CAPITALS / 2
        way = atan2(end[1] - start[1], end[0] - start[0])
        along, across = (cos(way) * half, sin(way) * half), (-sin(way) * half, cos(way) * half)
        (ax, ay), (bx, by) = start, end
        self.polygon(
            (ax - along[0] - across[0], ay - along[1] - across[1]),
            (bx + along[0] - across[0], by + along[1] - across[1]),
            (bx + along[0] + across[0], by + along[1] + across[1]),
            (ax - along[0] + across[0], ay - along[1] + across[1]),
        )

    def path(self, *points: Point) -> None:
        """Draw lines from point to point."""
        for start, end in pairwise(points):
            self.line(start, end)

    def ring(self, centre: Point, radius: float) -> None:
        """Draw a circle whose middle line has this radius."""
        half = PEN / CAPITALS / 2
        self._circle(centre, radius + half, clockwise=True)
        self._circle(centre, radius - half, clockwise=False)

    def _circle(self, centre: Point, radius: float, *, clockwise: bool) -> None:
        turns = range(8, 0, -1) if clockwise else range(8)
        reach = radius / cos(pi / 8)  # control points of eight quadratic pieces
        points = [
            (
                round((centre[0] + reach * cos(t * pi / 4)) * CAPITALS),
                round((centre[1] + reach * sin(t * pi / 4)) * CAPITALS),
            )
            for t in turns
        ]
        self.pen.qCurveTo(*points, None)
        self.pen.closePath()


def _draw(nib: Nib, sign: Sign) -> None:
    for path in sign.paths:
        nib.path(*path)
    for centre, radius in sign.rings:
        nib.ring(centre, radius)
    for fill in sign.fills:
        nib.polygon(*fill)


def _add(font: TTFont, char: str, pen: TTGlyphPen, width: float) -> None:
    """Put one drawn glyph into the font; width in capitals' heights, margins not counted."""
    name, shift = f"uni{ord(char):04X}", round(MARGIN * CAPITALS)
    glyph = pen.glyph()
    glyph.coordinates.translate((shift, 0))
    glyph.recalcBounds(font["glyf"])
    font["glyf"][name] = glyph
    font["hmtx"][name] = (round((width + 2 * MARGIN) * CAPITALS), glyph.xMin)
    for table in font["cmap"].tables:
        table.cmap[ord(char)] = name


def _put_letter(font: TTFont, nib: Nib, sign: Sign) -> None:
    """Put a capital into the ring: the modifiers of a tolerance frame."""
    name = font.getBestCmap()[ord(sign.letter)]
    (x, y), _ = sign.rings[0]
    middle = font["hmtx"][name][0] / 2 * LETTER_HEIGHT
    left, low = x * CAPITALS - middle, (y - LETTER_HEIGHT / 2) * CAPITALS
    placing = Transform(LETTER_HEIGHT, 0, 0, LETTER_HEIGHT, left, low)
    font.getGlyphSet()[name].draw(TransformPen(nib.pen, placing))


def cut(source: Path) -> TTFont:
    """Return the lettering font made from the source font."""
    font = TTFont(source, recalcTimestamp=False)
    options = Options(
        hinting=False, layout_features=[], notdef_outline=True, glyph_names=False, name_IDs=[0, 1, 2, 4, 6]
    )
    options.drop_tables += ["FFTM", "GDEF", "GPOS", "GSUB", "MATH", "kern", "gasp"]
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=KEPT)
    subsetter.subset(font)
    for char, sign in signs().items():
        nib = Nib()
        _draw(nib, sign)
        if sign.letter:
            _put_letter(font, nib, sign)
        _add(font, char, nib.pen, sign.width)
    for record in font["name"].names:
        record.string = {1: FAMILY, 4: FAMILY, 6: FAMILY.replace(" ", "")}.get(record.nameID, record.toUnicode())
    return font


def main() -> None:
    """Write the font beside this file."""
    font = cut(Path(sys.argv[1]))
    font.save(Path(__file__).with_name("lettering.ttf"), reorderTables=True)


if __name__ == "__main__":
    main()
