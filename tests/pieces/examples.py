"""Pieces and a set-up made by hand for the tests of this folder, in which every length is known without the program."""

from __future__ import annotations

from math import cos, radians, sin

from slotwright.fixtures.layout import Layout, Place, PlacedHardware, PlacedPiece
from slotwright.parts.hardware import Cylinder, Hardware, Prism
from slotwright.parts.materials import Material
from slotwright.parts.t_slots import TSlot
from slotwright.parts.table import Table
from slotwright.pieces.features import Hole
from slotwright.pieces.piece import Bar, Piece

STEEL = Material(
    name="test steel",
    family="low-carbon steel",
    density=7850.0,
    youngs_modulus=2e5,
    yield_strength=235.0,
    expansion=12e-6,
    colour=(0.25, 0.5, 0.75),
    hatch="steel",
)


def piece(*holes: Hole, size: tuple[float, float, float] = (100.0, 40.0, 20.0), edge_chamfer: float = 0.0) -> Piece:
    """A bar, 100 x 40 x 20 mm unless told otherwise."""
    blank = Bar(length=size[0], width=size[1], thickness=size[2], edge_chamfer=edge_chamfer)
    return Piece(name="outrigger", title="Outrigger", blank=blank, holes=holes, material=STEEL, stock="40 x 20 flat")


def bar_of(count: int, pitch: float = 20.0, diameter: float = 10.0) -> Piece:
    """A bar with a row of through holes."""
    row = (Hole(x=pitch * (n + 1), y=20.0, diameter=diameter) for n in range(count))
    return piece(*row, size=(pitch * (count + 1), 40.0, 20.0))


SLOT = TSlot(width=14.0, headspace_width=24.0, headspace_depth=10.0, depth=26.0)
TABLE = Table(
    name="mill",
    title="Knee mill",
    unit="mm",
    length=1000.0,
    width=240.0,
    thickness=60.0,
    slot=SLOT,
    slot_centres=(50.0, 120.0, 190.0),
)

_WAYS = tuple(radians(60.0 * corner) for corner in range(6))
HEXAGON = tuple((10.0 / cos(radians(30.0)) * cos(way), 10.0 / cos(radians(30.0)) * sin(way)) for way in _WAYS)
"""20 mm across flats."""


def _rectangle(x: float, y: float) -> tuple[tuple[float, float], ...]:
    return (-x, -y), (x, -y), (x, y), (-x, y)


T_NUT = Hardware(
    kind="T-nut",
    size="14 x M12",
    standard="test",
    body=(
        Prism(outline=_rectangle(11.0, 11.0), bottom=-8.0, top=0.0),
        Prism(outline=_rectangle(11.0, 6.9), bottom=0.0, top=8.0),
    ),
    bores=(Cylinder(diameter=10.0, bottom=-8.0, top=8.0),),
)
STUD = Hardware(kind="stud", size="M12 x 80", standard="test", body=(Cylinder(diameter=12.0, bottom=0.0, top=80.0),))
WASHER = Hardware(
    kind="washer",
    size="12",
    standard="test",
    body=(Cylinder(diameter=24.0, bottom=0.0, top=2.5),),
    bores=(Cylinder(diameter=13.0, bottom=0.0, top=2.5),),
)
NUT = Hardware(
    kind="hex nut",
    size="M12",
    standard="test",
    body=(Prism(outline=HEXAGON, bottom=0.0, top=10.0),),
    bores=(Cylinder(diameter=10.0, bottom=0.0, top=10.0),),
)
SCREW = Hardware(
    kind="socket head cap screw",
    size="M12 x 40",
    standard="test",
    body=(Cylinder(diameter=18.0, bottom=0.0, top=12.0), Cylinder(diameter=12.0, bottom=-40.0, top=0.0)),
    bores=(Cylinder(diameter=10.0, bottom=6.0, top=12.0),),
)

BAR = piece(
    *(Hole(x=90.0 + 70.0 * n, y=20.0, diameter=13.5) for n in range(3)),
    *(Hole(x=20.0 + 40.0 * n, y=20.0, diameter=10.2) for n in (0, 1)),
    size=(320.0, 40.0, 20.0),
)


def set_up() -> Layout:
    """Two copies of one bar across the slots, each bolted three times; one bar reaches 40 mm over the front edge."""
    bars = [PlacedPiece(piece=BAR, place=Place(x=x, y=-40.0, turn=90.0)) for x in (200.0, 600.0)]
    stack = ((T_NUT, -16.0), (STUD, -20.0), (WASHER, 20.0), (NUT, 22.5))
    bought = [
        PlacedHardware(item=item, place=Place(x=x - 20.0, y=centre, z=z))
        for x in (200.0, 600.0)
        for centre in TABLE.slot_centres
        for item, z in stack
    ]
    return Layout(table=TABLE, pieces=tuple(bars), hardware=tuple(bought))
