"""The general notes of a piece's drawing: what holds for all of it and is said once."""

from __future__ import annotations

from math import hypot

from slotwright.drawings.callouts import POSITION, times
from slotwright.drawings.paper.notes import sentence
from slotwright.drawings.paper.sheet_data import other_unit_name, spelled, unit_name
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.view_group import ViewGroup
from slotwright.drawings.piece.piece_signs import EDGES, edge_text
from slotwright.drawings.shapes.views_needed import datums_note, places_note
from slotwright.pieces.features import Hole
from slotwright.pieces.hole_groups import hole_groups, tagged_holes
from slotwright.pieces.piece import Piece

ROUNDING = 0.1
"""Of a position tolerance, what the rounding of written figures may use up; common practice, no source."""

BURR = {"mm": 0.3, "in": 0.254}
"""What is broken off a sharp edge, mm: 0.3, or .01 in; common practice, no source."""

_CARRIED = {(True, False): "HOLE POSITIONS", (False, True): "DETAILS", (True, True): "HOLE POSITIONS AND DETAILS"}
MOST_TAGS = 12
"""Holes that a note names each; our choice."""


def piece_notes(piece: Piece, style: Style, group: ViewGroup, *, carried: bool, apart: bool) -> tuple[str, ...]:
    """Return the numbered notes of a piece's sheet.

    Args:
        piece: what is drawn.
        style: of words and figures.
        group: its views, for what they could not show.
        carried: the table of positions stands on a sheet of its own.
        apart: the details do.
    """
    notes = [f"DIMENSIONS IN {unit_name(style)}. {places_note(piece)}".rstrip()]
    if style.alternate:
        notes.append(f"FIGURES IN BRACKETS [ ] ARE {other_unit_name(style)}, FOR INFORMATION.")
    if not piece.blank.edge_chamfer:
        notes.append(f"BREAK SHARP EDGES {_unbroken(style.figure(BURR[style.unit], 2))}\u00a0{times(style)}\u00a045°.")
    elif not group.edges_noted:
        notes.append(f"{_unbroken(f'CHAMFER {edge_text(piece, style)}')} {EDGES}.")
    if carried or apart:
        notes.append(f"{_CARRIED[carried, apart]}: SEE THE NEXT SHEET.")
    if not group.tagged:
        notes.append("HOLES WITHOUT A TAG ON THE PLAN ARE FOUND BY THEIR X AND Y.")
    if any(hole.depth is not None for hole in piece.holes):
        angles = sorted(
            {hole.point_angle for hole in piece.holes if hole.depth is not None and hole.point_angle < 180.0}
        )
        points = f"; DRILL POINTS {', '.join(style.angle(a) for a in angles)}" if angles else ""
        notes.append(f"DEPTHS OF BLIND HOLES ARE TO THE FULL DIAMETER{points}.")
    if piece.has_datums:
        notes.append(datums_note(piece))
        exact = "BASIC" if style.name == "asme" else "THEORETICALLY EXACT"
        notes.append(f"X AND Y OF HOLES WITH {POSITION} ARE {exact} DIMENSIONS.")
        counted = tagged_holes(piece) if piece.centre is None else ()  # from a centre a circle and angles say it
        rounded = [one.tag for one in counted if _rounded_off(one.hole, style)]
        which = ", ".join(rounded) if len(rounded) <= MOST_TAGS else f"HOLES WITH {POSITION}"
        notes.append(f"X AND Y OF {which} IN FULL: {piece.name}-holes.csv" if rounded else "")
    notes += _served(piece)
    notes.append(f"SAW TO {_unbroken(style.figure(piece.cut_length, 2))} LONG." if piece.saw_allowance else "")
    notes += (sentence(note) for note in piece.notes if note)
    return tuple(spelled(note, style) for note in notes if note)


def _unbroken(words: str) -> str:
    """Keep words on one line."""
    return words.replace(" ", "\u00a0")


def _rounded_off(hole: Hole, style: Style) -> bool:
    """Say whether the figures of a hole's place use up more of its position tolerance than they may."""
    if hole.position_tolerance is None:
        return False
    off = (float(style.rounded(mm)) * style.unit_length - mm for mm in (hole.x, hole.y))
    return 2.0 * hypot(*off) > ROUNDING * hole.position_tolerance + 1e-9


def _served(piece: Piece) -> list[str]:
    """Say which holes go to which table, where a piece serves several."""
    tables = dict.fromkeys(t for hole in piece.holes for t in hole.tables)
    lines = []
    for table in tables:
        tags = [one.tag for group in hole_groups(piece) for one in group.holes if table in one.hole.tables]
        lines.append(f"FOR TABLE {table} USE HOLES {', '.join(tags)}.")
    return lines
