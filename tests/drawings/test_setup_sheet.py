"""The set-up drawing: table, slots, bars, hardware, work, cautions."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import permutations
from math import sqrt
from typing import Any

import pytest

from slotwright.drawings.paper.notes import stop_marks, stop_size, stop_texts
from slotwright.drawings.paper.placing import Box, Register, circle_box, points_box, text_box
from slotwright.drawings.paper.sheet import Circle, DimensionKind, Drawing, Fill, Line, Sheet, Stroke, Text
from slotwright.drawings.paper.style import style
from slotwright.drawings.setup.balloons import free_balloon
from slotwright.drawings.setup.bolt_section import bolt_section
from slotwright.drawings.setup.covering import uncovered
from slotwright.drawings.setup.parts_list import parts_lines
from slotwright.drawings.setup.setup_overhangs import Lines
from slotwright.drawings.setup.setup_plan import plan_marks
from slotwright.drawings.setup.setup_sheet import setup_drawing
from slotwright.drawings.setup.setup_views import setup_plan
from slotwright.findings import Finding, Severity
from slotwright.fixtures.bench import Bench
from slotwright.fixtures.hold_down_bar import HoldDownBar, solve
from slotwright.fixtures.layout import Layout, Work
from slotwright.parts.t_slots import TSlot
from slotwright.parts.table import Table
from slotwright.pieces.blanks import Bar
from slotwright.records.reading import Where, read
from tests.drawings.collisions import everything, lines_through_texts, outside_frame, texts_on_texts
from tests.drawings.pieces import DATA, FIRST

ISO, ASME, ASME_IN = style("iso", "mm"), style("asme", "mm"), style("asme", "in")
LOOKS = {"iso": ISO, "asme": ASME, "asme-inch": ASME_IN}
SLOT = TSlot(width=14.0, headspace_width=24.0, headspace_depth=10.0, depth=26.0)
TABLE = Table(
    name="canal-mill",
    title="Canal mill",
    unit="mm",
    length=1100.0,
    width=280.0,
    thickness=60.0,
    slot=SLOT,
    slot_centres=(45.5, 108.5, 171.5, 234.5),
)
WORK = Work(name="bonnet", mass=38.0, size=(480.0, 430.0, 180.0), at=(550.0, 20.0))
ACROSS: dict[str, Any] = {
    "name": "outrigger", "title": "Outrigger bar", "quantity": 2, "width": "40 mm", "thickness": "20 mm",
    "slots": [1, 2, 4], "overhang-front": "190 mm", "overhang-back": "10 mm", "stations": ["400 mm", "700 mm"],
}  # fmt: skip
ALONG: dict[str, Any] = {
    "name": "rail", "title": "Rail", "quantity": 2, "width": "50 mm", "thickness": "25 mm", "direction": "along",
    "length": "600 mm", "slots": [1, 3], "bolts": 3,
}  # fmt: skip
SUNK: dict[str, Any] = {
    "name": "sole", "title": "Sole", "quantity": 2, "width": "40 mm", "thickness": "25 mm", "heads": "sunk",
    "slots": [1, 2, 4], "length": "300 mm",
}  # fmt: skip
CASES = {"across": ACROSS, "along": ALONG, "sunk": SUNK}


@cache
def _layout(name: str = "across", work: bool = True) -> Layout:
    bench = Bench(tables=(TABLE,), unit="mm", work=WORK if work else None)
    return solve(read(HoldDownBar, CASES[name], Where("design", "", "mm")), bench).layouts[0]


@cache
def _drawing(name: str = "across", look: str = "iso") -> Drawing:
    return setup_drawing(_layout(name), FIRST, LOOKS[look])


def _texts(sheet: Sheet) -> list[str]:
    return [m.text for m in everything(sheet) if isinstance(m, Text)]


def _said(drawing: Drawing, kind: DimensionKind) -> list[str]:
    found = [d for view in drawing.sheets[0].views for d in view.dimensions if d.kind is kind]
    return [m.text for d in found for m in d.marks if isinstance(m, Text)]


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("name", CASES)
def test_nothing_stands_on_anything_else(name: str, look: str) -> None:
    (sheet,) = _drawing(name, look).sheets
    assert texts_on_texts(sheet) == []
    assert lines_through_texts(sheet) == []
    assert outside_frame(sheet) == []


def test_slots_are_numbered_from_the_front_and_located_from_the_front_edge() -> None:
    assert _said(_drawing(), DimensionKind.ORDINATE_Y) == ["0", "45.5", "108.5", "171.5", "234.5"]
    names = [m for m in _drawing().sheets[0].marks if isinstance(m, Text) and m.text.startswith("SLOT ")]
    assert [m.text for m in sorted(names, key=lambda m: m.at[1])] == ["SLOT 1", "SLOT 2", "SLOT 3", "SLOT 4"]


def test_bars_are_located_from_the_left_end() -> None:
    """By hand: 40 mm bars about 400 and 700 mm start at 380 and 680."""
    assert _said(_drawing(), DimensionKind.ORDINATE_X) == ["0", "380", "680"]


def test_overhangs_and_the_tables_own_size() -> None:
    """Equal overhangs of equal bars are said once; the table's size is auxiliary, so in brackets."""
    said = _said(_drawing(), DimensionKind.LINEAR)
    assert sorted(said[:2]) == ["10", "190"]
    assert {"(1100)", "(280)"} < set(said)


def test_front_and_work_are_named() -> None:
    texts = _texts(_drawing().sheets[0])
    assert sum(text.startswith("FRONT") for text in texts) == 1
    assert texts.count("BONNET") == 1


def test_work_is_a_phantom_outline_of_its_envelope() -> None:
    marks = plan_marks(_layout(), 0.2, ISO)
    (ring,) = (m for m in marks if isinstance(m, Stroke) and m.line is Line.PHANTOM)
    xs, ys = {p[0] for p in ring.points}, {p[1] for p in ring.points}
    assert (xs, ys) == ({310.0, 790.0}, {-195.0, 235.0})


def test_a_washer_stands_over_every_bolt() -> None:
    """Bolts by hand: two bars at x 400 and 700, slots 1, 2 and 4."""
    middles = {m.centre for m in plan_marks(_layout(), 0.2, ISO) if isinstance(m, Circle)}
    for x in (400.0, 700.0):
        for y in (45.5, 108.5, 234.5):
            assert any(abs(cx - x) < 1e-9 and abs(cy - y) < 1e-9 for cx, cy in middles)


def test_slot_edges_are_hidden_under_the_bars() -> None:
    edges = [m for m in plan_marks(_layout(), 0.2, ISO) if isinstance(m, Stroke) and len(m.points) == 2]
    level = sorted(m.points for m in edges if m.points[0][1] == m.points[1][1] == 45.5 - 7.0)
    assert [(a[0], b[0]) for a, b in level] == [(0.0, 380.0), (420.0, 680.0), (720.0, 1100.0)]


@pytest.mark.parametrize(
    ("cover", "left"),
    [
        pytest.param([(2, -1), (4, -1), (4, 1), (2, 1)], [(0.0, 2.0), (4.0, 10.0)], id="a box in the middle"),
        pytest.param([(-1, -1), (3, -1), (3, 1), (-1, 1)], [(3.0, 10.0)], id="over the start"),
        pytest.param([(2, 1), (4, 1), (4, 3), (2, 3)], [(0.0, 10.0)], id="beside the line"),
        pytest.param([(-1, -1), (11, -1), (11, 1), (-1, 1)], [], id="all covered"),
        pytest.param(
            [(5, -1), (6, 0), (5, 1), (4, 0)], [(0.0, 4.0), (6.0, 10.0)], id="a box on its corner"
        ),
    ],
)  # fmt: skip
def test_uncovered_by_hand(cover: list[tuple[float, float]], left: list[tuple[float, float]]) -> None:
    found = uncovered((0.0, 0.0), (10.0, 0.0), [cover])
    assert [(round(a[0], 9), round(b[0], 9)) for a, b in found] == left


def test_parts_list_counts_every_piece_and_bought_item() -> None:
    """By hand: two bars with three bolts each."""
    lines = parts_lines(_layout(), DATA, ISO)
    assert [(line.item, line.quantity) for line in lines] == [(1, 2), (2, 6), (3, 6), (4, 6), (5, 6)]
    assert lines[0].words == "Outrigger bar, 480 × 40 × 20"
    assert [line.words.split()[0] for line in lines[1:]] == ["T-nut", "Stud", "Washer", "Hex"]


def test_two_pieces_of_one_title_are_two_lines_and_two_balloons() -> None:
    """A title is what the shop calls a piece, and the default for all of a kind; the name tells two apart."""
    first = _layout()
    blank = first.pieces[1].piece.blank
    assert isinstance(blank, Bar)
    other = replace(first.pieces[1].piece, name="short-rail", blank=replace(blank, length=300.0))
    layout = replace(first, pieces=(first.pieces[0], replace(first.pieces[1], piece=other)))
    data = replace(DATA, pieces=("outrigger", "short-rail"), tables=("mill",))
    lines = parts_lines(layout, data, ISO)[:2]
    assert [(line.item, line.quantity, line.words, line.source) for line in lines] == [
        (1, 1, "Outrigger bar, 480 × 40 × 20", "7f3a9c21-1, outrigger"),
        (2, 1, "Outrigger bar, 300 × 40 × 20", "7f3a9c21-2, short-rail"),
    ]
    marks = setup_drawing(layout, DATA, ISO).sheets[0].marks
    rings = [m.centre for m in marks if isinstance(m, Circle) and m.line is Line.NOTE]
    balloons = {m.text for m in marks if isinstance(m, Text) and m.at in rings}
    assert {"1", "2"} <= balloons


def test_every_item_has_one_balloon_in_the_section_and_each_piece_one_in_the_plan() -> None:
    """A balloon is a circle about a figure; ISO 6433."""
    marks = _drawing().sheets[0].marks
    rings = [m.centre for m in marks if isinstance(m, Circle) and m.line is Line.NOTE]
    balloons = sorted(m.text for m in marks if isinstance(m, Text) and m.at in rings)
    assert balloons == ["1", "1", "2", "3", "4", "5"]


def test_section_shows_the_slot_at_its_size() -> None:
    """The throat is 14 wide; its walls go from the table top to the shoulders 16 below, by hand."""
    layout = _layout()
    shown = bolt_section(layout, layout.joints[0], 1.0, ISO)
    walls = {
        (round(a[0], 6), round(a[1], 6), round(b[0], 6), round(b[1], 6))
        for m in shown.marks
        if isinstance(m, Stroke) and m.line is Line.OUTLINE
        for a, b in zip(m.points, m.points[1:], strict=False)
    }
    upright = {tuple(sorted(((x0, y0), (x1, y1)))) for x0, y0, x1, y1 in walls if x0 == x1}
    assert ((7.0, -16.0), (7.0, 0.0)) in upright
    assert ((-7.0, -16.0), (-7.0, 0.0)) in upright
    assert ((12.0, -26.0), (12.0, -16.0)) in upright


def test_engagement_is_dimensioned_as_the_joint_has_it() -> None:
    joint = _layout().joints[0]
    assert joint.thread.designation == "M12"
    # DIN 6379 (from memory): 15 of thread at the nut end of an M12 stud, less than the 16 of DIN 508's nut
    assert "15 ENGAGED" in _said(_drawing(), DimensionKind.LINEAR)


def test_a_section_says_its_own_scale() -> None:
    """ISO 5455, from memory: a scale that is not the title block's stands with its view. Here 1:1 beside a plan 1:5."""
    sheet = _drawing().sheets[0]
    (section,) = (view for view in sheet.views if view.name == "section at a bolt")
    assert section.scale == 1.0
    assert "SECTION AT SLOT 1, 1:1" in _texts(sheet)


def test_notes_are_lettered_smaller_before_a_sheet_no_shop_printer_has() -> None:
    """2.5 mm is the next height below 3.5 of ISO 3098-1; A3 is the largest of common office printers."""
    long = replace(_layout(), notes=tuple(f"{n} and {'so on and ' * 24}so forth" for n in range(7)))
    for look, expected in ((ISO, ("A3", {2.5})), (ASME, ("B", {3.0}))):  # ASME Y14.2 has 3 mm and no less
        sheet = setup_drawing(long, DATA, look).sheets[0]
        heights = {mark.height for mark in sheet.marks if isinstance(mark, Text) and "so on and so on" in mark.text}
        assert (sheet.size, heights) == expected
        figures = {m.height for d in sheet.views[0].dimensions for m in d.marks if isinstance(m, Text)}
        assert figures == {look.text}, "dimensions keep their height"


def test_nut_is_seen_across_its_flats() -> None:
    """A hexagon with corners on X shows its width across flats along Y: 18 mm for M12 (ISO 4032)."""
    layout = _layout()
    shown = bolt_section(layout, layout.joints[0], 1.0, ISO)
    boxes = [m.points for m in shown.marks if isinstance(m, Stroke) and m.closed and m.line is Line.OUTLINE]
    widths = {round(max(p[0] for p in b) - min(p[0] for p in b), 6) for b in boxes}
    assert 18.0 in widths
    assert round(18.0 * 2.0 / sqrt(3.0), 6) not in widths


def test_cautions_always_stand_on_the_sheet() -> None:
    words = " ".join(_texts(_drawing().sheets[0]))
    for said in ("COMPUTED AIDS", "MACHINE'S MANUAL", "LOCAL RULES", "COMPETENT PERSON"):
        assert said in words


def test_stops_and_cautions_of_the_design_are_printed() -> None:
    found = tuple(
        Finding(code="c", severity=s, place=p, message=m, rule="r", source="s", remedy="Use a longer stud.")
        for s, p, m in (
            (Severity.STOP, "outrigger on canal-mill", "The thread is too short."),
            (Severity.CAUTION, "outrigger", "One bolt can swing."),
            (Severity.FINE, "rail", "All is well."),
        )
    )
    words = " ".join(_texts(setup_drawing(_layout(), replace(DATA, findings=found), ISO).sheets[0]))
    assert "STOP: DO NOT MAKE OR USE" in words
    assert "The thread is too short. Use a longer stud." in words
    assert "CAUTION, outrigger: One bolt can swing. Use a longer stud." in words
    assert "All is well" not in words


@pytest.mark.parametrize("look", LOOKS)
def test_the_stop_box_holds_its_heading(look: str) -> None:
    """Narrower than the heading is no box, however narrow the room that is tried."""
    marks = stop_marks(["bar: too short"], 0.0, 0.0, stop_size(["bar: too short"], 20.0, LOOKS[look])[0], LOOKS[look])
    heading = next(m for m in marks if isinstance(m, Text) and m.text.startswith("STOP"))
    inner = min(max(x for x, _ in m.points) for m in marks if isinstance(m, Stroke))
    assert text_box(heading).x1 < inner


def test_a_message_and_its_remedy_are_kept_apart() -> None:
    found = Finding(
        code="c",
        severity=Severity.STOP,
        place="bar",
        message="too short",
        rule="r",
        source="s",
        remedy="take a longer one",
    )
    assert stop_texts([found]) == ("bar: too short; take a longer one",)


def test_a_balloon_points_between_washers() -> None:
    """The first two places on the part lie under washers, the third one does not; in front of it stands a word."""
    taken = Register()
    taken.add([Circle((x, 0.0), 5.0, Line.OUTLINE) for x in (0.0, 20.0)])
    taken.add_box(Box(34.0, -12.0, 60.0, 0.0))
    tips = ((0.0, 0.0), (21.0, 1.0), (30.0, 0.0))
    ring, _, leader, dot = free_balloon(tips, 1, taken, ISO)
    assert isinstance(ring, Circle)
    assert isinstance(leader, Stroke)
    assert isinstance(dot, Fill)
    assert points_box(dot.points).grown(-0.5).holds(Box(30.0, 0.0, 30.0, 0.0))
    assert taken.passable(*leader.points)
    assert taken.free(circle_box(ring.centre, ring.radius))
    blocked = Register()
    blocked.add([Circle((0.0, 0.0), 5.0, Line.OUTLINE)])
    assert free_balloon(tips[:1], 1, blocked, ISO) == ()
    assert free_balloon(tips[:1], 1, blocked, ISO, over_circles=True) != ()


def test_overhangs_stand_clear_of_each_others_lines() -> None:
    """Unlike bars side by side near the table's left end: no dimension line is crossed."""
    bench = Bench(tables=(TABLE,), unit="mm", work=None)
    unlike = (("near", "90 mm", "4 mm", "60 mm"), ("far", "5 mm", "4 mm", "110 mm"))
    layouts = [
        solve(read(HoldDownBar, {**ACROSS, "name": name, "title": name, "overhang-front": front, "overhang-back": back,
                                 "quantity": 1, "stations": [at]}, Where("design", "", "mm")), bench).layouts[0]
        for name, front, back, at in unlike
    ]  # fmt: skip
    layout = replace(layouts[0], pieces=tuple(piece for one in layouts for piece in one.pieces))
    plan = setup_plan(layout, {"near": 1, "far": 2}, 0.2, ISO)
    said = [d.value for d in plan.views[0].dimensions if d.kind is DimensionKind.LINEAR]
    assert sorted(said) == pytest.approx([4.0, 4.0, 5.0, 90.0, 280.0, 1100.0])
    for one, other in permutations(plan.views[0].dimensions, 2):
        mine, theirs = Lines(), Lines()
        mine.add([one])
        theirs.add([other])
        assert mine.crossed_by(theirs) == 0


def test_what_is_to_be_bought_is_off_the_paper() -> None:
    findings = tuple(
        Finding(
            code=code, severity=Severity.CAUTION, place="outrigger", message=message, rule="r", source="s", remedy="do"
        )
        for code, message in [
            ("tap-not-in-drawer", "M12 tap is not in the drawer"),
            ("stock-not-on-rack", "40 x 20 mm is not on the rack"),
            ("engagement", "The thread is short."),
        ]
    )
    drawing = setup_drawing(_layout(), replace(DATA, findings=findings), ISO)
    words = " ".join(_texts(drawing.sheets[0]))
    assert "The thread is short." in words
    assert "drawer" not in words
    assert "rack" not in words


def test_places_with_the_same_caution_share_a_note() -> None:
    at = [f"outrigger, hole A{number}" for number in (1, 2)]
    found = tuple(
        Finding(severity=Severity.CAUTION, code="web", place=place, message="The web is thin.", rule="r", source="s",
                remedy="") for place in at
    )  # fmt: skip
    words = " ".join(_texts(setup_drawing(_layout(), replace(DATA, findings=found), ISO).sheets[0]))
    assert words.count("The web is thin.") == 1
    assert "CAUTION, outrigger, hole A1, outrigger, hole A2: The web is thin." in words


def test_scale_is_the_same_in_title_block_and_view() -> None:
    """1100 mm at 1:2 is 550 mm, too long beside the dimensions for A3's 390; 1:5 is 220 mm."""
    sheet = _drawing().sheets[0]
    assert (sheet.size, sheet.views[0].scale) == ("A3", 0.2)
    assert "1:5" in _texts(sheet)


def test_the_same_lay_out_gives_the_same_drawing() -> None:
    assert setup_drawing(_layout(), FIRST, ASME) == setup_drawing(_layout(), FIRST, ASME)


def test_a_table_without_pieces_or_work_can_be_drawn() -> None:
    empty = Layout(table=TABLE, pieces=(), hardware=())
    assert "PARTS LIST" not in _texts(setup_drawing(empty, DATA, ISO).sheets[0])
