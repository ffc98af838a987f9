"""The proof must see what is planted, and must not see what is not there.

Every planted fault stands beside a clean neighbour: the same thing a little farther off. A drawing is always judged
twice, from its written DXF file and before it is written, and both must say the same.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import cos, hypot, radians, sin

import pytest

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.sheet import (
    Anchor,
    Arc,
    Circle,
    Drawing,
    Line,
    Mark,
    Point,
    Stroke,
    Text,
    View,
)
from slotwright.drawings.proof import Kind, findings
from slotwright.findings import Severity
from tests.drawings.small_sheet import (
    HIGH,
    LONG,
    NARROW,
    PLATE_AT,
    ROOM,
    RX,
    RY,
    THICK,
    H,
    arrow,
    drawing,
    hold,
    hold_letter,
    judged,
    only,
    ordinate,
    over,
    plate,
    rectangle,
    stroke,
)


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_a_clean_sheet_is_clean(unit: str) -> None:
    assert judged(replace(drawing(hold((200.0, 170.0))), unit=unit)) == ()


# One fault each: what is added, then the same thing standing clear. Gaps are hand arithmetic on the boxes.
PLANTED: dict[str, tuple[Kind, Callable[[float], tuple[Mark, ...]]]] = {
    "text over text": (
        Kind.TEXT_ON_TEXT,
        lambda gap: (hold(ROOM), hold((RX, RY + H + gap))),
    ),
    "text beside text": (
        Kind.TEXT_ON_TEXT,
        lambda gap: (hold(ROOM), hold((RX + LONG + gap, RY))),
    ),
    "upright text over level text": (
        Kind.TEXT_ON_TEXT,
        lambda gap: (hold(ROOM), hold((RX, RY + H / 2 + LONG / 2 + gap), 90.0)),
    ),
    "a small text within a large one": (
        Kind.TEXT_ON_TEXT,
        lambda gap: (
            replace(hold(ROOM), height=10.0),
            replace(hold((RX, RY + (13.0 if gap > 0 else 0.0))), height=2.0),
        ),
    ),
    "outline under text": (
        Kind.LINE_THROUGH_TEXT,
        lambda gap: (
            hold(ROOM),
            stroke((RX - 30, RY - H / 2 - THICK / 2 - gap), (RX + 30, RY - H / 2 - THICK / 2 - gap), line=Line.OUTLINE),
        ),
    ),
    "ruling beside text": (
        Kind.LINE_THROUGH_TEXT,
        lambda gap: (
            hold(ROOM),
            stroke(*((RX + LONG / 2 + NARROW / 2 + gap, RY + v) for v in (-9.0, 9.0)), line=Line.RULE),
        ),
    ),
    "line through turned text": (
        Kind.LINE_THROUGH_TEXT,
        lambda gap: (
            hold(ROOM, 30.0),
            stroke(*(along(30.0, u, -H / 2 - NARROW / 2 - gap) for u in (-40.0, 40.0)), line=Line.HIDDEN),
        ),
    ),
    "hatch line behind text": (
        Kind.LINE_THROUGH_TEXT,
        lambda gap: (
            hold(ROOM, 45.0),
            stroke(*(along(45.0, LONG / 2 + NARROW / 2 + gap, v) for v in (-8.0, 8.0)), line=Line.HATCH),
        ),
    ),
    "circle around text": (
        Kind.LINE_THROUGH_TEXT,
        lambda gap: (hold(ROOM), Circle(ROOM, hypot(LONG / 2, H / 2) + NARROW / 2 + gap, Line.NOTE)),
    ),
    "arc over text": (
        Kind.LINE_THROUGH_TEXT,
        lambda gap: (
            hold(ROOM),
            Arc((RX, RY - 20.0), hypot(LONG / 2, 20.0 + H / 2) + NARROW / 2 + gap, 30.0, 150.0, Line.CENTRE),
        ),
    ),
    "arrowhead on text": (
        Kind.ARROW_ON_TEXT,
        lambda gap: (hold(ROOM), arrow((RX, RY + H / 2 + gap), -90.0)),
    ),
    "leader into its own text": (
        Kind.LINE_THROUGH_TEXT,
        lambda gap: (hold(ROOM, line=Line.DIMENSION), stroke((RX - 40, RY - 20), (RX - LONG / 2 - 0.125 - gap, RY))),
    ),
    "text on the frame": (
        Kind.LINE_THROUGH_TEXT,
        lambda gap: (hold((230.0, HIGH - 10.0 - THICK / 2 - gap - H / 2)),),
    ),
    "text on the title block's border": (
        Kind.LINE_THROUGH_TEXT,
        lambda gap: (hold((230.0, 40.0 + THICK / 2 + gap + H / 2)),),
    ),
    "line out of the frame": (
        Kind.OUTSIDE_FRAME,
        lambda gap: (stroke((230.0, 150.0), (230.0, HIGH - 10.0 - gap), line=Line.NOTE),),
    ),
    "ruling out of the frame": (
        Kind.OUTSIDE_FRAME,
        lambda gap: (stroke((230.0, 150.0), (230.0, HIGH - 10.0 - 2 * gap), line=Line.RULE),),
    ),
    "anything off the paper": (
        Kind.OUTSIDE_FRAME,
        lambda gap: (stroke((150.0, HIGH - 15.0), (150.0, HIGH - gap), line=Line.FRAME),),
    ),
}  # fmt: skip


def along(angle: float, u: float, v: float) -> Point:
    """A point of the frame that is turned by an angle about ROOM."""
    c, s = cos(radians(angle)), sin(radians(angle))
    return RX + u * c - v * s, RY + u * s + v * c


@pytest.mark.parametrize("name", PLANTED)
def test_planted_fault_is_found(name: str) -> None:
    kind, make = PLANTED[name]
    found = only(drawing(*make(-0.15)))
    assert found.kind is kind
    assert not found.avoidable


@pytest.mark.parametrize("name", PLANTED)
def test_clear_neighbour_is_not(name: str) -> None:
    _, make = PLANTED[name]
    assert judged(drawing(*make(0.05))) == ()


def test_own_lines_and_touching_ends_are_no_fault() -> None:
    """Dimension text on its line, ordinate text at its leader's end, a note at its leader, a number in its balloon."""
    note = (
        stroke((RX - 40, RY - 20), (RX - 25, RY), (RX - 22, RY)),
        arrow((RX - 40, RY - 20), -126.87),
        Text((RX - 21.0, RY), "HHHH", H, Anchor.LEFT, 0.0, True, Line.DIMENSION),
        Text((RX - 21.0, RY - 1.6 * H), "HHHHHH", H, Anchor.LEFT, 0.0, True, Line.DIMENSION),
    )
    balloon = (
        Circle((RX, RY + 30.0), 4.5, Line.NOTE),
        Text((RX, RY + 30.0), "7", H, Anchor.CENTRE, 0.0, True),
        stroke((RX - 4.5, RY + 30.0), (RX - 30.0, RY + 30.0), line=Line.NOTE),
    )
    datum = (rectangle(180.0, 60.0, 187.0, 67.0, Line.DIMENSION), hold_letter("A", (183.5, 63.5)))
    assert judged(drawing(*note, *balloon, *datum)) == ()


def test_the_point_of_another_leader_is_not_a_notes_own() -> None:
    """Its bare end beside a note makes a leader the note's own; its arrowhead does not."""
    note = Text((RX, RY), "HHHH", H, Anchor.LEFT, 0.0, True, Line.DIMENSION)
    end = (RX - 2.0, RY)
    bare = stroke((RX - 40.0, RY), end)
    assert judged(drawing(note, bare, arrow((RX - 40.0, RY), 180.0))) == ()
    violation = only(drawing(note, bare, arrow(end, 0.0)))
    assert violation.kind is Kind.TEXT_TOO_NEAR
    assert violation.clear == pytest.approx(2.0, abs=0.01)


# Clear space of one height around dimension text


@pytest.mark.parametrize(
    ("gap", "found"),
    [
        pytest.param(H - 0.2, True, id="nearer-than-its-height"),
        pytest.param(H + 0.01, False, id="its-height-clear"),
    ],
)
@pytest.mark.parametrize("other", ["line", "text", "arrow", "dimension"])
def test_clear_space_around_dimension_text(gap: float, found: bool, other: str) -> None:
    x, top = PLATE_AT[0] + 50.0, PLATE_AT[1] + 50.0 + 2.75 + H / 2  # the upper edge of the text "100"
    width = lettering.width("100", H)
    things: dict[str, tuple[Mark, ...]] = {
        "line": (stroke((x - 30.0, top + gap), (x + 30.0, top + gap), line=Line.NOTE),),
        "text": (hold((x, top + gap + H / 2)),),
        "arrow": (arrow((x + width / 2 + gap, top - H / 2), 180.0),),
    }
    if other == "dimension":
        y = top + gap
        second = over(10.0, further=())
        line = (
            stroke((x - 30.0, y), (x + 30.0, y)),
            Text((x, y + 10.0), "60", H, Anchor.CENTRE, 0.0, True, Line.DIMENSION),
        )
        view = plate()
        one = drawing(view=replace(view, dimensions=(*view.dimensions, replace(second, value=60.0, marks=line))))
    else:
        one = drawing(*things[other])
    if not found:
        assert judged(one) == ()
        return
    violation = only(one)
    assert violation.kind is Kind.TEXT_TOO_NEAR
    assert violation.what == '"100" in plan'
    assert violation.clear == pytest.approx(gap, abs=0.01)
    assert violation.wanted == H


def test_only_dimension_text_wants_clear_space() -> None:
    assert judged(drawing(hold(ROOM), hold((RX, RY + H + 0.5)))) == ()


def test_shared_extension_lines_are_own() -> None:
    """Two short dimensions in a chain: each text stands nearer than its height to the extension line between them."""
    x, y = PLATE_AT[0], PLATE_AT[1] + 40.0
    chain = []
    for n in range(2):
        a, b, level = x + 12.0 * n, x + 12.0 * (n + 1), y + 10.0
        marks = (
            stroke((a, y + 1.0), (a, level + 2.0)),
            stroke((b, y + 1.0), (b, level + 2.0)),
            stroke((a, level), (b, level)),
            Text(((a + b) / 2, level + 2.75), "12", H, Anchor.CENTRE, 0.0, True, Line.DIMENSION),
        )
        chain.append(replace(over(10.0), value=12.0, marks=marks))
    view = plate()
    assert judged(drawing(view=replace(view, dimensions=tuple(chain)))) == ()
    # The same line, a little aside, is another dimension's.
    other = replace(over(10.0), value=1.0, marks=(stroke((x + 10.0, y + 1.0), (x + 10.0, y + 12.0)),))
    kinds = {v.kind for v in judged(drawing(view=replace(view, dimensions=(*chain, other))))}
    assert Kind.TEXT_TOO_NEAR in kinds


def test_dimension_text_crossed_by_its_own_line() -> None:
    view = plate()
    lowered = replace(view, dimensions=(over(10.0, text_up=0.5), ordinate()))
    assert only(drawing(view=lowered)).kind is Kind.LINE_THROUGH_TEXT


def test_ordinate_text_moved_off_its_leader_onto_a_neighbours() -> None:
    x, y = PLATE_AT
    neighbour = stroke((x + 50.0 + H / 2 + 2.0, y - 2.0), (x + 50.0 + H / 2 + 2.0, y - 20.0))
    view = plate()
    second = replace(ordinate(), value=55.0, marks=(neighbour,))
    violation = only(drawing(view=replace(view, dimensions=(over(10.0), ordinate(), second))))
    assert violation.kind is Kind.TEXT_TOO_NEAR
    assert violation.clear == pytest.approx(2.0, abs=0.01)


# Lines over lines


def test_extension_line_over_a_dimension_line_is_better_avoided() -> None:
    view = plate()
    x, y = PLATE_AT[0], PLATE_AT[1] + 40.0
    inner = replace(
        over(30.0),
        value=60.0,
        marks=(
            stroke((x + 20.0, y + 1.0), (x + 20.0, y + 32.0)),
            stroke((x + 80.0, y + 1.0), (x + 80.0, y + 32.0)),
            stroke((x + 20.0, y + 30.0), (x + 80.0, y + 30.0)),
            Text((x + 50.0, y + 32.75), "60", H, Anchor.CENTRE, 0.0, True, Line.DIMENSION),
        ),
    )
    found = judged(drawing(view=replace(view, dimensions=(over(10.0), ordinate(), inner))))
    # The longer dimension stands inside: its line is crossed by both extension lines of the shorter one.
    assert [v.kind for v in found] == [Kind.LINES_CROSS]
    assert found[0].avoidable
    assert found[0].sentence == ('dimension line of "100" in plan is crossed by extension line of "60" in plan')
    assert judged(drawing(view=replace(view, dimensions=(over(10.0), ordinate())))) == ()


def test_dimension_line_over_another_view() -> None:
    side = View(
        name="end view",
        origin=(0.0, 0.0),
        scale=1.0,
        marks=(rectangle(100.0, 135.0, 120.0, 165.0, Line.OUTLINE),),
    )
    kinds = {v.kind for v in judged(drawing(views=(side,)))}
    assert Kind.LINE_OVER_VIEW in kinds
    clear = replace(side, origin=(80.0, 0.0))
    assert judged(drawing(views=(clear,))) == ()


# Areas


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        pytest.param("view", Kind.AREAS_OVERLAP, id="view-over-view"),
        pytest.param("table", Kind.AREAS_OVERLAP, id="table-over-view"),
        pytest.param("note", Kind.AREAS_OVERLAP, id="note-inside-a-view"),
        pytest.param("block", Kind.AREAS_OVERLAP, id="table-over-title-block"),
    ],
)
def test_areas(name: str, kind: Kind) -> None:
    def made(dx: float, dy: float) -> Drawing:
        if name == "view":
            other = View(name="other", origin=(dx, dy), scale=1.0, marks=(rectangle(105, 95, 125, 125, Line.OUTLINE),))
            return drawing(views=(other,))
        if name == "note":
            lines = [Text((65.0 + dx, 100.0 + dy - 3.4 * n), f"{n} HOLES TO BE FREE OF BURRS", 2.0) for n in range(3)]
            return drawing(*lines)
        x, y = (120.0 + dx, 100.0 + dy) if name == "table" else (190.0 + dx, 30.0 + dy)
        return drawing(rectangle(x, y, x + 50.0, y + 20.0, Line.OUTLINE))

    assert kind in {v.kind for v in judged(made(0.0, 0.0))}
    clear = {"view": (100.0, 0.0), "table": (55.0, 0.0), "note": (120.0, 60.0), "block": (0.0, 20.0)}[name]
    assert judged(made(*clear)) == ()


def test_slanted_views_may_share_a_box() -> None:
    """Two triangles whose boxes overlap but whose edges keep apart."""
    first = View(name="first", origin=(200.0, 60.0), scale=1.0, marks=(Fan(0.0),))
    second = View(name="second", origin=(200.0, 60.0), scale=1.0, marks=(Fan(5.0),))
    assert judged(drawing(views=(first, second))) == ()
    third = View(name="third", origin=(200.0, 60.0), scale=1.0, marks=(Fan(-2.0),))
    assert only(drawing(views=(first, third))).kind is Kind.AREAS_OVERLAP


def Fan(apart: float) -> Stroke:  # noqa: N802  a shape
    """Half of a square, cut along its diagonal: the lower right one, or the upper left one, moved off it."""
    if apart == 0.0:
        return Stroke(((0.0, 0.0), (60.0, 0.0), (60.0, 60.0)), Line.OUTLINE, closed=True)
    return Stroke(((-apart, apart), (60.0 - apart, 60.0 + apart), (-apart, 60.0 + apart)), Line.OUTLINE, closed=True)


def test_text_that_a_window_cuts() -> None:
    detail = View(
        name="detail B",
        origin=(200.0, 60.0),
        scale=2.0,
        marks=(rectangle(0.0, 0.0, 5.0, 5.0, Line.OUTLINE), hold((15.0, 12.0)), hold((60.0, 10.0))),
        frame=(195.0, 55.0, 235.0, 95.0),
    )
    found = judged(drawing(views=(detail,)))
    assert [(v.kind, v.what) for v in found] == [
        (Kind.CUT_OFF, '"HHHHHHHH" in detail B')
    ]  # the farther one is not seen
    assert judged(drawing(views=(replace(detail, marks=detail.marks[:1]),))) == ()


# Places and words


def test_place_names_sheet_field_and_millimetres() -> None:
    found = only(drawing(hold(ROOM), hold((RX, RY + 2.0))))
    assert (found.sheet, found.zone, found.at) == ("Sheet 1", "A2", ROOM)
    assert found.place == "Sheet 1, A2, at 230, 120 mm"
    assert found.sentence == '"HHHHHHHH" overlaps "HHHHHHHH"'


def test_findings_are_cautions_with_rule_and_place() -> None:
    gap = 1.0
    top = PLATE_AT[1] + 50.0 + 2.75 + H / 2
    found = judged(drawing(hold((PLATE_AT[0] + 50.0, top + gap + H / 2))))
    (finding,) = findings(found, "plate")
    assert finding.code == "drawing-layout"
    assert finding.severity is Severity.CAUTION
    assert finding.place.split(",")[0] == "plate"
    assert finding.figure is not None
    assert finding.figure.value == pytest.approx(gap, abs=0.01)
    assert finding.limit is not None
    assert finding.limit.value == H
    assert all((finding.rule, finding.source, finding.remedy))
