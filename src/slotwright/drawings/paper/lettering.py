"""How wide a line of lettering is on paper, and what of it can be lettered at all.

One open font, cut from DejaVu Sans Condensed and shipped with the package, letters every drawing, so that a sheet
looks the same on a machine without any font. Heights are always those of the capitals, in mm on paper (ISO 3098-1).
"""

from __future__ import annotations

import unicodedata
from functools import cache
from importlib.resources import files

FAMILY = "Slotwright Lettering"
RELATIVES = ("DejaVu Sans Condensed", "DejaVu Sans", "Arial Narrow", "sans-serif")  # where the font itself is absent
CAD_FONT = "DejaVuSansCondensed.ttf"  # the file name that CAD programs look for
UNITS_PER_EM = 2048
CAPITALS = 1493  # height of a capital H, font units
EM = UNITS_PER_EM / CAPITALS  # size of the em for capitals 1 mm high, mm
UNKNOWN = "?"


def font_bytes() -> bytes:
    """Return the font file, TrueType."""
    return files("slotwright.drawings").joinpath("fonts", "lettering.ttf").read_bytes()


@cache
def _advances() -> dict[str, int]:
    """Advance width of every character the font has, font units."""
    from io import BytesIO

    # Costs some 40 ms, so only when something is lettered; the library has no type information.
    from fontTools.ttLib import TTFont

    with TTFont(BytesIO(font_bytes()), lazy=True) as font:
        widths = font["hmtx"].metrics
        return {chr(code): widths[glyph][0] for code, glyph in font.getBestCmap().items()}


@cache
def safe(text: str) -> str:
    """Return the text as it is lettered: one line, composed, without control and bidi characters.

    Runs of white space become one space and none is left at the ends; characters the font lacks become "?". Every
    writer and every measurement goes through here, so that what is measured is what is drawn.
    """
    advances = _advances()
    spaced = "".join(" " if char.isspace() else char for char in unicodedata.normalize("NFC", text))
    printing = (char for char in spaced if unicodedata.category(char) not in {"Cc", "Cf", "Cs"})
    single = " ".join("".join(printing).split())
    return "".join(char if char in advances else UNKNOWN for char in single)


def missing(text: str) -> set[str]:
    """Return the characters of a text that will be lettered as "?"."""
    composed = unicodedata.normalize("NFC", text)
    advances = _advances()
    return {
        char
        for char in composed
        if char not in advances and not char.isspace() and unicodedata.category(char) not in {"Cc", "Cf", "Cs"}
    }


def width(text: str, height: float) -> float:
    """Return how long a line of lettering is, mm on paper.

    Args:
        text: one line; it is measured as `safe` letters it.
        height: height of the capitals, mm on paper.
    """
    return advance(safe(text), height)


def advance(lettered: str, height: float) -> float:
    """Return how far a piece of an already safe line takes the pen, mm on paper; spaces at its ends count."""
    return _units(lettered) * height / CAPITALS


@cache
def reach(lettered: str) -> tuple[float, float]:
    """Return how low and how high the ink of an already safe line goes from its baseline, in heights of capitals."""
    heights = _heights()
    spans = [heights[char] for char in lettered if char in heights]
    return (min(low for low, _ in spans), max(high for _, high in spans)) if spans else (0.0, 0.0)


@cache
def _heights() -> dict[str, tuple[float, float]]:
    """Lowest and highest point of every character that has ink, in heights of capitals."""
    from io import BytesIO
    from struct import unpack_from

    from fontTools.ttLib import TTFont

    found = {}
    with TTFont(BytesIO(font_bytes()), lazy=True) as font:
        outlines, starts = font.getTableData("glyf"), font["loca"].locations
        for code, glyph in font.getBestCmap().items():
            number = font.getGlyphID(glyph)
            # Straight from the outlines' heads: to unpack the outlines themselves takes ten times as long.
            if starts[number] < starts[number + 1]:
                _, low, _, high = unpack_from(">4h", outlines, starts[number] + 2)
                found[chr(code)] = (low / CAPITALS, high / CAPITALS)
    return found


@cache
def _units(lettered: str) -> int:
    advances = _advances()
    return sum([advances[char] for char in lettered])
