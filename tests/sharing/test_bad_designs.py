"""Bad designs: each ends in one line that names file, key, value, rule and remedy, without loading the CAD kernel."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from slotwright.errors import DesignError
from slotwright.sharing.set_up import set_up
from tests.workshop import DESIGN, TABLE_MM, lay_out


def _changed(old: str, new: str) -> str:
    assert DESIGN.count(old) == 1, f"the test's own edit must hit once: {old}"
    return DESIGN.replace(old, new)


TAPPED = 'make = "tapped"\nthread = "M12"\nat = ["30 mm"]'
INLINE = 'table = "mill"'

# name: (design, key the message must name, words it must hold)
BAD = {
    "not-toml": ("slotwright = = 1", "", "is not TOML"),
    "size-without-quotes": (_changed('"300 mm"', "300 mm"), "", "is not TOML"),
    "key-twice": (_changed('length = "300 mm"', 'length = "300 mm"\nlength = "310 mm"'), "", "give each key and each section once"),
    "section-twice": (DESIGN + "[drawing]\n[drawing]\n", "", "give each key and each section once"),
    "quote-left-open": (_changed('"300 mm"', '"300 mm'), "", "close the quotes on that line"),
    "list-without-comma": (_changed('at = ["30 mm"]', 'at = ["30 mm" "60 mm"]'), "", "put commas between the values"),
    "section-in-single-brackets": (_changed("[[fixture]]", "[fixture]").split("[[fixture.work-hole]]")[0], "fixture", "begin each one with [[fixture]], in double brackets"),
    "hole-in-single-brackets": (_changed("[[fixture.work-hole]]", "[fixture.work-hole]"), "fixture[1].work-hole", "begin each one with [[fixture.work-hole]], in double"),
    "thread-quoted-once": (_changed('name = "bar"', 'name = "bar"\nbolt = "M13"'), "fixture[1].bolt", ": 'M13' is no thread"),
    "bare-number": (_changed('"300 mm"', "300"), "fixture[1].length", '300 is a bare number, without unit; write it like "300 mm"'),
    "decimal-comma": (_changed('"300 mm"', '"300,5 mm"'), "fixture[1].length", "'300,5 mm' has a comma"),
    "unknown-unit": (_changed('"300 mm"', '"300 furlongs"'), "fixture[1].length", "use one of: mm"),
    "unit-of-mass": (_changed('"300 mm"', '"300 kg"'), "fixture[1].length", "none of a length"),
    "expression": (_changed('"300 mm"', '"9**9**9 mm"'), "fixture[1].length", "9**9**9"),
    "nan": (_changed('"300 mm"', '"nan mm"'), "fixture[1].length", "nan mm"),
    "toml-nan": (_changed('"300 mm"', "nan"), "fixture[1].length", "bare number"),
    "exponent": (_changed('"300 mm"', '"1e999 mm"'), "fixture[1].length", "1e999"),
    "fullwidth-digits": (_changed('"300 mm"', '"３００ mm"'), "fixture[1].length", "plain ASCII"),
    "fraction-of-a-mm": (_changed('"300 mm"', '"300-1/2 mm"'), "fixture[1].length", "write it as a decimal"),
    "thread-for-length": (_changed('"300 mm"', '"5/8-11"'), "fixture[1].length", "is a thread, not a length"),
    "too-long-text": (_changed('"300 mm"', '"' + "3" * 100 + ' mm"'), "fixture[1].length", "longer than 64"),
    "length-zero": (_changed('"300 mm"', '"0 mm"'), "fixture[1].length", "0 mm = 0 in is outside its range, 10 mm to 20000 mm"),
    "length-huge": (_changed('"300 mm"', '"999999 m"'), "fixture[1].length", "outside its range"),
    "length-list": (_changed('"300 mm"', '["300 mm"]'), "fixture[1].length", "is a list, not a text"),
    "unknown-key": (_changed("overhang-front", "overhang-frnt"), "fixture[1].overhang-frnt", "did you mean overhang-front?"),
    "unknown-top-key": (_changed('title = "Test bars"', 'title = "Test bars"\ncolour = "red"'), "colour", "is no key here"),
    "underscore-key": (_changed("overhang-front", "overhang_front"), "fixture[1].overhang_front", "did you mean overhang-front?"),
    "unknown-kind": (_changed('"hold-down-bar"', '"hold-down-bra"'), "fixture[1].kind", "did you mean hold-down-bar?"),
    "no-kind": (_changed('kind = "hold-down-bar"\n', ""), "fixture[1]", "has no kind; add kind = one of:"),
    "kind-a-number": (_changed('"hold-down-bar"', "7"), "fixture[1].kind", "use one of:"),
    "no-title": (_changed('title = "Test bars"\n', ""), "title", "is missing"),
    "no-fixture": ('slotwright = 1\ntitle = "x"\ntable = "mill"\n', "fixture", "is missing"),
    "empty-fixtures": ('slotwright = 1\ntitle = "x"\ntable = "mill"\nfixture = []\n', "fixture", "is an empty list"),
    "fixture-a-text": ('slotwright = 1\ntitle = "x"\ntable = "mill"\nfixture = "bar"\n', "fixture", "is a text, not a list"),
    "same-name-twice": (
        DESIGN + '[[fixture]]\nkind = "hold-down-bar"\nname = "bar"\nstock = "flat-40x20"\nlength = "300 mm"\n',
        "fixture[2].name",
        "'bar' is taken by another fixture",
    ),
    "newer-format": (_changed("slotwright = 1", "slotwright = 2"), "slotwright", "newer than this program knows"),
    "format-a-text": (_changed("slotwright = 1", 'slotwright = "1"'), "slotwright", "is a text, not a whole number"),
    "no-table": (_changed(f"{INLINE}\n", ""), "table", "is missing; hold-down-bar is solved for one"),
    "table-and-tables": (_changed(INLINE, f'{INLINE}\ntables = ["inch-mill"]'), "table", "give exactly one of the two"),
    "table-not-there": (_changed('"mill"', '"lathe"'), "", "parts/lathe.toml: is not there"),
    "table-path": (_changed('"mill"', '"../mill"'), "table", "is no plain name"),
    "table-device-name": (_changed('"mill"', '"con"'), "table", "keep for a device"),
    "table-twice": (_changed(INLINE, 'tables = ["mill", "mill"]'), "tables[2]", "stands there twice"),
    "unit-of-the-design": (_changed('unit = "mm"', 'unit = "cm"'), "unit", "use one of: mm, in"),
    "name-with-slash": (_changed('name = "bar"', 'name = "a/b"'), "fixture[1].name", "is no plain name"),
    "name-upper-case": (_changed('name = "bar"', 'name = "Bar"'), "fixture[1].name", "is no plain name"),
    "name-reserved": (_changed('name = "bar"', 'name = "lpt1"'), "fixture[1].name", "keep for a device"),
    "control-characters": (_changed('"Test bars"', '"Test \\u001b[31m bars"'), "title", "do not print"),
    "bidi-trick": (_changed('"Test bars"', '"Test \\u202e bars"'), "title", "do not print"),
    "stock-not-listed": (_changed('"flat-40x20"', '"flat-9x9"'), "fixture[1].stock", "'flat-9x9' is not on the rack"),
    "stock-and-width": (_changed('stock = "flat-40x20"', 'stock = "flat-40x20"\nwidth = "40 mm"'), "fixture[1].stock", "keep one way"),
    "no-stock": (_changed('stock = "flat-40x20"\n', ""), "fixture[1].stock", "is missing"),
    "material-unknown": (
        _changed('stock = "flat-40x20"', 'width = "40 mm"\nthickness = "20 mm"\nmaterial = "unobtainium"'),
        "fixture[1].material",
        "'unobtainium' is no material we know",
    ),
    "length-and-overhang-back": (_changed('length = "300 mm"', 'length = "300 mm"\noverhang-back = "0 mm"'), "fixture[1].length", "exactly one"),
    "neither-length": (_changed('length = "300 mm"\n', ""), "fixture[1].length", "must be given once, as length or as overhang-back"),
    "slot-not-there": (_changed('length = "300 mm"', 'length = "300 mm"\nslots = [1, 5]'), "fixture[1].slots[2]", "5 is more than the 4 slots"),
    "slot-zero": (_changed('length = "300 mm"', 'length = "300 mm"\nslots = [0]'), "fixture[1].slots[1]", "0 is outside its range"),
    "slot-twice": (_changed('length = "300 mm"', 'length = "300 mm"\nslots = [1, 1]'), "fixture[1].slots", "names a slot twice"),
    "slots-a-number": (_changed('length = "300 mm"', 'length = "300 mm"\nslots = 1'), "fixture[1].slots", "is a number, not a list"),
    "bar-too-short": (_changed('"300 mm"', '"120 mm"'), "fixture[1].length", "does not reach slot"),
    "quantity-fraction": (_changed('name = "bar"', 'name = "bar"\nquantity = 1.5'), "fixture[1].quantity", "not a whole number"),
    "quantity-true": (_changed('name = "bar"', 'name = "bar"\nquantity = true'), "fixture[1].quantity", "not a whole number"),
    "quantity-huge": (_changed('name = "bar"', 'name = "bar"\nquantity = 1000000000000'), "fixture[1].quantity", "beyond all counting"),
    "stations-wrong-number": (_changed('name = "bar"', 'name = "bar"\nstations = ["1 mm", "2 mm"]'), "fixture[1].stations", "2 places for 1 bars"),
    "bolt-no-thread": (_changed('name = "bar"', 'name = "bar"\nbolt = "thick"'), "fixture[1].bolt", "is no thread"),
    "bolt-not-listed": (_changed('name = "bar"', 'name = "bar"\nbolt = "M13"'), "fixture[1].bolt", "no thread we have a table for"),
    "bolt-too-large-for-slot": (_changed('name = "bar"', 'name = "bar"\nbolt = "M24"'), "fixture[1]", "M24"),
    "along-key-across": (_changed('name = "bar"', 'name = "bar"\nstart = "10 mm"'), "fixture[1].start", "is for a bar along a slot"),
    "across-key-along": (_changed('name = "bar"', 'name = "bar"\ndirection = "along"'), "fixture[1].overhang-front", "is for a bar across"),
    "chamfer-eats-bar": (_changed('name = "bar"', 'name = "bar"\nedge-chamfer = "12 mm"'), "fixture[1].edge-chamfer", "leaves nothing"),
    "sunk-in-thin-bar": (
        _changed('stock = "flat-40x20"', 'width = "40 mm"\nthickness = "10 mm"\nheads = "sunk"'),
        "fixture[1].heads",
        "use a thicker bar",
    ),
    "hole-no-place": (_changed(TAPPED, 'make = "tapped"\nthread = "M12"'), "fixture[1].work-hole[1].at", "exactly one of the two"),
    "hole-two-places": (
        _changed(TAPPED, TAPPED + '\nrow = { first = "1 mm", pitch = "9 mm", number = 2 }'),
        "fixture[1].work-hole[1].at",
        "exactly one of the two",
    ),
    "hole-no-thread": (_changed(TAPPED, 'make = "tapped"\nat = ["30 mm"]'), "fixture[1].work-hole[1].thread", "is missing"),
    "hole-thread-unlisted": (_changed('"M12"', '"M12x0.5"'), "fixture[1].work-hole[1].thread", "no thread we have a table for"),
    "reamed-no-diameter": (_changed(TAPPED, 'make = "reamed"\nat = ["30 mm"]'), "fixture[1].work-hole[1].diameter", "is missing"),
    "row-huge": (
        _changed('at = ["30 mm"]', 'row = { first = "1 mm", pitch = "9 mm", number = 999999999 }'),
        "fixture[1].work-hole[1].row.number",
        "outside its range, 1 to 1000",
    ),
    "inline-table-slot-off": (
        _changed(INLINE, "")
        + '\n[table]\nlength = "500 mm"\nwidth = "100 mm"\nslots = { width = "14 mm", centres = ["20 mm", "99 mm"] }\n',
        "table.slots",
        "off a table 100 mm",
    ),
    "inline-table-centres-fall": (
        _changed(INLINE, "")
        + '\n[table]\nlength = "500 mm"\nwidth = "200 mm"\nslots = { width = "14 mm", centres = ["90 mm", "50 mm"] }\n',
        "table.slots.centres[2]",
        "is not a slot's width",
    ),
    "inline-table-two-ways": (
        _changed(INLINE, "")
        + '\n[table]\nlength = "500 mm"\nwidth = "200 mm"\nslots = { width = "14 mm", centres = ["50 mm"], number = 1 }\n',
        "table.slots.centres",
        "keep one way",
    ),
    "work-size-two-values": (_changed("[[fixture]]", '[work]\nname = "x"\nsize = ["1 mm", "2 mm"]\n[[fixture]]'), "work.size", "give three"),
    "style-unknown": (_changed("[[fixture]]", '[drawing]\nstyle = "din"\n[[fixture]]'), "drawing.style", "use one of: iso, asme"),
}  # fmt: skip


@pytest.mark.parametrize("case", BAD)
def test_bad_design_ends_in_one_line(case: str, tmp_path: Path) -> None:
    design, key, words = BAD[case]
    path = lay_out(tmp_path, design)
    with pytest.raises(DesignError) as caught:
        set_up(path)
    message = str(caught.value)
    assert "\n" not in message
    assert message.isprintable()
    assert len(message) < 1500
    assert words in message
    if key:
        assert message.startswith(f"{path.as_posix()}: {key}: ")
    assert "; " in message, "says what to do"


def _inch(design: str) -> str:
    return design.replace('unit = "mm"', 'unit = "in"').replace('table = "mill"', 'table = "inch-mill"')


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        pytest.param('"300 mm"', '"0.2 in"', "0.2 in = 5.08 mm is outside its range, 0.3937 in to", id="range"),
        pytest.param(TAPPED, 'make = "reamed"\nat = ["1 in"]', 'diameter = "3/8 in"', id="example"),
        pytest.param(
            'name = "bar"', 'name = "bar"\nedge-chamfer = "12 mm"', "0.4724 in = 12 mm", id="rule of a family"
        ),
    ],
)
def test_an_inch_design_is_answered_in_inches_first(old: str, new: str, words: str, tmp_path: Path) -> None:
    with pytest.raises(DesignError) as caught:
        set_up(lay_out(tmp_path, _inch(_changed(old, new))))
    assert words in str(caught.value)


@pytest.mark.parametrize(
    ("part", "old", "new", "key", "words"),
    [
        ("mill", 'width = "14 mm"', 'width = "200 mm"', "slots.width", "outside its range"),
        ("mill", 'pitch = "63 mm"', "", "slots.number", "give number and pitch"),
        ("mill", 'pitch = "63 mm"', 'pitch = "12 mm"', "slots.pitch", "no more than the slot's width"),
        ("mill", 'width = "14 mm"', 'width = "4 mm"\ndepth = "20 mm"', "slots", "T-slot"),
        ("mill", 'unit = "mm"', 'unit = "mm"\nslot-count = 3', "slot-count", "is no key here"),
    ],
)
def test_bad_table_file_is_named(tmp_path: Path, part: str, old: str, new: str, key: str, words: str) -> None:
    path = lay_out(tmp_path)
    assert TABLE_MM.count(old) == 1
    (tmp_path / "parts" / f"{part}.toml").write_text(TABLE_MM.replace(old, new), encoding="utf-8")
    with pytest.raises(DesignError, match=r"^parts/mill\.toml: ") as caught:
        set_up(path)
    assert caught.value.key.startswith(key)
    assert words in str(caught.value)


def test_file_that_is_no_text_or_not_there(tmp_path: Path) -> None:
    path = lay_out(tmp_path)
    path.write_bytes(b"\xff\xfe\x00title")
    with pytest.raises(DesignError, match="is not UTF-8 text"):
        set_up(path)
    with pytest.raises(DesignError, match="is not there"):
        set_up(path.with_name("other.toml"))
    with pytest.raises(DesignError, match="is a folder"):
        set_up(path.parent)


def test_deep_nesting_is_refused(tmp_path: Path) -> None:
    path = lay_out(tmp_path, "a = " + "[" * 100_000)
    with pytest.raises(DesignError):
        set_up(path)


def test_no_bad_design_loads_the_kernel_or_a_drawing_library(tmp_path: Path) -> None:
    folders = []
    for number, (design, _, _) in enumerate(BAD.values()):
        folders.append(str(lay_out(tmp_path / str(number), design)))
    program = (
        "import sys\nfrom pathlib import Path\nfrom slotwright.sharing.set_up import set_up\n"
        "from slotwright.errors import DesignError\n"
        "for path in sys.argv[1:]:\n    try:\n        set_up(Path(path))\n    except DesignError:\n        continue\n"
        "    raise SystemExit(f'{path} was taken')\n"
        "heavy = {'cadquery', 'OCP', 'ezdxf', 'reportlab', 'fontTools', 'matplotlib'} & set(sys.modules)\n"
        "raise SystemExit(f'loaded: {heavy}' if heavy else 0)\n"
    )
    done = subprocess.run([sys.executable, "-c", program, *folders], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
