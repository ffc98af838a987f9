"""Supplies: the bar on the rack, the taps and reamers in the drawer; and what there is to buy, in few lines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from slotwright import sizes
from slotwright.findings import COMMON_PRACTICE, Figure, Finding, Severity
from slotwright.fixtures.bench import Bench
from slotwright.fixtures.stock import serving_bars
from slotwright.parts.supplies import DrawerFile, RackBar
from slotwright.parts.threads import thread
from slotwright.pieces.blanks import Bar, Extrusion
from slotwright.pieces.hole_groups import hole_groups
from slotwright.pieces.piece import Piece

_RULE = "made from what the shop has at hand"
_PLACES = {"stock-not-on-rack": "rack", "tap-not-in-drawer": "drawer", "reamer-not-in-drawer": "drawer"}
SHOPPING = frozenset((*_PLACES, "stock-too-short"))
"""Codes of findings that concern what to buy, and not how the pieces hold."""
_LACKING = {"rack": " is not on the rack", "drawer": " is not in the drawer"}
SAME = 0.001


def check_supplies(piece: Piece, bench: Bench) -> Iterator[Finding]:
    """Yield what the shop lacks for one piece; nothing where it keeps no list."""
    if bench.rack is not None and piece.sawn and isinstance(piece.blank, Bar | Extrusion):  # the rack holds bars
        width, thickness = piece.blank.width, piece.blank.thickness
        yield from _bar(piece, serving_bars(bench.rack.bar, width, thickness, piece.oversize, piece.material))
    if bench.drawer is not None:
        yield from _tools(piece, bench.drawer)


def _bar(piece: Piece, bars: list[RackBar]) -> Iterator[Finding]:
    if not bars:
        yield _lack("stock-not-on-rack", piece.name, f"{piece.stock} of {piece.material.name} is not on the rack",
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
            yield _lack("tap-not-in-drawer", place, f"{hole.thread.designation} tap is not in the drawer",
                        "buy or borrow the tap, or choose a thread you have a tap for")  # fmt: skip
        if hole.ream is not None and not any(abs(size - hole.diameter) < SAME for size in drawer.reamers):
            yield _lack("reamer-not-in-drawer", place, "reamer of this size is not in the drawer",
                        "buy or borrow the reamer, or bore the hole", Figure(value=hole.diameter))  # fmt: skip


def gathered(findings: Iterable[Finding], bench: Bench) -> Iterator[Finding]:
    """Yield findings for a person: what the rack and the drawer lack stands in one each, after all others.

    Their figures stand in the words; other findings come through as they are.
    """
    lacking: dict[str, list[Finding]] = {}
    for finding in findings:
        if finding.code in _PLACES:
            lacking.setdefault(_PLACES[finding.code], []).append(finding)
        else:
            yield finding
    for place in sorted(lacking, reverse=True):  # the rack first: sawing comes before tapping
        yield _together(place, lacking[place], bench)


def _together(place: str, several: list[Finding], bench: Bench) -> Finding:
    wanted: dict[str, list[str]] = {}
    for finding in several:
        what = finding.message.removesuffix(_LACKING[place])
        if finding.figure is not None:
            what = f"{sizes.say(finding.figure.value, 'mm', bench.unit)} reamer"
        wanted.setdefault(what, []).append(finding.place)
    listed = "; ".join(f"{what} (for {' and '.join(dict.fromkeys(where))})" for what, where in wanted.items())
    stands_empty = _bare(bench, place)
    return replace(
        several[0],
        place=place,
        message=f"has nothing listed; it would need {listed}" if stands_empty else f"lacks {listed}",
        figure=None,
        remedy=f"list what you have in the {place}'s file" if stands_empty else several[0].remedy,
    )


def _bare(bench: Bench, place: str) -> bool:
    if place == "rack":
        return bench.rack is not None and not bench.rack.bar
    return bench.drawer is not None and not (bench.drawer.taps or bench.drawer.reamers)


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
