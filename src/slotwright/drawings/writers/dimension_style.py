"""The variables of a DXF dimension style: every one is set, so that no program's default decides what a shop reads."""

from __future__ import annotations

from fractions import Fraction
from math import radians

from slotwright.drawings.paper.style import Style

BYBLOCK = 0
BYBLOCK_WIDTH = -2
ANGLE_PLACES = 1


def name_of(scale: float) -> str:
    """Name the dimension style of a scale, such as "SHOP-1-2" for 1:2."""
    ratio = Fraction(scale).limit_denominator(1000)
    return f"SHOP-{ratio.numerator}-{ratio.denominator}"


def variables(style: Style, scale: float) -> dict[str, str | int | float]:
    """Return all dimension variables of DXF R2018 by their lower-case names.

    Lengths are in the drawing's unit on paper; `dimscale` takes them to model space, where dimensions live.

    Args:
        style: heights, gaps and figures.
        scale: paper mm a model mm of the views that are dimensioned.
    """
    return {
        **_measuring(style),
        **_lettering(style),
        **_lines(style),
        **_unused(),
        "dimscale": 1.0 / scale,
    }


def _measuring(style: Style) -> dict[str, str | int | float]:
    """What is written: measured length times 1, in decimals."""
    inch = style.unit == "in"
    zeros = 4 if inch else 8  # 4 leaves out leading zeros, 8 trailing ones
    return {
        "dimlfac": 1.0,  # 10 mm reads 10
        "dimrnd": 0.0,
        "dimlunit": 2,  # decimal
        "dimdec": style.places,
        "dimdsep": ord(style.decimal),
        "dimzin": zeros,
        "dimpost": "",
        "dimaunit": 0,  # decimal degrees
        "dimadec": ANGLE_PLACES,
        "dimazin": 2,  # without trailing zeros
        "dimfrac": 0,
        "dimtol": 0,
        "dimlim": 0,
        "dimtp": 0.0,
        "dimtm": 0.0,
        "dimtdec": style.places,
        "dimtzin": zeros,
        "dimtolj": 1,
        "dimtfac": 1.0,
    }


def _lettering(style: Style) -> dict[str, str | int | float]:
    """How and where the text stands."""
    unit = style.unit_length
    horizontal = 0 if style.text_above else 1
    return {
        "dimtxt": style.text / unit,
        "dimgap": style.text_gap / unit,
        "dimtad": 1 if style.text_above else 0,
        "dimtih": horizontal,
        "dimtoh": horizontal,
        "dimtvp": 0.0,
        "dimjust": 0,
        "dimtix": 0,
        "dimtmove": 0,
        "dimatfit": 3,
        "dimupt": 0,
        "dimtfill": 0,
        "dimtfillclr": BYBLOCK,
        "dimclrt": BYBLOCK,
    }


def _lines(style: Style) -> dict[str, str | int | float]:
    """Dimension lines, extension lines and arrowheads."""
    unit = style.unit_length
    return {
        "dimasz": style.arrow / unit,
        "dimtsz": 0.0,  # arrows, no ticks
        "dimblk": "",  # closed, filled
        "dimblk1": "",
        "dimblk2": "",
        "dimldrblk": "",
        "dimsah": 0,
        "dimexo": style.extension_gap / unit,
        "dimexe": style.extension_overrun / unit,
        "dimdli": style.next_offset / unit,
        "dimdle": 0.0,
        "dimcen": 0.0,  # centre lines are drawn as geometry
        "dimse1": 0,
        "dimse2": 0,
        "dimsd1": 0,
        "dimsd2": 0,
        "dimsoxd": 0,
        "dimtofl": 1,
        "dimfxlon": 0,
        "dimfxl": 1.0,
        "dimclrd": BYBLOCK,
        "dimclre": BYBLOCK,
        "dimlwd": BYBLOCK_WIDTH,
        "dimlwe": BYBLOCK_WIDTH,
        "dimltype": "ByBlock",
        "dimltex1": "ByBlock",
        "dimltex2": "ByBlock",
        "dimjogang": radians(45.0),
        "dimarcsym": 0,
    }


def _unused() -> dict[str, str | int | float]:
    """Alternate units, which are off."""
    return {
        "dimalt": 0,
        "dimaltf": 25.4,
        "dimaltd": 2,
        "dimaltrnd": 0.0,
        "dimaltu": 2,
        "dimaltz": 0,
        "dimalttd": 2,
        "dimalttz": 0,
        "dimapost": "",
    }
