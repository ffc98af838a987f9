"""Write a sheet as SVG with the standard library alone; it opens in a browser at its true size.

The letters it uses are embedded, so it looks the same on a machine without any font, and as a picture in a page.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from html import escape
from math import cos, radians, sin

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.sheet import Arc, Circle, Drawing, Fill, Line, Mark, Point, Sheet, Stroke, Text
from slotwright.drawings.paper.style import Style
from slotwright.drawings.writers import embedded_font, ink

_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def svg_bytes(drawing: Drawing, style: Style, sheet_index: int = 0) -> bytes:
    """Return one sheet as an SVG file: user units are mm of paper, origin at the upper left.

    Args:
        drawing: the drawing.
        style: widths and dashes.
        sheet_index: which sheet, from 0.

    Raises:
        IndexError: there is no such sheet.
    """
    sheet = drawing.sheets[sheet_index]
    return ("\n".join(_lines(drawing, sheet, style, sheet_index)) + "\n").encode()


def _lines(drawing: Drawing, sheet: Sheet, style: Style, index: int) -> Iterator[str]:
    groups = tuple(ink.groups(sheet))
    width, height = _number(sheet.width), _number(sheet.height)
    yield (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}">'
    )
    yield f"<title>{_xml(drawing.title)}</title>"
    words = [f"sheet {index + 1} of {len(drawing.sheets)}", *(f"{key}: {value}" for key, value in drawing.properties)]
    yield f"<desc>{_xml('; '.join(words))}</desc>"
    yield f"<style>{_face(groups)}{_rules(style)}</style>"
    yield from _windows(sheet)
    yield f'<rect class="paper" width="{width}" height="{height}"/>'
    dimensions = 0
    for group in groups:
        dimensions += group.layer is ink.Layer.DIMENSION
        yield _opening(group, dimensions)
        yield from _marks(group.marks, style, sheet.height)
        yield "</g>"
    yield "</svg>"


def _face(groups: Iterable[ink.Group]) -> str:
    """The lettering font, cut to what is lettered here."""
    texts = (mark.text for group in groups for mark in group.marks if isinstance(mark, Text))
    characters = frozenset("".join(map(lettering.safe, texts)))
    if not characters:
        return ""
    return f"@font-face{{font-family:'{lettering.FAMILY}';src:url({embedded_font.data_uri(characters)})}}"


def _rules(style: Style) -> str:
    """Style sheet: a class a kind of line."""
    family = ",".join(f"'{name}'" if " " in name else name for name in (lettering.FAMILY, *lettering.RELATIVES))
    rules = [
        "path,circle{fill:none;stroke:#000;stroke-linecap:round;stroke-linejoin:round}",
        f"text{{font-family:{family};fill:#000;white-space:pre}}",
        ".paper{fill:#fff}",
        "path.fill{fill:#000;stroke:none}",
    ]
    rules += [f".{line.value}{{stroke-width:{_number(style.line_width(line))}}}" for line in Line]
    rules.append("[stroke-dasharray]{stroke-linecap:butt!important}")
    return "".join(rules)


def _windows(sheet: Sheet) -> Iterator[str]:
    for number, view in enumerate(sheet.views, 1):
        if view.frame is not None:
            x0, y0, x1, y1 = view.frame
            box = f'x="{_number(x0)}" y="{_number(sheet.height - y1)}"'
            size = f'width="{_number(x1 - x0)}" height="{_number(y1 - y0)}"'
            yield f'<clipPath id="window-{number}"><rect {box} {size}/></clipPath>'


def _opening(group: ink.Group, dimension: int) -> str:
    clip = f' clip-path="url(#window-{group.number})"' if group.clip is not None else ""
    match group.layer:
        case ink.Layer.VIEW:
            return f'<g class="view" id="view-{group.number}"{clip}><title>{_xml(group.name)}</title>'
        case ink.Layer.DIMENSION:
            return f'<g class="dimensioning" id="dimension-{dimension}"{clip}>'
        case ink.Layer.SHEET:
            return '<g class="sheet" id="sheet">'


def _marks(marks: tuple[Mark, ...], style: Style, top: float) -> Iterator[str]:
    """Lines kind by kind, an unbroken kind as one path; then fills and letters."""
    by_line: dict[Line, list[Stroke | Circle | Arc]] = {}
    for mark in marks:
        if isinstance(mark, Stroke | Circle | Arc):
            by_line.setdefault(mark.line, []).append(mark)
    for line, lines in by_line.items():
        pattern = style.dashes(line)
        paths = [mark for mark in lines if not isinstance(mark, Circle)]
        if paths and not pattern:
            yield f'<path class="{line.value}" d="{"".join(_path(mark, top) for mark in paths)}"/>'
        for mark in lines if pattern else [mark for mark in lines if isinstance(mark, Circle)]:
            yield _line(mark, pattern, top)
    for mark in marks:
        if isinstance(mark, Fill):
            yield f'<path class="fill {mark.line.value}" d="{_points(mark.points, top)}Z"/>'
        elif isinstance(mark, Text) and lettering.safe(mark.text):
            yield _text(mark, top)


def _line(mark: Stroke | Circle | Arc, pattern: tuple[float, ...], top: float) -> str:
    factor = ink.dash_scale(pattern, mark) if pattern else None
    dashes = ""
    if factor is not None:
        dashes = f' stroke-dasharray="{" ".join(_number(part * factor) for part in pattern)}"'
    if isinstance(mark, Circle):
        centre = f'cx="{_number(mark.centre[0])}" cy="{_number(top - mark.centre[1])}"'
        return f'<circle class="{mark.line.value}" {centre} r="{_number(mark.radius)}"{dashes}/>'
    return f'<path class="{mark.line.value}" d="{_path(mark, top)}"{dashes}/>'


def _path(mark: Stroke | Circle | Arc, top: float) -> str:
    if isinstance(mark, Stroke):
        return _points(mark.points, top) + ("Z" if mark.closed else "")
    if isinstance(mark, Arc):
        return _arc(mark, top)
    raise TypeError("circles have an element of their own")


def _points(points: tuple[Point, ...], top: float) -> str:
    return "M" + "L".join(f"{_number(x)} {_number(top - y)}" for x, y in points)


def _arc(arc: Arc, top: float) -> str:
    """Two pieces, since one arc command can't be a full turn; counter-clockwise on paper is sweep flag 0 here."""
    turn, radius = ink.sweep(arc), _number(arc.radius)
    angles = [radians(arc.start + part * turn) for part in (0.0, 0.5, 1.0)]
    a, b, c = (
        f"{_number(arc.centre[0] + arc.radius * cos(t))} {_number(top - arc.centre[1] - arc.radius * sin(t))}"
        for t in angles
    )
    return f"M{a}A{radius} {radius} 0 0 0 {b}A{radius} {radius} 0 0 0 {c}"


def _text(mark: Text, top: float) -> str:
    x, y = ink.start_of(mark)
    words = lettering.safe(mark.text)
    place = f'x="{_number(x)}" y="{_number(top - y)}"'
    turn = f' transform="rotate({_number(-mark.angle)} {_number(x)} {_number(top - y)})"' if mark.angle else ""
    size = f'font-size="{_number(mark.height * lettering.EM)}"'
    fit = f'textLength="{_number(lettering.width(mark.text, mark.height))}" lengthAdjust="spacingAndGlyphs"'
    return f"<text {place} {size} {fit}{turn}>{_xml(words)}</text>"


def _xml(words: str) -> str:
    return escape(_NOT_XML.sub("", words), quote=True)


def _number(value: float) -> str:
    """Write a micrometre-true number as short as it gets."""
    written = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if written in ("-0", "") else written
