"""Draw one sheet of each kind for the gallery: `.ci/gallery` writes drawings/gallery/*.svg and drawings/GALLERY.md."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from slotwright.drawings.svg import svg_bytes
from slotwright.records.reading import Where, parsed
from slotwright.sharing.design_file import design_from
from slotwright.sharing.make import drawings_of
from slotwright.sharing.set_up import SetUp, set_up_of
from slotwright.sharing.sheets import sheet_style
from slotwright.sharing.workspace import Workspace

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "drawings" / "GALLERY.md"
HEAD = """# Gallery

One sheet of each kind, drawn by the program: `.ci/gallery` makes this page and its pictures anew. Print the PDF files
that `slotwright make` writes; these are for the screen.
"""
TWO_UNITS = {
    "decimal": ",",
    "alternate": True,
    "revisions": [
        {"index": "A", "text": "First issue", "by": "lock gang"},
        {"index": "B", "text": "Dowel holes moved 9 mm off the middle", "by": "lock gang"},
    ],
}
LONG_BAR = {
    "overhang-front": "900 mm",
    "work-hole": [{"make": "clear", "thread": "M10", "at": ["30 mm", "70 mm", "420 mm"]}],
}
ROW = {"edge-chamfer": "2 mm", "work-hole": [
    {"make": "tapped", "thread": "M8", "row": {"first": "20 mm", "pitch": "22.5 mm", "number": 6}},
]}  # fmt: skip
SMALL = {"work-hole": [
    {"make": "tapped", "thread": "M3", "at": ["40 mm", "50 mm"], "across": "5 mm", "depth": "8 mm"},
    {"make": "tapped", "thread": "M3", "at": ["40 mm", "50 mm"], "across": "-5 mm", "depth": "8 mm"},
    {"make": "tapped", "thread": "M12", "at": ["110 mm", "140 mm"]},
]}  # fmt: skip
# File, caption, design in fixtures/, drawing, choices for [drawing], changes to its first fixture.
KINDS: tuple[tuple[str, str, str, str, dict[str, Any], dict[str, Any]], ...] = (
    ("bar-iso", "A bar by ISO, first angle, mm: section, position tolerances with exact figures, hole table.",
     "bonnet-outriggers-metric", "outrigger", {}, {}),
    ("bar-asme", "The same job by ASME in decimal inches, third angle.", "bonnet-outriggers", "outrigger", {}, {}),
    ("bar-broken", "A long bar, broken where it is plain; every figure is true.",
     "bonnet-outriggers-metric", "outrigger", {}, LONG_BAR),
    ("bar-rows", "A row at one pitch stands as one dimension.", "bonnet-outriggers-metric", "outrigger",
     {"style": "asme", "projection": "third"}, ROW),
    ("bar-detail", "Holes too small to read are enlarged.", "bonnet-outriggers-metric", "outrigger", {}, SMALL),
    ("bar-two-units", "Decimal comma, inches in brackets, revisions.",
     "bonnet-outriggers-metric", "outrigger", TWO_UNITS, {}),
    ("set-up-iso", "A set-up: the table from above, the stack of each bolt in section, parts list with balloons.",
     "bonnet-outriggers-metric", "set-up", {}, {}),
    ("set-up-asme", "A set-up in inches.", "bonnet-outriggers", "set-up", {}, {}),
    ("plate", "A plate with a register and bolt circles.", "valve-stem-chuck", "stem-chuck", {}, {}),
    ("flange", "A flange to be drilled anew.", "pump-flange-redrill", "pump-flange", {}, {}),
    ("vee-block", "A vee block.", "shaft-vee-blocks", "shaft-block", {}, {}),
    ("insert", "An insert with a tenon, and its pocket on a sheet of its own.", "stoplog-insert", "seat-pad", {}, {}),
    ("t-nut", "A T-nut.", "knee-mill-iron", "knee-t-nut", {}, {}),
)  # fmt: skip


def made(name: str, drawing: dict[str, Any], fixture: dict[str, Any]) -> SetUp:
    """Solve a demo design with other choices."""
    file = ROOT / "fixtures" / f"{name}.toml"
    data = parsed(file.read_bytes(), Where(file.name))
    data["drawing"] = data.get("drawing", {}) | drawing
    data["fixture"][0] |= fixture
    return set_up_of(design_from(data, file.name), Workspace(ROOT), name, file.name)


def pictures() -> dict[str, bytes]:
    """Return the pictures by file name, and the page."""
    files: dict[str, bytes] = {}
    page = [HEAD]
    for file, caption, design, name, drawing, fixture in KINDS:
        one = made(design, drawing, fixture)
        files[f"gallery/{file}.svg"] = svg_bytes(drawings_of(one)[name], sheet_style(one), 0)
        page.append(f"## {caption}\n\n![{caption}](gallery/{file}.svg)\n")
    files[PAGE.name] = "\n".join(page).encode()
    return files


if __name__ == "__main__":
    (PAGE.parent / "gallery").mkdir(parents=True, exist_ok=True)
    for file, data in pictures().items():
        (PAGE.parent / file).write_bytes(data)
