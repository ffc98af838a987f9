"""Draw sheets of every kind for the gallery: `.ci/gallery` writes drawings/gallery/*.svg and drawings/GALLERY.md."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from slotwright.drawings.paper.sheet import Drawing
from slotwright.drawings.writers.svg import svg_bytes
from slotwright.fixtures.scripted import load_scripts
from slotwright.records.reading import Where, parsed
from slotwright.sharing.card import card_of
from slotwright.sharing.card_sheet import card_drawing
from slotwright.sharing.design_file import design_from
from slotwright.sharing.make import drawings_of
from slotwright.sharing.set_up import SetUp, set_up, set_up_of
from slotwright.sharing.sheets import sheet_data, sheet_style
from slotwright.sharing.workspace import Workspace

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "drawings" / "GALLERY.md"
HEAD = """# Gallery

Sheets of every kind, drawn by the program: `.ci/gallery` makes this page and its pictures anew. Print the PDF files
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
# Kind, file, caption, design in fixtures/, drawing, choices for [drawing],
# changes to its first fixture.
SHEETS: tuple[tuple[str, str, str, str, str, dict[str, Any], dict[str, Any]], ...] = (
    ("hold-down-bar", "bar-iso", "By ISO, first angle, mm: section, position tolerances, exact figures, hole table.",
     "bonnet-outriggers-metric", "outrigger", {}, {}),
    ("hold-down-bar", "bar-asme", "The same job by ASME in decimal inches, third angle.",
     "bonnet-outriggers", "outrigger", {}, {}),
    ("hold-down-bar", "bar-broken", "A long bar, broken where it is plain; every figure is true.",
     "bonnet-outriggers-metric", "outrigger", {}, LONG_BAR),
    ("hold-down-bar", "bar-rows", "A row at one pitch stands as one dimension.",
     "bonnet-outriggers-metric", "outrigger", {"style": "asme", "projection": "third"}, ROW),
    ("hold-down-bar", "bar-detail", "Holes too small to read are enlarged.",
     "bonnet-outriggers-metric", "outrigger", {}, SMALL),
    ("hold-down-bar", "bar-two-units", "Decimal comma, inches in brackets, revisions.",
     "bonnet-outriggers-metric", "outrigger", TWO_UNITS, {}),
    ("hold-down-bar", "set-up-iso",
     "A set-up: the table from above, the stack of each bolt in section, parts list with balloons.",
     "bonnet-outriggers-metric", "set-up", {}, {}),
    ("hold-down-bar", "set-up-asme", "A set-up in inches.", "bonnet-outriggers", "set-up", {}, {}),
    ("clamp-vee", "nest", "Nothing to make: where straps and studs stand, with three lengths to set them by.",
     "pulley-nest", "set-up", {}, {}),
    ("vee-block", "vee-block", "A block of one section all along, with its picture.",
     "shaft-vee-blocks", "shaft-block", {}, {}),
    ("vee-block", "vee-block-set-up", "A matched pair on the table, a bolt cut through an ear.",
     "shaft-vee-blocks", "set-up", {}, {}),
    ("insert-plate", "insert", "A pad with a tenon on its back.", "stoplog-insert", "seat-pad", {}, {}),
    ("insert-plate", "insert-parent", "The slot it is let into.", "stoplog-insert", "seat-pad-parent", {}, {}),
    ("chuck-base", "chuck-base", "A plate with a register and a bolt circle.",
     "valve-stem-chuck", "stem-chuck", {}, {}),
    ("chuck-base", "chuck-base-set-up", "The plate out over the table's end.", "valve-stem-chuck", "set-up", {}, {}),
    ("redrill", "flange", "A flange to be drilled anew.", "pump-flange-redrill", "pump-flange", {}, {}),
    ("redrill", "jig", "The drill jig for it.", "pump-flange-redrill", "pump-flange-jig", {}, {}),
    ("grid-plate", "grid-plate", "Holes named like a map, with one table for all.",
     "lock-parts-grid", "grid-plate", {}, {}),
    ("grid-plate", "grid-plate-set-up", "The plate bolted and keyed to its table.",
     "lock-parts-grid", "set-up", {}, {}),
    ("fence", "fence", "A fence with a key groove across.", "gate-hinge-fence", "hinge-fence", {}, {}),
    ("fence", "fence-set-up", "The fence square to the slots.", "gate-hinge-fence", "set-up", {}, {}),
    ("slot-key", "slot-key", "A key ground to the slot.", "knee-mill-iron", "knee-key", {}, {}),
    ("t-nut", "t-nut", "A nut to the slot as measured.", "knee-mill-iron", "knee-t-nut", {}, {}),
    ("strap-clamp", "strap-clamp", "A clamp with its slot and heel screw.", "knee-mill-iron", "knee-strap", {}, {}),
    ("step-block", "step-block", "Treads of equal height.", "bay-two-iron", "step-block", {}, {}),
    ("riser", "riser", "One of a pair, with holes to lighten it.", "bay-two-iron", "riser-3", {}, {}),
    ("jack-pad", "jack-pad", "Seen from below, where its hole is.", "bay-two-iron", "jack-pad", {}, {}),
)  # fmt: skip
SCRIPTED = ("anvil-saddle", "A kind that a script of the shop's own defines",
            "Its views by hidden-line projection of the script's solid; the distances are those it names.")  # fmt: skip
CARD = ("card", "The card of a pack", "What is in a pack that another shop sends, on one page.",
        "bonnet-outriggers-metric")  # fmt: skip


def made(name: str, drawing: dict[str, Any], fixture: dict[str, Any]) -> SetUp:
    """Solve a demo design with other choices."""
    file = ROOT / "fixtures" / f"{name}.toml"
    data = parsed(file.read_bytes(), Where(file.name))
    data["drawing"] = data.get("drawing", {}) | drawing
    data["fixture"][0] |= fixture
    return set_up_of(design_from(data, file.name), Workspace(ROOT), name, file.name)


def scripted() -> SetUp:
    """Solve the demo design whose kind the script beside it defines."""
    folder = ROOT / "fixtures" / "scripts"
    return set_up(folder / f"{SCRIPTED[0]}.toml", load_scripts([folder / f"{SCRIPTED[0]}.py"]))


def card() -> tuple[Drawing, SetUp]:
    """Draw the card that a pack of a demo design carries."""
    one = made(CARD[3], {}, {})
    style = sheet_style(one)
    return card_drawing(card_of(one), drawings_of(one), sheet_data(one), style), one


def drawn() -> Iterator[tuple[str, str, str, Drawing, SetUp]]:
    """Yield heading, file and caption of each sheet with its drawing and its set-up."""
    drawings: dict[str, tuple[dict[str, Drawing], SetUp]] = {}
    for kind, file, caption, design, name, drawing, fixture in SHEETS:
        if drawing or fixture or design not in drawings:
            one = made(design, drawing, fixture)
            drawings[design if not (drawing or fixture) else file] = drawings_of(one), one
        found, one = drawings.get(file, drawings[design])
        yield kind, file, caption, found[name], one
    one = scripted()
    yield SCRIPTED[1], SCRIPTED[0], SCRIPTED[2], next(iter(drawings_of(one).values())), one
    yield CARD[1], CARD[0], CARD[2], *card()


def pictures() -> dict[str, bytes]:
    """Return the pictures by file name, and the page."""
    files: dict[str, bytes] = {}
    page, heading = [HEAD], ""
    for above, file, caption, drawing, one in drawn():
        if above != heading:
            heading = above
            page.append(f"## {heading}\n")
        files[f"gallery/{file}.svg"] = svg_bytes(drawing, sheet_style(one), 0)
        page.append(f"{caption}\n\n![{caption}](gallery/{file}.svg)\n")
    files[PAGE.name] = "\n".join(page).encode()
    return files


if __name__ == "__main__":
    (PAGE.parent / "gallery").mkdir(parents=True, exist_ok=True)
    made_now = pictures()
    for path in (PAGE.parent / "gallery").glob("*.svg"):
        if f"gallery/{path.name}" not in made_now:
            path.unlink()
    for file, data in made_now.items():
        (PAGE.parent / file).write_bytes(data)
