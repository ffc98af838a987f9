"""A small workshop for tests: one metric table, one inch table, a rack and a drawer, written into a folder."""

from __future__ import annotations

from pathlib import Path

TABLE_MM = """
slotwright = 1
part = "table"
title = "Test table"
unit = "mm"
length = "1000 mm"
width = "260 mm"
load = "200 kg"
[slots]
width = "14 mm"
number = 4
pitch = "63 mm"
"""

TABLE_IN = """
slotwright = 1
part = "table"
title = "Inch test table"
unit = "in"
length = "42 in"
width = "9 in"
[slots]
width = "9/16 in"
number = 3
pitch = "2-1/2 in"
"""

RACK = """
slotwright = 1
part = "rack"
[[bar]]
name = "flat-40x20"
width = "40 mm"
thickness = "20 mm"
material = "S235JR"
longest = "2000 mm"
"""

DRAWER = """
slotwright = 1
part = "drawer"
taps = ["M12"]
reamers = ["10 mm"]
"""

DESIGN = """
slotwright = 1
title = "Test bars"
unit = "mm"
table = "mill"

[[fixture]]
kind = "hold-down-bar"
name = "bar"
stock = "flat-40x20"
length = "300 mm"
overhang-front = "20 mm"

[[fixture.work-hole]]
make = "tapped"
thread = "M12"
at = ["30 mm"]
"""


def lay_out(folder: Path, design: str = DESIGN, name: str = "bars") -> Path:
    """Write the workshop into a folder; return the design file."""
    (folder / "parts").mkdir(parents=True, exist_ok=True)
    (folder / "fixtures").mkdir(exist_ok=True)
    parts = {"mill": TABLE_MM, "inch-mill": TABLE_IN, "rack": RACK, "drawer": DRAWER}
    for part, text in parts.items():
        (folder / "parts" / f"{part}.toml").write_text(text, encoding="utf-8")
    path = folder / "fixtures" / f"{name}.toml"
    path.write_text(design, encoding="utf-8")
    return path
