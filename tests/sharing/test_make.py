"""What `make` writes, read back: STEP by the kernel, DXF by GDAL, CSV as text, and the table's slots agree."""

from __future__ import annotations

import csv
import io
import json
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from slotwright.sharing.make import make, paper_files, solid_files
from slotwright.sharing.set_up import SetUp, set_up
from tests.dxf_by_gdal import circles
from tests.kernel_reading import holes, read_step
from tests.workshop import lay_out

EVEN_METRIC = '[table]\nunit = "mm"\nlength = "1000 mm"\nwidth = "260 mm"\nslots = { width = "14 mm", number = 4, pitch = "63 mm" }\n'
EVEN_INCH = '[table]\nunit = "in"\nlength = "42 in"\nwidth = "9 in"\nslots = { width = "9/16 in", number = 3, pitch = "2-1/2 in" }\n'
UNEVEN = (
    '[table]\nunit = "in"\nlength = "42 in"\nwidth = "9 in"\n[table.slots]\nwidth = "5/8 in"\n'
    'centres = ["1-29/32 in", "4.513 in", "7-3/64 in"]\nheadspace-width = "1-3/32 in"\nheadspace-depth = ".47 in"\ndepth = "1.03 in"\n'
)
BAR = """
[[fixture]]
kind = "hold-down-bar"
name = "bar"
width = "50 mm"
thickness = "25 mm"
overhang-front = "40 mm"
overhang-back = "-5 mm"
heads = "{heads}"

[[fixture.work-hole]]
make = "tapped"
thread = "M8"
row = {{ first = "15.123 mm", pitch = "17.5 mm", number = 2 }}
across = "11 mm"
depth = "9 mm"
"""
TABLES = {
    # slot centres from the front edge, mm, by hand
    "even-metric": ("mm", EVEN_METRIC, [35.5, 98.5, 161.5, 224.5]),
    "even-inch": ("in", EVEN_INCH, [2.0 * 25.4, 4.5 * 25.4, 7.0 * 25.4]),
    "uneven-measured": ("in", UNEVEN, [1.90625 * 25.4, 4.513 * 25.4, 7.046875 * 25.4]),
}


def design(tmp_path: Path, name: str, heads: str = "proud") -> SetUp:
    unit, table, _ = TABLES[name]
    text = f'slotwright = 1\ntitle = "Read back"\nunit = "{unit}"\n{table}{BAR.format(heads=heads)}'
    return set_up(lay_out(tmp_path, text))


@pytest.mark.parametrize("heads", ["proud", "sunk"])
@pytest.mark.parametrize("name", TABLES)
def test_step_dxf_csv_and_slot_centres_agree(tmp_path: Path, name: str, heads: str) -> None:
    made = design(tmp_path, name, heads)
    unit, _, centres = TABLES[name]
    files = solid_files(made) | paper_files(made)
    factor = 25.4 if unit == "in" else 1.0
    rows = list(csv.DictReader(io.StringIO(files["bar-holes.csv"].decode())))
    by_csv = sorted(
        (float(r[f"x_{unit}"]) * factor, float(r[f"y_{unit}"]) * factor, float(r[f"diameter_{unit}"]) * factor)
        for r in rows
    )

    bolts = [r for r in rows if r["for"] == "table"]
    xs = sorted(float(r[f"x_{unit}"]) * factor for r in bolts)
    np.testing.assert_allclose(xs, [40.0 + y for y in centres], rtol=0, atol=1e-6)

    cylinders = holes(read_step(files["bar.step"]).parts[0].shape)
    found = sorted((c.start[0], c.start[1], 2 * c.radius) for c in cylinders)
    drilled = [c for c in found if any(abs(c[2] - d) < 1e-6 for *_, d in by_csv)]
    np.testing.assert_allclose(drilled, by_csv, rtol=0, atol=1e-6)

    drawn = {
        (round(x * factor, 6), round(y * factor, 6), round(2 * r * factor, 6)) for x, y, r in circles(files["bar.dxf"])
    }
    for x, y, d in by_csv:
        assert any(abs(x - cx) < 1e-6 and abs(y - cy) < 1e-6 and abs(d - cd) < 1e-6 for cx, cy, cd in drawn)


def test_files_of_a_set_up_and_its_sums(tmp_path: Path) -> None:
    made = design(tmp_path, "even-metric")
    folder = tmp_path / "drawings" / "bars"
    files = make(made, folder, "drawings/bars", tell=lambda step: None)
    expected = {
        "bar.step", "bar.dxf", "bar.pdf", "bar.svg", "bar-holes.csv", "set-up.step", "set-up.dxf", "set-up.pdf",
        "set-up.svg", "cut-list.csv", "hardware.csv", "findings.json",
    }  # fmt: skip
    assert expected <= set(files)
    assert {path.name for path in folder.iterdir()} == set(files)
    findings = json.loads(files["findings.json"])
    assert set(findings["files"]) == set(files) - {"findings.json"}
    hardware = list(csv.DictReader(io.StringIO(files["hardware.csv"].decode())))
    assert {(row["item"], row["quantity"]) for row in hardware} == {
        ("T-nut", "4"),
        ("stud", "4"),
        ("washer", "4"),
        ("hex nut", "4"),
    }


PROGRAM = """
import sys
from pathlib import Path
from slotwright.sharing.make import make
from slotwright.sharing.set_up import set_up
made = set_up(Path(sys.argv[1]))
for out in sys.argv[2:]:
    make(made, Path(out), "out", tell=lambda step: None)
"""


@pytest.mark.long
def test_every_byte_is_the_same_elsewhere_and_again(tmp_path: Path) -> None:
    """Another folder, time zone, locale, hash seed and day; and a second run in the same process."""
    results = []
    surroundings = [
        {"PYTHONHASHSEED": "1", "TZ": "UTC", "LC_ALL": "C"},
        {"PYTHONHASHSEED": "99", "TZ": "Asia/Kolkata", "LC_ALL": "C.UTF-8", "SOURCE_DATE_EPOCH": "86400"},
    ]
    for number, around in enumerate(surroundings):
        root = tmp_path / f"folder {number}"
        unit, table, _ = TABLES["uneven-measured"]
        text = f'slotwright = 1\ntitle = "Same bytes"\nunit = "{unit}"\n{table}{BAR.format(heads="sunk")}'
        path = lay_out(root, text)
        outs = [root / "first", root / "second"]
        subprocess.run([sys.executable, "-c", PROGRAM, path, *outs], check=True, env={**os.environ, **around}, cwd=root)
        results += [{file.name: file.read_bytes() for file in out.iterdir()} for out in outs]
    first, *others = results
    assert len(first) >= 12
    for other in others:
        assert {name for name in first if first[name] != other.get(name)} == set()
