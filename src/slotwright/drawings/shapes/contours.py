"""Outlines that no few sizes describe: their corners are numbered, and a table says where each stands."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist

from slotwright.drawings.paper.sheet import Anchor
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.tables import Block, Column, Entry, Table
from slotwright.drawings.shapes.feature_measures import name_of
from slotwright.drawings.shapes.patterns import origin_of
from slotwright.drawings.shapes.reading_outlines import Form, Reading, read
from slotwright.drawings.shapes.seen import shown
from slotwright.drawings.shapes.views_needed import shaped_features
from slotwright.pieces.blanks import Extrusion
from slotwright.pieces.faces import Face, plane_axes
from slotwright.pieces.features import Groove, Hole
from slotwright.pieces.hole_groups import TaggedHole
from slotwright.pieces.outline import Outline
from slotwright.pieces.piece import Piece
from slotwright.pieces.segment import Segment

POINT = 0.02  # diameter of the hole that stands for a corner while its number finds a place, mm
RING = 1.5  # radius of the origin's ring with clear paper, mm on paper
_NAMES = "XYZ"


def _contours(piece: Piece) -> Iterator[tuple[str, Face, Outline]]:
    """Outlines that go by points, each with what it is of and the face it is seen on."""
    blank = piece.blank
    if isinstance(blank, Extrusion):
        own, face = blank.profile, Face.RIGHT
    else:
        own, face = blank.plan, Face.TOP
    if read(own).form is Form.FREE:
        yield "OUTLINE", face, own
    for feature in shaped_features(piece):
        if not isinstance(feature, Groove) and read(feature.outline).form in (Form.FREE, Form.POLYGON):
            yield name_of(feature, Reading(Form.FREE)), feature.face, feature.outline


def contour_tags(piece: Piece, face: Face, scale: float) -> Iterator[TaggedHole]:
    """Yield the numbers of the corners that a view shows, as tags of points in the view's own coordinates.

    One at the origin on an edge is as wide as the ring of its symbol, so that a leader to it starts there.
    """
    number = 0
    ring = origin_of(piece).ring
    for _, seen, outline in _contours(piece):
        for point in outline.points:
            number += 1
            if seen is face:
                u, v = shown(face, point)
                ringed = ring is not None and dist(ring, point) * scale < RING
                yield TaggedHole(f"P{number}", Hole(x=u, y=v, diameter=2.0 * RING / scale if ringed else POINT))


def contour_tables(piece: Piece, style: Style) -> tuple[Table, ...]:
    """Return a table for each outline that goes by points: place of every corner, and how the next one is reached."""
    tables = []
    number, origin = 0, origin_of(piece)
    for name, face, outline in _contours(piece):
        ou, ov = origin.on(face)
        first, second = (_NAMES[axis] for axis in plane_axes(face.axis))
        rows: list[list[str]] = []
        for side in outline.segments:
            number += 1
            x, y = side.start
            rows.append([f"P{number}", style.number(x - ou), style.number(y - ov), _way(side, style)])
        columns = (Column("POINT"), Column(first, Anchor.RIGHT), Column(second, Anchor.RIGHT),
                   Column("TO THE NEXT POINT", Anchor.LEFT))  # fmt: skip
        cells: tuple[tuple[Entry, ...], ...] = tuple(tuple(column) for column in zip(*rows, strict=True))
        last = f"; P{number} GOES TO P{number - len(rows) + 1}"
        tables.append(Table(f"POINTS OF THE {name}{last}", columns, (Block(cells),)))
    return tuple(tables)


def _way(side: Segment, style: Style) -> str:
    """How the next corner is reached; an arc bulges out of the metal's outline or into it."""
    if not side.bulge:
        return "LINE"
    way = "OUTWARD" if side.bulge > 0.0 else "INWARD"
    more = ", MORE THAN 180°" if abs(side.bulge) > 1.0 + 1e-9 else ""
    return f"R{style.figure(side.radius)} {way}{more}"
