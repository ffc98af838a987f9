"""Shaped pieces that are alike about one middle line count from it that way, and from an edge the other way.

A centre line places what stands on it, and what stands on both sides of it has one distance across it (ISO 129-1,
ASME Y14.5, from memory). Figures are made by hand from the sizes in `shapes.py`.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest

from slotwright.drawings.paper.sheet import Circle, DimensionKind, Drawing, Fill, Line, Stroke, Text, View
from slotwright.drawings.paper.sheet_data import SheetData
from slotwright.drawings.paper.style import Style, style
from slotwright.drawings.piece.piece_sheet import piece_drawing
from slotwright.drawings.proof import proof_of
from slotwright.drawings.shapes.patterns import Zero, origin_of
from slotwright.drawings.shapes.tables import shaped_tables
from slotwright.pieces.blanks import Bar, Plate
from slotwright.pieces.faces import Face
from slotwright.pieces.features import Counterbore, Groove, Hole, Purpose
from slotwright.pieces.outline import rectangle
from slotwright.pieces.piece import Piece
from tests.drawings.pieces import DATA, FIRST
from tests.drawings.shapes import DOG_LEG, EARS, FENCE, GRID, JAW, KEYED, PARENT, STEP_BLOCK, STRAP, TEE, piece, tapped

ISO, ASME = style("iso", "mm"), style("asme", "in")
LOOKS = [pytest.param(FIRST, ISO, id="iso"), pytest.param(DATA, ASME, id="asme")]
CORNER, LENGTH, WIDTH = (Zero.EDGE, Zero.EDGE), (Zero.MIDDLE, Zero.EDGE), (Zero.EDGE, Zero.MIDDLE)
BOTH = (Zero.MIDDLE, Zero.MIDDLE)

STOP = tapped(90.0, 15.0, "M8", 20.0, 16.0, Face.FRONT)
SCREWS = tuple(
    Hole(
        x=x,
        y=32.5,
        diameter=13.5,
        counterbore=Counterbore(diameter=20.0, depth=13.0),
        position_tolerance=0.5,
        purpose=Purpose.TABLE,
    )
    for x in (40.0, 200.0)
)
KEY_SEAT = Groove(face=Face.BOTTOM, along="y", centre=120.0, width=14.0, depth=5.0, label="key seat")
STOP_FENCE = piece(
    "stop-fence",  # 65 wide: its screws stand on the line 32.5 from either edge, at no even places along it
    Bar(length=260.0, width=65.0, thickness=30.0, edge_chamfer=1.0),
    *SCREWS,
    STOP,
    grooves=(KEY_SEAT,),
)


def texts(drawing: Drawing) -> list[str]:
    marks = (m for sheet in drawing.sheets for m in (*sheet.marks, *(m for v in sheet.views for m in v.marks)))
    return [mark.text for mark in marks if isinstance(mark, Text)]


def distances(drawing: Drawing) -> Counter[str]:
    found = [d for sheet in drawing.sheets for view in sheet.views for d in view.dimensions]
    linear = (d for d in found if d.kind is DimensionKind.LINEAR)
    return Counter(mark.text for d in linear for mark in d.marks if isinstance(mark, Text))


def view(drawing: Drawing, name: str) -> View:
    return next(v for sheet in drawing.sheets for v in sheet.views if v.name == name)


def rows(one: Piece) -> dict[str, list[str]]:
    """The two places of each hole in the tables by its tag."""
    found: dict[str, list[str]] = {}
    for table in shaped_tables(one, ISO):
        for block in table.blocks:
            if table.columns[0].head == "TAG":
                tags, first, second = block.cells[:3]
                found |= {str(tag): [str(u), str(v)] for tag, u, v in zip(tags, first, second, strict=True)}
    return found


# What counts from where


def _grooved(*centres: float, face: Face = Face.BOTTOM, depth: float = 4.0) -> Piece:
    grooves = tuple(Groove(face=face, along="x", centre=at, width=6.0, depth=depth) for at in centres)
    hole = Hole(x=35.0, y=40.0, diameter=9.0)
    return piece("grooved", Bar(length=100.0, width=80.0, thickness=20.0), hole, grooves=grooves)


def _rows(*off: float) -> Piece:
    """Pairs of holes so far from the middle of 90, at places along it that are not even, and one in the middle."""
    pairs = [Hole(x=20.0 + 13.0 * n, y=45.0 + way * at, diameter=6.0) for n, at in enumerate(off) for way in (1, -1)]
    sunk = Hole(x=140.0, y=45.0, diameter=9.0, counterbore=Counterbore(diameter=15.0, depth=9.0), face=Face.BOTTOM)
    return piece("rows", Plate(outline=rectangle(150.0, 90.0), thickness=12.0), *pairs, sunk)


@pytest.mark.parametrize(
    ("one", "found"),
    [
        pytest.param(STOP_FENCE, WIDTH, id="screws-on-the-middle-line"),
        pytest.param(KEYED, WIDTH, id="grooves-on-both-sides"),
        pytest.param(EARS, WIDTH, id="outline-alike-about-its-length"),
        pytest.param(PARENT, WIDTH, id="pocket-on-the-middle-line"),
        pytest.param(STRAP, WIDTH, id="slot-along-the-middle-line"),
        pytest.param(JAW, LENGTH, id="screws-on-both-sides-of-the-length"),
        pytest.param(TEE, LENGTH, id="outline-alike-about-its-width"),
        pytest.param(FENCE, BOTH, id="alike-both-ways"),
        pytest.param(GRID, BOTH, id="alike-both-ways-with-many-places"),
        pytest.param(DOG_LEG, CORNER, id="alike-neither-way"),
        pytest.param(STEP_BLOCK, CORNER, id="nothing-stands-on-or-off-the-line"),
        pytest.param(_rows(10.0, 20.0, 30.0), WIDTH, id="three-distances"),
        pytest.param(_rows(10.0, 20.0, 30.0, 38.0), CORNER, id="four-are-too-many"),
        pytest.param(_grooved(20.0, 60.0), WIDTH, id="pair-of-grooves"),
        pytest.param(_grooved(20.0, 55.0), CORNER, id="grooves-not-alike"),
        pytest.param(_grooved(10.0, face=Face.FRONT), CORNER, id="a-groove-in-one-side"),
        pytest.param(
            replace(STOP_FENCE, holes=(*SCREWS, tapped(60.0, 20.0, "M8", 15.0, 12.0, Face.BOTTOM))),
            CORNER,
            id="one-hole-off-the-line",
        ),
        pytest.param(
            replace(STOP_FENCE, holes=(SCREWS[0], replace(SCREWS[1], y=33.0))), CORNER, id="screws-out-of-line"
        ),
    ],
)
def test_what_counts_from_the_middle(one: Piece, found: tuple[Zero, Zero]) -> None:
    origin = origin_of(one)
    assert (origin.along, origin.across) == found


@pytest.mark.parametrize(
    ("one", "place"),
    [(STOP_FENCE, (0.0, 32.5)), (KEYED, (0.0, 45.0)), (JAW, (60.0, 0.0)), (TEE, (50.0, 0.0))],
    ids=lambda value: value.name if isinstance(value, Piece) else "",
)
def test_the_other_way_it_counts_from_the_edge(one: Piece, place: tuple[float, float]) -> None:
    assert (origin_of(one).x, origin_of(one).y) == place


# Figures


@pytest.mark.parametrize(
    ("one", "linear"),
    [
        (STOP_FENCE, ["260", "65", "30", "14", "120"]),  # nothing says 32.5
        (KEYED, ["160", "90", "20", "2\u00d7 10", "50"]),  # grooves 20 and 70 from the front edge
        (JAW, ["120", "50", "25", "2\u00d7 12", "80"]),  # grooves 20 and 100 from the left end
        (EARS, ["30", "130", "40", "80", "12"]),  # 20 to 60 is 40 wide
        (TEE, ["40", "100", "30", "80", "12"]),  # 30 to 70 is 40 wide
        (STRAP, ["125", "40", "20", "20", "6", "110"]),  # nose step 25 about 7.5 reaches to 20
    ],
    ids=lambda value: value.name if isinstance(value, Piece) else "",
)
def test_only_what_the_centre_line_does_not_place_is_dimensioned(one: Piece, linear: list[str]) -> None:
    assert distances(piece_drawing(one, FIRST, ISO)) == Counter(linear)


def test_a_pair_is_one_distance_though_its_places_have_more_decimals_than_are_compared() -> None:
    """Grooves 28.00005 either side of 40.00005: 56.0001 apart, written 56."""
    one = _grooved(12.0, 68.0001)
    wide = replace(
        one, blank=Bar(length=100.0, width=80.0001, thickness=20.0), holes=(replace(one.holes[0], y=40.00005),)
    )
    assert distances(piece_drawing(wide, FIRST, ISO)) == Counter(["100", "80", "20", "2\u00d7 6", "56"])


@pytest.mark.parametrize(
    ("one", "places"),
    [
        (STOP_FENCE, {"A1": ["40", "0"], "A2": ["200", "0"], "B1": ["90", "15"]}),  # B1: X and Z of the front face
        (KEYED, {"A1": ["30", "0"], "A2": ["115", "0"], "B1": ["60", "-12"], "B2": ["60", "12"], "C1": ["90", "10"]}),
        (JAW, {"A1": ["-22", "18"], "A2": ["22", "18"], "B1": ["0", "38"]}),  # 38 and 82 from the left of 120
        (TEE, {"A1": ["-32", "15"], "A2": ["32", "15"], "B1": ["0", "60"]}),
    ],
    ids=lambda value: value.name if isinstance(value, Piece) else "",
)
def test_tables_count_from_the_line_and_the_edge(one: Piece, places: dict[str, list[str]]) -> None:
    assert rows(one) == places


@pytest.mark.parametrize(
    ("one", "notes"),
    [
        (KEYED, ["X FROM THE LEFT END, Y FROM THE CENTRE LINE. HEIGHTS Z FROM THE BOTTOM FACE.",
                 "DATUMS: A BOTTOM FACE, B CENTRE PLANE OF THE WIDTH, C LEFT END."]),
        (JAW, ["X FROM THE CENTRE LINE, Y FROM THE FRONT EDGE.",
               "DATUMS: A BOTTOM FACE, B FRONT EDGE, C CENTRE PLANE OF THE LENGTH."]),
        (DOG_LEG, ["X AND Y FROM THE DATUM CORNER: LEFT END, FRONT EDGE."]),
    ],
    ids=lambda value: value.name if isinstance(value, Piece) else "",
)  # fmt: skip
def test_the_notes_say_what_counts_from_where(one: Piece, notes: list[str]) -> None:
    written = " ".join(texts(piece_drawing(one, FIRST, ISO)))
    assert [note for note in notes if note not in written] == []


def test_a_long_table_says_it_in_its_title() -> None:
    """More holes than one table gives in one: positions stand apart from sizes."""
    holes = tuple(Hole(x=8.0 + 3.0 * n + n * n / 60.0, y=45.0, diameter=2.0) for n in range(40))
    one = replace(_rows(), holes=holes, grooves=(Groove(along="y", centre=140.0, width=6.0, depth=3.0),))
    titles = [table.title for table in shaped_tables(one, ASME)]
    assert titles == ["HOLE SIZES", "HOLE POSITIONS FROM THE LEFT END AND THE CENTER LINE"]


# Lines and signs


@pytest.mark.parametrize(
    ("one", "name", "line"),
    [
        pytest.param(KEYED, "plan", ((-3.0, 45.0), (163.0, 45.0)), id="width-in-the-plan"),
        pytest.param(KEYED, "bottom view", ((-3.0, -45.0), (163.0, -45.0)), id="width-from-below"),
        pytest.param(JAW, "plan", ((60.0, -3.0), (60.0, 53.0)), id="length-in-the-plan"),
        pytest.param(JAW, "section A-A", ((60.0, -3.0), (60.0, 28.0)), id="length-in-the-elevation"),
        pytest.param(STRAP, "right end", ((20.0, -3.0), (20.0, 23.0)), id="width-in-the-end"),
    ],
)
def test_the_centre_line_runs_over_each_whole_view(
    one: Piece, name: str, line: tuple[tuple[float, float], tuple[float, float]]
) -> None:
    """It reaches 3 mm of paper beyond the outline; the sheets are 1:1 or 1:2."""
    shown = view(piece_drawing(one, FIRST, ISO), name)
    over = 3.0 - 3.0 / shown.scale
    along = 0 if line[0][1] == line[1][1] else 1
    (low, high), level = sorted(end[along] for end in line), line[0][1 - along]
    spans = [sorted(p[along] for p in m.points) for m in shown.marks if isinstance(m, Stroke) and m.line is Line.CENTRE
             and all(abs(p[1 - along] - level) < 1e-6 for p in m.points)]  # fmt: skip
    assert any(abs(a - low - over) < 1e-6 and abs(b - high + over) < 1e-6 for a, b in spans)


def test_no_line_runs_along_the_middle_that_nothing_counts_from() -> None:
    lines = (m for m in view(piece_drawing(KEYED, FIRST, ISO), "plan").marks if isinstance(m, Stroke))
    upright = [m for m in lines if m.line is Line.CENTRE and m.points[0][0] == m.points[-1][0] == 80.0]
    assert upright == []


@pytest.mark.parametrize(("data", "look"), LOOKS)
@pytest.mark.parametrize(("one", "end"), [(KEYED, (0.0, 45.0)), (JAW, (60.0, 0.0))], ids=["width", "length"])
def test_a_ring_marks_where_the_centre_line_leaves_the_edge(
    one: Piece, end: tuple[float, float], data: SheetData, look: Style
) -> None:
    drawing = piece_drawing(one, data, look)
    rings = [m.centre for m in drawing.sheets[0].marks if isinstance(m, Circle) and m.line is Line.DIMENSION]
    for name, way in (("plan", 1.0), ("bottom view", -1.0)):
        at = view(drawing, name).to_paper((end[0], way * end[1]))
        assert any(abs(u - at[0]) < 1e-6 and abs(v - at[1]) < 1e-6 for u, v in rings)


@pytest.mark.parametrize(("data", "look"), LOOKS)
@pytest.mark.parametrize(
    ("one", "size", "letter"),
    [(STOP_FENCE, 65.0, "B"), (KEYED, 90.0, "B"), (JAW, 120.0, "C")],
    ids=["fence", "width", "length"],
)
def test_the_datum_goes_on_with_the_dimension_line(
    one: Piece, size: float, letter: str, data: SheetData, look: Style
) -> None:
    """ISO 5459 and ASME Y14.5: so placed, it names the centre plane of the size; on an outline it names the face."""
    drawing = piece_drawing(one, data, look)
    plan = view(drawing, "plan")
    (whole,) = [d for d in plan.dimensions if d.value == size]
    tips = [m.points[0] for m in whole.marks if isinstance(m, Fill)]
    triangles = [m.points for m in drawing.sheets[0].marks if isinstance(m, Fill) and m.line is Line.DIMENSION]
    feet = [((p[0][0] + p[1][0]) / 2.0, (p[0][1] + p[1][1]) / 2.0) for p in triangles]
    on = [foot for foot in feet if any(abs(foot[0] - u) + abs(foot[1] - v) < 1e-6 for u, v in tips)]
    assert len(on) == 1
    letters = [m.at for m in drawing.sheets[0].marks if isinstance(m, Text) and m.text == letter]
    assert min(abs(x - on[0][0]) + abs(y - on[0][1]) for x, y in letters) < 4.0 * look.text


@pytest.mark.parametrize(("data", "look"), LOOKS)
@pytest.mark.parametrize("one", [STOP_FENCE, _rows(10.0, 30.0), _grooved(20.0, 60.0)], ids=lambda one: one.name)
def test_nothing_stands_on_anything_else(one: Piece, data: SheetData, look: Style) -> None:
    assert proof_of(piece_drawing(one, data, look)) == ()
