"""Tapped holes: enough thread for the piece's material."""

from __future__ import annotations

from collections.abc import Iterator

from slotwright.findings import COMMON_PRACTICE, Figure, Finding, Severity
from slotwright.parts.engagement import shop_engagement
from slotwright.pieces.features import Hole
from slotwright.pieces.hole_groups import hole_groups
from slotwright.pieces.metal import Metal
from slotwright.pieces.piece import Piece


def check_tapping(piece: Piece) -> Iterator[Finding]:
    """Yield one finding for each size of tapped hole in a piece."""
    metal = piece.metal
    for group in hole_groups(piece):
        if group.size.thread is not None:
            full = min(_full_thread(tagged.hole, metal) for tagged in group.holes)
            yield _engagement(piece, group.size, full, f"{piece.name}, holes {group.letter}")


def _full_thread(hole: Hole, metal: Metal) -> float:
    """Length of full thread, mm; a thread all through a hole is as long as the metal on its axis."""
    if hole.thread_depth is not None:
        return hole.thread_depth
    spans = metal.depths(hole.face, (hole.x, hole.y))
    return hole.depth or sum(end - start for start, end in spans)


def _engagement(piece: Piece, hole: Hole, full: float, place: str) -> Finding:
    assert hole.thread is not None  # noqa: S101  the caller asks for tapped holes alone
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
