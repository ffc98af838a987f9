"""Packs built by hand for tests, by the format's page and the zip format's public description, not by the program."""

from __future__ import annotations

import json
import struct
import zlib
from dataclasses import dataclass, replace
from hashlib import sha256
from typing import Any

Contents = dict[str, bytes]

DESIGN = """slotwright = 1
title = "Test bars"
unit = "mm"
rack = "none"
drawer = "none"

[[fixture]]
kind = "hold-down-bar"
name = "bar"
width = "40 mm"
thickness = "20 mm"
length = "300 mm"
overhang-front = "20 mm"

[[fixture.work-hole]]
make = "tapped"
thread = "M12"
at = ["30 mm"]

[table]
name = "mill"
unit = "mm"
length = "1000 mm"
width = "260 mm"
slots = { width = "14 mm", number = 4, pitch = "63 mm" }
"""
SVG = b'<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm"><path class="outline" d="M0 0L9 9"/></svg>\n'
DXF = b"  0\nSECTION\n  2\nENTITIES\n  0\nENDSEC\n  0\nEOF\n"
PDF = b"%PDF-1.4\n1 0 obj\n<< /Type /Catalog >>\nendobj\n%%EOF\n"


def contents(design: str = DESIGN, **changed: bytes) -> Contents:
    """Return the files of a small sound pack, the manifest left out; changed ones by name with _ for / and ."""
    files = {
        "design.toml": design.encode(),
        "card.txt": b"Test bars\n",
        "card.pdf": PDF,
        "drawings/bar-holes.csv": b"tag,x_mm,y_mm\nA1,55.5,20\n",
        "drawings/bar.dxf": DXF,
        "drawings/bar.step": b"ISO-10303-21;\nENDSEC;\nEND-ISO-10303-21;\n",
        "drawings/bar.svg": SVG,
        "drawings/findings.json": b'{"worst": "fine"}\n',
    }
    by_word = {name.translate(str.maketrans("/.-", "___")): name for name in files}
    return files | {by_word[word]: data for word, data in changed.items()}


def manifest(files: Contents, /, **changed: Any) -> dict[str, Any]:
    """Return a manifest that tells the truth about the files, but for what is changed."""
    listed = [{"name": name, "size": len(data), "sha256": sha256(data).hexdigest()} for name, data in files.items()]
    told = {
        "format": "1.0",
        "program": "0.1.0",
        "name": "bars",
        "title": "Test bars",
        "content-id": "0123456789",
        "files": listed,
    }
    return told | {key.replace("_", "-"): value for key, value in changed.items()}


def with_manifest(files: Contents, /, **changed: Any) -> Contents:
    """Return the files with their manifest before them."""
    return {"manifest.json": json.dumps(manifest(files, **changed)).encode(), **files}


@dataclass(frozen=True, kw_only=True)
class Entry:
    """One zip entry, every field of which can be made to lie; None means the truth."""

    name: bytes
    data: bytes
    method: int = 8
    packed_data: bytes | None = None
    flags: int = 0
    crc: int | None = None
    size: int | None = None
    packed: int | None = None
    extra: bytes = b""
    local_extra: bytes = b""
    local_name: bytes | None = None
    local_crc: int | None = None
    local_size: int | None = None
    local_method: int | None = None
    local_flags: int | None = None
    comment: bytes = b""
    made_by: int = 20
    outside: int = 0
    disk: int = 0
    at: int | None = None
    before: bytes = b""

    def body(self) -> bytes:
        """Return the packed bytes."""
        if self.packed_data is not None:
            return self.packed_data
        return deflated(self.data) if self.method == 8 else self.data

    def lying(self, **fields: Any) -> Entry:
        """Return the entry with some fields changed."""
        return replace(self, **fields)


def deflated(data: bytes) -> bytes:
    """Return raw deflate data."""
    packer = zlib.compressobj(9, zlib.DEFLATED, -15)
    return packer.compress(data) + packer.flush()


def entries(files: Contents) -> list[Entry]:
    """Return an honest entry for each file."""
    return [Entry(name=name.encode(), data=data) for name, data in files.items()]


def raw_zip(
    listed: list[Entry],
    *,
    prefix: bytes = b"",
    shift: int = 0,
    before_directory: bytes = b"",
    before_end: bytes = b"",
    comment: bytes = b"",
    suffix: bytes = b"",
    unlisted: tuple[Entry, ...] = (),
    end: dict[int, int] | None = None,
) -> bytes:
    """Write a zip (APPNOTE.TXT 4.3); `end` changes fields of the end record by their place, from 0 for the disk.

    Args:
        listed: entries, in order.
        prefix: bytes before the first entry; shift is added to every offset, so an adjusted prefix can be had too.
        before_directory, before_end, suffix: bytes at these places.
        comment: the archive's comment.
        unlisted: entries that the directory leaves out.
        end: fields of the end record by number.
    """
    out, directory = prefix, b""
    for entry in (*listed, *unlisted):
        out += entry.before
        at = len(out) - len(prefix) + shift
        out += _local(entry)
        if entry in listed:
            directory += _central(entry, at)
    out += before_directory
    fields = [0, 0, len(listed), len(listed), len(directory), len(out) - len(prefix) + shift, len(comment)]
    for place, value in (end or {}).items():
        fields[place] = value
    return out + directory + before_end + struct.pack("<4s4H2IH", b"PK\x05\x06", *fields) + comment + suffix


def _facts(entry: Entry) -> tuple[int, int, int]:
    crc = zlib.crc32(entry.data) if entry.crc is None else entry.crc
    packed = len(entry.body()) if entry.packed is None else entry.packed
    return crc, packed, len(entry.data) if entry.size is None else entry.size


def _local(entry: Entry) -> bytes:
    crc, packed, size = _facts(entry)
    name = entry.name if entry.local_name is None else entry.local_name
    head = struct.pack(
        "<4s5H3I2H",
        b"PK\x03\x04",
        20,
        entry.flags if entry.local_flags is None else entry.local_flags,
        entry.method if entry.local_method is None else entry.local_method,
        0,
        0x21,
        crc if entry.local_crc is None else entry.local_crc,
        packed,
        size if entry.local_size is None else entry.local_size,
        len(name),
        len(entry.local_extra),
    )
    return head + name + entry.local_extra + entry.body()


def _central(entry: Entry, at: int) -> bytes:
    crc, packed, size = _facts(entry)
    lengths = len(entry.name), len(entry.extra), len(entry.comment)
    head = struct.pack(
        "<4s6H3I5H2I", b"PK\x01\x02", entry.made_by, 20, entry.flags, entry.method, 0, 0x21, crc, packed, size,
        *lengths, entry.disk, 0, entry.outside, at if entry.at is None else entry.at,
    )  # fmt: skip
    return head + entry.name + entry.extra + entry.comment


def pack(files: Contents | None = None, /, **changed: Any) -> bytes:
    """Return a whole pack whose manifest tells the truth but for what is changed."""
    return raw_zip(entries(with_manifest(contents() if files is None else files, **changed)))
