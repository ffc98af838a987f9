"""A design that stands alone: tables, stock and tools written in it, so that it means the same in any shop."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from slotwright.errors import DesignError
from slotwright.fixtures.stock import serving_bars
from slotwright.parts.supplies import RackBar, RackFile
from slotwright.pieces.piece import Piece
from slotwright.records import parameters as p
from slotwright.records import reading
from slotwright.records.toml_text import toml_text
from slotwright.sharing.design_file import NO_LIST, Design
from slotwright.sharing.outline_files import outline_data
from slotwright.sharing.workspace import Resolved, Workspace

HEAD = "# This design stands alone: its table, the stock it uses and the shop's taps and reamers are written in it.\n\n"
_INLINE = ("table", "tables", "rack", "drawer")
_OF_A_FILE = ("slotwright", "part")  # what a file in parts/ says of itself, and an inline table need not


def alone(resolved: Resolved, pieces: tuple[Piece, ...]) -> Design:
    """Return the design with its tables, the bars it uses and the drawer in place of their names.

    Args:
        resolved: the design looked up in its workspace.
        pieces: what was made of it; a bar of the same section as one of them is used.
    """
    design, bench = resolved.design, resolved.bench
    return replace(
        design,
        table=resolved.tables[0] if design.table is not None else None,
        tables=resolved.tables if design.tables else (),
        rack=NO_LIST if bench.rack is None else _used(bench.rack, design, pieces),
        drawer=NO_LIST if bench.drawer is None else bench.drawer,
    )


def _used(rack: RackFile, design: Design, pieces: tuple[Piece, ...]) -> RackFile:
    """Leave out the bars that no fixture names and no piece could be sawn from."""
    named = set(_names(design.fixture))
    serving = [bar for piece in pieces for bar in _serving(rack, piece)]
    return replace(rack, bar=tuple(bar for bar in rack.bar if bar.name in named or bar in serving))


def _names(value: Any) -> Iterator[str]:
    """Yield every text in records and lists of them."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for item in value:
            yield from _names(item)
    elif isinstance(value, p.Record):
        for _, _, item in p.entries(value):
            yield from _names(item)


def _serving(rack: RackFile, piece: Piece) -> list[RackBar]:
    return serving_bars(rack.bar, piece.blank.width, piece.blank.thickness, piece.oversize, piece.material)


def alone_text(path: Path, stands_alone: Design) -> str:
    """Return the text of a design file as it stands alone, its sizes as its author wrote them.

    Args:
        path: the design file; comments are not carried over.
        stands_alone: what `alone` made of it.

    Errors: DesignError.
    """
    data = reading.load(path)
    workspace = Workspace.around(path)
    found: dict[str, Any] = {key: value for key, value in data.items() if key not in _INLINE}
    if "table" in data:
        found["table"] = _inline_table(data["table"], workspace, "table-1")
    if "tables" in data:
        found["tables"] = [
            _inline_table(table, workspace, f"table-{number}") for number, table in enumerate(data["tables"], 1)
        ]
    for key, record in (("rack", stands_alone.rack), ("drawer", stands_alone.drawer)):
        found[key] = record if isinstance(record, str) else _inline(data.get(key, key), workspace)
    if isinstance(stands_alone.rack, RackFile):
        used = {bar.name for bar in stands_alone.rack.bar}
        found["rack"]["bar"] = [bar for bar in found["rack"].get("bar", ()) if bar["name"] in used]
    pairs = zip(found["fixture"], stands_alone.fixture, strict=True)
    found["fixture"] = [_inline_outline(given, made) for given, made in pairs]
    return HEAD + toml_text(found)


def _inline_outline(given: dict[str, Any], made: p.Record) -> dict[str, Any]:
    """Return a fixture's data with the corners of an outline in place of its DXF file's name."""
    outline = given.get("outline")
    if isinstance(outline, dict) and "dxf" in outline:
        return {**given, "outline": outline_data(made.outline)}  # type: ignore[attr-defined]  # it gave one, so it has one
    return given


def _inline_table(given: Any, workspace: Workspace, otherwise: str) -> dict[str, Any]:
    data = _inline(given, workspace)
    return {"name": given if isinstance(given, str) else otherwise, **data}


def _inline(given: Any, workspace: Workspace) -> dict[str, Any]:
    """Return a part's data; one from a file is in mm unless it says otherwise, whatever the design's unit."""
    if not isinstance(given, str):
        return dict(given)
    data = {"unit": "mm", **workspace.part_data(given)}
    return {key: value for key, value in data.items() if key not in _OF_A_FILE}


def check_alone(design: Design, shown_as: str) -> None:
    """Refuse a design that goes by a part of some shop. Errors: DesignError."""
    given: dict[str, Any] = {f"tables[{number}]": table for number, table in enumerate(design.tables, 1)}
    given["table"] = design.table
    given |= {key: value for key, value in (("rack", design.rack), ("drawer", design.drawer)) if value != NO_LIST}
    for number, fixture in enumerate(design.fixture, 1):
        given[f"fixture[{number}].outline.dxf"] = getattr(getattr(fixture, "outline", None), "dxf", None)
    for key, value in given.items():
        if isinstance(value, str):
            raise DesignError(shown_as, key, "is a name in the sender's parts/", "ask for a pack that stands alone")
