"""The letters that one picture needs, cut out of the lettering font as a TrueType font of their own.

Browsers take it from a data URI, so a picture reads the same wherever it is shown. Written table by table
(ISO/IEC 14496-22): the font library's own subsetter loads longer than a whole sheet takes to draw.
"""

from __future__ import annotations

from base64 import b64encode
from functools import cache
from io import BytesIO
from itertools import accumulate
from struct import calcsize, pack, pack_into, unpack_from
from typing import NamedTuple

from slotwright.drawings.paper import lettering

KEPT_WHOLE = ("OS/2", "name", "post")
MORE_PARTS, WIDE_OFFSETS, ONE_SCALE, TWO_SCALES, FOUR_SCALES = 0x20, 0x01, 0x08, 0x40, 0x80  # of a composite glyph
CHECKSUM = 0xB1B0AFBA  # what the words of a whole font are made to add up to
FACE_HEAD = 8  # where `head` holds the correction for that, bytes


class _Source(NamedTuple):
    """The lettering font taken apart: glyph numbers by character, outlines and measures by glyph number."""

    numbers: dict[str, int]
    outlines: tuple[bytes, ...]
    measures: tuple[tuple[int, int], ...]
    tables: dict[str, bytes]


def data_uri(characters: frozenset[str]) -> str:
    """Return a font with these characters as a data URI; those the lettering font lacks are left out."""
    return "data:font/ttf;base64," + b64encode(font_of(characters)).decode("ascii")


@cache
def font_of(characters: frozenset[str]) -> bytes:
    """Return a TrueType font with these characters; equal ones give equal bytes."""
    source = _source()
    codes = {char: source.numbers[char] for char in sorted(characters) if char in source.numbers}
    kept = [0, *dict.fromkeys(number for number in codes.values() if number)]  # glyph 0 stands for what is missing
    for number in kept:  # grows while it is walked: parts may have parts
        kept += [part for _, part in _parts(source.outlines[number]) if part not in kept]
    return _written(source, codes, {number: place for place, number in enumerate(kept)})


@cache
def _source() -> _Source:
    from fontTools.ttLib import TTFont  # takes long to load, and is there already where something was lettered

    with TTFont(BytesIO(lettering.font_bytes()), lazy=True) as font:
        raw = font.reader  # as the file has them: tables the library has read itself, it would write with today's date
        glyf, starts = raw["glyf"], font["loca"].locations
        order = font.getGlyphOrder()
        places = {name: number for number, name in enumerate(order)}
        return _Source(
            numbers={chr(code): places[name] for code, name in font.getBestCmap().items()},
            outlines=tuple(glyf[starts[n] : starts[n + 1]] for n in range(len(order))),
            measures=tuple(font["hmtx"].metrics[name] for name in order),
            tables={tag: raw[tag] for tag in (*KEPT_WHOLE, "head", "hhea", "maxp")},
        )


def _parts(outline: bytes) -> list[tuple[int, int]]:
    """Where a composite glyph names its parts, and which they are; nothing of a plain one."""
    if not outline or unpack_from(">h", outline)[0] >= 0:
        return []
    found, at, flags = [], 10, MORE_PARTS
    while flags & MORE_PARTS:
        flags, number = unpack_from(">HH", outline, at)
        found.append((at + 2, number))
        at += 8 if flags & WIDE_OFFSETS else 6
        at += 2 if flags & ONE_SCALE else 4 if flags & TWO_SCALES else 8 if flags & FOUR_SCALES else 0
    return found


def _written(source: _Source, codes: dict[str, int], places: dict[int, int]) -> bytes:
    """The font with its glyphs in their new places."""
    outlines = [_moved(source.outlines[number], places) for number in places]
    tables = {tag: source.tables[tag] for tag in KEPT_WHOLE}
    tables["cmap"] = _cmap({ord(char): places[number] for char, number in codes.items()})
    tables["glyf"] = b"".join(outlines)
    tables["loca"] = pack(f">{len(outlines) + 1}L", 0, *accumulate(map(len, outlines)))
    tables["hmtx"] = b"".join(pack(">Hh", *source.measures[number]) for number in places)
    tables["head"] = _with(_with(source.tables["head"], ">L", FACE_HEAD, 0), ">h", 50, 1)  # wide entries in `loca`
    tables["hhea"] = _with(source.tables["hhea"], ">H", 34, len(outlines))
    tables["maxp"] = _with(source.tables["maxp"], ">H", 4, len(outlines))
    return _assembled(tables)


def _moved(outline: bytes, places: dict[int, int]) -> bytes:
    """A glyph that names its parts by their new places, filled up to whole words."""
    for at, number in _parts(outline):
        outline = _with(outline, ">H", at, places[number])
    return outline + bytes(-len(outline) % 4)


def _with(table: bytes, form: str, at: int, value: int) -> bytes:
    changed = bytearray(table)
    pack_into(form, changed, at, value)
    return bytes(changed)


def _cmap(glyphs: dict[int, int]) -> bytes:
    """Characters to glyphs as format 4: a segment for each run that counts up in both."""
    runs: list[list[int]] = []
    for code, glyph in sorted(glyphs.items()):
        if runs and code == runs[-1][1] + 1 and glyph - code == runs[-1][2]:
            runs[-1][1] = code
        else:
            runs.append([code, code, glyph - code])
    runs.append([0xFFFF, 0xFFFF, 1])  # the last one of every such table
    firsts, lasts, shifts = zip(*runs, strict=True)
    number = len(runs)
    power = number.bit_length() - 1
    search = (2 * number, 2 << power, power, 2 * number - (2 << power))
    columns = pack(f">{number}H", *lasts) + pack(f">H{number}H", 0, *firsts)
    columns += pack(f">{number}H", *(shift & 0xFFFF for shift in shifts)) + bytes(2 * number)
    table = pack(">HHH4H", 4, 14 + len(columns), 0, *search) + columns
    return pack(">HHHHL", 0, 1, 3, 1, 12) + table


def _assembled(tables: dict[str, bytes]) -> bytes:
    """Directory and tables in the order of their tags, with their sums."""
    number = len(tables)
    power = number.bit_length() - 1
    head = pack(">LHHHH", 0x00010000, number, 16 << power, power, 16 * number - (16 << power))
    entries, body, start = [], b"", len(head) + number * calcsize(">4sLLL")
    for tag, data in sorted(tables.items()):
        entries.append(pack(">4sLLL", tag.encode("ascii"), _sum(data), start + len(body), len(data)))
        body += data + bytes(-len(data) % 4)
    font = head + b"".join(entries) + body
    at = start + sum(len(data) + -len(data) % 4 for tag, data in tables.items() if tag < "head")
    return _with(font, ">L", at + FACE_HEAD, (CHECKSUM - _sum(font)) & 0xFFFFFFFF)


def _sum(data: bytes) -> int:
    filled = data + bytes(-len(data) % 4)
    words: tuple[int, ...] = unpack_from(f">{len(filled) // 4}L", filled)
    return sum(words) & 0xFFFFFFFF
