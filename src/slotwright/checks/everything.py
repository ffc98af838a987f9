"""All checks of a set-up, in the order a machinist would ask."""

from __future__ import annotations

from slotwright.checks.features import check_features
from slotwright.checks.joints import check_joints
from slotwright.checks.piece_names import check_piece_names
from slotwright.checks.supplies import check_supplies
from slotwright.checks.table_room import check_table_room
from slotwright.checks.tapping import check_tapping
from slotwright.checks.webs import check_webs
from slotwright.findings import Finding
from slotwright.fixtures.bench import Bench
from slotwright.fixtures.layout import Solution
from slotwright.pieces.piece import Piece


def pieces_of(solution: Solution) -> tuple[Piece, ...]:
    """Return every different piece, placed or loose, in the order of the design."""
    placed = [placed.piece for layout in solution.layouts for placed in layout.pieces]
    return tuple(dict.fromkeys((*placed, *solution.loose)))


def check_everything(solution: Solution, bench: Bench) -> tuple[Finding, ...]:
    """Check each piece once and each table's lay-out.

    Args:
        solution: all fixtures of a set-up together.
        bench: what it was solved against.
    """
    pieces = pieces_of(solution)
    found: list[Finding] = [*solution.findings, *check_piece_names(pieces, solution)]
    for piece in pieces:
        found += [*check_features(piece), *check_webs(piece), *check_tapping(piece), *check_supplies(piece, bench)]
    for layout in solution.layouts:
        found += [*layout.findings, *check_joints(layout, bench.unit), *check_table_room(layout)]
    return tuple(found)
