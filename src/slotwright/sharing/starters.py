"""Starter files and schemas, from the same definitions that read the files."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from slotwright.errors import DesignError, NotListedError
from slotwright.fixtures.family import families
from slotwright.parts.supplies import DrawerFile, RackFile
from slotwright.parts.table_file import TableFile
from slotwright.records import parameters as p
from slotwright.records.nearest import nearest
from slotwright.records.schema import schema
from slotwright.records.starter import lines, written
from slotwright.sharing.design_file import Design
from slotwright.sharing.pack_format import Manifest
from slotwright.sharing.workspace import Workspace

PARTS: dict[str, type[p.Record]] = {"table": TableFile, "rack": RackFile, "drawer": DrawerFile}
_CAUTION = "# The program's figures are aids: the machine's manual, local rules and a competent person decide."


def starter(kind: str, unit: str, table: str | None, folder: Path) -> str:
    """Return a starter file that works as it stands wherever its table is there.

    Args:
        kind: a kind of fixture, or "table", "rack" or "drawer".
        unit: "mm" or "in".
        table: name of a table in parts/, or None for the first one there.
        folder: where the file will stand, to find parts/.

    Errors: NotListedError for an unknown kind.
    """
    if kind in PARTS:
        return "\n".join([_CAUTION, "", *lines(PARTS[kind], unit)]) + "\n"
    found = families()
    if kind not in found:
        there = (*found, *PARTS)
        raise NotListedError(kind[:60], "the kinds we can make", there, nearest(kind, there))
    head = "\n".join(lines(Design, unit))
    table = table or _likely_table(folder, unit)
    if table is not None:
        head = "\n".join(f'table = "{table}"' if row.startswith("table = ") else row for row in head.split("\n"))
    words = _title(found[kind].parameters, unit) or kind.replace("-", " ").capitalize()
    if kind != "hold-down-bar":  # the design's own example speaks of bars
        head = "\n".join(f"title = {written(words)}" if row.startswith("title = ") else row for row in head.split("\n"))
    body = "\n".join(lines(found[kind].parameters, unit, "fixture."))
    return f'{_CAUTION}\n\n{head}\n\n[[fixture]]\n# {found[kind].summary}\nkind = "{kind}"\n{body}\n'


def _title(record: type[p.Record], unit: str) -> str:
    """What a starter of this kind is called until the user says what it is for; "" where the kind has no title."""
    title = p.parameters(record).get("title")
    return "" if title is None else str(title.example_for(unit) or title.default_for(unit) or "")


def _likely_table(folder: Path, unit: str) -> str | None:
    """The first table of a workspace that was measured in this unit, else the first one."""
    workspace = Workspace.around(folder / "x.toml")
    units = {name: _unit_of(workspace, name) for name in workspace.table_names()}
    same_unit = [name for name, of_table in units.items() if of_table == unit]
    return next(iter([*same_unit, *units]), None)


def _unit_of(workspace: Workspace, name: str) -> str:
    """The unit a table was measured in; "" where its file has a fault, which is for those who use it to hear."""
    try:
        return workspace.table(name)[1].unit
    except DesignError:
        return ""


def schema_of(what: str) -> dict[str, Any]:
    """Return the JSON Schema of a design, table, rack or drawer file, or of a pack's manifest."""
    record = {"design": Design, "pack": Manifest, **PARTS}[what]
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"Slotwright {what} file",
        **schema(record),
    }
