"""Ruled tables and framed compartments on a sheet: which words stand together in one cell."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from tests.rebuilding.paper import Box, Marks, Path, Point, Words

SAME = 0.02
"""Lines whose places differ by less are one to the eye, mm."""
RULINGS = ("OUTLINE", "RULE")
LOW = 12.0
"""A compartment is less high, mm; a border, a title block or a table is higher."""


@dataclass(frozen=True, slots=True)
class Frame:
    """A tolerance frame: its compartments' words from left to right, and where it stands."""

    cells: tuple[str, ...]
    box: Box


@dataclass(slots=True)
class Row:
    """One row of a hole table: the words of each column, line by line with their baselines."""

    cells: dict[str, list[Words]] = field(default_factory=dict)
    frames: list[Frame] = field(default_factory=list)

    def one(self, column: str) -> str:
        """The only words of a column, "" when there are none."""
        return " ".join(words.text for words in self.cells.get(column, []))


class Rulings:
    """The straight rulings of a sheet, and the cells they make."""

    def __init__(self, marks: Marks) -> None:
        self.words = marks.words
        self.frames = _frames(marks)
        self.level: list[tuple[float, float, float]] = []  # y, x0, x1
        self.upright: list[tuple[float, float, float]] = []  # x, y0, y1
        self._read(marks)
        self._tables = [self._table_box(self._columns(head)) for head in self._heads("TAG", "HOLES")]

    def _read(self, marks: Marks) -> None:
        for path in marks.paths:
            if path.layer in RULINGS:
                for (ax, ay), (bx, by) in path.strokes:
                    if abs(ay - by) < SAME:
                        self.level.append((ay, min(ax, bx), max(ax, bx)))
                    elif abs(ax - bx) < SAME:
                        self.upright.append((ax, min(ay, by), max(ay, by)))

    def cell(self, at: Point) -> Box | None:
        """The smallest cell around a point, if it is ruled on all four sides."""
        x, y = at
        below, above = _nearest(self.level, y, x)
        left, right = _nearest(self.upright, x, y)
        if left is None or right is None or below is None or above is None:
            return None
        return left, below, right, above

    def stands_free(self, words: Words) -> bool:
        """Whether words stand outside of all hole tables and of the compartments of a title block."""
        box = self.cell(words.sure)
        return not any(_around(table, words.sure) for table in self._tables) and (box is None or box[3] - box[1] > LOW)

    def tables(self, *heads: str) -> list[list[Row]]:
        """The rows of every table whose first column has one of these heads, top row first."""
        return [rows for _, rows in self.headed(*heads)]

    def headed(self, *heads: str) -> list[tuple[Words, list[Row]]]:
        """The same, each with the words in the first head."""
        found = sorted(self._heads(*heads), key=lambda w: (-round(w.start[1], 1), w.start[0]))
        return [(head, self._rows(head)) for head in found]

    def _heads(self, *heads: str) -> list[Words]:
        return [w for w in self.words if w.text in heads and self.cell(w.sure) is not None]

    def _table_box(self, columns: dict[str, Box]) -> Box:
        sides = columns.values()
        return min(b[0] for b in sides), self._bottom(columns), max(b[2] for b in sides), max(b[3] for b in sides)

    def _rows(self, head: Words) -> list[Row]:
        columns = self._columns(head)
        cells = self._cells_below(columns)
        first = min(columns, key=lambda name: columns[name][0])
        rows = sorted({box for name, box in cells if name == first}, key=lambda box: -box[3])
        return [self._row((box[1] + box[3]) / 2.0, cells) for box in rows]

    def _columns(self, head: Words) -> dict[str, Box]:
        """The head cells of a table by what stands in them."""
        box = self.cell(head.sure)
        assert box is not None
        columns = {head.text: box}
        beside = [(w, self.cell(w.sure)) for w in self.words]
        while True:
            right = [(w, b) for w, b in beside if b and _same(b[0], box[2]) and _same(b[1], box[1])
                     and _same(b[3], box[3])]  # fmt: skip
            if not right:
                return columns
            words, box = right[0]
            assert box is not None
            columns[words.text] = box

    def _cells_below(self, columns: dict[str, Box]) -> dict[tuple[str, Box], list[Words]]:
        """Words by column and cell, from under the heads down to where the rulings of the columns end."""
        cells: dict[tuple[str, Box], list[Words]] = {}
        for words in self.words:
            if any(_around(frame.box, words.sure) for frame in self.frames):
                continue
            box = self.cell(words.sure)
            for name, head in columns.items():
                if box and _same(box[0], head[0]) and _same(box[2], head[2]) and box[3] < head[1] + SAME:
                    cells.setdefault((name, box), []).append(words)
        bottom = self._bottom(columns)
        return {key: found for key, found in cells.items() if key[1][1] > bottom - SAME}

    def _bottom(self, columns: dict[str, Box]) -> float:
        """Where the outline of a table ends: the lowest end of the uprights that pass the heads' sides."""
        left = min(box[0] for box in columns.values())
        top = max(box[3] for box in columns.values())
        return min(y0 for x, y0, y1 in self.upright if _same(x, left) and y0 < top - SAME and y1 > top - SAME)

    def _row(self, y: float, cells: dict[tuple[str, Box], list[Words]]) -> Row:
        row = Row()
        for (name, box), words in cells.items():
            if box[1] < y < box[3]:
                row.cells[name] = sorted(words, key=lambda w: -w.start[1])
                row.frames += [frame for frame in self.frames if _around(box, _middle(frame.box))]
        return row


def _nearest(
    rulings: Iterable[tuple[float, float, float]], at: float, across: float
) -> tuple[float | None, float | None]:
    """The nearest rulings on both sides among those that pass a place."""
    places = [place for place, start, end in rulings if start - SAME <= across <= end + SAME]
    low, high = [p for p in places if p <= at], [p for p in places if p > at]
    return max(low, default=None), min(high, default=None)


def _frames(marks: Marks) -> list[Frame]:
    """Rows of adjoining compartments, each a small closed box with words in it, that are no rulings of a table."""
    boxes = [path.box for path in marks.paths if path.closed and path.layer not in RULINGS and _is_box(path)]
    boxes = [box for box in boxes if box[3] - box[1] < LOW]
    frames: list[Frame] = []
    row: list[Box] = []
    for box in sorted(boxes, key=lambda b: (-round(b[3], 1), b[0])):
        if row and not (_same(row[-1][2], box[0]) and _same(row[-1][1], box[1])):
            frames.append(_frame(row, marks.words))
            row = []
        row.append(box)
    return [*frames, _frame(row, marks.words)] if row else frames


def _frame(row: Sequence[Box], words: Sequence[Words]) -> Frame:
    cells = tuple(" ".join(w.text for w in words if _around(box, w.sure)) for box in row)
    return Frame(cells, (row[0][0], row[0][1], row[-1][2], row[0][3]))


def _is_box(path: Path) -> bool:
    x0, y0, x1, y1 = path.box
    return len(path.points) == 4 and all(x in (x0, x1) and y in (y0, y1) for x, y in path.points)


def _same(a: float, b: float) -> bool:
    return abs(a - b) < SAME


def _around(box: Box, at: Point) -> bool:
    return box[0] - SAME <= at[0] <= box[2] + SAME and box[1] - SAME <= at[1] <= box[3] + SAME


def _middle(box: Box) -> Point:
    return (box[0] + box[2]) / 2.0, (box[1] + box[3]) / 2.0
