"""Unpacking a pack into a workspace: under a free name, whole or not at all."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from slotwright.errors import OutputError
from slotwright.records.reading import Where, file_bytes
from slotwright.sharing import pack_format as form
from slotwright.sharing.output import Outbox, write_new
from slotwright.sharing.received import Received, read_pack
from slotwright.sharing.workspace import Workspace
from slotwright.sharing.zip_safety import MOST_PACKED


@dataclass(frozen=True, slots=True)
class Unpacked:
    """Where a pack went.

    Attributes:
        design: the design file in fixtures/.
        folder: the pack's files as they came, in shared/.
    """

    design: Path
    folder: Path


def look_at(file: Path, shown_as: str) -> Received:
    """Read and verify a pack file; nothing is written. Errors: DesignError."""
    where = Where(shown_as)
    return read_pack(file_bytes(file, where, MOST_PACKED, "a pack is no larger; ask what it is"), shown_as)


def workspace_of(folder: Path) -> Path:
    """Return the root of the workspace a folder lies in. Errors: OutputError when there is no such folder."""
    if not folder.is_dir():
        what = "is a file" if folder.exists() else "is not there"
        raise OutputError(folder.as_posix(), what, "name the workspace's folder; make it first if it is new")
    return Workspace.around(folder / "x.toml").root


def unpack(received: Received, root: Path) -> Unpacked:
    """Unpack a verified pack into a workspace.

    The design goes to fixtures/NAME.toml, all of the pack as it came to shared/NAME/. Both names are free before; all
    is on the disk before either name is taken, and the design, which others go by, takes its name in one step.

    Args:
        received: the pack.
        root: the workspace's folder.

    Errors: OutputError; then neither is there.
    """
    names = _names(received.manifest.name)
    while True:
        name = next(names)
        design, folder = root / "fixtures" / f"{name}.toml", root / "shared" / name
        if any(os.path.lexists(path) for path in (design, folder, root / "drawings" / name)):
            continue
        if _unpacked(received, design, folder):
            return Unpacked(design, folder)


def _unpacked(received: Received, design: Path, folder: Path) -> bool:
    """Unpack under these names; say whether the design's was still free when it came to it."""
    with Outbox(folder, f"shared/{folder.name}") as box:
        for file, data in received.files.items():
            box.write(file, data)
        if not write_new(design, received.files[form.DESIGN], f"fixtures/{design.name}"):
            return False
        try:
            box.finish(())
        except BaseException:
            design.unlink()
            raise
    return True


def _names(name: str) -> Iterator[str]:
    yield name
    for number in count(2):
        yield f"{name}-{number}"
