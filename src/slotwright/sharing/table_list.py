"""What tables a workspace has, a row each."""

from __future__ import annotations

from pathlib import Path

from slotwright import sizes
from slotwright.errors import DesignError
from slotwright.parts.table import Table
from slotwright.sharing.workspace import Workspace


def table_rows(folder: Path) -> list[dict[str, str]]:
    """Return name, title, size and slots of every table in a workspace's parts/, or what is wrong with its file.

    Errors: DesignError when there is no such folder.
    """
    if not folder.is_dir():
        raise DesignError(folder.as_posix(), "", "is no folder", "name the folder that holds parts/")
    workspace = Workspace.around(folder / "x.toml")
    return [_row(workspace, name) for name in workspace.table_names()]


def _row(workspace: Workspace, name: str) -> dict[str, str]:
    try:
        return table_row(workspace.table(name)[1])
    except DesignError as error:
        return {"name": name, "title": "", "size": "", "slots": f"cannot be used: {error}"}


def table_row(table: Table) -> dict[str, str]:
    """Return name, title, size and slots of one table, in words."""
    unit = table.unit
    size = " x ".join(sizes.decimals(sizes.in_unit(mm, "mm", unit), 3) for mm in (table.length, table.width))
    width = sizes.say(table.slot.width, "mm", unit)
    centres = ", ".join(sizes.decimals(sizes.in_unit(y, "mm", unit), 3) for y in table.slot_centres)
    return {
        "name": table.name,
        "title": table.title,
        "size": f"{size} {unit}",
        "slots": f"{len(table.slot_centres)} slots {width} wide at {centres} {unit} from the front",
    }
