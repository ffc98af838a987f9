"""Long bars are broken where that helps (ISO 128-3, interrupted views, from memory), and all stays true to size."""

from __future__ import annotations

from io import StringIO

import ezdxf
import pytest
from ezdxf.entities.viewport import Viewport

from slotwright.drawings.paper.formats import formats
from slotwright.drawings.paper.sheet import Arc, Circle, DimensionKind, Drawing, Line, Stroke, Text
from slotwright.drawings.paper.style import style
from slotwright.drawings.piece.piece_sheet import piece_drawing
from slotwright.drawings.proof import proof, proof_of
from slotwright.drawings.writers.dxf import dxf_bytes
from slotwright.pieces.piece import Piece
from slotwright.pieces.step import piece_step
from tests.drawings.pieces import DATA, FIRST, INCH_BAR, bar, plain, tapped
from tests.kernel_reading import read_step
from tests.rebuilding.bar_reading import read_bar
from tests.rebuilding.comparing import compare

PLACES = (15.0, 45.0, 450.0, 480.0, 960.0)
LONG = bar(*(plain(x, 25.0) for x in PLACES[:3]), *(tapped(x, 15.0, 20.0, 15.0) for x in PLACES[3:]),
           size=(1000.0, 50.0, 25.0), chamfer=1.0)  # fmt: skip
LOOKS = {"iso": style("iso", "mm"), "asme": style("asme", "mm"), "asme-inch": style("asme", "in")}


def _breaks(drawing: Drawing) -> list[Stroke]:
    return [m for m in drawing.sheets[0].marks if isinstance(m, Stroke) and m.line is Line.BREAK]


def _size(drawing: Drawing) -> int:
    return [paper.name for paper in formats("iso")].index(drawing.sheets[0].size)


def test_a_long_bar_is_broken_and_takes_a_smaller_sheet_than_its_length_asks_for() -> None:
    """1000 mm at 1:2 is 500 mm; the drawing space of A3 is 390 mm wide (ISO 5457, margins 20 and 10)."""
    drawing = piece_drawing(LONG, DATA, LOOKS["iso"])
    assert (drawing.sheets[0].size, drawing.sheets[0].views[0].scale) in (("A3", 0.5), ("A4", 0.5), ("A3", 1.0))
    assert len(_breaks(drawing)) % 4 == 0  # two lines a break in each of two views
    assert len(_breaks(drawing)) >= 4


@pytest.mark.parametrize(
    ("length", "may_break"),
    [pytest.param(400.0, False, id="8-times-its-width"), pytest.param(1400.0, True, id="28-times-its-width")],
)
def test_only_bars_longer_than_8_times_their_width_are_broken(length: float, may_break: bool) -> None:
    """The limit is common practice, no source."""
    piece = bar(plain(20.0, 25.0), plain(length - 20.0, 25.0), size=(length, 50.0, 25.0))
    assert bool(_breaks(piece_drawing(piece, DATA, LOOKS["iso"]))) == may_break


@pytest.mark.parametrize("data", [FIRST, DATA], ids=["first", "third"])
@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("piece", [LONG, INCH_BAR], ids=["long", "inch"])
def test_broken_views_stay_true(piece: Piece, look: str, data: object) -> None:
    """Read from the paper alone, the bar is the one of the STEP file, and nothing stands on anything else."""
    drawing = piece_drawing(piece, DATA if data is DATA else FIRST, LOOKS[look])
    assert _breaks(drawing) or piece is INCH_BAR
    dxf = dxf_bytes(drawing, LOOKS[look])
    read = read_bar(dxf)
    assert (read.doubts, read.unclear) == ((), ())
    assert compare(read, read_step(piece_step(piece)).parts[0].shape).differences == ()
    assert proof_of(drawing) == ()
    assert proof(dxf) == ()


def test_figures_are_the_pieces_own_and_each_stands_once() -> None:
    views = piece_drawing(LONG, DATA, LOOKS["iso"]).sheets[0].views
    texts = [m.text for v in views for d in v.dimensions for m in d.marks if isinstance(m, Text)
             if d.kind is not DimensionKind.ORDINATE_Y]  # fmt: skip
    assert sorted(texts) == sorted(["0", "15", "45", "450", "480", "960", "1000", "50", "25"])


def test_model_space_has_the_whole_bar_once_and_windows_show_each_hole() -> None:
    document = ezdxf.read(StringIO(dxf_bytes(piece_drawing(LONG, DATA, LOOKS["iso"]), LOOKS["iso"]).decode()))  # type: ignore[attr-defined]
    assert not document.audit().has_errors
    model = document.modelspace()
    plans = []
    for outline in model.query('LWPOLYLINE[layer=="OUTLINE"]'):
        xs, ys = zip(*((x, y) for x, y, *_ in outline.get_points()), strict=True)  # type: ignore[attr-defined]
        plans.append((round(max(xs) - min(xs), 6), round(max(ys) - min(ys), 6)))
    assert plans.count((1000.0, 50.0)) == 1
    middles = {round(c.dxf.center.x, 6) for c in model.query("CIRCLE")}
    assert middles == set(PLACES)
    windows = [v for v in document.paperspace("Sheet 1").viewports() if isinstance(v, Viewport) and v.dxf.id != 1]
    for x in PLACES:
        seen = [
            v
            for v in windows
            if abs(v.dxf.view_center_point.x - x) < v.dxf.width * v.dxf.view_height / v.dxf.height / 2
        ]
        assert len(seen) == 1
    lengths = [d for d in model.query("DIMENSION") if d.dxf.actual_measurement == pytest.approx(1000.0)]
    assert len(lengths) == 1


def test_every_hole_of_random_long_bars_is_drawn_whole() -> None:
    """No circle is cut by a break: each has its full middle and rim within one window."""
    for pitch in (37.0, 61.0, 113.0, 240.0):
        piece = bar(
            *(plain(20.0 + pitch * n, 20.0, 12.0) for n in range(int(1100.0 / pitch))), size=(1140.0, 40.0, 20.0)
        )
        drawing = piece_drawing(piece, DATA, LOOKS["iso"])
        plans = [view for view in drawing.sheets[0].views if view.name == "plan"]
        drawn = []
        for view in plans:
            for mark in view.marks:
                if isinstance(mark, Circle | Arc):
                    (x, _), radius = view.to_paper(mark.centre), mark.radius * view.scale
                    assert view.frame is None or view.frame[0] <= x - radius <= x + radius <= view.frame[2]
                    drawn.append(round(mark.centre[0], 6))
        assert sorted(drawn) == sorted(round(hole.x, 6) for hole in piece.holes)
