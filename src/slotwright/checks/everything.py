"""All checks of a set-up, in the order a machinist would ask."""

from __future__ import annotations

from slotwright.checks.joints import check_joints
from slotwright.checks.supplies import check_supplies
from slotwright.checks.table_room import check_table_room
from slotwright.checks.tapping import check_tapping
from slotwright.checks.webs import check_webs
from slotwright.findings import Finding
from slotwright.fixtures.bench import Bench
from slotwright.fixtures.layout import Layout


def check_everything(layouts: tuple[Layout, ...], bench: Bench) -> tuple[Finding, ...]:
    """Check each piece once and each table's lay-out.

    Args:
        layouts: one a table, all of the same pieces.
        bench: what the set-up was solved against.
    """
    found: list[Finding] = []
    pieces = dict.fromkeys(placed.piece for layout in layouts for placed in layout.pieces)
    for piece in pieces:
        found += [*check_webs(piece), *check_tapping(piece), *check_supplies(piece, bench)]
    for layout in layouts:
        found += [*layout.findings, *check_joints(layout, bench.unit), *check_table_room(layout)]
    return tuple(found)
