"""Making the demo: cold against its floor and against a plain script; warm by itself."""

from __future__ import annotations

import pickle
import statistics
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from benchmarks.timing import Claim, in_turn
from slotwright.sharing.make import make
from slotwright.sharing.set_up import set_up

DESIGN = "fixtures/bonnet-outriggers.toml"

# The floor: process start, kernel import, building and writing the same STEP files; the solved design is handed over.
FLOOR = """
import pickle, sys
from pathlib import Path
import cadquery
from slotwright.sharing.make import solid_files
for name, data in solid_files(pickle.loads(Path(sys.argv[1]).read_bytes())).items():
    Path(sys.argv[2], name).write_bytes(data)
"""


def claims() -> Iterator[Claim]:
    """Measure and yield the claims about `make`."""
    slotwright = str(Path(sys.executable).with_name("slotwright"))
    with tempfile.TemporaryDirectory() as folder:
        solved = Path(folder) / "solved"
        solved.write_bytes(pickle.dumps(set_up(Path(DESIGN))))
        ours, floor, plain = in_turn(
            [slotwright, "make", DESIGN, "--out", folder],
            ["-c", FLOOR, str(solved), folder],
            ["benchmarks/plain_script.py", folder],
            runs=5,
        )
        yield Claim("cold `make` of the demo / its floor", ours / floor, 1.25, note=f"floor {floor:.2f} s")
        yield Claim("cold `make` of the demo / a plain script", ours / plain, 0.7, note=f"plain script {plain:.2f} s")
        yield Claim("warm `make` of the demo, seconds", _warm(Path(folder)), 0.25, note="median of 9, all files")


def _warm(folder: Path) -> float:
    made = set_up(Path(DESIGN))
    times = []
    for _ in range(10):
        start = time.perf_counter()
        make(set_up(Path(DESIGN)), folder / made.name, "out", tell=lambda step: None)
        times.append(time.perf_counter() - start)
    return statistics.median(times[1:])
