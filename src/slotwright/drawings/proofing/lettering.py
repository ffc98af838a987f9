"""Lettering against everything else: what lies on it, what runs through it, what comes too near to a dimension."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import cos, radians, sin

import numpy as np

from slotwright.drawings.paper.sheet import Line
from slotwright.drawings.proofing.belonging import Belonging
from slotwright.drawings.proofing.naming import Namer
from slotwright.drawings.proofing.near import Flags, distances, near, pieces
from slotwright.drawings.proofing.paper import Floats, Lettered, Numbers, Paper, Role, half_widths
from slotwright.drawings.proofing.violation import Kind, Violation

ROUNDING = 0.02  # what rounding may take from an edge, mm
OVERSHOOT = 0.1  # round figures reach a little over the height of capitals, so that much less clear space is enough, mm
LOOK = 1.0  # how far around every text lines are looked at, mm


@dataclass(frozen=True, slots=True)
class _Pairs:
    """Texts with pieces of line near them; a row is a pair.

    Attributes:
        text: number of the text.
        row: row of the line.
        ends: of the piece.
        gap: from the box of the ink, mm.
        met: whether ink lies on ink.
    """

    text: Numbers
    row: Numbers
    ends: Floats
    gap: Floats
    met: Flags


def lettering_judged(paper: Paper, name: Namer) -> Iterator[Violation]:
    """Yield what is wrong with the lettering of a sheet."""
    if not paper.texts:
        return
    wanted = clear_space(paper.texts)
    pairs = _pairs(paper, np.maximum(wanted, LOOK))
    yield from _collisions(paper, pairs, name)
    yield from _too_near(paper, pairs, wanted, name)


def clear_space(texts: Sequence[Lettered]) -> Floats:
    """Return the clear space each text wants, mm: its own height for dimensions and notes on leaders, else none."""
    return np.array([text.height if text.line is Line.DIMENSION else 0.0 for text in texts])


def _pairs(paper: Paper, reach: Floats) -> _Pairs:
    lines, cut = paper.lines, pieces(paper.lines)
    text, piece = near(paper.texts, reach, cut)
    other = lines.mark[cut.row[piece]] != text
    text, piece = text[other], piece[other]
    row, ends = cut.row[piece], cut.ends[piece]
    gap, _ = distances(boxes(paper.texts)[text], ends)
    solid = np.isin(lines.role[row], (Role.FILLED, Role.LETTERING))
    entered = distances(boxes(paper.texts, shrunk=2.0 * ROUNDING)[text], ends)[0] <= 0.0
    return _Pairs(text, row, ends, gap, np.where(solid, entered, gap < half_widths(lines.kind[row]) - ROUNDING))


def _collisions(paper: Paper, pairs: _Pairs, name: Namer) -> Iterator[Violation]:
    """Yield each pair of a text and a mark that lies on it, once."""
    lines, kinds = paper.lines, {Role.LETTERING: Kind.TEXT_ON_TEXT, Role.FILLED: Kind.ARROW_ON_TEXT}
    seen = set()
    for n, row in zip(pairs.text[pairs.met].tolist(), pairs.row[pairs.met].tolist(), strict=True):
        pair = frozenset((n, int(lines.mark[row])))
        if pair not in seen:
            seen.add(pair)
            kind = kinds.get(Role(int(lines.role[row])), Kind.LINE_THROUGH_TEXT)
            yield name.violation(kind, paper.texts[n].middle(), name.text(paper.texts[n]), name.line(row))


def _too_near(paper: Paper, pairs: _Pairs, wanted: Floats, name: Namer) -> Iterator[Violation]:
    """Yield for each dimension text the nearest thing that is not its own, where that is too near.

    Texts that something lies on are told of already.
    """
    belonging, hit = Belonging(paper), np.unique(pairs.text[pairs.met])
    chosen = (wanted[pairs.text] > 0.0) & ~np.isin(pairs.text, hit) & ~belonging.same_dimension(pairs.text, pairs.row)
    text, row, ends = pairs.text[chosen], pairs.row[chosen], pairs.ends[chosen]
    clear, spot = distances(boxes(paper.texts, capitals=True)[text], ends)
    order = np.argsort(clear, kind="stable")
    nearest: dict[int, int] = {}
    for k in order[clear[order] < wanted[text[order]] - OVERSHOOT].tolist():
        if int(text[k]) not in nearest and not belonging.own(int(text[k]), int(row[k]), spot[k]):
            nearest[int(text[k])] = k
    for n, k in sorted(nearest.items()):
        one = paper.texts[n]
        near_by = name.text(one), name.line(int(row[k])), float(clear[k]), one.height
        yield name.violation(Kind.TEXT_TOO_NEAR, one.middle(), *near_by)


def boxes(texts: Sequence[Lettered], *, capitals: bool = False, shrunk: float = 0.0) -> Floats:
    """Return rows for `distances`: the boxes of the ink, or of the capitals' height, made smaller on all sides."""
    rows = []
    for text in texts:
        c, s = cos(radians(text.angle)), sin(radians(text.angle))
        low, high = (0.0, text.height) if capitals else (text.low, text.high)
        rows.append((*text.at, c, s, shrunk, low + shrunk, text.width - shrunk, high - shrunk))
    return np.array(rows, dtype=np.float64).reshape(-1, 8)
