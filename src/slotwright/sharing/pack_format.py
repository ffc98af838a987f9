"""The pack's format: which files a pack may hold, its manifest, and which versions of it we read.

A page for people, with every rule, is shared/FORMAT.md.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from slotwright.records import parameters as p
from slotwright.records.reading import RESERVED, Where, read
from slotwright.sizes import shown

MAJOR, MINOR = 1, 0
VERSION = f"{MAJOR}.{MINOR}"
MANIFEST = "manifest.json"
DESIGN = "design.toml"
CARD_TEXT, CARD_SHEET = "card.txt", "card.pdf"
PAPERS = "drawings/"
NEEDED = (DESIGN, CARD_TEXT, CARD_SHEET)
MOST_FILES = 400
LONGEST_NAME = 120

_ROOT = {MANIFEST, *NEEDED}
_PAPER = re.compile(r"drawings/([a-z0-9]+(?:-[a-z0-9]+)*)\.(?:step|dxf|pdf|svg|csv|json)", re.ASCII)
_VERSION = re.compile(r"(0|[1-9][0-9]{0,3})\.(0|[1-9][0-9]{0,3})", re.ASCII)
_SUM = re.compile(r"[0-9a-f]{64}", re.ASCII)
_ID = re.compile(r"[0-9a-f]{10}", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class PackedFile(p.Record):
    """One file of a pack."""

    name: str = p.text("its name in the pack, such as drawings/bar.dxf", required=True)
    size: int = p.count("its length in bytes", low=0, high=100_000_000, required=True)
    sha256: str = p.text("its SHA-256 sum, 64 hexadecimal digits in lower case", required=True)

    def check(self) -> None:
        """A name a pack may hold, and a sum of the right form."""
        problem = name_problem(self.name)
        if problem is not None:
            raise p.ParameterError("name", problem, "ask for a pack made by `slotwright pack`")
        if not _SUM.fullmatch(self.sha256):
            raise p.ParameterError("sha256", f"{shown(self.sha256)!r} is no SHA-256 sum", "give 64 hexadecimal digits")


@dataclass(frozen=True, slots=True, kw_only=True)
class Manifest(p.Record):
    """What a pack says of itself, in manifest.json."""

    format: str = p.text("version of the pack format, MAJOR.MINOR", required=True, example=VERSION)
    program: str = p.text("version of the program that made the pack", required=True)
    name: str = p.name("name of the design; the receiver's files are named by it", required=True)
    title: str = p.text("what the set-up is for", required=True)
    content_id: str = p.text("content id of the design, ten hexadecimal digits", required=True)
    author: str | None = p.text("author, as the sender gives it")
    licence: str | None = p.text("licence, as the sender gives it")
    files: tuple[PackedFile, ...] = p.record(
        "every other file of the pack, in the pack's order", PackedFile, many=True, most=MOST_FILES, required=True
    )

    def check(self) -> None:
        """Each file once, and those that a pack cannot be without."""
        if not _ID.fullmatch(self.content_id):
            raise p.ParameterError("content-id", f"{shown(self.content_id)!r} is no content id", "pack it again")
        names = [file.name for file in self.files]
        for number, name in enumerate(names, 1):
            if name == MANIFEST or name in names[: number - 1]:
                raise p.ParameterError(f"files[{number}].name", f"{name!r} may not be listed here", "list it once")
        for name in NEEDED:
            if name not in names:
                raise p.ParameterError("files", f"lacks {name}", "ask for a whole pack")


def name_problem(name: str) -> str | None:
    """Say why a file of this name may not stand in a pack, or None when it may.

    Lower case, digits and single hyphens, one known ending and no folder but drawings/: so no name leads out of a
    folder, collides with another where case is ignored, or means a device anywhere.
    """
    if name in _ROOT:
        return None
    match = _PAPER.fullmatch(name) if len(name) <= LONGEST_NAME else None
    if match is None:
        return f"{shown(name)!r} is no name for a file in a pack"
    return f"{name!r} is a name some systems keep for a device" if match[1] in RESERVED else None


def manifest_bytes(manifest: Manifest) -> bytes:
    """Write a manifest as JSON."""
    return (json.dumps(_plain(manifest), indent=2, ensure_ascii=False) + "\n").encode()


def _plain(record: p.Record) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, _, value in p.entries(record):
        if isinstance(value, tuple):
            found[key] = [_plain(item) for item in value]
        elif value is not None:
            found[key] = value
    return found


def packed_file(name: str, data: bytes) -> PackedFile:
    """Describe one file."""
    return PackedFile(name=name, size=len(data), sha256=sha256(data).hexdigest())


def read_manifest(data: bytes, shown_as: str) -> tuple[Manifest, tuple[str, ...]]:
    """Read a manifest; also return notes for the user, such as that a newer program made it.

    Errors: DesignError.
    """
    where = Where(shown_as, MANIFEST)
    document = json_object(data, where)
    notes = _understood(document, where)
    if notes:
        document = _known(document)
    return read(Manifest, document, where), notes


def json_object(data: bytes, where: Where) -> dict[str, Any]:
    """Read a JSON object; a key that stands twice, NaN or infinity are refused. Errors: DesignError."""
    try:
        found = json.loads(data.decode("utf-8"), object_pairs_hook=_once, parse_constant=_no_constant)
    except (UnicodeDecodeError, ValueError, RecursionError):
        raise where.error("is no sound JSON text", "ask for the pack again") from None
    if not isinstance(found, dict):
        raise where.error("is no JSON object", "ask for the pack again")
    return found


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        raise ValueError("a key stands twice")
    return found


def _no_constant(word: str) -> Any:
    raise ValueError(word)


def _understood(document: Mapping[str, Any], where: Where) -> tuple[str, ...]:
    """Judge the version before anything else is read: a newer major one is refused, a newer minor one noted."""
    given = document.get("format")
    match = _VERSION.fullmatch(given) if isinstance(given, str) else None
    if match is None:
        raise where.at("format").error("says no version that we know", f'a pack says "format": "{VERSION}"')
    major, minor = int(match[1]), int(match[2])
    if major > MAJOR:
        raise where.at("format").error(
            f"{given} is newer than this program can read ({VERSION})", "bring the program up to date"
        )
    if major < MAJOR:
        raise where.at("format").error(f"{given} was never in use", "ask for a pack made by `slotwright pack`")
    if minor > MINOR:
        return (f"pack format {given} is newer than this program's {VERSION}; what it does not know is left out",)
    return ()


def _known(document: Mapping[str, Any]) -> dict[str, Any]:
    """Leave out what a newer minor version has added to the manifest and to its files' entries."""
    found = {key: value for key, value in document.items() if key in p.parameters(Manifest)}
    files = found.get("files")
    if isinstance(files, list):
        known = p.parameters(PackedFile)
        found["files"] = [
            {key: value for key, value in file.items() if key in known} if isinstance(file, dict) else file
            for file in files
        ]
    return found
