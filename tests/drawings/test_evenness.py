"""What lies about a middle line: pieces that are their own mirror image, and sections that are."""

from __future__ import annotations

from dataclasses import replace

import pytest

from slotwright.drawings.paper.sheet import Stroke
from slotwright.drawings.paper.style import style
from slotwright.drawings.shapes.axes import centre_lines
from slotwright.drawings.shapes.patterns import origin_of
from slotwright.pieces.blanks import Extrusion
from slotwright.pieces.faces import Face
from slotwright.pieces.outline import Outline
from tests.drawings.shapes import VEE_BLOCK, piece, tapped


def test_an_even_section_has_its_middle_line_where_holes_are_measured_from_the_corner() -> None:
    """Its widths say nothing about where they lie unless they lie about a centre line (ISO 129-1)."""
    one_sided = replace(VEE_BLOCK, holes=VEE_BLOCK.holes[:1])
    assert not origin_of(one_sided).central
    (middle,) = (
        m
        for m in centre_lines(one_sided, Face.RIGHT, 1.0, style("iso", "mm"))
        if isinstance(m, Stroke) and m.points[0][0] == m.points[-1][0] == 40.0
    )
    assert sorted(y for _, y in middle.points) == pytest.approx([-3.0, 63.0])


def test_places_that_differ_in_their_last_digits_only_are_even() -> None:
    """Of 156.17815 and its mirror image one rounds up at four decimals, the other down."""
    holes = [tapped(x, y, "M8", 22.0, 18.0) for x in (30.1244,) for y in (5.5881, 156.17815)]
    profile = Outline(((0.0, 0.0), (161.76625, 0.0), (161.76625, 40.0), (0.0, 40.0)))
    even = piece("block", Extrusion(profile=profile, length=60.2488), *holes)
    assert origin_of(even).middle
