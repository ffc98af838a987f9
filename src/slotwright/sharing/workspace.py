"""The workspace: a shop folder with parts/, fixtures/, drawings/ and shared/."""

from __future__ import annotations

import os
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, TypeVar

from slotwright.errors import DesignError, SlotwrightError
from slotwright.fixtures.bench import Bench
from slotwright.parts.supplies import DrawerFile, RackFile
from slotwright.parts.table import Table
from slotwright.parts.table_file import TableFile
from slotwright.records import reading
from slotwright.records.parameters import Record
from slotwright.sharing.design_file import NO_LIST, Design
from slotwright.sharing.roots import workspace_root

R = TypeVar("R", bound=Record)


@dataclass(frozen=True, slots=True)
class Workspace:
    """A shop folder.

    Attributes:
        root: the folder that holds parts/ and the rest.
    """

    root: Path

    @classmethod
    def around(cls, design: Path) -> Workspace:
        """Find the workspace of a design file: the nearest folder above it that has parts/, else the file's own."""
        return cls(workspace_root(design.resolve().parent))

    def table(self, name: str) -> tuple[TableFile, Table]:
        """Read a table from parts/. Errors: DesignError."""
        record = self._part(TableFile, name)
        return record, _made(record, name, _shown(name))

    def table_names(self) -> tuple[str, ...]:
        """List the files in parts/ that say they are tables; unreadable ones are left out."""
        found = []
        for path in sorted((self.root / "parts").glob("*.toml")):
            try:
                data = reading.load(path)
            except DesignError:
                continue
            if data.get("part", "table") == "table" and "slots" in data:
                found.append(path.stem)
        return tuple(found)

    def supplies(self, design: Design) -> tuple[RackFile | None, DrawerFile | None]:
        """Read the rack and the drawer; None where the shop keeps no such list. Errors: DesignError."""
        return self._supply(RackFile, design.rack), self._supply(DrawerFile, design.drawer)

    def _supply(self, cls: type[R], wanted: R | str) -> R | None:
        if not isinstance(wanted, str):
            return wanted
        if wanted == NO_LIST or not self._path(wanted).exists():
            return None
        return self._part(cls, wanted)

    def part_data(self, name: str) -> dict[str, Any]:
        """Read a file in parts/ as it is written. Errors: DesignError."""
        if not self._path(name).exists():
            there = ", ".join(self.table_names()) or "none yet"
            raise DesignError(
                _shown(name), "", "is not there", f"name a file in parts/ (tables there: {there}) or write it inline"
            )
        return reading.load(self._path(name), _shown(name))

    def _part(self, cls: type[R], name: str) -> R:
        return reading.read(cls, self.part_data(name), reading.Where(_shown(name)))

    def _path(self, name: str) -> Path:
        return self.root / "parts" / f"{name}.toml"


def design_path(given: Path) -> Path:
    """Return the design file meant: the one of this path, or of this name in fixtures/ of the workspace we are in."""
    named = Workspace.around(Path.cwd() / "x.toml").root / "fixtures" / f"{given}.toml"
    if given.exists() or given.name != str(given) or not named.exists():
        return given
    return named.relative_to(Path.cwd()) if named.is_relative_to(Path.cwd()) else named


def _shown(name: str) -> str:
    return f"parts/{name}.toml"


def _made(record: TableFile, name: str, shown_as: str, key: str = "slots") -> Table:
    try:
        return record.table(name)
    except SlotwrightError as error:
        raise DesignError(shown_as, key, str(error), "measure the slot and give its figures") from None


NOWHERE = Workspace(Path(os.devnull) / "nowhere")
"""Where a design finds nothing that it names: one that stands alone must not need it."""


@dataclass(frozen=True, slots=True)
class Resolved:
    """A design with everything it names looked up.

    Attributes:
        design: as read.
        bench: tables, rack, drawer and work as the families want them.
        tables: the tables' records, each under its name.
    """

    design: Design
    bench: Bench
    tables: tuple[TableFile, ...]


def resolve(design: Design, workspace: Workspace, shown_as: str) -> Resolved:
    """Look up the tables and supplies a design names. Errors: DesignError."""
    records: list[TableFile] = []
    tables: list[Table] = []
    for number, wanted in enumerate(design.wanted_tables, 1):
        key = "table" if design.table is not None else f"tables[{number}]"
        if isinstance(wanted, str):
            record, table = workspace.table(wanted)
        else:
            record, table = wanted, _made(wanted, wanted.name or f"table-{number}", shown_as, key)
        if table.name in [other.name for other in tables]:
            raise DesignError(shown_as, key, f"{table.name!r} stands there twice", "name each table once")
        records.append(replace(record, name=table.name))
        tables.append(table)
    rack, drawer = workspace.supplies(design)
    work = design.work.work() if design.work is not None else None
    bench = Bench(tables=tuple(tables), unit=design.unit, rack=rack, drawer=drawer, work=work)
    return Resolved(design, bench, tuple(records))
