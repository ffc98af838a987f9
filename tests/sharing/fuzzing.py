"""What fuzzing calls: one entry a reader, that ends well or in a SlotwrightError, whatever it is given."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

from slotwright import sizes
from slotwright.errors import SlotwrightError
from slotwright.records.reading import Where, parsed
from slotwright.sharing.design_file import design_from
from slotwright.sharing.received import read_pack
from slotwright.sharing.set_up import set_up_of
from slotwright.sharing.starters import starter
from slotwright.sharing.workspace import Workspace
from tests.sharing.packs import DESIGN, Contents, Entry, contents, entries, manifest, raw_zip, with_manifest

NOWHERE = Workspace(Path("no-such-workspace"))
READERS = (
    sizes.length, sizes.angle, sizes.mass, sizes.force, sizes.torque, sizes.stress, sizes.thread_name, sizes.fit_name,
    sizes.slot_width,
)  # fmt: skip


def read_sizes(text: str) -> None:
    """Read a text as every sort of size."""
    for reader in READERS:
        try:
            reader(text)
        except SlotwrightError as error:
            _check_line(error)


def read_design(data: bytes) -> None:
    """Read a design file's bytes, solve and check what they say."""
    try:
        values = parsed(data, Where("fuzz.toml"))
    except SlotwrightError as error:
        _check_line(error)
        return
    solve_data(values)


def sound_data(kind: str) -> dict[str, Any]:
    """Return what the starter file of a kind says, on a table written in it, as TOML brings it."""
    table = tomllib.loads(DESIGN)["table"]
    return tomllib.loads(starter(kind, "mm", None, NOWHERE.root)) | {"table": table}


def solve_data(values: dict[str, Any]) -> None:
    """Read a design from data, solve and check it."""
    try:
        set_up_of(design_from(values, "fuzz.toml"), NOWHERE, "fuzz", "fuzz.toml")
    except SlotwrightError as error:
        _check_line(error)


def receive(data: bytes) -> None:
    """Read a pack's bytes."""
    try:
        read_pack(data, "fuzz.zip")
    except SlotwrightError as error:
        _check_line(error)


def receive_mended(files: Contents) -> None:
    """Read a pack of these files whose sums and zip are true, so that what is inside is reached."""
    receive(raw_zip(entries(with_manifest({name: data for name, data in files.items() if name != "manifest.json"}))))


def receive_saying(values: dict[str, Any]) -> None:
    """Read a pack whose manifest says something else here and there."""
    told = json.dumps(manifest(contents()) | values, default=str).encode()
    receive(raw_zip([Entry(name=b"manifest.json", data=told, method=0), *entries(contents())]))


def _check_line(error: SlotwrightError) -> None:
    line = str(error)
    assert line.isprintable(), f"not one printing line: {line!r}"
    assert len(line) < 3000, "too long for a terminal"
