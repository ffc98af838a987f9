"""Hostile packs, built here byte by byte: each is refused in one clear line, in bounds, and nothing is written.

The zip format's fields are those of PKWARE's APPNOTE.TXT 6.3, its file types those of POSIX <sys/stat.h>; names that
some systems keep for devices are those of Microsoft's "Naming Files, Paths, and Namespaces".
"""

from __future__ import annotations

import gzip
import io
import json
import os
import random
import struct
import tarfile
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

import pytest

from slotwright.sharing.receive import look_at, unpack
from tests.sharing.bounds import refused, tree
from tests.sharing.packs import (
    DESIGN,
    PDF,
    Entry,
    contents,
    deflated,
    entries,
    manifest,
    pack,
    raw_zip,
    with_manifest,
)
from tests.workshop import lay_out

Build = Callable[[], bytes]
Case = tuple[Build, str]
SOUND = pack()
NAME_RULE = "is no name for a file in a pack"


def honest() -> list[Entry]:
    return entries(with_manifest(contents()))


def lying(number: int, **fields: object) -> bytes:
    """A sound pack but for some fields of one entry."""
    listed = honest()
    listed[number] = listed[number].lying(**fields)
    return raw_zip(listed)


def tarred() -> bytes:
    stream = io.BytesIO()
    with tarfile.open(fileobj=stream, mode="w") as archive:
        entry = tarfile.TarInfo("../evil")
        entry.type, entry.linkname = tarfile.SYMTYPE, "/etc"
        archive.addfile(entry)
    return stream.getvalue()


NO_ZIP: dict[str, Case] = {
    "empty-file": (lambda: b"", "is no zip file"),
    "one-byte": (lambda: b"P", "is no zip file"),
    "magic-alone": (lambda: b"PK\x03\x04", "cut short"),
    "text": (lambda: b"slotwright = 1\n", "is no zip file"),
    "noise": (lambda: random.Random(1).randbytes(5000), "is no zip file"),
    "magic-and-noise": (lambda: b"PK\x03\x04" + random.Random(2).randbytes(5000), "cut short"),
    "gzip": (lambda: gzip.compress(SOUND), "is no zip file"),
    "tar-with-a-link": (tarred, "is no zip file"),
    "pdf": (lambda: PDF, "is no zip file"),
    "seven-z-head": (lambda: b"7z\xbc\xaf\x27\x1c" + bytes(100), "is no zip file"),
    "zip-without-entries": (lambda: raw_zip([]), "holds nothing"),
    "end-record-alone-after-a-head": (lambda: b"PK\x03\x04" + raw_zip([]), "its directory elsewhere"),
    "sixteen-million-zeros": (lambda: bytes(15_999_999), "is no zip file"),
}

TRUNCATED: dict[str, Case] = {
    f"cut-to-{share}-of-64": (lambda share=share: SOUND[: len(SOUND) * share // 64], "cut short")
    for share in (1, 2, 8, 20, 32, 44, 56, 60, 63)
} | {
    "last-byte-gone": (lambda: SOUND[:-1], "cut short"),
    "first-byte-gone": (lambda: SOUND[1:], "is no zip file"),
    "middle-gone": (lambda: SOUND[:500] + SOUND[700:], "its directory elsewhere"),
}


def hidden() -> tuple[Entry, ...]:
    return (Entry(name=b"drawings/hidden.svg", data=b"<svg onload='x'/>"),)


SPLICED: dict[str, Case] = {
    "byte-behind": (lambda: SOUND + b"\0", "something was added"),
    "second-pack-behind": (lambda: SOUND + SOUND, "elsewhere"),
    "second-end-behind": (lambda: SOUND + SOUND[-22:], "elsewhere"),
    "script-before": (lambda: b"#!/bin/sh\nexit\n" + SOUND, "is no zip file"),
    "program-before-offsets-adjusted": (
        lambda: raw_zip(honest(), prefix=b"MZ" + bytes(62), shift=64),
        "is no zip file",
    ),
    "zip-before": (
        lambda: raw_zip(honest(), prefix=SOUND, shift=len(SOUND)),
        "overlaps another entry, or something lies before",
    ),
    "zip-before-offsets-not-adjusted": (lambda: raw_zip(honest(), prefix=SOUND), "elsewhere"),
    "archive-comment": (lambda: raw_zip(honest(), comment=b"hello"), "something was added"),
    "comment-that-is-an-end-record": (lambda: raw_zip(honest(), comment=SOUND[-22:]), "elsewhere"),
    "comment-length-lies": (lambda: raw_zip(honest(), end={6: 7}), "carries a comment"),
    "gap-between-entries": (lambda: lying(3, before=b"hidden"), "something lies before it"),
    "gap-before-directory": (
        lambda: raw_zip(honest(), before_directory=b"hidden bytes"),
        "between its last entry and its directory",
    ),
    "gap-before-end": (lambda: raw_zip(honest(), before_end=b"hidden bytes"), "its directory elsewhere"),
    "entry-the-directory-leaves-out": (
        lambda: raw_zip(honest(), unlisted=hidden()),
        "between its last entry and its directory",
    ),
    "two-entries-one-place": (lambda: lying(4, at=0), "overlaps another entry"),
    "entry-inside-another": (lambda: lying(4, at=60), "overlaps another entry"),
    "entry-far-away": (lambda: lying(4, at=0x7FFFFFFF), "overlaps another entry, or something lies before"),
    "first-entry-not-first": (lambda: lying(0, at=1), "overlaps another entry, or something lies before"),
    "packed-size-covers-the-rest": (lambda: lying(2, packed=len(SOUND)), "is cut short"),
    "packed-size-too-small": (lambda: lying(8, packed=10), "between its last entry and its directory"),
    "directory-offset-zero": (lambda: raw_zip(honest(), end={5: 0}), "elsewhere"),
    "directory-offset-huge": (lambda: raw_zip(honest(), end={5: 0xFFFFFFF0}), "elsewhere"),
    "directory-length-zero": (lambda: raw_zip(honest(), end={4: 0}), "elsewhere"),
    "directory-whole-file": (lambda: raw_zip(honest(), end={4: len(SOUND) - 22, 5: 0}), "damaged directory"),
    "count-too-small": (lambda: raw_zip(honest(), end={2: 3, 3: 3}), "more in its directory"),
    "count-too-large": (lambda: raw_zip(honest(), end={2: 20, 3: 20}), "damaged directory"),
    "counts-differ": (lambda: raw_zip(honest(), end={2: 3}), "one part of several"),
    "disk-two": (lambda: raw_zip(honest(), end={0: 1}), "one part of several"),
    "directory-on-disk-two": (lambda: raw_zip(honest(), end={1: 1}), "one part of several"),
    "entry-on-disk-two": (lambda: lying(2, disk=1), "a way a pack does not use"),
    "entry-comment": (lambda: lying(2, comment=b"see <http>"), "a way a pack does not use"),
}

ZIP64: dict[str, Case] = {
    "zip64-count": (lambda: raw_zip(honest(), end={2: 0xFFFF, 3: 0xFFFF}), "zip64"),
    "zip64-offset": (lambda: raw_zip(honest(), end={5: 0xFFFFFFFF}), "zip64"),
    "zip64-length": (lambda: raw_zip(honest(), end={4: 0xFFFFFFFF}), "zip64"),
    "zip64-locator": (
        lambda: raw_zip(honest(), before_end=struct.pack("<4sIQI", b"PK\x06\x07", 0, 0, 1)), "elsewhere",
    ),
    "zip64-size": (lambda: lying(2, size=0xFFFFFFFF, extra=struct.pack("<2HQ", 1, 8, 10)), "zip64"),
    "zip64-extra-unneeded": (lambda: lying(2, extra=struct.pack("<2HQ", 1, 8, 1 << 60)), "zip64"),
    "zip64-extra-in-the-head-alone": (lambda: lying(2, local_extra=struct.pack("<2HQ", 1, 8, 1 << 60)), "zip64"),
    "second-name-in-unicode": (lambda: lying(2, extra=struct.pack("<2HBI", 0x7075, 12, 1, 0) + b"../evil"), "second size or name"),
    "second-name-in-the-head-alone": (lambda: lying(2, local_extra=struct.pack("<2HBI", 0x7075, 12, 1, 0) + b"../evil"), "second size or name"),
    "extra-longer-than-it-is": (lambda: lying(2, extra=struct.pack("<2H", 0x5455, 500)), "damaged extra field"),
    "extra-of-three-bytes": (lambda: lying(2, extra=b"abc"), "damaged extra field"),
}  # fmt: skip

METHODS: dict[str, Case] = {
    "encrypted": (lambda: lying(2, flags=1), "is encrypted"),
    "encrypted-in-the-head-alone": (lambda: lying(2, local_flags=1), "one thing in its own head"),
    "strongly-encrypted": (lambda: lying(2, flags=0x41), "is encrypted"),
    "masked-heads": (lambda: lying(2, flags=0x2000), "a way a pack does not use"),
    "patch-data": (lambda: lying(2, flags=0x20), "a way a pack does not use"),
    "size-behind-the-data": (lambda: lying(2, flags=8, local_crc=0, local_size=0), "does not say its size ahead"),
    **{
        f"method-{method}": (lambda method=method: lying(2, method=method), "a way a pack does not use")  # type: ignore[misc]  # as above
        for method in (1, 6, 9, 12, 14, 93, 95, 99)
    },
    "check-sum-wrong": (lambda: lying(2, crc=0x12345678), "its check sum is another"),
    "check-sum-in-the-head-differs": (lambda: lying(2, local_crc=5), "one thing in its own head"),
    "name-in-the-head-differs": (lambda: lying(2, local_name=b"../evil.txt"), "one thing in its own head"),
    "method-in-the-head-differs": (lambda: lying(2, local_method=0), "one thing in its own head"),
    "size-in-the-head-differs": (lambda: lying(2, local_size=3), "one thing in its own head"),
    "size-too-small": (lambda: lying(1, size=10), "is not as long as it says"),
    "size-too-large": (lambda: lying(1, size=5000), "is not as long as it says"),
    "stored-size-differs": (lambda: lying(2, method=0, size=5), "is not as long as it says"),
    "packed-noise": (lambda: lying(2, packed_data=b"\xff" * 40), "cannot be unpacked"),
    "packed-data-cut": (lambda: lying(1, packed_data=deflated(DESIGN.encode())[:-9]), "ends too soon or too late"),
    "packed-data-goes-on": (
        lambda: lying(1, packed_data=deflated(DESIGN.encode()) + b"more"),
        "ends too soon or too late",
    ),
    "no-packed-data": (lambda: lying(1, packed_data=b""), "ends too soon or too late"),
}

MODES = {
    "link": 0o120777,
    "folder": 0o040755,
    "pipe": 0o010644,
    "character-device": 0o020644,
    "block-device": 0o060644,
    "socket": 0o140644,
}
TYPES: dict[str, Case] = {
    f"type-{name}": (
        lambda mode=mode: lying(2, made_by=0x0314, outside=mode << 16, data=b"/etc/passwd"),
        "is a link, a folder or a device",
    )
    for name, mode in MODES.items()
} | {
    "type-folder-by-attribute": (lambda: lying(2, outside=0x10), "is a link, a folder or a device"),
    "type-volume-label": (lambda: lying(2, outside=0x08), "is a link, a folder or a device"),
}

BAD_NAMES: dict[str, bytes] = {
    "up": b"../evil.svg",
    "up-twice": b"../../etc/cron.d/evil.csv",
    "up-from-inside": b"drawings/../../evil.svg",
    "up-to-fixtures": b"drawings/../fixtures/evil.svg",
    "absolute": b"/etc/passwd",
    "absolute-svg": b"/drawings/bar.svg",
    "network-share": b"//server/share/bar.svg",
    "drive": b"C:\\bar.svg",
    "drive-relative": b"C:bar.svg",
    "backslash": b"drawings\\evil.svg",
    "backslash-up": b"..\\..\\evil.svg",
    "unc": b"\\\\server\\share\\bar.svg",
    "device-path": b"\\\\.\\PhysicalDrive0",
    "here": b"./design.toml",
    "double-slash": b"drawings//evil.svg",
    "dot-folder": b"drawings/./evil.svg",
    "no-name": b"",
    "dot": b".",
    "dots": b"..",
    "folder": b"drawings/",
    "other-folder": b"fixtures/evil.toml",
    "parts": b"parts/mill.toml",
    "repository-hook": b".git/hooks/post-checkout",
    "hidden": b"drawings/.evil.svg",
    "trailing-dot": b"drawings/evil.svg.",
    "trailing-space": b"drawings/evil.svg ",
    "leading-space": b" drawings/evil.svg",
    "nul": b"drawings/evil.svg\x00.txt",
    "nul-first": b"\x00design.toml",
    "line-break": b"drawings/evil\n.svg",
    "carriage-return": b"drawings/evil\r.svg",
    "escape": b"drawings/\x1b[31mevil.svg",
    "backspace": b"drawings/evil\x08\x08.svg",
    "delete": b"drawings/evil\x7f.svg",
    "bidi": "drawings/bar\u202egvs.csv".encode(),
    "bidi-isolate": "drawings/bar\u2066.svg".encode(),
    "zero-width": "drawings/ba\u200br.svg".encode(),
    "full-width": "drawings/ｂar.svg".encode(),
    "look-alike": "drawings/b\u0430r.svg".encode(),
    "combining": "drawings/a\u0301.svg".encode(),
    "not-utf-8": b"drawings/\xff\xfe.svg",
    "upper-case-twin": b"drawings/BAR.svg",
    "upper-case-design": b"DESIGN.TOML",
    "upper-case-folder": b"Drawings/bar.svg",
    "stream": b"drawings/bar.svg:evil",
    "short-name": b"drawings/bar~1.svg",
    "program": b"drawings/evil.exe",
    "script": b"drawings/evil.py",
    "page": b"drawings/evil.html",
    "library": b"drawings/evil.so",
    "shortcut": b"drawings/evil.lnk",
    "nested-pack": b"drawings/evil.zip",
    "no-ending": b"drawings/evil",
    "two-endings": b"drawings/evil.svg.exe",
    "file-as-folder": b"drawings/bar.svg/evil.svg",
    "percent": b"%2e%2e/evil.svg",
    "variable": b"drawings/$HOME.svg",
    "option": b"drawings/-rf.svg",
    "glob": b"drawings/*.svg",
    "double-hyphen": b"drawings/a--b.svg",
    "ten-thousand-long": b"drawings/" + b"a" * 10_000 + b".svg",
    "as-long-as-can-be": b"a" * 65_535,
    "a-thousand-folders": b"a/" * 1000 + b"evil.svg",
}
DEVICES = ("con", "prn", "aux", "nul", "com1", "com9", "lpt1", "lpt9")


def named(name: bytes) -> bytes:
    """A sound pack with one more entry of this name; the manifest lists it as well as JSON can."""
    data = b"<svg />"
    listed = contents() | {name.decode("utf-8", "replace"): data}
    return raw_zip([*entries(with_manifest(listed))[:-1], Entry(name=name, data=data)])


NAMES: dict[str, Case] = {
    f"name-{word}": (lambda name=name: named(name), NAME_RULE) for word, name in BAD_NAMES.items()
} | {
    f"name-{device}": (lambda device=device: named(b"drawings/%s.svg" % device.encode()), "keep for a device")
    for device in DEVICES
} | {
    "same-name-twice": (lambda: named(b"drawings/bar.svg"), "holds 'drawings/bar.svg' twice"),
    "manifest-twice": (lambda: raw_zip([honest()[0], *honest()]), "holds 'manifest.json' twice"),
}  # fmt: skip


def moderate(size: int) -> bytes:
    """Data that packs some 45 to 1: under the bound, so that the size alone is too much."""
    noise = random.Random(3)
    return b"".join(noise.randbytes(210) + bytes(10_000) for _ in range(size // 10_210 + 1))[:size]


def large(*sizes: int) -> bytes:
    """A pack of large drawings. The manifest does not matter: sizes are judged before anything is unpacked."""
    block = moderate(max(sizes))
    return raw_zip([Entry(name=b"drawings/a%d.step" % n, data=block[:size]) for n, size in enumerate(sizes)])


def zeros(claimed: int | None = None) -> bytes:
    entry = Entry(
        name=b"drawings/a.step", data=b"", packed_data=deflated(bytes(12_000_000)), size=claimed or 12_000_000
    )
    return raw_zip([*honest(), entry])


BOMBS: dict[str, Case] = {
    "bomb-ratio": (zeros, "packed more than 100 to 1"),
    "bomb-ratio-claims-little": (lambda: zeros(15_000), "is not as long as it says"),
    "bomb-one-entry": (lambda: large(16_000_001), "would be 16000001 bytes"),
    "bomb-total": (lambda: large(15_000_000, 15_000_000, 15_000_000), "would be 45000000 bytes unpacked"),
    "bomb-claims-four-gigabytes": (lambda: lying(2, size=0xFFFFFFFE), "would be 4294967294 bytes"),
    "bomb-count": (
        lambda: raw_zip([Entry(name=b"drawings/a%d.svg" % n, data=b"") for n in range(402)]),
        "holds 402 entries",
    ),
    "bomb-count-65534": (lambda: raw_zip(honest(), end={2: 65534, 3: 65534}), "holds 65534 entries"),
    "bomb-nested": (lambda: pack(contents(drawings_bar_svg=SOUND)), "is no SVG file"),
    "bomb-nested-as-list": (lambda: pack(contents(drawings_bar_holes_csv=SOUND)), "is not UTF-8 text"),
    "bomb-one-packed-many-listed": (
        lambda: raw_zip([honest()[0], *(Entry(name=b"drawings/a%d.svg" % n, data=b"x", at=0) for n in range(300))]),
        "overlaps another entry",
    ),
}


def told(text: str | bytes) -> bytes:
    """A pack whose manifest is this text."""
    data = text if isinstance(text, bytes) else text.encode()
    return raw_zip([Entry(name=b"manifest.json", data=data, method=0), *entries(contents())])


def saying(**changed: object) -> bytes:
    return pack(contents(), **changed)


def listing(change: Callable[[list[dict[str, object]]], object]) -> bytes:
    """A pack whose list of files has been changed."""
    files = manifest(contents())["files"]
    change(files)
    return saying(files=files)


def without(key: str) -> bytes:
    said = manifest(contents())
    del said[key]
    return told(json.dumps(said))


def reordered() -> bytes:
    first, second, third, *rest = honest()
    return raw_zip([first, third, second, *rest])


EMPTY_SUM = sha256(b"").hexdigest()
MANIFESTS: dict[str, Case] = {
    "manifest-no-json": (lambda: told("format: 1.0"), "no sound JSON"),
    "manifest-empty": (lambda: told(""), "no sound JSON"),
    "manifest-not-utf-8": (lambda: told(b'{"format": "\xff"}'), "no sound JSON"),
    "manifest-utf-16": (lambda: told(json.dumps(manifest(contents())).encode("utf-16")), "no sound JSON"),
    "manifest-a-list": (lambda: told("[]"), "no JSON object"),
    "manifest-deep": (lambda: told("[" * 100_000), "no sound JSON"),
    "manifest-deep-object": (lambda: told('{"a":' * 50_000), "no sound JSON"),
    "manifest-nan": (lambda: told('{"format": NaN}'), "no sound JSON"),
    "manifest-huge-number": (lambda: told('{"format": "1.0", "size": ' + "9" * 100_000 + "}"), "no sound JSON"),
    "manifest-key-twice": (lambda: told('{"format": "1.0", "format": "1.0"}'), "no sound JSON"),
    "manifest-too-long": (lambda: told(" " * 300_000), "larger than 256000 bytes"),
    "manifest-no-format": (lambda: without("format"), "says no version"),
    "manifest-format-a-number": (lambda: saying(format=1.0), "says no version"),
    "manifest-format-one-part": (lambda: saying(format="1"), "says no version"),
    "manifest-format-three-parts": (lambda: saying(format="1.0.0"), "says no version"),
    "manifest-format-leading-zero": (lambda: saying(format="01.0"), "says no version"),
    "manifest-format-huge": (lambda: saying(format="99999999999999.0"), "says no version"),
    "manifest-format-newer": (lambda: saying(format="2.0"), "2.0 is newer than this program can read (1.0)"),
    "manifest-format-older-than-all": (lambda: saying(format="0.9"), "was never in use"),
    "manifest-no-name": (lambda: without("name"), "name: is missing"),
    "manifest-name-leads-out": (lambda: saying(name="../../evil"), "is no plain name"),
    "manifest-name-absolute": (lambda: saying(name="/etc/evil"), "is no plain name"),
    "manifest-name-device": (lambda: saying(name="con"), "keep for a device"),
    "manifest-name-empty": (lambda: saying(name=""), "is no plain name"),
    "manifest-name-long": (lambda: saying(name="a" * 10_000), "is no plain name"),
    "manifest-name-a-list": (lambda: saying(name=["a"]), "is a list, not a text"),
    "manifest-title-escape": (lambda: saying(title="\x1b]0;owned\x07"), "do not print"),
    "manifest-title-bidi": (lambda: saying(title="bars \u202egnp"), "do not print"),
    "manifest-title-long": (lambda: saying(title="a" * 10_000), "longer than 200"),
    "manifest-title-lone-surrogate": (lambda: saying(title="\ud800"), "do not print"),
    "manifest-title-differs": (lambda: saying(title="Other bars"), "is not what the manifest says"),
    "manifest-author-differs": (lambda: saying(author="somebody else"), "is not what the manifest says"),
    "manifest-licence-differs": (lambda: saying(licence="all yours"), "is not what the manifest says"),
    "manifest-id-no-id": (lambda: saying(content_id="xyz"), "is no content id"),
    "manifest-id-long": (lambda: saying(content_id="a" * 200), "is no content id"),
    "manifest-unknown-key": (lambda: saying(run="evil.sh"), "is no key here"),
    "manifest-unknown-key-escape": (lambda: saying(**{"\x1b[2J": 1}), "is no key here"),
    "manifest-files-a-text": (lambda: saying(files="all"), "is a text, not a list"),
    "manifest-files-empty": (lambda: saying(files=[]), "lacks design.toml"),
    "manifest-files-of-texts": (lambda: saying(files=["a"] * 3), "not a table of keys"),
    "manifest-files-too-many": (lambda: listing(lambda f: f.extend(f[:1] * 400)), "more than 400"),
    "manifest-file-twice": (lambda: listing(lambda f: f.append(f[0])), "may not be listed here"),
    "manifest-lists-itself": (lambda: listing(lambda f: f.append({**f[0], "name": "manifest.json"})), "may not be listed here"),
    "manifest-file-not-there": (
        lambda: listing(lambda f: f.append({"name": "drawings/x.svg", "size": 0, "sha256": EMPTY_SUM})), "is not there",
    ),
    "manifest-file-left-out": (lambda: listing(lambda f: f.pop()), "is not listed in the manifest"),
    "manifest-file-leads-out": (lambda: listing(lambda f: f[3].update(name="../x.svg")), NAME_RULE),
    "manifest-file-escape": (lambda: listing(lambda f: f[3].update(name="\x1b[1m")), "do not print"),
    "manifest-size-wrong": (lambda: listing(lambda f: f[3].update(size=7)), "its sum is another"),
    "manifest-size-negative": (lambda: listing(lambda f: f[3].update(size=-1)), "outside its range"),
    "manifest-size-true": (lambda: listing(lambda f: f[3].update(size=True)), "not a whole number"),
    "manifest-size-a-text": (lambda: listing(lambda f: f[3].update(size="7")), "not a whole number"),
    "manifest-size-missing": (lambda: listing(lambda f: f[3].pop("size")), "size: is missing"),
    "manifest-sum-wrong": (lambda: listing(lambda f: f[3].update(sha256=EMPTY_SUM)), "its sum is another"),
    "manifest-sum-short": (lambda: listing(lambda f: f[3].update(sha256="abc")), "is no SHA-256 sum"),
    "manifest-sum-upper-case": (lambda: listing(lambda f: f[3].update(sha256=EMPTY_SUM.upper())), "is no SHA-256 sum"),
    "manifest-sum-missing": (lambda: listing(lambda f: f[3].pop("sha256")), "sha256: is missing"),
    "manifest-not-first": (lambda: raw_zip([*honest()[1:], honest()[0]]), "does not begin with manifest.json"),
    "manifest-missing": (lambda: raw_zip(honest()[1:]), "does not begin with manifest.json"),
    "order-differs": (reordered, "another order"),
    **{
        f"lacks-{name}": (
            lambda name=name: pack({key: data for key, data in contents().items() if key != name}), f"lacks {name}",  # type: ignore[misc]  # as above
        )
        for name in ("design.toml", "card.txt", "card.pdf")
    },
}  # fmt: skip


FACE = "<style>@font-face{font-family:'Slotwright Lettering';src:url(data:font/ttf;base64,AAEAAAAA)}</style>"


def drawn(svg: str) -> bytes:
    return pack(contents(drawings_bar_svg=f'<svg xmlns="http://www.w3.org/2000/svg">{svg}</svg>'.encode()))


def paged(objects: bytes) -> bytes:
    return pack(contents(card_pdf=PDF + objects))


def tabled(text: str) -> bytes:
    return pack(contents(drawings_bar_holes_csv=text.encode()))


ACTS, FORMULA, NOT_PRINT = "more than lines and letters", "takes for a formula", "does not print"
PAPERS: dict[str, Case] = {
    "svg-script": (lambda: drawn("<script>alert(1)</script>"), ACTS),
    "svg-script-in-a-namespace": (lambda: drawn('<x:script xmlns:x="http://www.w3.org/2000/svg"/>'), ACTS),
    "svg-handler": (lambda: drawn('<g onload="alert(1)"/>'), ACTS),
    "svg-handler-after-line-break": (lambda: drawn("<g\nonclick = 'alert(1)'/>"), ACTS),
    "svg-link": (lambda: drawn('<a href="javascript:alert(1)"><text>x</text></a>'), ACTS),
    "svg-link-on-known-element": (lambda: drawn('<g xlink:href="http://example.org/x"/>'), ACTS),
    "svg-picture-from-elsewhere": (lambda: drawn('<image href="http://example.org/x.png"/>'), ACTS),
    "svg-page-inside": (lambda: drawn("<foreignObject><iframe/></foreignObject>"), ACTS),
    "svg-animation": (lambda: drawn('<g><set attributeName="onload" to="x"/></g>'), ACTS),
    "svg-style-from-elsewhere": (lambda: drawn("<style>@import url(http://example.org/x.css);</style>"), ACTS),
    "svg-fill-from-elsewhere": (lambda: drawn('<path fill="url(http://example.org/#x)"/>'), ACTS),
    "svg-style-attribute": (lambda: drawn('<g style="background:red"/>'), ACTS),
    "svg-font-from-elsewhere": (lambda: drawn("<style>@font-face{src:url(http://example.org/x.ttf)}</style>"), ACTS),
    "svg-font-of-another-sort": (lambda: drawn(FACE.replace("AAEAAA", "d09GMg")), ACTS),
    "svg-font-and-more": (lambda: drawn(FACE.replace("}</", ";src:url(http://example.org/x.ttf)}</")), ACTS),
    "svg-two-fonts": (lambda: drawn(FACE + FACE), ACTS),
    "svg-page-for-a-font": (lambda: drawn(FACE.replace("font/ttf", "text/html")), ACTS),
    "svg-fill-from-data": (lambda: drawn('<path fill="url(data:font/ttf;base64,AAEAAAAA)"/>'), ACTS),
    "svg-entities": (
        lambda: pack(contents(drawings_bar_svg=b'<!DOCTYPE svg [<!ENTITY a "aaaa">]><svg />')), "is no SVG file",
    ),
    "svg-comment": (lambda: drawn("<!-- hidden -->"), ACTS),
    "svg-marked-section": (lambda: drawn("<![CDATA[<script>]]>"), ACTS),
    "svg-instruction": (lambda: drawn('<?xml-stylesheet href="x"?>'), ACTS),
    "svg-utf-16": (lambda: pack(contents(drawings_bar_svg="<svg />".encode("utf-16-le"))), "is no SVG file"),
    "svg-large": (lambda: drawn("<g></g>" * 1_150_000), "packed more than"),
    "pdf-script": (lambda: paged(b"<< /S /JavaScript /JS (app.alert(1)) >>"), "more than pages"),
    "pdf-script-spelled-out": (lambda: paged(b"<< /S /J#61va#53cript /JS (x) >>"), "more than pages"),
    "pdf-opens-something": (lambda: paged(b"<< /OpenAction 5 0 R >>"), "more than pages"),
    "pdf-starts-a-program": (lambda: paged(b"<< /S /Launch /F (calc.exe) >>"), "more than pages"),
    "pdf-files-inside": (lambda: paged(b"<< /EmbeddedFiles 5 0 R >>"), "more than pages"),
    "pdf-hidden-objects": (lambda: paged(b"<< /Type /ObjStm >>"), "more than pages"),
    "pdf-web-address": (lambda: paged(b"<< /S /URI /URI (http://example.org) >>"), "more than pages"),
    "pdf-locked": (lambda: paged(b"<< /Encrypt 5 0 R >>"), "more than pages"),
    "pdf-all-names-spelled-out": (lambda: paged(b"/#41#42" * 500), "spells its names"),
    "pdf-is-none": (lambda: pack(contents(card_pdf=b"MZ\x90\x00")), "is no PDF file"),
    "csv-formula": (lambda: tabled("tag\n=1+1\n"), FORMULA),
    "csv-command": (lambda: tabled("tag\n\"=cmd|' /C calc'!A0\"\n"), FORMULA),
    "csv-plus": (lambda: tabled("tag,x\nA1,+1+1\n"), FORMULA),
    "csv-minus": (lambda: tabled("tag\n-1+cmd\n"), FORMULA),
    "csv-at": (lambda: tabled("tag\n@SUM(A1)\n"), FORMULA),
    "csv-tab-before": (lambda: tabled("tag\n\t=1+1\n"), FORMULA),
    "csv-line-break-before": (lambda: tabled('tag\n"\n=1+1"\n'), FORMULA),
    "csv-full-width": (lambda: tabled("tag\n＝1+1\n"), FORMULA),
    "csv-open-quotes": (lambda: tabled('tag\n"A1\n'), "no sound CSV"),
    "csv-nul": (lambda: tabled("tag\n\0\n"), NOT_PRINT),
    "csv-escape": (lambda: tabled("tag\n\x1b[31m\n"), NOT_PRINT),
    "csv-long": (lambda: pack(contents(drawings_bar_holes_csv=moderate(600_000))), "more than 500000"),
    "csv-lists-all-together": (
        lambda: pack(contents() | {f"drawings/a{n}.csv": b"1,2,3,4,5\n" * 49_000 for n in range(9)}), "packed more than",
    ),
    "json-escape": (lambda: pack(contents(drawings_findings_json=b'{"a": "\x1b[31m"}')), NOT_PRINT),
    "card-escape": (lambda: pack(contents(card_txt=b"Test \x1b]52;c;bad\x07 bars\n")), NOT_PRINT),
    "card-bidi": (lambda: pack(contents(card_txt="Test \u202e bars\n".encode())), NOT_PRINT),
    "card-not-utf-8": (lambda: pack(contents(card_txt=b"Test \xff bars\n")), "is not UTF-8 text"),
    "card-long": (lambda: pack(contents(card_txt=moderate(300_000))), "more than 200000"),
    "dxf-is-none": (lambda: pack(contents(drawings_bar_dxf=b"AutoCAD Binary DXF\r\n\x1a\x00")), "is no DXF file"),
    "dxf-file-inside": (
        lambda: pack(contents(drawings_bar_dxf=b"  0\nSECTION\n  2\nENTITIES\n  0\nOLE2FRAME\n")), ACTS,
    ),
    "dxf-picture-from-elsewhere": (
        lambda: pack(contents(drawings_bar_dxf=b"  0\nSECTION\n  2\nOBJECTS\n  0\nIMAGEDEF\n  1\n\\\\server\\x.png\n")), ACTS,
    ),
    "step-is-none": (lambda: pack(contents(drawings_bar_step=b"#!/bin/sh\n")), "is no STEP file"),
}  # fmt: skip


ROW = """
[[fixture.work-hole]]
make = "tapped"
thread = "M8"
row = { first = "1 mm", pitch = "1 mm", number = 1000 }

"""


INSERT = """slotwright = 1
title = "Test bars"
rack = "none"
drawer = "none"

[[fixture]]
kind = "insert-plate"
name = "insert"
thickness = "16 mm"
cutter = "16 mm"
clearance = "0.1 mm"
outline = { shape = "dxf", dxf = "secret" }
tenon = { length = "80 mm", width = "20 mm", height = "12 mm" }
screws = { thread = "M8", number = 2, spacing = "40 mm" }
parent = { thickness = "40 mm" }
"""


def designed(text: str, **changed: object) -> bytes:
    return pack(contents(text), **changed)


def bar(old: str, new: str) -> str:
    assert DESIGN.count(old) == 1
    return DESIGN.replace(old, new)


TABLE = DESIGN[DESIGN.index("[table]") :]
DESIGNS: dict[str, Case] = {
    "design-names-a-table": (
        lambda: designed(bar(TABLE, "").replace('rack = "none"', 'rack = "none"\ntable = "mill"')),
        "is a name in the sender's parts/",
    ),
    "design-names-tables": (
        lambda: designed(bar(TABLE, "").replace('rack = "none"', 'rack = "none"\ntables = ["a", "b"]')),
        "is a name in the sender's parts/",
    ),
    "design-names-a-rack": (
        lambda: designed(bar('rack = "none"', 'rack = "rack"')),
        "is a name in the sender's parts/",
    ),
    "design-leaves-the-rack-open": (lambda: designed(bar('rack = "none"\n', "")), "is a name in the sender's parts/"),
    "design-leaves-the-drawer-open": (
        lambda: designed(bar('drawer = "none"\n', "")),
        "is a name in the sender's parts/",
    ),
    "design-table-leads-out": (
        lambda: designed(bar(TABLE, "").replace('rack = "none"', 'rack = "none"\ntable = "../../etc/passwd"')),
        "is no plain name",
    ),
    "design-names-an-outline": (lambda: designed(INSERT), "is a name in the sender's parts/"),
    "design-no-toml": (lambda: designed("hello"), "is not TOML"),
    "design-empty": (lambda: designed(""), "is missing"),
    "design-escape-in-a-comment": (lambda: designed("# \x1b[2J\n" + DESIGN), NOT_PRINT),
    "design-bidi-in-a-comment": (lambda: designed("# \u202e\n" + DESIGN), NOT_PRINT),
    "design-nul": (lambda: designed(DESIGN + "\0"), NOT_PRINT),
    "design-not-utf-8": (lambda: pack(contents(design_toml=b"title = '\xff'")), "is not UTF-8"),
    "design-byte-order-mark": (lambda: designed("\ufeff" + DESIGN), NOT_PRINT),
    "design-newer": (lambda: designed(bar("slotwright = 1", "slotwright = 99")), "newer than this program knows"),
    "design-unknown-kind": (lambda: designed(bar('"hold-down-bar"', '"death-ray"')), "is no kind we can make"),
    "design-many-holes": (
        lambda: designed(bar('at = ["30 mm"]', 'row = { first = "1 mm", pitch = "1 mm", number = 1000000000 }')),
        "outside its range",
    ),
    "design-many-rows": (lambda: designed(bar(TABLE, "") + ROW * 150 + TABLE), "asks for 150001 holes"),
    "design-too-long": (lambda: pack(contents(design_toml=moderate(300_000))), "larger than 256000"),
    "design-million-keys": (lambda: designed("".join(f"{n:x}=1\n" for n in range(30_000))), "is no key here"),
    "design-deep": (lambda: designed("a = " + "[" * 10_000), "nested deeper"),
    "design-key-of-many-parts": (
        lambda: designed(".".join(random.Random(4).choices("abcdefgh", k=100_000)) + " = 1"),
        "more than 16 parts",
    ),
    "design-cannot-be-solved": (lambda: designed(bar('"300 mm"', '"12 mm"')), "does not reach slot"),
}

CASES: dict[str, Case] = {
    **NO_ZIP, **TRUNCATED, **SPLICED, **ZIP64, **METHODS, **TYPES, **NAMES, **BOMBS, **MANIFESTS, **PAPERS, **DESIGNS,
}  # fmt: skip


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workspace, with a folder around it that nothing may reach."""
    around = tmp_path_factory.mktemp("around")
    lay_out(around / "shop")
    (around / "evil.svg").write_bytes(b"mine")
    return around / "shop"


@pytest.mark.parametrize("case", CASES)
def test_hostile_pack(case: str, shop: Path) -> None:
    build, words = CASES[case]
    file = shop.parent / "pack.zip"
    file.write_bytes(build())
    before = tree(shop.parent)
    refused(lambda: unpack(look_at(file, "pack.zip"), shop), words)
    assert tree(shop.parent) == before


def test_sound_pack_by_another_hand_is_received(shop: Path, tmp_path: Path) -> None:
    """What the cases above change is sound before they change it."""
    (tmp_path / "sound.zip").write_bytes(SOUND)
    received = look_at(tmp_path / "sound.zip", "sound.zip")
    assert received.files == with_manifest(contents())
    assert "content id 0123456789" in received.notes[0], "the id that was made up is noticed"
    lay_out(tmp_path / "shop")
    unpacked = unpack(received, tmp_path / "shop")
    assert unpacked.design.read_text() == DESIGN
    assert {name: data for name, data in tree(unpacked.folder).items() if data is not None} == received.files


def test_there_are_enough_cases() -> None:
    assert len(CASES) >= 150


def sparse(file: Path) -> None:
    with file.open("wb") as stream:
        stream.truncate(50_000_000_000)


FILES: dict[str, tuple[Callable[[Path], object], str]] = {
    "fifty-gigabytes": (sparse, "is larger than 16000000 bytes"),
    "folder": (lambda file: file.mkdir(), "is a folder, not a file"),
    "pipe": (lambda file: os.mkfifo(file), "is no plain file"),
    "link-to-endless-zeros": (lambda file: file.symlink_to("/dev/zero"), "is no plain file"),
    "link-to-itself": (lambda file: file.symlink_to(file), "cannot be read"),
    "not-there": (lambda file: None, "is not there"),
}


@pytest.mark.skipif(os.name != "posix", reason="pipes, links and devices are POSIX")
@pytest.mark.parametrize("case", FILES)
def test_what_is_no_plain_file(case: str, tmp_path: Path) -> None:
    make, words = FILES[case]
    file = tmp_path / "pack.zip"
    make(file)
    refused(lambda: look_at(file, "pack.zip"), words)


@pytest.mark.parametrize("name", ["a" * 10_000, "nul\0name", "\ud800"], ids=["long", "nul", "surrogate"])
def test_a_file_name_no_system_takes(name: str) -> None:
    refused(lambda: look_at(Path(name), "pack.zip"), "pack.zip: ")
