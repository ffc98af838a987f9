"""Pieces by number whose features stand anywhere, over edges and in each other; nothing is known of them."""

from __future__ import annotations

from random import Random

from slotwright.pieces.blanks import Bar, Extrusion
from slotwright.pieces.faces import Vector
from slotwright.pieces.features import Face, Groove, Hole, Pocket, Tenon
from slotwright.pieces.piece import Piece
from tests.pieces.examples import STEEL
from tests.pieces.random_pieces import some_blank, some_hole, some_outline


def wild_piece(number: int) -> Piece:
    """Return the piece of this number; up to three features and three holes, each anywhere on any face."""
    random = Random(number)
    blank = some_blank(random, number % 7)
    size = (blank.length, blank.width, blank.thickness)
    faces = list(Face) if isinstance(blank, Bar | Extrusion) else [Face.TOP, Face.BOTTOM]
    pockets: list[Pocket] = []
    tenons: list[Tenon] = []
    grooves: list[Groove] = []
    for _ in range(random.randrange(3)):
        face = random.choice(faces)
        outline, deep = some_outline(random, _spot(random, face, size)), round(random.uniform(1.0, 8.0), 3)
        if random.random() < 0.5:
            pockets.append(Pocket(outline=outline, face=face, depth=random.choice([deep, deep, None])))
        else:
            tenons.append(Tenon(outline=outline, face=face, height=deep))
    if random.random() < 0.5:
        grooves.append(_groove(random, size))
    holes = [_hole(random, size) for _ in range(random.randrange(4))]
    return Piece(
        name="wild",
        title="Wild",
        blank=blank,
        holes=tuple(holes),
        material=STEEL,
        stock="any",
        pockets=tuple(pockets),
        grooves=tuple(grooves),
        tenons=tuple(tenons),
    )


def _spot(random: Random, face: Face, size: Vector) -> tuple[float, float]:
    first, second = (size[axis] for axis in range(3) if axis != face.axis)
    return round(random.uniform(0.0, first), 3), round(random.uniform(0.0, second), 3)


def _hole(random: Random, size: Vector) -> Hole:
    face = random.choice([*Face, Face.TOP, Face.TOP, Face.TOP])
    return some_hole(random, *_spot(random, face, size), face)


def _groove(random: Random, size: Vector) -> Groove:
    """Open at both ends, or closed at one."""
    face, along, width = random.choice(list(Face)), random.choice(["x", "y"]), round(random.uniform(3.0, 10.0), 3)
    place = _spot(random, face, size)
    end = random.choice([None, place[0 if along == "x" else 1] + width])
    return Groove(
        face=face,
        along="x" if along == "x" else "y",
        centre=place[1 if along == "x" else 0],
        width=width,
        depth=round(random.uniform(1.0, 8.0), 3),
        end=end,
    )
