"""DXF files read back: by ezdxf with its auditor, by GDAL, by trimesh, and tag by tag."""

from __future__ import annotations

import logging
from io import BytesIO, StringIO
from itertools import pairwise
from math import pi

import numpy as np
import pyogrio
import pytest
import shapely
import trimesh
from ezdxf import options  # type: ignore[attr-defined]  # public, but not marked as exported
from ezdxf.addons.drawing.frontend import Frontend
from ezdxf.addons.drawing.properties import RenderContext
from ezdxf.addons.drawing.recorder import PointsRecord, Recorder
from ezdxf.document import Drawing as Document
from ezdxf.entities.dimension import Dimension as DimensionEntity
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.filemanagement import read
from ezdxf.tools.text import plain_text
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont
from PIL import ImageFont

from slotwright.drawings.paper import lettering, signs
from slotwright.drawings.paper.sheet import Anchor, Drawing, Fill, Line, Mark, Sheet, Stroke, Text, View
from slotwright.drawings.paper.style import Style, style
from slotwright.drawings.writers import dimension_style, entities
from slotwright.drawings.writers.dxf import dxf_bytes

HOLES = ((20.0, 20.0, 12.0), (50.0, 45.0, 25.4), (80.0, 20.0, 12.0))  # x, y, diameter, mm, as in the drawing by hand


@pytest.fixture
def drawn(drawing: Drawing) -> Style:
    return style("asme", "in") if drawing.unit == "in" else style("iso", "mm")


@pytest.fixture
def data(drawing: Drawing, drawn: Style) -> bytes:
    return dxf_bytes(drawing, drawn)


@pytest.fixture
def back(data: bytes) -> Document:
    return read(StringIO(data.decode()))


@pytest.fixture
def length(drawing: Drawing) -> float:
    """Length of the file's unit, mm."""
    return 25.4 if drawing.unit == "in" else 1.0


def _one(*marks: Mark, unit: str = "mm", scale: float = 1.0) -> Document:
    view = View(name="plan", origin=(50.0, 50.0), scale=scale, marks=marks)
    sheet = Sheet(size="A4", width=210.0, height=297.0, views=(view,), marks=())
    return read(StringIO(dxf_bytes(Drawing(name="a", title="a", unit=unit, sheets=(sheet,)), style()).decode()))


def _dimensions(document: Document) -> list[DimensionEntity]:
    return [entity for entity in document.modelspace() if isinstance(entity, DimensionEntity)]


def _tags(data: bytes) -> list[tuple[int, str]]:
    """A reader of our own: pairs of lines."""
    lines = data.decode().split("\n")
    return [(int(code), value) for code, value in zip(lines[:-1:2], lines[1::2], strict=True)]


# --- the file


def test_the_auditor_finds_nothing(back: Document) -> None:
    auditor = back.audit()
    assert (auditor.errors, auditor.fixes) == ([], [])


def test_handles_are_unique(data: bytes) -> None:
    tags = _tags(data)
    handles = [value for (kind, name), (code, value) in pairwise(tags) if kind == 0 and code == 5]
    assert len(handles) > 100
    assert len(handles) == len(set(handles))


def test_header(data: bytes, drawing: Drawing) -> None:
    """$INSUNITS 1 is inch, 4 is mm; $MEASUREMENT 0 is imperial, 1 metric; AC1032 is R2018 (DXF reference)."""
    tags = _tags(data)
    header = {name: value for (code, name), (_, value) in pairwise(tags) if code == 9}
    assert header["$ACADVER"] == "AC1032"
    assert header["$INSUNITS"] == ("1" if drawing.unit == "in" else "4")
    assert header["$MEASUREMENT"] == ("0" if drawing.unit == "in" else "1")
    assert header["$DIMLFAC"] == "1.0"
    assert header["$PSLTSCALE"] == "1"


def test_the_librarys_options_are_left_alone(drawing: Drawing, drawn: Style) -> None:
    before = options.write_fixed_meta_data_for_testing
    dxf_bytes(drawing, drawn)
    assert options.write_fixed_meta_data_for_testing == before
    assert not before


# --- model space is true to size, by three readers


def test_circles_by_ezdxf(back: Document, length: float) -> None:
    circles = [c for c in back.modelspace().query("CIRCLE[layer=='OUTLINE']") if 0 < c.dxf.center.x * length < 100]
    found = sorted((c.dxf.center.x * length, c.dxf.center.y * length, 2 * c.dxf.radius * length) for c in circles)
    near = [hole for hole in found if 0 < hole[1] < 60]
    assert near == [pytest.approx(hole, abs=1e-6) for hole in HOLES]


def test_circles_and_edges_by_gdal(data: bytes, length: float) -> None:
    pyogrio.set_gdal_config_options({"DXF_ENCODING": "UTF-8"})  # it does not know that R2018 is UTF-8
    _, _, shapes, fields = pyogrio.raw.read(data)
    layers, words = fields[0], fields[5]
    boxes = [shape.bounds for shape, layer in zip(shapely.from_wkb(shapes), layers, strict=True) if layer == "OUTLINE"]
    found = [tuple(corner * length for corner in box) for box in boxes]
    assert pytest.approx((0.0, 0.0, 100.0, 60.0), abs=1e-6) in found
    for x, y, diameter in HOLES:  # circles come as polygons: exact along X, within 4 degree facets along Y
        radius = diameter / 2.0
        assert any(
            box[::2] == pytest.approx((x - radius, x + radius), abs=1e-6)
            and box[1::2] == pytest.approx((y - radius, y + radius), abs=radius * 1e-3)
            for box in found
        )
    pieces = {"Millrace canal-lock depot: 4× ⌀12", "20", "⌀18 ±0.1 <b>&amp; 50% %d ^J \\ U+0041"}
    assert pieces <= set(words)  # the signs between them are drawn
    assert {"100", "⌀25.4", "R8 TYP", "90°"} <= set(words)  # out of the dimensions' blocks


def test_circles_and_edges_by_trimesh(data: bytes, drawing: Drawing, length: float) -> None:
    path = trimesh.load_path(BytesIO(data), file_type="dxf")
    assert path.units == {"in": "inches", "mm": "millimeters"}[drawing.unit]
    outline = [entity for entity in path.entities if entity.layer == "OUTLINE"]
    arcs = [entity for entity in outline if isinstance(entity, trimesh.path.entities.Arc)]
    rounds = [arc.center(path.vertices) for arc in arcs]  # type: ignore[no-untyped-call]  # has no types
    found = [(about.center * length, about.radius * length) for about in rounds]
    for x, y, diameter in HOLES:
        assert any(
            np.allclose(centre, (x, y), atol=1e-5) and radius == pytest.approx(diameter / 2.0, abs=1e-6)
            for centre, radius in found
        )
    perimeters = [entity.length(path.vertices) * length for entity in outline if entity not in arcs]
    assert any(perimeter == pytest.approx(2 * (100.0 + 60.0), abs=1e-6) for perimeter in perimeters)


def test_the_elevation_lies_below_the_plan_as_on_paper(back: Document, length: float) -> None:
    outlines = [
        list(entity.get_points("xy"))
        for entity in back.modelspace()
        if isinstance(entity, LWPolyline) and entity.dxf.layer == "OUTLINE"
    ]
    corners = [(x * length, y * length) for x, y in outlines[1]]
    expected = [(0.0, -60.0), (100.0, -60.0), (100.0, -45.0), (0.0, -45.0)]
    assert corners == [pytest.approx(corner, abs=1e-6) for corner in expected]


# --- layers


def test_layers_are_the_kinds_of_line(back: Document, drawn: Style) -> None:
    for line in Line:
        layer = back.layers.get(line.value.upper())
        assert layer.dxf.lineweight == pytest.approx(100.0 * drawn.line_width(line), abs=1.0)
    assert back.layers.get("WINDOWS").dxf.plot == 0


@pytest.mark.parametrize("line", [Line.HIDDEN, Line.CENTRE, Line.PHANTOM, Line.SECTION])
def test_dashes_are_as_long_on_paper_as_the_style_says(back: Document, drawn: Style, length: float, line: Line) -> None:
    layer = back.layers.get(line.value.upper())
    entry = back.linetypes.get(layer.dxf.linetype)
    parts = [abs(tag.value) * length for tag in entry.pattern_tags.tags if tag.code == 49]
    assert parts == pytest.approx(drawn.dashes(line), abs=1e-6)


# --- dimensions


def test_dimensions_by_the_librarys_own_arithmetic(back: Document, length: float) -> None:
    """ezdxf measures from the definition points; ordinates come as the way from the origin."""
    kinds: dict[int, list[object]] = {}
    for entity in _dimensions(back):
        kinds.setdefault(entity.dimtype, []).append(entity.get_measurement())
    assert [value * length for value in kinds[0]] == pytest.approx([100.0, 10.0])  # type: ignore[operator]  # floats
    assert kinds[3] == pytest.approx([25.4 / length])
    assert kinds[4] == pytest.approx([8.0 / length])
    assert kinds[5] == pytest.approx([90.0])
    x_way, y_way = kinds[6]
    assert x_way.x * length == pytest.approx(20.0)  # type: ignore[attr-defined]  # vectors
    assert y_way.y * length == pytest.approx(20.0)  # type: ignore[attr-defined]  # vectors


def test_dimensions_tag_by_tag(data: bytes, length: float) -> None:
    """Type in the low bits of group 70, measured value in 42 (DXF reference); angles in radians, from memory."""
    found: list[dict[int, str]] = []
    for code, value in _tags(data)[:-1]:
        if code == 0:
            found.append({})
        found[-1].setdefault(code, value)
    dims = [tags for tags in found if tags[0] == "DIMENSION" and 42 in tags]
    kinds = [(int(tags[70]) & 7, bool(int(tags[70]) & 64)) for tags in dims]
    assert kinds == [(0, False), (0, False), (6, True), (6, False), (3, False), (4, False), (5, False)]
    values = [float(tags[42]) for tags in dims]
    assert [value * length for value in values[:6]] == pytest.approx([100.0, 10.0, 20.0, 20.0, 25.4, 8.0], abs=1e-6)
    assert values[6] == pytest.approx(pi / 2)


def test_a_dimension_shows_what_it_measures(back: Document) -> None:
    """Ten millimetres read 10: measured length, factor 1, in the style and without an override."""
    ten = _dimensions(back)[1]
    dimstyle = ten.get_dim_style().dxf
    assert dimstyle.dimlfac == 1.0
    assert "dimlfac" not in ten.override().dimstyle_attribs
    if back.header["$INSUNITS"] == 4:
        assert ten.get_measurement() * dimstyle.dimlfac == pytest.approx(10.0)
    block = back.blocks.get(ten.dxf.geometry)
    assert [text.dxf.text for text in block.query("TEXT")] == ["10"]


def test_texts_leave_out_the_signs_that_programs_add(back: Document) -> None:
    assert [entity.dxf.text for entity in _dimensions(back)] == ["<>", "<>", "<>", "<>", "<>", "R<> TYP", "<>"]


def test_places_that_differ_from_the_style_are_overridden(back: Document, drawn: Style) -> None:
    written = [entity.override().dimstyle_attribs.get("dimdec") for entity in _dimensions(back)]
    expected = [2, 2, 2, 2, 1, 2, None]
    assert written == [None if places == drawn.places else places for places in expected]


def test_each_dimension_has_a_block_drawn_from_its_marks(back: Document, drawing: Drawing) -> None:
    made = drawing.sheets[0].views[0].dimensions
    entities_found = _dimensions(back)
    assert len({entity.dxf.geometry for entity in entities_found}) == len(made)
    for entity, dimension in zip(entities_found, made, strict=True):
        assert len(back.blocks.get(entity.dxf.geometry)) == len(dimension.marks)


@pytest.mark.parametrize("scale", [0.2, 1.0, 2.0])
def test_every_dimension_variable_is_set(drawn: Style, back: Document, scale: float) -> None:
    entry = back.dimstyles.get(dimension_style.name_of(scale))
    assert entry.dxf.dimscale == pytest.approx(1.0 / scale)
    every = {name for name in entry.CODE_TO_DXF_ATTRIB.values() if not name.endswith("_handle")}
    assert len(every) > 65
    unset = {name for name in every if not entry.dxf.hasattr(name)}
    # Obsolete since R2000; and two that the library does not write in R2018, where absent means empty.
    assert unset == {"dimunit", "dimfit", "dimpost", "dimapost"}
    assert entry.dxf.dimtxsty == entities.LETTERS


def test_dimension_sizes_on_paper(back: Document, drawn: Style, length: float) -> None:
    dxf = back.dimstyles.get("SHOP-1-1").dxf
    assert dxf.dimtxt * length == pytest.approx(drawn.text)
    assert dxf.dimasz * length == pytest.approx(drawn.arrow)
    assert dxf.dimexe * length == pytest.approx(drawn.extension_overrun)


@pytest.mark.parametrize(
    ("scale", "name"), [(1.0, "SHOP-1-1"), (0.5, "SHOP-1-2"), (0.2, "SHOP-1-5"), (2.0, "SHOP-2-1")]
)
def test_dimension_styles_are_named_by_scale(scale: float, name: str) -> None:
    assert dimension_style.name_of(scale) == name


# --- sheets


def test_layouts_are_the_sheets_at_their_true_size(back: Document, length: float) -> None:
    assert back.layouts.names_in_taborder() == ["Model", "Sheet 1", "Sheet 2"]
    for name, (width, height) in (("Sheet 1", (420.0, 297.0)), ("Sheet 2", (210.0, 297.0))):
        dxf = back.layouts.get(name).dxf_layout.dxf
        assert (dxf.paper_width, dxf.paper_height) == (width, height)  # ISO 216; always mm in the file
        assert dxf.plot_paper_units == (0 if length == 25.4 else 1)
        assert (dxf.scale_numerator, dxf.scale_denominator) == (1.0, 1.0)
        assert (dxf.limmax[0] * length, dxf.limmax[1] * length) == pytest.approx((width, height))


def test_windows_show_their_views_to_scale(back: Document, length: float) -> None:
    scales = {}
    for name in ("Sheet 1", "Sheet 2"):
        windows = [viewport for viewport in back.paperspace(name).viewports() if viewport.dxf.id != 1]
        scales[name] = [viewport.dxf.height / viewport.dxf.view_height for viewport in windows]
    assert scales == {"Sheet 1": pytest.approx([1.0, 2.0]), "Sheet 2": pytest.approx([0.2])}


def test_the_sheet_looks_as_the_marks_say(back: Document, drawing: Drawing, length: float) -> None:
    """ezdxf's own drawing of the layout, through its windows, has the unbroken straight lines where paper has them."""
    recorder = Recorder()
    Frontend(RenderContext(back), recorder).draw_layout(back.paperspace("Sheet 1"))
    shown = {
        tuple(round(c * length, 3) + 0.0 for point in record.points.vertices() for c in (point.x, point.y))
        for record, _ in recorder.player().recordings()
        if isinstance(record, PointsRecord) and len(record.points) == 2
    }
    plan = drawing.sheets[0].views[0]
    marks = [mark for dimension in plan.dimensions for mark in dimension.marks] + list(drawing.sheets[0].marks)
    lines = [mark for mark in marks if isinstance(mark, Stroke) and len(mark.points) == 2]
    assert len(lines) > 5
    for line in lines:
        assert tuple(round(c, 3) for point in line.points for c in point) in shown


# --- marks one by one


@pytest.mark.parametrize(
    "words", ["4× ⌀12", "50%%d", "a%%%%b%%%c", "100%⌀", "^J^I ^x", "\\U+0041 \\M+18140", "{\\fArial;x}", "<>", "%%"]
)
def test_no_code_starts_in_a_text(words: str) -> None:
    """What a reader decodes is what was meant, but for a space that keeps two signs apart."""
    text = next(iter(_one(Text((0.0, 0.0), words, 3.5)).modelspace().query("TEXT")))
    decoded = plain_text(text.dxf.text).replace("Ø", "⌀")
    assert decoded.replace(" ", "") == words.replace(" ", "")
    assert "%%" not in text.dxf.text.replace("%%c", "")


@pytest.mark.parametrize(("anchor", "halign"), [(Anchor.LEFT, 0), (Anchor.CENTRE, 1), (Anchor.RIGHT, 2)])
@pytest.mark.parametrize("scale", [1.0, 0.5])
def test_text_heights_hold_on_paper(anchor: Anchor, halign: int, scale: float) -> None:
    text = next(iter(_one(Text((10.0, 20.0), "A1", 4.0, anchor, 0.0, True), scale=scale).modelspace().query("TEXT")))
    assert text.dxf.height * scale == pytest.approx(4.0)
    assert text.dxf.get("halign", 0) == halign
    point = text.dxf.align_point if halign else text.dxf.insert
    assert (point.x, point.y) == pytest.approx((10.0, 20.0 - 2.0 / scale))


@pytest.mark.parametrize("angle", [0.0, 90.0])
@pytest.mark.parametrize("scale", [1.0, 0.5])
def test_signs_that_cad_fonts_lack_are_drawn_in_their_place(scale: float, angle: float) -> None:
    """Positions from the widths of the font's characters, as another library reads them."""
    text = Text((10.0, 20.0), "2× ⌴⌀18 ↧4", 4.0, Anchor.LEFT, angle)
    document = _one(text, scale=scale)
    inserts = list(document.modelspace().query("INSERT"))
    assert [insert.dxf.name for insert in inserts] == ["SIGN-2334", "SIGN-21A7"]  # Unicode: counterbore, depth
    assert [t.dxf.text for t in document.modelspace().query("TEXT")] == ["2×", "%%c18", "4"]
    font = ImageFont.truetype(BytesIO(lettering.font_bytes()), 2048, layout_engine=ImageFont.Layout.BASIC)
    for insert, before in zip(inserts, ("2× ", "2× ⌴⌀18 "), strict=True):
        way = (font.getlength(before) / 1493 + 0.15) * 4.0 / scale  # the sign's own margin left of it
        turned = (10.0 + way, 20.0) if angle == 0.0 else (10.0, 20.0 + way)
        assert (insert.dxf.insert.x, insert.dxf.insert.y) == pytest.approx(turned, abs=0.01)
        assert insert.dxf.xscale == pytest.approx(4.0 / scale)
        assert insert.dxf.get("rotation", 0.0) == angle
        assert insert.dxf.layer == "NOTE"
    assert {entity.dxf.layer for name in ("SIGN-2334", "SIGN-21A7") for entity in document.blocks.get(name)} == {"0"}
    assert not document.audit().errors


@pytest.mark.parametrize("char", sorted(signs.drawn_in_cad()), ids=lambda char: f"U+{ord(char):04X}")
def test_a_drawn_sign_covers_what_its_character_covers(char: str) -> None:
    """The drawn lines' middle lies half a pen's width (a twentieth of the height) inside the character's box."""
    glyphs = TTFont(BytesIO(lettering.font_bytes()))
    pen = BoundsPen(glyphs.getGlyphSet())
    glyphs.getGlyphSet()[glyphs.getBestCmap()[ord(char)]].draw(pen)
    document = _one(Text((0.0, 0.0), char, 1493.0))
    recorder = Recorder()
    Frontend(RenderContext(document), recorder).draw_layout(document.modelspace())
    box = recorder.player().bbox()
    assert (box.extmin.x, box.extmin.y) == pytest.approx(pen.bounds[:2], abs=1493 * 0.11)
    assert (box.extmax.x, box.extmax.y) == pytest.approx(pen.bounds[2:], abs=1493 * 0.11)


@pytest.mark.parametrize("corners", [3, 4, 5])
def test_fills(corners: int) -> None:
    ring = tuple((10.0 * np.cos(2 * pi * k / corners), 10.0 * np.sin(2 * pi * k / corners)) for k in range(corners))
    document = _one(Fill(tuple((float(x), float(y)) for x, y in ring), Line.DIMENSION))
    recorder = Recorder()
    Frontend(RenderContext(document), recorder).draw_layout(document.modelspace())
    area = 0.0
    for record, _ in recorder.player().recordings():
        outline = record.points.vertices() if isinstance(record, PointsRecord) else record.paths[0].vertices()  # type: ignore[attr-defined]  # filled paths
        points = [(point.x, point.y) for point in outline]
        area += shapely.Polygon(points).area
    assert area == pytest.approx(corners / 2.0 * 100.0 * np.sin(2 * pi / corners))  # regular polygon
    assert not document.audit().errors


def test_a_line_too_short_for_dashes_is_unbroken() -> None:
    short, long = (
        next(iter(_one(Stroke(((0.0, 0.0), (reach, 0.0)), Line.CENTRE)).modelspace())) for reach in (1.0, 50.0)
    )
    assert short.dxf.linetype == "CONTINUOUS"
    assert long.dxf.linetype == "BYLAYER"
    assert 0.5 < long.dxf.ltscale < 1.5


def test_reading_back_raises_no_complaint(data: bytes, caplog: pytest.LogCaptureFixture) -> None:
    with caplog.at_level(logging.WARNING, logger="ezdxf"):
        read(StringIO(data.decode()))
    assert caplog.records == []


def test_a_property_can_not_break_the_file() -> None:
    sheet = Sheet(size="A4", width=210.0, height=297.0, views=(), marks=())
    hostile = Drawing(
        name="a", title="a\n  0\nEOF\n", unit="mm", sheets=(sheet,), properties=(("x\r\ny", "\x00\x1a1\u2028 0"),)
    )
    document = read(StringIO(dxf_bytes(hostile, style()).decode()))
    assert list(document.header.custom_vars) == [("title", "a 0 EOF"), ("x y", "1 0")]
