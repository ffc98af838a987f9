"""Findings: each code with a case just inside and just outside its limit, the figures worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from slotwright.checks.everything import check_everything
from slotwright.checks.joints import check_joints
from slotwright.checks.supplies import SHOPPING, gathered
from slotwright.findings import Figure, Finding, Severity, worst
from slotwright.fixtures.bench import Bench
from slotwright.fixtures.hold_down_bar import HoldDownBar, solve
from slotwright.fixtures.layout import Work
from slotwright.parts.supplies import DrawerFile, RackFile
from slotwright.parts.table_file import TableFile
from slotwright.records.reading import Where, read

TABLE: dict[str, Any] = {
    "unit": "mm",
    "length": "1000 mm",
    "width": "260 mm",
    "slots": {"width": "14 mm", "number": 4, "pitch": "63 mm"},
}
BAR: dict[str, Any] = {
    "name": "bar",
    "width": "40 mm",
    "thickness": "20 mm",
    "length": "300 mm",
    "overhang-front": "20 mm",
}


def found(
    bar: dict[str, Any],
    table: dict[str, Any] | None = None,
    *others: dict[str, Any],
    rack: dict[str, Any] | None = None,
    drawer: dict[str, Any] | None = None,
    work: Work | None = None,
) -> dict[str, list[Finding]]:
    where = Where("t")
    tables = [read(TableFile, t, where).table(f"table-{n}") for n, t in enumerate([table or TABLE, *others])]
    bench = replace(bench_with(rack, drawer), tables=tuple(tables), work=work)
    result: dict[str, list[Finding]] = {}
    for finding in check_everything(solve(read(HoldDownBar, {**BAR, **bar}, where), bench), bench):
        result.setdefault(finding.code, []).append(finding)
    return result


def bench_with(rack: dict[str, Any] | None, drawer: dict[str, Any] | None) -> Bench:
    where = Where("t")
    return Bench(
        tables=(read(TableFile, TABLE, where).table("table"),),
        unit="mm",
        rack=None if rack is None else read(RackFile, rack, where),
        drawer=None if drawer is None else read(DrawerFile, drawer, where),
    )


def one(findings: dict[str, list[Finding]], code: str) -> Finding:
    assert code in findings, f"{code} not in {sorted(findings)}"
    return findings[code][0]


def tapped(x: float, across: float = 0.0, thread: str = "M12", **rest: Any) -> dict[str, Any]:
    return {"make": "tapped", "thread": thread, "at": [f"{x} mm"], "across": f"{across} mm", **rest}


def test_a_sound_bar_has_no_caution() -> None:
    findings = found({})
    assert worst(f for group in findings.values() for f in group) is Severity.FINE


@pytest.mark.parametrize(
    ("x", "severity", "web"),
    [
        pytest.param(12.0, Severity.FINE, 6.0, id="web-6-is-half-of-12"),
        pytest.param(11.9, Severity.CAUTION, 5.9, id="web-5.9"),
        pytest.param(6.0, Severity.STOP, 0.0, id="touches-the-edge"),
        pytest.param(5.0, Severity.STOP, -1.0, id="breaks-out"),
    ],
)
def test_hole_to_edge(x: float, severity: Severity, web: float) -> None:
    finding = next(
        f for f in found({"work-hole": [tapped(x)]})["hole-to-edge"] if "B1" in f.place or severity is Severity.FINE
    )
    assert finding.severity is severity
    assert finding.figure is not None
    if severity is not Severity.FINE:
        assert finding.figure.value == pytest.approx(web)


def test_hole_to_hole_refuses_with_the_web_that_is_left() -> None:
    # M12 (radius 6) 10 mm from a 13.5 hole at 55.5: 10 - 6 - 6.75 = -2.75
    finding = one(found({"work-hole": [tapped(65.5)]}), "hole-to-hole")
    assert finding.severity is Severity.STOP
    assert finding.figure is not None
    assert finding.figure.value == pytest.approx(-2.75)


def test_one_bar_for_two_tables_refuses_holes_that_run_into_each_other() -> None:
    other = {**TABLE, "slots": {"width": "14 mm", "number": 4, "pitch": "60 mm"}}
    finding = one(found({}, None, other), "hole-to-hole")
    # 55.5 against 60 and 118.5 against 120: the latter leaves 1.5 - 13.5
    assert finding.severity is Severity.STOP
    figures = sorted(f.figure.value for f in found({}, None, other)["hole-to-hole"] if f.figure is not None)
    assert figures[0] == pytest.approx(1.5 - 13.5)
    assert "make a piece for each table" in finding.remedy  # the slots say where these holes stand: none can be moved
    clash = one(found({"work-hole": [tapped(30.5)], "thickness": "25 mm", "heads": "sunk"}), "hole-into-counterbore")
    assert "each table" not in clash.remedy


def test_hole_into_counterbore_is_told_apart() -> None:
    # counterbore 20, hole 13.5, M12 drilled 10.2, 25 apart: 25 - 10 - 6 = 9 < 10, but 25 - 6.75 - 5.1 = 13.15
    findings = found({"heads": "sunk", "thickness": "25 mm", "work-hole": [tapped(30.5)]})
    finding = one(findings, "hole-into-counterbore")
    assert finding.severity is Severity.CAUTION
    assert finding.figure is not None
    assert finding.figure.value == pytest.approx(9.0)


def test_slotted_holes_count_their_whole_length() -> None:
    # slot 13.5 wide, 30 longer: its ends 55.5 +- 15 -+ 6.75; the next slot 63 on: 63 - 30 - 13.5 = 19.5
    finding = one(found({"play": "30 mm"}), "hole-to-hole")
    assert finding.figure is not None
    assert finding.figure.value == pytest.approx(19.5)


def test_t_nut_too_tall_for_the_slot_is_replaced_by_one_to_make() -> None:
    shallow = {
        **TABLE,
        "slots": {**TABLE["slots"], "headspace-depth": "7 mm", "headspace-width": "25 mm", "depth": "20 mm"},
    }
    finding = one(found({}, shallow), "t-nut-to-measure")
    assert finding.severity is Severity.CAUTION
    assert "base height 6 mm" in finding.message  # 7 less the 1 mm DIN 508 leaves in ISO 299's slot


@pytest.mark.parametrize(
    ("change", "words"),
    [
        # slot 14 by ISO 299: throat 14 deep, headspace 23 x 9; DIN 508's nut is 22 wide, 8 + 8 high
        pytest.param({"height": 23.0}, "stand above the table top", id="tongue-15-in-a-throat-of-14"),
        pytest.param({"base_height": 9.5}, "too high for the headspace", id="base-9.5-in-a-headspace-of-9"),
        pytest.param({"base_width": 24.0}, "too wide for the headspace", id="base-24-in-a-headspace-of-23"),
    ],
)
def test_t_nut_that_does_not_fit_is_seen(change: dict[str, Any], words: str) -> None:
    table = read(TableFile, TABLE, Where("t")).table("t")
    bench = Bench(tables=(table,), unit="mm")
    layout = solve(read(HoldDownBar, BAR, Where("t")), bench).layouts[0]
    nut = replace(layout.joints[0].nut, **change)
    shoulder = -table.slot.throat_depth
    joint = replace(layout.joints[0], nut=nut, nut_top=shoulder + nut.height - nut.base_height)
    finding = next(f for f in check_joints(replace(layout, joints=(joint,)), "mm") if f.code == "t-nut-in-slot")
    assert finding.severity is Severity.STOP
    assert words in finding.message


def test_odd_slot_says_what_a_nut_must_be_and_that_depths_are_assumed() -> None:
    odd = {**TABLE, "slots": {"width": "15.875 mm", "number": 3, "pitch": "63.5 mm"}}
    findings = found({}, odd)
    assumed = one(findings, "slot-figures-assumed")
    assert assumed.severity is Severity.CAUTION
    assert "no standard has its width, 15.875 mm;" in assumed.message
    nut = one(findings, "t-nut-to-measure")
    assert "fits a slot 15.875 mm wide; make one: M12" in nut.message
    assert nut.remedy.startswith("leave its thread short of the bottom")  # or a stud jacks the nut out of its slot


@pytest.mark.parametrize(
    ("bolt", "passes", "wall"),
    [
        pytest.param("M12", Severity.FINE, Severity.FINE, id="M12-in-14-as-DIN-508"),
        pytest.param("M14", Severity.STOP, Severity.STOP, id="M14-in-14-has-neither-play-nor-wall"),
        pytest.param("M16", Severity.STOP, Severity.STOP, id="M16-in-14"),
    ],
)
def test_bolt_too_large_for_the_slot(bolt: str, passes: Severity, wall: Severity) -> None:
    findings = found({"bolt": bolt})
    assert one(findings, "bolt-in-slot").severity is passes
    assert one(findings, "t-nut-wall").severity is wall


def test_bolt_that_passes_a_worn_slot_but_leaves_a_thin_nut() -> None:
    worn = {**TABLE, "slots": {**TABLE["slots"], "width": "15.5 mm"}}
    findings = found({"bolt": "M14"}, worn)  # (15.5 - 14) / 2 = 0.75 of wall, 1.5 of play
    assert one(findings, "bolt-in-slot").severity is Severity.FINE
    thin = one(findings, "t-nut-wall")
    assert thin.severity is Severity.CAUTION
    assert thin.figure is not None
    assert thin.figure.value == pytest.approx(0.75)


def test_screw_bottoms_in_a_shallow_slot() -> None:
    assert one(found({"heads": "sunk", "thickness": "25 mm"}), "screw-bottoms").severity is Severity.FINE
    # Headspace 5, floor at 12: a nut 4 + 4 high, its thread two pitches short of that, from -3 down to -7.5. Flush at
    # 20 - 12.6 = 7.4, ISO 4762 length 12 is too short to leave metal under its head, and 16 ends at -8.6.
    shallow = {**TABLE["slots"], "headspace-width": "25 mm", "headspace-depth": "5 mm", "depth": "12 mm"}
    findings = found({"heads": "sunk", "thickness": "20 mm"}, {**TABLE, "slots": shallow})
    finding = one(findings, "screw-bottoms")
    assert finding.severity is Severity.STOP
    assert finding.message == "the screw bottoms at the end of the T-nut's thread and clamps nothing"
    assert finding.figure is not None
    assert finding.limit is not None
    assert (finding.figure.value, finding.limit.value) == pytest.approx((5.6, 4.5))
    held = one(findings, "engagement")  # 4.5 of 12 is not even half
    assert held.severity is Severity.STOP
    assert held.figure is not None
    assert held.figure.value == pytest.approx(4.5)
    assert held.remedy.startswith("tap the T-nut through and stake its last thread")


def test_screw_near_the_slots_floor_is_seen() -> None:
    """ISO 299 slot 14 is 23 deep; a screw through DIN 508's nut down to 22.5 has half a mm: common practice, 1 mm."""
    table = read(TableFile, TABLE, Where("t")).table("t")
    layout = solve(
        read(HoldDownBar, {**BAR, "heads": "sunk", "thickness": "25 mm"}, Where("t")), Bench(tables=(table,), unit="mm")
    ).layouts[0]
    joint = replace(layout.joints[0], tip=-22.5)
    finding = next(f for f in check_joints(replace(layout, joints=(joint,)), "mm") if f.code == "screw-bottoms")
    assert (finding.severity, finding.figure) == (Severity.STOP, Figure(value=0.5))


def test_engagement_too_short_in_a_thin_bar() -> None:
    thin = one(found({"thickness": "10 mm", "work-hole": [tapped(100)]}), "engagement")
    assert thin.severity is Severity.CAUTION
    assert thin.figure is not None
    assert thin.limit is not None
    assert (thin.figure.value, thin.limit.value) == (10.0, 12.0)  # 1 d in steel, common practice
    iron = one(found({"material": "EN-GJL-250", "work-hole": [tapped(100)]}), "engagement")
    assert iron.limit is not None
    assert iron.limit.value == 18.0  # 1.5 d in cast iron, common practice


def test_drill_that_has_to_go_through_is_said() -> None:
    assert "blind-hole-drilled-through" in found({"work-hole": [tapped(100, depth="15 mm")]})
    reamed = {"make": "reamed", "diameter": "10 mm", "at": ["100 mm"], "depth": "19 mm"}
    assert "blind-hole-drilled-through" in found({"work-hole": [reamed]})
    assert "blind-hole-drilled-through" not in found({"work-hole": [tapped(100, thread="M6", depth="9 mm")]})


def test_position_tolerance_used_up_by_uncertain_slots() -> None:
    unsure = {**TABLE, "slots": {**TABLE["slots"], "uncertainty": "0.75 mm"}}
    finding = one(found({}, unsure), "position-tolerance")  # 13.5 - 12 - 2 x 0.75 = 0
    assert finding.severity is Severity.STOP
    assert one(found({"holes": "coarse"}, unsure), "position-tolerance").severity is Severity.FINE


def test_single_bolt_can_swing() -> None:
    assert one(found({"slots": [2]}), "single-bolt").severity is Severity.CAUTION
    assert "single-bolt" not in found({"slots": [2, 3]})


def test_bar_wider_than_the_clear_table() -> None:
    finding = one(found({"stations": ["15 mm"]}), "bar-wider-than-table")  # half of 40 stands 5 over the left end
    assert finding.severity is Severity.STOP
    assert finding.figure is not None
    assert finding.limit is not None
    assert finding.figure.value == pytest.approx(5.0)
    assert finding.limit.value == 0.0
    assert "bar-wider-than-table" not in found({"stations": ["20 mm"]})


def test_two_bars_in_one_place() -> None:
    findings = found({"quantity": 2, "stations": ["200 mm", "230 mm"]})
    finding = one(findings, "pieces-overlap")
    assert finding.figure is not None
    assert finding.figure.value == pytest.approx(-10.0)


def test_load_on_the_table() -> None:
    light = {**TABLE, "load": "40 kg"}
    assert one(found({}, light, work=Work(name="w", mass=30.0)), "table-load").severity is Severity.FINE
    assert one(found({}, light, work=Work(name="w", mass=39.0)), "table-load").severity is Severity.STOP
    assert "table-load" not in found({}, work=Work(name="w", mass=1e5))


def test_stock_and_tools_the_shop_has() -> None:
    rack = {"bar": [{"name": "a", "width": "40 mm", "thickness": "20 mm", "longest": "303 mm"}]}
    drawer = {"taps": ["M12"], "reamers": ["10 mm"]}
    holes = [tapped(100), {"make": "reamed", "diameter": "10 mm", "at": ["270 mm"]}]
    fine = found({"work-hole": holes}, rack=rack, drawer=drawer)
    assert not {"stock-not-on-rack", "stock-too-short", "tap-not-in-drawer", "reamer-not-in-drawer"} & set(fine)
    lacking = found(
        {
            "width": "50 mm",
            "work-hole": [tapped(100, thread="M10"), {"make": "reamed", "diameter": "9 mm", "at": ["270 mm"]}],
        },
        rack=rack,
        drawer=drawer,
    )
    assert {"stock-not-on-rack", "tap-not-in-drawer", "reamer-not-in-drawer"} <= set(lacking)
    assert "stock-too-short" in found({"length": "301 mm"}, rack=rack)  # 301 + 3 to saw is over 303


def test_what_is_to_be_bought_stands_in_a_line_for_the_rack_and_one_for_the_drawer() -> None:
    bench = bench_with({"bar": [{"name": "a", "width": "40 mm", "thickness": "20 mm"}]}, {"taps": ["M12"]})
    holes = [
        tapped(100, thread="M10"),
        tapped(200, thread="M8"),
        {"make": "reamed", "diameter": "9 mm", "at": ["270 mm"]},
    ]
    wide = {**BAR, "width": "50 mm", "work-hole": holes}
    bars = [read(HoldDownBar, {**wide, "name": name}, Where("t")) for name in "ab"]
    findings = [finding for bar in bars for finding in check_everything(solve(bar, bench), bench)]
    shopping = [finding for finding in findings if finding.code in SHOPPING]
    told = list(gathered(findings, bench))
    assert len(shopping) == 2 * (1 + 2 + 1)  # of each bar: the stock, two taps, a reamer
    assert [finding for finding in told if finding not in shopping][:-2] == [f for f in findings if f not in shopping]
    rack, drawer = told[-2:]
    assert (rack.place, drawer.place) == ("rack", "drawer")
    assert rack.message.startswith("lacks 50 x 20 mm of S235JR")
    assert rack.message.endswith("(for a and b)")
    assert [word in drawer.message for word in ("M10 tap", "M8 tap", "9 mm reamer")] == [True] * 3
    assert drawer.message.count("a, holes") == drawer.message.count("b, holes") == 3


def test_an_empty_rack_is_told_to_be_empty() -> None:
    bench = bench_with({"bar": []}, None)
    findings = check_everything(solve(read(HoldDownBar, BAR, Where("t")), bench), bench)
    (rack,) = [finding for finding in gathered(findings, bench) if finding.code in SHOPPING]
    assert rack.message.startswith("has nothing listed; it would need 40 x 20 mm")


def test_every_finding_has_figure_rule_source_and_remedy() -> None:
    findings = found(
        {"slots": [2], "stations": ["5 mm"], "work-hole": [tapped(5), tapped(100, thread="M20")]}, drawer={"taps": []}
    )
    for group in findings.values():
        for finding in group:
            assert finding.rule
            assert finding.source
            assert finding.remedy or finding.severity is Severity.FINE
