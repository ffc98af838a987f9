"""A piece of any family, made from its drawing alone, is the piece of its STEP file.

Nothing of the program is known to the reader. Lines of the views say how a piece hangs together; every place, radius,
depth and hole comes from a printed figure, and what no figure gives, or two figures give, fails.
"""

from __future__ import annotations

from pathlib import Path
from shutil import copytree

import pytest

from slotwright.drawings.paper.sheet_data import SheetData
from slotwright.drawings.paper.style import Style, style
from slotwright.drawings.piece.piece_sheet import piece_drawing
from slotwright.drawings.writers.dxf import dxf_bytes
from slotwright.findings import Severity
from slotwright.fixtures.family import families
from slotwright.pieces.piece import Piece
from slotwright.pieces.script_piece import ScriptPiece
from slotwright.pieces.step import piece_step
from slotwright.sharing.set_up import SetUp, set_up
from slotwright.sharing.sheets import sheet_data, sheet_style
from slotwright.sharing.starters import starter
from tests.drawings.pieces import DATA, FIRST
from tests.drawings.shapes import ALL
from tests.kernel_reading import read_step
from tests.random_designs import extremes, random_design
from tests.rebuilding.piece_reading import round_trip

ROOT = Path(__file__).parents[2]
DEMOS = sorted(path for path in (ROOT / "fixtures").glob("*.toml") if "outriggers" not in path.stem)
KINDS = sorted(kind for kind in families() if kind not in ("clamp-vee", "hold-down-bar"))
"""Kinds with pieces to make; test_round_trip.py has the bars, and a nest is laid out of straps that are there."""
RANDOM = [(kind, seed) for kind in KINDS for seed in range(5 if kind == "grid-plate" else 9)]
QUICK = 1
"""Seeds of each kind that are in every run."""


def prove(made: SetUp, *, crowded: bool = False) -> None:
    """Take every piece of a set-up from its drawing, as `make` writes it, to a solid and compare."""
    for piece in made.pieces:
        prove_piece(piece, sheet_data(made), sheet_style(made), crowded=crowded)


def prove_piece(piece: Piece | ScriptPiece, data: SheetData, written: Style, *, crowded: bool = False) -> None:
    """The same for one piece; where holes stand crowded, X and Y tell which one a tag is of."""
    dxf = dxf_bytes(piece_drawing(piece, data, written), written)
    (part,) = read_step(piece_step(piece)).parts
    trip = round_trip(dxf, part.shape)
    unclear = () if crowded else trip.unclear
    assert (piece.name, trip.doubts, unclear, trip.differences) == (piece.name, (), (), ())
    assert trip.volume_off <= 1.0


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_demos(path: Path) -> None:
    prove(set_up(path))


LOOKS = {
    "iso": (FIRST, style("iso", "mm")),
    "asme": (DATA, style("asme", "in")),
    "mm-and-inch": (DATA, style("iso", "mm", alternate=True)),
    "inch-and-mm": (FIRST, style("asme", "in", alternate=True)),
}


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("name", ALL)
def test_shapes_by_hand(name: str, look: str) -> None:
    data, written = LOOKS[look]
    prove_piece(ALL[name], data, written)


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("kind", KINDS)
def test_starters(kind: str, unit: str, tmp_path: Path) -> None:
    copytree(ROOT / "parts", tmp_path / "parts")
    (tmp_path / "fixtures").mkdir()
    path = tmp_path / "fixtures" / "new.toml"
    path.write_text(starter(kind, unit, None, path.parent), encoding="utf-8")
    prove(set_up(path))


@pytest.mark.parametrize(
    ("kind", "seed"),
    [pytest.param(kind, seed, marks=[pytest.mark.long] * (seed >= QUICK)) for kind, seed in RANDOM],
)
def test_random_designs(kind: str, seed: int) -> None:
    made = random_design(kind, seed)
    assert made.severity is not Severity.STOP
    prove(made)


@pytest.mark.long
@pytest.mark.parametrize("kind", KINDS)
def test_both_ends_of_the_range(kind: str) -> None:
    """The smallest by one style, the largest by the other."""
    for n, (_, made) in enumerate(extremes(kind)):
        if n % 4 in (0, 3):
            prove(made, crowded=True)
