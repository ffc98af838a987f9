"""The geometry of the proof against independent libraries: shapely (GEOS) for planes, fontTools' pens for letters."""

from __future__ import annotations

from random import Random

import pytest
import shapely
from shapely import affinity

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.sheet import (
    Anchor,
    Line,
    Point,
    Text,
)
from slotwright.drawings.proof import Kind, proof_of
from tests.drawings.small_sheet import NARROW, H, scene, stroke


@pytest.mark.parametrize("seed", range(6))
def test_collisions_as_shapely_finds_them(seed: int) -> None:
    """Turned texts and lines at random: the same pairs meet by polygon intersection (shapely, GEOS).

    Corners that only nick each other, by less than 0.1 mm, may be told of or not.
    """
    random = Random(seed)
    texts = [_turned_text(random, _flat_name(n), _anywhere(random)) for n in range(50)]
    lines = [stroke(_anywhere(random), _anywhere(random), line=Line.NOTE) for _ in range(30)]
    found = proof_of(scene(*texts, *lines))
    shapes, strips = [_shape(text) for text in texts], [shapely.LineString(line.points) for line in lines]

    told = {frozenset((v.what, v.against)) for v in found if v.kind is Kind.TEXT_ON_TEXT}
    may, must = _meeting(texts, shapes, 0.0), _meeting(texts, shapes, 0.1)
    assert must <= told <= may
    assert len(must) > 5

    through = [v.what for v in found if v.kind is Kind.LINE_THROUGH_TEXT and v.against != "frame"]
    for text, shape in zip(texts, shapes, strict=True):
        gaps = [shape.distance(strip) for strip in strips]
        least, most = (sum(gap < edge for gap in gaps) for edge in (NARROW / 2 - 0.05, NARROW / 2))
        assert least <= through.count(f'"{text.text}"') <= most
    assert len(through) > 30


def _meeting(texts: list[Text], shapes: list[shapely.Polygon], deep: float) -> set[frozenset[str]]:
    smaller = [shape.buffer(-deep / 2.0) for shape in shapes]
    return {
        frozenset((f'"{texts[a].text}"', f'"{texts[b].text}"'))
        for a in range(len(texts))
        for b in range(a)
        if smaller[a].intersects(smaller[b])
    }


def _flat_name(number: int) -> str:
    """A word of letters that are flat above and below, another for each number."""
    letters = "EFHIKLMNT"
    return letters[number % 9] + letters[number // 9] + "H" * (number % 7)


@pytest.mark.parametrize("seed", range(4))
def test_clear_space_as_shapely_measures_it(seed: int) -> None:
    random = Random(100 + seed)
    grid = [(40.0 + 30.0 * n, 40.0 + 28.0 * m) for n in range(8) for m in range(5)]
    texts = [_turned_text(random, "HH", at, 3.5, Line.DIMENSION) for at in grid]
    lines = [stroke(_anywhere(random), _anywhere(random), line=Line.NOTE) for _ in range(16)]
    near = [v.clear for v in proof_of(scene(*texts, *lines)) if v.kind is Kind.TEXT_TOO_NEAR]
    gaps = [min(_shape(text).distance(shapely.LineString(line.points)) for line in lines) for text in texts]
    wanted = [gap for gap in gaps if NARROW / 2 < gap < H - 0.1]
    assert near == pytest.approx(wanted, abs=0.006)  # it says them to 0.01 mm
    assert len(near) > 3


def _turned_text(random: Random, words: str, at: Point, height: float = 0.0, line: Line = Line.NOTE) -> Text:
    tall = height or random.choice((2.5, 3.5, 5.0))
    return Text(at, words, tall, Anchor.LEFT, random.uniform(0.0, 360.0), False, line)


def _anywhere(random: Random) -> Point:
    return random.uniform(40.0, 260.0), random.uniform(40.0, 160.0)


def _shape(text: Text) -> shapely.Polygon:
    box = shapely.box(0.0, 0.0, lettering.width(text.text, text.height), text.height)
    turned = affinity.rotate(box, text.angle, origin=(0.0, 0.0))
    return affinity.translate(turned, *text.at)


def test_ink_of_letters_as_a_font_library_draws_it() -> None:
    """How far letters reach above and below the line, against outlines drawn by fontTools' own pen."""
    from io import BytesIO

    from fontTools.pens.boundsPen import BoundsPen
    from fontTools.ttLib import TTFont

    font = TTFont(BytesIO(lettering.font_bytes()))
    glyphs, names = font.getGlyphSet(), font.getBestCmap()
    for char in "Hgjpqy,;()[]ÄÅß0⌀⌴↧⌖±":
        pen = BoundsPen(glyphs)
        glyphs[names[ord(char)]].draw(pen)
        assert pen.bounds is not None
        reach = tuple(edge * lettering.CAPITALS for edge in lettering.reach(char))
        assert reach == pytest.approx((pen.bounds[1], pen.bounds[3]), abs=1.0)  # font units, 2048 to the em
