"""The same drawing gives the same bytes in another process, folder, time zone, locale and hash seed."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

CODE = """
import hashlib, locale, os, runpy, sys
try:
    locale.setlocale(locale.LC_ALL, "")
except locale.Error:
    pass
from slotwright.drawings.writers.dxf import dxf_bytes
from slotwright.drawings.writers.pdf import pdf_bytes
from slotwright.drawings.paper.style import style
from slotwright.drawings.writers.svg import svg_bytes
make = runpy.run_path(sys.argv[1])["plate_drawing"]
for unit, drawn in (("mm", style("iso", "mm", decimal=",")), ("in", style("asme", "in"))):
    drawing = make(unit)
    for data in (dxf_bytes(drawing, drawn), pdf_bytes(drawing, drawn), svg_bytes(drawing, drawn, 1)):
        print(hashlib.sha256(data).hexdigest())
    again = dxf_bytes(drawing, drawn), pdf_bytes(drawing, drawn)
    print(*(hashlib.sha256(data).hexdigest() for data in again))
"""


def _sums(folder: Path, **environment: str) -> list[str]:
    conftest = Path(__file__).with_name("conftest.py")
    run = subprocess.run(
        [sys.executable, "-c", CODE, str(conftest)],
        cwd=folder,
        env={"PATH": "", "HOME": str(folder), **environment},
        capture_output=True,
        text=True,
        check=True,
    )
    return run.stdout.splitlines()


@pytest.fixture(scope="module")
def here(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    return _sums(tmp_path_factory.mktemp("one"), PYTHONHASHSEED="1", TZ="UTC", LC_ALL="C")


def test_elsewhere(here: list[str], tmp_path: Path) -> None:
    folder = tmp_path / "eine Werkstatt"
    folder.mkdir()
    elsewhere = _sums(folder, PYTHONHASHSEED="4242", TZ="Pacific/Kiritimati", LC_ALL="de_DE.UTF-8", USER="someone")
    assert elsewhere == here


def test_a_second_time_in_the_same_process(here: list[str]) -> None:
    for sums in (here[:4], here[4:]):
        assert sums[3].split() == sums[:2]
