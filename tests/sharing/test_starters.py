"""Starter files: each is called what it makes, so that nobody's T-nut is printed as outrigger bars."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from slotwright.errors import DesignError
from slotwright.fixtures.family import families
from slotwright.sharing.set_up import set_up
from slotwright.sharing.starters import starter
from slotwright.sharing.table_list import table_rows
from tests.workshop import TABLE_MM, lay_out


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_only_bars_are_called_bars(unit: str, tmp_path: Path) -> None:
    titles = {kind: tomllib.loads(starter(kind, unit, None, tmp_path))["title"] for kind in families()}
    assert {kind for kind, title in titles.items() if "bars" in title} == {"hold-down-bar"}
    assert titles["t-nut"] == "T-nut"
    assert len(set(titles.values())) == len(titles)


def test_another_tables_fault_hinders_neither_list_nor_starter(tmp_path: Path) -> None:
    path = lay_out(tmp_path)
    (tmp_path / "parts" / "a-worn-mill.toml").write_text(TABLE_MM.replace('"14 mm"', '"14"'))
    rows = {row["name"]: row["slots"] for row in table_rows(tmp_path)}
    assert set(rows) == {"a-worn-mill", "inch-mill", "mill"}
    assert "slots.width: '14' has no unit" in rows["a-worn-mill"]
    assert rows["mill"].startswith("4 slots 14 mm wide")
    assert 'table = "mill"' in starter("fence", "mm", None, path.parent)


@pytest.mark.parametrize(
    ("row", "message"),
    [
        ('headspace-width = "13 mm"', "13 mm = 0.5118 in is no wider than the throat, 14 mm = 0.5512 in"),
        (
            'headspace-depth = "12 mm"\ndepth = "11 mm"',
            "11 mm = 0.4331 in is no deeper than the headspace alone, 12 mm",
        ),
        ('depth = "90 mm"', "75 mm = 2.9528 in is no more than the slots' depth, 90 mm"),
    ],
)
def test_a_slot_that_cannot_be_is_told_with_its_sizes(row: str, message: str, tmp_path: Path) -> None:
    path = lay_out(tmp_path)
    (tmp_path / "parts" / "mill.toml").write_text(TABLE_MM + row + "\n")
    with pytest.raises(DesignError, match=re.escape(message)):
        set_up(path)
