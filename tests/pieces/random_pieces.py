"""Random pieces of every blank and feature, by number; their features keep clear of each other as they are drawn.

Each blank is cut into cells far enough apart; a cell holds a pocket, a tenon, one in the other, or nothing, and perhaps
a hole in its middle that is smaller than anything around it. Grooves and holes from the sides have strips of their own.
"""

from __future__ import annotations

from random import Random

from slotwright.pieces.blanks import Bar, Blank, Disc, Extrusion, Plate
from slotwright.pieces.features import Counterbore, Countersink, Face, Groove, Hole, Pocket, Tenon
from slotwright.pieces.outline import Outline, circle, obround, polygon, rectangle
from slotwright.pieces.piece import Piece
from tests.pieces.examples import STEEL

Cell = tuple[float, float]

VEE = polygon([(0, 0), (80, 0), (80, 60), (70, 60), (43, 33), (43, 27), (37, 27), (37, 33), (10, 60), (0, 60)])
STEPPED = polygon([(0, 0), (80, 0), (80, 25), (40, 25), (40, 50), (0, 50)])
ANGLE = polygon([(0, 0), (160, 0), (160, 80), (60, 80), (60, 120), (0, 120)])
FLAT_CELLS: tuple[Cell, ...] = ((35.0, 35.0), (80.0, 35.0), (125.0, 35.0))
ROUND_CELLS: tuple[Cell, ...] = ((40.0, 80.0), (80.0, 40.0), (115.0, 90.0))


def random_piece(number: int) -> Piece:
    """Return the piece of this number; blanks take turns."""
    random = Random(number)
    blank = some_blank(random, number % 7)
    made = _extruded(random, blank) if isinstance(blank, Extrusion) else _flat(random, blank)
    return made


def _between(random: Random, low: float, high: float) -> float:
    return round(random.uniform(low, high), 3)


def some_blank(random: Random, kind: int) -> Blank:
    """Return a blank of one of seven kinds."""
    thickness, chamfer = _between(random, 22.0, 40.0), random.choice([0.0, 1.0, 1.5])
    match kind:
        case 0:
            return Bar(length=160.0, width=80.0, thickness=thickness, edge_chamfer=chamfer)
        case 1:
            plan = rectangle(160.0, 80.0, _between(random, 5.0, 12.0))
        case 2:
            plan = obround(160.0, 80.0)
        case 3:
            plan = ANGLE
        case 4:
            bore = random.choice([0.0, 20.0])
            return Disc(diameter=160.0, thickness=thickness, bore=bore, edge_chamfer=chamfer)
        case 5:
            return Extrusion(profile=VEE, length=160.0)
        case _:
            return Extrusion(profile=STEPPED, length=160.0)
    return Plate(outline=plan, thickness=thickness, edge_chamfer=chamfer)


def _piece(
    blank: Blank,
    holes: list[Hole],
    grooves: list[Groove],
    pockets: tuple[Pocket, ...] = (),
    tenons: tuple[Tenon, ...] = (),
) -> Piece:
    return Piece(
        name="random",
        title="Random",
        blank=blank,
        holes=tuple(holes),
        material=STEEL,
        stock="any",
        pockets=pockets,
        grooves=tuple(grooves),
        tenons=tenons,
    )


def _flat(random: Random, blank: Blank) -> Piece:
    pockets: list[Pocket] = []
    tenons: list[Tenon] = []
    holes: list[Hole] = []
    for cell in ROUND_CELLS if isinstance(blank, Disc) else FLAT_CELLS:
        face = random.choice([Face.TOP, Face.BOTTOM])
        kind = random.choice(["nothing", "pocket", "window", "tenon", "ring", "stepped"])
        if kind in ("tenon", "ring"):
            outline = circle(30.0, cell) if kind == "ring" else some_outline(random, cell)
            tenons.append(Tenon(outline=outline, face=face, height=_between(random, 2.0, 8.0)))
        if kind == "stepped":
            pockets.append(Pocket(outline=circle(30.0, cell), face=face, depth=_between(random, 1.0, 4.0)))
        if kind in ("pocket", "window", "ring", "stepped"):
            depth = None if kind == "window" else _between(random, 2.0, 6.0)
            pockets.append(Pocket(outline=some_outline(random, cell), face=face, depth=depth))
        if kind != "window" and random.random() < 0.7:
            holes.append(some_hole(random, *cell, random.choice([Face.TOP, Face.BOTTOM])))
    grooves = [_groove(random, blank)] if random.random() < 0.5 else []
    if isinstance(blank, Bar) and random.random() < 0.5:
        holes.append(Hole(x=57.5, y=11.0, face=random.choice([Face.FRONT, Face.BACK]), diameter=5.0, depth=8.0))
    return _piece(blank, holes, grooves, tuple(pockets), tuple(tenons))


def some_outline(random: Random, cell: Cell) -> Outline:
    """Return an outline about a place, at least 10 mm across and within 26 mm."""
    kind, turn = random.randrange(3), _between(random, 0.0, 180.0)
    if kind == 0:
        return circle(_between(random, 12.0, 24.0), cell)
    if kind == 1:
        length, width = _between(random, 12.0, 18.0), _between(random, 12.0, 18.0)
        return rectangle(length, width, random.choice([0.0, 2.5, 5.0]), cell).turned(turn, cell)
    return obround(_between(random, 18.0, 24.0), _between(random, 10.0, 14.0), cell, turn)


def some_hole(random: Random, x: float, y: float, face: Face) -> Hole:
    """Return a hole at most 9 mm across."""
    diameter, wider = _between(random, 3.0, 6.0), _between(random, 0.5, 3.0)
    kind = random.randrange(4)
    return Hole(
        x=x,
        y=y,
        face=face,
        diameter=diameter,
        depth=random.choice([None, _between(random, 5.0, 7.0)]),
        point_angle=random.choice([118.0, 135.0, 180.0]),
        counterbore=Counterbore(diameter=diameter + wider, depth=wider) if kind == 1 else None,
        countersink=Countersink(diameter=diameter + wider, angle=random.choice([82.0, 90.0])) if kind == 2 else None,
        slot_extra=wider if kind == 3 else 0.0,
        slot_angle=_between(random, 0.0, 180.0),
    )


def _groove(random: Random, blank: Blank) -> Groove:
    """Along X near the back edge, or a step along it."""
    face, depth = random.choice([Face.TOP, Face.BOTTOM]), _between(random, 1.0, 5.0)
    centre = 130.0 if isinstance(blank, Disc) else 66.0
    if random.random() < 0.3:
        top = blank.width if isinstance(blank, Disc | Bar) else 80.0
        return Groove(face=face, along="x", centre=top, width=_between(random, 10.0, 30.0), depth=depth)
    start, end = random.choice([None, 50.0]), random.choice([None, 100.0])
    return Groove(
        face=face, along="x", centre=centre, width=_between(random, 4.0, 8.0), depth=depth, start=start, end=end
    )


def _extruded(random: Random, blank: Extrusion) -> Piece:
    vee = blank.profile is VEE
    rows = (5.0,) if vee else (15.0, 65.0)
    holes = [some_hole(random, x, y, Face.TOP) for x in (20.0, 95.0, 140.0) for y in rows if random.random() < 0.6]
    holes = [hole for hole in holes if not vee or hole.widest + hole.slot_extra < 8.5]
    grooves = []
    if random.random() < 0.5:
        across = random.choice([Face.FRONT, Face.BACK])
        holes.append(Hole(x=115.0, y=13.0, face=across, diameter=5.0, depth=random.choice([None, 7.0])))
    if random.random() < 0.5:
        end = random.choice([Face.LEFT, Face.RIGHT])
        holes.append(Hole(x=40.0, y=12.0, face=end, diameter=5.0, depth=9.0))
    if random.random() < 0.5:
        grooves.append(Groove(face=Face.BOTTOM, along="x", centre=40.0, width=12.0, depth=4.0))
    if random.random() < 0.5:
        grooves.append(Groove(face=Face.BOTTOM, along="y", centre=43.0, width=9.0, depth=_between(random, 2.0, 6.0)))
    if random.random() < 0.5:
        grooves.append(Groove(face=Face.TOP, along="y", centre=43.0, width=_between(random, 5.0, 9.0), depth=6.0))
    return _piece(blank, holes, grooves)
