"""The library: what stands in the files is found, the index follows them, and two shops' edits merge as plain text."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tomllib
from itertools import combinations, pairwise
from pathlib import Path

import pytest

from slotwright.fixtures.family import families
from slotwright.sharing.library import Found, find
from slotwright.sharing.library_index import Wish, index_file
from slotwright.sharing.set_up import set_up
from slotwright.sharing.standalone import alone_text
from slotwright.sharing.starters import starter
from tests.sharing import packs
from tests.workshop import DESIGN, TABLE_MM, lay_out

DEMOS = Path(__file__).parents[2] / "fixtures"
SLOTWRIGHT = [sys.executable, "-m", "slotwright"]
ALONG = DESIGN.replace('overhang-front = "20 mm"', 'direction = "along"').replace('"300 mm"', '"480 mm"')


@pytest.fixture(autouse=True)
def _own_cache(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = str(tmp_path_factory.mktemp("cache"))
    for name in ("XDG_CACHE_HOME", "LOCALAPPDATA", "HOME"):
        monkeypatch.setenv(name, folder)


@pytest.fixture
def library(tmp_path: Path) -> Path:
    """Two shops: one as in the other tests, with three designs; one whose design names a table that is not there."""
    one = tmp_path / "lock" / "shop"
    lay_out(one)
    lay_out(one, DESIGN.replace('"mill"', '"inch-mill"').replace("Test bars", "Stop log rails"), "rails")
    lay_out(one, ALONG + '\n[sharing]\npurpose = "for a WINDING post"\n', "posts")
    other = tmp_path / "weir" / "fixtures"
    other.mkdir(parents=True)
    (other / "lost.toml").write_text(DESIGN.replace('"mill"', '"gone-mill"'), encoding="utf-8")
    return tmp_path


def paths(found: Found) -> list[str]:
    return [Path(row["path"]).stem for row in found.rows]


@pytest.mark.parametrize(
    ("wish", "stems"),
    [
        pytest.param(Wish(), ["bars", "posts", "rails", "lost"], id="everything"),
        pytest.param(Wish(words=("rails", "stop")), ["rails"], id="all-words"),
        pytest.param(Wish(words=("Winding",)), ["posts"], id="purpose-in-any-case"),
        pytest.param(Wish(words=("anvil",)), [], id="nothing"),
        pytest.param(Wish(kind="hold-down-bar"), ["bars", "posts", "rails", "lost"], id="kind"),
        pytest.param(Wish(kind="hold-down"), [], id="a-kind-is-a-whole-word"),
        pytest.param(Wish(table="inch"), ["rails"], id="table"),
        pytest.param(Wish(table="gone"), ["lost"], id="table-that-is-not-there"),
        pytest.param(Wish(slot=14.0), ["bars", "posts", "rails"], id="slot-14-mm-or-9/16-in"),
        pytest.param(Wish(slot=16.0), [], id="slot-16-mm"),
        pytest.param(Wish(size=480.0), ["posts"], id="length"),
        pytest.param(Wish(size=298.0), ["bars", "rails"], id="nearly-300"),
        pytest.param(Wish(size=20.0), ["bars", "posts", "rails"], id="thickness"),
    ],
)
def test_what_is_found(wish: Wish, stems: list[str], library: Path) -> None:
    assert paths(find(library, wish)) == stems


def test_only_what_changed_is_read_again(library: Path) -> None:
    assert find(library, Wish()).read == 8  # four designs, four files in parts/
    assert find(library, Wish()).read == 0
    path = library / "lock" / "shop" / "fixtures" / "bars.toml"
    path.write_text(DESIGN.replace("Test bars", "Balance beam"), encoding="utf-8")
    found = find(library, Wish(words=("balance",)))
    assert (paths(found), found.read) == (["bars"], 1)
    path.unlink()
    assert find(library, Wish(words=("balance",))).rows == []


def test_a_changed_table_changes_its_designs(library: Path) -> None:
    find(library, Wish())
    table = library / "lock" / "shop" / "parts" / "mill.toml"
    table.write_text(TABLE_MM.replace('"14 mm"', '"18 mm"'), encoding="utf-8")
    found = find(library, Wish(slot=18.0))
    assert (paths(found), found.read) == (["bars", "posts"], 3)  # the table and both designs for it


def test_a_table_that_comes_mends_the_design(library: Path) -> None:
    assert find(library, Wish()).bad == 1
    (library / "weir" / "parts").mkdir()
    (library / "weir" / "parts" / "gone-mill.toml").write_text(TABLE_MM, encoding="utf-8")
    (library / "weir" / "parts" / "rack.toml").write_text(
        (library / "lock" / "shop" / "parts" / "rack.toml").read_text(encoding="utf-8"), encoding="utf-8"
    )
    found = find(library, Wish(table="gone-mill"))
    assert (paths(found), found.bad) == (["lost"], 0)


@pytest.mark.parametrize("harm", ["deleted", "damaged", "empty", "another-database", "no-place"])
def test_the_index_is_only_a_cache(harm: str, library: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = find(library, Wish()).rows
    index = index_file(library)
    assert index.exists()
    if harm == "deleted":
        index.unlink()
    elif harm == "damaged":
        index.write_bytes(b"SQLite format 3\0" + os.urandom(5000))
    elif harm == "empty":
        index.write_bytes(b"")
    elif harm == "another-database":
        index.write_bytes(b"no database at all" * 500)
    else:
        (library / "file").write_text("")
        monkeypatch.setenv("XDG_CACHE_HOME", str(library / "file"))
        monkeypatch.setenv("LOCALAPPDATA", str(library / "file"))
    assert find(library, Wish()).rows == before
    assert (find(library, Wish()).read == 0) is (harm != "no-place")  # the cache has mended itself


def test_names_of_any_bytes_and_any_script(library: Path) -> None:
    (library / "Schütz 水门.toml").write_text(DESIGN, encoding="utf-8")
    try:
        Path(os.fsdecode(os.fsencode(library) + b"/\xff.toml")).write_text(DESIGN, encoding="utf-8")
    except OSError:
        pytest.skip("this disk takes no such name")
    for _ in range(2):
        assert "Schütz 水门" in paths(find(library, Wish()))


def test_links_and_hidden_folders_are_passed_by(library: Path) -> None:
    shop = library / "lock" / "shop"
    (library / ".git").mkdir()
    (library / ".git" / "old.toml").write_text(DESIGN, encoding="utf-8")
    (library / "round").symlink_to(library, target_is_directory=True)
    (shop / "fixtures" / "again.toml").symlink_to(shop / "fixtures" / "bars.toml")
    assert find(library, Wish()).number == 4


def test_what_cannot_be_read_is_told_and_stops_nothing(library: Path) -> None:
    (library / "broken.toml").write_text("fixture = [", encoding="utf-8")
    (library / "broken.zip").write_bytes(b"PK no pack")
    (library / "notes.toml").write_text("anything = 1\n", encoding="utf-8")
    done = subprocess.run([*SLOTWRIGHT, "find"], capture_output=True, text=True, check=False, cwd=library)
    assert (done.returncode, done.stderr) == (0, "")
    assert "broken.toml: cannot be read: broken.toml: is not TOML" in done.stdout
    assert "broken.zip: cannot be read: broken.zip" in done.stdout
    assert done.stdout.splitlines()[-1] == "6 found among 6 designs and packs, 3 of them with a problem"


def test_a_pack_is_found_by_what_is_in_it(library: Path) -> None:
    (library / "shelf").mkdir()
    (library / "shelf" / "bars.zip").write_bytes(packs.pack())
    (row,) = [row for row in find(library, Wish(slot=14.0, size=300.0)).rows if row["sort"] == "pack"]
    assert (row["path"], row["title"], row["kinds"]) == ("shelf/bars.zip", "Test bars", ["hold-down-bar"])
    assert (row["tables"][0]["name"], row["tables"][0]["width"]) == ("mill", 260.0)


def test_several_at_once_agree(library: Path) -> None:
    command = [*SLOTWRIGHT, "find", "--json", "--slot", "14 mm"]
    runs = [subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=library) for _ in range(4)]
    said = {run.communicate(timeout=120)[0] for run in runs}
    assert [run.returncode for run in runs] == [0] * 4
    assert len(said) == 1
    assert [row["title"] for row in json.loads(said.pop())["found"]] == ["Test bars", "Test bars", "Stop log rails"]


def test_helpers_read_the_same(library: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    alone = find(library, Wish()).rows
    monkeypatch.setattr("slotwright.sharing.library.WORTH_HELPERS", 1)
    assert find(library, Wish(), fresh=True, helpers=2).rows == alone


@pytest.mark.parametrize("odd", ["\udcff\udcfe", "%", "'; drop table file; --", "a" * 5000, "\x00", "\u202e"])
def test_odd_words_find_nothing_and_break_nothing(odd: str, library: Path) -> None:
    for wish in (Wish(words=(odd,)), Wish(kind=odd), Wish(table=odd)):
        assert find(library, wish).rows == []
    assert len(find(library, Wish()).rows) == 4


def test_no_such_folder(tmp_path: Path) -> None:
    done = subprocess.run([*SLOTWRIGHT, "find", "--in", "nowhere"], capture_output=True, text=True, check=False,
                          cwd=tmp_path)  # fmt: skip
    assert (done.returncode, done.stderr.count("\n")) == (2, 1)


# Plain text merges


def merged(folder: Path, base: str, ours: str, theirs: str) -> tuple[int, str]:
    """Let git merge; returns the number of conflicts and the text."""
    for name, text in (("base", base), ("ours", ours), ("theirs", theirs)):
        (folder / name).write_text(text, encoding="utf-8")
    command = ["git", "merge-file", "-p", "ours", "base", "theirs"]
    done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=folder)
    return done.returncode, done.stdout


def key_lines(text: str) -> list[int]:
    """Numbers of the lines that hold a key, whether it is in force or not."""
    return [n for n, line in enumerate(text.split("\n")) if " = " in line and not line.startswith("# ")]


def with_key(text: str, line: int) -> str:
    """Set the key on a line to something else, whether it is in force or not."""
    lines = text.split("\n")
    key = lines[line].lstrip("#").partition(" = ")[0]
    lines[line] = f'{key} = "changed"'
    return "\n".join(lines)


@pytest.mark.parametrize("kind", families())
def test_edits_of_neighbouring_keys_of_a_starter_merge(kind: str, tmp_path: Path) -> None:
    """The line of meaning above each key keeps neighbours apart: git merges what does not touch."""
    base = starter(kind, "mm", "mill", lay_out(tmp_path).parent)
    keys = key_lines(base)
    assert len(keys) > 10
    for first, second in pairwise(keys):
        conflicts, text = merged(tmp_path, base, with_key(base, first), with_key(base, second))
        assert conflicts == 0, base.split("\n")[first]
        assert text == with_key(with_key(base, first), second)


@pytest.mark.parametrize("demo", [path.stem for path in sorted(DEMOS.glob("*.toml"))])
def test_edits_of_neighbouring_keys_of_a_packed_design_merge(demo: str, tmp_path: Path) -> None:
    """In a pack a blank line stands between keys; a section's head or a blank line keeps sections apart."""
    file = DEMOS / f"{demo}.toml"
    base = alone_text(file, set_up(file).alone)
    keys = key_lines(base)
    assert len(keys) > 10
    for first, second in pairwise(keys):
        conflicts, text = merged(tmp_path, base, with_key(base, first), with_key(base, second))
        assert conflicts == 0, base.split("\n")[first]
        assert text == with_key(with_key(base, first), second)


def test_edits_of_any_two_keys_of_a_packed_design_merge(tmp_path: Path) -> None:
    file = lay_out(tmp_path)
    base = alone_text(file, set_up(file).alone)
    pairs = list(combinations(key_lines(base), 2))
    assert len(pairs) > 100
    for first, second in pairs:
        conflicts, text = merged(tmp_path, base, with_key(base, second), with_key(base, first))
        assert (conflicts, text) == (0, with_key(with_key(base, first), second)), base.split("\n")[first]


def test_edits_of_two_shops_merge_in_a_short_design(tmp_path: Path) -> None:
    ours, theirs = DESIGN.replace('"300 mm"', '"310 mm"'), DESIGN.replace('"30 mm"', '"35 mm"')
    conflicts, text = merged(tmp_path, DESIGN, ours, theirs)
    assert conflicts == 0
    bar = tomllib.loads(text)["fixture"][0]
    assert (bar["length"], bar["work-hole"][0]["at"]) == ("310 mm", ["35 mm"])


# Kinds that scripts define: read, never run


SCRIPTED = """
slotwright = 1
title = "Saddle for a gate pintle"
table = "mill"
[[fixture]]
kind = "pintle-saddle"
name = "north-saddle"
"""


def test_a_scripted_design_is_found_by_what_its_file_says(tmp_path: Path) -> None:
    file = lay_out(tmp_path, SCRIPTED, "saddle")
    (file.parent / "saddle.py").write_text("raise SystemExit('it ran')", encoding="utf-8")
    for wish in (Wish(words=("pintle",)), Wish(kind="pintle-saddle"), Wish(table="mill"), Wish(words=("north",))):
        (row,) = find(tmp_path, wish, fresh=True).rows
        assert (row["title"], row["kinds"]) == ("Saddle for a gate pintle", ["pintle-saddle"])
        assert [table["name"] for table in row["tables"]] == ["mill"]
        assert row["problem"].endswith("a script may define it; a search runs none, and goes by what the file says")


@pytest.mark.parametrize(
    "text",
    [
        "slotwright = 1\ntitle = 7\nfixture = [{ kind = 'anvil' }]\n",
        "slotwright = 1\ntitle = 'x'\ntables = 3\n[[fixture]]\nkind = 'anvil'\nname = 1\n",
        f"slotwright = 1\ntitle = '{'x' * 900}'\n[[fixture]]\nkind = '{'y' * 900}'\n",
        "slotwright = 1\ntitle = 'x'\n" + "".join(f"[[fixture]]\nkind = 'kind-{n}'\n" for n in range(90)),
        "slotwright = 1\ntitle = 'x'\n[[fixture]]\nkind = ['a', 'b']\n",
    ],
    ids=["title-no-text", "tables-no-list", "long-texts", "many-kinds", "kind-no-text"],
)
def test_what_is_no_design_at_all_is_listed_with_its_problem(text: str, tmp_path: Path) -> None:
    lay_out(tmp_path, text, "odd")
    (row,) = find(tmp_path, Wish(words=("odd",)), fresh=True).rows
    assert row["problem"]
    assert len(json.dumps(row)) < 12_000
