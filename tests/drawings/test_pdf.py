"""PDF files read back by other libraries: PDFium for geometry, text and fonts, QPDF for the file's soundness."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator
from io import BytesIO

import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from slotwright.drawings.paper.sheet import Drawing, Line
from slotwright.drawings.paper.style import Style, style
from slotwright.drawings.writers.pdf import pdf_bytes

MM = 72.0 / 25.4  # PDF 32000-1, 8.3.2.3: a unit of default user space is 1/72 inch
Segment = tuple[tuple[float, float], tuple[float, float]]


@pytest.fixture
def drawn(drawing: Drawing) -> Style:
    return style("asme", "in") if drawing.unit == "in" else style("iso", "mm")


@pytest.fixture
def document(drawing: Drawing, drawn: Style) -> Iterator[pypdfium2.PdfDocument]:
    document = pypdfium2.PdfDocument(pdf_bytes(drawing, drawn))
    yield document
    document.close()


def _objects(page: pypdfium2.PdfPage, kind: int) -> list[object]:
    return list(page.get_objects(filter=[kind]))


def _matrix(item: object) -> pdfium.FS_MATRIX:
    matrix = pdfium.FS_MATRIX()
    assert pdfium.FPDFPageObj_GetMatrix(item, matrix)
    return matrix


def _segments(item: object) -> list[Segment]:
    """Straight pieces of a path, mm on the page."""
    to_page = _matrix(item)
    found: list[Segment] = []
    here = (0.0, 0.0)
    for index in range(pdfium.FPDFPath_CountSegments(item)):
        segment = pdfium.FPDFPath_GetPathSegment(item, index)
        x, y = ctypes.c_float(), ctypes.c_float()
        pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        point = (
            (to_page.a * x.value + to_page.c * y.value + to_page.e) / MM,
            (to_page.b * x.value + to_page.d * y.value + to_page.f) / MM,
        )
        if pdfium.FPDFPathSegment_GetType(segment) == pdfium.FPDF_SEGMENT_LINETO:
            found.append((here, point))
        here = point
    return found


def _width(item: object) -> float:
    """Line width of a path, mm on the page."""
    width = ctypes.c_float()
    assert pdfium.FPDFPageObj_GetStrokeWidth(item, width)
    return float(width.value) * float(_matrix(item).a) / MM


def _length(segment: Segment) -> float:
    (ax, ay), (bx, by) = segment
    return float(((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5)


def test_pages_are_the_sheets_at_their_true_size(document: pypdfium2.PdfDocument) -> None:
    sizes = [(page.get_width() / MM, page.get_height() / MM) for page in document]
    assert sizes[0] == pytest.approx((420.0, 297.0), abs=0.01)  # ISO 216: A3
    assert sizes[1] == pytest.approx((210.0, 297.0), abs=0.01)  # ISO 216: A4


def test_a_hundred_millimetres_measure_a_hundred_millimetres(document: pypdfium2.PdfDocument) -> None:
    segments = [s for item in _objects(document[0], pdfium.FPDF_PAGEOBJ_PATH) for s in _segments(item)]
    ruler = [s for s in segments if s[0] == pytest.approx((20.0, 20.0), abs=0.01)]
    assert [_length(s) for s in ruler] == pytest.approx([100.0], abs=0.01)
    edge = [s for s in segments if s[0] == pytest.approx((60.0, 120.0), abs=0.01) and s[1][1] == pytest.approx(120.0)]
    assert [_length(s) for s in edge] == pytest.approx([100.0], abs=0.01)


def test_a_circle_is_round_to_a_hundredth(document: pypdfium2.PdfDocument) -> None:
    """Bezier quadrants deviate by 2.7e-4 of the radius (closed form, midpoint of a cubic quarter circle)."""
    item = next(iter(_objects(document[0], pdfium.FPDF_PAGEOBJ_PATH)))
    to_page = _matrix(item)
    radii: list[float] = []
    curve: list[tuple[float, float]] = []
    for index in range(pdfium.FPDFPath_CountSegments(item)):
        segment = pdfium.FPDFPath_GetPathSegment(item, index)
        x, y = ctypes.c_float(), ctypes.c_float()
        pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        at = ((to_page.a * x.value + to_page.e) / MM, (to_page.d * y.value + to_page.f) / MM)
        kind = pdfium.FPDFPathSegment_GetType(segment)
        curve = [*curve, at] if kind == pdfium.FPDF_SEGMENT_BEZIERTO else [at]
        if len(curve) == 4:
            middle = [(a + 3 * b + 3 * c + d) / 8 for a, b, c, d in zip(*curve, strict=True)]
            radii.append(((middle[0] - 80.0) ** 2 + (middle[1] - 140.0) ** 2) ** 0.5)
            curve = [at]
    assert sum(abs(radius - 6.0) < 0.01 for radius in radii) == 4


def test_line_widths(document: pypdfium2.PdfDocument, drawn: Style) -> None:
    widths = {round(_width(item), 3) for item in _objects(document[0], pdfium.FPDF_PAGEOBJ_PATH)}
    assert {drawn.line_width(Line.OUTLINE), drawn.line_width(Line.CENTRE)} <= widths


@pytest.mark.parametrize(
    "words", ["4× ⌀12 ↧20 ⌴⌀18 ±0.1", "⌀25.4", "R8 TYP", "90°", "Millrace canal-lock depot", "<b>&amp; 50%%d"]
)
def test_text_is_found(document: pypdfium2.PdfDocument, words: str) -> None:
    page = document[0].get_textpage()
    search = page.search(words, match_case=True)
    assert search.get_next() is not None


def test_text_is_upright_or_reads_from_the_right(document: pypdfium2.PdfDocument) -> None:
    """PDF 32000-1, 8.3.3: a turn by q has the matrix [cos q, sin q, -sin q, cos q]."""
    ways = set()
    for item in _objects(document[0], pdfium.FPDF_PAGEOBJ_TEXT):
        matrix = _matrix(item)
        size = (matrix.a**2 + matrix.b**2) ** 0.5
        ways.add((round(matrix.a / size, 3), round(matrix.b / size, 3)))
    assert ways == {(1.0, 0.0), (0.0, 1.0)}


def test_capitals_are_as_high_as_asked_for(document: pypdfium2.PdfDocument) -> None:
    page = document[0].get_textpage()
    index, _ = page.search("Sheet 1/2").get_next()
    left, bottom, right, top = page.get_charbox(index)  # S overshoots the capitals' height by some percent
    assert (top - bottom) / MM == pytest.approx(5.0, rel=0.06)
    assert bottom / MM == pytest.approx(12.0, abs=0.15)
    last = page.get_charbox(index + len("Sheet 1/2") - 1, loose=True)
    assert last[2] / MM == pytest.approx(420.0 - 12.0, abs=0.1)  # anchored at its right end
    assert left < right


def test_every_text_has_its_font_in_the_file(document: pypdfium2.PdfDocument) -> None:
    texts = [item for page in document for item in _objects(page, pdfium.FPDF_PAGEOBJ_TEXT)]
    assert len(texts) > 10
    assert all(pdfium.FPDFFont_GetIsEmbedded(pdfium.FPDFTextObj_GetFont(item)) == 1 for item in texts)


def test_the_file_is_sound_and_names_no_other_font(drawing: Drawing, drawn: Style) -> None:
    with pikepdf.open(BytesIO(pdf_bytes(drawing, drawn))) as file:
        assert file.check_pdf_syntax() == []
        fonts = [font for page in file.pages for font in page.obj.Resources.Font.values()]
        assert {str(font.BaseFont).partition("+")[2] for font in fonts} == {"SlotwrightLettering"}
        assert all("/FontFile2" in font.FontDescriptor for font in fonts)


def test_properties_say_what_it_is_and_no_date(drawing: Drawing, drawn: Style) -> None:
    with pikepdf.open(BytesIO(pdf_bytes(drawing, drawn))) as file:
        assert str(file.docinfo["/Title"]) == "Plate <1> & ⌀"
        assert "content id: 3f9a-11c0" in str(file.docinfo["/Subject"])
        assert str(file.docinfo["/CreationDate"]).startswith("D:20000101")


def test_a_framed_view_is_clipped(document: pypdfium2.PdfDocument) -> None:
    """The plate's right edge in the 2:1 detail lies at x = 430 mm, outside the frame and outside the paper."""
    picture = document[0].render(scale=4.0 / MM, grayscale=True).to_numpy()
    outside = picture[4 * 100 : 4 * 270, round(4 * 300.5) : 4 * 409]  # right of the frame, inside the border
    inside = picture[4 * (297 - 150) : 4 * (297 - 50), 4 * 221 : 4 * 299]
    assert outside.min() == 255
    assert inside.min() < 100
