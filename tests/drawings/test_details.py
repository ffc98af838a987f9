"""What is under 3 mm on paper is enlarged: a circle with a letter on the plan, a detail with its letter and scale."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import replace
from math import hypot

import pytest

from slotwright.drawings.paper.sheet import Circle, Drawing, Line, Stroke, Text, View
from slotwright.drawings.paper.sheet_data import SheetData
from slotwright.drawings.paper.style import style
from slotwright.drawings.piece.piece_sheet import piece_drawing
from slotwright.drawings.proof import proof, proof_of
from slotwright.drawings.writers.dxf import dxf_bytes
from slotwright.fixtures.family import families
from slotwright.parts.threads import thread
from slotwright.pieces.blanks import Plate
from slotwright.pieces.features import Hole
from slotwright.pieces.hole_groups import tagged_holes
from slotwright.pieces.outline import rectangle
from slotwright.pieces.piece import Piece
from slotwright.pieces.step import piece_step
from tests.drawings.collisions import everything
from tests.drawings.enlarging import not_enlarged, pairs, small_sizes
from tests.drawings.pieces import ALL, DATA, FIRST, bar, plain
from tests.drawings.shapes import ALL as SHAPES
from tests.drawings.shapes import CHUCK_BASE, piece
from tests.kernel_reading import read_step
from tests.random_designs import drawings, random_design
from tests.rebuilding.bar_reading import read_bar
from tests.rebuilding.comparing import compare

LOOKS = {"iso": style("iso", "mm"), "asme": style("asme", "mm"), "asme-inch": style("asme", "in")}
M3 = thread("M3")
FOUR = [
    Hole(x=x, y=y, diameter=2.5, thread=M3, depth=8.0, thread_depth=6.0) for x in (400.0, 412.0) for y in (14.0, 26.0)
]
BOLTS = [plain(x, 20.0, tolerance=0.5) for x in (87.5, 187.5, 287.5)]
SENSOR = bar(*BOLTS, *FOUR, Hole(x=406.0, y=20.0, diameter=6.0), size=(600.0, 40.0, 20.0), chamfer=1.0)
EDGE = bar(*BOLTS, *(Hole(x=x, y=36.0, diameter=2.0) for x in (590.0, 580.0)), size=(600.0, 40.0, 20.0), chamfer=1.0)
BOTH = bar(BOLTS[0], *FOUR, plain(1900.0, 20.0), *(Hole(x=x, y=35.0, diameter=2.0) for x in (1960.0, 1970.0)),
           size=(2000.0, 40.0, 20.0), chamfer=1.0)  # fmt: skip
PIECES = {"sensor": SENSOR, "edge": EDGE, "both": BOTH}
EVERY = {**ALL, **SHAPES, **PIECES}


def _details(drawing: Drawing) -> list[View]:
    return [view for sheet in drawing.sheets for view in sheet.views if view.name.startswith("detail")]


def test_a_cluster_of_small_holes_is_enlarged_on_a_small_sheet() -> None:
    """By hand: to show 2.5 mm as 3 mm in the plan itself, 600 mm would need 2:1, more than A0 is long."""
    drawing = piece_drawing(SENSOR, DATA, LOOKS["iso"])
    sheet = drawing.sheets[0]
    assert sheet.size in ("A4", "A3")
    (detail,) = _details(drawing)
    bores = [m for m in detail.marks if isinstance(m, Circle) and m.line is Line.OUTLINE]
    assert sorted(bore.radius for bore in bores) == [1.25] * 4 + [3.0]
    assert min(2.0 * bore.radius * detail.scale for bore in bores) >= 3.0
    on_plan = [m for m in sheet.marks if isinstance(m, Circle) and m.line is Line.BREAK]
    assert len(on_plan) == 1
    plan = next(v for v in sheet.views if v.name == "plan" and _holds(v, on_plan[0].centre))
    for hole in SENSOR.holes[3:]:
        x, y = plan.to_paper((hole.x, hole.y))
        assert hypot(x - on_plan[0].centre[0], y - on_plan[0].centre[1]) + hole.diameter / 2 < on_plan[0].radius


def _holds(view: View, at: tuple[float, float]) -> bool:
    return view.frame is None or view.frame[0] < at[0] < view.frame[2]


@pytest.mark.parametrize(("look", "title"), [("iso", "D (2:1)"), ("asme", "DETAIL D  SCALE 2:1")])
def test_letter_and_scale(look: str, title: str) -> None:
    marks = everything(piece_drawing(SENSOR, DATA, LOOKS[look]).sheets[0])
    texts = [m.text for m in marks if isinstance(m, Text) and m.height == 5.0]  # the border's letters are smaller
    assert (texts.count("D"), texts.count(title)) == (1, 1)


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("name", EVERY)
def test_all_that_is_under_3_mm_has_a_detail_and_nothing_else(name: str, look: str) -> None:
    drawing = piece_drawing(EVERY[name], DATA, LOOKS[look])
    assert not_enlarged(EVERY[name], drawing) == []
    assert bool(_details(drawing)) == bool(small_sizes(EVERY[name], drawing))


@pytest.mark.long
@pytest.mark.parametrize("kind", sorted(families()))
def test_all_that_is_under_3_mm_has_a_detail_in_random_designs(kind: str) -> None:
    """The same of twelve designs of each kind, by what the pieces are and what the drawings show."""
    for seed in range(12):
        made = random_design(kind, seed)
        for one, (drawing, _) in zip(made.pieces, drawings(made), strict=False):
            assert drawing.name == one.name
            assert (seed, one.name, not_enlarged(one, drawing)) == (seed, one.name, [])


def test_a_low_register_is_enlarged_where_its_step_is() -> None:
    """By hand: 4 mm high at 1:2 is 2 mm on paper; in the section through the bore its wall stands at x 80 or 180."""
    drawing = piece_drawing(replace(CHUCK_BASE, holes=CHUCK_BASE.holes[:1]), DATA, LOOKS["iso"])
    main = drawing.sheets[0].views[0].scale
    assert main == 0.5, "the test is about this scale"
    (detail,) = _details(drawing)
    assert detail.scale >= 1.0
    walls = [m.points for m in detail.marks if isinstance(m, Stroke) and m.line is Line.OUTLINE]
    upright = {(round(a[0], 6), *sorted((round(a[1], 6), round(b[1], 6)))) for a, b in pairs(walls) if a[0] == b[0]}
    assert upright & {(80.0, 25.0, 29.0), (180.0, 25.0, 29.0)}
    texts = [m.text for sheet in drawing.sheets for m in everything(sheet) if isinstance(m, Text)]
    assert not any(text.startswith("TYPICAL") for text in texts), "the step comes once"


def test_one_of_many_alike_is_enlarged_and_says_for_which_it_stands() -> None:
    """By hand: 12 holes of 4 mm on a 600 mm bar; at 1:2 they are 2 mm on paper and far apart."""
    holes = [Hole(x=20.0 + 49.0 * n, y=12.0, diameter=4.0) for n in range(12)]
    drawing = piece_drawing(bar(BOLTS[0], *holes, size=(600.0, 40.0, 20.0)), DATA, LOOKS["iso"])
    assert drawing.sheets[0].size in ("A4", "A3")
    (detail,) = _details(drawing)
    texts = [m.text for sheet in drawing.sheets for m in everything(sheet) if isinstance(m, Text)]
    assert "TYPICAL OF B1 - B12" in texts
    assert [m.radius for m in detail.marks if isinstance(m, Circle) and m.line is Line.OUTLINE] == [2.0]


def test_details_stand_on_a_further_sheet_before_the_sheet_gets_larger_than_a_shop_prints() -> None:
    """Six sizes of small holes on a plate that fills A3; the note says where the details are."""
    holes = [Hole(x=x, y=y, diameter=d) for n, d in enumerate((3.0, 3.5, 4.0, 4.5, 5.0, 5.5))
             for x in (40.0 + 40.0 * n, 475.0 - 40.0 * n) for y in (40.0, 150.0, 250.0)]  # fmt: skip
    made = piece("cover", Plate(outline=rectangle(500.0, 290.0), thickness=20.0), *holes)
    drawing = piece_drawing(made, DATA, LOOKS["iso"])
    assert (drawing.sheets[0].size, len(drawing.sheets)) == ("A3", 2)
    assert any(view.name.startswith("detail") for view in drawing.sheets[1].views)
    texts = [m.text for m in everything(drawing.sheets[0]) if isinstance(m, Text)]
    assert any("DETAILS: SEE THE NEXT SHEET." in text or "AND DETAILS" in text for text in texts)
    assert not_enlarged(made, drawing) == []
    assert proof_of(drawing) == ()


@pytest.mark.parametrize("name", EVERY)
def test_no_letter_of_a_detail_begins_a_tag(name: str) -> None:
    made = EVERY[name]
    titles = {view.name.removeprefix("detail ") for view in _details(piece_drawing(made, DATA, LOOKS["asme"]))}
    assert not titles & {one.tag.rstrip("0123456789") for one in tagged_holes(made)}


@pytest.mark.parametrize("data", [FIRST, DATA], ids=["first", "third"])
@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("name", PIECES)
def test_sheets_with_details_are_clear_and_read_back_true(name: str, look: str, data: SheetData) -> None:
    """Each hole has one tag beside it, on the plan or in a detail, and one in the table."""
    made: Piece = PIECES[name]
    drawing = piece_drawing(made, data, LOOKS[look])
    dxf = dxf_bytes(drawing, LOOKS[look])
    assert (proof_of(drawing), proof(dxf)) == ((), ())
    read = read_bar(dxf)
    assert (read.doubts, read.unclear) == ((), ())
    assert compare(read, read_step(piece_step(made)).parts[0].shape).differences == ()
    if look != "iso":  # whose sheets are named like tags
        count = Counter(m.text for sheet in drawing.sheets for m in everything(sheet) if isinstance(m, Text))
        assert {count[one.tag] for one in tagged_holes(made)} == {2}


def _read(change: Callable[[View], Iterable[View]]) -> tuple[str, ...]:
    """What the reader doubts in the sensor bar's drawing after a change of its details."""
    drawing = piece_drawing(SENSOR, DATA, LOOKS["iso"])
    (sheet,) = drawing.sheets
    views = tuple(one for view in sheet.views for one in (change(view) if view.name.startswith("detail") else (view,)))
    return read_bar(dxf_bytes(replace(drawing, sheets=(replace(sheet, views=views),)), LOOKS["iso"])).doubts


def test_the_reader_finds_a_detail_that_shows_something_else() -> None:
    def wider(view: View) -> Iterable[View]:
        marks = [replace(m, radius=1.2 * m.radius) if isinstance(m, Circle) and m.line is Line.OUTLINE else m
                 for m in view.marks]  # fmt: skip
        yield replace(view, marks=tuple(marks))

    assert _read(lambda view: [view]) == ()
    assert any("detail D has a circle not at" in doubt for doubt in _read(wider))
    assert any("detail D lacks the circle at" in doubt for doubt in _read(wider))


def test_the_reader_misses_a_detail_that_is_left_out() -> None:
    assert any("has no detail" in doubt for doubt in _read(lambda view: []))
