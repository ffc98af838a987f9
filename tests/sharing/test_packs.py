"""Packs as they are made and received: whole, true to their sums, standing alone, the same bytes everywhere."""

from __future__ import annotations

import io
import json
import tomllib
import zipfile
from hashlib import sha256
from pathlib import Path
from typing import Any

import jsonschema
import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from slotwright.errors import DesignError, OutputError
from slotwright.records.reading import Where, parsed
from slotwright.records.toml_text import toml_text
from slotwright.sharing.design_file import design_from
from slotwright.sharing.make import paper_files
from slotwright.sharing.pack import pack, pack_bytes
from slotwright.sharing.receive import look_at, unpack
from slotwright.sharing.received import read_pack
from slotwright.sharing.set_up import SetUp, set_up, set_up_of
from slotwright.sharing.standalone import alone_text
from slotwright.sharing.starters import schema_of
from slotwright.sharing.workspace import Workspace
from tests.sharing import packs
from tests.sharing.bounds import tree
from tests.workshop import DESIGN, RACK, TABLE_MM, lay_out

ROOT = Path(__file__).parents[2]
SHARING = """
[sharing]
purpose = "Long castings that hang over the table"
author = "The millwright of the Millrace canal-lock depot"
licence = "CC0-1.0"
cautions = ["The second slot is worn: try the nut first"]
"""


INLINE = TABLE_MM.replace("slotwright = 1\n", "[table]\nname = 'mill'\n").replace("[slots]", "[table.slots]")


def quiet(word: str) -> None:
    pass


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, bytes]:
    """A design file and its pack."""
    file = lay_out(tmp_path_factory.mktemp("shop"), DESIGN.replace("[[fixture]]\n", f"{SHARING}[[fixture]]\n", 1))
    return file, pack_bytes(file, set_up(file), beside=False, tell=quiet)


def opened(data: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert archive.testzip() is None
        return {entry.filename: archive.read(entry) for entry in archive.infolist()}


def test_another_reader_of_zip_files_opens_it(made: tuple[Path, bytes]) -> None:
    files = opened(made[1])
    assert list(files)[:4] == ["manifest.json", "design.toml", "card.txt", "card.pdf"]
    assert list(files)[4:] == sorted(list(files)[4:])
    assert {"drawings/bar.step", "drawings/bar.dxf", "drawings/bar.pdf", "drawings/bar.svg"} <= set(files)
    with zipfile.ZipFile(io.BytesIO(made[1])) as archive:
        told = {(e.date_time, e.create_system, e.external_attr, e.extra, e.comment) for e in archive.infolist()}
    assert told == {((1980, 1, 1, 0, 0, 0), 0, 0x20, b"", b"")}, "nothing of the machine, the day or the user"


def test_sums_are_true_and_nothing_is_left_out(made: tuple[Path, bytes]) -> None:
    files = opened(made[1])
    told = json.loads(files.pop("manifest.json"))
    listed = [(file["name"], file["size"], file["sha256"]) for file in told["files"]]
    assert listed == [(name, len(data), sha256(data).hexdigest()) for name, data in files.items()]
    assert told["format"] == "1.0"
    assert (told["author"], told["licence"]) == ("The millwright of the Millrace canal-lock depot", "CC0-1.0")


def test_manifest_goes_by_its_json_schema(made: tuple[Path, bytes]) -> None:
    schema = schema_of("pack")
    jsonschema.Draft202012Validator.check_schema(schema)
    told = json.loads(opened(made[1])["manifest.json"])
    jsonschema.validate(told, schema)
    for wrong in ({"format": 1}, {"name": "../x"}, {"files": "all"}, {"run": "evil.sh"}, {"files": [{"name": "a"}]}):
        with pytest.raises(jsonschema.ValidationError):
            jsonschema.validate(told | wrong, schema)


def test_schema_on_the_formats_page_is_the_programs_own() -> None:
    page = (ROOT / "shared" / "FORMAT.md").read_text(encoding="utf-8")
    shown = page.split("```json\n")[1].split("```")[0]
    assert json.loads(shown) == schema_of("pack")


def test_design_in_the_pack_stands_alone(made: tuple[Path, bytes]) -> None:
    """It names nothing outside itself, and says what the shop's files say, as tomllib reads them."""
    inside = tomllib.loads(opened(made[1])["design.toml"].decode())
    shop = {name: tomllib.loads(text) for name, text in (("table", TABLE_MM), ("rack", RACK))}
    assert inside["table"] == {
        "name": "mill",
        **{k: v for k, v in shop["table"].items() if k not in ("slotwright", "part")},
    }
    assert inside["rack"]["bar"] == shop["rack"]["bar"]
    assert inside["fixture"] == tomllib.loads(DESIGN)["fixture"]
    assert inside["drawer"]["taps"] == ["M12"]


def test_packed_drawings_are_those_a_receiver_makes(made: tuple[Path, bytes]) -> None:
    received = read_pack(made[1], "bars.zip")
    assert received.notes == ()
    drawn = paper_files(received.made)
    packed = {name.removeprefix("drawings/"): data for name, data in received.files.items()}
    assert {name: packed[name] for name in drawn} == drawn
    assert received.made.content_id == set_up(made[0]).content_id
    assert received.made.findings == set_up(made[0]).findings


def test_card_says_what_a_receiver_needs(made: tuple[Path, bytes]) -> None:
    """By hand: the first slot of four, 63 apart, on 260 stands at (260 - 189)/2 = 35.5, the bar reaches 20 over.

    All holes stand on the bar's middle line, from which its sheet counts Y.
    """
    card = opened(made[1])["card.txt"].decode()
    told = ("Long castings that hang over the table", "Test table", "1000 x 260 mm", "CC0-1.0",
            "X and Y from the left end and the centre line",
            "The millwright of the Millrace canal-lock depot", "The second slot is worn: try the nut")  # fmt: skip
    for words in told:
        assert words in " ".join(card.split())
    rows = [line.split()[:3] for line in card.splitlines() if line.startswith("  A") or line.startswith("  B")]
    assert rows == [
        ["A1", "55.5", "0"],
        ["A2", "118.5", "0"],
        ["A3", "181.5", "0"],
        ["A4", "244.5", "0"],
        ["B1", "30", "0"],
    ]


def test_card_is_one_page(made: tuple[Path, bytes]) -> None:
    sheet = pypdfium2.PdfDocument(opened(made[1])["card.pdf"])
    try:
        assert len(sheet) == 1
        width, height = sheet[0].get_size()
        assert (round(width / 72 * 25.4), round(height / 72 * 25.4)) in ((297, 210), (420, 297)), "ISO 216: A4 or A3"
        words = " ".join(sheet[0].get_textpage().get_text_range().split())
    finally:
        sheet.close()
    for wanted in ("Test bars", set_up(made[0]).content_id, "118.5", "CAUTIONS", "AUTHOR: The millwright"):
        assert wanted in words


def test_same_bytes_whatever_the_author_did_not_mean(made: tuple[Path, bytes], tmp_path: Path) -> None:
    """Comments, another bar on the rack, an inline table: the pack is the same."""
    file = lay_out(tmp_path, "# another comment\n" + made[0].read_text())
    rack = tmp_path / "parts" / "rack.toml"
    rack.write_text(rack.read_text() + '[[bar]]\nname = "flat-60x30"\nwidth = "60 mm"\nthickness = "30 mm"\n')
    assert pack_bytes(file, set_up(file), beside=False, tell=quiet) == made[1]


# Content ids


def id_of(tmp_path: Path, design: str = DESIGN, **parts: str) -> str:
    file = lay_out(tmp_path, design)
    for name, text in parts.items():
        (tmp_path / "parts" / f"{name}.toml").write_text(text)
    return set_up(file).content_id


@pytest.mark.parametrize(
    "change",
    [
        {"design": "# comment\n" + DESIGN},
        {"design": DESIGN.replace('"300 mm"', '"30 cm"')},
        {"design": DESIGN.replace("[[fixture]]\n", f"{SHARING}[[fixture]]\n", 1)},
        {"design": DESIGN.replace('table = "mill"\n', "") + INLINE},
        {"design": DESIGN.replace('name = "bar"', 'name = "bar"\nheads = "proud"')},
        {"rack": RACK + '[[bar]]\nname = "other"\nwidth = "60 mm"\nthickness = "30 mm"\n'},
    ],
    ids=["comment", "same-size-other-unit", "sharing", "table-inline", "default-written-out", "bar-not-used"],
)  # fmt: skip
def test_content_id_stays(change: dict[str, str], tmp_path: Path) -> None:
    assert id_of(tmp_path / "a") == id_of(tmp_path / "b", **change)


@pytest.mark.parametrize(
    "change",
    [
        {"design": DESIGN.replace('"300 mm"', '"301 mm"')},
        {"design": DESIGN.replace('"Test bars"', '"Other bars"')},
        {"mill": TABLE_MM.replace('pitch = "63 mm"', 'pitch = "62.9 mm"')},
        {"rack": RACK.replace("2000 mm", "100 mm")},
        {"rack": RACK.replace('material = "S235JR"', 'material = "4140"')},
    ],
    ids=["length", "title", "pitch-of-the-table", "bar-too-short", "material-of-the-bar"],
)
def test_content_id_changes(change: dict[str, str], tmp_path: Path) -> None:
    assert id_of(tmp_path / "a") != id_of(tmp_path / "b", **change)


# Standing alone


def alone_again(made: SetUp, file: Path) -> SetUp:
    text = alone_text(file, made.alone)
    return set_up_of(
        design_from(parsed(text.encode(), Where("alone")), "alone"), Workspace(Path("nowhere")), made.name, "alone"
    )


@pytest.mark.parametrize("name", sorted(path.stem for path in (ROOT / "fixtures").glob("*.toml")))
def test_reference_designs_mean_the_same_alone(name: str) -> None:
    file = ROOT / "fixtures" / f"{name}.toml"
    made = set_up(file)
    again = alone_again(made, file)
    assert again.design == made.alone
    assert (again.solution, again.findings, again.content_id) == (made.solution, made.findings, made.content_id)


def test_shop_without_lists_packs_none(tmp_path: Path) -> None:
    """A receiver's own rack must not come into it."""
    file = lay_out(tmp_path, DESIGN.replace('stock = "flat-40x20"', 'width = "40 mm"\nthickness = "20 mm"'))
    for name in ("rack", "drawer"):
        (tmp_path / "parts" / f"{name}.toml").unlink()
    text = alone_text(file, set_up(file).alone)
    assert (tomllib.loads(text)["rack"], tomllib.loads(text)["drawer"]) == ("none", "none")


def test_several_tables_and_a_metric_table_in_an_inch_design(tmp_path: Path) -> None:
    text = DESIGN.replace('table = "mill"', 'tables = ["mill", "inch-mill"]').replace('unit = "mm"', 'unit = "in"')
    file = lay_out(tmp_path, text)
    made = set_up(file)
    again = alone_again(made, file)
    assert [table.name for table in again.bench.tables] == ["mill", "inch-mill"]
    assert again.bench == made.bench
    assert again.content_id == made.content_id


PRINTING = st.characters(min_codepoint=0x20, exclude_characters="\x7f", exclude_categories=("Cs", "Cc"))
PLAIN = st.text(PRINTING, max_size=20) | st.integers(-(10**9), 10**9) | st.booleans()
KEYS = st.text("abcdefghijklmnopqrstuvwxyz0123456789-", min_size=1, max_size=8)
DATA = st.recursive(
    st.dictionaries(KEYS, PLAIN | st.lists(PLAIN, max_size=3), max_size=4),
    lambda inner: st.dictionaries(KEYS, PLAIN | inner | st.lists(inner, min_size=1, max_size=3), max_size=4),
    max_leaves=12,
)


@settings(deadline=None)  # a busy machine is no fault
@given(DATA)
def test_toml_text_reads_back_by_the_standard_library(data: dict[str, Any]) -> None:
    assert tomllib.loads(toml_text(data)) == data


# Packing to a place


def test_own_pack_is_replaced_and_another_file_is_not(
    made: tuple[Path, bytes], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("slotwright.sharing.pack.pack_bytes", lambda *_, **__: made[1])
    target = tmp_path / "bars.zip"
    for before in (None, packs.pack()):
        if before is not None:
            target.write_bytes(before)
        _, path = pack(made[0], tmp_path, str, beside=False, tell=quiet)
        assert (path, target.read_bytes()) == (target, made[1])
    for foreign in (b"my own archive", packs.pack(packs.contents(), name="other")):
        target.write_bytes(foreign)
        with pytest.raises(OutputError, match="is no pack of this design; move it away; nothing was overwritten"):
            pack(made[0], tmp_path, str, beside=False, tell=quiet)
        assert target.read_bytes() == foreign
    assert [entry.name for entry in tmp_path.iterdir()] == ["bars.zip"]


def test_design_of_no_plain_name_cannot_be_packed(tmp_path: Path) -> None:
    file = lay_out(tmp_path, name="My bars")
    with pytest.raises(DesignError, match=r"My bars\.toml: 'My bars' is no plain name"):
        pack(file, None, str, beside=False, tell=quiet)


# Receiving


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    lay_out(tmp_path / "shop", name="other")
    return tmp_path / "shop"


def sound(tmp_path: Path, **changed: Any) -> Path:
    file = tmp_path / "bars.zip"
    file.write_bytes(packs.pack(packs.contents(), **changed))
    return file


def test_names_that_are_taken_are_passed_over(shop: Path, tmp_path: Path) -> None:
    received = look_at(sound(tmp_path), "bars.zip")
    (shop / "drawings" / "bars").mkdir(parents=True)
    (shop / "shared" / "bars-2").mkdir(parents=True)
    (shop / "fixtures" / "bars-3.toml").symlink_to("nowhere")
    before = tree(shop)
    first, second = unpack(received, shop), unpack(received, shop)
    assert (first.design.name, first.folder.name) == ("bars-4.toml", "bars-4")
    assert (second.design.name, second.folder.name) == ("bars-5.toml", "bars-5")
    assert before.items() <= tree(shop).items(), "nothing of the shop's own was touched"
    assert set_up(first.design).design == received.made.design


def test_newer_minor_version_is_read_with_a_note(tmp_path: Path) -> None:
    files = [file | {"colour": "red"} for file in packs.manifest(packs.contents())["files"]]
    received = look_at(sound(tmp_path, format="1.7", files=files, mood="fine"), "bars.zip")
    assert received.notes[0] == "pack format 1.7 is newer than this program's 1.0; what it does not know is left out"


def test_card_that_says_something_else_is_noticed(tmp_path: Path) -> None:
    received = look_at(sound(tmp_path), "bars.zip")
    assert any("card.txt in the pack says something else" in note for note in received.notes)
    assert "55.5" in received.card, "what is shown is the design's own"


def test_design_taken_at_the_last_moment(shop: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another program takes the name between the look and the step."""
    received = look_at(sound(tmp_path), "bars.zip")
    looks: list[object] = []

    def blind(path: object) -> bool:
        looks.append(path)
        return len(looks) > 3 and Path(str(path)).exists()

    (shop / "fixtures" / "bars.toml").write_text("mine")
    monkeypatch.setattr("slotwright.sharing.receive.os.path.lexists", blind)
    assert unpack(received, shop).design.name == "bars-2.toml"
    assert (shop / "fixtures" / "bars.toml").read_text() == "mine"
    assert sorted(entry.name for entry in (shop / "shared").iterdir()) == ["bars-2"]


@pytest.mark.parametrize("blocked", ["fixtures", "shared"])
def test_folder_that_is_a_file(blocked: str, tmp_path: Path) -> None:
    (tmp_path / "shop" / "parts").mkdir(parents=True)
    (tmp_path / "shop" / blocked).write_text("mine")
    received = look_at(sound(tmp_path), "bars.zip")
    with pytest.raises(OutputError, match="has a file where a folder should be"):
        unpack(received, tmp_path / "shop")
    assert {name: data for name, data in tree(tmp_path / "shop").items() if data is not None} == {blocked: b"mine"}


def test_failure_in_the_last_step_leaves_nothing(shop: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    received = look_at(sound(tmp_path), "bars.zip")
    before = tree(shop)

    def full(self: Path, target: Path) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "rename", full)
    with pytest.raises(OutputError, match="the disk is full"):
        unpack(received, shop)
    assert tree(shop) == before
