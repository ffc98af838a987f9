"""The scales at which a piece may be drawn, by how small what is on it becomes on paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf

from slotwright.drawings.details import LEAST
from slotwright.drawings.paper.formats import preferred_scales
from slotwright.drawings.paper.style import Style
from slotwright.drawings.shapes.views_needed import is_shaped
from slotwright.pieces.piece import Piece

LEAST_THICKNESS = 4.0  # of the piece on paper, mm; our choice
EASY_THICKNESS = 8.0  # of a long piece on paper, mm, at which it need not be broken to be read; our choice
LEAST_SHAPE = 70.0  # mm on paper that a shaped piece is long, where it is not drawn at full size; our choice
LEAST_BAR = 60.0  # the same of a bar
LEAST_SHAPED_HOLE = 1.4  # widest part of a shaped piece's hole, mm on paper; all are tagged in the views; our choice
LEAST_STEP = 1.2  # mm on paper that its tenons are high and its grooves deep, where it is not drawn at full size
JUST_STEP = 0.7  # the same where else a larger sheet would be needed
SMALL_PIECE = 150.0  # mm on paper up to which a small piece is drawn larger than it is; our choice
ROOMIER = 4.0  # how much larger than needed a crowded piece may be drawn; our choice


@dataclass(frozen=True, slots=True)
class Scales:
    """The scales a piece may be drawn at, each kind from the largest down.

    Attributes:
        larger: than needed, for pieces so crowded that tags find no place.
        easy: a long piece can be read without being broken.
        legible: all can be read.
        bearable: what is small can just be told apart, if holes of a bar that can't be are tagged in details.
        detailed: only a bar's small holes need details; none for a piece so small that it is drawn larger itself.
        small: the rest.
    """

    larger: Sequence[float]
    easy: Sequence[float]
    legible: Sequence[float]
    detailed: Sequence[float]
    bearable: Sequence[float]
    small: Sequence[float]


def scales_of(piece: Piece, style: Style) -> Scales:
    """Return the scales a piece may be drawn at."""
    blank, shaped = piece.blank, is_shaped(piece)
    most = max(1.0, SMALL_PIECE / blank.length)
    least = LEAST_THICKNESS / min(blank.thickness, blank.width)
    shown = LEAST_SHAPE if shaped else LEAST_BAR
    least = max(least, min(1.0, shown / max(blank.length, blank.width)))
    steps = min(_steps(piece), default=inf)
    just = max(least, min(1.0, JUST_STEP / steps))
    least = least_piece = max(least, min(1.0, LEAST_STEP / steps))
    if piece.holes and shaped:
        hole = LEAST_SHAPED_HOLE / min(hole.widest for hole in piece.holes)
        least, just = max(least, hole), max(just, hole)
    elif piece.holes:
        least = max(least, LEAST / min(hole.diameter for hole in piece.holes))
    enough = max(most, 2.0 * least)
    found = [s for s in preferred_scales(style) if s <= ROOMIER * enough]
    legible = [s for s in found if least <= s <= enough]
    larger = [s for s in found if s > enough]
    small = [s for s in found if s < least]
    detailed = [s for s in small if least_piece <= s <= most and not shaped and blank.length > SMALL_PIECE]
    return Scales(
        larger=larger,
        easy=[s for s in legible if min(blank.width, blank.thickness) * s >= EASY_THICKNESS],
        legible=legible,
        detailed=detailed,
        bearable=[s for s in small if just <= s] if shaped else detailed,
        small=small,
    )


def _steps(piece: Piece) -> Iterator[float]:
    """Yield how high what stands out is, and how deep and narrow what is cut in, mm."""
    yield from (tenon.height for tenon in piece.tenons)
    yield from (pocket.depth for pocket in piece.pockets if pocket.depth is not None)
    for groove in piece.grooves:
        yield from (groove.depth, groove.width)
