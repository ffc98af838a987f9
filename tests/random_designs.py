"""Random designs that hold, the same ones on every machine: a number gives a design.

Bars range over tables (mm and inch, even and uneven slots, one or several), bars across and along, stock, heads, work
holes of all sorts, both drawing styles and both projections.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import count, pairwise
from math import hypot
from pathlib import Path
from random import Random
from typing import Any

from slotwright.drawings.paper.sheet import Drawing
from slotwright.drawings.paper.style import Style
from slotwright.drawings.piece.piece_sheet import piece_drawing
from slotwright.drawings.setup.setup_sheet import setup_drawing
from slotwright.errors import SlotwrightError
from slotwright.findings import Severity
from slotwright.parts.threads import thread
from slotwright.sharing.design_file import design_from
from slotwright.sharing.set_up import SetUp, set_up_of
from slotwright.sharing.sheets import sheet_data, sheet_style
from slotwright.sharing.workspace import Workspace
from slotwright.sizes import length as length_of
from tests.fixtures.ends import ENDS
from tests.fixtures.proving import INCH_TABLE, METRIC_TABLE, sound
from tests.fixtures.random_settings import CASES, WITHOUT_TABLE

Data = dict[str, Any]
INCH = 25.4
TRIES = 40
NOWHERE = Workspace(Path("no-such-workspace"))  # no rack and no drawer; every table is written inline
SLOTS = {
    "mm": ("8 mm", "10 mm", "12 mm", "14 mm", "14 mm", "18 mm", "18 mm", "22 mm", "28 mm"),
    "in": ("7/16 in", "9/16 in", "9/16 in", "5/8 in", "11/16 in", "11/16 in", "13/16 in", "1-1/16 in"),
}
BARS = {
    "mm": ((30, 15), (40, 20), (40, 20), (50, 25), (60, 30), (80, 25), (25, 25)),
    "in": ((1.25, 0.625), (1.5, 0.75), (1.5, 0.75), (2.0, 1.0), (2.5, 1.25), (3.0, 1.0), (1.0, 1.0)),
}
THREADS = {
    "mm": ("M5", "M6", "M8", "M10", "M12", "M12", "M16", "M10x1.25"),
    "in": ("#10-24 UNC", "1/4-20 UNC", "3/8-16 UNC", "3/8-16 UNC", "1/2-13 UNC", "1/2-13 UNC", "5/8-11 UNC"),
}
REAMS = {"mm": ("6 mm", "8 mm", "10 mm", "12 mm"), "in": ("1/4 in", "5/16 in", "3/8 in", "1/2 in")}


class _Maker:
    """Draws one design's values; how much there is in it is drawn first, and stays when values are drawn again."""

    def __init__(self, seed: int, attempt: int) -> None:
        plan = Random(seed)
        self.unit = plan.choice(("mm", "in"))
        self.tables = plan.choice((1, 1, 1, 1, 2, 3))
        self.fixtures = plan.choice((1, 1, 1, 2))
        self.entries = [plan.choice((0, 1, 1, 2, 2, 3, 4)) for _ in range(self.fixtures)]
        self.random = Random(TRIES * seed + attempt)

    def size(self, low: float, high: float, unit: str = "") -> str:
        """Return a size between two, mm, on a step a shop would choose."""
        unit = unit or self.unit
        step = self.random.choice((0.5, 1.0, 5.0)) if unit == "mm" else self.random.choice((1 / 16, 1 / 8, 1 / 4))
        per = 1.0 if unit == "mm" else INCH
        return f"{round(round(self.random.uniform(low, high) / per / step) * step, 4):g} {unit}"

    def design(self) -> Data:
        """Return one design; it need not hold."""
        random = self.random
        tables = self.all_tables()
        made: Data = {
            "slotwright": 1,
            "title": random.choice(("Guide rails for a paddle gear", "Bars", "Outriggers for a sluice-valve bonnet")),
            "unit": self.unit,
            "drawing": _choices(random),
            "fixture": [self.fixture(tables, n) for n in range(self.fixtures)],
        }
        made |= {"table": tables[0]} if len(tables) == 1 else {"tables": tables}
        if random.random() < 0.5:
            made["work"] = {"name": "bonnet", "mass": "38 kg"}
            if random.random() < 0.7:
                wide, deep = _mm(tables[0]["length"]), _mm(tables[0]["width"])
                made["work"]["size"] = [self.size(0.2 * wide, 0.5 * wide), self.size(0.5 * deep, 1.5 * deep), "100 mm"]
                made["work"]["at"] = [self.size(0.4 * wide, 0.6 * wide), self.size(0.0, deep)]
        return made

    def all_tables(self) -> list[Data]:
        """Return tables for one bar: slots of further ones stand as on the first, or half-way between."""
        slot = self.random.choice(SLOTS[self.unit])
        first = self.table(0, slot)
        tables = [first]
        while len(tables) < self.tables:
            other = self.table(len(tables), slot)
            unit, centres = other["unit"], _centres(first)
            if len(tables) == 1 and len(centres) > 1 and self.random.random() < 0.7:
                centres = [(a + b) / 2.0 for a, b in pairwise(centres)]
            other["width"] = _exact(_mm(first["width"]) + self.random.choice((0.0, 40.0)), unit)
            other["slots"] = {"width": slot, "centres": [_exact(centre, unit) for centre in centres]}
            tables.append(other)
        return tables

    def table(self, number: int, slot: str) -> Data:
        """Return a table, mostly measured in the design's unit."""
        random = self.random
        unit = self.unit if random.random() < 0.9 else {"mm": "in", "in": "mm"}[self.unit]
        throat = _mm(slot)
        count = random.choice((1, 2, 3, 3, 3, 4, 4, 5, 6))
        least = 2.8 if self.tables == 1 else 5.6
        pitch = random.uniform(max(least * throat, 35.0), max((least + 2.2) * throat, 80.0))
        width = pitch * (count - 1) + random.uniform(4.0, 8.0) * throat
        made: Data = {
            "name": f"mill-{number + 1}",
            "title": random.choice(("Knee mill", "Universal mill in the lock-gate bay", "Old mill, 9 x 42 table")),
            "unit": unit,
            "length": self.size(3.0 * width, 5.0 * width, unit),
            "width": self.size(width, width, unit),
        }
        width = _mm(made["width"])
        slots: Data = {"width": slot}
        if random.random() < 0.5 or count == 1:
            slots |= {"number": count, "pitch": self.size(pitch, pitch, unit)}
        else:
            first = (width - pitch * (count - 1)) / 2.0
            places = [first + pitch * n + random.uniform(-2.0, 2.0) for n in range(count)]
            slots["centres"] = [_exact(place, unit) for place in places]
            slots["uncertainty"] = random.choice(("0 mm", "0.05 mm"))
        made["slots"] = slots
        return made

    def fixture(self, tables: list[Data], number: int) -> Data:
        """Return a hold-down bar."""
        random = self.random
        wide, thick = random.choice(BARS[self.unit])
        made: Data = {
            "kind": "hold-down-bar",
            "name": f"bar-{number + 1}",
            "title": random.choice(("Hold-down bar", "Outrigger bar", "Stop rail")),
            "quantity": random.choice((1, 1, 2, 2, 3)),
            "width": f"{wide:g} {self.unit}",
            "thickness": f"{thick:g} {self.unit}",
            "holes": random.choice(("fine", "medium", "coarse")),
            "heads": random.choice(("proud", "proud", "sunk")),
            "direction": random.choice(("across", "across", "across", "along")),
        }
        if random.random() < 0.25:
            made["play"] = self.size(2.0, 12.0)
        if random.random() < 0.3:
            made["edge-chamfer"] = random.choice(("0 mm", "0.5 mm", "2 mm"))
        if made["direction"] == "across":
            made["overhang-front"] = self.size(-10.0, 200.0)
            made["overhang-back"] = self.size(-10.0, 60.0)
            front = _mm(made["overhang-front"])
            length = max(_mm(t["width"]) for t in tables) + front + _mm(made["overhang-back"])
            bolts = [front + centre for table in tables for centre in _centres(table)]
        else:
            length = random.uniform(0.2, 0.9) * min(_mm(t["length"]) for t in tables)
            made["length"] = self.size(length, length)
            made["bolts"] = random.choice((2, 2, 3, 4))
            length = _mm(made["length"])
            bolts = [length * (n + 0.5) / made["bolts"] for n in range(made["bolts"])]
        room = max(1.2 * _mm(table["slots"]["width"]) for table in tables) + _mm(made.get("play", "0 mm")) / 2.0
        taken = [(x, 0.0, room) for x in bolts]
        per = 1.0 if self.unit == "mm" else INCH
        entries = (self.work_hole(length, wide * per, taken) for _ in range(self.entries[number]))
        made["work-hole"] = [entry for entry in entries if entry]
        return made

    def work_hole(self, length: float, wide: float, taken: list[tuple[float, float, float]]) -> Data:
        """Return one entry of work holes that keep clear of the holes there are, and take them in; else nothing."""
        random = self.random
        sort = random.choice(("tapped", "tapped", "clear", "reamed"))
        made: Data = {"make": sort}
        if sort == "reamed":
            made |= {"diameter": random.choice(REAMS[self.unit]), "tolerance": random.choice(("H6", "H7", "H8"))}
            radius = _mm(made["diameter"]) / 2.0
        else:
            made["thread"] = random.choice(THREADS[self.unit])
            radius = 0.6 * thread(made["thread"]).major
        if random.random() < 0.3:
            made["depth"] = self.size(6.0, 14.0)
        for _ in range(TRIES):
            across = self.size(-0.3 * wide, 0.3 * wide) if random.random() < 0.3 else "0 mm"
            where, places = self.places(length, 2.0 * radius)
            spots = [(x, _mm(across), radius) for x in places]
            if all(hypot(x - a, y - b) > r + q + 3.0 for n, (x, y, r) in enumerate(spots)
                   for a, b, q in [*taken, *spots[:n]]):  # fmt: skip
                taken += spots
                return made | where | ({"across": across} if across != "0 mm" else {})
        return {}

    def places(self, length: float, edge: float) -> tuple[Data, list[float]]:
        """Return where holes stand along a bar: a row, or single places."""
        random = self.random
        if random.random() < 0.5:
            count = random.choice((2, 3, 4, 5, 6, 8, 12, 20))
            first, pitch = self.size(edge + 4.0, 60.0), self.size(15.0, max(16.0, (length - 20.0) / count))
            row = {"first": first, "pitch": pitch, "number": count}
            at = [_mm(first) + n * _mm(pitch) for n in range(count)]
            return ({"row": row}, at) if at[-1] < length - edge else self.places(length, edge)
        single = [self.size(edge + 4.0, length - edge - 4.0) for _ in range(random.choice((1, 1, 2, 3)))]
        return {"at": single}, [_mm(place) for place in single]


def _centres(table: Data) -> list[float]:
    """Where the slots of a table stand from its front edge, mm."""
    slots = table["slots"]
    if "centres" in slots:
        return [_mm(centre) for centre in slots["centres"]]
    pitch, count = _mm(slots["pitch"]), slots["number"]
    return [(_mm(table["width"]) - pitch * (count - 1)) / 2.0 + pitch * n for n in range(count)]


@cache
def _mm(size: str) -> float:
    return length_of(size)


def _exact(mm: float, unit: str) -> str:
    return f"{mm:.1f} mm" if unit == "mm" else f"{mm / INCH:.3f} in"


def set_up_from(data: Data, name: str) -> SetUp:
    """Solve and check a design that stands in no file. Errors: SlotwrightError."""
    return set_up_of(design_from(data, name), NOWHERE, name, name)


@cache
def random_set_up(seed: int) -> SetUp:
    """Return the set-up of a number: the first of its tries that solves without a stop.

    Every tenth number gives one with a stop finding where its tries have one, for the box that prints it.
    """
    spare = None
    for n in range(TRIES):
        try:
            made = set_up_from(_Maker(seed, n).design(), f"random-{seed}")
        except SlotwrightError:
            continue
        stopped = made.severity is Severity.STOP
        if stopped == (seed % 10 == 9):
            return made
        spare = made if spare is None and not stopped else spare
    if spare is None:
        raise AssertionError(f"no design of number {seed} holds in {TRIES} tries")
    return spare


def _with(data: Data, style: str, projection: str) -> Data:
    return {**data, "drawing": {"style": style, "projection": projection}}


def random_design(kind: str, seed: int) -> SetUp:
    """Return the set-up of a family's number: bars as above, of other kinds one fixture on the table of the tests.

    Every tenth number is taken as it comes, with or without a stop finding.
    """
    if kind == "hold-down-bar":
        return random_set_up(seed)
    number = next(n for n in count(seed, 1000) if sound(CASES[kind].case(n)[3]) or seed % 10 == 9)
    data, unit, _, _ = CASES[kind].case(number)
    random, table = Random(f"{kind} {number}"), INCH_TABLE if unit == "in" else METRIC_TABLE
    made: Data = {"slotwright": 1, "title": "Gear for the lock gates", "unit": unit, "drawing": _choices(random)}
    comma = {"decimal": ","} if (made["drawing"]["style"], unit) == ("iso", "mm") else {}
    made["drawing"] |= random.choice(({}, {}, {"alternate": True}, comma))
    made["fixture"] = [{"kind": kind, **data}]
    if kind not in WITHOUT_TABLE:
        made["table"] = {"name": "mill", **table}
    return set_up_from(made, f"random-{kind}-{seed}")


def _choices(random: Random) -> Data:
    """How a design wants its drawings."""
    return {
        "style": random.choice(("iso", "asme")),
        "projection": random.choice(("first", "third")),
        **random.choice(({}, {"owner": "Millrace canal-lock depot", "creator": "Lock gang", "revision": "B"})),
    }


def _smallest_bar(unit: str) -> Data:
    """One bolt through a bar no larger than its washer asks for."""
    mm = ("6 mm", "12 mm", "5 mm", "24 mm")
    slot, wide, thick, long = mm if unit == "mm" else ("11/32 in", "3/4 in", "1/4 in", "1-1/4 in")
    return {
        "table": {"name": "bench-mill", "unit": unit, "length": "80 mm", "width": "60 mm",
                  "slots": {"width": slot, "number": 1}},
        "fixture": [{"kind": "hold-down-bar", "name": "bar", "width": wide, "thickness": thick, "length": long,
                     "edge-chamfer": "0 mm"}],
    }  # fmt: skip


def _largest_bar(unit: str) -> Data:
    """A planer's table, many bars of the heaviest section with every sort of hole, the work larger than the table."""
    mm = ("36 mm", "M36", "M6", "50 mm")
    slot, tapped, clear, reamed = mm if unit == "mm" else ("1-5/16 in", "1-1/4-7 UNC", "1/4-20 UNC", "2 in")
    every_240 = {"first": "160 mm", "pitch": "240 mm", "number": 20}
    every_120 = {"first": "120 mm", "pitch": "120 mm", "number": 40}
    every_60 = {"first": "60 mm", "pitch": "60 mm", "number": 80}
    rows = [
        {"make": "tapped", "thread": tapped, "row": every_240, "across": "120 mm"},
        {"make": "reamed", "diameter": reamed, "row": every_120, "across": "-130 mm", "depth": "100 mm"},
        {"make": "clear", "thread": clear, "row": every_60, "across": "180 mm"},
    ]
    return {
        "table": {"name": "planer", "title": "Planer in the gate shop", "unit": unit, "length": "8000 mm",
                  "width": "3000 mm", "slots": {"width": slot, "number": 12, "pitch": "240 mm"}},
        "work": {"name": "lock gate", "mass": "9000 kg", "size": ["6000 mm", "4000 mm", "800 mm"],
                 "at": ["4000 mm", "1500 mm"]},
        "fixture": [{"kind": "hold-down-bar", "name": "bar", "title": "Hold-down bar for a lock gate",
                     "width": "400 mm", "thickness": "150 mm", "overhang-front": "1000 mm", "overhang-back": "1000 mm",
                     "quantity": 12, "edge-chamfer": "20 mm", "play": "30 mm", "holes": "coarse", "work-hole": rows}],
    }  # fmt: skip


def extremes(kind: str) -> Iterator[tuple[str, SetUp]]:
    """Yield a family's smallest and largest designs in both styles, with their names; none when there are none."""
    for unit, sizes in _ends(kind).items():
        for name, data in sizes.items():
            for style, projection in (("iso", "first"), ("asme", "third")):
                design = {"slotwright": 1, "title": f"The {name}", "unit": unit, **data}
                full = f"{kind}-{name}-{unit}-{style}"
                yield full, set_up_from(_with(design, style, projection), full)


def _ends(kind: str) -> dict[str, dict[str, Data]]:
    """Small and large designs of a family by unit and name."""
    if kind == "hold-down-bar":
        return {unit: {"smallest": _smallest_bar(unit), "largest": _largest_bar(unit)} for unit in ("mm", "in")}
    sizes: dict[str, Data] = {
        str(data["name"]): {"fixture": [{"kind": kind, **data}], **({"table": {"name": "mill", **on[0]}} if on else {})}
        for of, data, on in ENDS
        if of == kind
    }
    return {"mm": sizes} if sizes else {}


def drawings(made: SetUp) -> Iterator[tuple[Drawing, Style]]:
    """Yield the drawings of a set-up as `make` composes them."""
    data, style = sheet_data(made), sheet_style(made)
    for piece in made.pieces:
        yield piece_drawing(piece, data, style), style
    for layout in made.layouts:
        yield setup_drawing(layout, data, style), style
