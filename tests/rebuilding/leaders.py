"""Notes on leaders: where the arrow points, and the lines of words at the other end."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from tests.rebuilding.paper import Marks, Paper, Path, Point, Words, away, from_box

AT = 0.1
"""How far the point of an arrow may be off the start of its leader, mm."""
NEAR = 4.0
"""Words start no farther from the end of their leader, mm."""


@dataclass(frozen=True, slots=True)
class Note:
    """What is written at a leader.

    Attributes:
        tip: where its arrow points.
        lines: what is written, from the top.
        figure: it stands in a dimension of the model, not on the paper.
    """

    tip: Point
    lines: tuple[str, ...]
    figure: bool


def leader_notes(sheet: Paper) -> list[Note]:
    """All notes on leaders of a sheet, diameters and radii among them."""
    return [*_figures(sheet.dimensions), *_written(sheet.marks)]


def _figures(dimensions: Iterable[Marks]) -> list[Note]:
    """Dimensions with one arrow: a diameter or a radius."""
    found = []
    for marks in dimensions:
        if len(marks.arrows) == 1:
            bent = [path for path in marks.paths if not path.closed]
            tips = [end for path in bent for end in (path.points[0], path.points[-1]) if _in_arrow(end, marks)]
            found.append(Note(tips[0], tuple(words.text for words in marks.words), True))
    return found


def _in_arrow(end: Point, marks: Marks) -> bool:
    return any(away(end, corner) < AT for arrow in marks.arrows for corner in arrow)


def _written(marks: Marks) -> list[Note]:
    found = []
    words = [one for one in marks.words if one.layer == "DIMENSION"]
    for path in marks.paths:
        if path.closed or path.layer != "DIMENSION" or not _in_arrow(path.points[0], marks) or len(path.points) < 3:
            continue
        first = min(words, key=lambda one: _from_end(one, path), default=None)
        if first is not None and _from_end(first, path) < NEAR:
            lines = [first]
            while (below := _below(lines[-1], words)) is not None:
                lines.append(below)
            found.append(Note(path.points[0], tuple(one.text for one in lines), False))
    return found


def _from_end(words: Words, path: Path) -> float:
    """How far the end of a leader is from the first or the last letter."""
    x0, y0, x1, y1 = words.box
    return from_box(path.points[-1], (x0, y0, x1, y1))


def _below(words: Words, others: Iterable[Words]) -> Words | None:
    """The next line of the same note: one line lower, and they begin or, by eye, end one above the other."""
    for one in others:
        drop = (words.start[1] - one.start[1]) / words.height
        aside = abs(one.start[0] - words.start[0]), abs(one.box[2] - words.box[2])
        if 1.2 < drop < 2.0 and (aside[0] < 0.5 or aside[1] < NEAR):
            return one
    return None
