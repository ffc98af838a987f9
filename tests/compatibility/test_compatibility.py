"""The compatibility promise: files of every released format version are never edited and keep loading for ever.

What each design means is worked out by hand from its file and its table's, beside the check; an inch is 25.4 mm.
"""

from __future__ import annotations

import json
import zipfile
from collections.abc import Iterable
from hashlib import sha256
from math import cos, hypot, pi, radians, sin, sqrt
from pathlib import Path

import pytest

from slotwright.fixtures.family import families, family_for
from slotwright.pieces.piece import Piece
from slotwright.sharing.receive import look_at
from slotwright.sharing.set_up import SetUp, set_up

HERE = Path(__file__).parent
# When a version is released, its folder is added with its sums; a line here is never changed.
SUMS = {
    "1.0/README.md": "4fa5d9d29bda15c2c8498031c3cdb7359b0754d31f53e23045ab82d6d24b241f",
    "1.0/fixtures/across-inch.toml": "3cc805705ef4d21898da5b6258aaca3675258245338cbb0c5e748138c4b734eb",
    "1.0/fixtures/across-metric.toml": "1fc49cd62ee3ff951852ede321ce309d036d23434665bdefdec6e9fc369a1309",
    "1.0/fixtures/along-inline.toml": "392f5ae60381a753b5d36b5c69433855e6674acf7cc40f79349678b95dd9a5e9",
    "1.0/fixtures/chuck.toml": "70e3e2459a50f0edb153ebe70b4a7166a6c48abde4b67a5fd8181bcd1dac338e",
    "1.0/fixtures/fence.toml": "8a27f519b7ba5ad214aec9a1c543108575d9714771d93e446f98148bebf2285b",
    "1.0/fixtures/flange-inch.toml": "b02fe3a1441933b9d3a2b32f1152823882c3cecf823a1403fdf388ae0f12e98a",
    "1.0/fixtures/grid.toml": "5c4242945005b838e5d33f37596bebd8f4df42850bd582e8aa4b47005857566f",
    "1.0/fixtures/hub-metric.toml": "e2980a804d8e08d5ca29f894722645ed5c3dc907ee24a4f1260192cf869cf124",
    "1.0/fixtures/insert-inch.toml": "d1cfafdc29d8a11a0effad16cf55c90596f32c1bc49d10acc97971125a269117",
    "1.0/fixtures/insert-outline.toml": "799035542e96eb8889ecdab71793947ed40ec769e9fa90055c86cd0e8bdea3fe",
    "1.0/fixtures/nest.toml": "308833a6a0f952ed52c2ed7b3653f912044e610be609e3ab55a0e58a4ea05cf2",
    "1.0/fixtures/packing.toml": "124e012ecdfd2230309f2f6288230bba1e5bc848fe8875cf194c1ffe9fe7466f",
    "1.0/fixtures/small-iron.toml": "58423a59045dac035b56a8fb81588755ae13922731364c03d700e8c7a0e58677",
    "1.0/fixtures/two-tables.toml": "87c74df328e6ae9833efb8155cbbca10a2b38b127167f127f44959fe9791f379",
    "1.0/fixtures/vee-blocks.toml": "d8cc76cc3b67ab44c62f1512f46c8113b5c0ce228705d857fce238be310eedc9",
    "1.0/parts/bay-mill.toml": "34df5f10f60a6a3d57c3582f0717d3db8c88f9a2a1fae729a0635f7adaf9bdc6",
    "1.0/parts/drawer.toml": "2feac1bd291e9e677193fc5dfd3f2ccc1f68a08e418bcff60f595e1ee13c6862",
    "1.0/parts/rack.toml": "e158c2eea6fca0a8c01f0b8c17b27d01e11970272a94e722de9168b25e0fd58d",
    "1.0/parts/seat-outline.dxf": "0699d89b8726a27bd828d974a280f72c58ff4769b6693a49eb4314a1cdbc1187",
    "1.0/parts/worn-mill.toml": "c85ae974c6fa35249de006ed5a1e1117382a26ba99f5af7968dd8a5a3996f2ad",
    "1.0/shared/across-metric.zip": "e6b708edfd8e7fc0f698fca5bf00d1001b756ed7f9bc31a7f19eda708b789dac",
    "1.0/shared/fence.zip": "4dca8091f37b6462051324c8267200b4a66198b53c7038c7c675c903db51c7f7",
    "1.0/shared/insert-outline.zip": "b929da9d8635e9258b23469a60629283c1fe911966c822e6738e6517324da0cc",
    "1.0/shared/nest.zip": "aaa25452d854efc283db603da1b70519fb230b11a99ea80463ac2defa542bc63",
    "1.0/shared/two-tables.zip": "9cb40231b039efbfa477b1e1eacf062ee004dda9a35a3691426c7ab8fbcaae7c",
}
DESIGNS = sorted(name for name in SUMS if name.endswith(".toml") and "/fixtures/" in name)
PACKS = sorted(name for name in SUMS if name.endswith(".zip"))
INCH = 25.4
METRIC = [25.0, 65.0, 105.0, 145.0, 45.0, 125.0, 235.5, 298.5, 424.5]
"""Work holes as given, then slots 1, 2 and 4: (280 - 3 x 63)/2 = 45.5 from the front edge, 63 apart, 190 overhang."""
IDS = {
    "1.0/fixtures/across-inch.toml": "ddd719b02e",
    "1.0/fixtures/across-metric.toml": "487676db58",
    "1.0/fixtures/along-inline.toml": "2149c3af77",
    "1.0/fixtures/chuck.toml": "eb7d677892",
    "1.0/fixtures/fence.toml": "bd60d1d337",
    "1.0/fixtures/flange-inch.toml": "365658f906",
    "1.0/fixtures/grid.toml": "a4f762b974",
    "1.0/fixtures/hub-metric.toml": "0d4c081dd5",
    "1.0/fixtures/insert-inch.toml": "82052fa2d7",
    "1.0/fixtures/insert-outline.toml": "66ad60c18e",
    "1.0/fixtures/nest.toml": "a952128662",
    "1.0/fixtures/packing.toml": "2d8e239dcd",
    "1.0/fixtures/small-iron.toml": "bdb1d9da6e",
    "1.0/fixtures/two-tables.toml": "34d0808143",
    "1.0/fixtures/vee-blocks.toml": "24b455c601",
}
"""Content ids as they stand on prints of that version: they trace a sheet to its design, so they stay."""


def opened(name: str) -> SetUp:
    """A design or a pack of the folder, solved."""
    path = HERE / name
    return look_at(path, path.name).made if path.suffix == ".zip" else set_up(path)


def design(stem: str) -> SetUp:
    return opened(f"1.0/fixtures/{stem}.toml")


def piece(made: SetUp, name: str) -> Piece:
    return next(one for one in made.pieces if one.name == name)


def along(one: Piece, *purposes: str) -> list[float]:
    """X of the holes with these purposes, or of all."""
    return sorted(round(hole.x, 6) for hole in one.holes if not purposes or hole.purpose.value in purposes)


def places(one: Piece, purpose: str) -> list[tuple[float, float]]:
    return sorted((round(hole.x, 6), round(hole.y, 6)) for hole in one.holes if hole.purpose.value == purpose)


def near(found: Iterable[tuple[float, float]], expected: Iterable[tuple[float, float]]) -> bool:
    """Whether two sets of places, none twice, are one to a micrometre."""
    these, those = list(found), list(expected)
    return len(these) == len(those) and all(min(hypot(a - x, b - y) for a, b in these) < 1e-3 for x, y in those)


def circle(middle: float, radius: float, first: float, number: int) -> list[tuple[float, float]]:
    """Places on a circle about (middle, middle), the first at an angle."""
    turns = [radians(first + 360.0 / number * n) for n in range(number)]
    return [(middle + radius * cos(turn), middle + radius * sin(turn)) for turn in turns]


def test_no_file_was_edited_added_or_lost() -> None:
    there = {path.relative_to(HERE).as_posix(): path for path in HERE.glob("*.*/**/*") if path.is_file()}
    assert {name: sha256(path.read_bytes()).hexdigest() for name, path in there.items()} == SUMS


@pytest.mark.parametrize("name", DESIGNS)
def test_design_loads_and_goes_by_its_content_id(name: str) -> None:
    made = opened(name)
    assert made.content_id == IDS[name]
    assert made.severity.value != "stop"


def test_every_kind_has_a_design() -> None:
    kinds = {family_for(fixture).kind for name in DESIGNS for fixture in opened(name).design.fixture}
    assert kinds >= {
        "chuck-base", "clamp-vee", "fence", "grid-plate", "hold-down-bar", "insert-plate", "jack-pad", "redrill",
        "riser", "slot-key", "step-block", "strap-clamp", "t-nut", "vee-block",
    }  # fmt: skip
    assert kinds <= set(families())


@pytest.mark.parametrize("name", PACKS)
def test_pack_is_received_whole(name: str) -> None:
    """Sums are reckoned here, apart from the program; the manifest lists every file."""
    received = look_at(HERE / name, name)
    assert received.manifest.format == "1.0"
    assert received.made.content_id == received.manifest.content_id
    assert not any("content id" in note for note in received.notes)
    with zipfile.ZipFile(HERE / name) as archive:
        manifest = json.loads(archive.read("manifest.json"))
        sums = {entry: sha256(archive.read(entry)).hexdigest() for entry in archive.namelist()[1:]}
    assert {entry["name"]: entry["sha256"] for entry in manifest["files"]} == sums


@pytest.mark.parametrize("stem", ["across-metric", "fence", "insert-outline", "nest", "two-tables"])
def test_pack_means_what_its_design_meant(stem: str) -> None:
    packed, made = opened(f"1.0/shared/{stem}.zip"), design(stem)
    assert packed.content_id == made.content_id
    assert packed.pieces == made.pieces
    assert packed.layouts == made.layouts


@pytest.mark.parametrize("name", ["1.0/fixtures/across-metric.toml", "1.0/shared/across-metric.zip"])
def test_bar_across_a_metric_table(name: str) -> None:
    assert along(piece(opened(name), "outrigger")) == sorted(METRIC)


def test_pack_tells_its_purpose() -> None:
    received = look_at(HERE / "1.0" / "shared" / "across-metric.zip", "across-metric.zip")
    assert "Castings that hang over the front of the table" in received.card


def test_bar_across_an_inch_table() -> None:
    # 1, 2.5, 4 and 5.5 as given; slots at 2, 4.5 and 7 from the front edge and 7.5 overhang
    expected = [INCH * x for x in (1, 2.5, 4, 5.5, 9.5, 12, 14.5)]
    assert along(piece(design("across-inch"), "outrigger")) == pytest.approx(expected)


def test_bar_along_a_slot_of_a_table_in_the_design() -> None:
    # two bolts spread evenly over 300: at a quarter and three quarters
    assert along(piece(design("along-inline"), "stop")) == [75.0, 225.0]


@pytest.mark.parametrize("name", ["1.0/fixtures/two-tables.toml", "1.0/shared/two-tables.zip"])
def test_one_bar_for_two_tables(name: str) -> None:
    # along slot 2: bolts at a quarter and three quarters of 480; slot 2 at 45.5 + 63, and 4-1/2 in, of two tables
    made = opened(name)
    assert places(piece(made, "both"), "table") == [(120.0, 20.0), (360.0, 20.0)]
    assert along(piece(made, "both"), "work") == [25.0, 65.0]
    studs = [{round(one.place.y, 6) for one in lay.hardware if one.item.kind == "stud"} for lay in made.layouts]
    assert studs == [{108.5}, {4.5 * INCH}]


@pytest.mark.parametrize("name", ["1.0/fixtures/fence.toml", "1.0/shared/fence.zip"])
def test_fence(name: str) -> None:
    # slots 2.5 in apart about the middle of 8.5 in; the stop screw 1 in along, half way up
    fence = piece(opened(name), "hinge-fence")
    assert near(places(fence, "table"), [(INCH * x, INCH * 1.25) for x in (1.75, 4.25, 6.75)])
    assert near(places(fence, "stop"), [(INCH, INCH * 0.625)])


@pytest.mark.parametrize("name", ["1.0/fixtures/nest.toml", "1.0/shared/nest.zip"])
def test_vee_nest(name: str) -> None:
    # both studs in slot 3 at 45.5 + 2 x 63, each R + w/2 = 80 off the part's centre at 45 degrees, about mid-table
    (layout,) = opened(name).layouts
    leg = 80.0 / sqrt(2.0)
    studs = [(one.place.x, one.place.y) for one in layout.hardware if one.item.kind == "stud"]
    assert near(studs, [(550.0 - leg, 171.5), (550.0 + leg, 171.5)])
    x0, y0, x1, y1 = layout.work_outlines[0].bounds
    assert near([((x0 + x1) / 2, (y0 + y1) / 2)], [(550.0, 171.5 - leg)])


@pytest.mark.parametrize("name", ["1.0/fixtures/insert-outline.toml", "1.0/shared/insert-outline.zip"])
def test_insert_with_an_outline_from_a_dxf_file(name: str) -> None:
    # 140 x 60 less 20 x 20 out of a corner; three screws 30 apart about the middle of plate and of parent
    made = opened(name)
    pad, parent = piece(made, "seat-pad"), piece(made, "seat-pad-parent")
    assert pad.blank.plan.area == pytest.approx(140 * 60 - 20 * 20)
    assert places(pad, "screw") == [(40.0, 30.0), (70.0, 30.0), (100.0, 30.0)]
    assert places(parent, "screw") == [(80.0, 50.0), (110.0, 50.0), (140.0, 50.0)]
    assert pad.tenons[0].outline.area == pytest.approx((90 - 25) * 25 + pi * 12.5**2)


def test_insert_in_inches() -> None:
    # an obround 5 x 2, its tenon one of 3.5 x 1 less twice the bond line of .005
    shoe = piece(design("insert-inch"), "rail-shoe")
    assert shoe.blank.plan.area / INCH**2 == pytest.approx(3 * 2 + pi)
    assert shoe.tenons[0].height / INCH == pytest.approx(0.375)


def test_flange_of_four_holes_gets_five_between_them() -> None:
    # both circles about the middle of 7.5 in; best turn 180/lcm(4, 5) = 9 degrees off 45: 0, 18, 36 or 54 for the first
    flange = piece(design("flange-inch"), "pump-flange")
    made = [(h.x, h.y) for h in flange.holes if h.thread is not None]
    there = [(h.x, h.y) for h in flange.holes if h.thread is None]
    middle = 3.75 * INCH
    assert near(there, circle(middle, 2.75 * INCH, 45.0, 4))
    assert any(near(made, circle(middle, 2.0 * INCH, 18.0 * n, 5)) for n in range(4))
    assert len(piece(design("flange-inch"), "pump-flange-jig").holes) >= 5


def test_hub_of_two_holes_gets_eight() -> None:
    # 36 from the middle of 180, up and down; eight on 70, as far as may be from 90 degrees: at 22.5 and so on
    hub = piece(design("hub-metric"), "paddle-hub")
    assert near(((h.x, h.y) for h in hub.holes if h.diameter == 8.0), [(90.0, 126.0), (90.0, 54.0)])
    assert near(((h.x, h.y) for h in hub.holes if h.diameter != 8.0), circle(90.0, 70.0, 22.5, 8))


def test_grid_plate() -> None:
    # 50 apart both ways; its table bolts in slots 63 apart
    grid = piece(design("grid"), "grid-plate")
    for holes in (places(grid, "work"), places(grid, "dowel")):
        assert holes
        assert all((x - holes[0][0]) % 50.0 == (y - holes[0][1]) % 50.0 == 0.0 for x, y in holes)
    ys = sorted({y for _, y in places(grid, "table")})
    assert all((y - ys[0]) % 63.0 == 0.0 for y in ys)
    assert len(ys) > 1


def test_vee_blocks_stand_in_their_slots_and_stations() -> None:
    (layout,) = design("vee-blocks").layouts
    studs = [(one.place.x, one.place.y) for one in layout.hardware if one.item.kind == "stud"]
    assert near(studs, [(INCH * x, INCH * y) for x in (14, 24) for y in (2, 7)])
    assert piece(design("vee-blocks"), "shaft-block").quantity == 2


def test_chuck_base() -> None:
    # axis 60 before the edge, 100 of chuck beyond: the plate from -160 to 200; slots at 45.5, 108.5 and 171.5 under it,
    # two M12 in from its sides; three screws on 176 about its axis at 150, 100, the first at the top
    plate = piece(design("chuck"), "chuck-base")
    assert near(places(plate, "table"), [(x, y + 160.0) for x in (24.0, 276.0) for y in (45.5, 108.5, 171.5)])
    turned = [(150.0 + 88.0 * cos(radians(a)), 100.0 + 88.0 * sin(radians(a))) for a in (90, 210, 330)]
    assert near(places(plate, "screw"), turned)


def test_small_iron_is_as_large_as_given() -> None:
    made = design("small-iron")
    assert {one.name: one.quantity for one in made.pieces} == {"worn-nut": 8, "worn-key": 4, "worn-strap": 4}
    assert piece(made, "worn-key").blank.length == pytest.approx(1.25 * INCH)
    assert [hole.thread.designation for hole in piece(made, "worn-nut").holes if hole.thread] == ["1/2-13 UNC"]


def test_packing_is_as_large_as_given() -> None:
    # five steps of 5 rise and 10 tread; four pairs are eight
    made = design("packing")
    step = piece(made, "step-block")
    assert (step.blank.length, step.blank.width, step.blank.thickness, step.quantity) == (30.0, 50.0, 25.0, 8)
    assert sorted(one.blank.thickness for one in made.pieces if one.name.startswith("riser")) == [20.0, 45.0]
    pad = piece(made, "jack-pad")
    assert (pad.blank.length, pad.blank.thickness, pad.quantity) == (40.0, 20.0, 6)
    assert [row.index for row in made.design.drawing.revisions] == ["A", "B"]
