"""Files of a pack, looked through before they may lie in a workspace: papers that only show, and nothing that acts.

Spreadsheets run formulas, browsers run scripts, PDF viewers run actions, and signs that do not print make a text look
like another. Our own files hold none of these, so whatever does is refused. This is no virus scanner.
"""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from collections.abc import Callable

from slotwright.records.reading import Where
from slotwright.sharing.lists import is_formula

MOST_BYTES = {"csv": 500_000, "json": 500_000, "txt": 200_000, "svg": 8_000_000, "pdf": 8_000_000}
"""Longest file by its ending, bytes; the others go as far as the pack itself lets them."""
MOST_LISTS = 4_000_000
"""All lists of a pack together, bytes: they are read cell by cell."""

_PRINTING = bytes((*range(0x20, 0x7F), 0x09, 0x0A, 0x0D))
_SVG_ELEMENTS = {"svg", "title", "desc", "style", "clipPath", "rect", "g", "path", "circle", "text"}
_SVG_TAG = re.compile(r"<[/\s]*([^\s/>]*)")
_SVG_FACE = re.compile(
    r"<style>@font-face\{font-family:'[A-Za-z ]{1,40}';src:url\(data:font/ttf;base64,AAEAAA[A-Za-z0-9+/=]{1,80000}\)\}"
)
"""How an embedded font begins the style sheet: plain TrueType, as browsers check it before they use it."""
_SVG_ACTS = re.compile(
    r"""\s(?:on\w+|style|src|[\w:.-]*href)\s*=\s*["']|@import|url\((?!#window-[0-9]+\))""", re.IGNORECASE
)
# Every action names its sort by one of these; shorter keys would be met by chance in packed bytes.
_PDF_ACTS = re.compile(
    rb"/(?:JavaScript|Launch|OpenAction|AcroForm|EmbeddedFile|Filespec|RichMedia|SubmitForm|ImportData"
    rb"|GoTo[RE]|ObjStm|Encrypt|Movie|Sound|Rendition"
    rb"|(?:URI|XFA)(?=[\s(/<\[]))"
)
_DXF_OTHERS = re.compile(
    r"^(?:OLE2?FRAME|IMAGE(?:DEF)?|(?:PDF|DGN|DWF)(?:UNDERLAY|DEFINITION)|ACAD_PROXY_(?:ENTITY|OBJECT)|VBA_PROJECT)$",
    re.MULTILINE,
)
_PDF_SPELLED = re.compile(rb"#([0-9A-Fa-f]{2})")
_BEGINS = {"step": (b"ISO-10303-21;",), "dxf": (b"  0\nSECTION\n",), "pdf": (b"%PDF-1.",), "svg": (b"<svg ",)}
_REMEDY = "ask who sent it; `slotwright make` draws it anew from the design"


def look_through(files: dict[str, bytes], where: Where) -> None:
    """Look through all files of a pack. Errors: DesignError for the first that is more than a paper."""
    lists = sum(len(data) for name, data in files.items() if name.endswith((".csv", ".json")))
    if lists > MOST_LISTS:
        raise where.error(f"holds {lists} bytes of lists, more than {MOST_LISTS}", _REMEDY)
    for name, data in files.items():
        _look_at(name.rpartition(".")[2], data, where.at(name))


def _look_at(ending: str, data: bytes, where: Where) -> None:
    most = MOST_BYTES.get(ending)
    if most is not None and len(data) > most:
        raise where.error(f"is {len(data)} bytes, more than {most}", _REMEDY)
    if not data.startswith(_BEGINS.get(ending, (b"",))):
        raise where.error(f"is no {ending.upper()} file as the program writes it", _REMEDY)
    if ending == "pdf":
        _look_at_pdf(data, where)
        return
    text = plain_text(data, where)
    look = _LOOKS.get(ending)
    if look is not None:
        look(text, where)


def plain_text(data: bytes, where: Where) -> str:
    """Return a text file's text. Errors: DesignError when it is not UTF-8 or holds signs that do not print."""
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError:
        raise where.error("is not UTF-8 text", _REMEDY) from None
    odd = set(data.translate(None, _PRINTING).decode("utf-8"))
    for char in sorted(odd):
        if not char.isprintable() or unicodedata.category(char) == "Cf":
            raise where.error(f"holds a sign that does not print (U+{ord(char):04X})", _REMEDY)
    return text


def _look_at_csv(text: str, where: Where) -> None:
    try:
        for row in csv.reader(io.StringIO(text), strict=True):
            if any(is_formula(cell) for cell in row):
                raise where.error("holds a cell that a spreadsheet takes for a formula", _REMEDY)
    except csv.Error:
        raise where.error("is no sound CSV text", _REMEDY) from None


def _look_at_svg(text: str, where: Where) -> None:
    strange = set(_SVG_TAG.findall(text)) - _SVG_ELEMENTS
    if strange or _SVG_ACTS.search(_SVG_FACE.sub("<style>", text, count=1)):
        raise where.error("holds more than lines and letters", _REMEDY)


def _look_at_dxf(text: str, where: Where) -> None:
    if _DXF_OTHERS.search(text):
        raise where.error("holds more than lines and letters, such as pictures or other files", _REMEDY)


def _look_at_pdf(data: bytes, where: Where) -> None:
    if data.count(b"#") > 100 + len(data) // 64:  # four times as many as packed bytes hold by chance
        raise where.error("spells its names in a way no drawing does", _REMEDY)
    spelled_out = _PDF_SPELLED.sub(lambda match: bytes((int(match[1], 16),)), data)
    if _PDF_ACTS.search(data) or _PDF_ACTS.search(spelled_out):
        raise where.error("holds more than pages, such as actions or other files", _REMEDY)


_LOOKS: dict[str, Callable[[str, Where], None]] = {"csv": _look_at_csv, "svg": _look_at_svg, "dxf": _look_at_dxf}
