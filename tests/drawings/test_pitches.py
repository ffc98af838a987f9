"""Equal pitches stand as one dimension, `n × p (= total)` (ISO 129-1, ASME Y14.5, from memory); none stands twice."""

from __future__ import annotations

import pytest

from slotwright.drawings.paper.sheet import DimensionKind, Drawing, Line, Stroke, Text
from slotwright.drawings.paper.sheet_data import SheetData
from slotwright.drawings.paper.style import style
from slotwright.drawings.piece.piece_sheet import piece_drawing
from slotwright.drawings.proof import proof, proof_of
from slotwright.drawings.writers.dxf import dxf_bytes
from slotwright.pieces.features import Hole
from slotwright.pieces.piece import Piece
from slotwright.pieces.step import piece_step
from tests.drawings.pieces import DATA, FIRST, INCH, bar, plain, tapped
from tests.kernel_reading import read_step
from tests.rebuilding.bar_reading import read_bar
from tests.rebuilding.comparing import compare

ISO = style("iso", "mm")
LOOKS = {"iso": ISO, "comma": style("iso", "mm", decimal=","), "asme": style("asme", "mm")}
RAIL = bar(
    *(tapped(x, 20.0, 15.0, 12.0) for x in (30.0, 70.0, 110.0, 150.0, 190.0)),
    *(plain(x, 20.0, tolerance=0.5) for x in (250.0, 320.0)),
    *(plain(x, 20.0, 9.0) for x in (400.0, 422.5, 445.0, 467.5, 490.0)),
    size=(520.0, 40.0, 20.0),
)


def _figures(drawing: Drawing) -> list[str]:
    kinds = (DimensionKind.ORDINATE_X, DimensionKind.LINEAR)
    return [m.text for view in drawing.sheets[0].views for d in view.dimensions if d.kind in kinds
            for m in d.marks if isinstance(m, Text)]  # fmt: skip


def _row(*xs: float, tolerance: float | None = None) -> list[Hole]:
    return [plain(x, 20.0, 9.0, tolerance) for x in xs]


def test_rows_by_hand() -> None:
    wanted = ["0", "30", "4 × 40 (= 160)", "250", "320", "400", "4 × 22.5 (= 90)", "520", "40", "20"]
    assert sorted(_figures(piece_drawing(RAIL, DATA, ISO))) == sorted(wanted)


def test_asme_writes_x() -> None:
    assert "4X 40 (= 160)" in _figures(piece_drawing(RAIL, DATA, LOOKS["asme"]))


@pytest.mark.parametrize(
    "holes",
    [
        pytest.param(_row(30.0, 80.0, 130.0), id="three-holes-are-no-row"),
        pytest.param(_row(30.0, 80.0, 131.0, 180.0), id="uneven"),
        pytest.param([*_row(30.0, 80.0, 130.0, 180.0), plain(105.0, 20.0)], id="another-hole-between"),
        pytest.param(_row(30.0, 80.0, 130.0, 180.0, tolerance=0.5), id="exact-figures-of-their-own"),
        pytest.param(_row(30.0, 40.0, 50.0, 60.0), id="no-room-for-the-figure"),
    ],
)
def test_no_row(holes: list[Hole]) -> None:
    assert not [f for f in _figures(piece_drawing(bar(*holes, size=(300.0, 40.0, 20.0)), DATA, ISO)) if "×" in f]


def test_figures_that_do_not_multiply_out_are_not_written() -> None:
    """61/64 in is .953 in three places; 5 times that is 4.765, while 5 x 61/64 in is 4.766."""
    holes = [plain((1.0 + 61.0 / 64.0 * n) * INCH, 0.75 * INCH, 9.0) for n in range(6)]
    drawing = piece_drawing(bar(*holes, size=(8.0 * INCH, 1.5 * INCH, 0.75 * INCH)), DATA, style("asme", "in"))
    assert not [f for f in _figures(drawing) if "5X" in f]
    assert "5.766" in _figures(drawing)


BROKEN = bar(
    *(tapped(x, 20.0, 15.0, 12.0) for x in (30.0, 90.0, 150.0, 210.0, 270.0)),
    *(plain(x, 20.0, 9.0) for x in (900.0, 1150.0, 1400.0, 1650.0, 1900.0)),
    size=(2000.0, 40.0, 20.0),
)


def _breaks(drawing: Drawing) -> list[float]:
    """Where the break lines of the plan stand on the sheet."""
    lines = [m for m in drawing.sheets[0].marks if isinstance(m, Stroke) and m.line is Line.BREAK]
    return sorted({m.points[0][0] for m in lines})


@pytest.mark.parametrize("look", ["iso", "asme"])
def test_a_broken_bar_has_rows_too(look: str) -> None:
    """A row may run over a break: all its holes are shown, and 4 x 250 is 1000 whatever is left out between them."""
    drawing = piece_drawing(BROKEN, DATA, LOOKS[look])
    sign = "4X" if look == "asme" else "4 ×"
    assert _breaks(drawing)
    assert sorted(_figures(drawing)) == sorted(
        ["0", "30", f"{sign} 60 (= 240)", "900", f"{sign} 250 (= 1000)", "2000", "40", "20"]
    )


@pytest.mark.parametrize("data", [FIRST, DATA], ids=["first", "third"])
@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("piece", [RAIL, BROKEN], ids=["whole", "broken"])
def test_rows_read_back_true(piece: Piece, look: str, data: SheetData) -> None:
    drawing = piece_drawing(piece, data, LOOKS[look])
    dxf = dxf_bytes(drawing, LOOKS[look])
    read = read_bar(dxf)
    assert read.doubts == ()
    assert compare(read, read_step(piece_step(piece)).parts[0].shape).differences == ()
    assert (proof_of(drawing), proof(dxf)) == ((), ())
