"""Supplies: the bar on the rack, the taps and reamers in the drawer."""

from __future__ import annotations

from collections.abc import Iterator

from slotwright.findings import COMMON_PRACTICE, Figure, Finding, Severity
from slotwright.fixtures.bench import Bench
from slotwright.fixtures.stock import same_section
from slotwright.parts.supplies import DrawerFile, RackBar
from slotwright.parts.threads import thread
from slotwright.pieces.blanks import Bar, Extrusion
from slotwright.pieces.hole_groups import hole_groups
from slotwright.pieces.piece import Piece

_RULE = "made from what the shop has at hand"
SAME = 0.001


def check_supplies(piece: Piece, bench: Bench) -> Iterator[Finding]:
    """Yield what the shop lacks for one piece; nothing where it keeps no list."""
    if bench.rack is not None and piece.sawn and isinstance(piece.blank, Bar | Extrusion):  # the rack holds bars
        bars = [
            bar for bar in bench.rack.bar if same_section(bar, piece.blank.width, piece.blank.thickness, piece.material)
        ]
        yield from _bar(piece, bars)
    if bench.drawer is not None:
        yield from _tools(piece, bench.drawer)


def _bar(piece: Piece, bars: list[RackBar]) -> Iterator[Finding]:
    if not bars:
        yield _lack("stock-not-on-rack", piece.name, f"no {piece.stock} of {piece.material.name} is on the rack",
                    "buy the bar, or choose a section on the rack")  # fmt: skip
        return
    if any(bar.longest is None for bar in bars):
        return
    longest = max(bar.longest or 0.0 for bar in bars)
    if longest < piece.cut_length:
        yield _lack(
            "stock-too-short",
            piece.name,
            f"the longest {piece.stock} on the rack is too short to saw it from",
            "buy a longer bar, or shorten the piece",
            Figure(value=longest),
            Figure(value=piece.cut_length),
        )


def _tools(piece: Piece, drawer: DrawerFile) -> Iterator[Finding]:
    taps = {thread(name).designation for name in drawer.taps}
    for group in hole_groups(piece):
        hole, place = group.size, f"{piece.name}, holes {group.letter}"
        if hole.thread is not None and hole.thread.designation not in taps:
            yield _lack("tap-not-in-drawer", place, f"no {hole.thread.designation} tap is in the drawer",
                        "buy or borrow the tap, or choose a thread you have a tap for")  # fmt: skip
        if hole.ream is not None and not any(abs(size - hole.diameter) < SAME for size in drawer.reamers):
            yield _lack("reamer-not-in-drawer", place, "no reamer of this size is in the drawer",
                        "buy or borrow the reamer, or bore the hole", Figure(value=hole.diameter))  # fmt: skip


def _lack(
    code: str, place: str, message: str, remedy: str, figure: Figure | None = None, limit: Figure | None = None
) -> Finding:
    return Finding(
        code=code,
        severity=Severity.CAUTION,
        place=place,
        message=message,
        figure=figure,
        limit=limit,
        rule=_RULE,
        source=COMMON_PRACTICE,
        remedy=remedy,
    )
