"""The index of a library: an sqlite file that is worked out from the files, and may be deleted at any time."""

from __future__ import annotations

import json
import os
import sqlite3
import sys
from collections.abc import Iterable, Iterator
from contextlib import closing, suppress
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from slotwright import __version__

if TYPE_CHECKING:
    from slotwright.sharing.library_entry import Entry

LAYOUT = 2
"""Number of what is kept and how; a file of another number is another file."""
WAIT = 30.0
_TABLES = """
create table if not exists file (
    path text primary key, stamp text not null, parts text not null, sort text not null, title text not null,
    unit text not null, kinds text not null, words text not null, problem text not null);
create table if not exists for_table (
    path text not null, name text not null, title text not null, slot real, slots integer, length real, width real);
create table if not exists piece (path text not null, length real, width real, thickness real);
create table if not exists seal (listing text not null, needs text not null);
create index if not exists for_table_path on for_table (path);
create index if not exists piece_path on piece (path);
"""


class Known(NamedTuple):
    """What the index has of a file, to see whether it is still so.

    Attributes:
        stamp: of the file itself.
        parts: stamp of each file in parts/ it goes by, by name, as JSON text.
    """

    stamp: str
    parts: str


def cache_folder() -> Path:
    """Return the user's folder for what may be deleted at any time."""
    if sys.platform == "win32":
        base = os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local"
    elif sys.platform == "darwin":
        base = Path.home() / "Library" / "Caches"
    else:
        base = os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache"
    return Path(base) / "slotwright"


def index_file(library: Path) -> Path:
    """Return where the index of a library is kept."""
    said = f"{LAYOUT} {__version__} {library.resolve()}"
    return cache_folder() / f"library-{sha256(os.fsencode(said)).hexdigest()[:16]}.sqlite"


def opened(file: Path) -> sqlite3.Connection:
    """Open an index; a damaged one is made anew, and where none can be written it is kept in memory."""
    for _ in range(2):
        try:
            file.parent.mkdir(parents=True, exist_ok=True)
            return _ready(sqlite3.connect(file, timeout=WAIT))
        except sqlite3.OperationalError:
            break  # may not be written, or another program will not let go
        except sqlite3.DatabaseError:
            with suppress(OSError):
                file.unlink()
        except OSError:
            break
    return _ready(sqlite3.connect(":memory:"))


def _ready(index: sqlite3.Connection) -> sqlite3.Connection:
    try:
        index.executescript(_TABLES)
        index.execute("select count(*) from file").fetchone()
    except BaseException:
        index.close()
        raise
    return index


def known(index: sqlite3.Connection) -> dict[str, Known]:
    """Return what the index has, by path."""
    rows = index.execute("select path, stamp, parts from file")
    return {row[0]: Known(*row[1:]) for row in rows}


def replace(
    index: sqlite3.Connection, gone: Iterable[str], entries: Iterable[tuple[str, Known, Entry]]
) -> None:  # fmt: skip
    """Bring files up to date in one step: seen by others whole or not at all."""
    with index:
        index.execute("begin immediate")
        for path in gone:
            _forget(index, path)
        for path, now, entry in entries:
            _forget(index, path)
            _put(index, path, now, entry)
        _seal(index)


def listing(stamps: Iterable[tuple[str, str]]) -> str:
    """Return one sum of the paths and stamps of all files."""
    text = "\n".join(sorted(f"{path} {stamp}" for path, stamp in stamps))
    return sha256(text.encode()).hexdigest()


def _seal(index: sqlite3.Connection) -> None:
    """Say in one row what the index goes by, so that a look at it tells whether all is as it was."""
    rows = index.execute("select path, stamp, parts from file").fetchall()
    needs = sorted({(path.rpartition("/")[0], parts) for path, _, parts in rows})
    index.execute("delete from seal")
    total = listing((path, stamp) for path, stamp, _ in rows)
    index.execute("insert into seal values (?, ?)", (total, json.dumps(needs)))


def seal(index: sqlite3.Connection) -> tuple[str, list[tuple[str, str]]]:
    """Return the sum of the files the index has, and each different folder with the stamps of its parts, as JSON."""
    row = index.execute("select listing, needs from seal").fetchone()
    return ("", []) if row is None else (row[0], [(folder, parts) for folder, parts in json.loads(row[1])])


def _forget(index: sqlite3.Connection, path: str) -> None:
    index.execute("delete from file where path = ?", (path,))
    index.execute("delete from for_table where path = ?", (path,))
    index.execute("delete from piece where path = ?", (path,))


def _put(index: sqlite3.Connection, path: str, now: Known, entry: Entry) -> None:
    kinds = f" {' '.join(entry.kinds)} "
    row = (path, now.stamp, now.parts, entry.sort, entry.title, entry.unit, kinds, entry.words,
           entry.problem)  # fmt: skip
    index.execute("insert into file values (?, ?, ?, ?, ?, ?, ?, ?, ?)", row)
    tables = [(path, t.name, t.title, t.slot, t.slots, t.length, t.width) for t in entry.tables]
    index.executemany("insert into for_table values (?, ?, ?, ?, ?, ?, ?)", tables)
    index.executemany("insert into piece values (?, ?, ?, ?)", [(path, *piece) for piece in entry.pieces])


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What to look for; all that is given must hold.

    Attributes:
        words: each must stand somewhere in title, names, table, work or the words for other shops.
        kind: of a fixture.
        table: part of a table's name or title.
        slot: width of a table's slots, mm, to SLOT_NEAR.
        size: a side of a made piece, mm, to SIZE_NEAR of it.
    """

    words: tuple[str, ...] = ()
    kind: str | None = None
    table: str | None = None
    slot: float | None = None
    size: float | None = None


SLOT_NEAR = 0.3
"""Slots as near as this are one size: 5/8 in and 16 mm are, 9/16 in (14.29 mm) and 14 mm too. Our choice, mm."""
SIZE_NEAR = 0.02
"""How far a side may be off, as a share of it. Our choice."""


def matching(index: sqlite3.Connection, wish: Wish) -> Iterator[dict[str, Any]]:
    """Yield what is found, by path."""
    where, values = _condition(wish)
    tables: dict[str, list[dict[str, Any]]] = {}
    names = ("name", "title", "slot", "slots", "length", "width")
    text = f"select path, {', '.join(names)} from for_table where path in (select path from file where {where})"  # noqa: S608  built from constants alone
    for path, *row in index.execute(f"{text} order by rowid", values):
        tables.setdefault(path, []).append(dict(zip(names, row, strict=True)))
    text = f"select path, sort, title, unit, kinds, problem from file where {where} order by path"  # noqa: S608  likewise
    for path, sort, title, unit, kinds, problem in index.execute(text, values):
        yield {"path": path, "sort": sort, "title": title, "unit": unit, "kinds": kinds.split(),
               "tables": tables.get(path, []), "problem": problem}  # fmt: skip


def _condition(wish: Wish) -> tuple[str, list[str | float]]:
    """Return an SQL condition on `file`, built from constants alone, and the values it takes."""
    where = ["sort <> 'other'"]
    values: list[str | float] = []
    for word in wish.words:
        where.append("instr(words, ?) > 0")
        values.append(_text(word.casefold()))
    if wish.kind is not None:
        where.append("instr(kinds, ?) > 0")
        values.append(f" {_text(wish.kind)} ")
    if wish.table is not None:
        where.append("path in (select path from for_table where instr(lower(name || char(10) || title), ?) > 0)")
        values.append(_text(wish.table.lower()))
    if wish.slot is not None:
        where.append("path in (select path from for_table where abs(slot - ?) <= ?)")
        values += [wish.slot, SLOT_NEAR]
    if wish.size is not None:
        near = " or ".join(f"abs({side} - ?) <= ?" for side in ("length", "width", "thickness"))
        where.append(f"path in (select path from piece where {near})")  # noqa: S608  likewise
        values += [wish.size, SIZE_NEAR * wish.size] * 3
    return " and ".join(where), values


def _text(given: str) -> str:
    """Return text as it is; bytes of a command line that are none, which nothing can match, in their own words."""
    return given.encode(errors="backslashreplace").decode()


def count(index: sqlite3.Connection) -> tuple[int, int]:
    """Return how many designs and packs there are, and how many of them have a problem."""
    with closing(index.execute("select count(*), sum(problem <> '') from file where sort <> 'other'")) as rows:
        number, bad = rows.fetchone()
    return number, bad or 0
