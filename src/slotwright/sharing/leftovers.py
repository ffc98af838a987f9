"""What killed runs left half-written: hidden `.NAME.new-PID` files and folders, cleared by the next run that writes."""

from __future__ import annotations

import os
import re
import shutil
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from slotwright.sharing.roots import workspace_root

OLD = 24 * 3600.0
"""A leftover this old, s, is nobody's even where its number runs: numbers come again, and no run takes a day."""
_ROOMS = ("", "parts", "fixtures", "drawings", "shared")
_UNFINISHED = re.compile(r"\..+\.new-([0-9]+)", re.ASCII | re.DOTALL)


def unfinished(target: Path) -> Path:
    """Return where this process writes a file or folder before it is whole: beside it, hidden."""
    return target.parent / f".{target.name}.new-{os.getpid()}"


def clear_leftovers(folder: Path) -> None:
    """Take away what dead runs left in a folder and in the rooms of its workspace; what cannot go stays."""
    root = workspace_root(folder.resolve())
    for place in dict.fromkeys((folder.resolve(), *(root / room for room in _ROOMS))):
        for path in _left_in(place):
            if path.is_dir() and not path.is_symlink():
                shutil.rmtree(path, ignore_errors=True)
            else:
                with suppress(OSError):
                    path.unlink()


def _left_in(folder: Path) -> Iterator[Path]:
    try:
        there = list(folder.iterdir())
    except OSError:  # not there, or not ours to read
        return
    for path in there:
        found = _UNFINISHED.fullmatch(path.name)
        if found is not None and not _in_work(path, int(found[1][:10])):
            yield path


def _in_work(path: Path, owner: int) -> bool:
    """Say whether a run may still be at it: its process lives, or can't be asked for, and it is not old."""
    if owner == os.getpid():
        return True
    try:
        young = time.time() - path.lstat().st_mtime < OLD
    except OSError:
        return False
    return young and _alive(owner)


def _alive(owner: int) -> bool:
    if os.name != "posix":
        return True
    try:
        os.kill(owner, 0)
    except ProcessLookupError:
        return False
    except (PermissionError, OverflowError):
        return True
    return True
