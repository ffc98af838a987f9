"""Which tables of a workspace a design can serve, and whether one set of pieces could serve several of them."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from pathlib import Path
from typing import Any

from slotwright.errors import DesignError
from slotwright.findings import Severity
from slotwright.fixtures.family import Family
from slotwright.sharing.compare import compare
from slotwright.sharing.refit import Refit, check_on_table, refit
from slotwright.sharing.set_up import set_up
from slotwright.sharing.workspace import Workspace

MOST_TOGETHER = 12
MOST_SETS = 400
"""Sets of tables tried for one set of pieces; our choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TableFit:
    """How a design goes with one table, or with several at once.

    Attributes:
        tables: their names.
        done: the refit, or None where there is no way.
        problem: why there is none; "" where there is one.
    """

    tables: tuple[str, ...]
    done: Refit | None
    problem: str = ""

    @property
    def lost(self) -> tuple[str, ...]:
        """Keys of choices that could not be carried over."""
        choices = self.done.lost if self.done is not None else ()
        return tuple(dict.fromkeys(choice.key for choice in choices if choice.key not in ("table", "unit")))

    @property
    def serves(self) -> bool:
        """Whether the design can be made for them without a stop finding."""
        return self.done is not None and self.done.new.severity is not Severity.STOP

    def count(self, severity: Severity) -> int:
        """Count the findings of one severity."""
        return sum(f.severity is severity for f in self.done.new.findings) if self.done is not None else 0

    @property
    def moved(self) -> int:
        """How many holes are other ones than in the design as it is."""
        return len(compare(self.done.old, self.done.new).changed_holes) if self.done is not None else 0

    @property
    def verdict(self) -> str:
        """One word or two for a matrix."""
        if self.done is None:
            return "no"
        if not self.serves:
            return "stop"
        return "with losses" if self.lost else "yes"


def fits(path: Path, scripted: tuple[Family, ...] = ()) -> tuple[TableFit, ...]:
    """Try a design on every table of its workspace, its own included; scripted as in `refit`.

    Errors: DesignError for a bad design, and for one that goes by no table.
    """
    check_on_table(set_up(path, scripted), path.as_posix())
    return tuple(fit(path, (name,), scripted) for name in Workspace.around(path).table_names())


def fit(path: Path, tables: tuple[str, ...], scripted: tuple[Family, ...] = ()) -> TableFit:
    """Try a design on one table, or on several with one set of pieces. Errors: DesignError for a bad design."""
    try:
        return TableFit(tables=tables, done=refit(path, tables, scripted=scripted))
    except DesignError as error:
        if not error.key.startswith(("fixture", "table")) and error.key:
            raise
        return TableFit(tables=tables, done=None, problem=error.problem)


def together(path: Path, alone: tuple[TableFit, ...], scripted: tuple[Family, ...] = ()) -> tuple[TableFit, ...]:
    """Find the largest sets of tables that one set of pieces serves without a stop finding; none of one table only.

    Sets grow table by table: one can serve only where each of its parts does. Webs between the holes for different
    tables decide, as in any check.
    """
    names = [one.tables[0] for one in alone if one.serves][:MOST_TOGETHER]
    found: dict[tuple[str, ...], TableFit] = {}
    wanted: list[tuple[str, ...]] = list(combinations(names, 2))
    tried = 0
    while wanted and tried < MOST_SETS:
        level: dict[tuple[str, ...], TableFit] = {}
        for tables in wanted[: MOST_SETS - tried]:
            one = fit(path, tables, scripted)
            tried += 1
            if one.serves:
                level[tables] = one
        found |= level
        wanted = _grown(level, names)
    return tuple(one for tables, one in found.items() if not any(set(tables) < set(other) for other in found))


def _grown(level: dict[tuple[str, ...], TableFit], names: list[str]) -> list[tuple[str, ...]]:
    """Sets of one table more, all of whose parts are in the level."""
    grown = [(*tables, name) for tables in level for name in names[names.index(tables[-1]) + 1 :]]
    return [tables for tables in grown if all(part in level for part in combinations(tables, len(tables) - 1))]


def matrix_lines(alone: tuple[TableFit, ...], several: tuple[TableFit, ...]) -> list[str]:
    """Return the matrix for a person: a row a table, then the sets that one set of pieces serves."""
    rows = [("table", "serves", "holes moved", "cautions", "stops", "")]
    rows += [(one.tables[0], *_cells(one)) for one in alone]
    wide = [max(len(row[n]) for row in rows) for n in range(5)]
    lines = ["  ".join(cell.ljust(w) for cell, w in zip(row, [*wide, 0], strict=True)).rstrip() for row in rows]
    for one in several:
        losses = f"; not carried over: {', '.join(one.lost)}" if one.lost else ""
        cautions = one.count(Severity.CAUTION)
        counted = f"{cautions} caution{'' if cautions == 1 else 's'}"
        lines.append(f"one set of pieces serves {' + '.join(one.tables)}: {counted}{losses}")
    if not several:
        lines.append("no set of pieces serves more than one of these tables")
    return lines


def _cells(one: TableFit) -> tuple[str, str, str, str, str]:
    if one.done is None:
        return one.verdict, "", "", "", one.problem
    counts = (str(one.moved), str(one.count(Severity.CAUTION)), str(one.count(Severity.STOP)))
    return (one.verdict, *counts, f"not carried over: {', '.join(one.lost)}" if one.lost else "")


def fit_data(one: TableFit) -> dict[str, Any]:
    """Return one row for a program."""
    return {
        "tables": list(one.tables),
        "serves": one.serves,
        "verdict": one.verdict,
        "problem": one.problem,
        "holes-moved": one.moved,
        "cautions": one.count(Severity.CAUTION),
        "stops": one.count(Severity.STOP),
        "not-carried-over": list(one.lost),
    }
