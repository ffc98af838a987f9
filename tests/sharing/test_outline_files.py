"""Plate outlines from other people's DXF files: units, arcs, what is refused, and that the design then stands alone."""

from __future__ import annotations

import io
from collections.abc import Callable
from math import pi
from pathlib import Path

import ezdxf
import pytest
from ezdxf.layouts.layout import Modelspace

from slotwright.drawings.dxf_outline import DxfOutlineError, read_outline
from slotwright.errors import DesignError
from slotwright.pieces.outline import polygon
from slotwright.sharing.design_file import content_id
from slotwright.sharing.set_up import set_up
from slotwright.sharing.standalone import alone_text

DESIGN = """
slotwright = 1
title = "Test insert"
unit = "mm"
[[fixture]]
kind = "insert-plate"
name = "pad"
thickness = "20 mm"
bond-line = "0.1 mm"
cutter = "10 mm"
[fixture.outline]
shape = "dxf"
dxf = "worn-seat"
[fixture.tenon]
length = "60 mm"
width = "12 mm"
height = "10 mm"
[fixture.parent]
thickness = "40 mm"
"""
SLED = [(0, 0), (100, 0), (100, 40), (0, 40)]
"""With a half circle on its right end: 100 x 40 and pi 20^2 / 2."""
SLED_AREA = 100 * 40 + pi * 400 / 2


def drawn(draw: Callable[[Modelspace], object], version: str = "R2010", units: int = 4) -> bytes:
    document = ezdxf.new(version)  # type: ignore[attr-defined]  # ezdxf does not list it as public
    if units is not None and version != "R12":
        document.header["$INSUNITS"] = units
    draw(document.modelspace())
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode()


def sled(space: Modelspace) -> None:
    corners = [(x, y, 1.0 if (x, y) == (100, 0) else 0.0) for x, y in SLED]
    space.add_lwpolyline(corners, format="xyb", close=True)


def area(data: bytes, unit: str = "mm") -> float:
    chain = read_outline(data, unit)
    return polygon(chain.points, chain.bulges).area


@pytest.mark.parametrize(
    ("units", "unit", "scale"),
    [
        pytest.param(4, "in", 1.0, id="mm-whatever-the-design-is-in"),
        pytest.param(1, "mm", 25.4, id="inch"),
        pytest.param(5, "mm", 10.0, id="cm"),
        pytest.param(0, "mm", 1.0, id="unitless-in-a-mm-design"),
        pytest.param(0, "in", 25.4, id="unitless-in-an-inch-design"),
    ],
)
def test_area_and_units(units: int, unit: str, scale: float) -> None:
    assert area(drawn(sled, units=units), unit) == pytest.approx(SLED_AREA * scale**2, rel=1e-6)


@pytest.mark.parametrize(("unit", "scale"), [("mm", 1.0), ("in", 25.4)])
def test_a_file_without_a_header_is_in_the_designs_unit(unit: str, scale: float) -> None:
    """As DXF R12 allows: entities alone (Autodesk's DXF Reference R12, from memory)."""
    corners = ((0, 0), (140, 0), (140, 40), (120, 40), (120, 60), (0, 60))
    vertices = "".join(f"0\nVERTEX\n8\n0\n10\n{x}.0\n20\n{y}.0\n30\n0.0\n" for x, y in corners)
    polyline = f"0\nPOLYLINE\n8\n0\n66\n1\n70\n1\n{vertices}0\nSEQEND\n8\n0\n"
    data = f"0\nSECTION\n2\nENTITIES\n{polyline}0\nENDSEC\n0\nEOF\n".encode()
    assert area(data, unit) == pytest.approx((140 * 60 - 20 * 20) * scale**2, rel=1e-9)


def test_an_old_polyline_drawn_clockwise() -> None:
    def old(space: Modelspace) -> None:
        line = space.add_polyline2d([(0, 0), (0, 40), (100, 40), (100, 0)], close=True)
        line.vertices[2].dxf.bulge = -1.0  # from the upper right corner down: clockwise round the half circle

    assert area(drawn(old, "R12")) == pytest.approx(SLED_AREA, rel=1e-9)


def test_ends_that_meet_are_closed_though_not_marked_so() -> None:
    assert area(drawn(lambda space: space.add_lwpolyline([*SLED, SLED[0]]))) == pytest.approx(4000.0)


@pytest.mark.parametrize(
    ("draw", "problem"),
    [
        pytest.param(lambda s: s.add_lwpolyline(SLED), "open polyline: its ends are 40 mm apart", id="open"),
        pytest.param(lambda s: s.add_line((0, 0), (1, 1)), "no polyline in model space", id="no-polyline"),
        pytest.param(
            lambda s: [s.add_lwpolyline(SLED, close=True) for _ in range(2)], "2 closed polylines", id="two"
        ),
        pytest.param(
            lambda s: s.add_polyline3d([(0, 0, 0), (9, 0, 1), (9, 9, 0)], close=True), "polyline in space",
            id="in-space",
        ),
        pytest.param(
            lambda s: s.add_lwpolyline(SLED, close=True, dxfattribs={"extrusion": (0, 0, -1)}), "not drawn in the X-Y",
            id="from-below",
        ),
        pytest.param(
            lambda s: s.add_lwpolyline([(n, n * n % 7) for n in range(500)], close=True), "500 corners", id="too-many"
        ),
        pytest.param(
            lambda s: s.add_lwpolyline([(0, 0), (1e9, 0), (0, 9)], close=True), "beyond any plate", id="far-away"
        ),
    ],
)  # fmt: skip
def test_files_without_an_outline_are_refused(draw: Callable[[Modelspace], object], problem: str) -> None:
    with pytest.raises(DxfOutlineError, match=problem):
        read_outline(drawn(draw), "mm")


@pytest.mark.parametrize(
    "data", [b"", b"no drawing", b"\xff\xfe\x00", drawn(sled)[:2000], b"0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n"]
)
def test_what_is_no_dxf_file_is_refused(data: bytes) -> None:
    with pytest.raises(DxfOutlineError, match=r"no DXF file that can be read|no polyline"):
        read_outline(data, "mm")


def workshop(folder: Path, data: bytes | None) -> Path:
    (folder / "parts").mkdir()
    (folder / "fixtures").mkdir()
    if data is not None:
        (folder / "parts" / "worn-seat.dxf").write_bytes(data)
    path = folder / "fixtures" / "pad.toml"
    path.write_text(DESIGN)
    return path


def test_a_design_with_a_dxf_outline(tmp_path: Path) -> None:
    made = set_up(workshop(tmp_path, drawn(sled)))
    plate = made.pieces[0]
    assert plate.blank.plan.area == pytest.approx(SLED_AREA, rel=1e-6)
    assert plate.blank.length == pytest.approx(120.0)


def test_the_content_id_goes_by_the_outline_and_not_by_its_file(tmp_path: Path) -> None:
    ids = []
    for name, shape in (("a", sled), ("b", lambda s: s.add_lwpolyline(SLED, close=True))):
        (tmp_path / name).mkdir()
        ids.append(set_up(workshop(tmp_path / name, drawn(shape))).content_id)
    assert ids[0] != ids[1]


def test_it_stands_alone_without_the_file(tmp_path: Path) -> None:
    path = workshop(tmp_path, drawn(sled))
    made = set_up(path)
    elsewhere = tmp_path / "elsewhere" / "fixtures"
    elsewhere.mkdir(parents=True)
    (elsewhere / "pad.toml").write_text(alone_text(path, made.alone))
    again = set_up(elsewhere / "pad.toml")
    assert again.pieces[0].blank.plan == made.pieces[0].blank.plan
    assert content_id(again.alone) == made.content_id


@pytest.mark.parametrize(
    ("data", "words"),
    [
        pytest.param(None, "parts/worn-seat.dxf: is not there", id="missing"),
        pytest.param(b"junk", "parts/worn-seat.dxf: is no DXF file", id="junk"),
        pytest.param(
            drawn(lambda s: s.add_lwpolyline([(0, 0), (90, 40), (90, 0), (0, 40)], close=True)), "meet at|no area",
            id="crosses-itself",
        ),
        pytest.param(
            drawn(lambda s: s.add_lwpolyline([(0, 0), (90, 0), (40, 0)], close=True)), "no area|meet at", id="flat"
        ),
        pytest.param(
            drawn(lambda s: s.add_lwpolyline([(0, 0), (0, 0), (90, 0), (90, 9)], close=True)), "has no length",
            id="doubled-corner",
        ),
    ],
)  # fmt: skip
def test_one_line_names_the_file(tmp_path: Path, data: bytes | None, words: str) -> None:
    with pytest.raises(DesignError, match=words):
        set_up(workshop(tmp_path, data))
