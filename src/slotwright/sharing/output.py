"""Writing a folder, or a file, whole or not at all.

New files go into a hidden folder beside the old one; when all are there the two change places in one step. Whatever
happens before leaves the old folder as it was, and the next run clears up what an interrupted one left behind.
"""

from __future__ import annotations

import ctypes
import errno
import os
import shutil
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from types import TracebackType

from slotwright.errors import OutputError
from slotwright.sharing.leftovers import clear_leftovers, unfinished

_AT_FDCWD = -100
_RENAME_EXCHANGE = 2

_REASONS = {
    errno.ENOSPC: ("the disk is full", "free some space; the earlier output still stands"),
    errno.EDQUOT: ("the disk quota is used up", "free some space; the earlier output still stands"),
    errno.EACCES: ("may not be written", "check the folder's permissions"),
    errno.EPERM: ("may not be written", "check the folder's permissions"),
    errno.EROFS: ("is on a read-only disk", "choose another place"),
    errno.ENOTDIR: ("has a file where a folder should be", "move that file away, or choose another place"),
    errno.EEXIST: ("has a file where a folder should be", "move that file away, or choose another place"),
    errno.ENAMETOOLONG: ("has too long a name", "shorten the name of the design file"),
    errno.EFBIG: ("would be larger than this system allows a file to be", "raise the limit or choose another place"),
}


def output_error(place: Path, error: OSError) -> OutputError:
    """Turn the system's error into one clear line."""
    number = error.errno or 0
    problem, remedy = _REASONS.get(number, (f"cannot be written ({error.strerror})", "check the folder and the disk"))
    return OutputError(str(place), problem, remedy)


class Outbox:
    """Collects the files of one folder and puts them in its place at the end.

    Args:
        folder: the folder to make or replace.
        shown_as: how messages name it.

    Errors: OutputError, from any method, when the disk will not have it.
    """

    def __init__(self, folder: Path, shown_as: str | None = None) -> None:
        self.folder = folder
        self._shown = Path(shown_as or folder.name)
        self._new = unfinished(folder)
        self._made_room = False

    def __enter__(self) -> Outbox:
        """Make the hidden folder, so that a place that cannot be written to shows before any long work."""
        with self._told():
            if self.folder.exists() and not self.folder.is_dir():
                raise NotADirectoryError(errno.ENOTDIR, "not a folder")
            self._made_room = not self.folder.parent.exists()
            self.folder.parent.mkdir(parents=True, exist_ok=True)
            clear_leftovers(self.folder.parent)
            if self._new.exists():
                shutil.rmtree(self._new)
            self._new.mkdir()
            if self.folder.is_dir() and not os.access(self.folder, os.W_OK):
                raise PermissionError(errno.EACCES, "read-only")
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Throw away what was not finished, and the room made for it if nothing else came in."""
        shutil.rmtree(self._new, ignore_errors=True)
        if error is not None and self._made_room:
            with suppress(OSError):
                self.folder.parent.rmdir()

    def write(self, name: str, data: bytes) -> None:
        """Add one file; its name may lead into a folder of its own, as in "drawings/bar.dxf"."""
        with self._told():
            (self._new / name).parent.mkdir(exist_ok=True)
            (self._new / name).write_bytes(data)

    def finish(self, made_before: Iterable[str]) -> None:
        """Put the new folder in the old one's place.

        Args:
            made_before: names in the old folder that an earlier run made; all others are the user's and are kept.
        """
        with self._told(), _alone(self.folder.parent):
            self._recover()
            if self.folder.is_dir():
                self._keep_foreign(frozenset(made_before))
                self._swap()
            else:
                self._new.rename(self.folder)

    def _keep_foreign(self, made_before: frozenset[str]) -> None:
        for entry in sorted(self.folder.iterdir()):
            target = self._new / entry.name
            if entry.name in made_before or target.exists():
                continue
            if entry.is_dir() and not entry.is_symlink():
                shutil.copytree(entry, target, symlinks=True)
            else:
                shutil.copy2(entry, target, follow_symlinks=False)

    def _swap(self) -> None:
        if _exchange(self._new, self.folder):
            shutil.rmtree(self._new, ignore_errors=True)
            return
        old = self.folder.parent / f".{self.folder.name}.old"
        self.folder.rename(old)
        try:
            self._new.rename(self.folder)
        except BaseException:
            old.rename(self.folder)
            raise
        shutil.rmtree(old, ignore_errors=True)

    def _recover(self) -> None:
        """Mend what a killed run left between two renames: the old folder set aside."""
        old = self.folder.parent / f".{self.folder.name}.old"
        if old.is_dir():
            if self.folder.exists():
                shutil.rmtree(old, ignore_errors=True)
            else:
                old.rename(self.folder)

    @contextmanager
    def _told(self) -> Iterator[None]:
        try:
            yield
        except OSError as error:
            raise output_error(self._shown, error) from None


def write_whole(path: Path, data: bytes, shown_as: str) -> None:
    """Write a file in one step: whoever looks finds the old one or the new one, never a part. Errors: OutputError."""
    with _part_file(path, data, shown_as) as part:
        part.replace(path)


def write_new(path: Path, data: bytes, shown_as: str) -> bool:
    """Write a file in one step if none of its name is there; say whether that was so. Errors: OutputError."""
    with _part_file(path, data, shown_as) as part:
        try:
            path.hardlink_to(part)
        except FileExistsError:
            return False
        except OSError:  # a disk without links; then another program could come between the look and the step
            if os.path.lexists(path):
                return False
            part.rename(path)
    return True


@contextmanager
def _part_file(path: Path, data: bytes, shown_as: str) -> Iterator[Path]:
    """Write a hidden file beside another, and take it away in the end if it is still there."""
    part = unfinished(path)
    try:
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            clear_leftovers(path.parent)
            part.write_bytes(data)
            yield part
        finally:
            part.unlink(missing_ok=True)
    except OSError as error:
        raise output_error(Path(shown_as), error) from None


def _exchange(a: Path, b: Path) -> bool:
    """Let two folders change places in one step where the system can (Linux); else say that it can't."""
    try:
        call = ctypes.CDLL(None, use_errno=True).renameat2
    except (AttributeError, OSError, TypeError):
        return False
    return bool(call(_AT_FDCWD, os.fsencode(a), _AT_FDCWD, os.fsencode(b), _RENAME_EXCHANGE) == 0)


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """Keep other runs out of the swap; the lock ends with the process, however that ends."""
    try:
        import fcntl
    except ImportError:  # no such locks on this system; two runs at once are then the user's own care
        yield
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        with suppress(OSError):  # some network disks know no locks
            fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)
