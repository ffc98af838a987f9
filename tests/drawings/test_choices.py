"""What a design may choose of its drawings: alternate units, decimal sign, general tolerance, revisions."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from slotwright.drawings.paper.sheet import Drawing, Text
from slotwright.drawings.paper.sheet_data import Revision, tolerance_lines
from slotwright.drawings.paper.style import style
from slotwright.drawings.piece.piece_sheet import piece_drawing
from slotwright.drawings.proof import proof_of
from slotwright.drawings.setup.parts_list import parts_lines
from slotwright.drawings.writers.dxf import dxf_bytes
from slotwright.errors import DesignError
from slotwright.pieces.step import piece_step
from slotwright.sharing.card import card_of
from slotwright.sharing.card_sheet import card_drawing
from slotwright.sharing.design_file import design_from
from slotwright.sharing.make import drawings_of
from slotwright.sharing.set_up import SetUp, set_up
from slotwright.sharing.sheets import sheet_data, sheet_style
from tests.drawings.collisions import everything
from tests.drawings.pieces import DATA, INCH_BAR, METRIC, TINY
from tests.kernel_reading import read_step
from tests.random_designs import Data, set_up_from
from tests.rebuilding.bar_reading import read_bar
from tests.rebuilding.comparing import compare

ROOT = Path(__file__).parents[2]
REVISIONS = (Revision("A", "First issue", "2031-05-04", "lock gang"), Revision("B", "Bonnet holes 2 mm to the left"))
DESIGN: Data = {
    "slotwright": 1, "title": "Bars", "unit": "mm",
    "table": {"name": "mill", "length": "800 mm", "width": "190 mm",
              "slots": {"width": "14 mm", "number": 3, "pitch": "63 mm"}},
    "fixture": [{"kind": "hold-down-bar", "name": "bar", "length": "300 mm", "width": "50 mm", "thickness": "25 mm"}],
}  # fmt: skip


def _texts(drawing: Drawing) -> list[str]:
    return [m.text for m in everything(drawing.sheets[0]) if isinstance(m, Text)]


def _made(**choices: object) -> Data:
    return {**DESIGN, "drawing": choices}


@pytest.mark.parametrize(
    ("look", "unit", "length", "expected"),
    [
        pytest.param("iso", "mm", 25.4, "25.4 [1.000]", id="an-inch-is-25.4-mm"),
        pytest.param("iso", "mm", 12.7, "12.7 [.500]", id="no-zero-before-the-point-of-inches-ASME-Y14.5"),
        pytest.param("asme", "in", 25.4, "1.000 [25.4]", id="mm-behind-inches"),
        pytest.param("asme", "in", 0.254, ".010 [0.25]", id="zero-before-the-point-of-mm-ASME-Y14.5"),
    ],
)
def test_alternate_units_stand_in_brackets(look: str, unit: str, length: float, expected: str) -> None:
    assert style(look, unit, alternate=True).figure(length) == expected


def test_one_unit_unless_asked() -> None:
    assert style("iso", "mm").figure(25.4) == "25.4"


@pytest.mark.parametrize("piece", [INCH_BAR, TINY], ids=["bar", "tiny"])
@pytest.mark.parametrize(("look", "unit", "decimal"), [("iso", "mm", ","), ("iso", "mm", "."), ("asme", "in", ".")])
def test_sheets_with_two_units_are_clear_and_read_the_same(piece: object, look: str, unit: str, decimal: str) -> None:
    chosen = style(look, unit, decimal=decimal, alternate=True)
    drawing = piece_drawing(piece, DATA, chosen)  # type: ignore[arg-type]
    assert proof_of(drawing) == ()
    read = read_bar(dxf_bytes(drawing, chosen))
    assert read.doubts == ()
    assert compare(read, read_step(piece_step(piece)).parts[0].shape).differences == ()  # type: ignore[arg-type]


def test_a_design_chooses_comma_and_alternates() -> None:
    """Width 50 mm is 1.9685 in."""
    made = set_up_from(_made(decimal=",", alternate=True), "comma")
    texts = _texts(piece_drawing(made.pieces[0], sheet_data(made), sheet_style(made)))
    assert "50 [1,969]" in texts
    assert not [text for text in texts if text.startswith("[") or ("." in text.split(" [")[0] and text[0].isdigit()
                and text.replace(".", "").isdigit() and not text.endswith("."))]  # fmt: skip


@pytest.mark.parametrize("more", [{"style": "asme", "decimal": ","}, {"revision": "A", "revisions": [{"index": "B"}]}])
def test_choices_that_contradict_each_other_are_refused(more: Data) -> None:
    with pytest.raises(DesignError):
        design_from(_made(**more), "design")


def test_a_comma_is_refused_on_inch_drawings() -> None:
    with pytest.raises(DesignError, match="comma on an inch drawing"):
        design_from({**_made(decimal=",", style="iso"), "unit": "in"}, "design")


# General tolerance


@pytest.mark.parametrize("letter", "fmcv")
def test_iso_sheets_name_the_class(letter: str) -> None:
    made = set_up_from(_made(tolerance=letter), "tolerance")
    assert f"ISO 2768-{letter}" in _texts(piece_drawing(made.pieces[0], sheet_data(made), sheet_style(made)))


@pytest.mark.parametrize(
    ("letter", "words"),
    [
        pytest.param(
            "f", ("UP TO 6 ±0.05  30 ±0.1  120 ±0.15", "400 ±0.2  1000 ±0.3  2000 ±0.5", "ANGLES ±1°"), id="fine"
        ),
        pytest.param(
            "m", ("UP TO 6 ±0.1  30 ±0.2  120 ±0.3", "400 ±0.5  1000 ±0.8  2000 ±1.2", "ANGLES ±1°"), id="medium"
        ),
        pytest.param(
            "c", ("UP TO 6 ±0.3  30 ±0.5  120 ±0.8", "400 ±1.2  1000 ±2  2000 ±3", "ANGLES ±1.5°"), id="coarse"
        ),
        pytest.param(
            "v", ("UP TO 6 ±0.5  30 ±1  120 ±1.5", "400 ±2.5  1000 ±4  2000 ±6", "ANGLES ±3°"), id="very-coarse"
        ),
    ],
)
def test_asme_mm_sheets_give_the_tolerance_by_size(letter: str, words: tuple[str, ...]) -> None:
    """ISO 2768-1 tables 1 and 3, from memory; not by decimals, for mm figures have no trailing zeros (ASME Y14.5)."""
    assert tolerance_lines(replace(DATA, tolerance=letter), style("asme", "mm")) == words


def test_asme_spells_the_unit_one_way() -> None:
    texts = " ".join(_texts(piece_drawing(TINY, DATA, style("asme", "mm"))))
    assert ("MILLIMETERS" in texts, "MILLIMETRES" in texts) == (True, False)


@pytest.mark.parametrize(("look", "own", "other"), [("iso", "CENTRE", "CENTER"), ("asme", "CENTER", "CENTRE")])
def test_a_sheet_spells_centre_one_way(look: str, own: str, other: str) -> None:
    """British by ISO, American by ASME; common practice, no source."""
    noted = replace(METRIC, notes=("Dial in the centre", "Ask at the centre-mill"))
    texts = " ".join(_texts(piece_drawing(noted, DATA, style(look, "mm"))))
    assert (own in texts, other in texts) == (True, False)
    assert f"Dial in the {own.lower()}." in texts
    assert "centre-mill" in texts  # a name stays as it is


# Revisions


@pytest.mark.parametrize("look", ["iso", "asme"])
def test_revisions_stand_in_a_table_and_the_last_in_the_title_block(look: str) -> None:
    drawing = piece_drawing(TINY, replace(DATA, revisions=REVISIONS, revision="B"), style(look, "mm"))
    texts = _texts(drawing)
    for words in ("REVISIONS", "First issue", "2031-05-04", "lock gang", "Bonnet holes 2 mm to the left"):
        assert texts.count(words) == 1
    assert proof_of(drawing) == ()


def test_the_index_comes_from_the_last_revision() -> None:
    made = set_up_from(_made(revisions=[{"index": "A"}, {"index": "B", "text": "Holes moved"}]), "revised")
    assert sheet_data(made).revision == "B"


def test_no_revision_no_table() -> None:
    assert "REVISIONS" not in _texts(piece_drawing(TINY, DATA, style("iso", "mm")))


def _numbers(made: SetUp) -> dict[str, str]:
    """What the title blocks give as identification number; it stands below that field's name."""
    found = {}
    for name, drawing in drawings_of(made).items():
        for sheet in drawing.sheets:
            texts = [mark.text for mark in sheet.marks if isinstance(mark, Text)]
            found[name] = texts[texts.index("Identification number") + 1]
    return found


def test_each_drawing_has_a_number_of_its_own() -> None:
    """ISO 7200, from memory: an identification number is unique. Pieces in the design's order, then the set-ups."""
    tables = [{**DESIGN["table"], "name": name} for name in ("mill", "drill")]
    bars = [{**DESIGN["fixture"][0], "name": name, "length": f"{300 + n} mm"} for n, name in enumerate(("rear", "bar"))]
    two: Data = {**{key: value for key, value in DESIGN.items() if key != "table"}, "tables": tables, "fixture": bars}
    made = set_up_from(two, "numbered")
    own = made.content_id
    assert _numbers(made) == {
        "rear": f"{own}-1", "bar": f"{own}-2", "set-up-mill": f"{own}-3", "set-up-drill": f"{own}-4",
    }  # fmt: skip
    alone = piece_drawing(made.pieces[1], sheet_data(made), sheet_style(made))
    assert f"{own}-2" in _texts(alone), "whichever drawing is made, and in whichever order"
    assert ("content id", own) in alone.properties
    fence = set_up(ROOT / "fixtures" / "gate-hinge-fence.toml")
    (layout,) = fence.layouts
    sources = [line.source for line in parts_lines(layout, sheet_data(fence), sheet_style(fence))]
    assert f"{fence.content_id}-1, hinge-fence" in sources
    assert f"{fence.content_id}-2, hinge-fence-key" in sources, "a key is made by a drawing too"
    card = card_drawing(card_of(made), drawings_of(made), sheet_data(made), sheet_style(made))
    assert own in _texts(card)


@pytest.mark.parametrize(
    ("unit", "choices", "angle"),
    [
        pytest.param("mm", {}, "first", id="iso-mm"),
        pytest.param("mm", {"style": "asme"}, "third", id="asme-mm-ASME-Y14.3"),
        pytest.param("in", {}, "third", id="asme-in-ASME-Y14.3"),
        pytest.param("mm", {"style": "asme", "projection": "first"}, "first", id="as-the-design-says"),
        pytest.param("mm", {"projection": "third"}, "third", id="iso-as-the-design-says"),
    ],
)
def test_the_angle_goes_with_the_style_unless_it_is_chosen(unit: str, choices: Data, angle: str) -> None:
    """ASME Y14.3: third angle; ISO 5456-2 leaves the choice, and metric shops here draw in the first."""
    made = set_up_from({**DESIGN, "unit": unit, "drawing": choices}, "bars")
    assert sheet_data(made).projection == angle


def test_an_angle_written_out_is_the_same_design() -> None:
    plain, written = (set_up_from(_made(style="asme", **more), "bars") for more in ({}, {"projection": "third"}))
    assert plain.content_id == written.content_id
