"""Centre lines of a whole bar, from which a sheet may count: said in a note, drawn, and signed at both ends.

The sign of symmetry is two short strokes square to the line at each of its ends (ISO 128-3, ASME Y14.2; from memory).
"""

from __future__ import annotations

from tests.rebuilding.paper import Box, Marks, Path

STARTS = {
    "X AND Y FROM THE DATUM CORNER: LEFT END, FRONT EDGE": (False, False),
    "X FROM THE LEFT END, Y FROM THE CENTRE LINE": (False, True),
    "X AND Y FROM THE CENTRE LINES": (True, True),
}
"""Whether X and whether Y count from the middle, by the note that says so."""
SAME = 0.05
SIGN = 6.0
"""The sign's strokes are shorter and stand nearer to the outline, mm."""


def counted_from(notes: str) -> tuple[bool, bool] | None:
    """Whether X and Y count from the middle of the plan; None where no note, or more than one, says what from."""
    notes = notes.replace("CENTER", "CENTRE")  # by ASME
    found = [start for words, start in STARTS.items() if words in notes]
    return found[0] if len(found) == 1 else None


def is_signed(marks: Marks, plan: Box, *, upright: bool) -> bool:
    """Whether a centre line runs through the plan's middle and out of it at both ends, with a sign at each."""
    along, across = (1, 0) if upright else (0, 1)
    middle = (plan[across] + plan[across + 2]) / 2.0
    low, high = plan[along], plan[along + 2]
    on = [path for path in marks.paths if path.layer == "CENTRE" and _level(path, across, middle)]
    ends = [point[along] for path in on for point in path.points]
    if not ends or min(ends) > low - 1.0 or max(ends) < high + 1.0:
        return False
    square = [path for path in marks.paths if _crosses(path, along, across, middle)]
    places = [path.points[0][along] for path in square]
    return all(sum(a < place < b for place in places) == 2 for a, b in ((low - SIGN, low), (high, high + SIGN)))


def _level(path: Path, across: int, at: float) -> bool:
    return all(abs(point[across] - at) < SAME for point in path.points)


def _crosses(path: Path, along: int, across: int, at: float) -> bool:
    """Whether a short straight stroke stands square on a line, half on each side of it."""
    if len(path.points) != 2 or abs(path.points[0][along] - path.points[1][along]) > SAME:
        return False
    low, high = sorted(point[across] for point in path.points)
    return high - low < SIGN and abs((low + high) / 2.0 - at) < SAME
