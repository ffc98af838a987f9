"""Refit: figures by hand, ways out against brute force, and there and back again gives the first design."""

from __future__ import annotations

import csv
import difflib
import json
import os
import re
import subprocess
import sys
import time
from dataclasses import dataclass
from io import StringIO
from itertools import combinations
from pathlib import Path
from random import Random
from typing import Any

import ezdxf
import pytest

from slotwright.drawings.proof import proof
from slotwright.errors import DesignError
from slotwright.sharing.compare import Comparison, compare
from slotwright.sharing.make import paper_files
from slotwright.sharing.refit import Refit, refit, write_refit
from slotwright.sharing.refit_choices import nearest_slots
from slotwright.sharing.refit_marks import marked, next_index
from slotwright.sharing.refit_report import refit_data, refit_lines
from slotwright.sharing.refit_tables import fits, matrix_lines, together
from slotwright.sharing.set_up import set_up
from slotwright.sharing.starters import starter
from tests.workshop import DESIGN, lay_out

SLOTWRIGHT = [sys.executable, "-m", "slotwright"]
TABLE = """
slotwright = 1
part = "table"
unit = "{unit}"
length = "{length}"
width = "{width}"
[slots]
width = "{slot}"
{places}
"""
INCH = 25.4


def run(*arguments: str | Path, cwd: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run([*SLOTWRIGHT, *arguments], capture_output=True, text=True, check=False, cwd=cwd)


def table(folder: Path, name: str, slot: str, places: str, length: str = "1000 mm", width: str = "260 mm") -> None:
    unit = "in" if slot.endswith("in") else "mm"
    text = TABLE.format(unit=unit, length=length, width=width, slot=slot, places=places)
    (folder / "parts" / f"{name}.toml").write_text(text, encoding="utf-8")


def keyed(text: str, line: str) -> str:
    """Add a key to the bar of the test workshop's design."""
    return text.replace('name = "bar"', f'name = "bar"\n{line}')


def lost(done: Refit) -> dict[str, object]:
    return {choice.key: choice.new for choice in done.lost}


# Holes


def test_each_hole_moves_by_the_difference_of_the_slots(tmp_path: Path) -> None:
    """Slot centres by hand: mm table (260 - 3 * 63) / 2 + 63 n, inch table 2, 4-1/2, 7 in; the bar starts 20 before."""
    done = refit(lay_out(tmp_path), ("inch-mill",))
    before = [20.0 + 35.5 + 63.0 * n for n in range(4)]
    after = [20.0 + inches * INCH for inches in (2.0, 4.5, 7.0)]
    moves = [move for move in compare(done.old, done.new).holes if (move.new or move.old).tag.startswith("A")]  # type: ignore[union-attr]
    assert [move.moved[0] for move in moves[:3]] == pytest.approx([b - a for a, b in zip(before, after, strict=False)])
    assert [move.new for move in moves] == [*(move.new for move in moves[:3]), None]
    assert moves[3].old is not None
    assert moves[3].old.hole.x == pytest.approx(before[3])


@pytest.mark.parametrize(
    ("unit", "words"),
    [
        # The places of the test above: 55.5 mm before, 20 + 50.8 = 70.8 mm = 2.7874 in after; 55.5 mm = 2.185 in.
        pytest.param(None, "x 55.5 mm -> 2.7874 in (+0.6024 in)", id="mm to inch"),
        pytest.param("mm", "x 55.5 mm -> 70.8 mm (+15.3 mm)", id="mm to mm"),
    ],
)
def test_each_place_is_told_in_the_unit_of_its_design(unit: str | None, words: str, tmp_path: Path) -> None:
    lines = list(refit_lines(refit(lay_out(tmp_path), ("inch-mill",), unit)))
    assert any(words in line for line in lines if line.startswith("  bar A1: ")), "\n".join(lines)


def test_work_holes_stay_and_are_told_to_stay(tmp_path: Path) -> None:
    done = refit(lay_out(tmp_path), ("inch-mill",))
    (kept,) = [move for move in compare(done.old, done.new).holes if move.stays]
    assert kept.old is not None
    assert (kept.old.hole.x, kept.old.hole.thread.designation) == (30.0, "M12")  # type: ignore[union-attr]


def test_bolts_and_nuts_are_picked_anew(tmp_path: Path) -> None:
    """DIN 508: M12 for a 14 mm slot. ASME B5.1M T-nuts: 3/8-16 for a 9/16 in slot, from memory. Four, then three."""
    changes = {one.place.split(",")[0]: one for one in compare_of(tmp_path, "inch-mill").hardware}
    assert (changes["T-nut M12 for 14 mm slot"].old, changes["T-nut M12 for 14 mm slot"].new) == ("4", "")
    came = [place for place, one in changes.items() if not one.old]
    assert any(place.startswith("T-nut 3/8-16 UNC") for place in came)
    assert all(changes[place].new == "3" for place in came)


def compare_of(folder: Path, name: str) -> Comparison:
    done = refit(lay_out(folder), (name,))
    return compare(done.old, done.new)


# What cannot be carried over


@pytest.mark.parametrize(
    ("wanted", "there", "nearest"),
    [
        pytest.param([1, 3], 2, [1, 2], id="asked-for-by-users"),
        pytest.param([1, 2], 5, [1, 2], id="there-is-room"),
        pytest.param([4, 1], 3, [3, 1], id="keeps-the-bars-order"),
        pytest.param([2, 5, 6], 3, [1, 2, 3], id="all-there-are"),
        pytest.param([1, 2, 3], 1, [1], id="fewer"),
    ],
)
def test_nearest_slots(wanted: list[int], there: int, nearest: list[int]) -> None:
    assert nearest_slots(wanted, there) == nearest


def test_nearest_slots_move_least_of_all_choices() -> None:
    """Brute force over all choices that keep number and order."""
    random = Random(5)
    for _ in range(200):
        there = random.randint(1, 7)
        wanted = sorted(random.sample(range(1, 12), random.randint(1, there)))
        least = min(
            sum(abs(a - b) for a, b in zip(wanted, choice, strict=True))
            for choice in combinations(range(1, there + 1), len(wanted))
        )
        found = nearest_slots(wanted, there)
        assert found == sorted(set(found))
        assert sum(abs(a - b) for a, b in zip(wanted, found, strict=True)) == least


def test_slots_that_are_not_there(tmp_path: Path) -> None:
    path = lay_out(tmp_path, keyed(DESIGN, "slots = [1, 3]"))
    table(tmp_path, "two", "14 mm", 'number = 2\npitch = "63 mm"')
    assert lost(refit(path, ("two",))) == {"slots": [1, 2]}


def test_bars_along_more_slots_than_there_are(tmp_path: Path) -> None:
    along = DESIGN.replace('overhang-front = "20 mm"', 'direction = "along"\nquantity = 3\nslots = [1, 2, 3]')
    path = lay_out(tmp_path, along)
    table(tmp_path, "two", "14 mm", 'number = 2\npitch = "63 mm"')
    assert lost(refit(path, ("two",))) == {"slots": [1, 2], "quantity": 2}


def test_bolt_that_does_not_pass(tmp_path: Path) -> None:
    """DIN 508: M8 in a 10 mm slot."""
    path = lay_out(tmp_path, keyed(DESIGN, 'bolt = "M12"'))
    table(tmp_path, "narrow", "10 mm", 'number = 4\npitch = "63 mm"')
    done = refit(path, ("narrow",))
    assert lost(done) == {"bolt": None}
    assert {joint.thread.designation for joint in done.new.layouts[0].joints} == {"M8"}


def test_bar_too_short_takes_the_slots_it_reaches(tmp_path: Path) -> None:
    """300 mm from 20 before the edge reaches 280: of slots at 60, 160, 260, 360 the first three."""
    path = lay_out(tmp_path)
    table(tmp_path, "wide", "14 mm", 'centres = ["60 mm", "160 mm", "260 mm", "360 mm"]', width="420 mm")
    assert lost(refit(path, ("wide",))) == {"slots": [1, 2, 3]}


def test_bar_that_reaches_no_slot_is_lengthened(tmp_path: Path) -> None:
    path = lay_out(tmp_path, DESIGN.replace('"300 mm"', '"100 mm"').replace('["30 mm"]', '["10 mm"]').replace(
        'name = "bar"', 'name = "bar"\nslots = [1]'))  # fmt: skip
    table(tmp_path, "far", "14 mm", 'centres = ["112 mm"]')
    assert lost(refit(path, ("far",))) == {"length": "140 mm"}  # past 20 + 112 by the next whole 10 mm


def test_stations_move_together_by_the_least(tmp_path: Path) -> None:
    """A bar 40 wide at 900 ends at 920, 320 off a table 600 long; the other moves with it."""
    path = lay_out(tmp_path, keyed(DESIGN, 'quantity = 2\nstations = ["500 mm", "900 mm"]'))
    table(tmp_path, "short", "14 mm", 'number = 4\npitch = "63 mm"', length="600 mm")
    assert lost(refit(path, ("short",))) == {"stations": ["180 mm", "580 mm"]}


def test_stations_too_far_apart_are_spread(tmp_path: Path) -> None:
    path = lay_out(tmp_path, keyed(DESIGN, 'quantity = 2\nstations = ["100 mm", "900 mm"]'))
    table(tmp_path, "short", "14 mm", 'number = 4\npitch = "63 mm"', length="600 mm")
    done = refit(path, ("short",))
    assert lost(done) == {"stations": None}
    middles = [sum(placed.footprint.bounds[::2]) / 2.0 for placed in done.new.layouts[0].pieces]
    assert middles == pytest.approx([200.0, 400.0])  # thirds of 600, as the parameter says


def test_what_has_no_way_out_is_refused(tmp_path: Path) -> None:
    path = lay_out(tmp_path)
    slots = 'headspace-width = "7 mm"\nheadspace-depth = "3 mm"\ndepth = "7 mm"'
    table(tmp_path, "hair", "3 mm", f'number = 4\npitch = "63 mm"\n{slots}')
    with pytest.raises(DesignError, match=r"fixture\[1\]: .*throat of 3 mm"):
        refit(path, ("hair",))


def test_table_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(DesignError, match=r"parts/nowhere\.toml: is not there"):
        refit(lay_out(tmp_path), ("nowhere",))


# Findings, drawings, report


def near_slot(folder: Path) -> Path:
    """A table whose first slot puts a bolt's hole 4 mm from the M12 hole at 30: they run into each other."""
    path = lay_out(folder)
    table(folder, "near", "14 mm", 'first = "14 mm"\nnumber = 4\npitch = "63 mm"')
    return path


def test_finding_that_appears_is_told(tmp_path: Path) -> None:
    done = refit(near_slot(tmp_path), ("near",))
    (change,) = [c for c in compare(done.old, done.new).findings if c.new and c.new.code == "hole-to-hole"]
    assert change.old is None
    assert change.new is not None
    assert change.new.severity.value == "stop"
    assert any(line.strip().startswith("appeared: stop: bar, holes") for line in refit_lines(done))


def test_changes_stand_on_the_drawing(tmp_path: Path) -> None:
    done = refit(lay_out(tmp_path), ("inch-mill",))
    svg = paper_files(marked(done))["bar.svg"].decode()
    assert "LENGTH" not in svg  # it is given as 300 mm and stays so
    for words in ("REFITTED FROM TABLE mill", "inch-mill", "NO MORE THERE", done.old.content_id):
        assert words in svg.replace("\u00a0", " "), words


@dataclass(frozen=True)
class Sheet:
    """What a DXF file says: where texts stand, and the corners of triangles drawn in three lines."""

    texts: list[tuple[str, float, float]]
    triangles: list[list[tuple[float, float]]]

    @classmethod
    def of(cls, data: bytes) -> Sheet:
        document: Any = ezdxf.read(StringIO(data.decode()))  # type: ignore[attr-defined]  # not listed as public
        paper = document.layout("Sheet 1")
        texts = [(one.dxf.text, *one.get_placement()[1].vec2) for one in paper.query("TEXT")]
        rings = [[(x, y) for x, y, *_ in one.get_points()] for one in paper.query("LWPOLYLINE") if one.closed]
        return cls(texts, [ring for ring in rings if len(ring) == 3])

    def marked_tags(self, index: str) -> list[str]:
        """The text that stands nearest to the left of each triangle that holds the index."""
        found = []
        for ring in self.triangles:
            (x0, y0), (x1, _) = ring[0], ring[1]
            holds = [t for t, x, y in self.texts if x0 < x < x1 and y0 < y < ring[2][1]]
            assert holds == [index]
            left = [(x0 - x, t) for t, x, y in self.texts if abs(y - y0) < 0.1 and x < x0]
            found.append(min(left)[1])
        return sorted(found)


@pytest.mark.parametrize("to", ["inch-mill", "near"])
def test_a_sign_of_the_revision_stands_beside_each_changed_hole_alone(to: str, tmp_path: Path) -> None:
    path = lay_out(tmp_path)
    table(tmp_path, "near", "14 mm", "number = 4\npitch = '63.5 mm'")
    done = refit(path, (to,))
    changed = [move.new.tag for move in compare(done.old, done.new).changed_holes if move.new is not None]
    stay = [move.new.tag for move in compare(done.old, done.new).holes if move.stays and move.new is not None]
    assert changed
    assert stay
    files = paper_files(marked(done))
    assert Sheet.of(files["bar.dxf"]).marked_tags("A") == sorted(changed)
    rows = list(csv.DictReader(StringIO(files["bar-holes.csv"].decode())))
    assert [row["tag"] for row in rows if row["revision"] == "A"] == sorted(changed)
    assert {row["tag"] for row in rows if not row["revision"]} == set(stay)
    for name in ("bar.dxf", "set-up.dxf"):
        assert proof(files[name]) == ()


def test_a_drawing_that_is_not_refitted_has_no_signs(tmp_path: Path) -> None:
    files = paper_files(set_up(lay_out(tmp_path)))
    assert Sheet.of(files["bar.dxf"]).triangles == []
    assert b"revision" not in files["bar-holes.csv"]


def test_a_refit_is_the_revision_after_the_last_and_leaves_the_design_as_it_is(tmp_path: Path) -> None:
    rows = '[drawing]\n[[drawing.revisions]]\nindex = "B"\ntext = "Second holes"\n\n[[fixture]]\n'
    done = refit(lay_out(tmp_path, DESIGN.replace("[[fixture]]\n", rows, 1)), ("inch-mill",))
    made = marked(done)
    assert [one.index for one in made.design.drawing.revisions] == ["B", "C"]
    assert {hole.revised for hole in made.pieces[0].holes} <= {"", "C"}
    assert made.content_id == done.new.content_id
    assert b"REFITTED" not in done.text


@pytest.mark.parametrize(
    ("last", "following"),
    [
        pytest.param("", "A", id="first"),
        pytest.param("A", "B", id="letter"),
        # ASME Y14.35: I, O, Q, S, X and Z are not used; AA comes when the single letters are used up (from memory)
        *(pytest.param(a, b, id=f"ASME-Y14.35-{a}") for a, b in (("H", "J"), ("N", "P"), ("R", "T"), ("W", "Y"))),
        pytest.param("Y", "AA", id="ASME-Y14.35-after-the-last"),
        pytest.param("AY", "BA", id="two-letters"),
        pytest.param("3", "4", id="number"),
        pytest.param("99", "100", id="more-digits"),
        pytest.param("3rd", "3rd.1", id="anything-else"),
    ],
)
def test_next_index(last: str, following: str) -> None:
    assert next_index(last) == following


def test_a_length_that_follows_the_table_stands_on_the_drawing(tmp_path: Path) -> None:
    """20 mm before the front edge, over a table 260 mm wide, to 10 mm behind it: 290 mm."""
    path = lay_out(tmp_path, DESIGN.replace('length = "300 mm"', 'overhang-back = "10 mm"'))
    (piece,) = marked(refit(path, ("inch-mill",))).pieces
    assert any("LENGTH (WAS 290 mm)" in note for note in piece.notes)


def test_a_design_for_no_table_is_told_so(tmp_path: Path) -> None:
    lay_out(tmp_path)
    text = starter("redrill", "mm", None, tmp_path)
    (tmp_path / "fixtures" / "flange.toml").write_text(re.sub(r"(?m)^table = .*$", "", text), encoding="utf-8")
    for asked in (("--all-tables",), ("--table", "mill")):
        done = run("refit", "flange", *asked, cwd=tmp_path)
        assert (done.returncode, done.stdout) == (2, "")
        assert "goes by no table" in done.stderr


def test_report_for_programs_is_json(tmp_path: Path) -> None:
    data = json.loads(json.dumps(refit_data(refit(lay_out(tmp_path), ("inch-mill",)))))
    assert [hole["moved"][0] for hole in data["holes"]][:1] == [pytest.approx(2.0 * INCH - 35.5)]


# The file


def test_comments_and_all_but_the_changed_lines_stay(tmp_path: Path) -> None:
    text = "# from the depot\n" + DESIGN.replace('table = "mill"', 'table = "mill" # bay 2\n# by the window')
    done = refit(lay_out(tmp_path, text), ("inch-mill",))
    changed = [line for line in difflib.ndiff(text.split("\n"), done.text.decode().split("\n")) if line[0] in "+-"]
    assert sorted(changed) == sorted(
        ['- unit = "mm"', '+ unit = "in"', '- table = "mill" # bay 2', '+ table = "inch-mill" # bay 2']
    )


def test_another_file_in_the_way_is_left_alone(tmp_path: Path) -> None:
    lay_out(tmp_path)
    mine = tmp_path / "fixtures" / "bars-inch-mill.toml"
    mine.write_text("mine")
    done = run("refit", "bars", "--table", "inch-mill", cwd=tmp_path)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("slotwright: fixtures/bars-inch-mill.toml: is there already and says something else;")
    assert mine.read_text() == "mine"


def test_same_file_again_is_no_error(tmp_path: Path) -> None:
    done = refit(lay_out(tmp_path), ("inch-mill",))
    target = tmp_path / "fixtures" / "new.toml"
    assert write_refit(done, target, "new.toml")
    assert not write_refit(done, target, "new.toml")
    assert target.read_bytes() == done.text
    assert sorted(path.name for path in target.parent.iterdir()) == ["bars.toml", "new.toml"]


@pytest.mark.skipif(os.name != "posix", reason="SIGKILL is POSIX")
def test_killed_at_any_moment_the_file_is_whole_or_not_there(tmp_path: Path) -> None:
    lay_out(tmp_path)
    target = tmp_path / "fixtures" / "bars-inch-mill.toml"
    whole = refit(tmp_path / "fixtures" / "bars.toml", ("inch-mill",)).text
    random = Random(7)
    for _ in range(5):
        process = subprocess.Popen([*SLOTWRIGHT, "refit", "bars", "--table", "inch-mill"], cwd=tmp_path,
                                   stdout=subprocess.DEVNULL)  # fmt: skip
        time.sleep(random.uniform(0.1, 0.9))
        process.kill()
        process.wait()
        assert not target.exists() or target.read_bytes() == whole
    done = run("refit", "bars", "--table", "inch-mill", cwd=tmp_path)
    assert (done.returncode, target.read_bytes()) == (0, whole)


def test_trial_writes_nothing_and_a_stop_exits_3(tmp_path: Path) -> None:
    near_slot(tmp_path)
    done = run("refit", "fixtures/bars.toml", "--table", "near", "--trial", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (3, "")
    assert [path.name for path in (tmp_path / "fixtures").iterdir()] == ["bars.toml"]


def test_written_file_is_solved_as_reported(tmp_path: Path) -> None:
    lay_out(tmp_path)
    done = run("refit", "bars", "--table", "inch-mill", "--json", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    new = set_up(tmp_path / "fixtures" / "bars-inch-mill.toml")
    assert json.loads(done.stdout)["content-id"]["new"] == new.content_id


# There and back


def random_workshop(folder: Path, random: Random) -> Path:
    """A workshop with two random tables and a random design for the first."""
    for name in ("first", "second"):
        slot = random.choice(["12 mm", "14 mm", "18 mm", "9/16 in", "11/16 in"])
        pitch = random.choice(["50 mm", "63 mm", "80 mm", "2-1/2 in", "3 in"])
        places = f'number = {random.randint(2, 5)}\npitch = "{pitch}"'
        width = random.choice(["420 mm", "17 in", "500 mm"])
        table(folder, name, slot, places, random.choice(["900 mm", "1200 mm", "50 in"]), width)
    keys = [
        random.choice(["", "slots = [1, 2]", "slots = [1, 3]", "slots = [2]"]),
        random.choice(["", 'bolt = "M12"', 'bolt = "1/2-13 UNC"', 'bolt = "M8"']),
        random.choice(["", 'quantity = 2\nstations = ["150 mm", "31-1/4 in"]']),
        random.choice(['overhang-front = "50 mm"', 'overhang-front = "3/4 in" # as the casting wants it']),
        random.choice(['overhang-back = "0 mm"', 'overhang-back = "60 mm"']),
        random.choice(["", 'heads = "sunk"', 'holes = "fine"', 'play = "4 mm"']),
    ]
    unit = random.choice(['unit = "mm"', 'unit = "in"'])
    text = f'# a design\nslotwright = 1\ntitle = "Bars"\n{unit}\ntable = "first" # measured\n\n[[fixture]]\n'
    text += 'kind = "hold-down-bar"\nname = "bar"\nwidth = "50 mm"\nthickness = "30 mm"\n' + "\n".join(keys) + "\n"
    path = folder / "fixtures" / "bars.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_there_and_back_gives_the_first_design(tmp_path: Path) -> None:
    lay_out(tmp_path)
    whole, partly = 0, 0
    for seed in range(80):
        path = random_workshop(tmp_path, Random(seed))
        try:
            there = refit(path, ("second",))
        except DesignError:
            continue
        other = tmp_path / "fixtures" / f"there-{seed}.toml"
        other.write_bytes(there.text)
        back = refit(other, ("first",))
        if there.lost:
            partly += 1
            continue
        whole += 1
        assert back.text == path.read_bytes(), seed
        assert back.new.design == there.old.design, seed
        assert back.new.content_id == there.old.content_id, seed
        assert compare(there.old, back.new).same, seed
    assert whole > 20
    assert partly > 5


def test_name_of_the_way_back_is_the_first_name(tmp_path: Path) -> None:
    there = refit(lay_out(tmp_path), ("inch-mill",))
    other = tmp_path / "fixtures" / f"{there.new.name}.toml"
    other.write_bytes(there.text)
    assert (there.new.name, refit(other, ("mill",)).new.name) == ("bars-inch-mill", "bars-mill")


# All tables


def test_one_bar_serves_tables_whose_holes_leave_metal(tmp_path: Path) -> None:
    """Against the mill's slots: half a pitch off leaves 31.5 - 13.5 mm of web; 5 mm off, the holes run together."""
    path = lay_out(tmp_path, DESIGN.replace("[[fixture.work-hole]]", "#").split("\n#\n")[0])
    table(tmp_path, "half", "14 mm", 'first = "67 mm"\nnumber = 3\npitch = "63 mm"')
    table(tmp_path, "five", "14 mm", 'first = "40.5 mm"\nnumber = 4\npitch = "63 mm"')
    (tmp_path / "parts" / "inch-mill.toml").rename(tmp_path / "parts" / "twin.toml")
    (tmp_path / "parts" / "twin.toml").write_bytes((tmp_path / "parts" / "mill.toml").read_bytes())
    alone = fits(path)
    assert {one.tables[0]: one.verdict for one in alone} == dict.fromkeys(("mill", "twin", "half", "five"), "yes")
    several = together(path, alone)
    assert sorted(sorted(one.tables) for one in several) == [["five", "half"], ["half", "mill", "twin"]]
    assert any("one set of pieces serves half + mill + twin:" in line for line in matrix_lines(alone, several))


def test_all_tables_on_the_command_line(tmp_path: Path) -> None:
    near_slot(tmp_path)
    done = run("refit", "bars", "--all-tables", "--json", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    rows = {row["tables"][0]: row for row in json.loads(done.stdout)["tables"]}
    assert [(name, rows[name]["verdict"]) for name in ("mill", "near")] == [("mill", "yes"), ("near", "stop")]
    assert rows["mill"]["holes-moved"] == 0


@pytest.mark.parametrize("arguments", [["refit", "bars"], ["refit", "bars", "--table", "mill", "--all-tables"]])
def test_one_of_table_and_all_tables(arguments: list[str], tmp_path: Path) -> None:
    lay_out(tmp_path)
    done = run(*arguments, cwd=tmp_path)
    assert done.returncode == 2
    assert "--all-tables" in done.stderr
