"""Say which text, which line and which field of a sheet is meant."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from slotwright.drawings.paper.sheet import Line, Point
from slotwright.drawings.proofing.paper import KINDS, PAPER, Box, Lettered, Paper, Role
from slotwright.drawings.proofing.violation import Kind, Violation

ROLES = {
    Role.DIMENSION_LINE: "dimension line",
    Role.EXTENSION: "extension line",
    Role.LEADER: "leader",
    Role.FILLED: "filled shape",
}
KIND_NAMES = {Line.RULE: "ruling", Line.FRAME: "frame", Line.OUTLINE: "outline"}


class Namer:
    """Names what lies on one sheet and makes its violations."""

    def __init__(self, paper: Paper) -> None:
        self.paper = paper

    @cached_property
    def frame(self) -> Box | None:
        """The frame: the largest upright rectangle in its kind of line."""
        boxes = [r.box for r in self.paper.rectangles if r.line is Line.FRAME]
        return max(boxes, key=lambda b: (b[2] - b[0]) * (b[3] - b[1]), default=None)

    def violation(
        self,
        kind: Kind,
        at: Point,
        what: str,
        against: str = "",
        clear: float | None = None,
        wanted: float | None = None,
    ) -> Violation:
        """Make one with its place."""
        x, y = round(float(at[0]), 1), round(float(at[1]), 1)
        return Violation(
            kind=kind,
            sheet=self.paper.name,
            at=(x, y),
            zone=self.zone((x, y)),
            what=what,
            against=against,
            clear=None if clear is None else round(clear, 2),
            wanted=None if wanted is None else round(wanted, 2),
        )

    def zone(self, at: Point) -> str:
        """Name the field of the border by the nearest letter and number outside the frame."""
        letters, numbers = self._labels
        if not letters or not numbers:
            return ""
        return (
            min(letters, key=lambda one: abs(one[0] - at[1]))[1] + min(numbers, key=lambda one: abs(one[0] - at[0]))[1]
        )

    @cached_property
    def _labels(self) -> tuple[list[tuple[float, str]], list[tuple[float, str]]]:
        """Letters with their heights on the paper, numbers with their places along it."""
        letters: list[tuple[float, str]] = []
        numbers: list[tuple[float, str]] = []
        x0, y0, x1, y1 = self.frame or (0.0, 0.0, 0.0, 0.0)
        for text in self.paper.texts:
            x, y = text.middle()
            if text.line is Line.RULE and not (x0 < x < x1 and y0 < y < y1):
                (letters if text.words.isalpha() else numbers).append((y if text.words.isalpha() else x, text.words))
        return letters, numbers

    def text(self, text: Lettered) -> str:
        """Say which text."""
        view = self.paper.views.get(text.view)
        return f'"{text.words}"' + (f" in {view}" if view else "")

    def line(self, row: int) -> str:
        """Say which line, from its row."""
        lines = self.paper.lines
        role, kind = Role(int(lines.role[row])), KINDS[int(lines.kind[row])]
        if role is Role.LETTERING:
            return self.text(self.paper.texts[int(lines.mark[row])])
        name = ROLES.get(role) or KIND_NAMES.get(kind) or f"{kind.value} line"
        view = self.paper.views.get(int(lines.view[row]))
        value = "" if role is Role.PLAIN else self._value(int(lines.lot[row]))
        return name + (f" of {value}" if value else "") + (f" in {view}" if view else "")

    def _value(self, lot: int) -> str:
        """Return the one text of a dimension."""
        words = [f'"{text.words}"' for text in self.paper.texts if text.lot == lot and text.view != PAPER]
        return words[0] if len(words) == 1 else ""

    def middle(self, row: int) -> Point:
        """Return the middle of a line."""
        x0, y0, x1, y1 = np.asarray(self.paper.lines.ends[row])
        return float(x0 + x1) / 2.0, float(y0 + y1) / 2.0
