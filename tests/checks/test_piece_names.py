"""Files are named by their piece: two of one name would be one file, which loses a drawing."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from slotwright.errors import DesignError
from slotwright.findings import Finding
from slotwright.sharing.make import drawings_of, paper_files
from slotwright.sharing.set_up import set_up

TABLE = 'slots = { width = "14 mm", number = 3, pitch = "63 mm" }\nlength = "1 m"\nwidth = "280 mm"\nname = "t1"\n'
HEAD = 'slotwright = 1\ntitle = "Gate hinges"\n[table]\n' + TABLE
BAR = '[[fixture]]\nkind = "hold-down-bar"\nname = "NAME"\nwidth = "60 mm"\nthickness = "30 mm"\nlength = "300 mm"\n'
FENCE = '[[fixture]]\nkind = "fence"\nname = "fence"\nwidth = "60 mm"\nthickness = "30 mm"\nlength = "200 mm"\n'
KEY = '[[fixture]]\nkind = "slot-key"\nname = "NAME"\nlength = "40 mm"\n'


def _written(folder: Path, design: str) -> Path:
    file = folder / "hinges.toml"
    file.write_text(design)
    return file


def _taken(folder: Path, design: str) -> list[Finding]:
    return [finding for finding in set_up(_written(folder, design)).findings if finding.code == "piece-name-taken"]


@pytest.mark.parametrize(
    ("design", "names"),
    [
        pytest.param(HEAD + FENCE + KEY.replace("NAME", "fence-key"), ["fence-key"], id="key named as the fence's own"),
        pytest.param(HEAD + FENCE + KEY.replace("NAME", "slot-key"), [], id="key of another name"),
        pytest.param(HEAD + BAR.replace("NAME", "set-up"), ["set-up"], id="bar named as the lay-out"),
        pytest.param(HEAD + BAR.replace("NAME", "set-up-t1"), [], id="as it would be with several tables"),
        pytest.param(HEAD + BAR.replace("NAME", "bar") + "quantity = 3\n", [], id="copies are one piece"),
    ],
)
def test_stops_where_files_would_replace_each_other(tmp_path: Path, design: str, names: list[str]) -> None:
    assert [finding.place for finding in _taken(tmp_path, design)] == names


def test_with_several_tables_each_lay_out_has_its_name(tmp_path: Path) -> None:
    two = "[[tables]]\n" + TABLE + "[[tables]]\n" + TABLE.replace("t1", "t2")
    design = 'slotwright = 1\ntitle = "Gate hinges"\n' + two + BAR.replace("NAME", "set-up-t2")
    assert [finding.place for finding in _taken(tmp_path, design)] == ["set-up-t2"]


@pytest.mark.parametrize(("table", "names"), [("holes", ["hardware"]), ("planer", [])])
def test_a_list_of_bolts_is_not_a_pieces_list_of_holes(table: str, names: list[str], tmp_path: Path) -> None:
    two = "[[tables]]\n" + TABLE + "[[tables]]\n" + TABLE.replace("t1", table)
    design = 'slotwright = 1\ntitle = "Gate hinges"\n' + two + BAR.replace("NAME", "hardware")
    assert [finding.place for finding in _taken(tmp_path, design)] == names


def test_a_second_sheet_never_replaces_another_pieces_drawing(tmp_path: Path) -> None:
    """The second sheet is put there by hand, for how many a piece needs goes by the sheets' look."""
    made = set_up(_written(tmp_path, HEAD + FENCE + BAR.replace("NAME", "fence-2")))
    drawings = drawings_of(made)
    first = drawings["fence"]
    assert len(paper_files(made, drawings)) > 0  # one sheet each: all have names of their own
    drawings["fence"] = replace(first, sheets=(first.sheets[0], first.sheets[0]))
    with pytest.raises(DesignError, match=r"makes fence-2\.svg twice: of piece fence-2, and of sheet 2 of fence"):
        paper_files(made, drawings)
