"""The drawing of a piece as a whole: complete, nothing said twice, nothing on top of anything, smallest sheet."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest

from slotwright.drawings.paper.sheet import DimensionKind, Drawing, Line, Sheet, Stroke, Text
from slotwright.drawings.paper.sheet_choice import SheetError
from slotwright.drawings.paper.sheet_data import SheetData
from slotwright.drawings.paper.style import Style, style
from slotwright.drawings.piece.piece_sheet import piece_drawing
from slotwright.findings import Finding, Severity
from slotwright.pieces.features import Hole
from slotwright.pieces.hole_groups import tagged_holes
from slotwright.pieces.piece import Piece
from tests.drawings.collisions import everything, lines_through_texts, outside_frame, texts_on_texts
from tests.drawings.pieces import ALL, CROWDED, DATA, FIRST, INCH_BAR, METRIC, TWO_ROWS, bar, plain, random_bar

ISO, ASME, ASME_IN = style("iso", "mm"), style("asme", "mm"), style("asme", "in")
LOOKS = {"iso": ISO, "iso-comma": style("iso", "mm", decimal=","), "asme": ASME, "asme-inch": ASME_IN}
ISO_SPACE = {"A4": (267.0, 190.0), "A3": (390.0, 277.0), "A2": (564.0, 400.0)}  # ISO 5457, margins 20 and 10


def _texts(sheet: Sheet) -> list[str]:
    return [m.text for m in everything(sheet) if isinstance(m, Text)]


def _words(drawing: Drawing) -> str:
    return " ".join(" ".join(_texts(sheet)) for sheet in drawing.sheets)


def _dimension_texts(drawing: Drawing, kind: DimensionKind) -> list[str]:
    found = [d for sheet in drawing.sheets for view in sheet.views for d in view.dimensions if d.kind is kind]
    return [m.text for d in found for m in d.marks if isinstance(m, Text)]


@pytest.mark.parametrize("data", [FIRST, DATA], ids=["first", "third"])
@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("name", ALL)
def test_nothing_stands_on_anything_else(name: str, look: str, data: SheetData) -> None:
    for sheet in piece_drawing(ALL[name], data, LOOKS[look]).sheets:
        assert texts_on_texts(sheet) == []
        assert lines_through_texts(sheet) == []
        assert outside_frame(sheet) == []


@pytest.mark.parametrize("seed", range(24))
def test_nothing_stands_on_anything_else_on_random_bars(seed: int) -> None:
    look = list(LOOKS.values())[seed % 4]
    for sheet in piece_drawing(random_bar(seed), DATA if seed % 3 else FIRST, look).sheets:
        assert texts_on_texts(sheet) == []
        assert lines_through_texts(sheet) == []
        assert outside_frame(sheet) == []


def test_the_collision_check_itself_sees_a_planted_fault() -> None:
    sheet = piece_drawing(METRIC, DATA, ISO).sheets[0]
    word = next(m for m in sheet.marks if isinstance(m, Text) and m.text == "NOTES")
    line = Stroke(((word.at[0] - 5.0, word.at[1] + 1.0), (word.at[0] + 20.0, word.at[1] + 1.0)), Line.OUTLINE)
    assert texts_on_texts(replace(sheet, marks=(*sheet.marks, word)))
    assert lines_through_texts(replace(sheet, marks=(*sheet.marks, line)))
    assert outside_frame(replace(sheet, marks=(*sheet.marks, replace(word, at=(1.0, 1.0)))))


# Complete, and nothing twice


@pytest.mark.parametrize("name", [n for n in ALL if n != "bare"])
def test_every_hole_has_one_tag_on_the_sheet_and_one_in_the_table(name: str) -> None:
    drawing = piece_drawing(ALL[name], DATA, ASME)  # whose sheets are not named like tags, as A2 is
    count = Counter(text for sheet in drawing.sheets for text in _texts(sheet))
    tags = [one.tag for one in tagged_holes(ALL[name])]
    assert [(tag, count[tag]) for tag in tags] == [(tag, 2) for tag in tags]


def test_every_hole_is_located_by_one_ordinate_each_way() -> None:
    """By hand from the piece's own text: its hole places, rising, and zero."""
    drawing = piece_drawing(METRIC, FIRST, ISO)
    assert _dimension_texts(drawing, DimensionKind.ORDINATE_X) == [
        "0", "40", "87.5", "187.5", "287.5", "340", "400", "450", "500", "600", "700", "750",
    ]  # fmt: skip
    assert _dimension_texts(drawing, DimensionKind.ORDINATE_Y) == []  # all stand on the centre line


def test_places_that_repeat_the_ordinates_stand_under_heads_in_brackets() -> None:
    """ISO 129-1 and ASME Y14.5: an auxiliary dimension is in parentheses."""
    texts = _texts(piece_drawing(METRIC, FIRST, ISO).sheets[0])
    assert "(X)" in texts
    assert "X" not in texts


def test_many_holes_are_located_by_the_table_from_a_drawn_origin() -> None:
    drawing = piece_drawing(CROWDED, DATA, ISO)
    assert _dimension_texts(drawing, DimensionKind.ORDINATE_X) == []
    texts = _texts(drawing.sheets[0])
    assert "HOLE POSITIONS FROM THE DATUM CORNER" in texts
    assert Counter(texts)["X"] >= 2  # the axis and the heads of the table
    assert "(X)" not in texts


def test_outer_sizes_are_said_once_each() -> None:
    assert sorted(_dimension_texts(piece_drawing(METRIC, DATA, ISO), DimensionKind.LINEAR)) == ["20", "40", "800"]
    inch = piece_drawing(INCH_BAR, DATA, ASME_IN)
    assert sorted(_dimension_texts(inch, DimensionKind.LINEAR)) == [".75", "1.50", "31.81"]


def test_inch_ordinates_have_three_places_and_no_leading_zero() -> None:
    """By hand: 12-9/16 in is 12.5625, 30-5/16 in is 30.3125; halves go up."""
    drawing = piece_drawing(INCH_BAR, DATA, ASME_IN)
    assert _dimension_texts(drawing, DimensionKind.ORDINATE_X) == [
        ".000", "1.500", "3.000", "4.500", "9.875", "12.563", "15.250", "24.000", "30.313",
    ]  # fmt: skip
    assert _dimension_texts(drawing, DimensionKind.ORDINATE_Y) == []  # all stand on the centre line


def test_sizes_tolerance_and_chamfer_are_on_the_sheet() -> None:
    texts = _texts(piece_drawing(METRIC, FIRST, ISO).sheets[0])
    for words in ("⌀13.5", "⌀1.5", "M12 - 6H", "⌀10.2", "⌀10 H7 (+0.015/0)", "⌴⌀20", "12.6"):
        assert words in texts
    assert [t for t in texts if "45°" in t] == ["1 × 45° ALL EDGES OF TOP AND BOTTOM"]


def test_datum_letters_stand_on_the_views_when_a_tolerance_names_them() -> None:
    with_datums = Counter(_texts(piece_drawing(bar(plain(50.0, 20.0, tolerance=0.5)), DATA, ISO).sheets[0]))
    without = Counter(_texts(piece_drawing(bar(plain(50.0, 20.0)), DATA, ISO).sheets[0]))
    assert [with_datums[letter] - without[letter] for letter in "ABC"] == [2, 2, 2]  # on the view and in the frame


def test_holes_of_several_tables_are_told_apart() -> None:
    holes = [
        Hole(x=x, y=20.0, diameter=13.5, tables=(t,)) for x, t in ((40.0, "mill"), (60.0, "borer"), (100.0, "mill"))
    ]
    words = _words(piece_drawing(bar(*holes), DATA, ISO))
    assert "FOR TABLE mill USE HOLES A1, A3." in words
    assert "FOR TABLE borer USE HOLES A2." in words


# Views


@pytest.mark.parametrize(("data", "below"), [(DATA, True), (FIRST, False)], ids=["third", "first"])
def test_the_elevation_is_aligned_and_on_the_side_its_projection_asks_for(data: SheetData, below: bool) -> None:
    """ISO 5456-2: with the plan as view from above, the front view stands below it in third angle, above in first."""
    plan, elevation = piece_drawing(METRIC, data, ISO).sheets[0].views[:2]
    assert plan.origin[0] == elevation.origin[0]
    assert (elevation.origin[1] < plan.origin[1]) is below


def test_the_section_replaces_hidden_lines_where_holes_are_blind_in_one_row() -> None:
    names = [view.name for view in piece_drawing(METRIC, DATA, ISO).sheets[0].views]
    assert [name for name in names if not name.startswith("detail")] == ["plan", "section A-A", "pictorial"]
    assert [view.name for view in piece_drawing(INCH_BAR, DATA, ASME_IN).sheets[0].views][1] == "front elevation"


def test_a_plane_that_misses_holes_is_drawn_on_the_plan() -> None:
    sheet = piece_drawing(CROWDED, DATA, ASME).sheets[0]
    assert any(isinstance(m, Stroke) and m.line is Line.SECTION for m in sheet.marks)
    assert "SECTION A-A" in _texts(sheet)


# Sheets


@pytest.mark.parametrize(
    ("piece", "size", "scale"),
    [
        pytest.param(bar(plain(80.0, 20.0)), "A4", 1.0, id="160-mm-bar-at-full-size-on-A4"),
        # 800 mm at 1:2 is 400 mm, more than the 390 mm of A3; 1:5 makes the 10 mm holes 2 mm, which can be told apart
        pytest.param(METRIC, "A3", 0.2, id="800-mm-bar-at-1:5-on-A3"),
        # 3.5 m at 1:10 makes 25 mm of thickness 2.5 mm, too thin; at 1:5 it is 700 mm, more than the 390 mm of A3
        pytest.param(bar(plain(80.0, 100.0), size=(3500.0, 440.0, 25.0)), "A1", 0.2, id="3500-mm-plate-at-1:5-on-A1"),
    ],
)
def test_sheet_and_scale_by_hand(piece: Piece, size: str, scale: float) -> None:
    sheet = piece_drawing(piece, DATA, ISO).sheets[0]
    assert (sheet.size, sheet.views[0].scale) == (size, scale)


@pytest.mark.parametrize("name", ALL)
def test_views_fit_the_drawing_space_of_their_sheet(name: str) -> None:
    """ISO 5457 drawing spaces, typed here."""
    piece = ALL[name]
    sheet = piece_drawing(piece, DATA, ISO).sheets[0]
    wide, high = ISO_SPACE[sheet.size]
    scale = sheet.views[0].scale
    assert scale in (10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1)  # ISO 5455
    ends = [
        view.to_paper(p)[0] for view in sheet.views[:-1] for m in view.marks if isinstance(m, Stroke) for p in m.points
    ]
    assert max(ends) - min(ends) < wide
    assert (piece.blank.width + piece.blank.thickness) * scale < high


def test_a_long_table_goes_to_a_second_sheet() -> None:
    holes = [plain(20.0 + 25.0 * i, 20.0 + 25.0 * j, 12.0) for i in range(16) for j in range(8)]
    drawing = piece_drawing(bar(*holes, size=(415.0, 215.0, 20.0)), FIRST, ISO)
    assert [sheet.size for sheet in drawing.sheets] == ["A3", "A3"]
    assert "1/2" in _texts(drawing.sheets[0])
    assert "2/2" in _texts(drawing.sheets[1])
    assert "HOLE POSITIONS: SEE THE NEXT SHEET." in _texts(drawing.sheets[0])
    assert Counter(_texts(drawing.sheets[1]))["A128"] == 1


def test_a_piece_too_large_for_any_sheet_is_refused_with_a_remedy() -> None:
    with pytest.raises(SheetError, match=r"outrigger does not fit sheet A0 at .*; make it of several pieces"):
        piece_drawing(bar(size=(2.0e8, 40.0, 20.0)), DATA, ISO)


# Words


def test_title_block_says_what_the_part_is() -> None:
    """Mass by hand: 100 x 40 x 20 mm of steel at 7850 kg/m3 is 0.628 kg."""
    texts = _texts(piece_drawing(bar(size=(100.0, 40.0, 20.0)), DATA, ISO).sheets[0])
    for words in (
        "Outrigger bar", DATA.title, DATA.content_id, "S235JR / AISI 1018-1020", "40 x 20 flat", "2", "0.63 kg", "mm",
        "ISO 2768-m", "1:1", "A4", "1/1",
    ):  # fmt: skip
        assert words in texts


def test_asme_block_states_the_inch_tolerances() -> None:
    texts = _texts(piece_drawing(INCH_BAR, DATA, ASME_IN).sheets[0])
    for words in ("UNLESS OTHERWISE SPECIFIED", "DIMENSIONS ARE IN INCHES", ".XX ±.01 .XXX ±.005"):
        assert words in [" ".join(text.split()) for text in texts]


def test_dates_and_names_are_printed_only_when_given() -> None:
    signed = replace(DATA, owner="Millrace canal-lock depot", creator="toolroom", date="2031-05-04", revision="B")
    texts = _texts(piece_drawing(METRIC, signed, ISO).sheets[0])
    for words in ("Millrace canal-lock depot", "toolroom", "2031-05-04", "B"):
        assert words in texts


def _finding(place: str, severity: Severity) -> Finding:
    return Finding(
        code="hole-to-edge", severity=severity, place=place, message="The web is 1.2 mm.", rule="web", source="test",
        remedy="Move the hole.",
    )  # fmt: skip


@pytest.mark.parametrize("place", ["outrigger, hole A1", "outrigger on knee-mill", "outrigger copy 1 and sole copy 1"])
def test_a_stop_about_the_piece_is_printed(place: str) -> None:
    words = _words(piece_drawing(METRIC, replace(DATA, findings=(_finding(place, Severity.STOP),)), ISO))
    assert "STOP: DO NOT MAKE OR USE" in words
    assert f"{place}: The web is 1.2 mm. Move the hole." in words


@pytest.mark.parametrize(
    "finding",
    [_finding("outrigger, hole A1", Severity.CAUTION), _finding("outrigger-long, hole A1", Severity.STOP)],
    ids=["a caution", "another piece"],
)
def test_no_stop_is_printed_for(finding: Finding) -> None:
    assert "STOP" not in _words(piece_drawing(METRIC, replace(DATA, findings=(finding,)), ISO))


def test_a_long_title_is_made_smaller_not_longer() -> None:
    long = replace(METRIC, title="Outrigger bar for the upper sluice-valve bonnet of the second chamber, left hand")
    sheet = piece_drawing(long, DATA, ISO).sheets[0]
    assert outside_frame(sheet) == []
    assert lines_through_texts(sheet) == []


@pytest.mark.parametrize("look", LOOKS.values(), ids=list(LOOKS))
def test_the_same_piece_gives_the_same_drawing(look: Style) -> None:
    assert piece_drawing(TWO_ROWS, DATA, look) == piece_drawing(TWO_ROWS, DATA, look)


def test_figures_that_only_locate_holes_with_a_position_tolerance_are_boxed() -> None:
    """ISO 1101 and ASME Y14.5: theoretically exact (basic) dimensions. By hand: y 18 also locates the plain hole."""
    holes = [plain(x, y, tolerance=0.5) for x in (50.0, 176.0, 302.0) for y in (18.0, 62.0)]
    piece = bar(*holes, plain(120.0, 18.0), size=(360.0, 80.0, 30.0))
    boxed: set[str] = set()
    free: set[str] = set()
    for view in piece_drawing(piece, DATA, ISO).sheets[0].views:
        for dimension in view.dimensions:
            words = next(m.text for m in dimension.marks if isinstance(m, Text))
            rim = any(isinstance(m, Stroke) and m.closed for m in dimension.marks)
            (boxed if rim else free).add(words)
    assert boxed == {"50", "176", "302", "62"}
    assert free == {"0", "18", "120", "360", "80", "30"}
    assert "X AND Y OF HOLES WITH ⌖ ARE BASIC DIMENSIONS." in _words(piece_drawing(piece, DATA, ASME))


@pytest.mark.parametrize(
    ("x", "tolerance", "told"),
    [
        pytest.param(50.0, 0.05, False, id="as-written"),
        pytest.param(50.002, 0.05, False, id="2-microns-off-are-4-of-the-5-allowed"),
        pytest.param(50.003, 0.05, True, id="3-microns-off-are-6-of-the-5-allowed"),
        pytest.param(50.003, 0.5, False, id="of-a-wide-zone-little"),
        pytest.param(50.003, None, False, id="no-zone"),
    ],
)
def test_places_finer_than_figures_are_to_be_read_in_the_list(x: float, tolerance: float | None, told: bool) -> None:
    """A hole off by d uses 2 d of its zone (ISO 1101, ASME Y14.5); a tenth is allowed, common practice, no source."""
    holes = [plain(x, 20.0, 10.0, tolerance), plain(150.0, 20.0, 13.5, 1.5)]
    words = _words(piece_drawing(bar(*holes, size=(200.0, 40.0, 20.0)), DATA, ISO))
    assert ("IN FULL: outrigger-holes.csv" in words) is told


def test_a_section_stands_for_a_tangle_of_hidden_lines() -> None:
    """By hand: the counterbore E1 and the slot B1 overlap from the front; the plane must show E1 and a blind hole D."""
    sheet = piece_drawing(TWO_ROWS, DATA, ISO).sheets[0]
    assert [view.name for view in sheet.views[:2]] == ["plan", "section A-A"]
    texts = _texts(sheet)
    assert (texts.count("A-A"), texts.count("X"), texts.count("Y")) == (1, 2, 2)  # table and origin
    hidden = [m for m in sheet.views[1].marks if isinstance(m, Stroke) and m.line is Line.HIDDEN]
    assert hidden == []
