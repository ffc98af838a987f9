"""A library: any folder of designs and packs, such as a plain git checkout, searched by meaning.

The files are all there is. The index is brought up to date with them before each search; deleting it costs time only.
"""

from __future__ import annotations

import json
import os
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from slotwright.errors import DesignError
from slotwright.sharing import library_index as stored
from slotwright.sharing.library_index import Known, Wish
from slotwright.sharing.roots import workspace_root

if TYPE_CHECKING:
    from slotwright.sharing.library_entry import Entry

AT_ONCE = 100
"""Files a helper process reads in one go."""
WORTH_HELPERS = 400
"""From so many files on, helper processes are worth their start."""
_ENDINGS = (".toml", ".zip")


@dataclass(frozen=True, slots=True)
class Found:
    """What a search found.

    Attributes:
        rows: one a design or pack, as `library_index.matching` gives them.
        number: how many designs and packs the library has.
        bad: how many of them could not be read or solved.
        read: how many files were read anew for this search.
    """

    rows: list[dict[str, Any]]
    number: int
    bad: int
    read: int


def find(
    library: Path,
    wish: Wish,
    *,
    fresh: bool = False,
    helpers: int = 1,
    tell: Callable[[str], None] = lambda words: None,
) -> Found:
    """Search a library.

    Args:
        library: the folder.
        wish: what to look for.
        fresh: work the index out anew.
        helpers: processes that read files, where there are many. More than one only for a program whose main module
            may be loaded again.
        tell: takes a word of progress.

    Errors: DesignError when there is no such folder.
    """
    if not library.is_dir():
        raise DesignError(library.as_posix(), "", "is no folder", "name a folder of designs and packs")
    file = stored.index_file(library)
    if fresh:
        file.unlink(missing_ok=True)
    with closing(stored.opened(file)) as index:
        try:
            read = _bring_up_to_date(index, library, helpers, tell)
            return Found(list(stored.matching(index, wish)), *stored.count(index), read)
        except sqlite3.OperationalError:  # locked for long, or a full disk: the files are all we need
            with closing(stored.opened(Path(os.devnull) / "none")) as spare:
                read = _bring_up_to_date(spare, library, helpers, tell)
                return Found(list(stored.matching(spare, wish)), *stored.count(spare), read)


def _bring_up_to_date(index: sqlite3.Connection, library: Path, helpers: int, tell: Callable[[str], None]) -> int:
    there = dict(_files(library))
    stamps = _Stamps(library)
    total, needs = stored.seal(index)
    if total == stored.listing(there.items()) and all(stamps.as_before(folder, parts) for folder, parts in needs):
        return 0
    before = stored.known(index)
    old = sorted(path for path, stamp in there.items() if not stamps.still(path, stamp, before.get(path)))
    gone = [path for path in before if path not in there]
    if not old and not gone:
        return 0
    entries: list[tuple[str, Known, Entry]] = []
    for done, (path, entry) in enumerate(
        _read(library, [(path, stamps.root(_folder(path))) for path in old], helpers), 1
    ):
        entries.append((path, stamps.known(path, there[path], entry.parts), entry))
        if done % AT_ONCE == 0:
            tell(f"reading the library: {done} of {len(old)}")
    stored.replace(index, gone, entries)
    return len(old)


def _files(library: Path) -> Iterator[tuple[str, str]]:
    """Yield path and stamp of every file that may be a design or a pack; links and hidden folders are passed by."""
    waiting = [""]
    while waiting:
        inside = waiting.pop()
        try:
            with os.scandir(library / inside) as found:
                entries = list(found)
        except OSError:
            continue
        for entry in entries:
            name = entry.name
            if name.startswith(".") or not (name.isascii() or _is_text(name)):
                continue
            try:
                if name.endswith(_ENDINGS) and entry.is_file(follow_symlinks=False):
                    yield inside + name, _stamp(entry.stat(follow_symlinks=False))
                elif entry.is_dir(follow_symlinks=False):
                    waiting.append(f"{inside}{name}/")
            except FileNotFoundError:
                continue  # taken away while we look


def _is_text(name: str) -> bool:
    """Whether a name is proper Unicode; some systems allow any bytes."""
    try:
        name.encode()
    except UnicodeEncodeError:
        return False
    return True


def _stamp(status: os.stat_result) -> str:
    return f"{status.st_mtime_ns}-{status.st_size}-{status.st_ino}"


@dataclass(slots=True)
class _Stamps:
    """Stamps of what designs depend on: their workspace and the files in parts/; each looked up once."""

    library: Path
    roots: dict[str, Path] = field(default_factory=dict)
    parts: dict[tuple[Path, str], str] = field(default_factory=dict)
    same: dict[tuple[str, str], bool] = field(default_factory=dict)

    def root(self, folder: str) -> Path:
        """Return the root of the workspace a folder of the library lies in."""
        if folder not in self.roots:
            self.roots[folder] = workspace_root(self.library.resolve() / folder)
        return self.roots[folder]

    def part(self, root: Path, name: str) -> str:
        """Return the stamp of a file in parts/; "" when it is not there."""
        if (root, name) not in self.parts:
            try:
                self.parts[root, name] = _stamp((root / "parts" / f"{name}.toml").stat())
            except OSError:
                self.parts[root, name] = ""
        return self.parts[root, name]

    def known(self, path: str, stamp: str, names: tuple[str, ...]) -> Known:
        """Return what the index keeps of a file read now."""
        root = self.root(_folder(path))
        return Known(stamp, json.dumps({name: self.part(root, name) for name in names}))

    def as_before(self, folder: str, parts: str) -> bool:
        """Whether the parts that a design in this folder goes by are as they were; few differ between designs."""
        if (folder, parts) not in self.same:
            root = self.root(folder)
            self.same[folder, parts] = all(self.part(root, name) == was for name, was in json.loads(parts).items())
        return self.same[folder, parts]

    def still(self, path: str, stamp: str, before: Known | None) -> bool:
        """Whether a file and all it depends on is as it was."""
        return before is not None and before.stamp == stamp and self.as_before(_folder(path), before.parts)


def _folder(path: str) -> str:
    return path.rpartition("/")[0]


def _read(library: Path, wanted: list[tuple[str, Path]], helpers: int) -> Iterator[tuple[str, Entry]]:
    """Read files, in helper processes where there are many; yields in the order wanted."""
    portions = [wanted[n : n + AT_ONCE] for n in range(0, len(wanted), AT_ONCE)]
    if helpers < 2 or len(wanted) < WORTH_HELPERS:
        for portion in portions:
            yield from read_portion(library, portion)
        return
    from concurrent.futures import ProcessPoolExecutor  # a warm search needs neither
    from multiprocessing import get_context

    from slotwright.sharing.interrupts import interrupts_held, leave_interrupts_to_parent

    with ProcessPoolExecutor(helpers, mp_context=get_context("spawn"), initializer=leave_interrupts_to_parent) as pool:
        with interrupts_held():
            coming = pool.map(read_portion, [library] * len(portions), portions)
        for found in coming:
            yield from found


def read_portion(library: Path, portion: list[tuple[str, Path]]) -> list[tuple[str, Entry]]:
    """Read some files of a library; a function of a module, so that another process can call it."""
    from slotwright.sharing.library_entry import Remembering, entry_of

    workspaces = {root: Remembering(root) for _, root in portion}
    return [(path, entry_of(library / path, workspaces[root])) for path, root in portion]


def cores() -> int:
    """Return how many helper processes this machine is good for."""
    return min(os.cpu_count() or 1, 8)
