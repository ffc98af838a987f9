"""Start-up: help, version, a check and an error against the imports they cannot do without; then a check by itself."""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from benchmarks.timing import Claim, in_turn
from slotwright.sharing.set_up import set_up

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
    slowest, name = max((_own_time(path), path.stem) for path in sorted(Path("fixtures").glob("*.toml")))
    yield Claim("`check` of any demo after imports, seconds", slowest, 0.06, note=f"the slowest: {name}")


def _own_time(design: Path) -> float:
    """Median time of solving and checking a design once all is loaded, seconds."""
    times = []
    for _ in range(6):
        start = time.perf_counter()
        set_up(design)
        times.append(time.perf_counter() - start)
    return statistics.median(times[1:])
