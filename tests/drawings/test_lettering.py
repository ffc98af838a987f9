"""Lettering measured against the font file itself, read by other libraries."""

from __future__ import annotations

import subprocess
import sys
import unicodedata
from io import BytesIO

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st
from PIL import ImageFont

from slotwright.drawings.paper import lettering

SHOP_TEXT = "4× ⌀12.7 ↧25 ⌴⌀20 ±0.1 M12×1.75-6H (31-13/16)"


def test_capitals_have_the_height_that_is_asked_for() -> None:
    font = TTFont(BytesIO(lettering.font_bytes()))
    glyphs = font.getGlyphSet()
    pen = BoundsPen(glyphs)
    glyphs[font.getBestCmap()[ord("H")]].draw(pen)
    assert (pen.bounds[1], pen.bounds[3]) == (0, lettering.CAPITALS)
    assert font["head"].unitsPerEm == lettering.UNITS_PER_EM


@pytest.mark.parametrize("text", [SHOP_TEXT, "HHHH", "Žluťoučký kůň", "Ящик с болтами"], ids=ascii)
def test_width_agrees_with_another_reader_of_the_font(text: str) -> None:
    em = 2000  # points, large enough for the reader's rounding to whole 1/64 points not to matter
    other = ImageFont.truetype(BytesIO(lettering.font_bytes()), em, layout_engine=ImageFont.Layout.BASIC)
    expected = other.getlength(text) / em * 3.5 * lettering.UNITS_PER_EM / lettering.CAPITALS
    assert lettering.width(text, 3.5) == pytest.approx(expected, rel=1e-3)


def test_all_digits_are_equally_wide() -> None:
    assert len({lettering.width(digit, 3.5) for digit in "0123456789"}) == 1  # else columns would not line up


@pytest.mark.parametrize("height", [2.5, 3.048, 7.0])
def test_width_grows_with_the_height(height: float) -> None:
    assert lettering.width(SHOP_TEXT, height) == pytest.approx(height * lettering.width(SHOP_TEXT, 1.0))


@pytest.mark.parametrize("sign", "⌀□⌴⌵↧⌖⏤⏥○⌭⌒⌓⫽⟂∠⌯⌲⌳↗⌰◎ⓂⓁⓅⒺ±°×√≤≥−–—•←→½⅛μΩ", ids=lambda c: f"U+{ord(c):04X}")
def test_signs_of_the_trade_are_in_the_font(sign: str) -> None:
    assert lettering.missing(sign) == set()
    assert lettering.safe(sign) == sign


@pytest.mark.parametrize(
    ("text", "lettered"),
    [
        pytest.param("a\nb\tc", "a b c", id="line ends and tabs become spaces"),
        pytest.param("  a   b ", "a b", id="runs of spaces"),
        pytest.param("10\u202e01", "1001", id="bidi override"),
        pytest.param("\u2066x\u2069\u200e", "x", id="bidi isolates and marks"),
        pytest.param("a\x00\x1b[31mb", "a[31mb", id="control characters"),
        pytest.param("\ud800", "", id="half a surrogate pair"),
        pytest.param("e\u0301", "é", id="composed"),
        pytest.param("锁 box", "? box", id="not in the font"),
        pytest.param("", "", id="nothing"),
    ],
)
def test_safe(text: str, lettered: str) -> None:
    assert lettering.safe(text) == lettered


def test_missing_names_what_becomes_a_question_mark() -> None:
    assert lettering.missing("锁 A\n\u202e") == {"锁"}


@given(st.text(max_size=40))
def test_what_is_lettered_is_one_line_of_known_printing_characters(text: str) -> None:
    lettered = lettering.safe(text)
    assert lettering.missing(lettered) == set()
    assert lettering.safe(lettered) == lettered
    assert not any(unicodedata.category(char).startswith("C") for char in lettered)
    assert lettering.width(text, 3.5) == lettering.width(lettered, 3.5)


def test_the_font_may_be_embedded_and_carries_its_licence() -> None:
    font = TTFont(BytesIO(lettering.font_bytes()))
    assert font["OS/2"].fsType == 0  # OpenType: installable embedding
    names = {record.toUnicode() for record in font["name"].names}
    assert lettering.FAMILY in names
    assert any("Copyright" in name for name in names)


def test_importing_it_is_cheap() -> None:
    code = "import sys, slotwright.drawings.paper.lettering; print(*sys.modules)"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = set(run.stdout.split())
    assert "slotwright.drawings.paper.lettering" in loaded
    assert not loaded & {"fontTools", "PIL", "numpy"}
