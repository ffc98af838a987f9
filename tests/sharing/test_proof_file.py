"""The proof of drawings from the command line: exit codes, lines, JSON, and one clear line for every bad file."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner
from ezdxf.filemanagement import new as new_document

from slotwright.cli import commands
from slotwright.drawings.paper.sheet import Drawing, Line, Mark, Stroke
from slotwright.drawings.paper.style import style
from slotwright.drawings.writers.dxf import dxf_bytes
from slotwright.errors import DesignError
from slotwright.sharing.proof_file import proof_file
from tests.drawings.small_sheet import ROOM, RX, RY, drawing, hold, over, plate


def written(folder: Path, name: str, one: Drawing) -> Path:
    path = folder / name
    path.write_bytes(dxf_bytes(one, style("iso", "mm")))
    return path


def test_clean_drawing_exits_0(tmp_path: Path) -> None:
    path = written(tmp_path, "plate.dxf", drawing())
    result = CliRunner().invoke(commands, ["proof", str(path)])
    assert (result.exit_code, result.output) == (0, f"{path.as_posix()}: 0 violations, 0 better avoided\n")


def test_violation_exits_3_and_names_file_sheet_field_and_place(tmp_path: Path) -> None:
    clean = written(tmp_path, "clean.dxf", drawing())
    bad = written(tmp_path, "bad.dxf", drawing(hold(ROOM), hold((RX, RY + 2.0))))
    result = CliRunner().invoke(commands, ["proof", str(clean), str(bad)])
    assert result.exit_code == 3
    assert result.output.splitlines() == [
        f"{clean.as_posix()}: 0 violations, 0 better avoided",
        f'{bad.as_posix()}: Sheet 1, A2, at 230, 120 mm: "HHHHHHHH" overlaps "HHHHHHHH" [text-on-text]',
        f"{bad.as_posix()}: 1 violation, 0 better avoided",
    ]


def test_what_is_only_better_avoided_exits_0(tmp_path: Path) -> None:
    x, y = 60.0, 130.0
    crossing: tuple[Mark, ...] = (Stroke(((x + 30.0, y + 1.0), (x + 30.0, y + 25.0)), Line.DIMENSION),)
    view = plate()
    second = replace(over(10.0), value=30.0, marks=crossing)
    path = written(tmp_path, "plate.dxf", drawing(view=replace(view, dimensions=(*view.dimensions, second))))
    result = CliRunner().invoke(commands, ["proof", str(path)])
    assert result.exit_code == 0
    assert "[dimension-line-crossed] (better avoided)" in result.output
    assert result.output.endswith("0 violations, 1 better avoided\n")


def test_json(tmp_path: Path) -> None:
    bad = written(tmp_path, "bad.dxf", drawing(hold(ROOM), hold((RX, RY + 2.0))))
    result = CliRunner().invoke(commands, ["proof", "--json", str(bad)])
    assert result.exit_code == 3
    (entry,) = json.loads(result.output)
    assert entry["file"] == bad.as_posix()
    assert entry["better-avoided"] == []
    (violation,) = entry["violations"]
    assert (violation["kind"], violation["sheet"], violation["zone"]) == ("text-on-text", "Sheet 1", "A2")
    assert violation["at"] == [230.0, 120.0]


def test_bad_files_say_what_is_wrong_in_one_line(tmp_path: Path) -> None:
    (tmp_path / "words.dxf").write_text("not a drawing", encoding="utf-8")
    new_document().saveas(tmp_path / "other.dxf")
    (tmp_path / "folder.dxf").mkdir()
    for name, problem in {
        "missing.dxf": "is not there",
        "words.dxf": "is no DXF file that can be read",
        "other.dxf": "is a DXF file of another program: our layers are not in it",
        "folder.dxf": "is a folder, not a file",
    }.items():
        with pytest.raises(DesignError) as caught:
            proof_file(tmp_path / name, name)
        assert str(caught.value).startswith(f"{name}: {problem}; ")
        assert "\n" not in str(caught.value)
