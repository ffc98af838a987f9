"""Tables of figures from standards: CSV files in the folder standards, whose SOURCES.md says where each was seen.

The files hold the units named in their column headings; each look-up module turns them into mm by 25.4 exactly.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib import resources

from slotwright.errors import NotListedError, SlotwrightError
from slotwright.sizes import say

INCH = 25.4
"""Millimetres in an inch, exact by definition (1959)."""

METRIC = "metric"
INCHES = "inch"

_MEMORY = "MEM"
_SYSTEMS = {"metric": METRIC, "mm": METRIC, "inch": INCHES, "in": INCHES}


class StandardsTableError(SlotwrightError, ValueError):
    """A table that does not say where its figures come from, or lacks a column; a fault of the program itself."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row of a table.

    Attributes:
        table: name of the file without its ending.
        cells: text by column heading.
    """

    table: str
    cells: Mapping[str, str]

    @property
    def status(self) -> str:
        """The row's check state: confirmed, partial, computed or memory."""
        return self.text("status")

    @property
    def confirmed(self) -> bool:
        """Whether every figure of the row was read at its source or follows from a formula of the standard."""
        return self.status in ("confirmed", "computed")

    def seen(self, column: str) -> bool:
        """Whether this one figure was read at a source or computed, and not only recalled."""
        recalled = self.cells.get("memory_columns", "").split(";")
        return "all" not in recalled and column not in [name.split(" ")[0] for name in recalled]

    def text(self, column: str) -> str:
        """What stands in a column, "" when nothing does."""
        try:
            return self.cells[column]
        except KeyError:
            raise StandardsTableError(f"table {self.table} has no column {column}") from None

    def number(self, column: str) -> float:
        """The figure in a column, in the unit its heading names."""
        try:
            return float(self.text(column))
        except ValueError:
            problem = f"table {self.table} has no figure in column {column}: {self.text(column)!r}"
            raise StandardsTableError(problem) from None

    def from_inches(self, *columns: str) -> float:
        """The inch figure in a column as mm; of several columns the sum."""
        return millimetres(sum((Fraction(self.text(column)) for column in columns), Fraction(0)))

    def optional(self, column: str) -> float | None:
        """The figure in a column, or None when the cell is empty."""
        return self.number(column) if self.text(column) else None


@cache
def rows(table: str) -> tuple[Row, ...]:
    """Read a table of this package.

    Args:
        table: file name without its ending, such as "threads_metric".

    Raises:
        StandardsTableError: the file does not state its check state and source in every row.
    """
    text = resources.files("slotwright.parts").joinpath("standards", f"{table}.csv").read_text(encoding="utf-8")
    return parse(table, text.splitlines())


def parse(table: str, lines: Iterable[str]) -> tuple[Row, ...]:
    """Turn the lines of a CSV file into rows; refuse them where status or source is missing."""
    reader = csv.DictReader(lines)
    for column in ("status", "source"):
        if column not in (reader.fieldnames or ()):
            raise StandardsTableError(f"table {table} has no {column} column, so nobody can tell how far to trust it")
    found: list[Row] = []
    for cells in reader:
        row = Row(table=table, cells=cells)
        if not row.status or not row.text("source"):
            raise StandardsTableError(f"row {len(found) + 1} of table {table} states no status or no source")
        found.append(row)
    return tuple(found)


def find(table: str, column: str, wanted: str, title: str) -> Row:
    """Return the first row whose column says exactly this.

    Args:
        table: file name without its ending.
        column: heading of the column to search.
        wanted: what must stand there.
        title: what the trade calls the table, for the message.

    Raises:
        NotListedError: no row says so; it lists what there is.
    """
    for row in rows(table):
        if row.text(column) == wanted:
            return row
    listed = tuple(dict.fromkeys(row.text(column) for row in rows(table)))
    raise NotListedError(wanted, title, listed)


def millimetres(inches: Fraction) -> float:
    """Turn inches into mm without the rounding of a float product: 3/8 in is 9.525 mm, not 9.524999999999999."""
    return float(inches * Fraction(254, 10))


def system_named(text: str) -> str:
    """Return "metric" or "inch" for a system or for its unit of length ("mm", "in")."""
    try:
        return _SYSTEMS[text]
    except KeyError:
        raise NotListedError(repr(text), "systems of measurement", tuple(_SYSTEMS)) from None


def length_said(length: float, system: str) -> str:
    """Say a length, mm, in the unit of a system, for a message."""
    return say(length, "mm", "mm" if system_named(system) == METRIC else "in")


def source_state(row: Row, column: str) -> str:
    """Say in words how far one figure can be trusted, for findings and lists."""
    if not row.seen(column):
        return "from memory, unconfirmed"
    return "computed by the standard's formula" if row.status == "computed" else "read in a copy of the standard"
