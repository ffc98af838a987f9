"""Write a drawing as PDF: vector, true to scale, lettered in the embedded font. The only user of reportlab."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from io import BytesIO
from math import cos, radians, sin

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.sheet import Arc, Circle, Drawing, Fill, Line, Mark, Sheet, Stroke, Text
from slotwright.drawings.paper.style import Style
from slotwright.drawings.writers import ink

POINTS_PER_MM = 72.0 / 25.4
FONT = "SlotwrightLettering"
BUTT, ROUND = 0, 1
_SETTINGS = {"invariant": 1, "useA85": 0, "pdfComments": 0, "ttfAsciiReadable": 0}


def pdf_bytes(drawing: Drawing, style: Style) -> bytes:
    """Return the drawing as a PDF file, a page a sheet, 1 mm of paper being 1 mm.

    The same drawing gives the same bytes: no date, no random id.
    """
    with _settled():
        return _written(drawing, style)


@contextmanager
def _settled() -> Iterator[None]:
    """Keep a user's own settings of the library, and a date from the environment, from changing a byte."""
    kept = {name: getattr(rl_config, name) for name in _SETTINGS}
    date = os.environ.pop("SOURCE_DATE_EPOCH", None)
    try:
        for name, value in _SETTINGS.items():
            setattr(rl_config, name, value)
        yield
    finally:
        for name, value in kept.items():
            setattr(rl_config, name, value)
        if date is not None:
            os.environ["SOURCE_DATE_EPOCH"] = date


def _written(drawing: Drawing, style: Style) -> bytes:
    _register_font()
    stream = BytesIO()
    first = drawing.sheets[0]
    canvas = Canvas(
        stream,
        pagesize=_page(first),
        pageCompression=1,
        invariant=1,
        initialFontName=FONT,  # else every page would name a font that is not embedded
        pdfVersion=(1, 4),
    )
    _set_properties(canvas, drawing)
    for sheet in drawing.sheets:
        canvas.setPageSize(_page(sheet))
        _draw_sheet(canvas, sheet, style)
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


@cache
def _register_font() -> None:
    pdfmetrics.registerFont(TTFont(FONT, BytesIO(lettering.font_bytes())))


def _page(sheet: Sheet) -> tuple[float, float]:
    return sheet.width * POINTS_PER_MM, sheet.height * POINTS_PER_MM


def _set_properties(canvas: Canvas, drawing: Drawing) -> None:
    words = "; ".join(f"{key}: {value}" for key, value in drawing.properties)
    canvas.setTitle(drawing.title)
    canvas.setSubject(words)
    canvas.setAuthor("")
    canvas.setKeywords([value for _, value in drawing.properties])
    canvas.setCreator("Slotwright")
    canvas.setProducer("Slotwright")


def _draw_sheet(canvas: Canvas, sheet: Sheet, style: Style) -> None:
    canvas.scale(POINTS_PER_MM, POINTS_PER_MM)
    canvas.setLineJoin(ROUND)
    for group in ink.groups(sheet):
        if group.clip is None:
            _draw_marks(canvas, group.marks, style)
            continue
        canvas.saveState()
        x0, y0, x1, y1 = group.clip
        window = canvas.beginPath()
        window.rect(x0, y0, x1 - x0, y1 - y0)
        canvas.clipPath(window, stroke=0, fill=0)
        _draw_marks(canvas, group.marks, style)
        canvas.restoreState()


def _draw_marks(canvas: Canvas, marks: tuple[Mark, ...], style: Style) -> None:
    """Draw the lines kind by kind, so that widths change seldom, then fills and letters."""
    by_line: dict[Line, list[Stroke | Circle | Arc]] = {}
    for mark in marks:
        if isinstance(mark, Stroke | Circle | Arc):
            by_line.setdefault(mark.line, []).append(mark)
    for line, lines in by_line.items():
        _draw_lines(canvas, line, lines, style)
    for mark in marks:
        if isinstance(mark, Fill):
            _draw_fill(canvas, mark)
        elif isinstance(mark, Text):
            _draw_text(canvas, mark)


def _draw_lines(canvas: Canvas, line: Line, lines: list[Stroke | Circle | Arc], style: Style) -> None:
    canvas.setLineWidth(style.line_width(line))
    pattern = style.dashes(line)
    if not pattern:
        canvas.setLineCap(ROUND)
        path = canvas.beginPath()
        for mark in lines:
            _trace(path, mark)
        canvas.drawPath(path, stroke=1, fill=0)
        return
    canvas.setLineCap(BUTT)
    for mark in lines:
        factor = ink.dash_scale(pattern, mark)
        canvas.setDash([round(part * factor, 4) for part in pattern] if factor is not None else [])
        path = canvas.beginPath()
        _trace(path, mark)
        canvas.drawPath(path, stroke=1, fill=0)
    canvas.setDash([])


def _trace(path: PDFPathObject, mark: Stroke | Circle | Arc | Fill) -> None:
    """Add a mark to a path object of the library."""
    match mark:
        case Stroke(points, _, closed):
            _trace_points(path, points, closed=closed)
        case Fill(points):
            _trace_points(path, points, closed=True)
        case Circle((x, y), radius):
            path.circle(x, y, radius)
        case Arc((x, y), radius, start):
            path.arc(x - radius, y - radius, x + radius, y + radius, start, ink.sweep(mark))


def _trace_points(path: PDFPathObject, points: tuple[tuple[float, float], ...], *, closed: bool) -> None:
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    if closed:
        path.close()


def _draw_fill(canvas: Canvas, mark: Fill) -> None:
    path = canvas.beginPath()
    _trace(path, mark)
    canvas.drawPath(path, stroke=0, fill=1)


def _draw_text(canvas: Canvas, mark: Text) -> None:
    words = lettering.safe(mark.text)
    if not words:
        return
    x, y = ink.start_of(mark)
    c, s = cos(radians(mark.angle)), sin(radians(mark.angle))
    text = canvas.beginText()
    text.setFont(FONT, mark.height * lettering.EM)
    text.setTextTransform(c, s, -s, c, x, y)
    text.textOut(words)
    canvas.drawText(text)
