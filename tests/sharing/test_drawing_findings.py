"""What a drawing could not do is told by `make`, in report and findings.json, and by a pack; `check` draws nothing."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import replace
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from zipfile import ZipFile

from click.testing import CliRunner

from slotwright.cli import commands
from slotwright.drawings.paper.sheet import Anchor, Drawing, Text
from slotwright.drawings.proof import layout_findings, proof_of
from slotwright.findings import Severity
from slotwright.sharing.lists import findings_from
from slotwright.sharing.make import drawings_of, make
from slotwright.sharing.pack import pack_bytes
from slotwright.sharing.received import read_pack
from slotwright.sharing.set_up import SetUp, set_up
from tests.workshop import lay_out

TABLE = '[table]\nlength = "1000 mm"\nwidth = "260 mm"\nslots = { width = "14 mm", number = 4, pitch = "63 mm" }\n'
BAR = (
    '[[fixture]]\nkind = "hold-down-bar"\nname = "bar"\nwidth = "50 mm"\nthickness = "25 mm"\n'
    'overhang-front = "1400 mm"\noverhang-back = "5 mm"\n'
    '[[fixture.work-hole]]\nmake = "tapped"\nthread = "M4"\n'
    'row = {{ first = "12.5 mm", pitch = "{pitch}", number = {n} }}\n'
)


def _design(folder: Path, number: int, pitch: str) -> Path:
    return lay_out(folder, f'slotwright = 1\ntitle = "Rows"\nunit = "mm"\n{TABLE}{BAR.format(n=number, pitch=pitch)}')


def _made(folder: Path, number: int, pitch: str) -> SetUp:
    return set_up(_design(folder, number, pitch))


def test_a_clear_drawing_has_nothing_to_tell(tmp_path: Path) -> None:
    assert layout_findings(drawings_of(_made(tmp_path, 3, "30 mm"))) == ()


def test_what_stands_on_something_else_is_told_with_its_place(tmp_path: Path) -> None:
    """A word is planted over another one; places are counted from the lower left corner of the sheet."""
    drawing = drawings_of(_made(tmp_path, 3, "30 mm"))["bar"]
    sheet = drawing.sheets[0]
    word = next(m for m in sheet.marks if isinstance(m, Text) and m.text == "NOTES")
    twin = Text((word.at[0] + 1.0, word.at[1]), "OVER", word.height, Anchor.LEFT)
    spoilt = replace(drawing, sheets=(replace(sheet, marks=(*sheet.marks, twin)),))
    found = layout_findings({"bar": spoilt})
    assert [(f.code, f.severity) for f in found] == [("drawing-layout", Severity.CAUTION)] * len(proof_of(spoilt))
    assert any("NOTES" in f.message and "OVER" in f.message and f.place.startswith("bar, Sheet 1") for f in found)


def test_what_found_no_place_is_told(tmp_path: Path) -> None:
    drawing: Drawing = replace(drawings_of(_made(tmp_path, 3, "30 mm"))["bar"], lacks=("a hole has no tag",))
    assert [(f.place, f.message) for f in layout_findings({"bar": drawing})] == [("bar", "a hole has no tag")]


def test_crowded_rows_without_room_for_every_tag_are_told_in_file_and_report(tmp_path: Path) -> None:
    design = _design(tmp_path, 150, "6 mm")
    drawn = layout_findings(drawings_of(set_up(design)))
    assert any("no tag" in finding.message for finding in drawn)
    outcome = CliRunner().invoke(commands, ["make", str(design), "--out", str(tmp_path / "out")])
    assert "some holes have no tag" in outcome.output
    document = (tmp_path / "out" / design.stem / "findings.json").read_bytes()
    kept = [finding for finding in findings_from(document) if finding.code == "drawing-layout"]
    assert kept == list(drawn)
    assert "bar.dxf" in json.loads(document)["files"]


def test_a_pack_tells_it_too_beside_the_sums_of_its_drawings(tmp_path: Path) -> None:
    design = _design(tmp_path, 150, "6 mm")
    data = pack_bytes(design, set_up(design), beside=False, tell=lambda step: None)
    with ZipFile(BytesIO(data)) as archive:
        document, dxf = (archive.read(f"drawings/{name}") for name in ("findings.json", "bar.dxf"))
    told = [finding for finding in findings_from(document) if finding.code == "drawing-layout"]
    assert any("no tag" in finding.message for finding in told)
    assert told == list(layout_findings(drawings_of(read_pack(data, "bars.zip").made)))
    assert json.loads(document)["files"]["bar.dxf"] == sha256(dxf).hexdigest()


def test_make_alone_draws_for_its_findings(tmp_path: Path) -> None:
    made = _made(tmp_path, 3, "30 mm")
    files = make(made, tmp_path / "out", "out", tell=lambda step: None)
    assert findings_from(files["findings.json"]) == made.findings


def test_check_loads_no_drawing_library(tmp_path: Path) -> None:
    code = (
        "import sys; from pathlib import Path; from slotwright.sharing.set_up import set_up; "
        f"set_up(Path({str(_design(tmp_path, 3, '30 mm'))!r})); "
        "print([m for m in sys.modules if m.startswith(('slotwright.drawings', 'ezdxf', 'reportlab'))])"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert told.stdout.strip() == "[]"
