"""Read any piece from its sheets and compare it with its STEP file: bars by their ordinates, all others by profiles."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import cadquery as cq

from tests.rebuilding.bar_reading import read_bar
from tests.rebuilding.comparing import compare
from tests.rebuilding.dxf_tags import read_dxf
from tests.rebuilding.paper import Paper, papers
from tests.rebuilding.shape_comparing import compare_shape
from tests.rebuilding.shape_reading import read_shape


@dataclass(frozen=True, slots=True)
class Trip:
    """What came of the way from a drawing to a solid.

    Attributes:
        doubts: what the sheet leaves open, says twice, or can be read in two ways.
        unclear: tags that are not plain by where they stand.
        differences: of the rebuilt solid and that of the STEP file, which the figures do not explain.
        volume_off: difference of volume as a share of what the figures allow.
    """

    doubts: tuple[str, ...]
    unclear: tuple[str, ...]
    differences: tuple[str, ...]
    volume_off: float


def round_trip(dxf: bytes, step: cq.Shape) -> Trip:
    """Rebuild a piece from its drawing and compare it. Errors: UnreadableError where the sheet can't be read."""
    if _is_of_a_bar(papers(read_dxf(dxf))):
        bar = read_bar(dxf)
        outcome = compare(bar, step)
        return Trip(bar.doubts, bar.unclear, outcome.differences, outcome.volume_off)
    shape = read_shape(dxf)
    outcome = compare_shape(shape, step)
    return Trip(shape.doubts, shape.unclear, outcome.differences, outcome.volume_off)


def _is_of_a_bar(sheets: Sequence[Paper]) -> bool:
    """On sheets of bars the views locate holes, by ordinates or rows of pitches; their tables repeat it in brackets."""
    ordinates = any(not marks.arrows for marks in sheets[0].dimensions)
    return ordinates or any(words.text == "(X)" for sheet in sheets for words in sheet.marks.words)
