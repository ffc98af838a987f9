"""Pieces for the tests of this folder; every place and size is written out, so that expected figures are hand-made."""

from __future__ import annotations

from random import Random

from slotwright.drawings.paper.sheet_data import SheetData
from slotwright.parts.materials import material
from slotwright.parts.threads import thread
from slotwright.pieces.features import Counterbore, Face, Hole, Ream
from slotwright.pieces.piece import Bar, Piece

INCH = 25.4
H7_10 = Ream(tolerance="H7", upper=0.015, lower=0.0)  # ISO 286-2: 10 H7 is +15/0 micrometres
DATA = SheetData(title="Outrigger bars for a sluice-valve bonnet", content_id="7f3a9c21", projection="third")
FIRST = SheetData(title=DATA.title, content_id=DATA.content_id, projection="first")


def bar(*holes: Hole, size: tuple[float, float, float] = (160.0, 40.0, 20.0), chamfer: float = 0.0) -> Piece:
    length, width, thickness = size
    return Piece(
        name="outrigger",
        title="Outrigger bar",
        blank=Bar(length=length, width=width, thickness=thickness, edge_chamfer=chamfer),
        holes=holes,
        material=material("S235JR"),
        stock=f"{width:g} x {thickness:g} flat",
        quantity=2,
    )


def plain(x: float, y: float, diameter: float = 13.5, tolerance: float | None = None) -> Hole:
    return Hole(x=x, y=y, diameter=diameter, position_tolerance=tolerance)


def tapped(x: float, y: float, depth: float | None = None, full: float | None = None) -> Hole:
    m12 = thread("M12")
    return Hole(x=x, y=y, diameter=m12.tap_drill, thread=m12, depth=depth, thread_depth=full)


METRIC = bar(
    *(plain(x, 20.0, tolerance=1.5) for x in (87.5, 187.5, 287.5)),
    *(tapped(x, 20.0, 17.0, 12.0) for x in (400.0, 500.0, 600.0, 700.0)),
    *(Hole(x=x, y=20.0, diameter=10.0, ream=H7_10) for x in (450.0, 750.0)),
    *(Hole(x=x, y=20.0, diameter=13.5, counterbore=Counterbore(diameter=20.0, depth=12.6)) for x in (40.0, 340.0)),
    size=(800.0, 40.0, 20.0),
    chamfer=1.0,
)
INCH_BAR = bar(
    *(plain(x * INCH, 0.75 * INCH, 0.5625 * INCH, 0.0625 * INCH) for x in (9.875, 12.5625, 15.25)),
    *(plain(x * INCH, 0.75 * INCH, 0.5 * INCH) for x in (1.5, 3.0, 4.5, 24.0, 30.3125)),
    size=(31.8125 * INCH, 1.5 * INCH, 0.75 * INCH),
    chamfer=0.03 * INCH,
)
TWO_ROWS = bar(
    *(plain(x, y, tolerance=0.5) for x in (50.0, 176.0, 302.0) for y in (18.0, 62.0)),
    Hole(x=100.0, y=40.0, diameter=14.0, slot_extra=10.0),
    Hole(x=240.0, y=40.0, diameter=14.0, slot_extra=10.0, slot_angle=90.0),
    *(tapped(x, 40.0, 26.0, 20.0) for x in (20.0, 140.0, 340.0)),
    Hole(x=120.0, y=18.0, diameter=11.0, counterbore=Counterbore(diameter=18.0, depth=10.6), face=Face.BOTTOM),
    size=(360.0, 80.0, 30.0),
    chamfer=2.0,
)
CROWDED = bar(
    *(
        (
            plain(15.0 + 9.0 * n, (15.0, 32.0, 49.0)[n % 3], 9.0, 0.8),
            Hole(x=15.0 + 9.0 * n, y=(15.0, 32.0, 49.0)[n % 3], diameter=6.8, depth=20.0),
            Hole(x=15.0 + 9.0 * n, y=(15.0, 32.0, 49.0)[n % 3], diameter=8.0, ream=H7_10),
            Hole(
                x=15.0 + 9.0 * n,
                y=(15.0, 32.0, 49.0)[n % 3],
                diameter=6.6,
                counterbore=Counterbore(diameter=11.0, depth=6.8),
            ),
        )[n % 4]
        for n in range(64)
    ),
    size=(600.0, 64.0, 25.0),
)
TINY = bar(
    plain(5.0, 6.0, 3.4), plain(25.0, 6.0, 3.4), Hole(x=15.0, y=6.0, diameter=2.5, depth=5.0), size=(30.0, 12.0, 6.0)
)
BARE = bar()
ALL = {"metric": METRIC, "inch": INCH_BAR, "two rows": TWO_ROWS, "crowded": CROWDED, "tiny": TINY, "bare": BARE}


def random_bar(seed: int) -> Piece:
    """A bar with holes of several sorts that do not touch each other or the outline."""
    dice = Random(seed)
    length, width = dice.choice([60.0, 120.0, 250.0, 480.0, 900.0, 1200.0]), dice.choice([20.0, 40.0, 50.0, 120.0])
    thickness = dice.choice([10.0, 16.0, 20.0, 40.0])
    rows = dice.choice([[0.5], [0.5], [0.3, 0.7], [0.25, 0.5, 0.75]])
    sorts = dice.sample(range(6), dice.randint(1, 4))
    holes: list[Hole] = []
    for _ in range(dice.choice([2, 6, 20, 60, 200])):
        x, y = round(dice.uniform(15.0, length - 15.0), 1), width * dice.choice(rows)
        hole = _hole(dice.choice(sorts), x, y, thickness)
        reach = hole.widest / 2.0 + hole.slot_extra / 2.0
        clear = all(
            abs(x - o.x) > reach + o.widest / 2.0 + o.slot_extra / 2.0 + 2.0 or abs(y - o.y) > 2.0 * reach
            for o in holes
        )
        if clear and reach + 2.0 < min(y, width - y):
            holes.append(hole)
    return bar(*holes, size=(max(length, width), width, thickness), chamfer=dice.choice([0.0, 0.5, 1.0, 2.0]))


def _hole(sort: int, x: float, y: float, thickness: float) -> Hole:
    return (
        plain(x, y, 9.0, 0.8),
        tapped(x, y),
        tapped(x, y, thickness * 0.7, thickness * 0.5),
        Hole(x=x, y=y, diameter=6.6, counterbore=Counterbore(diameter=11.0, depth=thickness * 0.4)),
        Hole(x=x, y=y, diameter=9.0, slot_extra=6.0, slot_angle=90.0 if round(x) % 2 else 0.0),
        Hole(x=x, y=y, diameter=6.0, depth=thickness * 0.5, face=Face.BOTTOM),
    )[sort]
