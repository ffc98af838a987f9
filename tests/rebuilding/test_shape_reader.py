"""No fault planted in the drawing of a shaped piece escapes its reader: figures left out, written twice, or changed."""

from __future__ import annotations

from functools import cache
from math import pi, sqrt
from pathlib import Path

import cadquery as cq
import pytest

from slotwright.drawings.piece.piece_sheet import piece_drawing
from slotwright.drawings.writers.dxf import dxf_bytes
from slotwright.pieces.step import piece_step
from slotwright.sharing.set_up import set_up
from slotwright.sharing.sheets import sheet_data, sheet_style
from tests.kernel_reading import read_step
from tests.rebuilding.equations import Equations
from tests.rebuilding.paper import Words, joined
from tests.rebuilding.points import PointTable, Side
from tests.rebuilding.shape import Edge, Feature, ReadShape
from tests.rebuilding.shape_built import build_shape
from tests.rebuilding.shape_comparing import compare_shape
from tests.rebuilding.shape_reading import read_shape
from tests.rebuilding.strokes import Stroke, area, loops
from tests.rebuilding.wording import NOTHING, Size, UnreadableError

FIXTURES = Path(__file__).parents[2] / "fixtures"
PIECES = [
    ("shaft-vee-blocks", "shaft-block"), ("knee-mill-iron", "knee-t-nut"), ("bay-two-iron", "step-block"),
    ("rack-rail-insert", "rail-pad"), ("stoplog-insert", "seat-pad-parent"), ("valve-stem-chuck", "stem-chuck"),
    ("gate-hinge-fence", "hinge-fence"), ("gate-hub-redrill", "paddle-hub-jig"),
]  # fmt: skip


@cache
def drawn(design: str, name: str) -> tuple[str, cq.Shape]:
    """The DXF file of a piece as text, and its solid from the STEP file."""
    made = set_up(FIXTURES / f"{design}.toml")
    style = sheet_style(made)
    piece = next(piece for piece in made.pieces if piece.name == name)
    (part,) = read_step(piece_step(piece)).parts
    return dxf_bytes(piece_drawing(piece, sheet_data(made), style), style).decode(), part.shape


def faults(sheet: str, step: cq.Shape) -> str:
    """What is said about a drawing: doubts, or where there are none how the piece differs."""
    try:
        shape = read_shape(sheet.encode())
        return "; ".join(shape.doubts or compare_shape(shape, step).differences)
    except UnreadableError as error:
        return str(error)


def dimensions(sheet: str) -> dict[str, str]:
    """Every dimension by what it says: its entity; those in brackets say nothing new."""
    blocks = {}
    for part in sheet.split("  0\nBLOCK\n")[1:]:
        lines = part.partition("ENDBLK")[0].splitlines()
        name = next((line for line in lines if line.startswith("*D")), "")
        texts = [lines[n + 1] for n, line in enumerate(lines[:-1]) if line == "  1"]
        blocks[name] = " ".join(text for text in texts if text)
    found = {}
    for part in sheet.split("  0\n"):
        if part.startswith("DIMENSION\n"):
            name = next(line for line in part.splitlines() if line.startswith("*D"))
            found[blocks[name]] = f"  0\n{part}"
    return {text: entity for text, entity in found.items() if "(<" not in text and not text.startswith("(")}


@pytest.mark.parametrize(("design", "name"), PIECES)
def test_every_dimension_left_out_is_missed(design: str, name: str) -> None:
    sheet, step = drawn(design, name)
    assert faults(sheet, step) == ""
    found = dimensions(sheet)
    assert found
    assert [text for text, entity in found.items() if faults(sheet.replace(entity, ""), step) == ""] == []


@pytest.mark.parametrize(("design", "name"), PIECES)
def test_every_dimension_written_twice_is_found(design: str, name: str) -> None:
    sheet, step = drawn(design, name)
    found = {text: entity for text, entity in dimensions(sheet).items() if "B.C." not in text and "R" not in text}
    said = {text: faults(sheet.replace(entity, entity + entity), step) for text, entity in found.items()}
    told = ("written twice", "follows from other figures")
    assert [text for text, fault in said.items() if not any(words in fault for words in told)] == []


def rewritten(sheet: str, old: str, new: str) -> str:
    """The file with a text changed wherever it stands."""
    assert f"\n  1\n{old}\n" in sheet, f"{old!r} does not stand in the drawing"
    return sheet.replace(f"\n  1\n{old}\n", f"\n  1\n{new}\n")


@pytest.mark.parametrize(
    ("design", "name", "old", "new", "said"),
    [
        pytest.param("shaft-vee-blocks", "shaft-block", "90°", "91°", "flat face", id="angle"),
        pytest.param("shaft-vee-blocks", "shaft-block", "1.750", "1.760", "flat face", id="lips"),
        pytest.param("shaft-vee-blocks", "shaft-block", "-2.500", "-2.502", "radius", id="hole-place"),
        pytest.param("bay-two-iron", "step-block", "6× 1 × 45°", "5× 1 × 45°", "there are 6 alike", id="count"),
        pytest.param("bay-two-iron", "step-block", "6× 1 × 45°", "6× 1.1 × 45°", "flat face", id="chamfers"),
        pytest.param("rack-rail-insert", "rail-pad", "TENON .500 HIGH", "TENON .502 HIGH", "Z: the box", id="tenon"),
        pytest.param("rack-rail-insert", "rail-pad", "R1.000", "R1.002", "radius", id="corner"),
        pytest.param("valve-stem-chuck", "stem-chuck", "210°", "210.1°", "of hole B2 is", id="direction"),
        pytest.param("gate-hinge-fence", "hinge-fence", "HOLES IN THE FRONT FACE", "HOLES IN THE BACK FACE", "radius",
                     id="other-side"),
        pytest.param("stoplog-insert", "seat-pad-parent", "FROM THE CENTRE LINE.", "FROM THE FRONT EDGE.", "Y",
                     id="counted-from"),
        pytest.param("gate-hub-redrill", "paddle-hub-jig", "⌀140 B.C.", "⌀141 B.C.", "0 circles of 140", id="circle"),
    ],
)  # fmt: skip
def test_a_changed_text_is_found(design: str, name: str, old: str, new: str, said: str) -> None:
    sheet, step = drawn(design, name)
    assert said in faults(rewritten(sheet, _as_in(sheet, old), _as_in(sheet, new)), step)


def _as_in(sheet: str, text: str) -> str:
    """Signs as the file has them."""
    text = text.replace("⌀", "%%c") if "%%c" in sheet else text
    return text.replace("°", "%%d") if "%%d" in sheet else text


# Parts of the reader, by hand


def square(x: float, y: float, side: float) -> list[Stroke]:
    corners = [(x, y), (x + side, y), (x + side, y + side), (x, y + side)]
    return [Stroke(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)]


def test_closed_lines_of_a_square_cut_by_a_line() -> None:
    """10 x 10 and a line across at 4: parts of 40 and 60, and a border of 100 that runs the other way."""
    found = sorted(round(area(loop), 6) for loop in loops([*square(0.0, 0.0, 10.0), Stroke((0.0, 4.0), (10.0, 4.0))]))
    assert found == [-100.0, 40.0, 60.0]


def test_a_sign_beside_a_figure_in_the_next_column_is_not_of_it() -> None:
    """A ruling of the table stands between Y and the counterbore's sign; without it the words are one line."""
    figure = Words("-7.5", (10.0, 0.0), 7.5, 3.5, 0.0, "NOTE")
    bore = Words("⌴", (19.0, 0.0), 4.5, 3.5, 0.0, "NOTE"), Words("⌀15", (25.0, 0.0), 9.0, 3.5, 0.0, "NOTE")
    assert [words.text for words in joined([figure, *bore], [(18.2, -2.0, 6.0)])] == ["-7.5", "⌴ ⌀15"]
    assert [words.text for words in joined([figure, *bore], [(18.2, 10.0, 20.0)])] == ["-7.5 ⌴ ⌀15"]


def test_a_figure_that_follows_from_others_and_a_place_without_one_are_told() -> None:
    equations = Equations()
    a, b, c, d = (equations.unknown(name, drawn) for name, drawn in (("a", 0.0), ("b", 3.0), ("c", 7.0), ("d", 9.0)))
    equations.hold([a], lambda v: v[0])
    equations.hold([a, b], lambda v: v[1] - v[0] - 3.0, "3", 0.1)
    equations.hold([b, c], lambda v: v[1] - v[0] - 4.0, "4", 0.2)
    assert equations.solve() == ["nothing gives d"]
    assert equations.sizes[c].value == pytest.approx(7.0)
    assert equations.sizes[c].off == pytest.approx(0.3)  # both figures may be off at once
    equations.hold([c, d], lambda v: v[1] - v[0] - 2.0, "2")
    assert equations.solve() == []
    equations.hold([a, d], lambda v: v[1] - v[0] - 9.0, "9")
    assert {said.split()[0] for said in equations.solve()} == {"2", "3", "4", "9"}


def test_an_arc_of_a_table_reaches_a_radius_from_its_centre() -> None:
    """A half circle of radius 5 over (0, 0) to (10, 0), bulging down: it reaches y = -5."""
    zero, ten, five = Size(0.0, 0.0), Size(10.0, 0.0), Size(5.0, 0.0)
    sides = (
        Side((zero, zero), (ten, zero), (five, zero), five, True),
        Side((ten, zero), (zero, zero), None, None, False),
    )
    low, high = PointTable("OUTLINE", sides).reach(1)
    assert (low.value, high.value) == pytest.approx((-5.0, 0.0))


def exact(*places: tuple[float, float]) -> tuple[Edge, ...]:
    corners = [(Size(x, 0.0), Size(y, 0.0)) for x, y in places]
    return tuple(Edge(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True))


@pytest.mark.parametrize(
    ("feature", "volume"),
    [
        pytest.param(None, 24000.0, id="40x30x20"),
        pytest.param(Feature("bottom", exact((10, 5), (20, 5), (20, 25), (10, 25)), Size(7.0, 0.0), None),
                     24000.0 + 10.0 * 20.0 * 7.0, id="tenon"),
        pytest.param(Feature("front", exact((0, 8), (40, 8), (40, 12), (0, 12)), None, Size(6.0, 0.0)),
                     24000.0 - 40.0 * 4.0 * 6.0, id="groove"),
        pytest.param(Feature("top", exact((10, 5), (20, 5), (20, 25), (10, 25)), None, None),
                     24000.0 - 10.0 * 20.0 * 20.0, id="window"),
    ],
)  # fmt: skip
def test_solids_have_the_volume_of_the_hand_calculation(feature: Feature | None, volume: float) -> None:
    shape = ReadShape(
        side="top", edges=exact((0, 0), (40, 0), (40, 30), (0, 30)), start=NOTHING, end=Size(20.0, 0.0),
        chamfer=NOTHING, point=None, features=() if feature is None else (feature,), holes=(),
        central=(False, False, False), cornered=(True, True, True), doubts=(),
    )  # fmt: skip
    assert build_shape(shape).Volume() == pytest.approx(volume, rel=1e-9)


def test_a_vee_is_drawn_out_along_x() -> None:
    """60 degrees, 20 wide at the lips, 17.32 deep in a block of 40 x 30: 10 long."""
    profile = exact((0, 0), (40, 0), (40, 30), (30, 30), (20, 30 - 10 * sqrt(3.0)), (10, 30), (0, 30))
    shape = ReadShape(
        side="right", edges=profile, start=NOTHING, end=Size(10.0, 0.0), chamfer=NOTHING, point=None, features=(),
        holes=(), central=(False, False, False), cornered=(True, True, True), doubts=(),
    )  # fmt: skip
    assert build_shape(shape).Volume() == pytest.approx(10.0 * (1200.0 - 100.0 * sqrt(3.0)), rel=1e-9)


def test_a_round_boss_on_top() -> None:
    centre = (Size(20.0, 0.0), Size(15.0, 0.0))
    right, left = (Size(25.0, 0.0), Size(15.0, 0.0)), (Size(15.0, 0.0), Size(15.0, 0.0))
    boss = Feature(
        "top",
        (Edge(right, left, centre, Size(5.0, 0.0), True), Edge(left, right, centre, Size(5.0, 0.0), True)),
        Size(4.0, 0.0),
        None,
    )
    shape = ReadShape(
        side="top", edges=exact((0, 0), (40, 0), (40, 30), (0, 30)), start=NOTHING, end=Size(20.0, 0.0),
        chamfer=NOTHING, point=None, features=(boss,), holes=(), central=(False, False, False),
        cornered=(True, True, True), doubts=(),
    )  # fmt: skip
    assert build_shape(shape).Volume() == pytest.approx(24000.0 + 25.0 * pi * 4.0, rel=1e-9)
