"""Starter files: each is called what it makes, so that nobody's T-nut is printed as outrigger bars."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from slotwright.fixtures.family import families
from slotwright.sharing.starters import starter


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_only_bars_are_called_bars(unit: str, tmp_path: Path) -> None:
    titles = {kind: tomllib.loads(starter(kind, unit, None, tmp_path))["title"] for kind in families()}
    assert {kind for kind, title in titles.items() if "bars" in title} == {"hold-down-bar"}
    assert titles["t-nut"] == "T-nut"
    assert len(set(titles.values())) == len(titles)
