"""SVG files read back by the XML parser and by a geometry reader for SVG."""

from __future__ import annotations

import re
from base64 import b64decode
from io import BytesIO
from typing import Any
from xml.etree import ElementTree

import pytest
import svgelements
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.sheet import Arc, Drawing, Line, Sheet, Stroke, Text
from slotwright.drawings.paper.style import Style, style
from slotwright.drawings.writers.svg import svg_bytes

NS = {"s": "http://www.w3.org/2000/svg"}
ISO = style("iso", "mm")


@pytest.fixture
def root(drawing: Drawing) -> ElementTree.Element:
    return ElementTree.fromstring(svg_bytes(drawing, ISO, 0))


def _shapes(data: bytes) -> list[svgelements.Shape]:
    """Shapes with their coordinates in mm of paper: 25.4 pixels an inch make a pixel a millimetre."""
    picture = svgelements.SVG.parse(BytesIO(data), ppi=25.4)
    return [item for item in picture.elements() if isinstance(item, svgelements.Shape)]


def _one(*marks: object) -> bytes:
    sheet = Sheet(size="A4", width=210.0, height=297.0, views=(), marks=marks)  # type: ignore[arg-type]  # marks
    return svg_bytes(Drawing(name="a", title="a", unit="mm", sheets=(sheet,)), ISO)


def test_size_on_paper(root: ElementTree.Element) -> None:
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("420mm", "297mm", "0 0 420 297")


def test_a_hundred_millimetres_measure_a_hundred_millimetres(drawing: Drawing) -> None:
    rule = next(shape for shape in _shapes(svg_bytes(drawing, ISO, 0)) if "rule" in shape.values.get("class", ""))
    x0, y0, x1, y1 = rule.bbox()
    assert (x0, y0, x1, y1) == pytest.approx((20.0, 277.0, 120.0, 277.0))


def test_circles_are_where_they_belong(root: ElementTree.Element) -> None:
    plan = root.find("s:g[@id='view-1']", NS)
    assert plan is not None
    circles = sorted(
        (float(c.get("cx", "")), float(c.get("cy", "")), float(c.get("r", ""))) for c in plan.iter() if c.get("r")
    )
    expected = [(60.0 + x, 297.0 - 120.0 - y, d / 2.0) for x, y, d in ((20, 20, 12), (50, 45, 25.4), (80, 20, 12))]
    assert [tuple(c) for c in circles] == [pytest.approx(e, abs=5e-4) for e in expected]


@pytest.mark.parametrize(
    ("start", "end", "box"),
    [
        pytest.param(0.0, 90.0, (100.0, 197.0 - 10.0, 110.0, 197.0), id="first-quadrant"),
        pytest.param(90.0, 270.0, (90.0, 187.0, 100.0, 207.0), id="left-half"),
        pytest.param(270.0, 180.0, (90.0, 187.0, 110.0, 207.0), id="three-quarters"),
        pytest.param(0.0, 360.0, (90.0, 187.0, 110.0, 207.0), id="whole"),
    ],
)
def test_arcs_turn_the_right_way(start: float, end: float, box: tuple[float, ...]) -> None:
    arc = next(
        s for s in _shapes(_one(Arc((100.0, 100.0), 10.0, start, end, Line.NOTE))) if "note" in s.values["class"]
    )
    assert tuple(arc.bbox()) == pytest.approx(box, abs=1e-3)


def test_words_survive(root: ElementTree.Element) -> None:
    words = [text.text for text in root.iter(f"{{{NS['s']}}}text")]
    assert "Millrace canal-lock depot: 4× ⌀12 ↧20 ⌴⌀18 ±0.1 <b>&amp; 50%%d ^J \\U+0041" in words
    assert words.count("A1") == 2
    title = root.find("s:title", NS)
    assert title is not None
    assert title.text == "Plate <1> & ⌀"


def test_text_keeps_its_length_in_whatever_font(root: ElementTree.Element) -> None:
    text = next(t for t in root.iter(f"{{{NS['s']}}}text") if t.text == "Sheet 1/2")
    long = lettering.width("Sheet 1/2", 5.0)
    assert float(text.get("textLength", "")) == pytest.approx(long, abs=5e-4)
    assert float(text.get("x", "")) == pytest.approx(420.0 - 12.0 - long, abs=5e-4)
    assert float(text.get("font-size", "")) == pytest.approx(5.0 * 2048 / 1493, abs=5e-4)


# The embedded font, read by fontTools. What it must hold: ISO/IEC 14496-22; what browsers want of a font in a page: the
# tables that standard asks for in every TrueType font.


def _embedded(data: bytes) -> TTFont:
    faces = re.findall(
        r"@font-face\{font-family:'([^']+)';src:url\(data:font/ttf;base64,([A-Za-z0-9+/=]+)\)\}", data.decode()
    )
    assert [name for name, _ in faces] == [lettering.FAMILY]
    return TTFont(BytesIO(b64decode(faces[0][1], validate=True)), checkChecksums=2)  # raises where a sum is wrong


def _outline(font: TTFont, char: str) -> list[Any]:
    pen = DecomposingRecordingPen(font.getGlyphSet())
    font.getGlyphSet()[font.getBestCmap()[ord(char)]].draw(pen)
    return list(pen.value)


EVERY_SORT = "ÄÖÅéçő ⌀⌖↧⌴⌵ ½ ǟ Њ 10×45° ①"


@pytest.fixture(params=["sheet", "accents"])
def lettered(request: pytest.FixtureRequest, drawing: Drawing) -> tuple[bytes, str]:
    """A picture and all that is lettered on it."""
    data = svg_bytes(drawing, ISO, 0) if request.param == "sheet" else _one(Text((10.0, 10.0), EVERY_SORT, 3.5))
    root = ElementTree.fromstring(data)
    return data, "".join(text.text or "" for text in root.iter(f"{{{NS['s']}}}text"))


def test_every_letter_is_embedded_as_it_is_drawn_elsewhere(lettered: tuple[bytes, str]) -> None:
    data, words = lettered
    font, whole = _embedded(data), TTFont(BytesIO(lettering.font_bytes()))
    assert set(map(chr, font.getBestCmap())) == set(words)
    for char in sorted(set(words)):
        assert _outline(font, char) == _outline(whole, char), char
        name, before = font.getBestCmap()[ord(char)], whole.getBestCmap()[ord(char)]
        assert font["hmtx"][name] == whole["hmtx"][before], char


def test_the_embedded_font_is_whole(lettered: tuple[bytes, str]) -> None:
    font = _embedded(lettered[0])
    assert {"cmap", "glyf", "head", "hhea", "hmtx", "loca", "maxp", "name", "OS/2", "post"} == set(font.keys()) - {
        "GlyphOrder"
    }
    whole = TTFont(BytesIO(lettering.font_bytes()))
    assert font["head"].modified == whole["head"].modified, "no date of today"
    number = font["maxp"].numGlyphs
    assert font["hhea"].numberOfHMetrics == number == len(font["loca"].locations) - 1
    assert font["head"].unitsPerEm == lettering.UNITS_PER_EM
    assert [(t.platformID, t.platEncID, t.format) for t in font["cmap"].tables] == [(3, 1, 4)]
    assert "DejaVu" in font["name"].getDebugName(0) or "Bitstream" in font["name"].getDebugName(0)  # its licence's wish


def test_the_embedded_font_is_small() -> None:
    """All of ASCII takes about a third of what a sheet takes; common practice, no source."""
    bare, full = _one(), _one(Text((10.0, 10.0), "".join(map(chr, range(0x20, 0x7F))), 3.5))
    assert b"@font-face" not in bare
    assert len(full) - len(bare) < 13_000


def test_nothing_comes_from_elsewhere(drawing: Drawing) -> None:
    """A picture in a page may load nothing (SVG 2, secure static mode)."""
    text = svg_bytes(drawing, ISO, 0).decode()
    found = [
        found for found in re.findall(r"url\([^)]{,21}|href|@import", text) if not found.startswith("url(#window-")
    ]
    assert found == ["url(data:font/ttf;base64,"]


def test_turned_text_turns_counter_clockwise(root: ElementTree.Element) -> None:
    text = next(t for t in root.iter(f"{{{NS['s']}}}text") if t.text == "10")
    assert (text.get("transform") or "").startswith("rotate(-90 ")


def test_hostile_words_stay_words() -> None:
    data = _one(Text((10.0, 10.0), "\x00</text><script>alert(1)</script>\u202e]]>", 3.5))
    root = ElementTree.fromstring(data)
    assert [text.text for text in root.iter(f"{{{NS['s']}}}text")] == ["</text><script>alert(1)</script>]]>"]
    assert not list(root.iter(f"{{{NS['s']}}}script"))


def test_a_hostile_title_stays_a_title() -> None:
    sheet = Sheet(size="A4", width=210.0, height=297.0, views=(), marks=())
    drawing = Drawing(name="a", title="\x0b--></title>\ud800<g/>", unit="mm", sheets=(sheet,))
    root = ElementTree.fromstring(svg_bytes(drawing, ISO))
    title = root.find("s:title", NS)
    assert title is not None
    assert title.text == "--></title><g/>"


def test_framed_views_are_clipped(root: ElementTree.Element) -> None:
    detail = root.find("s:g[@id='view-3']", NS)
    assert detail is not None
    assert detail.get("clip-path") == "url(#window-3)"
    window = root.find("s:clipPath[@id='window-3']/s:rect", NS)
    assert window is not None
    assert [window.get(key) for key in ("x", "y", "width", "height")] == ["220", "147", "80", "100"]


def test_ids_are_unique(root: ElementTree.Element) -> None:
    ids = [item.get("id") for item in root.iter() if item.get("id")]
    assert len(ids) == len(set(ids))
    assert sum((item.get("class") == "dimensioning") for item in root.iter()) == 7


def test_numbers_are_short(drawing: Drawing) -> None:
    text = svg_bytes(drawing, style("asme", "in"), 0).decode()
    assert not re.search(r"\d\.\d{4,}|\.\d*0[\"' LMAZ]|\d\.[\"' ]|-0[\"' ]", re.sub(r"<text.*?</text>", "", text))


@pytest.mark.parametrize(("line", "drawn"), [(Line.HIDDEN, ISO), (Line.CENTRE, ISO)])
def test_dashes_fill_the_line(line: Line, drawn: Style) -> None:
    root = ElementTree.fromstring(_one(Stroke(((10.0, 10.0), (110.0, 10.0)), line)))
    path = next(item for item in root.iter() if item.get("stroke-dasharray"))
    parts = [float(part) for part in (path.get("stroke-dasharray") or "").split()]
    repeats = (100.0 - parts[0]) / sum(parts)
    assert repeats == pytest.approx(round(repeats), abs=0.02)  # three decimals of each part, times the repeats
    assert parts[0] == pytest.approx(drawn.dashes(line)[0], rel=0.1)


def test_there_is_no_third_sheet(drawing: Drawing) -> None:
    with pytest.raises(IndexError):
        svg_bytes(drawing, ISO, 2)
