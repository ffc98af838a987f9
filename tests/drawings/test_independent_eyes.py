"""The demo designs' drawings in other people's programs: CAD readers, PDF tools, a browser.

What is expected comes from the design files by hand: the bars' and tables' sizes, the words in the title block.
The command line tools of QPDF and Poppler must be there in continuous integration; elsewhere their tests are skipped.
"""

from __future__ import annotations

import ctypes
import json
import os
import re
import shutil
import subprocess
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

import pikepdf
import pyogrio
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
import shapely
import trimesh
from ezdxf.filemanagement import readfile
from reportlab.pdfgen.canvas import Canvas

from slotwright.sharing.make import make
from slotwright.sharing.set_up import set_up

ROOT = Path(__file__).parents[2]
MM = 72.0 / 25.4  # PDF 32000-1, 8.3.2.3: a unit of default user space is 1/72 inch
PIXEL = 25.4 / 96.0  # CSS Values and Units 4, 6.2: a pixel is 1/96 inch
TRUE = 1e-3  # 0.1 mm in 100 mm on paper


@dataclass(frozen=True, slots=True, kw_only=True)
class Demo:
    """What a design file says, in its own unit.

    Attributes:
        unit: its length, mm; code: as $INSUNITS has it.
        bar: length, width, thickness; length is the front overhang, the table's width and the back overhang.
        table: length, width.
        work: length, width of its envelope.
        words: that the bar's sheet must show.
    """

    unit: float
    code: int
    bar: tuple[float, float, float]
    table: tuple[float, float]
    work: tuple[float, float]
    words: tuple[str, ...]

    @property
    def whole(self) -> dict[str, tuple[float, float]]:
        """Length and width of what each drawing shows whole."""
        return {"outrigger": self.bar[:2], "set-up": self.work}


DEMOS = {
    "bonnet-outriggers": Demo(
        unit=25.4,
        code=1,
        bar=(7.5 + 9.0 + 0.5, 1.5, 0.75),
        table=(42.0, 9.0),
        work=(19.0, 17.0),
        words=("17.00", "1.50", ".75", "1/2-13 UNC - 2B", "INCHES"),
    ),
    "bonnet-outriggers-metric": Demo(
        unit=1.0,
        code=4,
        bar=(190.0 + 280.0 + 10.0, 40.0, 20.0),
        table=(1100.0, 280.0),
        work=(480.0, 430.0),
        words=("480", "40", "20", "M12 - 6H", "10 H7", "ISO 2768-m"),
    ),
}
COMMON = ("Outrigger bar", "Outrigger bars for a sluice-valve bonnet", "Millrace canal-lock depot", "HOLE TABLE")


@dataclass(frozen=True, slots=True)
class Made:
    """A demo design and the folder of its files."""

    demo: Demo
    folder: Path

    def read(self, name: str) -> bytes:
        """One file."""
        return (self.folder / name).read_bytes()


@pytest.fixture(scope="module", params=DEMOS)
def made(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Made:
    design = set_up(ROOT / "fixtures" / f"{request.param}.toml")
    folder = tmp_path_factory.mktemp("eyes") / "made"
    make(design, folder, "made", tell=lambda step: None)
    return Made(DEMOS[request.param], folder)


@pytest.fixture(params=["outrigger", "set-up"])
def name(request: pytest.FixtureRequest) -> str:
    return str(request.param)


# DXF: three readers


def test_dxf_loads_without_a_complaint(made: Made, name: str) -> None:
    document = readfile(made.folder / f"{name}.dxf")
    auditor = document.audit()
    assert (auditor.errors, auditor.fixes) == ([], [])
    assert document.units == made.demo.code


Boxes = list[tuple[float, float, float, float]]
Reader = Callable[[bytes], Boxes]


def by_gdal(data: bytes) -> Boxes:
    """Boxes of all lines in model space, in the file's unit."""
    columns, shapes = gdal_columns(data)
    model = [on_sheet != 1.0 for on_sheet in columns["PaperSpace"]]  # elsewhere it is nothing
    lines = [s for s, here in zip(shapes, model, strict=True) if here and "Line" in s.geom_type]
    return [line.bounds for line in lines]


def gdal_columns(data: bytes) -> tuple[dict[str, list[object]], list[shapely.Geometry]]:
    """Attributes by name, and shapes."""
    pyogrio.set_gdal_config_options({"DXF_ENCODING": "UTF-8"})  # it does not know that R2018 is UTF-8
    meta, _, shapes, fields = pyogrio.raw.read(data)
    return dict(zip(meta["fields"], fields, strict=True)), list(shapely.from_wkb(shapes))


def by_trimesh(data: bytes) -> Boxes:
    """Boxes of all lines, in the file's unit; this reader throws all spaces together."""
    path = trimesh.load_path(BytesIO(data), file_type="dxf")
    boxes: Boxes = []
    for entity in path.entities:
        (x0, y0), (x1, y1) = path.vertices[entity.points].min(axis=0), path.vertices[entity.points].max(axis=0)
        boxes.append((float(x0), float(y0), float(x1), float(y1)))
    return boxes


READERS = pytest.mark.parametrize("reader", [by_gdal, by_trimesh])


@READERS
def test_the_bar_measures_its_true_size_in_model_space(made: Made, reader: Reader) -> None:
    sizes = [(x1 - x0, y1 - y0) for x0, y0, x1, y1 in reader(made.read("outrigger.dxf"))]
    long, wide, high = made.demo.bar
    for size in ((long, wide), (long, high)):
        assert pytest.approx(size, abs=1e-6) in sizes


@READERS
def test_the_table_measures_its_true_size_in_model_space(made: Made, reader: Reader) -> None:
    """Its ends are lines as long as it is wide; the outline of the work lies whole over the bars."""
    boxes = reader(made.read("set-up.dxf"))
    long, wide = made.demo.table
    ends = [x0 for x0, y0, x1, y1 in boxes if x0 == x1 and y1 - y0 == pytest.approx(wide, abs=1e-6)]
    assert any(b - a == pytest.approx(long, abs=1e-6) for a in ends for b in ends)
    assert pytest.approx(made.demo.work, abs=1e-6) in [(x1 - x0, y1 - y0) for x0, y0, x1, y1 in boxes]


def test_gdal_reads_the_texts(made: Made) -> None:
    columns, _ = gdal_columns(made.read("outrigger.dxf"))
    texts = " ".join(str(text) for text in columns["Text"] if text)
    assert [words for words in (*COMMON, *made.demo.words) if words not in texts] == []


# PDF: QPDF, Poppler, PDFium


def tool(name: str) -> str:
    """A command line tool: missing, it fails the test in continuous integration and skips it elsewhere."""
    found = shutil.which(name)
    if found is None and os.environ.get("CI"):
        pytest.fail(f"{name} is not installed")
    if found is None:
        pytest.skip(f"{name} is not installed; on Debian: apt-get install qpdf poppler-utils")
    return found


def run(*command: str, **environment: str) -> bytes:
    """What a tool writes; a non-zero exit or a word on its error output fails."""
    done = subprocess.run(command, capture_output=True, check=False, env={**os.environ, **environment}, timeout=60)
    assert (done.returncode, done.stderr) == (0, b"")
    return done.stdout


def test_qpdf_finds_the_file_sound(made: Made, name: str) -> None:
    said = run(tool("qpdf"), "--check", str(made.folder / f"{name}.pdf")).decode()
    assert "No syntax or stream encoding errors found" in said


def test_pikepdf_finds_the_file_sound(made: Made, name: str) -> None:
    with pikepdf.open(made.folder / f"{name}.pdf") as file:
        assert file.check_pdf_syntax() == []


def test_pdftotext_finds_the_words(made: Made) -> None:
    said = run(tool("pdftotext"), "-layout", str(made.folder / "outrigger.pdf"), "-").decode()
    assert [words for words in (*COMMON, *made.demo.words) if words not in said] == []
    assert "⌀" in said


def test_pdffonts_finds_every_font_embedded(made: Made, name: str) -> None:
    """The columns emb, sub and uni: embedded, a subset, with a map to Unicode."""
    head, rule, *rows = run(tool("pdffonts"), str(made.folder / f"{name}.pdf")).decode().splitlines()
    start = head.index("emb")
    assert rows
    assert [row[start:].split()[:3] for row in rows] == [["yes", "yes", "yes"]] * len(rows)
    assert set(rule) == {"-", " "}


@pytest.fixture
def no_fonts(tmp_path: Path) -> str:
    """A fontconfig file that knows no font on the machine."""
    path = tmp_path / "fonts.conf"
    empty, cache = tmp_path / "fonts", tmp_path / "cache"
    empty.mkdir()
    path.write_text(f"<fontconfig><dir>{empty}</dir><cachedir>{cache}</cachedir></fontconfig>", encoding="utf-8")
    return str(path)


def picture(path: Path, **environment: str) -> bytes:
    """The first page as Poppler paints it; what it complains of is not looked at."""
    command = [tool("pdftoppm"), "-r", "100", "-png", "-singlefile", str(path)]
    done = subprocess.run(command, capture_output=True, check=True, env={**os.environ, **environment}, timeout=60)
    assert done.stdout.startswith(b"\x89PNG")
    return done.stdout


def test_looks_the_same_with_no_font_on_the_machine(made: Made, name: str, no_fonts: str) -> None:
    path = made.folder / f"{name}.pdf"
    assert picture(path, FONTCONFIG_FILE=no_fonts) == picture(path)


def test_a_font_that_is_not_embedded_would_be_missed(tmp_path: Path, no_fonts: str) -> None:
    """So the test above can fail: a page in a font of the machine changes when that is gone."""
    page = Canvas(str(tmp_path / "page.pdf"))
    page.setFont("Helvetica", 40)
    page.drawString(100, 500, "Lock gate")
    page.save()
    if shutil.which("fc-list") and not run("fc-list").strip():
        pytest.skip("this machine has no fonts to take away")
    assert picture(tmp_path / "page.pdf", FONTCONFIG_FILE=no_fonts) != picture(tmp_path / "page.pdf")


Box = tuple[float, float, float, float]


def pdf_boxes(document: pypdfium2.PdfDocument) -> Iterator[Box]:
    """Boxes of all paths on the first page, mm, from the points they are drawn through."""
    for item in document[0].get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH]):
        to_page = pdfium.FS_MATRIX()
        assert pdfium.FPDFPageObj_GetMatrix(item, to_page)
        xs: list[float] = []
        ys: list[float] = []
        for index in range(pdfium.FPDFPath_CountSegments(item)):
            x, y = ctypes.c_float(), ctypes.c_float()
            pdfium.FPDFPathSegment_GetPoint(pdfium.FPDFPath_GetPathSegment(item, index), x, y)
            kind = pdfium.FPDFPathSegment_GetType(pdfium.FPDFPath_GetPathSegment(item, index))
            if kind == pdfium.FPDF_SEGMENT_MOVETO and xs:
                yield min(xs), min(ys), max(xs), max(ys)
                xs, ys = [], []
            xs.append((to_page.a * x.value + to_page.c * y.value + to_page.e) / MM)
            ys.append((to_page.b * x.value + to_page.d * y.value + to_page.f) / MM)
        if xs:
            yield min(xs), min(ys), max(xs), max(ys)


def scale(text: str) -> float:
    """The scale in a title block, such as 1:2, which stands alone in its line; a section has its own in its title."""
    ((paper, model),) = {
        (m[1], m[2]) for line in text.splitlines() if (m := re.fullmatch(r"(\d+):(\d+)", line.strip()))
    }
    return int(paper) / int(model)


def test_pdf_is_true_to_the_scale_it_names(made: Made, name: str) -> None:
    with pypdfium2.PdfDocument(made.read(f"{name}.pdf")) as document:
        paper = scale(document[0].get_textpage().get_text_range()) * made.demo.unit
        boxes = [(x1 - x0, y1 - y0) for x0, y0, x1, y1 in pdf_boxes(document)]
    assert has(boxes, *(size * paper for size in made.demo.whole[name]))


def has(boxes: list[tuple[float, float]], long: float, wide: float) -> bool:
    """Whether one of the boxes is as large, within 0.1 mm in 100 mm of the length."""
    return any(abs(a - long) <= TRUE * long and abs(b - wide) <= TRUE * long for a, b in boxes)


# SVG: a browser

MEASURE = """
const all = [...document.querySelectorAll("svg path")].map(path => {
  const box = path.getBBox(), to = path.getScreenCTM();
  return [box.width * to.a, box.height * to.d];
});
const page = document.querySelector("svg").getBoundingClientRect();
document.title = JSON.stringify({page: [page.width, page.height], all});
"""


@dataclass(frozen=True, slots=True)
class Measured:
    """What a browser measures, mm: size of the picture, and of every path in it."""

    page: tuple[float, float]
    paths: list[tuple[float, float]]


def in_browser(svg: bytes, folder: Path) -> Measured:
    """Open an SVG file in a page and measure it there."""
    browser = shutil.which("chromium") or shutil.which("chromium-browser")
    if browser is None:
        pytest.skip("chromium is not installed; on Debian: apt-get install chromium")
    page = folder / "page.xhtml"
    head = b'<html xmlns="http://www.w3.org/1999/xhtml"><head><title/></head><body style="margin:0">'
    page.write_bytes(head + svg + f"<script><![CDATA[{MEASURE}]]></script></body></html>".encode())
    quiet = ("--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={folder / 'profile'}")
    done = subprocess.run([browser, *quiet, "--dump-dom", page.as_uri()], capture_output=True, check=True, timeout=120)
    found = re.search(r"<title>(\{.*?)</title>", done.stdout.decode())
    assert found is not None
    said = json.loads(found[1])
    (wide, high), paths = said["page"], said["all"]
    return Measured((wide * PIXEL, high * PIXEL), [(a * PIXEL, b * PIXEL) for a, b in paths])


@pytest.mark.long
def test_svg_has_its_true_size_in_a_browser(made: Made, name: str, tmp_path: Path) -> None:
    with pypdfium2.PdfDocument(made.read(f"{name}.pdf")) as document:
        page = document[0].get_size()
        paper = scale(document[0].get_textpage().get_text_range()) * made.demo.unit
    measured = in_browser(made.read(f"{name}.svg"), tmp_path)
    assert measured.page == pytest.approx([size / MM for size in page], abs=0.05)
    assert has(measured.paths, *(size * paper for size in made.demo.whole[name]))
