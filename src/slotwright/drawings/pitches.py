"""Rows of equal holes at an equal pitch, which one dimension locates: `3 × 40 (= 120)`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from slotwright.drawings.callouts import times
from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.style import Style
from slotwright.pieces.features import Hole
from slotwright.pieces.hole_groups import hole_groups
from slotwright.pieces.piece import Piece

LEAST = 4  # holes in a row worth a dimension of its own; our choice
SAME = 1e-6  # mm


@dataclass(frozen=True, slots=True)
class Row:
    """Equal holes on a line along X.

    Attributes:
        first, last: x of the end holes, mm.
        y: of the line, mm.
        steps: number of pitches.
        text: what the dimension says, "<>" standing for the whole length.
    """

    first: float
    last: float
    y: float
    steps: int
    text: str

    def inside(self, x: float) -> bool:
        """Say whether a place lies after its first hole and up to its last."""
        return self.first + SAME < x < self.last + SAME

    def written(self, style: Style) -> str:
        """Return what the dimension says with its figure."""
        return self.text.replace("<>", style.figure(self.last - self.first))


def pitch_text(steps: int, pitch: float, style: Style) -> str:
    """Return how a row of equal pitches is written, "<>" standing for the whole length."""
    return f"{steps}{times(style) if style.name == 'asme' else ' ' + times(style)} {style.figure(pitch)} (= <>)"


def equal_rows(piece: Piece, scale: float, style: Style) -> tuple[Row, ...]:
    """Return the rows that one dimension each can locate, from left to right, none over another.

    A row qualifies when no other place along X lies within it, its figures multiply out as written, and the figure
    stands between its ends. Holes with a position tolerance have exact figures of their own and are left out.
    """
    places = {round(hole.x, 6) for hole in piece.holes}
    found: list[Row] = []
    for run in sorted(_runs(piece), key=lambda holes: (-len(holes), holes[0].x)):
        row = _row(run, scale, style)
        if row is None:
            continue
        own = {round(hole.x, 6) for hole in run}
        alone = all(x in own for x in places if row.first - SAME < x < row.last + SAME)
        apart = all(row.last < other.first - SAME or row.first > other.last + SAME for other in found)
        if alone and apart:
            found.append(row)
    return tuple(sorted(found, key=lambda row: row.first))


def _runs(piece: Piece) -> Iterator[list[Hole]]:
    """Yield the longest runs of equal pitch among equal holes of one line."""
    for group in hole_groups(piece):
        lines: dict[float, list[Hole]] = {}
        for tagged in group.holes:
            if tagged.hole.position_tolerance is None:
                lines.setdefault(round(tagged.hole.y, 6), []).append(tagged.hole)
        for holes in lines.values():
            yield from _even(sorted(holes, key=lambda hole: hole.x))


def _even(holes: Sequence[Hole]) -> Iterator[list[Hole]]:
    start = 0
    while len(holes) - start >= LEAST:
        pitch = holes[start + 1].x - holes[start].x
        end = start + 1
        while end + 1 < len(holes) and abs(holes[end + 1].x - holes[end].x - pitch) < SAME:
            end += 1
        if end - start + 1 >= LEAST:
            yield list(holes[start : end + 1])
        start = max(end, start + 1)


def _row(run: Sequence[Hole], scale: float, style: Style) -> Row | None:
    first, last, steps = run[0].x, run[-1].x, len(run) - 1
    pitch = (last - first) / steps
    if style.rounded(pitch) * steps != style.rounded(last - first):
        return None
    text = pitch_text(steps, pitch, style)
    written = text.replace("<>", style.figure(last - first))
    if lettering.width(written, style.text) + 2.0 * (style.arrow + style.text_gap) > (last - first) * scale:
        return None
    return Row(first, last, run[0].y, steps, text)
