"""What a library knows of one file: a design or a pack, read and solved within the usual bounds."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from slotwright.checks.everything import pieces_of
from slotwright.errors import SlotwrightError, UnknownKindError
from slotwright.fixtures.family import family_for
from slotwright.parts.supplies import DrawerFile, RackFile
from slotwright.parts.table import Table
from slotwright.parts.table_file import TableFile
from slotwright.pieces.piece import Piece
from slotwright.records import reading
from slotwright.records.parameters import Record
from slotwright.sharing.design_file import NO_LIST, Design, design_from
from slotwright.sharing.scripts import not_run
from slotwright.sharing.set_up import solved
from slotwright.sharing.workspace import Workspace, resolve

DESIGN, PACK, OTHER = "design", "pack", "other"
LONGEST, MOST_KINDS = 200, 40
"""Signs of a text, and kinds or tables, that are kept of a design that was not read; our choice."""


@dataclass(frozen=True, slots=True)
class TableKnown:
    """One table a design is for; None where only its name is known. Lengths in mm."""

    name: str
    title: str = ""
    slot: float | None = None
    slots: int | None = None
    length: float | None = None
    width: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One file of a library.

    Attributes:
        sort: "design", "pack", or "other" for a file that is neither, which is kept so as not to be read again.
        title: of the design.
        unit: of the design.
        kinds: of its fixtures.
        tables: it is made for.
        pieces: length, width and thickness of each made piece, mm.
        words: everything a search by words looks at, in lower case.
        parts: names in parts/ it goes by.
        problem: why it could not be read or solved; "" when it was.
    """

    sort: str
    title: str = ""
    unit: str = "mm"
    kinds: tuple[str, ...] = ()
    tables: tuple[TableKnown, ...] = ()
    pieces: tuple[tuple[float, float, float], ...] = ()
    words: str = ""
    parts: tuple[str, ...] = ()
    problem: str = ""


@dataclass(frozen=True, slots=True)
class Remembering(Workspace):
    """A workspace that reads each part once; only for reading many designs in one go, as parts may change.

    Attributes:
        memory: what was read, by the sort of part and its name.
    """

    memory: dict[tuple[type[Record], str], Any] = field(default_factory=dict, compare=False)

    def table(self, name: str) -> tuple[TableFile, Table]:
        """Read a table. Errors: DesignError."""
        key = (TableFile, name)
        if key not in self.memory:
            self.memory[key] = Workspace.table(self, name)
        found: tuple[TableFile, Table] = self.memory[key]
        return found

    def supplies(self, design: Design) -> tuple[RackFile | None, DrawerFile | None]:
        """Read the rack and the drawer; None where the shop keeps no such list. Errors: DesignError."""
        if not (isinstance(design.rack, str) and isinstance(design.drawer, str)):
            return Workspace.supplies(self, design)
        key = (RackFile, f"{design.rack} {design.drawer}")
        if key not in self.memory:
            self.memory[key] = Workspace.supplies(self, design)
        found: tuple[RackFile | None, DrawerFile | None] = self.memory[key]
        return found


def entry_of(path: Path, workspace: Workspace) -> Entry:
    """Read one file of a library; whatever is wrong with it ends in its `problem`."""
    try:
        return _pack(path) if path.suffix == ".zip" else _design(path, workspace)
    except SlotwrightError as error:
        return Entry(sort=PACK if path.suffix == ".zip" else DESIGN, words=path.stem.casefold(), problem=str(error))


def _pack(path: Path) -> Entry:
    from slotwright.sharing.receive import look_at

    made = look_at(path, path.name).made
    return _entry(PACK, path, made.design, made.bench.tables, made.pieces)


def _design(path: Path, workspace: Workspace) -> Entry:
    data = reading.load(path, path.name)
    if "fixture" not in data:
        return Entry(sort=OTHER)
    try:
        design = design_from(data, path.name)
    except UnknownKindError as error:
        return _unread(path, data, str(not_run(error, path)))
    try:
        resolved = resolve(design, workspace, path.name)
        pieces = pieces_of(solved(design, resolved.bench, path.name))
    except SlotwrightError as error:
        return _entry(DESIGN, path, design, (), (), str(error))
    return _entry(DESIGN, path, design, resolved.bench.tables, pieces)


def _unread(path: Path, data: Mapping[str, Any], problem: str) -> Entry:
    """What a design of a script's kind says without being read: no script runs for a search."""
    tables = data.get("tables", [data.get("table")])
    named = [text for value in (tables if isinstance(tables, list) else []) for text in _text(value)]
    fixtures = [one for one in data["fixture"] if isinstance(one, dict)] if isinstance(data["fixture"], list) else []
    kinds = tuple(dict.fromkeys(text for one in fixtures for text in _text(one.get("kind"))))
    title = next(_text(data.get("title")), path.stem)
    names = [text for one in fixtures for key in ("name", "title", "stock") for text in _text(one.get(key))]
    return Entry(
        sort=DESIGN,
        title=title[:LONGEST],
        unit="in" if data.get("unit") == "in" else "mm",
        kinds=kinds[:MOST_KINDS],
        tables=tuple(TableKnown(name) for name in named[:MOST_KINDS]),
        words="\n".join(word[:LONGEST] for word in (path.stem, title, *kinds, *names, *named)).casefold(),
        problem=problem,
    )


def _entry(
    sort: str, path: Path, design: Design, tables: tuple[Table, ...], pieces: tuple[Piece, ...], problem: str = ""
) -> Entry:
    known = tuple(_known(table) for table in tables) or tuple(_named(design))
    kinds = tuple(dict.fromkeys(_kind(fixture) for fixture in design.fixture))
    said = (path.stem, design.title, *kinds, *_texts(design), *(t.name for t in known), *(t.title for t in known))
    return Entry(
        sort=sort,
        title=design.title,
        unit=design.unit,
        kinds=kinds,
        tables=known,
        pieces=tuple((piece.blank.length, piece.blank.width, piece.blank.thickness) for piece in pieces),
        words="\n".join(dict.fromkeys(said)).casefold(),
        parts=tuple(_parts(design)) if sort == DESIGN else (),
        problem=problem,
    )


def _known(table: Table) -> TableKnown:
    return TableKnown(
        table.name, table.title, table.slot.width, len(table.slot_centres), table.length, table.width
    )  # fmt: skip


def _named(design: Design) -> Iterator[TableKnown]:
    """What a design alone says of its tables, where they could not be looked up."""
    for wanted in design.wanted_tables:
        yield TableKnown(wanted if isinstance(wanted, str) else wanted.name or "")


def _kind(fixture: Record) -> str:
    return family_for(fixture).kind


def _texts(design: Design) -> Iterator[str]:
    for fixture in design.fixture:
        for key in ("name", "title", "stock"):
            yield from _text(getattr(fixture, key, None))
    if design.work is not None:
        yield design.work.name
    shared = design.sharing
    for text in (shared.purpose, shared.author, *shared.cautions, design.drawing.owner):
        yield from _text(text)


def _text(value: Any) -> Iterator[str]:
    if isinstance(value, str) and value:
        yield value


def _parts(design: Design) -> Iterator[str]:
    for wanted in (*design.wanted_tables, design.rack, design.drawer):
        if isinstance(wanted, str) and wanted != NO_LIST:
            yield wanted
