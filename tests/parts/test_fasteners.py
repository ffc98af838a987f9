"""Nuts, washers, socket screws and studs against their standards and a reference library."""

from collections.abc import Callable
from itertools import pairwise

import pytest

from slotwright.errors import NotListedError
from slotwright.parts.nuts import hex_nut
from slotwright.parts.socket_screws import (
    counterbore,
    longest_length,
    screw_lengths,
    shortest_length,
    socket_screw,
)
from slotwright.parts.standards import rows
from slotwright.parts.studs import stud, stud_length, stud_lengths
from slotwright.parts.threads import Thread, thread, threads
from slotwright.parts.washers import washer

Reference = Callable[[str], list[dict[str, str]]]

INCH = 25.4
SIZES_FROM_A_QUARTER = {"1/4", "5/16", "3/8", "7/16", "1/2", "5/8", "3/4", "7/8", "1", "1-1/8", "1-1/4"}
COARSE = [t for t in threads("metric") if t.series == "coarse"]


def _sized(t: Thread) -> str:
    """The reference library's name of a thread: "M12-1.75", "1/2-13"."""
    return f"{t.size}-{t.pitch:g}" if t.system == "metric" else t.designation.removesuffix(f" {t.series}")


def _having(table: str, column: str) -> list[Thread]:
    sizes = {row.text(column) for row in rows(table)}
    return [t for t in COARSE if t.size in sizes]


def test_every_metric_nut_agrees_with_the_reference_library(reference: Reference) -> None:
    """ISO 4032: width across flats and height."""
    theirs = {row["Size"]: row for row in reference("hex_nut_parameters")}
    for t in _having("hex_nuts_metric", "thread"):
        nut = hex_nut(t)
        row = theirs[_sized(t)]
        assert (nut.across_flats, nut.height) == (float(row["iso4032:s"]), float(row["iso4032:m"])), t.designation


# size: largest width across flats, largest height, inch: Machinery's Handbook 31, p. 1677 (ASME B18.2.2 table 7)
ASME_B18_2_2 = {
    "1/4": (0.438, 0.226), "5/16": (0.500, 0.273), "3/8": (0.562, 0.337), "7/16": (0.688, 0.385), "1/2": (0.750, 0.448),
    "5/8": (0.938, 0.559), "3/4": (1.125, 0.665), "7/8": (1.312, 0.776), "1": (1.500, 0.887), "1-1/8": (1.688, 0.999),
    "1-1/4": (1.875, 1.094),
}  # fmt: skip


@pytest.mark.parametrize(("size", "printed"), ASME_B18_2_2.items(), ids=[f"MH31-p1677-{size}" for size in ASME_B18_2_2])
def test_inch_nuts_published(size: str, printed: tuple[float, float]) -> None:
    t = next(t for t in threads("inch") if t.size == size and t.series == "UNC")
    nut = hex_nut(t)
    assert (nut.across_flats / INCH, nut.height / INCH) == pytest.approx(printed, abs=1e-9)


@pytest.mark.parametrize(
    ("flats", "corners"),
    [
        pytest.param("1/2", 0.866, id="MH31-p1677-1/2-largest-corners"),
        pytest.param("3/4", 1.299, id="MH31-p1677-3/4-largest-corners"),
        pytest.param("1-1/4", 2.165, id="MH31-p1677-1-1/4-largest-corners"),
    ],
)
def test_across_corners_published(flats: str, corners: float) -> None:
    t = next(t for t in threads("inch") if t.size == flats and t.series == "UNC")
    assert hex_nut(t).across_corners / INCH == pytest.approx(corners, abs=5.1e-4)


@pytest.mark.parametrize("name", ["M6", "M8", "M10", "M12", "M16", "M20", "M24", "M30", "M36", "M48"])
def test_clamping_nuts_are_one_and_a_half_diameters_tall(name: str) -> None:
    """DIN 6330 is the 1.5 d nut."""
    nut = hex_nut(thread(name), "clamping")
    assert (nut.standard, nut.height) == ("DIN 6330", 1.5 * thread(name).major)


def test_clamping_nuts_take_the_same_spanner_as_plain_ones() -> None:
    """ISO 272 widths across flats serve both DIN 6330 and ISO 4032."""
    for name in ("M6", "M8", "M10", "M12", "M16", "M20", "M24", "M30"):
        assert hex_nut(thread(name), "clamping").across_flats == hex_nut(thread(name)).across_flats


def test_where_no_clamping_nut_exists_the_plain_one_is_given() -> None:
    assert hex_nut(thread("M14"), "clamping").standard == "ISO 4032"
    assert hex_nut(thread("1/2-13"), "clamping").standard == "ASME B18.2.2"


def test_every_plain_washer_agrees_with_the_reference_library(reference: Reference) -> None:
    """ISO 7089: hole, outer diameter and largest thickness."""
    theirs = {row["Size"]: row for row in reference("plain_washer_parameters")}
    mine = [t for t in COARSE if any(r.text("for_thread") == t.size for r in rows("washers_metric"))]
    for t in mine:
        found = washer(t, "plain")
        row = theirs[t.size]
        printed = tuple(float(row[f"iso7089:{column}"]) for column in ("d1", "d2", "h"))
        assert (found.hole, found.outer, found.thickness_max) == printed, t.designation
    assert len(mine) == 12


# hole, outer diameter, thickness, mm: DIN 6340 as a general fastener data table has it (M10: 28 is recalled)
DIN_6340 = {
    "M6": (6.4, 17, 3), "M8": (8.4, 23, 4), "M10": (10.5, 26, 4), "M12": (13, 35, 5), "M16": (17, 45, 6),
    "M20": (21, 50, 6), "M24": (25, 60, 8), "M30": (31, 68, 10),
}  # fmt: skip


@pytest.mark.parametrize(("name", "sizes"), DIN_6340.items(), ids=[f"DIN-6340-{name}" for name in DIN_6340])
def test_clamping_washers(name: str, sizes: tuple[float, float, float]) -> None:
    found = washer(thread(name), "clamping")
    assert (found.standard, found.hole, found.outer, found.thickness) == ("DIN 6340", *sizes)


# hole; outer, thickness, largest thickness of the narrow, then of the regular one, inch. ASME B18.21.1 type B, basic
# sizes: Machinery's Handbook 31 p. 1697 from 3/4 up; a supplier's B18.22.1 page to 1/4 and the narrow 5/16; the rest
# from memory
TYPE_B = {
    "#4": (0.125, (0.250, 0.032, 0.036), (0.375, 0.040, 0.045)),
    "#5": (0.141, (0.281, 0.032, 0.036), (0.406, 0.040, 0.045)),
    "#6": (0.156, (0.312, 0.032, 0.036), (0.438, 0.040, 0.045)),
    "#8": (0.188, (0.375, 0.040, 0.045), (0.500, 0.040, 0.045)),
    "#10": (0.203, (0.406, 0.040, 0.045), (0.562, 0.040, 0.045)),
    "1/4": (0.281, (0.500, 0.063, 0.071), (0.734, 0.063, 0.071)),
    "5/16": (0.344, (0.625, 0.063, 0.071), (0.875, 0.063, 0.071)),
    "3/8": (0.406, (0.734, 0.063, 0.071), (1.000, 0.063, 0.071)),
    "7/16": (0.469, (0.875, 0.063, 0.071), (1.125, 0.063, 0.071)),
    "1/2": (0.531, (1.000, 0.063, 0.071), (1.250, 0.100, 0.112)),
    "5/8": (0.656, (1.250, 0.100, 0.112), (1.750, 0.100, 0.112)),
    "3/4": (0.812, (1.375, 0.100, 0.112), (2.000, 0.100, 0.112)),
    "7/8": (0.938, (1.469, 0.100, 0.112), (2.250, 0.160, 0.174)),
    "1": (1.062, (1.750, 0.100, 0.112), (2.500, 0.160, 0.174)),
    "1-1/8": (1.188, (2.000, 0.100, 0.112), (2.750, 0.160, 0.174)),
    "1-1/4": (1.312, (2.250, 0.160, 0.174), (3.000, 0.160, 0.174)),
}


@pytest.mark.parametrize(("size", "printed"), TYPE_B.items(), ids=[f"ASME-B18.21.1-type-B-{size}" for size in TYPE_B])
def test_inch_washers(size: str, printed: tuple[float, tuple[float, ...], tuple[float, ...]]) -> None:
    t = next(t for t in threads("inch") if t.size == size)
    for kind, sizes in zip(("narrow", "plain"), printed[1:], strict=True):
        found = washer(t, kind)
        inches = [s / INCH for s in (found.hole, found.outer, found.thickness, found.thickness_max)]
        assert inches == pytest.approx([printed[0], *sizes], abs=1e-9)
        assert found.standard == f"ASME B18.21.1 type B {'narrow' if kind == 'narrow' else 'regular'}"
    assert washer(t, "clamping") == washer(t, "plain")


def test_where_din_6340_has_no_washer_the_plain_one_is_given() -> None:
    found = washer(thread("M14"), "clamping")
    assert (found.standard, found.hole, found.outer, found.thickness) == ("ISO 7089", 15, 28, 2.5)


# nominal thickness, mm: ISO 7089, from memory
@pytest.mark.parametrize(
    ("name", "thickness"),
    [("M3", 0.5), ("M4", 0.8), ("M5", 1), ("M6", 1.6), ("M8", 1.6), ("M10", 2), ("M12", 2.5), ("M16", 3), ("M20", 3),
     ("M24", 4), ("M30", 4)],
)  # fmt: skip
def test_plain_washers_nominal_thickness(name: str, thickness: float) -> None:
    assert washer(thread(name), "plain").thickness == thickness


@pytest.mark.parametrize("kind", ["clamping", "plain", "narrow"])
@pytest.mark.parametrize("system", ["metric", "inch"])
def test_a_washer_clears_its_bolt_and_covers_the_clearance_hole(system: str, kind: str) -> None:
    mine = [t for t in threads(system) if t.series in ("coarse", "UNC")]
    found = []
    for t in mine:
        try:
            found.append((t, washer(t, kind)))
        except NotListedError:
            continue
    assert len(found) >= 12
    assert all(t.major < w.hole < 0.9 * w.outer for t, w in found)
    assert all(a.outer < b.outer for (_, a), (_, b) in pairwise(found) if a.standard == b.standard)


def test_every_socket_screw_agrees_with_the_reference_library(reference: Reference) -> None:
    """ISO 4762 and ASME B18.3: head diameter and height, key, depth of socket."""
    theirs = {row["Size"]: row for row in reference("socket_head_cap_parameters")}
    compared = 0
    for t in [*threads("metric"), *threads("inch")]:
        row = theirs.get(_sized(t))
        if row is None:
            continue
        try:
            screw = socket_screw(t)
        except NotListedError:
            assert t.size in {"M36", "M42", "M48"}
            continue
        compared += 1
        unit, standard = (1.0, "iso4762") if t.system == "metric" else (INCH, "asme_b18.3")
        head, height, depth = (float(row[f"{standard}:{column}"]) * unit for column in ("dk", "k", "t"))
        found = (screw.head_diameter, screw.head_height, screw.key_depth)
        assert found == pytest.approx((head, height, depth), abs=1e-9), t.designation
        assert screw.key_name == row[f"{standard}:s"], t.designation
    assert compared == 40


@pytest.mark.parametrize(
    "t", [t for t in threads("inch") if t.size in SIZES_FROM_A_QUARTER], ids=lambda t: t.designation
)
def test_inch_heads_are_one_and_a_half_diameters(t: Thread) -> None:
    """ASME B18.3: from 1/4 up the head is 1.5 d wide, printed to three places, and 1 d high."""
    screw = socket_screw(t)
    assert screw.head_diameter / INCH == pytest.approx(1.5 * t.major / INCH, abs=6e-4)
    assert screw.head_height == t.major


def test_every_length_agrees_with_the_reference_library(reference: Reference) -> None:
    theirs = {row["Screw_Type"]: row["Nominal_Sizes"].split(",") for row in reference("nominal_screw_lengths")}
    assert screw_lengths("metric") == tuple(float(length) for length in theirs["iso4762"])
    ours = [length / INCH for length in screw_lengths("inch") if length >= 0.75 * INCH]
    printed = sorted({float(length) for length in theirs["asme_b18.3"] if float(length) <= 12})
    assert ours == pytest.approx(printed, abs=0.0051)  # 7/8 is printed .88


@pytest.mark.parametrize(
    ("system", "wanted", "up", "down"),
    [("metric", 47.0, 50.0, 45.0), ("metric", 60.0, 60.0, 60.0), ("in", 2.1 * INCH, 2.25 * INCH, 2.0 * INCH)],
)
def test_lengths_round_to_the_series(system: str, wanted: float, up: float, down: float) -> None:
    assert shortest_length(system, wanted) == pytest.approx(up)
    assert longest_length(system, wanted) == pytest.approx(down)


def test_lengths_off_the_series_are_refused() -> None:
    with pytest.raises(NotListedError, match="ISO 4762"):
        shortest_length("metric", 301.0)
    with pytest.raises(NotListedError, match=r"ASME B18\.3"):
        longest_length("inch", 5.0)


# thread: counterbore, inch; handbook counterbore table for socket head cap screws, from memory
COUNTERBORES = {
    "#10-24": 3 / 8, "1/4-20": 7 / 16, "5/16-18": 17 / 32, "3/8-16": 5 / 8, "7/16-14": 23 / 32, "1/2-13": 13 / 16,
    "5/8-11": 1, "3/4-10": 1 + 3 / 16, "7/8-9": 1 + 3 / 8, "1-8": 1 + 5 / 8,
}  # fmt: skip


@pytest.mark.parametrize(("name", "diameter"), COUNTERBORES.items(), ids=COUNTERBORES)
def test_inch_counterbores(name: str, diameter: float) -> None:
    """One inch: the handbook has 1-5/8, head plus 1/8; ours is head plus 1/16, so within 1/16."""
    bore = counterbore(thread(name))
    assert bore.diameter / INCH == pytest.approx(diameter, abs=1e-6 if name != "1-8" else 1 / 16 + 1e-6)
    assert bore.source == "common practice, no source"


# counterbore, mm: DIN 974-1 row 1, from memory; M3 is 6.5 there and 6 in the public table used here
DIN_974_1 = {"M4": 8, "M5": 10, "M6": 11, "M8": 15, "M10": 18, "M12": 20, "M14": 24, "M16": 26, "M20": 33, "M24": 40,
             "M30": 50}  # fmt: skip


@pytest.mark.parametrize(("name", "diameter"), DIN_974_1.items(), ids=[f"DIN-974-1-{name}" for name in DIN_974_1])
def test_metric_counterbores(name: str, diameter: float) -> None:
    assert counterbore(thread(name)).diameter == diameter


def test_metric_counterbores_sink_the_head_by_a_little() -> None:
    """Head height plus 0.4 mm to M6, 0.6 to M20, 0.8 and 1 above, as a public table for ISO 4762 screws has it."""
    play = {"M3": 0.4, "M4": 0.4, "M5": 0.4, "M6": 0.4, "M24": 0.8, "M30": 1.0}
    for row in rows("counterbores_metric"):
        t = thread(row.text("for_thread"))
        assert counterbore(t).depth - socket_screw(t).head_height == pytest.approx(play.get(t.size, 0.6), abs=1e-9)


# DIN 6379, thread at the nut's end, mm, from memory
@pytest.mark.parametrize(
    ("name", "nut_end"),
    [("M6", 9), ("M8", 11), ("M10", 13), ("M12", 15), ("M16", 19), ("M20", 27), ("M24", 35), ("M30", 43)],
)
def test_stud_ends(name: str, nut_end: float) -> None:
    assert stud(thread(name), 60.0).nut_end == nut_end


def test_every_counterbore_takes_its_head() -> None:
    for t in [*threads("metric"), *threads("inch")]:
        try:
            bore = counterbore(t)
        except NotListedError:
            continue
        screw = socket_screw(t)
        assert 0.3 < bore.diameter - screw.head_diameter < 5.0, t.designation
        assert 0.0 <= bore.depth - screw.head_height <= 1.0, t.designation


@pytest.mark.parametrize(
    ("name", "needed", "length"),
    [
        pytest.param("M12", 95.0, 100.0, id="DIN-6379-from-memory"),
        pytest.param("M12", 100.0, 100.0, id="DIN-6379-from-memory-exact"),
        pytest.param("M16", 253.0, 315.0, id="DIN-6379-from-memory-long"),
        pytest.param("1/2-13", 4.1 * INCH, 4.5 * INCH, id="common-practice-half-inches"),
        pytest.param("1/2-13", 6.1 * INCH, 7.0 * INCH, id="common-practice-inches-above-6"),
    ],
)
def test_stud_length(name: str, needed: float, length: float) -> None:
    assert stud_length(thread(name), needed) == pytest.approx(length)
    found = stud(thread(name), needed)
    assert found.length == pytest.approx(length)
    assert 0.0 < found.nut_end <= found.length


@pytest.mark.parametrize(("name", "needed"), [("M12", 201.0), ("M14", 80.0), ("1/2-13", 12.01 * INCH), ("M12x1.5", 50)])
def test_a_stud_nobody_lists_is_refused(name: str, needed: float) -> None:
    with pytest.raises(NotListedError, match="there is: "):
        stud_length(thread(name), needed)


def test_din_6379_lengths_are_preferred_numbers() -> None:
    """ISO 3 series R10 rounded."""
    r10 = {32, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500}
    for name in ("M6", "M8", "M10", "M12", "M16", "M20", "M24", "M30"):
        lengths = stud_lengths(thread(name))
        assert set(lengths) <= r10
        assert list(lengths) == sorted(set(lengths))


@pytest.mark.parametrize("make", [hex_nut, washer])
def test_an_unknown_kind_is_refused(make: Callable[[Thread, str], object]) -> None:
    with pytest.raises(NotListedError, match="kinds of"):
        make(thread("M12"), "wing")


def test_an_unlisted_size_is_refused() -> None:
    for look_up in (hex_nut, washer, socket_screw, counterbore):
        with pytest.raises(NotListedError):
            look_up(thread("#12-24"))
