"""The reader itself: what figures and callouts mean, and that no fault planted in a drawing escapes it."""

from __future__ import annotations

import ast
from collections.abc import Callable
from math import pi
from pathlib import Path

import cadquery as cq
import pytest

from slotwright.drawings.piece.piece_sheet import piece_drawing
from slotwright.drawings.writers.dxf import dxf_bytes
from slotwright.pieces.step import piece_step
from slotwright.sharing.set_up import set_up
from slotwright.sharing.sheets import sheet_data, sheet_style
from tests.kernel_reading import read_step
from tests.rebuilding.bar_reading import ReadBar, ReadHole, read_bar
from tests.rebuilding.comparing import compare
from tests.rebuilding.measured import read_dimension
from tests.rebuilding.paper import Marks, Words, joined, plain
from tests.rebuilding.paper import Path as Strokes
from tests.rebuilding.rebuilt import build, volume_limits
from tests.rebuilding.wording import NOTHING, Figures, Size, Sizes, UnreadableError, hole_sizes

READER = sorted(path for path in Path(__file__).parent.glob("*.py") if not path.name.startswith("test_"))
MM, INCH = Figures(inch=False), Figures(inch=True)


@pytest.mark.parametrize("path", READER, ids=lambda path: path.stem)
def test_the_reader_shares_no_code_with_the_writer(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    froms = {node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    plain = {name.name for node in ast.walk(tree) if isinstance(node, ast.Import) for name in node.names}
    assert not {name for name in froms | plain if name.split(".")[0] in ("slotwright", "ezdxf", "importlib")}


# Figures


@pytest.mark.parametrize(
    ("figures", "text", "value", "off"),
    [
        pytest.param(MM, "480", 480.0, 0.005, id="ISO-129-1-no-trailing-zeros"),
        pytest.param(MM, "0,5", 0.5, 0.005, id="ISO-129-1-decimal-comma"),
        pytest.param(MM, "10.125", 10.125, 0.0005, id="as-written-where-finer"),
        pytest.param(INCH, ".750", 19.05, 0.0127, id="ASME-Y14.5-no-leading-zero"),
        pytest.param(INCH, "17.00", 431.8, 0.127, id="ASME-Y14.5-decimals-are-written-out"),
    ],
)
def test_figures(figures: Figures, text: str, value: float, off: float) -> None:
    size = figures.size(text)
    assert size.value == pytest.approx(value, abs=1e-12)
    assert size.off == pytest.approx(off, rel=1e-12)


@pytest.mark.parametrize(("figures", "text"), [(INCH, "0.75"), (MM, ".75"), (MM, "1-1/2"), (MM, ""), (MM, "12 mm")])
def test_figures_that_break_the_rules(figures: Figures, text: str) -> None:
    with pytest.raises(UnreadableError):
        figures.size(text)


@pytest.mark.parametrize(
    ("lines", "meant"),
    [
        pytest.param(
            [("M12 - 6H", "20"), ("⌀10.2", "THRU")],
            {"thread": "M12", "thread_deep": 20.0, "across": 10.2, "deep": None},
            id="ISO-6410-1-thread-and-tap-drill",
        ),
        pytest.param([("M10x1.25 - 6H", "THRU"), ("⌀8.8", "THRU")], {"thread": "M10x1.25", "across": 8.8}, id="fine"),
        pytest.param([("⌀10 H7 (+0.015/0)", "12")], {"across": 10.0, "deep": 12.0}, id="ISO-286-2-10-H7"),
        pytest.param([("⌀9", "THRU"), ("⌴ ⌀15", "8.6")], {"across": 9.0, "bore": 15.0, "bore_deep": 8.6}, id="bored"),
        pytest.param(
            [("SLOT 11 × 18.18 AT 90°", "THRU")], {"across": 11.0, "long": 18.18, "turned": 90.0}, id="slot-upright"
        ),
        pytest.param([("⌀9", "THRU"), ("⌵ ⌀16 × 90°", "")], {"sink": 16.0, "sink_angle": 90.0}, id="countersunk"),
        pytest.param([("⌀9", "6"), ("FROM BOTTOM FACE", "")], {"from_below": True, "deep": 6.0}, id="from-below"),
    ],
)
def test_callouts(lines: list[tuple[str, str]], meant: dict[str, object]) -> None:
    found = hole_sizes(lines, MM)
    said = {key: getattr(found, key) for key in meant}
    assert {key: size.value if isinstance(size, Size) else size for key, size in said.items()} == meant


@pytest.mark.parametrize(
    "lines",
    [
        pytest.param([("M12 - 6H", "THRU")], id="no-tap-drill"),
        pytest.param([("⌀9", "")], id="no-depth"),
        pytest.param([("⌀9", "THRU"), ("⌀10", "THRU")], id="two-diameters"),
        pytest.param([("⌀9", "THRU"), ("⌴ ⌀15", "")], id="counterbore-without-depth"),
        pytest.param([("9 DRILL", "THRU")], id="no-diameter-sign"),
    ],
)
def test_callouts_that_say_too_little_or_too_much(lines: list[tuple[str, str]]) -> None:
    with pytest.raises(UnreadableError):
        hole_sizes(lines, MM)


def test_signs_are_joined_to_the_words_they_stand_in() -> None:
    """Widths from the eye: a sign is about as long as the capitals are high."""
    row = [Words("⌴", (0.0, 0.0), 4.5, 3.5, 0.0, "NOTE"), Words("⌀15", (6.0, 0.0), 9.0, 3.5, 0.0, "NOTE")]
    far = Words("THRU", (40.0, 0.0), 12.0, 3.5, 0.0, "NOTE")
    assert [words.text for words in joined([far, *row])] == ["⌴ ⌀15", "THRU"]


def test_codes_of_dxf_are_read() -> None:
    """DXF reference: %%c, %%d and %%p are diameter, degree and plus-minus, \\U+XXXX is any character."""
    assert plain("%%c12 %%p0.1 45%%d \\U+2300") == "⌀12 ±0.1 45° ⌀"


def ordinate(text: str) -> Marks:
    leader = Strokes(((10.0, 5.0), (10.0, 20.0)), False, "DIMENSION")
    return Marks(words=[Words(text, (12.0, 21.0), 6.0, 3.5, 90.0, "DIMENSION")], paths=[leader])


def test_an_ordinate_belongs_to_the_far_end_of_its_leader() -> None:
    span = read_dimension(ordinate("45.5"), MM)
    assert span is not None
    assert (span.upright, span.end, span.size.value, span.at) == (False, 10.0, 45.5, (10.0, 5.0))
    assert read_dimension(ordinate("(45.5)"), MM) is None


# Volumes, by hand


def hole(**sizes: Size) -> ReadHole:
    at = Size(20.0, 0.005)
    return ReadHole(tag="A1", x=at, y=at, sizes=Sizes(**sizes), zone=None)  # type: ignore[arg-type]  # sizes only


def block(*holes: ReadHole, chamfer: Size = NOTHING) -> ReadBar:
    """A bar of 100 x 40 x 20 mm."""
    long, wide, high = (Size(value, 0.005) for value in (100.0, 40.0, 20.0))
    return ReadBar(
        length=long, width=wide, thickness=high, chamfer=chamfer, point=118.0, holes=holes, doubts=(), unclear=()
    )


TEN, FIVE, SIXTEEN, FOUR = (Size(value, 0.0) for value in (10.0, 5.0, 16.0, 4.0))


@pytest.mark.parametrize(
    ("bar", "volume"),
    [
        pytest.param(block(), 80000.0, id="box"),
        pytest.param(block(hole(across=TEN)), 80000.0 - 500.0 * pi, id="drilled-through"),
        pytest.param(
            block(hole(across=TEN, deep=FIVE)), 80000.0 - 125.0 * pi - 25.0 / 3.0 * pi * 3.0043, id="118-degree-point"
        ),  # its height is 5 / tan 59 deg = 3.0043 mm
        pytest.param(block(hole(across=TEN, long=SIXTEEN)), 80000.0 - 20.0 * (25.0 * pi + 60.0), id="slot"),
        pytest.param(
            block(hole(across=TEN, bore=SIXTEEN, bore_deep=FOUR)), 80000.0 - 500.0 * pi - 156.0 * pi, id="counterbored"
        ),
        pytest.param(block(chamfer=Size(2.0, 0.0)), 80000.0 - 2.0 * (140.0 * 4.0 - 32.0 / 3.0), id="chamfered"),
    ],
)
def test_solids_have_the_volume_of_the_hand_calculation(bar: ReadBar, volume: float) -> None:
    assert build(bar).Volume() == pytest.approx(volume, abs=0.01)
    least, most = volume_limits(bar)
    assert least < volume < most
    # Of the three outer sizes, each face moves by its half unit: 0.005 (40 x 20 + 100 x 20 + 100 x 40), less any holes.
    assert most - volume == pytest.approx(34.0, rel=0.1)


# Faults planted in a drawing

DEMO = Path(__file__).parents[2] / "fixtures" / "bonnet-outriggers.toml"


@pytest.fixture(scope="module")
def sheet() -> str:
    made = set_up(DEMO)
    style = sheet_style(made)
    return dxf_bytes(piece_drawing(made.pieces[0], sheet_data(made), style), style).decode()


@pytest.fixture(scope="module")
def step() -> cq.Shape:
    return read_step(piece_step(set_up(DEMO).pieces[0])).parts[0].shape


def rewritten(sheet: str, old: str, new: str, which: int = 0) -> str:
    """The file with one text changed: the first that reads so, or another; dimensions stand before tables."""
    parts = sheet.split(f"\n  1\n{old}\n")
    assert len(parts) > which + 1, f"{old!r} does not stand {which + 1} times in the drawing"
    here, there = (f"\n  1\n{old}\n".join(half) for half in (parts[: which + 1], parts[which + 1 :]))
    return f"{here}\n  1\n{new}\n{there}"


def entities(sheet: str, wanted: Callable[[str], bool]) -> list[str]:
    return [part for part in sheet.split("  0\n") if wanted(part)]


def dimension_of(sheet: str, text: str) -> str:
    """The entity of the dimension that shows a text."""
    blocks = [part for part in sheet.split("  0\nBLOCK\n") if f"\n  1\n{text}\n" in part.partition("ENDBLK")[0]]
    name = next(line for line in blocks[0].splitlines() if line.startswith("*D"))
    (found,) = entities(sheet, lambda part: part.startswith("DIMENSION\n") and f"\n{name}\n" in part)
    return found


def faults(sheet: str, step: cq.Shape) -> str:
    """All that the reader and the comparison say about a drawing."""
    try:
        bar = read_bar(sheet.encode())
        return "; ".join((*bar.doubts, *bar.unclear, *compare(bar, step).differences))
    except UnreadableError as error:
        return str(error)


def test_the_sound_drawing_has_no_fault(sheet: str, step: cq.Shape) -> None:
    assert faults(sheet, step) == ""


@pytest.mark.parametrize(
    ("old", "new", "which", "said"),
    [
        pytest.param("9.500", "9.502", 0, "(X) of hole A1", id="ordinate"),
        pytest.param("9.500", "9.502", 0, "hole A1: radius", id="ordinate-moves-the-hole"),
        pytest.param("17.00", "17.01", 0, "to 432.0540 rebuilt", id="length"),
        pytest.param(".75", ".76", 0, "to 19.3040 rebuilt", id="thickness"),
        pytest.param("%%c.422 (27/64)", "%%c.423 (27/64)", 0, "hole B1: radius", id="tap-drill"),
        pytest.param("%%c.422 (27/64)", ".422 (27/64)", 0, "is no size of a hole", id="no-diameter-sign"),
        pytest.param("THRU", ".50", 0, "no note gives the drill point", id="blind-without-its-point"),
        pytest.param("THRU", "", 0, "neither a depth nor THRU", id="no-depth"),
        pytest.param(".031 X 45%%d ALL EDGES OF TOP AND BOTTOM", ".033 X 45%%d ALL EDGES OF TOP AND BOTTOM", 0,
                     "chamfer 0.8382 read, 0.7938 along X", id="chamfer"),
        pytest.param(".031 X 45%%d ALL EDGES OF TOP AND BOTTOM", ".031 X 45%%d", 0, "which edges", id="which-edges"),
        pytest.param("3", "4", 2, "there are 3 tags A, quantity 4", id="quantity"),
        pytest.param("B2", "B3", 1, "hole B2 of the table is not in the plan", id="tag"),
        pytest.param("B2", "B3", 0, "tag B3 stands in the table twice", id="row"),
        pytest.param("DIMENSIONS ARE IN INCHES", "DIMENSIONS ARE IN MILLIMETERS", 0, "title block", id="unit"),
        pytest.param("(X)", "X", 0, "dimensioned in the plan and in the table", id="located-twice"),
    ],
)  # fmt: skip
def test_a_changed_text_is_found(sheet: str, step: cq.Shape, old: str, new: str, which: int, said: str) -> None:
    assert said in faults(rewritten(sheet, _as_written(sheet, old), _as_written(sheet, new), which), step)


def _as_written(sheet: str, text: str) -> str:
    """A degree sign as the file has it."""
    return text if "%%d" in sheet else text.replace("%%d", "°")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("9.500", "X of hole A1 is dimensioned nowhere"),
        ("17.00", "the length is not dimensioned"),
        ("1.50", "the width is not dimensioned"),
        (".75", "the thickness is not dimensioned"),
    ],
)
def test_a_dimension_left_out_is_missed(sheet: str, step: cq.Shape, text: str, said: str) -> None:
    assert faults(sheet.replace(f"  0\n{dimension_of(sheet, text)}", ""), step) == said


def test_a_centre_line_or_sign_left_out_is_missed(sheet: str, step: cq.Shape) -> None:
    """The bar is 1.5 in wide and 17 in long: its centre line runs at 0.75 in, to beyond both ends; wide signs."""
    level = entities(sheet, lambda part: _ends(part) == [0.75, 0.75] and "\nCENTRE\n" in part)
    last = next(part for part in level if "\n 11\n17." in part)
    signs = entities(sheet, lambda part: part.startswith("LINE\n") and "\nSECTION\n" in part)
    assert len(signs) == 4
    for part in (last, signs[0]):
        said = faults(sheet.replace(f"  0\n{part}", "", 1), step)
        assert "the note on Y and the centre line of the plan say different things" in said


def _ends(part: str) -> list[float]:
    """Y of the two ends of a line."""
    tags = part.splitlines()
    return [float(tags[n + 1]) for n, tag in enumerate(tags) if tag in (" 20", " 21") and part.startswith("LINE\n")]


def test_a_dimension_written_twice_is_found(sheet: str, step: cq.Shape) -> None:
    one = f"  0\n{dimension_of(sheet, '12.000')}"
    assert "12.000 is written although it follows" in faults(sheet.replace(one, one + one), step)


def test_a_hole_more_in_the_plan_is_found(sheet: str, step: cq.Shape) -> None:
    circle = entities(sheet, lambda part: part.startswith("CIRCLE\n") and "\n 10\n9.5\n" in part)[0]
    moved = circle.replace("\n 10\n9.5\n", "\n 10\n10.75\n")
    said = faults(sheet.replace(f"  0\n{circle}", f"  0\n{circle}  0\n{moved}"), step)
    assert "8 holes in the plan, 7 in the table" in said


def test_a_datum_that_stands_nowhere_is_missed(sheet: str, step: cq.Shape) -> None:
    *_, letter = [part for part in entities(sheet, lambda p: p.startswith("TEXT\n")) if "\nDIMENSION\n" in part
                  and "\n  1\nC\n" in part]  # fmt: skip
    assert "datum C stands at no face" in faults(sheet.replace(f"  0\n{letter}", ""), step)
