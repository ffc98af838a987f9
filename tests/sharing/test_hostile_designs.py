"""Hostile designs and parts files: each ends in one clear line, in bounds, and nothing is written."""

from __future__ import annotations

import csv
import io
import os
import random
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest

from slotwright.records.toml_text import toml_text
from slotwright.sharing.lists import cut_list, table
from slotwright.sharing.set_up import set_up
from tests.sharing.bounds import refused, tree
from tests.workshop import DESIGN, TABLE_MM, lay_out

Case = tuple[Callable[[], str | bytes], str]
MANY_PARTS = ".".join(random.Random(5).choices("abcdefgh", k=120_000))


def changed(old: str, new: str) -> str:
    assert DESIGN.count(old) == 1, "the test's own edit must hit once"
    return DESIGN.replace(old, new)


def swapped(old: str, new: str) -> Callable[[], str]:
    return lambda: changed(old, new)


def design(*fixtures: dict[str, Any], tables: int = 1) -> str:
    """A design of bars on wide tables of many slots."""
    slots = {"width": "14 mm", "number": 40, "pitch": "63 mm"}
    wide = [{"name": f"t{n}", "length": "19 m", "width": "4 m", "slots": slots} for n in range(tables)]
    plain = {"kind": "hold-down-bar", "width": "40 mm", "thickness": "20 mm"}
    named = [plain | {"name": f"b{n}"} | fixture for n, fixture in enumerate(fixtures)]
    return toml_text({"slotwright": 1, "title": "x", "tables": wide, "fixture": named})


def row(number: int) -> dict[str, Any]:
    return {"make": "tapped", "thread": "M8", "row": {"first": "1 mm", "pitch": "0.1 mm", "number": number}}


TEXT: dict[str, Case] = {
    "empty": (lambda: "", "is missing"),
    "noise": (lambda: random.Random(6).randbytes(10_000), "is not UTF-8"),
    "nul": (lambda: DESIGN + "\0", "is not TOML"),
    "escape-outside-a-text": (lambda: "\x1b[2J" + DESIGN, "is not TOML"),
    "escape-in-a-comment": (lambda: "# \x1b[2J\n" + DESIGN, "is not TOML"),
    "carriage-returns-alone": (lambda: DESIGN.replace("\n", "\r"), "is not TOML"),
    "utf-16": (lambda: DESIGN.encode("utf-16"), "is not UTF-8"),
    "surrogate": (lambda: b'title = "\xed\xa0\x80"', "is not UTF-8"),
    "too-long": (lambda: "#" * 256_001, "larger than 256000 bytes"),
    "hundred-megabytes": (lambda: b"#" * 100_000_000, "larger than 256000 bytes"),
    "million-keys": (lambda: "".join(f"{n:x}=1\n" for n in range(1_000_000)), "larger than 256000 bytes"),
    "keys-that-just-fit": (lambda: "".join(f"{n:x}=1\n" for n in range(32_000)), "is no key here"),
    "sections-that-just-fit": (lambda: "".join(f"[{n:x}]\n" for n in range(32_000)), "is no key here"),
    "lists-of-sections": (lambda: "[[fixture]]\n" * 21_000, "slotwright: is missing"),
    "depth-10000-lists": (lambda: "a = " + "[" * 10_000 + "]" * 10_000, "nested deeper than 16"),
    "depth-10000-tables": (lambda: "a = " + "{a=" * 10_000 + "1" + "}" * 10_000, "nested deeper than 16"),
    "depth-10000-dots": (lambda: "a." * 10_000 + "a = 1", "more than 16 parts"),
    "depth-10000-header": (lambda: "[" + "a." * 10_000 + "a]", "more than 16 parts"),
    "depth-120000-dots": (lambda: MANY_PARTS + " = 1", "more than 16 parts"),
    "dots-in-quotes": (lambda: ".".join(['"a"'] * 30_000) + " = 1", "more than 16 parts"),
    "dots-with-spaces": (lambda: " . ".join(["a"] * 30_000) + " = 1", "more than 16 parts"),
    "dots-after-a-literal-that-ends-in-a-backslash": (
        lambda: "b = 'c\\'\n" + MANY_PARTS + " = 1",
        "more than 16 parts",
    ),
    "dots-after-long-literal-with-backslash": (lambda: "b = '''c\\'''\n" + MANY_PARTS + " = 1", "more than 16 parts"),
    "dots-after-four-quotes": (lambda: 'b = [""" c"""", {' + MANY_PARTS + " = 1}]", "more than 16 parts"),
    "dots-after-five-apostrophes": (lambda: "b = ['''c''''', {" + MANY_PARTS + " = 1}]", "more than 16 parts"),
    "dots-after-escaped-quotes": (lambda: 'b = """c\\"""\\""""\n' + MANY_PARTS + " = 1", "more than 16 parts"),
    "dots-after-a-comment-with-a-quote": (lambda: '# "\n' + MANY_PARTS + " = 1", "more than 16 parts"),
    "dots-after-an-empty-text": (lambda: 'b = ""\n' + MANY_PARTS + " = 1", "more than 16 parts"),
    "long-number": (lambda: "slotwright = " + "9" * 200_000, "no one can mean"),
    "long-hexadecimal-number": (lambda: "slotwright = 0x" + "f" * 200_000, "newer than this program knows"),
    "hexadecimal-length": (lambda: changed('"300 mm"', "0x" + "f" * 5000), "is a bare number"),
    "long-decimal": (lambda: changed('"300 mm"', "1." + "1" * 200_000), "is a bare number"),
    "large-exponent": (lambda: changed('"300 mm"', "1e" + "9" * 200_000), "is a bare number"),
    "infinity": (lambda: changed('"300 mm"', "-inf"), "is a bare number"),
    "date": (lambda: changed('"300 mm"', "1979-05-27T07:32:00Z"), "a date or time"),
    "long-key": (lambda: "a" * 250_000 + " = 1\n" + DESIGN[:1000], "is no key here"),
    "key-with-escape": (lambda: '"\\u001b[31mred" = 1\n' + DESIGN, "is no key here"),
    "key-with-bidi": (lambda: '"\\u202egnp" = 1\n' + DESIGN, "is no key here"),
    "key-with-line-break": (lambda: '"a\\nb" = 1\n' + DESIGN, "is no key here"),
    "kind-with-escape": (lambda: changed('"hold-down-bar"', '"\\u001b[31m"'), "is no kind we can make"),
    "choice-with-escape": (lambda: changed('unit = "mm"', 'unit = "\\u001b[31m"'), "is no choice"),
    "size-with-escape": (lambda: changed('"300 mm"', '"300\\u001b[31m mm"'), "length: "),
    "name-with-bidi": (lambda: changed('name = "bar"', 'name = "b\\u202ear"'), "is no plain name"),
    "title-long": (lambda: changed('"Test bars"', '"' + "a" * 10_000 + '"'), "longer than 200"),
    "title-separator": (lambda: changed('"Test bars"', '"a\\u2028b"'), "do not print"),
    "author-escape": (
        lambda: changed("[[fixture]]\n", '[sharing]\nauthor = "\\u001b]0;x\\u0007"\n[[fixture]]\n'),
        "do not print",
    ),
    "author-long": (
        lambda: changed("[[fixture]]\n", f'[sharing]\nauthor = "{"a" * 300}"\n[[fixture]]\n'),
        "longer than 200",
    ),
    "caution-bidi": (
        lambda: changed("[[fixture]]\n", '[sharing]\ncautions = ["\\u2067x"]\n[[fixture]]\n'),
        "do not print",
    ),
    "cautions-many": (
        lambda: changed("[[fixture]]\n", f"[sharing]\ncautions = {['a'] * 13}\n[[fixture]]\n"),
        "more than 12",
    ),
    "sharing-unknown-key": (lambda: changed("[[fixture]]\n", '[sharing]\nrun = "rm"\n[[fixture]]\n'), "is no key here"),
}

AMOUNTS: dict[str, Case] = {
    "billion-holes": (lambda: design({"length": "15 m", "slots": [1], "work-hole": [row(1_000_000_000)]}), "outside its range, 1 to 1000"),
    "two-hundred-thousand-holes": (lambda: design({"length": "15 m", "slots": [1], "work-hole": [row(1000)] * 200}), "asks for 200000 holes"),
    "holes-by-place": (lambda: design({"length": "15 m", "slots": [1], "work-hole": [row(1) | {"at": ["1 mm"] * 1001}]}), "more than 1000"),
    "holes-of-many-pieces": (lambda: design(*[{"length": "15 m", "slots": [1], "work-hole": [row(1000)]}] * 50), "holes in all its pieces, more than 2000"),
    "bolts-of-many-copies": (lambda: design({"direction": "along", "length": "15 m", "quantity": 40, "bolts": 100}, tables=12), "asks for 4000 bolts"),
    "bolts-of-many-bars": (lambda: design(*[{"direction": "along", "length": "15 m", "quantity": 10, "bolts": 100}] * 50, tables=12), "bought items on all its tables"),
    "copies": (lambda: design(*[{"length": "4 m", "slots": [1], "quantity": 50}] * 50), "pieces on all its tables, more than 400"),
    "billion-copies": (lambda: design({"length": "4 m", "quantity": 1_000_000_000}), "outside its range, 1 to 50"),
    "fixtures": (lambda: design(*[{"length": "4 m"}] * 51), "more than 50"),
    "tables": (lambda: design({"length": "4 m"}, tables=13), "more than 12"),
    "slots": (lambda: changed('table = "mill"', "").replace("[[fixture]]", '[table]\nlength = "9 m"\nwidth = "4 m"\nslots = { width = "14 mm", number = 1000000000, pitch = "20 mm" }\n[[fixture]]', 1), "outside its range, 1 to 40"),
    "huge-coordinate": (lambda: changed('at = ["30 mm"]', 'at = ["999999999 mm"]'), "outside its range"),
    "huge-offset": (lambda: changed('at = ["30 mm"]', 'at = ["30 mm"]\nacross = "-999999999 m"'), "outside its range"),
    "huge-length": (lambda: changed('"300 mm"', '"999999999 m"'), "outside its range"),
    "huge-mass": (lambda: changed("[[fixture]]\n", '[work]\nname = "x"\nmass = "999999999 t"\n[[fixture]]\n'), "outside its range"),
    "tiny-pitch": (lambda: changed('at = ["30 mm"]', 'row = { first = "0 mm", pitch = "0.000000001 mm", number = 1000 }'), "outside its range"),
    "table-of-no-width": (lambda: changed('table = "mill"', 'table = { length = "1 m", width = "0 mm", slots = { width = "14 mm", number = 1 } }'), "outside its range"),
    "slots-on-one-spot": (lambda: changed('table = "mill"', 'table = { length = "1 m", width = "1 m", slots = { width = "14 mm", centres = ["50 mm", "50 mm"] } }'), "is not a slot's width"),
}  # fmt: skip

BOW = [(0, 0), (100, 60), (100, 0), (0, 60)]


def plate(corners: Sequence[tuple[float, float]], **more: Any) -> str:
    """A let-in plate of this outline."""
    outline = {"shape": "corners", "x": [f"{x} mm" for x, _ in corners], "y": [f"{y} mm" for _, y in corners]}
    insert = {
        "kind": "insert-plate", "name": "insert", "thickness": "16 mm", "cutter": "16 mm", "clearance": "0.1 mm", "outline": outline | more,
        "tenon": {"length": "80 mm", "width": "20 mm", "height": "12 mm"},
        "screws": {"thread": "M8", "number": 2, "spacing": "40 mm"}, "parent": {"thickness": "40 mm"},
    }  # fmt: skip
    return toml_text({"slotwright": 1, "title": "x", "fixture": [insert]})


OUTLINES: dict[str, Case] = {
    "outline-that-crosses-itself": (lambda: plate(BOW), "outline.x: "),
    "outline-a-star": (lambda: plate([(0, 60), (35, -49), (-57, 18), (57, 18), (-35, -49)]), "outline.x: "),
    "outline-a-line": (lambda: plate([(0, 0), (50, 0), (100, 0)]), "has no area"),
    "outline-a-point": (lambda: plate([(0, 0)] * 4), "has no length"),
    "outline-of-two-corners": (lambda: plate([(0, 0), (100, 60)]), "outline.x: "),
    "outline-of-none": (lambda: plate([]), "is missing"),
    "outline-with-a-doubled-corner": (lambda: plate([(0, 0), (100, 0), (100, 0), (100, 60), (0, 60)]), "has no length"),
    "outline-with-a-spike": (lambda: plate([(0, 0), (100, 0), (50, 0), (100, 60), (0, 60)]), "outline.x: "),
    "outline-far-away": (lambda: plate([(0, 0), (1e8, 0), (0, 1e8)]), "outside its range"),
    "outline-of-many-corners": (lambda: plate([(n, n * n / 1e3) for n in range(401)]), "more than 400"),
    "outline-of-full-turns": (lambda: plate([(0, 0), (100, 0), (50, 60)], arc=["350 deg"] * 3), "outline.x: "),
    "outline-arcs-too-few": (lambda: plate([(0, 0), (100, 0), (50, 60)], arc=["10 deg"]), "outline.arc: "),
    "outline-from-a-file-that-leads-out": (lambda: plate([], shape="dxf", dxf="../../etc/passwd"), "is no plain name"),
    "outline-from-no-file": (lambda: plate([]).replace('x = [], y = []', 'dxf = "none-there"').replace('"corners"', '"dxf"'), "parts/none-there.dxf: is not there"),
    "fence-of-many-rows": (lambda: design({"kind": "fence", "length": "240 mm", "slots": [1], "work-hole": [row(1000)] * 200}), "asks for 200000 holes"),
    "grid-of-many-holes": (lambda: design({"kind": "grid-plate", "length": "2 m", "width": "2 m", "thickness": "30 mm", "pitch": "10 mm", "thread": "M3", "pattern": "tapped"}), "fixture[1]"),
}  # fmt: skip

RESERVED = ("con", "prn", "aux", "nul", "com1", "com9", "lpt1", "lpt9")
NAMES: dict[str, Case] = {
    **{f"piece-{name}": (swapped('name = "bar"', f'name = "{name}"'), "keep for a device") for name in RESERVED},
    **{
        f"table-{word}": (swapped('"mill"', f'"{name}"'), words)
        for word, name, words in (
            ("up", "../mill", "is no plain name"),
            ("absolute", "/etc/passwd", "is no plain name"),
            ("drive", "C:mill", "is no plain name"),
            ("backslash", "..\\\\mill", "is no plain name"),
            ("nul", "mill\\u0000", "is no plain name"),
            ("device", "nul", "keep for a device"),
            ("long", "a" * 10_000, "is no plain name"),
            ("empty", "", "is no plain name"),
        )
    },
    "rack-up": (lambda: changed('unit = "mm"', 'unit = "mm"\nrack = "../../rack"'), "is no plain name"),
    "drawer-absolute": (lambda: changed('unit = "mm"', 'unit = "mm"\ndrawer = "/etc/shadow"'), "is no plain name"),
    "rack-a-number": (lambda: changed('unit = "mm"', 'unit = "mm"\nrack = 7'), "not a name in parts/"),
}

CASES: dict[str, Case] = {**TEXT, **AMOUNTS, **OUTLINES, **NAMES}


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("shop")
    lay_out(folder)
    return folder


@pytest.mark.parametrize("case", CASES)
def test_hostile_design(case: str, shop: Path) -> None:
    build, words = CASES[case]
    built = build()
    file = shop / "fixtures" / "bars.toml"
    file.write_bytes(built if isinstance(built, bytes) else built.encode())
    before = tree(shop)
    refused(lambda: set_up(file), words)
    assert tree(shop) == before


@pytest.mark.parametrize(
    ("part", "text", "words"),
    [
        pytest.param("mill", "a." * 100_000 + "a = 1", "more than 16 parts", id="table-of-many-parts"),
        pytest.param("mill", TABLE_MM + "#" * 256_000, "larger than 256000 bytes", id="table-too-long"),
        pytest.param("mill", TABLE_MM.replace("Test table", "\\u202eTest"), "do not print", id="table-title-bidi"),
        pytest.param("mill", TABLE_MM.replace('part = "table"', 'part = "rack"'), "is no choice", id="table-is-a-rack"),
        pytest.param("rack", "[[bar]]\n" * 1001, "more than 1000", id="rack-of-many-bars"),
        pytest.param("rack", '[[bar]]\nname = "../x"\nwidth = "9 mm"\nthickness = "9 mm"', "is no plain name", id="bar-name"),
        pytest.param("drawer", f"taps = {['M12'] * 1001}", "more than 1000", id="drawer-of-many-taps"),
        pytest.param("drawer", 'taps = ["\\u001b[31m"]', "is no thread", id="drawer-tap-escape"),
    ],
)  # fmt: skip
def test_hostile_parts_file(part: str, text: str, words: str, tmp_path: Path) -> None:
    file = lay_out(tmp_path)
    (tmp_path / "parts" / f"{part}.toml").write_text(text, encoding="utf-8")
    before = tree(tmp_path)
    message = refused(lambda: set_up(file), words)
    assert message.startswith(f"parts/{part}.toml: ")
    assert tree(tmp_path) == before


DXF_HEAD, DXF_END = b"  0\nSECTION\n  2\nENTITIES\n", b"  0\nENDSEC\n  0\nEOF\n"
DXF_LINE = b"  0\nLINE\n  8\n0\n 10\n0\n 20\n0\n 11\n1\n 21\n1\n"


@pytest.mark.parametrize(
    ("data", "words"),
    [
        pytest.param(b"", "is no DXF file", id="empty"),
        pytest.param(random.Random(8).randbytes(50_000), "is no DXF file", id="noise"),
        pytest.param(b"AutoCAD Binary DXF\r\n\x1a\x00", "is no DXF file", id="binary"),
        pytest.param(b"0\n" * 249_000, "parts/outline.dxf: ", id="quarter-of-a-million-tags"),
        pytest.param(DXF_HEAD + DXF_LINE * 12_500 + DXF_END, "holds no polyline", id="many-lines"),
        pytest.param(DXF_HEAD[:200], "is no DXF file", id="cut-short"),
        pytest.param(DXF_HEAD + DXF_END + b" " * 500_000, "is larger than 500000 bytes", id="too-long"),
    ],
)
def test_hostile_outline_file(data: bytes, words: str, tmp_path: Path) -> None:
    file = lay_out(tmp_path, plate([], shape="dxf", dxf="outline").replace("x = [], y = [], ", ""))
    (tmp_path / "parts" / "outline.dxf").write_bytes(data)
    before = tree(tmp_path)
    message = refused(lambda: set_up(file), words, weigh=len(data) < 100_000)
    assert message.startswith("parts/outline.dxf: ")
    assert tree(tmp_path) == before


@pytest.mark.skipif(os.name != "posix", reason="pipes, links and devices are POSIX")
@pytest.mark.parametrize(
    ("make", "words"),
    [
        pytest.param(os.mkfifo, "is no plain file", id="pipe"),
        pytest.param(lambda file: Path(file).symlink_to("/dev/zero"), "is no plain file", id="link-to-endless-zeros"),
        pytest.param(lambda file: Path(file).symlink_to(file), "cannot be read", id="link-to-itself"),
        pytest.param(lambda file: Path(file).mkdir(), "is a folder", id="folder"),
    ],
)
def test_design_that_is_no_plain_file(make: Callable[[Path], object], words: str, tmp_path: Path) -> None:
    file = lay_out(tmp_path)
    file.unlink()
    make(file)
    refused(lambda: set_up(file), words)


@pytest.mark.parametrize(
    "name", ["con?", 'a"b', "a\x1b[31m", "a\u202eb", "a" * 120, "a<b", "a|b", "a:b", "a*b"], ids=ascii
)
def test_design_file_whose_name_not_every_system_takes(name: str, tmp_path: Path) -> None:
    file = lay_out(tmp_path, name=name)
    refused(lambda: set_up(file), "has a name that not every system takes for a folder")


FORMULAS = ("=1+1", "+1", "-1+1", "@SUM(A1)", "\t=1", " =1", "＝1+1", '=cmd|" /C calc"!A0', "-", "--1")


@pytest.mark.parametrize("text", FORMULAS)
def test_text_that_a_spreadsheet_would_compute_is_made_plain(text: str) -> None:
    """A cell is a text for every spreadsheet when its first sign is an apostrophe (OWASP, CSV injection)."""
    (cell,) = next(csv.reader(io.StringIO(table([[text]]).decode())))
    assert cell == f"'{text}"


@pytest.mark.parametrize("number", ["-1", "-0.5", "12.7", "0"])
def test_numbers_stay_numbers(number: str) -> None:
    assert table([[number]]) == f"{number}\n".encode()


def test_formula_in_a_design_reaches_no_list_as_one(tmp_path: Path) -> None:
    rack = lay_out(tmp_path).parents[1] / "parts" / "rack.toml"
    rack.write_text(rack.read_text().replace('name = "flat-40x20"', 'name = "flat-40x20"\ntitle = "=1+1"'))
    made = set_up(tmp_path / "fixtures" / "bars.toml")
    rows = list(csv.reader(io.StringIO(cut_list(made.pieces, "mm").decode())))
    assert rows[1][2] == "'=1+1"
