"""Proof-read a sheet: what overlaps, what is crossed, what leaves the frame (`slotwright proof`).

It judges the finished paper, not the composing: from a DXF file alone, or from a drawing that is about to be written.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from slotwright.drawings.paper.sheet import Drawing, Sheet, View, on_paper
from slotwright.drawings.proofing.laying import laid_out
from slotwright.drawings.proofing.paper import PAPER, Lot, Paper
from slotwright.drawings.proofing.rules import judged
from slotwright.drawings.proofing.violation import Kind, Violation
from slotwright.findings import COMMON_PRACTICE, Figure, Finding, Severity

__all__ = ["Kind", "Violation", "findings", "layout_findings", "proof", "proof_of"]

CODE = "drawing-layout"
REMEDY = "read the sheet with care there; fewer holes in one piece give room"
STANDARD = "ISO 129-1 and ASME Y14.5 in substance, from memory"
RULES: dict[Kind, tuple[str, str]] = {
    Kind.TEXT_ON_TEXT: ("lettering stands clear of other lettering", COMMON_PRACTICE),
    Kind.LINE_THROUGH_TEXT: ("no line crosses lettering", STANDARD),
    Kind.ARROW_ON_TEXT: ("no arrowhead lies on lettering", COMMON_PRACTICE),
    Kind.TEXT_TOO_NEAR: ("dimension text stands its own height clear of all that is not its own", COMMON_PRACTICE),
    Kind.OUTSIDE_FRAME: ("everything stands inside the frame", "ISO 5457 and ASME Y14.1, from memory"),
    Kind.CUT_OFF: ("a view's window shows its lettering whole", COMMON_PRACTICE),
    Kind.AREAS_OVERLAP: ("views, tables, notes and title block stand apart", COMMON_PRACTICE),
    Kind.LINE_OVER_VIEW: ("no line of a dimension crosses another view", COMMON_PRACTICE),
    Kind.LINES_CROSS: ("extension lines do not cross dimension lines where it can be avoided", STANDARD),
    Kind.UNREAD: ("everything on the sheet can be judged", COMMON_PRACTICE),
}


def proof(dxf: bytes) -> tuple[Violation, ...]:
    """Return what is wrong on the sheets of one of our DXF files, sheet by sheet.

    Errors: proofing.reading.NotADrawingError when it is no DXF file or not one of ours.
    """
    from slotwright.drawings.proofing.reading import papers

    return _judged(papers(dxf))


def proof_of(drawing: Drawing) -> tuple[Violation, ...]:
    """Return what is wrong on the sheets of a drawing that is not written yet; the same as `proof` of its file."""
    return _judged(_sheet(number, sheet) for number, sheet in enumerate(drawing.sheets, 1))


def _judged(papers: Iterable[Paper]) -> tuple[Violation, ...]:
    return tuple(violation for one in papers for violation in judged(one))


def _sheet(number: int, sheet: Sheet) -> Paper:
    lots = []
    known: dict[object, int] = {}  # the parts of a broken view are one view
    for view in sheet.views:
        n = known.setdefault(_identity(view), len(known) + 1)
        lots.append(Lot(n, view.name, tuple(on_paper(view)), view.frame))
        for dimension in view.dimensions:
            kind, direction = dimension.kind, dimension.direction
            key = "" if view.whole is None else f"{n} {kind} {dimension.points}"
            lots.append(Lot(n, view.name, dimension.marks, view.frame, kind, direction, key))
    lots.append(Lot(PAPER, "", sheet.marks))
    return laid_out(f"Sheet {number}", sheet.width, sheet.height, lots)


def _identity(view: View) -> object:
    return id(view) if view.whole is None else (view.name, view.whole.origin, view.whole.scale)


def layout_findings(drawings: Mapping[str, Drawing]) -> tuple[Finding, ...]:
    """Return what is wrong on drawings, and what found no place on them, by the names of their files."""
    found: list[Finding] = []
    for name, drawing in drawings.items():
        found += findings((one for one in proof_of(drawing) if not one.avoidable), name)
        found += (_lack(sentence, name) for sentence in drawing.lacks)
    return tuple(found)


def _lack(sentence: str, name: str) -> Finding:
    return Finding(
        code=CODE,
        severity=Severity.CAUTION,
        place=name,
        message=sentence,
        rule="every hole has its tag beside it",
        source=COMMON_PRACTICE,
        remedy=REMEDY,
    )


def findings(violations: Iterable[Violation], name: str) -> tuple[Finding, ...]:
    """Return violations as findings of caution.

    Args:
        violations: of one drawing.
        name: the drawing's name, such as the piece's.
    """
    return tuple(_finding(violation, name) for violation in violations)


def _finding(violation: Violation, name: str) -> Finding:
    rule, source = RULES[violation.kind]
    return Finding(
        code=CODE,
        severity=Severity.CAUTION,
        place=f"{name}, {violation.place}",
        message=violation.sentence,
        figure=None if violation.clear is None else Figure(value=violation.clear),
        limit=None if violation.wanted is None else Figure(value=violation.wanted),
        rule=rule,
        source=source,
        remedy=REMEDY,
    )
