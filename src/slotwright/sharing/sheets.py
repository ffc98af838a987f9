"""What a design says about its drawings, as the drawings room takes it."""

from __future__ import annotations

from slotwright.drawings.paper.sheet_data import Revision, SheetData
from slotwright.drawings.paper.style import Style, style
from slotwright.sharing.set_up import SetUp


def sheet_style(made: SetUp) -> Style:
    """Return the drawing style a design chooses."""
    chosen = made.design.drawing
    return style(chosen.style, made.bench.unit, decimal=chosen.decimal, alternate=chosen.alternate)


def sheet_data(made: SetUp) -> SheetData:
    """Return the words for the title blocks of a design's drawings."""
    chosen = made.design.drawing
    revisions = tuple(Revision(r.index, r.text or "", r.date or "", r.by or "") for r in chosen.revisions)
    return SheetData(
        title=made.design.title,
        content_id=made.content_id,
        pieces=tuple(dict.fromkeys(piece.name for piece in made.pieces)),
        tables=tuple(layout.table.name for layout in made.layouts),
        projection="first" if chosen.projection == "first" else "third",
        owner=chosen.owner or "",
        creator=chosen.creator or "",
        date=chosen.date or "",
        revision=chosen.revision or (revisions[-1].index if revisions else ""),
        revisions=revisions,
        tolerance=chosen.tolerance,
        findings=made.findings,
    )
