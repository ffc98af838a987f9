"""Reading a zip file from outside: everything is measured before anything is unpacked, in memory and within bounds.

A pack is the plainest of zip files: entries one after the other from the first byte, each with a head of its own that
says the same as the directory at the end, and nothing between, before or behind. What differs is refused, so there is
one reading of the bytes and no place to hide a second one. The layout is that of the zip format's public description
(PKWARE's APPNOTE.TXT, version 6.3).
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from slotwright.records.reading import Where

MOST_ENTRIES = 401
MOST_PACKED = 16_000_000
MOST_ENTRY = 16_000_000
MOST_TOTAL = 40_000_000
MOST_RATIO = 100
RATIO_FROM = 20_000
"""Entries shorter than this may be packed as tightly as they like: blanks are."""

_LOCAL = struct.Struct("<4s5H3I2H")
_CENTRAL = struct.Struct("<4s6H3I5H2I")
_END = struct.Struct("<4s4H2IH")
_STORED, _DEFLATED = 0, 8
_ENCRYPTED, _STREAMED = 0x0001, 0x0008
_HARMLESS_FLAGS = 0x0806  # how hard it was packed, and that names are UTF-8
_ZIP64, _OTHER_NAME = 0x0001, 0x7075
_ALL_BITS = 0xFFFFFFFF
_REMEDY = "ask the sender for the pack again"
_REPACK = "ask for the pack as `slotwright pack` writes it"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Entry:
    """One file as the directory at the end lists it; `head` is what its own head must say too."""

    name: str
    head: tuple[int, ...]
    method: int
    crc: int
    packed: int
    size: int
    at: int


def read_zip(data: bytes, where: Where, name_problem: Callable[[str], str | None]) -> dict[str, bytes]:
    """Return the files of a zip by name, in its order.

    Args:
        data: the whole zip file.
        where: how errors name it.
        name_problem: says why a name may not stand in it, or None.

    Errors: DesignError for the first thing that is not as it should be.
    """
    entries = tuple(_directory(data, where, name_problem))
    _measure(entries, where)
    starts = _starts(data, entries, where)
    return {entry.name: _unpacked(data, start, entry, where) for entry, start in zip(entries, starts, strict=True)}


def _directory(data: bytes, where: Where, name_problem: Callable[[str], str | None]) -> Iterator[_Entry]:
    """Read the directory at the end."""
    count, at, end = _bounds(data, where)
    seen: set[str] = set()
    for _ in range(count):
        if at + _CENTRAL.size > end or data[at : at + 4] != b"PK\x01\x02":
            raise where.error("has a damaged directory", _REMEDY)
        fields = _CENTRAL.unpack_from(data, at)
        lengths = fields[10:13]
        here = at + _CENTRAL.size
        at = here + sum(lengths)
        if at > end:
            raise where.error("has a damaged directory", _REMEDY)
        raw = data[here : here + lengths[0]]
        name = raw.decode("ascii", "backslashreplace")
        problem = name_problem(name)
        if problem is not None:
            raise where.error(f"holds an entry that it may not: {problem}", _REPACK)
        if name in seen:
            raise where.error(f"holds {name!r} twice", _REMEDY)
        seen.add(name)
        yield _entry(name, fields, data[here + lengths[0] : at - lengths[2]], where.at(name))
    if at != end:
        raise where.error("has more in its directory than it counts", _REMEDY)


def _bounds(data: bytes, where: Where) -> tuple[int, int, int]:
    """Return the number of entries, and where their directory begins and ends."""
    if not data.startswith(b"PK\x03\x04"):
        problem = "holds nothing" if data.startswith(b"PK\x05\x06") else "is no zip file from its first byte on"
        raise where.error(problem, "name a pack made by `slotwright pack`")
    end = len(data) - _END.size
    if end < 0 or data[end : end + 4] != b"PK\x05\x06":
        raise where.error("does not end as a pack does: it is cut short, or something was added", _REMEDY)
    _, disk, first_disk, here, count, length, at, comment = _END.unpack_from(data, end)
    if disk or first_disk or here != count or comment:
        raise where.error("is one part of several, or carries a comment", _REPACK)
    if count == 0xFFFF or _ALL_BITS in (length, at):
        raise where.error("is of the large sort of zip (zip64)", _REPACK)
    if count > MOST_ENTRIES:
        raise where.error(f"holds {count} entries, more than {MOST_ENTRIES}", _REPACK)
    if at + length != end:
        raise where.error("has its directory elsewhere than it says", _REMEDY)
    return count, at, end


def _entry(name: str, fields: tuple[int, ...], extra: bytes, where: Where) -> _Entry:
    _, _, needed, flags, method, time, date, crc, packed, size, _, _, comment, disk, _, outside, at = fields
    if flags & _ENCRYPTED:
        raise where.error("is encrypted", "ask for a pack that is not")
    if flags & _STREAMED:
        raise where.error("does not say its size ahead", _REPACK)
    if flags & ~_HARMLESS_FLAGS or method not in (_STORED, _DEFLATED) or comment or disk:
        raise where.error("is packed in a way a pack does not use", _REPACK)
    if (outside >> 16) & 0o170000 not in (0, 0o100000) or outside & 0x18:
        raise where.error("is a link, a folder or a device, not a file", _REPACK)
    if {_ZIP64, _OTHER_NAME} & set(_extra_kinds(extra, where)) or _ALL_BITS in (packed, size, at):
        raise where.error("has a second size or name (zip64 and the like)", _REPACK)
    head = (needed, flags, method, time, date, crc, packed, size)
    return _Entry(name=name, head=head, method=method, crc=crc, packed=packed, size=size, at=at)


def _extra_kinds(extra: bytes, where: Where) -> Iterator[int]:
    at = 0
    while at < len(extra):
        if at + 4 > len(extra):
            raise where.error("has a damaged extra field", _REMEDY)
        kind, length = struct.unpack_from("<2H", extra, at)
        yield kind
        at += 4 + length
    if at != len(extra):
        raise where.error("has a damaged extra field", _REMEDY)


def _measure(entries: tuple[_Entry, ...], where: Where) -> None:
    """Refuse what would be too large unpacked, by what the directory says; unpacking stops there too."""
    for entry in entries:
        if entry.size > MOST_ENTRY:
            raise where.at(entry.name).error(f"would be {entry.size} bytes, more than {MOST_ENTRY}", _REPACK)
        if entry.size > RATIO_FROM and entry.size > MOST_RATIO * entry.packed:
            raise where.at(entry.name).error(f"is packed more than {MOST_RATIO} to 1, as no drawing is", _REPACK)
    total = sum(entry.size for entry in entries)
    if total > MOST_TOTAL:
        raise where.error(f"would be {total} bytes unpacked, more than {MOST_TOTAL}", _REPACK)


def _starts(data: bytes, entries: tuple[_Entry, ...], where: Where) -> list[int]:
    """Return where each entry's packed bytes begin: the heads say what the directory says, and nothing lies between."""
    directory = len(data) - _END.size - _END.unpack_from(data, len(data) - _END.size)[5]
    starts, at = [], 0
    for entry in entries:
        here = where.at(entry.name)
        if entry.at != at:
            raise here.error("overlaps another entry, or something lies before it", _REMEDY)
        if at + _LOCAL.size > directory:
            raise here.error("is cut short", _REMEDY)
        signature, *head, name_length, extra_length = _LOCAL.unpack_from(data, at)
        name_at = at + _LOCAL.size
        name = data[name_at : name_at + name_length]
        if signature != b"PK\x03\x04" or tuple(head) != entry.head or name != entry.name.encode():
            raise here.error("says one thing in its own head and another in the directory", _REMEDY)
        extra = data[name_at + name_length : name_at + name_length + extra_length]
        if {_ZIP64, _OTHER_NAME} & set(_extra_kinds(extra, here)):
            raise here.error("has a second size or name (zip64 and the like)", _REPACK)
        starts.append(name_at + name_length + extra_length)
        at = starts[-1] + entry.packed
        if at > directory:
            raise here.error("is cut short", _REMEDY)
    if at != directory:
        raise where.error("has something between its last entry and its directory", _REMEDY)
    return starts


def _unpacked(data: bytes, start: int, entry: _Entry, where: Where) -> bytes:
    """Unpack one entry, never to more than one byte over the size it claims."""
    here = where.at(entry.name)
    packed = data[start : start + entry.packed]
    content = packed if entry.method == _STORED else _inflated(packed, entry.size, here)
    if len(content) != entry.size:
        raise here.error("is not as long as it says", _REMEDY)
    if zlib.crc32(content) != entry.crc:
        raise here.error("is damaged: its check sum is another", _REMEDY)
    return content


def _inflated(packed: bytes, size: int, where: Where) -> bytes:
    unpacker = zlib.decompressobj(-zlib.MAX_WBITS)
    try:
        content = unpacker.decompress(packed, size + 1)
    except zlib.error:
        raise where.error("is damaged: it cannot be unpacked", _REMEDY) from None
    if len(content) <= size and not (unpacker.eof and not unpacker.unused_data):
        raise where.error("is damaged: it ends too soon or too late", _REMEDY)
    return content
