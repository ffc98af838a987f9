"""Sizes worked out from what a sheet says: unknown lengths, and equations between them.

Some equations stand for how things are drawn (two ends of an arc are equally far from its centre), some for a printed
figure. A drawing is complete when they leave no unknown open, and says nothing twice when no figure follows from the
others.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np

from tests.rebuilding.wording import Size

Residual = Callable[[Sequence[float]], float]
OPEN = 1e-7
"""A combination of unknowns that the equations hold weaker than this is open."""
STEP = 1e-6


@dataclass(frozen=True, slots=True)
class Equation:
    """One equation: what must be nothing, in terms of some unknowns.

    Attributes:
        among: numbers of the unknowns.
        residual: from their values, in the order of `among`.
        text: the printed figure, or "" where it is how things are drawn.
        off: how far the figure may be off.
    """

    among: tuple[int, ...]
    residual: Residual
    text: str = ""
    off: float = 0.0


@dataclass(slots=True)
class Equations:
    """Unknown lengths by name, where they seem to be as drawn, and what is known about them.

    Attributes:
        names: for what is said when one is open.
        drawn: as drawn, to start from.
        all: the equations.
        sizes: the solution.
    """

    names: list[str] = field(default_factory=list)
    drawn: list[float] = field(default_factory=list)
    all: list[Equation] = field(default_factory=list)
    sizes: list[Size] = field(default_factory=list)

    def unknown(self, name: str, drawn: float) -> int:
        """Add an unknown and return its number."""
        self.names.append(name)
        self.drawn.append(drawn)
        return len(self.names) - 1

    def hold(self, among: Sequence[int], residual: Residual, text: str = "", off: float = 0.0) -> None:
        """Add an equation."""
        self.all.append(Equation(tuple(among), residual, text, off))

    def solve(self, in_line: Sequence[tuple[int, int]] = ()) -> list[str]:
        """Work out all unknowns; say which are open, which figures follow from others, and which contradict.

        Args:
            in_line: pairs that are drawn in line, and are taken to be where no figure says how far they are apart.
        """
        rows, _ = self._rows(self._values())
        loose = _loose(rows)
        for a, b in in_line:
            row = np.zeros((1, len(self.names)))
            row[0, a], row[0, b] = 1.0, -1.0
            if len(loose) and np.max(np.abs(loose @ row[0])) > 1e-6:
                self.hold([a, b], lambda v: v[0] - v[1])
                rows = np.vstack([rows, row])
                loose = _loose(rows)
        return self._checked()

    def _values(self) -> np.ndarray:
        values = np.array(self.drawn, dtype=float)
        for _ in range(30):
            rows, errors = self._rows(values)
            step = np.linalg.lstsq(rows, errors, rcond=1e-9)[0]
            values = values - step
            if np.max(np.abs(step)) < 1e-10:
                break
        return values

    def _checked(self) -> list[str]:
        values = self._values()
        rows, errors = self._rows(values)
        doubts = [*self._open(rows), *self._twice(rows)]
        doubts += [f"{one.text or 'how it is drawn'} contradicts other figures by {error:.4f}"
                   for one, error in zip(self.all, errors, strict=True) if abs(error) > 1e-6 + one.off]  # fmt: skip
        offs = np.abs(np.linalg.pinv(rows, rcond=1e-9)) @ np.array([one.off for one in self.all])
        self.sizes = [Size(float(value), float(off)) for value, off in zip(values, offs, strict=True)]
        return doubts

    def _rows(self, values: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        rows = np.zeros((len(self.all), len(self.names)))
        errors = np.zeros(len(self.all))
        for n, one in enumerate(self.all):
            here = [float(values[k]) for k in one.among]
            errors[n] = one.residual(here)
            for place, k in enumerate(one.among):
                up, down = list(here), list(here)
                up[place] += STEP
                down[place] -= STEP
                rows[n, k] += (one.residual(up) - one.residual(down)) / (2.0 * STEP)
        return rows, errors

    def _open(self, rows: np.ndarray) -> list[str]:
        ways = _loose(rows)
        loose = np.max(np.abs(ways), axis=0) if len(ways) else np.zeros(len(self.names))
        return [f"nothing gives {name}" for name, much in zip(self.names, loose, strict=True) if much > 1e-5]

    def _twice(self, rows: np.ndarray) -> list[str]:
        """Printed figures that follow from the rest: of the ways in which rows cancel out, those with a figure in."""
        left, strengths, _ = np.linalg.svd(rows)
        idle = left[:, int(np.sum(strengths > OPEN)) :]
        much = np.max(np.abs(idle), axis=1) if idle.shape[1] else np.zeros(len(self.all))
        return [f"{one.text} is written although it follows from other figures"
                for one, share in zip(self.all, much, strict=True) if one.text and share > 1e-5]  # fmt: skip


def _loose(rows: np.ndarray) -> np.ndarray:
    """Combinations of unknowns that may change without breaking an equation."""
    _, strengths, ways = np.linalg.svd(rows)
    return ways[int(np.sum(strengths > OPEN)) :]
