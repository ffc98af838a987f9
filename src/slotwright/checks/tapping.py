"""Tapped holes: enough thread for the piece's material, and blind holes that stay blind."""

from __future__ import annotations

from collections.abc import Iterator

from slotwright.findings import COMMON_PRACTICE, Figure, Finding, Severity
from slotwright.parts.engagement import shop_engagement
from slotwright.pieces.features import Hole
from slotwright.pieces.hole_groups import hole_groups
from slotwright.pieces.piece import Piece


def check_tapping(piece: Piece) -> Iterator[Finding]:
    """Yield one finding for each size of tapped hole in a piece."""
    for group in hole_groups(piece):
        if group.size.thread is not None:
            yield _engagement(piece, group.size, f"{piece.name}, holes {group.letter}")
            yield from _opened(piece, group.size, f"{piece.name}, holes {group.letter}")


def _engagement(piece: Piece, hole: Hole, place: str) -> Finding:
    assert hole.thread is not None  # noqa: S101  the caller asks for tapped holes alone
    full = hole.thread_depth if hole.thread_depth is not None else (hole.depth or piece.blank.thickness)
    needed = shop_engagement(hole.thread, piece.material.family)
    short = full < needed - 1e-9
    return Finding(
        code="engagement",
        severity=Severity.CAUTION if short else Severity.FINE,
        place=place,
        message="the thread strips before the screw breaks" if short else "the thread is long enough for its screw",
        figure=Figure(value=full),
        limit=Figure(value=needed),
        rule=f"full thread of {needed / hole.thread.major:g} diameters in {piece.material.family}",
        source=COMMON_PRACTICE,
        remedy="tap deeper, take a thicker bar or a smaller thread" if short else "",
    )


def _opened(piece: Piece, hole: Hole, place: str) -> Iterator[Finding]:
    """A thread asked blind whose drill had to go through."""
    asked_blind = hole.thread_depth is not None and hole.thread_depth < piece.blank.thickness
    if asked_blind and hole.depth is None:
        yield Finding(
            code="blind-hole-drilled-through",
            severity=Severity.CAUTION,
            place=place,
            message="the drill goes through, for under it too little metal would stand",
            figure=Figure(value=piece.blank.thickness),
            rule="below a blind thread: five pitches for the tap's chamfer, the drill point, and 1 mm of metal",
            source=COMMON_PRACTICE,
            remedy="expect chips and coolant underneath; make the thread shorter to keep it blind",
        )
