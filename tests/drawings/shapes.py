"""Pieces of every shape, for the tests of drawings; every size is written out, so that figures are made by hand."""

from __future__ import annotations

from math import cos, radians, sin

from slotwright.parts.materials import material
from slotwright.parts.threads import thread
from slotwright.pieces.blanks import Bar, Blank, Disc, Extrusion, Plate
from slotwright.pieces.features import (
    Counterbore,
    Countersink,
    Face,
    Groove,
    Hole,
    Limits,
    Pocket,
    Purpose,
    Ream,
    Tenon,
)
from slotwright.pieces.outline import Outline, circle, obround, rectangle
from slotwright.pieces.piece import Piece

INCH = 25.4
H7_14 = Limits(tolerance="H7", upper=0.018, lower=0.0)  # ISO 286-2, over 10 up to 18: IT7 is 18 micrometres
H7_100 = Limits(tolerance="H7", upper=0.035, lower=0.0)  # ISO 286-2, over 80 up to 120: IT7 is 35 micrometres
H8_120 = Limits(tolerance="H8", upper=0.054, lower=0.0)  # ISO 286-2, over 80 up to 120: IT8 is 54 micrometres
H8_40 = Limits(tolerance="H8", upper=0.039, lower=0.0)  # ISO 286-2, over 30 up to 50: IT8 is 39 micrometres
F7_120 = Limits(tolerance="f7", upper=-0.036, lower=-0.071)  # ISO 286-2, over 80 up to 120: f is -36
F7_40 = Limits(tolerance="f7", upper=-0.025, lower=-0.050)  # ISO 286-2, over 30 up to 50: f is -25


def piece(name: str, blank: Blank, *holes: Hole, title: str = "", **more: object) -> Piece:
    return Piece(
        name=name,
        title=title or name.replace("-", " ").capitalize(),
        blank=blank,
        holes=holes,
        material=material("S235JR"),
        stock="as the rack has it",
        **more,  # type: ignore[arg-type]  # the piece's own further fields
    )


def ring(count: int, diameter: float, centre: tuple[float, float], start: float = 0.0) -> list[tuple[float, float]]:
    x, y, r = *centre, diameter / 2.0
    turns = [radians(start + 360.0 * n / count) for n in range(count)]
    return [(x + r * cos(t), y + r * sin(t)) for t in turns]


def tapped(x: float, y: float, size: str, depth: float, full: float, face: Face = Face.TOP) -> Hole:
    one = thread(size)
    return Hole(x=x, y=y, face=face, diameter=one.tap_drill, thread=one, depth=depth, thread_depth=full)


CHUCK_BASE = piece(
    "chuck-base",
    Plate(outline=rectangle(260.0, 220.0, 12.0), thickness=25.0, edge_chamfer=1.0),
    Hole(x=130.0, y=110.0, diameter=50.0, purpose=Purpose.REGISTER),
    *(tapped(x, y, "M10", 20.0, 16.0) for x, y in ring(3, 140.0, (130.0, 110.0), 90.0)),
    *(
        Hole(x=x, y=y, diameter=13.5, counterbore=Counterbore(diameter=20.0, depth=13.0), purpose=Purpose.TABLE)
        for x in (20.0, 240.0)
        for y in (40.0, 180.0)
    ),
    tenons=(
        Tenon(
            outline=circle(100.0, (130.0, 110.0)),
            face=Face.TOP,
            height=4.0,
            label="register",
            length_limits=Limits(tolerance="h6", upper=0.0, lower=-0.022),
        ),
    ),
)
CHUCK_RECESS = piece(
    "chuck-recess",
    Plate(outline=rectangle(10.0 * INCH, 10.0 * INCH, 0.5 * INCH), thickness=1.0 * INCH, edge_chamfer=0.03 * INCH),
    Hole(x=5.0 * INCH, y=5.0 * INCH, diameter=2.0 * INCH),
    *(Hole(x=x, y=y, diameter=0.4062 * INCH) for x, y in ring(6, 5.5 * INCH, (5.0 * INCH, 5.0 * INCH))),
    *(
        Hole(x=x * INCH, y=y * INCH, diameter=0.5312 * INCH, purpose=Purpose.TABLE)
        for x in (1.0, 9.0)
        for y in (1.5, 8.5)
    ),
    pockets=(
        Pocket(
            outline=circle(4.0 * INCH, (5.0 * INCH, 5.0 * INCH)),
            depth=0.25 * INCH,
            label="register",
            length_limits=Limits(tolerance="H7", upper=0.0014 * INCH, lower=0.0),
        ),
    ),
)
REDRILL = piece(
    "redrill-flange",
    Disc(diameter=200.0, thickness=20.0, bore=60.0),
    *(Hole(x=x, y=y, diameter=13.5) for x, y in ring(4, 150.0, (100.0, 100.0), 45.0)),
    *(Hole(x=x, y=y, diameter=11.0) for x, y in ring(5, 150.0, (100.0, 100.0), 9.0)),
)
JIG = piece(
    "jig-plate",
    Disc(diameter=8.0 * INCH, thickness=0.75 * INCH, edge_chamfer=0.03 * INCH),
    *(
        Hole(
            x=x,
            y=y,
            diameter=0.75 * INCH,
            purpose=Purpose.BUSH,
            ream=Ream(tolerance="H7", upper=0.0008 * INCH, lower=0.0),
            note="press-fit bush",
        )
        for x, y in ring(6, 6.0 * INCH, (4.0 * INCH, 4.0 * INCH), 15.0)
    ),
    tenons=(
        Tenon(
            outline=circle(3.0 * INCH, (4.0 * INCH, 4.0 * INCH)),
            height=0.375 * INCH,
            label="pilot register",
            length_limits=Limits(tolerance="g6", upper=-0.0004 * INCH, lower=-0.0011 * INCH),
        ),
    ),
)
INSERT = piece(
    "insert",
    Plate(outline=rectangle(180.0, 90.0, 15.0), thickness=20.0),
    *(tapped(x, 45.0, "M8", 18.0, 14.0, Face.BOTTOM) for x in (55.0, 90.0, 125.0)),
    tenons=(
        Tenon(outline=rectangle(120.0, 40.0, 6.5, (90.0, 45.0)), height=8.0, length_limits=F7_120, width_limits=F7_40),
    ),
    notes=("FITS PIECE PARENT.",),
)
PARENT = piece(
    "parent",
    Plate(outline=rectangle(300.0, 140.0), thickness=32.0),
    *(
        Hole(
            x=x,
            y=70.0,
            face=Face.BOTTOM,
            diameter=9.0,
            counterbore=Counterbore(diameter=15.0, depth=9.0),
            purpose=Purpose.SCREW,
        )
        for x in (105.0, 140.0, 175.0)
    ),
    pockets=(
        Pocket(outline=rectangle(120.0, 40.0, 6.5, (140.0, 70.0)), depth=8.5, length_limits=H8_120, width_limits=H8_40),
    ),
    notes=("FITS PIECE INSERT.",),
)
OBROUND_INSERT = piece(
    "obround-insert",
    Plate(outline=obround(6.0 * INCH, 2.5 * INCH), thickness=0.5 * INCH),
    *(tapped(x * INCH, 1.25 * INCH, "5/16-18 UNC", 0.5 * INCH, 0.4 * INCH, Face.BOTTOM) for x in (2.0, 4.0)),
    tenons=(
        Tenon(
            outline=obround(4.0 * INCH, 1.0 * INCH, (3.0 * INCH, 1.25 * INCH)),
            height=0.375 * INCH,
            length_limits=Limits(tolerance="", upper=-0.001 * INCH, lower=-0.003 * INCH),
            width_limits=Limits(tolerance="", upper=-0.001 * INCH, lower=-0.003 * INCH),
        ),
    ),
)
# 80 wide, 60 high, 90 degree V 50 wide, relief slot 4 wide to 35 below the top; feet chamfered 2
VEE_PROFILE = Outline(
    (
        (2.0, 0.0),
        (78.0, 0.0),
        (80.0, 2.0),
        (80.0, 60.0),
        (65.0, 60.0),
        (42.0, 37.0),
        (42.0, 25.0),
        (38.0, 25.0),
        (38.0, 37.0),
        (15.0, 60.0),
        (0.0, 60.0),
        (0.0, 2.0),
    )
)
VEE_BLOCK = piece(
    "vee-block",
    Extrusion(profile=VEE_PROFILE, length=100.0),
    *(tapped(x, y, "M8", 22.0, 18.0) for x in (25.0, 75.0) for y in (7.5, 72.5)),
    grooves=(
        Groove(face=Face.FRONT, along="x", centre=18.0, width=12.0, depth=8.0, label="clamp slot"),
        Groove(face=Face.BACK, along="x", centre=18.0, width=12.0, depth=8.0, label="clamp slot"),
    ),
    quantity=2,
    notes=("GRIND THE PAIR TOGETHER.",),
)
GRID = piece(
    "grid-plate",
    Plate(outline=rectangle(400.0, 300.0, 10.0), thickness=30.0, edge_chamfer=1.0),
    *(
        Hole(x=50.0 + 50.0 * i, y=50.0 + 50.0 * j, diameter=10.2, thread=thread("M12"), label=f"{'ABCDEFG'[i]}{j + 1}")
        for i in range(7)
        for j in range(5)
    ),
    *(
        Hole(x=x, y=y, diameter=13.5, counterbore=Counterbore(diameter=20.0, depth=13.0), purpose=Purpose.TABLE)
        for x in (25.0, 375.0)
        for y in (75.0, 225.0)
    ),
    grooves=(
        Groove(face=Face.BOTTOM, along="x", centre=150.0, width=14.0, depth=5.0, width_limits=H7_14, label="key seat"),
    ),
)
FENCE = piece(
    "fence",
    Bar(length=300.0, width=50.0, thickness=30.0, edge_chamfer=1.0),
    *(
        Hole(x=x, y=25.0, diameter=13.5, counterbore=Counterbore(diameter=20.0, depth=13.0), purpose=Purpose.TABLE)
        for x in (60.0, 240.0)
    ),
    *(
        Hole(x=x, y=20.0, face=Face.FRONT, diameter=6.8, thread=thread("M8"), purpose=Purpose.STOP)
        for x in (30.0, 150.0, 270.0)
    ),
    grooves=tuple(
        Groove(face=Face.BOTTOM, along="y", centre=x, width=14.0, depth=5.0, width_limits=H7_14, label="key seat")
        for x in (20.0, 280.0)
    ),
)
T_NUT = piece(
    "t-nut",
    Extrusion(
        profile=Outline(
            ((0.0, 0.0), (28.0, 0.0), (28.0, 11.0), (20.9, 11.0), (20.9, 20.0), (7.1, 20.0), (7.1, 11.0), (0.0, 11.0))
        ),
        length=28.0,
    ),
    Hole(x=14.0, y=14.0, diameter=10.2, thread=thread("M12"), depth=15.5, thread_depth=14.0),
)
STRAP = piece(
    "strap-clamp",
    Extrusion(
        profile=rectangle(40.0, 20.0),
        length=125.0,
    ),
    Hole(x=70.0, y=20.0, diameter=14.0, slot_extra=40.0),
    grooves=(
        Groove(face=Face.TOP, along="y", centre=7.5, width=25.0, depth=8.0, label="nose step"),
        Groove(face=Face.BOTTOM, along="y", centre=110.0, width=6.0, depth=3.0, label="heel groove"),
    ),
)
STEP_BLOCK = piece(
    "step-block",
    Extrusion(
        profile=Outline(
            (
                (0.0, 0.0),
                (60.0, 0.0),
                (60.0, 10.0),
                (50.0, 10.0),
                (50.0, 20.0),
                (40.0, 20.0),
                (40.0, 30.0),
                (30.0, 30.0),
                (30.0, 40.0),
                (20.0, 40.0),
                (20.0, 50.0),
                (0.0, 50.0),
            )
        ),
        length=40.0,
    ),
)
RISER = piece(
    "riser",
    Bar(length=100.0, width=60.0, thickness=50.0, edge_chamfer=1.0),
    Hole(x=50.0, y=30.0, diameter=17.5),
    *(tapped(x, 30.0, "M10", 24.0, 20.0) for x in (20.0, 80.0)),
    *(
        Hole(x=30.0, y=12.0, face=face, diameter=6.8, thread=thread("M8"), depth=20.0, thread_depth=16.0)
        for face in (Face.LEFT, Face.RIGHT)
    ),
)
JACK_PAD = piece(
    "jack-pad",
    Disc(diameter=40.0, thickness=16.0, edge_chamfer=1.0),
    Hole(x=20.0, y=20.0, face=Face.BOTTOM, diameter=10.2, thread=thread("M12"), depth=8.0, thread_depth=6.0),
    grooves=(Groove(face=Face.TOP, along="x", centre=20.0, width=6.0, depth=3.0),),
)
SLOT_KEY = piece(
    "slot-key",
    Bar(length=1.5 * INCH, width=0.625 * INCH, thickness=0.5 * INCH),
    Hole(
        x=0.75 * INCH, y=0.3125 * INCH, diameter=0.257 * INCH, countersink=Countersink(diameter=0.5 * INCH, angle=82.0)
    ),
)
DOG_LEG = piece(
    "dog-leg-plate",
    Plate(
        outline=Outline(((0.0, 0.0), (160.0, 0.0), (160.0, 50.0), (70.0, 50.0), (40.0, 110.0), (0.0, 110.0))),
        thickness=16.0,
    ),
    Hole(x=20.0, y=90.0, diameter=11.0),
    Hole(x=140.0, y=25.0, diameter=11.0),
    Hole(x=25.0, y=25.0, diameter=11.0),
    pockets=(Pocket(outline=obround(50.0, 16.0, (85.0, 25.0)), depth=None, label="window"),),
)
# Alike about one middle line only: JAW and TEE about that of the length, KEYED and EARS about that of the width.
JAW = piece(
    "jaw",
    Bar(length=120.0, width=50.0, thickness=25.0, edge_chamfer=1.0),
    *(
        Hole(
            x=x,
            y=18.0,
            diameter=9.0,
            counterbore=Counterbore(diameter=15.0, depth=9.0),
            position_tolerance=0.5,
            purpose=Purpose.TABLE,
        )
        for x in (38.0, 82.0)
    ),
    tapped(60.0, 38.0, "M6", 15.0, 12.0),
    grooves=tuple(
        Groove(face=Face.BOTTOM, along="y", centre=x, width=12.0, depth=4.0, label="key seat") for x in (20.0, 100.0)
    ),
)
KEYED = piece(
    "keyed-plate",
    Plate(outline=rectangle(160.0, 90.0), thickness=20.0),
    *(Hole(x=x, y=45.0, diameter=11.0, position_tolerance=0.5, purpose=Purpose.TABLE) for x in (30.0, 115.0)),
    *(Hole(x=60.0, y=y, diameter=6.8, thread=thread("M8")) for y in (33.0, 57.0)),
    Hole(x=90.0, y=10.0, face=Face.FRONT, diameter=6.8, thread=thread("M8"), depth=20.0, thread_depth=16.0),
    grooves=tuple(
        Groove(face=Face.BOTTOM, along="x", centre=y, width=10.0, depth=4.0, label="key seat") for y in (20.0, 70.0)
    ),
)
EARS = piece(
    "eared-plate",
    Plate(
        outline=Outline(
            (
                (0.0, 20.0),
                (30.0, 20.0),
                (30.0, 0.0),
                (130.0, 0.0),
                (130.0, 80.0),
                (30.0, 80.0),
                (30.0, 60.0),
                (0.0, 60.0),
            )
        ),
        thickness=12.0,
    ),
    *(Hole(x=x, y=40.0, diameter=11.0) for x in (15.0, 80.0)),
)
TEE = piece(
    "tee-plate",
    Plate(
        outline=Outline(
            (
                (0.0, 0.0),
                (100.0, 0.0),
                (100.0, 30.0),
                (70.0, 30.0),
                (70.0, 80.0),
                (30.0, 80.0),
                (30.0, 30.0),
                (0.0, 30.0),
            )
        ),
        thickness=12.0,
    ),
    *(Hole(x=x, y=15.0, diameter=9.0) for x in (18.0, 82.0)),
    Hole(x=50.0, y=60.0, diameter=11.0),
)
ALL = {
    one.name: one
    for one in (
        CHUCK_BASE,
        CHUCK_RECESS,
        REDRILL,
        JIG,
        INSERT,
        PARENT,
        OBROUND_INSERT,
        VEE_BLOCK,
        GRID,
        FENCE,
        T_NUT,
        STRAP,
        STEP_BLOCK,
        RISER,
        JACK_PAD,
        SLOT_KEY,
        DOG_LEG,
        JAW,
        KEYED,
        EARS,
        TEE,
    )
}
