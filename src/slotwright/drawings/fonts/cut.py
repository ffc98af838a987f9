"""Cut the lettering font out of DejaVu Sans Condensed and draw the symbols of the trade that it lacks.

Not used when drawings are made: run it by hand (``python -m slotwright.drawings.fonts.cut DejaVuSansCondensed.ttf``)
when the choice of characters changes. The same source font gives the same bytes.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from itertools import pairwise
from math import atan2, cos, hypot, pi, radians, sin, tan
from pathlib import Path

from fontTools.misc.transform import Transform  # type: ignore[import-untyped]  # has no types
from fontTools.pens.transformPen import TransformPen  # type: ignore[import-untyped]  # has no types
from fontTools.pens.ttGlyphPen import TTGlyphPen  # type: ignore[import-untyped]  # has no types
from fontTools.subset import Options, Subsetter  # type: ignore[import-untyped]  # has no types
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]  # has no types

CAPITALS = 1493  # height of a capital H in the source font's units (2048 a em)
PEN = CAPITALS / 10  # line width of lettering, ISO 3098-1 type B
MARGIN = 0.15  # clear space on either side of a symbol, capitals' height
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

Point = tuple[float, float]


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


def _diameter(nib: Nib) -> float:
    nib.ring((0.5, 0.5), 0.45)
    reach = 0.7
    x, y = reach * cos(radians(60)), reach * sin(radians(60))
    nib.line((0.5 - x, 0.5 - y), (0.5 + x, 0.5 + y))
    return 1.0


def _square(nib: Nib) -> float:
    nib.path((0.05, 0.05), (0.95, 0.05), (0.95, 0.95), (0.05, 0.95), (0.05, 0.05))
    return 1.0


def _counterbore(nib: Nib) -> float:
    nib.path((0.05, 0.95), (0.05, 0.05), (1.75, 0.05), (1.75, 0.95))
    return 1.8


def _countersink(nib: Nib) -> float:
    nib.path((0.05, 0.95), (0.93, 0.07), (1.81, 0.95))
    return 1.86


def _depth(nib: Nib) -> float:
    nib.line((0.05, 0.95), (0.95, 0.95))
    nib.line((0.5, 0.95), (0.5, 0.45))
    nib.polygon((0.2, 0.5), (0.8, 0.5), (0.5, 0.0))
    return 1.0


def _position(nib: Nib) -> float:
    nib.ring((0.75, 0.5), 0.45)
    nib.line((0.05, 0.5), (1.45, 0.5))
    nib.line((0.75, -0.2), (0.75, 1.2))
    return 1.5


def _straightness(nib: Nib) -> float:
    nib.line((0.05, 0.5), (1.45, 0.5))
    return 1.5


def _surface_profile(nib: Nib) -> float:
    arc = [(0.8 + 0.75 * cos(radians(a)), 0.15 + 0.75 * sin(radians(a))) for a in range(0, 181, 10)]
    nib.path(*arc, arc[0])
    return 1.6


def _line_profile(nib: Nib) -> float:
    nib.path(*[(0.8 + 0.75 * cos(radians(a)), 0.15 + 0.75 * sin(radians(a))) for a in range(0, 181, 10)])
    return 1.6


def _cylindricity(nib: Nib) -> float:
    nib.ring((0.8, 0.5), 0.38)
    lean = 1.0 / tan(radians(60))
    for foot in (0.07, 0.95):
        nib.line((foot, 0.02), (foot + 0.96 * lean, 0.98))
    return 1.6


def _parallelism(nib: Nib) -> float:
    for foot in (0.1, 0.5):
        nib.line((foot, 0.05), (foot + 0.9 / tan(radians(60)), 0.95))
    return 1.15


def _perpendicularity(nib: Nib) -> float:
    nib.line((0.05, 0.05), (1.45, 0.05))
    nib.line((0.75, 0.05), (0.75, 0.95))
    return 1.5


def _symmetry(nib: Nib) -> float:
    nib.line((0.05, 0.5), (1.45, 0.5))
    for y in (0.15, 0.85):
        nib.line((0.35, y), (1.15, y))
    return 1.5


def _taper(nib: Nib) -> float:
    nib.path((0.05, 0.5), (0.4, 0.5), (0.4, 0.95), (1.4, 0.5), (0.4, 0.05), (0.4, 0.5))
    nib.line((1.4, 0.5), (1.7, 0.5))
    return 1.75


def _slope(nib: Nib) -> float:
    nib.path((1.45, 0.05), (0.05, 0.05), (0.05, 0.85), (1.45, 0.05))
    return 1.5


def _total_runout(nib: Nib) -> float:
    nib.line((0.1, 0.05), (0.9, 0.05))
    for foot in (0.1, 0.9):
        tip = (foot + 0.6, 1.0)
        way = hypot(0.6, 0.95)
        along, across = (0.6 / way, 0.95 / way), (-0.95 / way, 0.6 / way)
        nib.line((foot, 0.05), (tip[0] - 0.3 * along[0], tip[1] - 0.3 * along[1]))
        left = (tip[0] - 0.45 * along[0] + 0.14 * across[0], tip[1] - 0.45 * along[1] + 0.14 * across[1])
        right = (tip[0] - 0.45 * along[0] - 0.14 * across[0], tip[1] - 0.45 * along[1] - 0.14 * across[1])
        nib.polygon(tip, left, right)
    return 1.6


# Shapes by ISO 1101 and ASME Y14.5; the sizes in heights of the capitals are our own choice near theirs.
SYMBOLS: dict[str, Callable[[Nib], float]] = {
    "⌀": _diameter,
    "□": _square,
    "⌴": _counterbore,
    "⌵": _countersink,
    "↧": _depth,
    "⌖": _position,
    "⏤": _straightness,
    "⌒": _line_profile,
    "⌓": _surface_profile,
    "⌭": _cylindricity,
    "⫽": _parallelism,
    "⟂": _perpendicularity,
    "⌯": _symmetry,
    "⌲": _taper,
    "⌳": _slope,
    "⌰": _total_runout,
}
RINGED = {"Ⓔ": "E", "Ⓕ": "F", "Ⓛ": "L", "Ⓜ": "M", "Ⓟ": "P", "Ⓢ": "S", "Ⓣ": "T", "Ⓤ": "U"}


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


def _ringed(font: TTFont, letter: str) -> Nib:
    """A capital in a circle: the modifiers of a tolerance frame."""
    nib, name = Nib(), font.getBestCmap()[ord(letter)]
    nib.ring((0.75, 0.5), 0.7)
    scale = 0.75
    middle = font["hmtx"][name][0] / 2 * scale
    placing = Transform(scale, 0, 0, scale, 0.75 * CAPITALS - middle, (0.5 - scale / 2) * CAPITALS)
    font.getGlyphSet()[name].draw(TransformPen(nib.pen, placing))
    return nib


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
    for char, draw in SYMBOLS.items():
        nib = Nib()
        _add(font, char, nib.pen, draw(nib))
    for char, letter in RINGED.items():
        _add(font, char, _ringed(font, letter).pen, 1.5)
    for record in font["name"].names:
        record.string = {1: FAMILY, 4: FAMILY, 6: FAMILY.replace(" ", "")}.get(record.nameID, record.toUnicode())
    return font


def main() -> None:
    """Write the font beside this file."""
    font = cut(Path(sys.argv[1]))
    font.save(Path(__file__).with_name("lettering.ttf"), reorderTables=True)


if __name__ == "__main__":
    main()
