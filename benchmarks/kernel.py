"""Cutting holes: all at once against one after another, and how the time grows with their number."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from math import log

import cadquery as cq

from benchmarks.timing import Claim, shortest_in_turn
from slotwright.parts.materials import material
from slotwright.pieces.features import Counterbore, Hole
from slotwright.pieces.piece import Bar, Piece
from slotwright.pieces.solid import solid

PITCH, WIDTH, THICKNESS = 20.0, 40.0, 20.0  # mm
COUNTS = (8, 64, 512)
KINDS = {
    "through": Hole(x=0.0, y=WIDTH / 2.0, diameter=9.0),
    "blind": Hole(x=0.0, y=WIDTH / 2.0, diameter=9.0, depth=12.0),
    "counterbored": Hole(x=0.0, y=WIDTH / 2.0, diameter=9.0, counterbore=Counterbore(diameter=15.0, depth=9.0)),
}


def claims() -> Iterator[Claim]:
    """Measure and yield the claims about cutting holes."""
    for name, kind in KINDS.items():
        ours, chained = shortest_in_turn([partial(solid, _bar(kind, 64)), partial(chained_bar, kind, 64)], runs=2)
        note = f"{ours * 1e3:.0f} ms against {chained * 1e3:.0f} ms"
        yield Claim(f"64 {name} holes chained / ours", chained / ours, 5.0, least=True, note=note)
    for name, kind in KINDS.items():
        bars = [_bar(kind, count) for count in COUNTS]
        times = shortest_in_turn([partial(solid, bar) for bar in bars], runs=3)
        note = ", ".join(f"{count}: {t * 1e3:.0f} ms" for count, t in zip(COUNTS, times, strict=True))
        yield Claim(f"growth exponent, {name} holes", _exponent(times), 1.2, note=note)


def _bar(kind: Hole, count: int) -> Piece:
    """A bar with a row of holes of one kind."""
    return Piece(
        name="bar",
        title="Bar",
        blank=Bar(length=PITCH * (count + 1), width=WIDTH, thickness=THICKNESS),
        holes=tuple(replace(kind, x=PITCH * (n + 1)) for n in range(count)),
        material=material("steel"),
        stock="40 x 20 flat",
    )


def chained_bar(kind: Hole, count: int) -> cq.Workplane:
    """Build the same bar as calls of the CAD library, one hole after another."""
    bar = cq.Workplane().box(PITCH * (count + 1), WIDTH, THICKNESS, centered=False)
    for n in range(count):
        spot = bar.faces(">Z").workplane(origin=(0.0, 0.0, 0.0)).moveTo(PITCH * (n + 1), kind.y)
        if kind.counterbore is None:
            bar = spot.hole(kind.diameter, kind.depth)
        else:
            bar = spot.cboreHole(kind.diameter, kind.counterbore.diameter, kind.counterbore.depth)
    return bar


def _exponent(times: list[float]) -> float:
    """The larger of the two exponents from one count to the next."""
    steps = zip(COUNTS, COUNTS[1:], times, times[1:], strict=False)
    return max(log(t2 / t1) / log(n2 / n1) for n1, n2, t1, t2 in steps)


if __name__ == "__main__":
    for claim in claims():
        print(claim.row(), flush=True)
