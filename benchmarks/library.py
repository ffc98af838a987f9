"""A library of ten thousand designs: working out its index, and finding something in it."""

from __future__ import annotations

import os
import statistics
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from random import Random

from benchmarks.timing import Claim, in_turn
from slotwright.sharing.library import Found, find
from slotwright.sharing.library_index import Wish

NUMBER = 10_000
SHOPS = 20
CORES = 2
WORDS = ("bonnet", "paddle gear", "gudgeon", "rack rail", "winding post", "stop log", "sluice", "balance beam")

TABLE = """slotwright = 1
part = "table"
title = "Mill {number}"
length = "1100 mm"
width = "{width} mm"
slots = {{ width = "{slot} mm", number = {slots}, pitch = "63 mm" }}
"""
DESIGN = """slotwright = 1
title = "Bars for a {word}, number {number}"
table = "mill-{table}"

[sharing]
purpose = "holds a {word} that hangs over the table"

[[fixture]]
kind = "hold-down-bar"
name = "bar-{number}"
width = "{width} mm"
thickness = "20 mm"
overhang-front = "{front} mm"
overhang-back = "10 mm"

[[fixture.work-hole]]
make = "tapped"
thread = "M12"
row = {{ first = "25 mm", pitch = "40 mm", number = {holes} }}
"""


def write_library(folder: Path, number: int = NUMBER) -> None:
    """Write shops with tables and designs, the same ones every time."""
    random = Random(1)
    for shop in range(SHOPS):
        for sub in ("parts", "fixtures"):
            (folder / f"shop-{shop}" / sub).mkdir(parents=True)
        for table in range(5):
            text = TABLE.format(number=table, width=random.randint(240, 500), slot=random.choice((12, 14, 18)),
                                slots=random.randint(2, 4))  # fmt: skip
            (folder / f"shop-{shop}" / "parts" / f"mill-{table}.toml").write_text(text, encoding="utf-8")
    for n in range(number):
        text = DESIGN.format(word=random.choice(WORDS), number=n, table=random.randrange(5), holes=random.randint(1, 4),
                             width=random.choice((40, 50, 60)), front=random.randint(120, 250))  # fmt: skip
        (folder / f"shop-{n % SHOPS}" / "fixtures" / f"bars-{n}.toml").write_text(text, encoding="utf-8")


def claims() -> Iterator[Claim]:
    """Measure and yield the claims about the library."""
    with tempfile.TemporaryDirectory() as folder:
        os.environ["XDG_CACHE_HOME"] = str(Path(folder) / "cache")
        library = Path(folder) / "library"
        write_library(library)
        start = time.perf_counter()
        first = find(library, Wish(words=("gudgeon",)), helpers=CORES)
        index = time.perf_counter() - start
        assert (first.number, first.bad, first.read >= NUMBER) == (NUMBER, 0, True)
        yield Claim(f"index of {NUMBER} designs, seconds", index, 120.0, note=f"{CORES} processes")
        yield Claim("warm `find` in them, seconds", _warm(library), 0.3, note=f"median of 9; finds {len(first.rows)}")
        slotwright = str(Path(sys.executable).with_name("slotwright"))
        whole, base = in_turn(
            [slotwright, "find", "gudgeon", "bonnet", "--in", str(library)],
            ["-c", "import click, sqlite3, json"],
            runs=9,
        )
        yield Claim("the same as a program / the imports it cannot do without", whole / base, 3.0, note="finds none")


def _warm(library: Path) -> float:
    times = []
    for _ in range(10):
        start = time.perf_counter()
        found: Found = find(library, Wish(words=("gudgeon",)))
        times.append(time.perf_counter() - start)
        assert found.read == 0
    return statistics.median(times[1:])


if __name__ == "__main__":
    for claim in claims():
        print(claim.row(), flush=True)
