"""Sheets of every shape: edges where geometry puts them, figures by hand, everything said once, nothing on anything.

Rules of drawing named in the tests are those of ISO 128 and ISO 129-1, from memory, where no other source stands.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache
from math import cos, radians, sin

import pytest

from slotwright.drawings.paper.sheet import Arc, Circle, DimensionKind, Drawing, Line, Mark, Stroke, Text, View
from slotwright.drawings.paper.style import Style, style
from slotwright.drawings.piece.piece_sheet import piece_drawing
from slotwright.drawings.proof import proof_of
from slotwright.drawings.shapes.patterns import bolt_circles, origin_of
from slotwright.drawings.shapes.reading_outlines import Form, read
from slotwright.drawings.shapes.seen import Plane, view_marks
from slotwright.parts.materials import material
from slotwright.pieces.blanks import Disc, Extrusion, Plate
from slotwright.pieces.faces import Face
from slotwright.pieces.features import Countersink, Groove, Hole, Limits, Pocket, Tenon
from slotwright.pieces.hole_groups import tagged_holes
from slotwright.pieces.outline import Outline, circle, obround, rectangle
from slotwright.pieces.piece import Bar, Piece
from slotwright.sharing.sheets import sheet_data, sheet_style
from tests.drawings.collisions import everything, lines_through_texts, outside_frame, texts_on_texts
from tests.drawings.pieces import DATA, FIRST
from tests.drawings.shapes import (
    ALL,
    CHUCK_BASE,
    DOG_LEG,
    FENCE,
    GRID,
    INSERT,
    JIG,
    PARENT,
    REDRILL,
    SLOT_KEY,
    STEP_BLOCK,
    T_NUT,
    VEE_BLOCK,
    piece,
    ring,
)
from tests.random_designs import random_design

ISO, ASME = style("iso", "mm"), style("asme", "in")
KEY = replace(
    piece("key", Bar(length=28.0, width=14.0, thickness=11.5)),
    width_limits=((14.0, Limits(tolerance="h6", upper=0.0, lower=-0.011)),),
)
STEP = ((0.0, 0.0), (18.0, 0.0), (18.0, 9.0), (16.0, 9.0), (16.0, 15.0), (2.0, 15.0), (2.0, 9.0), (0.0, 9.0))
STEPPED_KEY = replace(
    piece("stepped-key", Extrusion(profile=Outline(STEP), length=36.0)),
    width_limits=tuple((size, Limits(tolerance="h6", upper=0.0, lower=-0.011)) for size in (14.0, 18.0)),
)
LOOKS = {"iso mm first": ISO, "asme in third": ASME}


@cache
def sheets(one: Piece, look: Style = ISO) -> Drawing:
    return piece_drawing(one, FIRST if look.name == "iso" else DATA, look)


def texts(drawing: Drawing) -> list[str]:
    return [mark.text for sheet in drawing.sheets for mark in everything(sheet) if isinstance(mark, Text)]


def dimensioned(drawing: Drawing, kind: DimensionKind = DimensionKind.LINEAR) -> Counter[str]:
    """What is written in the dimensions of a kind."""
    found = [d for sheet in drawing.sheets for view in sheet.views for d in view.dimensions if d.kind is kind]
    return Counter(mark.text for d in found for mark in d.marks if isinstance(mark, Text))


def view(drawing: Drawing, name: str) -> View:
    return next(v for sheet in drawing.sheets for v in sheet.views if v.name == name)


def strokes(marks: tuple[Mark, ...], line: Line) -> set[tuple[tuple[float, float], ...]]:
    """Ends of straight lines, rounded, the lower left end first."""
    found = (m for m in marks if isinstance(m, Stroke) and m.line is line)
    return {tuple(sorted((round(x, 4) + 0.0, round(y, 4) + 0.0) for x, y in m.points)) for m in found}


def circles(marks: tuple[Mark, ...], line: Line) -> set[tuple[float, float, float]]:
    found = (m for m in marks if isinstance(m, Circle) and m.line is line)
    return {(round(m.centre[0], 4), round(m.centre[1], 4), round(m.radius, 4)) for m in found}


# Nothing stands on anything else


@pytest.mark.parametrize("seed", [38, 58])
def test_datum_letters_stand_clear_or_another_sheet_is_taken(seed: int) -> None:
    """Fences on whose plan one letter's box meets a dimension line, or the origin's letter, at the first scale."""
    made = random_design("fence", seed)
    for one in made.pieces:
        drawing = piece_drawing(one, sheet_data(made), sheet_style(made))
        assert proof_of(drawing) == ()
        assert all(lines_through_texts(sheet) == [] for sheet in drawing.sheets)


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("name", ALL)
def test_the_proof_finds_nothing(name: str, look: str) -> None:
    drawing = sheets(ALL[name], LOOKS[look])
    assert proof_of(drawing) == ()
    for sheet in drawing.sheets:
        assert texts_on_texts(sheet) == []
        assert lines_through_texts(sheet) == []
        assert outside_frame(sheet) == []


@pytest.mark.parametrize("name", ALL)
def test_every_hole_has_one_tag_among_the_views_and_one_row(name: str) -> None:
    count = Counter(texts(sheets(ALL[name], ASME)))
    tags = [one.tag for one in tagged_holes(ALL[name])]
    drawn = {"A", "B", "C"} & set(tags)  # letters that stand for datums or section planes are no tags
    assert not drawn
    assert [(tag, count[tag]) for tag in tags] == [(tag, 2) for tag in tags]


# Edges, by depth


PLATE = piece(
    "plate",
    Plate(outline=rectangle(120.0, 80.0), thickness=25.0),
    Hole(x=90.0, y=40.0, diameter=10.0, depth=5.0),
    pockets=(Pocket(outline=rectangle(60.0, 20.0, centre=(50.0, 40.0)), depth=10.0),),
    grooves=(Groove(face=Face.BOTTOM, along="y", centre=30.0, width=14.0, depth=5.0),),
)


def test_from_above_a_pocket_is_seen_and_a_groove_below_is_hidden() -> None:
    marks = view_marks(PLATE, Face.TOP, None, 1.0, ISO)
    seen, hidden = strokes(marks, Line.OUTLINE), strokes(marks, Line.HIDDEN)
    assert {((20.0, 30.0), (80.0, 30.0)), ((20.0, 30.0), (20.0, 50.0))} <= seen
    # The walls of the groove run the whole width: 30 -+ 7.
    assert {((23.0, 0.0), (23.0, 80.0)), ((37.0, 0.0), (37.0, 80.0))} == hidden
    assert circles(marks, Line.OUTLINE) == {(90.0, 40.0, 5.0)}


def test_from_below_it_is_the_other_way_round_and_upside_down() -> None:
    marks = view_marks(PLATE, Face.BOTTOM, None, 1.0, ISO)
    assert {((23.0, -80.0), (23.0, 0.0)), ((37.0, -80.0), (37.0, 0.0))} <= strokes(marks, Line.OUTLINE)
    assert ((20.0, -30.0), (80.0, -30.0)) in strokes(marks, Line.HIDDEN)
    assert circles(marks, Line.HIDDEN) == {(90.0, -40.0, 5.0)}


def test_from_the_front_the_groove_opens_the_outline_and_the_pocket_is_hidden() -> None:
    marks = view_marks(PLATE, Face.FRONT, None, 1.0, ISO)
    seen, hidden = strokes(marks, Line.OUTLINE), strokes(marks, Line.HIDDEN)
    assert {((0.0, 0.0), (23.0, 0.0)), ((37.0, 0.0), (120.0, 0.0)), ((23.0, 5.0), (37.0, 5.0))} <= seen
    assert {((20.0, 15.0), (80.0, 15.0)), ((20.0, 15.0), (20.0, 25.0)), ((80.0, 15.0), (80.0, 25.0))} <= hidden


def test_a_section_shows_the_pocket_and_linings_only_in_metal() -> None:
    marks = view_marks(PLATE, Face.FRONT, Plane(1, 40.0, True), 1.0, ISO)
    assert strokes(marks, Line.HIDDEN) == set()
    assert ((20.0, 15.0), (80.0, 15.0)) in strokes(marks, Line.OUTLINE)
    linings = [m.points for m in marks if isinstance(m, Stroke) and m.line is Line.HATCH]
    assert linings
    for (x0, y0), (x1, y1) in linings:
        x, y = (x0 + x1) / 2.0, (y0 + y1) / 2.0
        assert not (20.0 < x < 80.0 and y > 15.0)  # the pocket
        assert not (23.0 < x < 37.0 and y < 5.0)  # the groove
        assert 0.0 < x < 120.0
        assert 0.0 < y < 25.0


def test_lining_fills_the_cut_metal() -> None:
    # Pairs of lines for steel, a pair every 4.5 mm at 45 degrees: their total length is twice the cut area over 4.5,
    # whatever lies between a pair's lines. 120 x 25 less pocket 60 x 10, groove
    # 14 x 5, hole 10 x 5 and its 118 degree point, 10 / 2 * 5 / tan(59 deg).
    area = 120.0 * 25.0 - 600.0 - 70.0 - 50.0 - 5.0 * 5.0 / (sin(radians(59.0)) / cos(radians(59.0)))
    marks = view_marks(PLATE, Face.FRONT, Plane(1, 40.0, True), 1.0, ISO)
    linings = [m.points for m in marks if isinstance(m, Stroke) and m.line is Line.HATCH]
    length = sum(((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5 for a, b in linings)
    assert length * 4.5 / 2.0 == pytest.approx(area, rel=0.02)


def test_shapes_are_lined_by_their_material_as_bars_are() -> None:
    # Aluminium has dashes across its lines (ASME Y14.2 and Y14.3, from memory); no other pattern leans both ways but
    # plastic, whose lines are all whole.
    soft = replace(PLATE, material=material("EN AW-6061-T6"))
    marks = view_marks(soft, Face.FRONT, Plane(1, 40.0, True), 1.0, ISO)
    slopes = [(b[1] - a[1]) / (b[0] - a[0]) for a, b in (m.points for m in marks if isinstance(m, Stroke)
                                                          and m.line is Line.HATCH)]  # fmt: skip
    assert {round(slope, 6) for slope in slopes} == {1.0, -1.0}
    assert slopes.count(-1.0) > 2
    steel = view_marks(PLATE, Face.FRONT, Plane(1, 40.0, True), 1.0, ISO)
    assert all(m.points[1][1] > m.points[0][1] for m in steel if isinstance(m, Stroke) and m.line is Line.HATCH)


def test_a_tangent_from_straight_to_round_is_no_edge() -> None:
    rounded = piece("rounded", Plate(outline=rectangle(100.0, 60.0, 12.0), thickness=20.0))
    marks = view_marks(rounded, Face.FRONT, None, 1.0, ISO)
    assert strokes(marks, Line.OUTLINE) == {
        ((0.0, 0.0), (100.0, 0.0)),
        ((0.0, 20.0), (100.0, 20.0)),
        ((0.0, 0.0), (0.0, 20.0)),
        ((100.0, 0.0), (100.0, 20.0)),
    }
    assert strokes(marks, Line.HIDDEN) == set()


def test_a_pocket_through_the_rim_breaks_the_outline() -> None:
    open_side = piece(
        "open",
        Plate(outline=rectangle(100.0, 60.0), thickness=20.0),
        pockets=(Pocket(outline=rectangle(40.0, 30.0, centre=(50.0, 0.0)), depth=8.0),),
    )
    seen = strokes(view_marks(open_side, Face.FRONT, None, 1.0, ISO), Line.OUTLINE)
    # Its floor and walls are seen, and behind the opening the top edge of its back wall.
    assert {((30.0, 12.0), (70.0, 12.0)), ((30.0, 12.0), (30.0, 20.0)), ((0.0, 20.0), (100.0, 20.0))} <= seen


def test_a_chamfered_disc_shows_two_circles_and_its_side_three_levels() -> None:
    disc = piece("disc", Disc(diameter=80.0, thickness=20.0, bore=30.0, edge_chamfer=2.0))
    assert circles(view_marks(disc, Face.TOP, None, 1.0, ISO), Line.OUTLINE) == {
        (40.0, 40.0, 40.0),
        (40.0, 40.0, 38.0),
        (40.0, 40.0, 15.0),
    }
    side = strokes(view_marks(disc, Face.FRONT, None, 1.0, ISO), Line.OUTLINE)
    assert {((0.0, 2.0), (80.0, 2.0)), ((2.0, 20.0), (78.0, 20.0)), ((0.0, 2.0), (2.0, 0.0))} <= side
    assert strokes(view_marks(disc, Face.FRONT, None, 1.0, ISO), Line.HIDDEN) == {
        ((25.0, 0.0), (25.0, 20.0)),
        ((55.0, 0.0), (55.0, 20.0)),
    }


def test_a_countersink_shows_its_rim_and_its_cone() -> None:
    # 90 degrees, 20 wide on a hole of 10: it is (20 - 10) / 2 deep.
    sunk = piece(
        "sunk",
        Bar(length=60.0, width=40.0, thickness=15.0),
        Hole(x=30.0, y=20.0, diameter=10.0, countersink=Countersink(diameter=20.0)),
    )
    assert circles(view_marks(sunk, Face.TOP, None, 1.0, ISO), Line.OUTLINE) == {(30.0, 20.0, 10.0), (30.0, 20.0, 5.0)}
    assert circles(view_marks(sunk, Face.BOTTOM, None, 1.0, ISO), Line.OUTLINE) == {(30.0, -20.0, 5.0)}
    hidden = strokes(view_marks(sunk, Face.FRONT, None, 1.0, ISO), Line.HIDDEN)
    assert {((20.0, 15.0), (25.0, 10.0)), ((35.0, 10.0), (40.0, 15.0))} <= hidden


def test_a_hole_in_the_back_is_a_circle_from_behind_and_mirrored() -> None:
    one = piece(
        "back",
        Bar(length=100.0, width=40.0, thickness=30.0),
        Hole(x=20.0, y=12.0, face=Face.BACK, diameter=8.0, depth=15.0),
    )
    assert circles(view_marks(one, Face.BACK, None, 1.0, ISO), Line.OUTLINE) == {(-20.0, 12.0, 4.0)}
    assert circles(view_marks(one, Face.FRONT, None, 1.0, ISO), Line.HIDDEN) == {(20.0, 12.0, 4.0)}


def test_a_vee_is_seen_in_the_end_and_its_root_from_the_front_is_hidden() -> None:
    end = strokes(view_marks(VEE_BLOCK, Face.RIGHT, None, 1.0, ISO), Line.OUTLINE)
    assert {((15.0, 60.0), (38.0, 37.0)), ((42.0, 37.0), (65.0, 60.0)), ((38.0, 25.0), (42.0, 25.0))} <= end
    hidden = strokes(view_marks(VEE_BLOCK, Face.FRONT, None, 1.0, ISO), Line.HIDDEN)
    assert ((0.0, 37.0), (100.0, 37.0)) in hidden


@pytest.mark.parametrize("seed", range(6))
def test_what_is_seen_from_opposite_sides_has_one_silhouette(seed: int) -> None:
    one = list(ALL.values())[seed]
    for near, far in ((Face.TOP, Face.BOTTOM), (Face.FRONT, Face.BACK), (Face.LEFT, Face.RIGHT)):
        boxes = []
        for face in (near, far):
            marks = view_marks(one, face, None, 1.0, ISO)
            points = [p for m in marks if isinstance(m, Stroke) and m.line is Line.OUTLINE for p in m.points]
            points += [
                (m.centre[0] + s * m.radius, m.centre[1] + s * m.radius)
                for m in marks
                if isinstance(m, Circle) and m.line is Line.OUTLINE
                for s in (-1.0, 1.0)
            ]
            xs, ys = zip(*points, strict=True)
            boxes.append((round(max(xs) - min(xs), 4), round(max(ys) - min(ys), 4)))
        assert boxes[0] == boxes[1]


# Reading outlines


def test_outlines_are_read_as_a_machinist_names_them() -> None:
    assert read(rectangle(40.0, 20.0, 5.0)).form is Form.RECTANGLE
    assert read(obround(40.0, 20.0)).form is Form.OBROUND
    assert read(circle(40.0)).form is Form.CIRCLE
    assert (
        read(STEP_BLOCK.blank.profile if isinstance(STEP_BLOCK.blank, Extrusion) else circle(1.0)).form is Form.POLYGON
    )
    lens = Outline(((0.0, 0.0), (40.0, 0.0)), (0.3, 0.3))
    assert read(lens).form is Form.FREE


def test_rounded_and_broken_corners_are_read_as_the_sharp_ones_they_were() -> None:
    # A rectangle 40 x 20: lower left corner sharp, the others chamfered 3, rounded 4 and rounded 4.
    quarter = 0.41421356237309503
    mixed = Outline(
        ((0.0, 0.0), (37.0, 0.0), (40.0, 3.0), (40.0, 16.0), (36.0, 20.0), (4.0, 20.0), (0.0, 16.0)),
        (0.0, 0.0, 0.0, quarter, 0.0, quarter, 0.0),
    )
    reading = read(mixed)
    assert sorted((round(x, 6), round(y, 6)) for x, y in reading.corners) == [
        (0.0, 0.0),
        (0.0, 20.0),
        (40.0, 0.0),
        (40.0, 20.0),
    ]
    assert [(leg, len(sides)) for leg, sides in reading.chamfers] == [(3.0, 1)]
    assert [(radius, len(sides)) for radius, sides in reading.fillets] == [(4.0, 2)]


def test_a_vee_is_read_with_its_angle_lips_and_relief() -> None:
    assert isinstance(VEE_BLOCK.blank, Extrusion)
    vee = read(VEE_BLOCK.blank.profile).vee
    assert vee is not None
    assert vee.angle == pytest.approx(90.0)
    assert (vee.left, vee.right) == ((15.0, 60.0), (65.0, 60.0))
    assert vee.vertex == pytest.approx((40.0, 35.0))  # flanks at 45 degrees from lips 25 off the middle
    assert {(42.0, 25.0), (38.0, 25.0)} <= set(vee.relief)


# Origins and circles


@pytest.mark.parametrize(
    ("one", "origin"),
    [
        (CHUCK_BASE, (130.0, 110.0)),
        (REDRILL, (100.0, 100.0)),
        (GRID, (200.0, 150.0)),
        (PARENT, (0.0, 70.0)),
        (DOG_LEG, (0.0, 0.0)),
    ],
    ids=["bolt circle", "disc", "symmetric", "pocket off the middle one way", "outline without symmetry"],
)
def test_places_are_counted_from(one: Piece, origin: tuple[float, float]) -> None:
    found = origin_of(one)
    assert (found.x, found.y) == origin


def _about(x: float, y: float, *tenons: Tenon) -> Piece:
    """A plate of 300 x 200 with four holes round a place 110 mm from its left end that it is set up by."""
    holes = (Hole(x=px, y=py, diameter=9.0) for px, py in ring(4, 80.0, (x, y), 45.0))
    return piece(
        "set-up-by", Plate(outline=rectangle(300.0, 200.0), thickness=20.0), *holes, centre=(x, y), tenons=tenons
    )


REGISTER = Tenon(outline=circle(40.0, (110.0, 100.0)), face=Face.TOP, height=4.0, label="register")


@pytest.mark.parametrize(
    ("one", "name"),
    [
        (_about(110.0, 100.0), "BOLT CIRCLE'S CENTRE"),
        (_about(110.0, 100.0, REGISTER), "REGISTER'S CENTRE"),
        (_about(150.0, 100.0), "CENTRE"),
        (DOG_LEG, "DATUM CORNER"),
    ],
    ids=["bolt circle", "register", "middle of the plate", "corner"],
)
def test_the_sheet_says_whose_centre_places_are_counted_from(one: Piece, name: str) -> None:
    """A centre that is not the plate's own is named by what has it; common practice, no source."""
    assert origin_of(one).name == name
    assert f" FROM THE {name}" in " ".join(texts(sheets(one)))


LOPSIDED = replace(
    _about(110.0, 100.0), pockets=(Pocket(outline=rectangle(30.0, 12.0, centre=(250.0, 160.0)), depth=5.0),)
)


def test_a_centre_is_located_from_both_edges_where_the_piece_is_alike_neither_way() -> None:
    """Nothing says that 100 is half of 200 unless the figure stands there (ISO 129-1: every place by a figure)."""
    own = ["30", "12", "140", "60"]  # the pocket: 140 and 60 from the centre
    assert dimensioned(sheets(LOPSIDED)) == Counter(["110", "100", "300", "200", "20", *own])
    assert dimensioned(sheets(_about(150.0, 100.0))) == Counter(["300", "200", "20"])


def test_a_centre_on_the_middle_line_of_an_even_piece_is_located_one_way() -> None:
    """The plate is its own mirror image about the line 100 from its front edge, and the note says so."""
    even = _about(110.0, 100.0)
    assert dimensioned(sheets(even)) == Counter(["110", "300", "200", "20"])
    assert "X FROM THE BOLT CIRCLE'S CENTRE, Y FROM THE CENTRE LINE." in " ".join(texts(sheets(even)))


def test_places_count_from_the_centre_a_piece_is_set_up_by_whatever_its_holes() -> None:
    """Holes at odd places: no symmetry and no circle tells of the centre, yet the part is dialled in there."""
    odd = (Hole(x=30.0, y=30.0, diameter=8.0), Hole(x=150.0, y=70.0, diameter=6.0))
    blank = Plate(outline=rectangle(200.0, 100.0), thickness=10.0)
    assert not origin_of(piece("odd", blank, *odd)).central
    found = origin_of(piece("odd", blank, *odd, centre=(100.0, 50.0)))
    assert (found.x, found.y, found.middle) == (100.0, 50.0, True)


@pytest.mark.parametrize(
    ("cut_out", "written"),
    [((True, True), ("(300)", "(200)")), ((False, True), ("300", "(200)")), ((False, False), ("300", "200"))],
)
def test_how_much_is_shown_of_a_part_is_for_reference(cut_out: tuple[bool, bool], written: tuple[str, str]) -> None:
    """A figure in brackets is no requirement: no tolerance goes with it (ISO 129-1, auxiliary dimensions)."""
    shown = replace(_about(150.0, 100.0), cut_out=cut_out)
    assert dimensioned(sheets(shown)) == Counter([*written, "20"])


@pytest.mark.parametrize("centre", [None, (50.0, 50.0)], ids=["a row", "set up by its centre"])
def test_two_holes_across_the_middle_are_a_circle_only_of_what_is_set_up_by_its_centre(
    centre: tuple[float, float] | None,
) -> None:
    """Two screws of a round insert stand in a row along its tenon; two of a hub stand on its circle."""
    holes = (Hole(x=x, y=50.0, diameter=6.0) for x in (20.0, 80.0))
    one = piece("pair", Disc(diameter=100.0, thickness=10.0), *holes, centre=centre)
    assert len(bolt_circles(one)) == (0 if centre is None else 1)


def test_four_holes_in_a_rectangle_stand_on_no_circle() -> None:
    corners = [Hole(x=x, y=y, diameter=8.0) for x in (10.0, 90.0) for y in (10.0, 50.0)]
    assert bolt_circles(piece("corners", Plate(outline=rectangle(100.0, 60.0), thickness=10.0), *corners)) == ()


def test_two_patterns_on_one_circle_are_one_circle() -> None:
    (only,) = bolt_circles(REDRILL)
    assert (only.centre, only.diameter, len(only.holes)) == ((100.0, 100.0), 150.0, 9)


def test_polar_columns_give_the_circle_and_brackets_the_rest() -> None:
    count = Counter(texts(sheets(REDRILL)))
    # Holes at 45, 135, 225, 315 degrees and at 9, 81, 153, 225, 297 degrees on 150: 75 cos 45 = 53.03.
    for angle in ("45°", "135°", "315°", "9°", "81°", "153°", "297°"):
        assert count[angle] == 1
    assert count["225°"] == 2
    assert count["⌀150"] == 9
    assert count["(53.03)"] == 4  # x and y at 45, y at 135, x at 315
    assert count["(-53.03)"] == 6  # x at 135, y at 315, x and y of both at 225
    assert count["⌀150 B.C."] == 1


# Figures, each once


@pytest.mark.parametrize(
    ("one", "linear"),
    [
        (INSERT, ["180", "90", "20", "120 f7 (-0.036/-0.071)", "40 f7 (-0.025/-0.050)"]),
        (PARENT, ["300", "140", "140", "32", "120 H8 (+0.054/0)", "40 H8 (+0.039/0)"]),
        (CHUCK_BASE, ["260", "220", "25"]),
        (VEE_BLOCK, ["80", "60", "50", "4", "35", "100", "12", "18"]),
        (FENCE, ["300", "50", "30", "2× 14 H7 (+0.018/0)", "260"]),
        (T_NUT, ["28", "28", "13.8", "20", "11"]),
        (STEP_BLOCK, ["10", "20", "30", "40", "50", "20", "30", "40", "50", "60", "40"]),
        (DOG_LEG, ["40", "70", "160", "50", "110", "50", "16", "85", "25", "16"]),
        (GRID, ["400", "300", "30", "14 H7 (+0.018/0)"]),
        (KEY, ["28", "14 h6 (0/-0.011)", "11.5"]),  # ISO 286-2: 14 h6
        (STEPPED_KEY, ["36", "18 h6 (0/-0.011)", "14 h6 (0/-0.011)", "15", "9"]),  # ISO 286-2: 10 to 18 mm
    ],
    ids=lambda value: value.name if isinstance(value, Piece) else "",
)
def test_every_size_and_place_is_dimensioned_once(one: Piece, linear: list[str]) -> None:
    assert dimensioned(sheets(one)) == Counter(linear)


@pytest.mark.parametrize(
    ("one", "kind", "written"),
    [
        (CHUCK_BASE, DimensionKind.DIAMETER, ["⌀140 B.C.", "REGISTER ⌀100 h6 (0/-0.022) 4 HIGH"]),
        (CHUCK_BASE, DimensionKind.RADIUS, ["4× R12"]),
        (REDRILL, DimensionKind.DIAMETER, ["⌀150 B.C.", "⌀60"]),
        (VEE_BLOCK, DimensionKind.ANGLE, ["90°"]),
        (GRID, DimensionKind.RADIUS, ["4× R10"]),
    ],
)
def test_round_sizes_and_angles_are_noted_once(one: Piece, kind: DimensionKind, written: list[str]) -> None:
    assert dimensioned(sheets(one), kind) == Counter(written)


@pytest.mark.parametrize(
    ("one", "notes"),
    [
        (INSERT, ["TENON 8 HIGH", "4× R6.5", "FROM BELOW"]),
        (PARENT, ["POCKET ↧8.5", "4× R6.5"]),
        (VEE_BLOCK, ["CLAMP SLOT ↧8 BOTH SIDES", "2× 2 × 45°"]),
        (FENCE, ["2× KEY SEAT ↧5", "HOLES IN THE FRONT FACE"]),
        (DOG_LEG, ["WINDOW THRU", "ROUND ENDS"]),
    ],
    ids=lambda value: value.name if isinstance(value, Piece) else "",
)
def test_depths_heights_and_corners_are_noted_once(one: Piece, notes: list[str]) -> None:
    count = Counter(texts(sheets(one)))
    assert [(note, count[note]) for note in notes] == [(note, 1) for note in notes]


def test_inch_limits_have_four_decimals_and_no_leading_zero() -> None:
    written = dimensioned(sheets(JIG, ASME), DimensionKind.DIAMETER)
    # 3 in g6: -.0004 and -.0011 as given; circle of 6 in
    assert written == Counter(["PILOT REGISTER ⌀3.0000 g6 (-.0004/-.0011) .375 HIGH", "⌀6.000 B.C."])


def test_a_countersink_is_called_out() -> None:
    assert "⌵⌀.500 X 82°" in texts(sheets(SLOT_KEY, ASME))


def test_names_that_are_no_run_of_numbers_say_their_size_by_a_number() -> None:
    """A1 to G5 would be read as all 35 places of the grid, though other sizes may stand among them."""
    written = Counter(texts(sheets(GRID)))
    assert written["SIZE NO. 1"] == written["SIZE NO. 2"] == 1
    assert not [text for text in written if " - G" in text]
    assert written["SIZE NO."] >= 1


def test_side_holes_are_located_in_their_own_table() -> None:
    rows = texts(sheets(FENCE))
    # x -120, 0, 120 from the middle of 300; z 20 above the bottom face
    assert Counter(rows)["-120"] == 1
    assert Counter(rows)["20"] == 3
    assert {"X", "Z"} <= set(rows)


def test_grid_labels_stand_beside_their_holes() -> None:
    """Or at the end of a leader."""
    drawing = sheets(GRID)
    plan = view(drawing, "plan")
    marks = {m.text: m.at for m in drawing.sheets[0].marks if isinstance(m, Text)}
    for label, x, y in (("A1", 50.0, 50.0), ("G5", 350.0, 250.0), ("C4", 150.0, 200.0)):
        tags = [m.at for m in drawing.sheets[0].marks if isinstance(m, Text) and m.text == label]
        at = plan.to_paper((x, y))
        assert min(abs(u - at[0]) + abs(v - at[1]) for u, v in tags) < 30.0
    assert marks


# Free outlines


def test_a_free_outline_goes_by_its_points() -> None:
    # Straight below and above, a half circle of 30 on the right, a bay of radius 50 on the left.
    shape = Outline(((0.0, 0.0), (80.0, 0.0), (80.0, 60.0), (0.0, 60.0)), (0.0, 1.0, 0.0, -0.3)).at_origin()
    rows = texts(sheets(piece("bay", Plate(outline=shape, thickness=10.0))))
    # Radius over a chord of 60 with bulge 0.3: 60 (1 + 0.09) / (4 * 0.3) = 54.5
    assert [rows.count(word) for word in ("LINE", "R30 OUTWARD", "R54.5 INWARD")] == [2, 1, 1]
    assert all(rows.count(f"P{n}") == 2 for n in (1, 2, 3, 4))


# Views


def test_views_stand_in_line_with_each_other() -> None:
    drawing = sheets(VEE_BLOCK)
    plan, front, end = view(drawing, "plan"), view(drawing, "front elevation"), view(drawing, "right end")
    assert plan.origin[0] == pytest.approx(front.origin[0])
    assert front.origin[1] == pytest.approx(end.origin[1])
    assert end.origin[0] < front.origin[0]  # first angle: what is seen from the right stands on the left


def test_third_angle_puts_the_right_end_on_the_right_and_the_bottom_below() -> None:
    third = piece_drawing(VEE_BLOCK, DATA, ASME)
    assert view(third, "right end").origin[0] > view(third, "front elevation").origin[0]
    below = piece_drawing(FENCE, DATA, ASME)  # long, so that there is room under it
    heights = [view(below, name).origin[1] for name in ("bottom view", "front elevation", "plan")]
    assert heights == sorted(heights)


def test_an_arc_seen_from_below_runs_through_the_same_metal() -> None:
    half = piece("half", Plate(outline=Outline(((0.0, 0.0), (60.0, 0.0)), (0.0, 1.0)), thickness=10.0))
    (arc,) = (m for m in view_marks(half, Face.BOTTOM, None, 1.0, ISO) if isinstance(m, Arc))
    middle = radians((arc.start + arc.end) / 2.0)
    assert arc.centre[1] + arc.radius * sin(middle) == pytest.approx(-30.0)  # y 30 is drawn 30 below the X axis


@pytest.mark.parametrize("count", [3, 5, 8])
def test_even_rings_are_found_at_any_turn(count: int) -> None:
    holes = [Hole(x=x, y=y, diameter=6.0) for x, y in ring(count, 70.0, (50.0, 50.0), 11.0)]
    (found,) = bolt_circles(piece("ring", Disc(diameter=100.0, thickness=10.0), *holes))
    assert found.diameter == pytest.approx(70.0)
    assert sorted(found.angle(hole) for hole in found.holes) == pytest.approx(
        [11.0 + 360.0 / count * n for n in range(count)]
    )
