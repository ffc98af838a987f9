"""A bar made from its drawing alone is the bar of the STEP file.

The reader, the building of the solid and the comparison import nothing of the program; the DXF file's texts, figures
and lines are all they have. Figures stand for any length within half a unit of their last place, and all that is
compared must agree within that: outer box, volume, and axis, radius and ends of every round wall and drill point.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from math import hypot
from pathlib import Path

import pytest

from slotwright.drawings.piece.piece_sheet import piece_drawing
from slotwright.drawings.writers.dxf import dxf_bytes
from slotwright.findings import Severity
from slotwright.pieces.piece import Piece
from slotwright.pieces.step import piece_step
from slotwright.sharing.make import make
from slotwright.sharing.set_up import SetUp, set_up
from slotwright.sharing.sheets import sheet_data, sheet_style
from tests.kernel_reading import read_step
from tests.random_designs import Data, random_set_up, set_up_from
from tests.rebuilding.bar_reading import ReadBar, read_bar
from tests.rebuilding.comparing import compare

ROOT = Path(__file__).parents[2]
DEMOS = [ROOT / "fixtures" / name for name in ("bonnet-outriggers.toml", "bonnet-outriggers-metric.toml")]
"""The designs of bars; test_shapes_round_trip.py has all other pieces."""
RANDOM = [seed for seed in range(111) if seed % 10 != 9]  # every tenth design has a stop finding and is not to be made
QUICK = 10
TENTH = 0.1
"""Of a tolerance, what the rounding of written figures may use up; common practice, no source."""
DOWEL = 0.051
"""A dowel's zone, 0.05 mm or .002 in, asks for more digits than figures have: a note then points to the hole list."""


def check(bar: ReadBar, step: bytes) -> None:
    """Rebuild a bar as read, and compare."""
    assert bar.doubts == ()
    (part,) = read_step(step).parts
    outcome = compare(bar, part.shape)
    assert outcome.differences == ()
    assert outcome.volume_off <= 1.0


def pieces(made: SetUp) -> Iterator[tuple[Piece, ReadBar]]:
    """Every piece of a set-up, and what is read from its drawing as `make` writes it."""
    style = sheet_style(made)
    for piece in made.pieces:
        yield piece, read_bar(dxf_bytes(piece_drawing(piece, sheet_data(made), style), style))


@cache
def random_pieces(seed: int) -> tuple[tuple[Piece, ReadBar], ...]:
    """The pieces of a random set-up, read once for all tests."""
    made = random_set_up(seed)
    assert made.severity is not Severity.STOP
    return tuple(pieces(made))


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_demo_bars(path: Path, tmp_path: Path) -> None:
    made = set_up(path)
    make(made, tmp_path / "made", "made", tell=lambda step: None)
    for piece in made.pieces:
        dxf, step = (tmp_path / "made" / f"{piece.name}{ending}" for ending in (".dxf", ".step"))
        bar = read_bar(dxf.read_bytes())
        check(bar, step.read_bytes())
        assert bar.unclear == ()


@pytest.mark.parametrize(
    "seed", [pytest.param(seed, marks=[pytest.mark.long] * (n >= QUICK)) for n, seed in enumerate(RANDOM)]
)
def test_random_bars(seed: int) -> None:
    for piece, bar in random_pieces(seed):
        check(bar, piece_step(piece))


@pytest.mark.long
def test_tags_stand_at_their_own_holes() -> None:
    """By the eye: nearest to the edge of their own hole, by a line's width at least, or tied to it by a leader."""
    unclear = {seed: [bar.unclear for _, bar in random_pieces(seed)] for seed in RANDOM}
    assert not {seed: bars for seed, bars in unclear.items() if any(bars)}


# Bars that are hard to write down


def hard(unit: str, more: Data, *work_holes: Data) -> Data:
    """A design with one bar across a table with three slots."""
    size = {"width": "50 mm", "thickness": "25 mm"} if unit == "mm" else {"width": "2 in", "thickness": "1 in"}
    slots = {"width": "14 mm", "centres": ["31.37 mm", "94.62 mm", "157.91 mm"]}
    fixture = {"kind": "hold-down-bar", "name": "bar", "overhang-front": "150 mm", "overhang-back": "10 mm"}
    return {
        "slotwright": 1, "title": "Hard bars", "unit": unit,
        "fixture": [{**fixture, **size, **more, "work-hole": list(work_holes)}],
        "table": {"name": "mill", "length": "800 mm", "width": "190 mm", "thickness": "90 mm", "slots": slots},
    }  # fmt: skip


def row(first: str, pitch: str, number: int) -> Data:
    return {"row": {"first": first, "pitch": pitch, "number": number}}


HARD = {
    "uneven-in-inches": hard("in", {}, {"make": "tapped", "thread": "M8", **row("23/64 in", "61/64 in", 6)}),
    "uneven-in-mm": hard(
        "mm", {}, {"make": "tapped", "thread": "3/8-16 UNC", "at": ["11/16 in", "1-21/64 in"], "depth": "7/16 in"}
    ),
    "counterbored-slots": hard("mm", {"heads": "sunk", "play": "3.35 mm"}),
    "counterbored-slots-inch": hard("in", {"heads": "sunk", "play": "3/64 in"}),
    "blind": hard(
        "in",
        {},
        {"make": "reamed", "diameter": "3/8 in", "at": ["1 in"], "across": "17/64 in", "depth": "3/8 in"},
        {"make": "tapped", "thread": "#10-24 UNC", "at": ["2.222 in"], "across": "-.333 in", "depth": ".377 in"},
        {"make": "clear", "thread": "1/4-20 UNC", "at": ["3-21/64 in"], "depth": "13/32 in"},
    ),
    "sharp-edges": hard("mm", {"edge-chamfer": "0 mm"}),
    "chamfer-that-rounds": hard("in", {"edge-chamfer": "0.7 mm"}),
    "hundred-holes": hard(
        "mm", {"overhang-front": "1400 mm"}, {"make": "tapped", "thread": "M6", **row("12.5 mm", "13.25 mm", 100)}
    ),
}


@pytest.mark.parametrize("name", HARD)
def test_hard_bars(name: str) -> None:
    made = set_up_from(HARD[name], name)
    assert made.severity is not Severity.STOP
    for piece, bar in pieces(made):
        check(bar, piece_step(piece))


# Figures that are fine enough


@pytest.mark.parametrize("seed", RANDOM[:QUICK])
def test_figures_place_holes_within_a_tenth_of_their_zone(seed: int) -> None:
    """A hole whose place is off by (dx, dy) uses 2 hypot(dx, dy) of its zone's diameter (ASME Y14.5, ISO 1101)."""
    for _, bar in random_pieces(seed):
        for hole in bar.holes:
            if hole.zone is not None and hole.zone.value > DOWEL:
                assert 2.0 * hypot(*hole.loose) <= TENTH * hole.zone.value
