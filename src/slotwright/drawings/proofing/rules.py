"""All rules of a sheet: lettering, the frame, lines over lines, areas over areas."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import numpy as np

from slotwright.drawings.paper.sheet import Line
from slotwright.drawings.proofing.areas import areas, overlap
from slotwright.drawings.proofing.lettering import ROUNDING, lettering_judged
from slotwright.drawings.proofing.naming import Namer
from slotwright.drawings.proofing.near import Flags, crossings
from slotwright.drawings.proofing.paper import PAPER, Box, Floats, Numbers, Paper, Role
from slotwright.drawings.proofing.violation import Kind, Violation

ENDS = 0.3  # lines that meet this near to an end of one touch and do not cross, mm
THROUGH = 0.2  # a ruling that is so far on either side of the frame runs through it, mm
VISIBLE = (Line.OUTLINE, Line.THREAD)


def judged(paper: Paper) -> Iterator[Violation]:
    """Yield what is wrong on one sheet."""
    name = Namer(paper)
    yield from lettering_judged(paper, name)
    yield from _frame(paper, name)
    yield from _crossed_dimensions(paper, name)
    yield from _over_views(paper, name)
    yield from _overlaps(paper, name)
    for text in paper.cut:
        yield name.violation(Kind.CUT_OFF, text.middle(), name.text(text), "the edge of its view's window")
    for kind, at in paper.unread:
        yield name.violation(Kind.UNREAD, at, f"an entity of the kind {kind}")


# Frame


def _frame(paper: Paper, name: Namer) -> Iterator[Violation]:
    """What leaves the frame, or the paper; the border's own lines and letters stand outside the frame."""
    lines, frame = paper.lines, name.frame
    border = lines.is_kind(Line.FRAME, Line.RULE)
    on_paper = _inside(lines.ends, (0.0, 0.0, paper.width, paper.height))
    yield from _beyond(paper, border & ~on_paper, "the edge of the paper", name)
    if frame is None:
        yield name.violation(Kind.OUTSIDE_FRAME, (0.0, 0.0), "everything", "a frame, for there is none")
        return
    yield from _beyond(paper, ~border & ~_inside(lines.ends, frame), "the frame", name)
    yield from _beyond(paper, lines.is_kind(Line.RULE) & _runs_through(lines.ends, frame), "the frame", name)


def _beyond(paper: Paper, wrong: Flags, border: str, name: Namer) -> Iterator[Violation]:
    """Yield each mark of which some line is wrong, once."""
    rows = np.flatnonzero(wrong)
    _, first = np.unique(paper.lines.mark[rows], return_index=True)
    for row in rows[first].tolist():
        yield name.violation(Kind.OUTSIDE_FRAME, name.middle(row), name.line(row), border)


def _inside(ends: Floats, box: Box, more: float = ROUNDING) -> Flags:
    """Say which lines lie inside a box or on its rim."""
    low, high = np.array((*box[:2], *box[:2])) - more, np.array((*box[2:], *box[2:])) + more
    within: Flags = np.all((ends >= low) & (ends <= high), axis=1)
    return within


def _runs_through(ends: Floats, box: Box) -> Flags:
    """Say which lines have one end well inside a box and one well outside."""
    a, b = np.hstack((ends[:, :2], ends[:, :2])), np.hstack((ends[:, 2:], ends[:, 2:]))
    out = _inside(a, box, -THROUGH) & ~_inside(b, box, THROUGH)
    back = _inside(b, box, -THROUGH) & ~_inside(a, box, THROUGH)
    return np.logical_or(out, back)


# Lines over lines


def _crossed_dimensions(paper: Paper, name: Namer) -> Iterator[Violation]:
    """Dimension lines that extension lines, leaders or other dimension lines cross."""
    lines = paper.lines
    first = np.flatnonzero(lines.role == Role.DIMENSION_LINE)
    second = np.flatnonzero(np.isin(lines.role, (Role.EXTENSION, Role.LEADER, Role.DIMENSION_LINE)))
    yield from _crossed(paper, Kind.LINES_CROSS, first, second, name)


def _over_views(paper: Paper, name: Namer) -> Iterator[Violation]:
    """Lines of one view's dimensions that run over edges of another view."""
    lines = paper.lines
    edges = lines.is_kind(*VISIBLE) & (lines.role == Role.PLAIN) & (lines.view != PAPER)
    drawn = np.isin(lines.role, (Role.DIMENSION_LINE, Role.EXTENSION, Role.LEADER)) & (lines.view != PAPER)
    for view in paper.views:
        own, foreign = drawn & (lines.view == view), edges & (lines.view != view)
        yield from _crossed(paper, Kind.LINE_OVER_VIEW, np.flatnonzero(own), np.flatnonzero(foreign), name)


def _crossed(paper: Paper, kind: Kind, first: Numbers, second: Numbers, name: Namer) -> Iterator[Violation]:
    """Yield the crossings of lines from different lots, once for a pair of a dimension and a dimension or mark."""
    lines = paper.lines
    a, b, spots = crossings(lines.ends[first], lines.ends[second], ENDS)
    seen = set()
    for p, q, spot in zip(first[a].tolist(), second[b].tolist(), spots.tolist(), strict=True):
        loose = lines.view[q] == PAPER or lines.role[q] == Role.PLAIN
        other = (int(lines.mark[q]), -1) if kind is Kind.LINES_CROSS and loose else (-1, int(lines.lot[q]))
        pair = frozenset(((-1, int(lines.lot[p])), other))
        if lines.lot[p] != lines.lot[q] and pair not in seen:
            seen.add(pair)
            yield name.violation(kind, (spot[0], spot[1]), name.line(p), name.line(q))


# Areas over areas


def _overlaps(paper: Paper, name: Namer) -> Iterator[Violation]:
    """Views, tables, notes and title block over each other."""
    for a, b in combinations(areas(paper, name.frame), 2):
        at = None if a.is_note and b.is_note else overlap(a, b)
        if at is not None:
            yield name.violation(Kind.AREAS_OVERLAP, at, a.name, b.name)
