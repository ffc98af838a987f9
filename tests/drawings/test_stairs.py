"""Stairs of an outline are sized once: the whole height follows from the first tread's and the steps above it."""

from __future__ import annotations

from slotwright.drawings.paper.sheet import DimensionKind
from slotwright.drawings.paper.style import style
from slotwright.drawings.piece.piece_sheet import piece_drawing
from slotwright.pieces.blanks import Extrusion
from slotwright.pieces.outline import Outline
from tests.drawings.pieces import FIRST
from tests.drawings.shapes import piece

STEPS, TREAD, RISE, BASE = 20, 10.0, 6.0, 30.0


def test_the_whole_height_is_in_brackets_above_a_base() -> None:
    # 20 treads of 10; the first one 30 high and 19 rises of 6 above it: 144. A figure that follows from others is an
    # auxiliary dimension, in brackets (ISO 129-1).
    points = [(0.0, 0.0), (STEPS * TREAD, 0.0)]
    for n in range(STEPS - 1, -1, -1):
        points += [((n + 1) * TREAD, BASE + n * RISE), (n * TREAD, BASE + n * RISE)]
    made = piece("step-block", Extrusion(profile=Outline(tuple(points)), length=40.0))
    drawing = piece_drawing(made, FIRST, style("iso", "mm"))
    every = [d for sheet in drawing.sheets for view in sheet.views for d in view.dimensions]
    written = [d.text for d in every if d.kind is DimensionKind.LINEAR and d.value in (114.0, 144.0)]
    assert sorted(written) == ["(<>)", "19 × 6 (= <>)"]
