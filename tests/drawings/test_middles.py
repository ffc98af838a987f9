"""Bars that are alike on both sides of a centre line are dimensioned from it (ISO 129-1, ASME Y14.5, from memory)."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import cadquery as cq
import pytest

from slotwright.drawings.middles import Middles, middles_of
from slotwright.drawings.paper.sheet import DimensionKind, Drawing, Fill, Line, Stroke, Text
from slotwright.drawings.paper.sheet_data import SheetData
from slotwright.drawings.paper.style import style
from slotwright.drawings.piece.piece_sheet import piece_drawing
from slotwright.drawings.proof import proof, proof_of
from slotwright.drawings.writers.dxf import dxf_bytes
from slotwright.pieces.features import Counterbore, Hole, Purpose
from slotwright.pieces.piece import Piece
from slotwright.pieces.step import piece_step
from tests.drawings.pieces import CROWDED, DATA, FIRST, INCH_BAR, METRIC, TWO_ROWS, bar, plain, tapped
from tests.kernel_reading import read_step
from tests.rebuilding.bar_reading import read_bar
from tests.rebuilding.comparing import compare

ISO = style("iso", "mm")
LOOKS = {"iso": ISO, "comma": style("iso", "mm", decimal=","), "asme": style("asme", "mm"),
         "inch": style("asme", "in"), "both": style("iso", "mm", alternate=True)}  # fmt: skip
PAIRS = bar(
    *(plain(x, 20.0, 9.0, 0.5) for x in (40.0, 90.0)),
    *(tapped(x, y) for x in (140.0, 190.0) for y in (10.0, 30.0)),
    *(plain(x, y, 5.0) for x in (65.0, 115.0) for y in (6.0, 34.0)),
    size=(220.0, 40.0, 16.0),
    chamfer=1.0,
)
EXACT = bar(*(plain(x, y, 9.0, 0.5) for x in (30.0, 90.0) for y in (12.0, 38.0)), size=(120.0, 50.0, 16.0))
KEY = bar(
    Hole(x=16.0, y=8.0, diameter=5.0, counterbore=Counterbore(diameter=8.0, depth=4.0), purpose=Purpose.SCREW),
    size=(32.0, 16.0, 12.0),
)
LONG = bar(*(plain(x, 20.0, 9.0) for x in (30.0, 60.0, 1900.0)), size=(2000.0, 40.0, 20.0))
FULL = bar(*(plain(20.0 + 14.0 * n, y, 6.0) for n in range(40) for y in (12.0, 25.0, 38.0)), size=(600.0, 50.0, 16.0))
TABLE = bar(
    *(plain(20.0 + 14.0 * n + n % 3, y, 6.0) for n in range(30) for y in (12.0, 25.0, 38.0)), size=(500.0, 50.0, 16.0)
)
BARS = {
    "middle": METRIC,
    "inch": INCH_BAR,
    "pairs": PAIRS,
    "exact": EXACT,
    "key": KEY,
    "long": LONG,
    "full": FULL,
    "table": TABLE,
}


@cache
def _solid(name: str) -> cq.Shape:
    return read_step(piece_step(BARS[name])).parts[0].shape


def _written(drawing: Drawing, *kinds: DimensionKind) -> list[str]:
    return [m.text for view in drawing.sheets[0].views for d in view.dimensions if d.kind in kinds
            for m in d.marks if isinstance(m, Text)]  # fmt: skip


def _all(drawing: Drawing) -> list[str]:
    return [m.text for sheet in drawing.sheets for m in sheet.marks if isinstance(m, Text)]


@pytest.mark.parametrize(
    ("piece", "found"),
    [
        pytest.param(METRIC, Middles(across=True), id="all-on-the-middle-line"),
        pytest.param(PAIRS, Middles(across=True), id="pairs"),
        pytest.param(KEY, Middles(across=True, along=True), id="one-hole-in-the-very-middle"),
        pytest.param(bar(plain(80.0, 20.0, 9.0, 0.5)), Middles(across=True), id="a-zone-counts-from-the-end"),
        pytest.param(bar(), Middles(), id="no-holes"),
        pytest.param(CROWDED, Middles(), id="rows-that-do-not-mirror"),
        pytest.param(TWO_ROWS, Middles(), id="one-hole-off-the-middle"),
        pytest.param(bar(plain(50.0, 10.0, 9.0), plain(50.0, 30.0, 8.0)), Middles(), id="pair-of-unlike-sizes"),
        pytest.param(bar(plain(50.0, 10.0), plain(50.5, 30.0)), Middles(), id="pair-out-of-line"),
        pytest.param(
            bar(Hole(x=50.0, y=20.0, diameter=8.0, slot_extra=9.0, slot_angle=30.0)), Middles(), id="slanted-slot"
        ),
        pytest.param(
            bar(*(Hole(x=50.0, y=20.0 + w * 8.0, diameter=5.0, slot_extra=4.0, slot_angle=w * 30.0) for w in (1, -1))),
            Middles(across=True),
            id="slots-that-mirror-each-other",
        ),
    ],
)
def test_what_counts_from_the_middle(piece: Piece, found: Middles) -> None:
    assert middles_of(piece) == found


def test_holes_on_the_centre_line_have_no_figure_across() -> None:
    drawing = piece_drawing(METRIC, DATA, ISO)
    assert _written(drawing, DimensionKind.ORDINATE_Y) == []
    assert sorted(_written(drawing, DimensionKind.LINEAR)) == ["20", "40", "800"]
    assert "X FROM THE LEFT END, Y FROM THE CENTRE LINE." in " ".join(_all(drawing))


def test_pairs_have_their_distance_across_the_centre_line() -> None:
    """By hand: 10 and 30 are 20 apart, 6 and 34 are 28; 220, 40 and 16 are the outer sizes."""
    assert sorted(_written(piece_drawing(PAIRS, DATA, ISO), DimensionKind.LINEAR)) == ["16", "20", "220", "28", "40"]
    inch = sorted(_written(piece_drawing(PAIRS, DATA, LOOKS["inch"]), DimensionKind.LINEAR))
    assert inch == [".63", ".787", "1.102", "1.57", "8.66"]


def test_a_theoretically_exact_distance_stands_in_a_box() -> None:
    views = piece_drawing(EXACT, DATA, ISO).sheets[0].views
    (across,) = [d for view in views for d in view.dimensions if d.direction == 90.0 and d.value == 26.0]
    (box,) = [m for m in across.marks if isinstance(m, Stroke) and m.closed]
    (text,) = [m for m in across.marks if isinstance(m, Text)]
    xs, ys = zip(*box.points, strict=True)
    assert min(xs) < text.at[0] < max(xs)
    assert min(ys) < text.at[1] < max(ys)


def test_a_key_needs_no_place_of_its_hole() -> None:
    drawing = piece_drawing(KEY, DATA, ISO)
    assert _written(drawing, DimensionKind.ORDINATE_X, DimensionKind.ORDINATE_Y) == []
    assert sorted(_written(drawing, DimensionKind.LINEAR)) == ["12", "16", "32"]


def test_places_along_a_bar_that_bolts_down_stay_from_its_end() -> None:
    """Its slots are measured from the end that is set to the table."""
    holes = [replace(plain(x, 20.0), purpose=Purpose.TABLE) for x in (40.0, 120.0)]
    drawing = piece_drawing(bar(*holes), DATA, ISO)
    assert _written(drawing, DimensionKind.ORDINATE_X) == ["0", "40", "120"]


@pytest.mark.parametrize("data", [FIRST, DATA], ids=["first", "third"])
@pytest.mark.parametrize("look", ["iso", "asme"])
def test_datum_b_goes_on_with_the_dimension_line_of_the_width(look: str, data: SheetData) -> None:
    """ISO 5459 and ASME Y14.5: so placed, it names the centre plane of the size; on an outline it names the face."""
    sheet = piece_drawing(EXACT, data, LOOKS[look]).sheets[0]
    (plan,) = [view for view in sheet.views if view.name == "plan"]
    (width,) = [d for d in plan.dimensions if d.direction == 90.0 and d.value == 50.0]
    at = next(m for m in width.marks if isinstance(m, Fill)).points[0]
    triangles = [m.points for m in sheet.marks if isinstance(m, Fill) and m.line is Line.DIMENSION]
    feet = [((p[0][0] + p[1][0]) / 2.0, p[0][1]) for p in triangles]
    assert any(abs(x - at[0]) < 1e-6 and abs(y - plan.origin[1]) < 1e-6 for x, y in feet)


@pytest.mark.parametrize("data", [FIRST, DATA], ids=["first", "third"])
@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("name", BARS)
def test_bars_read_back_true(name: str, look: str, data: SheetData) -> None:
    piece, shown = BARS[name], LOOKS[look]
    drawing = piece_drawing(piece, data, shown)
    dxf = dxf_bytes(drawing, shown)
    read = read_bar(dxf)
    assert (read.doubts, read.unclear) == ((), ())
    assert compare(read, _solid(name)).differences == ()
    assert (proof_of(drawing), proof(dxf)) == ((), ())
