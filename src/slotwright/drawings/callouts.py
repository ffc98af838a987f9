"""What a hole's size says on a drawing, in the style's words and symbols.

Symbols of ISO 129-1 and ASME Y14.5: diameter, depth, counterbore, position; threads by ISO 6410-1 and ASME Y14.6.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from slotwright.drawings.converted import limits_bracket, zone_bracket
from slotwright.drawings.paper.style import Style
from slotwright.parts.threads import Thread
from slotwright.pieces.features import Counterbore, Face, Hole, Limits, Ream
from slotwright.pieces.hole_groups import TaggedHole, hole_groups
from slotwright.pieces.piece import Piece

DIAMETER, DEPTH, COUNTERBORE, COUNTERSINK, POSITION = "⌀", "↧", "⌴", "⌵", "⌖"
THROUGH = "THRU"
DATUMS = ("A", "B", "C")  # bottom face, front edge, left end: the three faces all positions are measured from


@dataclass(frozen=True, slots=True)
class SizeLine:
    """One line of a hole's size: what, and how deep; depth is empty where the line has none."""

    size: str
    depth: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleRow:
    """One row of the hole table, as text in the drawing's unit.

    Attributes:
        tag: such as "A2".
        x, y: from the datum corner.
        size, depth: of all steps of the hole, joined by " / ".
        quantity: holes of this size in the piece.
        callout: size with depths and number, as a leader note would say it.
        tolerance: diameter of the position tolerance zone, or "".
        tables: tables it serves, joined by ", "; "" where the piece serves one.
    """

    tag: str
    x: str
    y: str
    size: str
    depth: str
    quantity: int
    callout: str
    tolerance: str
    tables: str


def hole_table(piece: Piece, style: Style) -> tuple[HoleRow, ...]:
    """Return the rows of a piece's hole table, group by group."""
    return tuple(_row(tagged, len(group.holes), style) for group in hole_groups(piece) for tagged in group.holes)


def _row(tagged: TaggedHole, quantity: int, style: Style) -> HoleRow:
    hole = tagged.hole
    lines = size_lines(hole, style)
    return HoleRow(
        tag=tagged.tag,
        x=style.number(hole.x),
        y=style.number(hole.y),
        size=" / ".join(line.size for line in lines),
        depth=" / ".join(line.depth for line in lines if line.depth),
        quantity=quantity,
        callout=", ".join(callout(hole, quantity, style)),
        tolerance="" if hole.position_tolerance is None else zone_text(hole.position_tolerance, style),
        tables=", ".join(hole.tables),
    )


def callout(hole: Hole, quantity: int, style: Style) -> tuple[str, ...]:
    """Return the lines of a leader note, such as ("2× M12 - 6H ↧25", "⌀10.2 ↧31")."""
    lines = [_joined(line) for line in size_lines(hole, style)]
    if quantity > 1:
        lines[0] = f"{quantity}{times(style)} {lines[0]}"
    return tuple(lines)


def times(style: Style) -> str:
    """Return the sign for "so many times" and "by"."""
    return "X" if style.name == "asme" else "×"


def _joined(line: SizeLine) -> str:
    if line.depth in ("", THROUGH):
        return f"{line.size} {line.depth}".rstrip()
    return f"{line.size} {DEPTH}{line.depth}"


def size_lines(hole: Hole, style: Style) -> tuple[SizeLine, ...]:
    """Return a hole's size step by step: thread or bore, then tap drill, then counterbore."""
    bore_depth = THROUGH if hole.depth is None else depth_text(hole.depth, style)
    lines = []
    if hole.thread is not None:
        deep = bore_depth if hole.thread_depth is None else depth_text(hole.thread_depth, style)
        lines.append(SizeLine(thread_text(hole.thread), deep))
        lines.append(SizeLine(_tap_drill(hole, hole.thread, style), bore_depth))
    elif hole.slot_extra:
        lines.append(SizeLine(_slot(hole, style), bore_depth))
    elif hole.ream is not None:
        lines.append(SizeLine(_reamed(hole, hole.ream, style), bore_depth))
    else:
        lines.append(SizeLine(DIAMETER + style.figure(hole.diameter), bore_depth))
    if hole.counterbore is not None:
        lines.append(_counterbore(hole, hole.counterbore, style))
    if hole.countersink is not None:
        sink = hole.countersink
        angle = style.angle(sink.angle)
        lines.append(SizeLine(f"{COUNTERSINK}{DIAMETER}{style.figure(sink.diameter)} {times(style)} {angle}"))
    if hole.face is Face.BOTTOM:
        lines.append(SizeLine("FROM BOTTOM FACE"))
    if hole.note:
        lines.append(SizeLine(hole.note.upper()))
    return tuple(lines)


def zone_text(mm: float, style: Style) -> str:
    """Write the diameter of a position tolerance zone."""
    return DIAMETER + style.number(mm) + zone_bracket(mm, style)


def depth_text(mm: float, style: Style) -> str:
    """Write a depth: two decimals at most, for a quill stop is set no finer."""
    return style.figure(mm, 2)


@cache
def thread_text(thread: Thread) -> str:
    """Return the designation with the class a common tap cuts: 6H (ISO 965-1) or 2B (ASME B1.1)."""
    return f"{thread.designation} - 6H" if thread.system == "metric" else f"{thread.designation} - 2B"


def _tap_drill(hole: Hole, thread: Thread, style: Style) -> str:
    plain = DIAMETER + style.figure(hole.diameter)
    named = thread.system == "inch" and abs(hole.diameter - thread.tap_drill) < 1e-6
    return f"{plain} ({thread.tap_drill_name})" if named else plain


def _slot(hole: Hole, style: Style) -> str:
    width, length = style.figure(hole.diameter), style.figure(hole.diameter + hole.slot_extra)
    turned = hole.slot_angle % 180.0
    return f"SLOT {width} {times(style)} {length}" + (f" AT {style.angle(turned)}" if turned else "")


def _reamed(hole: Hole, ream: Ream, style: Style) -> str:
    """Size with class and limits; inch drawings show one decimal more, for reamed sizes are finer than drilled ones."""
    places = 4 if style.unit == "in" else 3
    limits = "/".join(deviations(ream, places, style))
    size = style.number(hole.diameter, places)
    other = limits_bracket(hole.diameter, ream, places, style)
    return f"{DIAMETER}{size} {ream.tolerance} ({limits}){other}".replace("  ", " ")


def deviations(limits: Limits, places: int, style: Style) -> tuple[str, str]:
    """Write the upper and the lower limit with their signs, as many decimals in both; a zero in mm has neither."""
    texts = [style.number(mm, places) for mm in (limits.upper, limits.lower)]
    most = max(len(text.partition(style.decimal)[2]) for text in texts)
    padded = [text if text == "0" else _padded(text, most, style) for text in texts]
    upper, lower = (text if text.startswith("-") or text == "0" else f"+{text}" for text in padded)
    return upper, lower


def _padded(text: str, decimals: int, style: Style) -> str:
    whole, _, part = text.partition(style.decimal)
    return f"{whole}{style.decimal}{part.ljust(decimals, '0')}" if decimals else whole


def _counterbore(hole: Hole, bore: Counterbore, style: Style) -> SizeLine:
    across = style.figure(bore.diameter)
    if hole.slot_extra:
        return SizeLine(f"{COUNTERBORE}{across} {times(style)} {style.figure(bore.diameter + hole.slot_extra)}",
                        depth_text(bore.depth, style))  # fmt: skip
    return SizeLine(f"{COUNTERBORE}{DIAMETER}{across}", depth_text(bore.depth, style))
