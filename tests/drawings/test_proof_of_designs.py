"""The sheets the program composes, proof-read: each family at its default, smallest and largest, and random designs."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from slotwright.drawings.proof import proof, proof_of
from slotwright.drawings.writers.dxf import dxf_bytes
from slotwright.fixtures.family import families
from slotwright.sharing.set_up import SetUp, set_up
from slotwright.sharing.starters import starter
from tests.random_designs import drawings, extremes, random_design

ROOT = Path(__file__).parents[2]
RANDOM_DESIGNS = 300
PARTS = 3  # so that all cores have something to do; each part keeps the claim
ALLOWED = 0.01  # of the drawings may have a violation
KINDS = sorted(families())
READ_BACK = 11  # every so many designs are judged from their DXF files too


def faults(made: SetUp, *, from_file: bool = True) -> list[str]:
    """What is wrong on the drawings of a set-up, in their DXF files or before; not what is only better avoided."""
    found = []
    for drawing, style in drawings(made):
        violations = proof(dxf_bytes(drawing, style)) if from_file else proof_of(drawing)
        found += [f"{made.name}, {drawing.name}: {v.place}: {v.sentence}" for v in violations if not v.avoidable]
    return found


@pytest.mark.parametrize("design", sorted(path.stem for path in (ROOT / "fixtures").glob("*.toml")))
def test_demo_designs(design: str) -> None:
    assert faults(set_up(ROOT / "fixtures" / f"{design}.toml")) == []


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("kind", KINDS)
def test_starter_designs(kind: str, unit: str, tmp_path: Path) -> None:
    (tmp_path / "fixtures").mkdir()
    (tmp_path / "parts").mkdir()
    for name in ("canal-mill-1100", "knee-mill-9x42"):
        (tmp_path / "parts" / f"{name}.toml").write_bytes((ROOT / "parts" / f"{name}.toml").read_bytes())
    path = tmp_path / "fixtures" / "starter.toml"
    path.write_text(starter(kind, unit, None, path.parent), encoding="utf-8")
    assert faults(set_up(path)) == []


@pytest.mark.parametrize("kind", KINDS)
def test_smallest_and_largest_designs(kind: str) -> None:
    found = {name: faults(made) for name, made in extremes(kind)}
    assert len(found) >= 4, "each family has a smallest and a largest, in both styles"
    assert {name: listed for name, listed in found.items() if listed} == {}


@pytest.mark.long
@pytest.mark.parametrize("part", range(PARTS))
def test_random_designs(part: int) -> None:
    """At least 99 of 100 drawings of random designs of all families are without any violation."""
    total, bad = 0, Counter[str]()
    for number in range(part, RANDOM_DESIGNS, PARTS):
        made = random_design(KINDS[number % len(KINDS)], number // len(KINDS))
        total += len(made.pieces) + len(made.layouts)
        for fault in faults(made, from_file=number % READ_BACK == 0):
            bad[fault.split(": Sheet")[0]] += 1
    assert total > 1.5 * RANDOM_DESIGNS / PARTS
    assert len(bad) <= ALLOWED * total, f"{len(bad)} of {total} drawings: {', '.join(bad)}"
