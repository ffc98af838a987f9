"""Comparing by meaning: other words for the same are the same; what differs is told by its name."""

from __future__ import annotations

import json
import subprocess
import sys
from itertools import combinations
from math import hypot
from pathlib import Path
from random import Random

import pytest

from slotwright.parts.materials import material
from slotwright.pieces.features import Hole
from slotwright.pieces.piece import Bar, Piece
from slotwright.sharing.compare import Comparison, compare, read_either
from slotwright.sharing.hole_moves import hole_moves
from slotwright.sharing.set_up import set_up
from tests.sharing import packs
from tests.workshop import DESIGN, lay_out

SLOTWRIGHT = [sys.executable, "-m", "slotwright"]


def compared(folder: Path, old: str, new: str) -> Comparison:
    return compare(set_up(lay_out(folder, old, "old")), set_up(lay_out(folder, new, "new")))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        pytest.param('length = "300 mm"', 'length = "30 cm"', id="another-spelling"),
        pytest.param('overhang-front = "20 mm"', 'overhang-front = "20 mm"\nholes = "medium"', id="a-default-said"),
        pytest.param('unit = "mm"\ntable = "mill"', '# note\ntable = "mill"\nunit = "mm"', id="another-order"),
        pytest.param('at = ["30 mm"]', 'row = { first = "30 mm", pitch = "9 mm", number = 1 }', id="a-row-of-one"),
    ],
)
def test_the_same_holes_in_other_words(old: str, new: str, tmp_path: Path) -> None:
    found = compared(tmp_path, DESIGN, DESIGN.replace(old, new))
    assert not found.changed_holes
    assert found.same is ("row" not in new)  # a row is asked for otherwise, though the hole is the same


def test_inch_and_mm_spellings_of_one_length_are_the_same(tmp_path: Path) -> None:
    """25.4 mm is 1 in by definition; 7/8 in is 22.225 mm."""
    old, new = (DESIGN.replace('"30 mm"', size) for size in ('"22.225 mm"', '"7/8 in"'))
    assert compared(tmp_path, old, new).same


def test_a_moved_hole(tmp_path: Path) -> None:
    found = compared(tmp_path, DESIGN, DESIGN.replace('"30 mm"', '"33.5 mm"'))
    (move,) = found.changed_holes
    assert move.moved == pytest.approx((3.5, 0.0))
    assert [(one.place, one.old, one.new) for one in found.parameters] == [
        ("bar.work-hole[1].at", "[30 mm]", "[33.5 mm]")
    ]
    assert not found.hardware


def test_another_thread_is_another_hole_in_its_place(tmp_path: Path) -> None:
    (move,) = compared(tmp_path, DESIGN, DESIGN.replace('thread = "M12"', 'thread = "M10"')).changed_holes
    assert (move.moved, move.resized) == ((0.0, 0.0), True)


def test_a_longer_bar_and_its_hardware(tmp_path: Path) -> None:
    """Without the slot at 20 + 224.5 one stack of four goes: M12 in DIN 508, with a hole less."""
    new = DESIGN.replace('length = "300 mm"', 'length = "310 mm"\nslots = [1, 2, 3]')
    found = compared(tmp_path, DESIGN, new)
    assert [(one.place, one.old, one.new) for one in found.pieces] == [("bar: length", "300 mm", "310 mm")]
    assert {(one.old, one.new) for one in found.hardware} == {("4", "3")}
    assert len(found.hardware) == 4  # T-nut, stud, washer, nut
    (gone,) = found.changed_holes
    assert gone.new is None
    assert gone.old is not None
    assert gone.old.hole.x == pytest.approx(244.5)


def test_a_finding_that_appears(tmp_path: Path) -> None:
    found = compared(tmp_path, DESIGN, DESIGN.replace('"30 mm"', '"3 mm"'))
    assert (None, "hole-to-edge") in [(c.old, c.new.code) for c in found.findings if c.new]


def test_a_finding_whose_hole_got_another_tag_stays(tmp_path: Path) -> None:
    """The hole that breaks out is B1, and C1 once an M10 hole is listed before it."""
    bad = DESIGN.replace('"30 mm"', '"3 mm"')
    extra = '[[fixture.work-hole]]\nmake = "tapped"\nthread = "M10"\nat = ["80 mm"]\n\n[[fixture.work-hole]]'
    found = compared(tmp_path, bad, bad.replace("[[fixture.work-hole]]", extra))
    assert "hole-to-edge" not in [(c.new or c.old).code for c in found.findings]  # type: ignore[union-attr]


def test_a_pack_means_what_its_design_means(tmp_path: Path) -> None:
    """The pack has no rack and no drawer, and so has the design: nothing else differs."""
    (tmp_path / "bars.zip").write_bytes(packs.pack())
    design = tmp_path / "alone.toml"
    design.write_text(packs.DESIGN, encoding="utf-8")
    assert compare(read_either(tmp_path / "bars.zip", "bars.zip"), read_either(design, "alone.toml")).same
    design.write_text(packs.DESIGN.replace('number = 4, pitch = "63 mm"', 'number = 4, pitch = "60 mm"'), "utf-8")
    found = compare(read_either(tmp_path / "bars.zip", "bars.zip"), read_either(design, "alone.toml"))
    assert [move.moved[0] for move in found.changed_holes] == pytest.approx([4.5, 1.5, -1.5, -4.5])


def bar(places: list[float]) -> Piece:
    holes = tuple(Hole(x=x, y=20.0, diameter=10.0) for x in places)
    blank = Bar(length=1000.0, width=40.0, thickness=20.0)
    return Piece(name="bar", title="Bar", blank=blank, holes=holes, material=material("S235JR"), stock="40 x 20 mm")


def test_holes_are_matched_with_the_least_moves() -> None:
    """Brute force over all ways to leave holes out, keeping the order; places that agree are set apart first."""
    random = Random(3)
    for _ in range(150):
        few, many = sorted((random.randint(1, 4), random.randint(1, 7)))
        olds = sorted(random.sample(range(10, 900, 2), few))
        news = sorted(random.sample(range(11, 900, 2), many))
        found = hole_moves(bar([float(x) for x in olds]), bar([float(x) for x in news]))
        total = sum(hypot(*move.moved) for move in found)
        least = min(sum(abs(a - b) for a, b in zip(olds, chosen, strict=True)) for chosen in combinations(news, few))
        assert total == pytest.approx(least)
        assert sum(move.old is not None and move.new is not None for move in found) == few


def test_holes_that_stay_are_found_among_others_that_move() -> None:
    found = hole_moves(bar([100.0, 200.0, 300.0]), bar([150.0, 200.0, 300.0]))
    assert sum(move.stays for move in found) == 2
    assert [move.moved for move in found if not move.stays] == [(50.0, 0.0)]


def run(*arguments: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run([*SLOTWRIGHT, *arguments], capture_output=True, text=True, check=False, cwd=cwd)


def test_on_the_command_line(tmp_path: Path) -> None:
    lay_out(tmp_path)
    lay_out(tmp_path, DESIGN.replace('"30 mm"', '"33.5 mm"'), "other")
    done = run("compare", "bars", "fixtures/other.toml", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert "  bar.work-hole[1].at: [30 mm] -> [33.5 mm]\n" in done.stdout
    assert "  bar B1: x 30 mm -> 33.5 mm (+3.5 mm)\n" in done.stdout
    same = run("compare", "--json", "bars", "bars", cwd=tmp_path)
    assert json.loads(same.stdout)["same"] is True
    assert run("compare", "bars", "nothing", cwd=tmp_path).returncode == 2
