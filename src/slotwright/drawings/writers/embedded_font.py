"""The letters that one picture needs, cut out of the lettering font as a TrueType font of their own.

Browsers take it from a data URI, so a picture reads the same wherever it is shown.
"""

from __future__ import annotations

from base64 import b64encode
from functools import cache
from io import BytesIO

from slotwright.drawings.paper import lettering

WINDOWS = 3
"""The platform whose table of characters every browser reads (ISO/IEC 14496-22); others would only repeat it."""


def data_uri(characters: frozenset[str]) -> str:
    """Return a font with these characters as a data URI; those the lettering font lacks are left out."""
    return "data:font/ttf;base64," + b64encode(font_of(characters)).decode("ascii")


@cache
def font_of(characters: frozenset[str]) -> bytes:
    """Return a TrueType font with these characters; equal ones give equal bytes."""
    from fontTools.subset import Options, Subsetter  # loaded where something is lettered, not at start-up
    from fontTools.ttLib import TTFont

    with TTFont(BytesIO(lettering.font_bytes()), recalcTimestamp=False) as font:
        font["cmap"].tables = [
            table for table in font["cmap"].tables if table.isUnicode() and table.platformID == WINDOWS
        ]
        cutter = Subsetter(Options(layout_features=[], hinting=False, notdef_outline=True))
        cutter.populate(unicodes=sorted(map(ord, characters)))
        cutter.subset(font)
        cut = BytesIO()
        font.save(cut)
    return cut.getvalue()
