"""Start-up: help, version, a check and an error against the imports they cannot do without."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from benchmarks.timing import Claim, in_turn

DESIGN = "fixtures/bonnet-outriggers.toml"


def claims() -> Iterator[Claim]:
    """Measure and yield the claims about start-up."""
    slotwright = [str(Path(sys.executable).with_name("slotwright"))]
    with tempfile.TemporaryDirectory() as folder:
        bad = Path(folder) / "bad.toml"
        bad.write_text(Path(DESIGN).read_text(encoding="utf-8").replace('"7-1/2 in"', '"7,5 in"'), encoding="utf-8")
        help_, version, click = in_turn(
            [*slotwright, "--help"], [*slotwright, "--version"], ["-c", "import click"], runs=15
        )
        check, error, base = in_turn(
            [*slotwright, "check", DESIGN], [*slotwright, "make", str(bad)], ["-c", "import numpy, pint"], runs=9
        )
    yield Claim("`--help` / `import click`", help_ / click, 1.5)
    yield Claim("`--version` / `import click`", version / click, 1.5)
    yield Claim("`check` of a good design / `import numpy, pint`", check / base, 2.0)
    yield Claim("an error in a file / `import numpy, pint`", error / base, 2.0)
