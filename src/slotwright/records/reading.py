"""Reading records from TOML: every error names the file, the key, the value, the rule and the remedy."""

from __future__ import annotations

import os
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from functools import cache
from pathlib import Path
from stat import S_ISREG
from typing import Any, TypeVar

from slotwright.errors import DesignError, SizeError, UnknownKindError, printing
from slotwright.records.nearest import nearest
from slotwright.records.parameters import (
    MOST_TEXT,
    READERS,
    Parameter,
    ParameterError,
    Record,
    Sort,
    key_of,
    parameters,
    told_first,
)
from slotwright.records.toml_bounds import too_much
from slotwright.sizes import shown

R = TypeVar("R", bound=Record)
MOST_BYTES = 256_000
_NAME = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*", re.ASCII)
# Names that some systems keep for devices, with or without an ending.
RESERVED = {"con", "prn", "aux", "nul", *(f"com{n}" for n in range(10)), *(f"lpt{n}" for n in range(10))}


@dataclass(frozen=True, slots=True)
class Where:
    """A place in a file.

    Attributes:
        file: as the user named it.
        key: dotted path, list places counted from 1; "" for the whole file.
        unit: the unit defaults are taken in, "mm" or "in".
        more_kinds: kinds that are known in this reading beside those always known, each with its record.
    """

    file: str
    key: str = ""
    unit: str = "mm"
    more_kinds: tuple[tuple[str, type[Record]], ...] = ()

    def at(self, key: str) -> Where:
        """Go one key deeper."""
        return replace(self, key=f"{self.key}.{key}" if self.key else key)

    def item(self, number: int) -> Where:
        """Go to a list's item, counted from 1."""
        return replace(self, key=f"{self.key}[{number}]")

    def error(self, problem: str, remedy: str) -> DesignError:
        """Make the error for this place."""
        return DesignError(self.file, self.key, problem, remedy)


def load(path: Path, shown_as: str | None = None) -> dict[str, Any]:
    """Read a TOML file. Errors: DesignError when it is missing, too large, no text, or no TOML."""
    where = Where(shown_as or str(path))
    return parsed(file_bytes(path, where, MOST_BYTES, "a design file is a few kilobytes; split it"), where)


def file_bytes(path: Path, where: Where, most: int, remedy: str) -> bytes:
    """Read a plain file of at most so many bytes. Errors: DesignError; the remedy is for one too large."""
    try:
        with open(path, "rb", opener=_at_once) as stream:  # a path's own open takes no opener
            plain = S_ISREG(os.fstat(stream.fileno()).st_mode)
            data = stream.read(most + 1) if plain else b""
    except FileNotFoundError:
        raise where.error("is not there", "check the name, or list what there is") from None
    except IsADirectoryError:
        raise where.error("is a folder, not a file", "name the file itself") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "the name is not usable"
        raise where.error(f"cannot be read ({reason})", "check the file and its permissions") from None
    if not plain:
        raise where.error("is no plain file", "name a file on a disk")
    if len(data) > most:
        raise where.error(f"is larger than {most} bytes", remedy)
    return data


def _at_once(name: str, flags: int) -> int:
    """Open without waiting: a pipe that nobody writes to must not hold us up."""
    return os.open(name, flags | getattr(os, "O_NONBLOCK", 0))


def parsed(data: bytes, where: Where) -> dict[str, Any]:
    """Read TOML text. Errors: DesignError."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        if data.startswith(b"PK"):
            raise where.error("is a zip file", "if it is a pack, `slotwright receive` unpacks it") from None
        raise where.error("is not UTF-8 text", "save it as UTF-8") from None
    problem = too_much(text)
    if problem is not None:
        raise where.error(problem, "flatten it")
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        message = shown_message(str(error))
        raise where.error(f"is not TOML: {message}", _toml_remedy(message)) from None
    except ValueError:
        raise where.error("holds a number no one can mean", "give a value in its range") from None


def _toml_remedy(message: str) -> str:
    """Say what is most likely wrong, by the parser's own words; where they are new to us, the commonest slip."""
    if "overwrite" in message or "twice" in message or "Cannot declare" in message:
        return "give each key and each section once; a further fixture begins with [[fixture]]"
    if "Unclosed array" in message or "Unclosed inline table" in message:
        return "put commas between the values, and close the bracket"
    if "Illegal character '\\n'" in message or "Unterminated string" in message:
        return "close the quotes on that line"
    return 'sizes stand in quotes, like "12.7 mm"'


def shown_message(message: str) -> str:
    """Make a parser's message printable and short."""
    return printing(message[:160])


def read(cls: type[R], data: Mapping[str, Any], where: Where) -> R:
    """Read one record; defaults fill what is not given, by the record's own unit where it says one.

    Errors: DesignError.
    """
    known = parameters(cls)
    if "unit" in known and data.get("unit") in ("mm", "in"):
        where = replace(where, unit=data["unit"])
    for key in data:
        if key not in known:
            raise where.at(shown(key)).error("is no key here", _nearest(key, known))
    values = {}
    for field in fields(cls):
        key = key_of(field.name)
        values[field.name] = _value(known[key], data, key, where)
    try:
        with told_first(where.unit):
            return cls(**values)
    except ParameterError as error:
        raise where.at(error.key).error(error.problem, error.remedy) from None


@cache
def defaults(cls: type[Record], unit: str) -> Mapping[str, Any]:
    """Return what a record holds where its file says nothing, by key, in a file of this unit."""
    where = Where("", "", unit)
    return {key: _value(known, {}, key, where) for key, known in parameters(cls).items() if not known.required}


def _nearest(key: str, known: Mapping[str, Parameter]) -> str:
    close = nearest(key, known)
    if close:
        return f"did you mean {close}?"
    return f"valid keys are: {', '.join(known)}"


def _value(parameter: Parameter, data: Mapping[str, Any], key: str, where: Where) -> Any:
    here = where.at(key)
    if key not in data:
        if parameter.required:
            raise here.error(f"is missing ({parameter.doc})", f"add {key} = {_example(parameter, where.unit)}")
        default = parameter.default_for(where.unit)
        if default is None:
            return () if parameter.many else None
        return _many(parameter, default, here) if parameter.many else _single(parameter, default, here)
    value = data[key]
    return _many(parameter, value, here) if parameter.many else _single(parameter, value, here)


def _example(parameter: Parameter, unit: str) -> str:
    from slotwright.records.starter import written

    example = parameter.example_for(unit)
    if example is None:
        example = parameter.default_for(unit)
    if example is None and parameter.choices:
        example = parameter.choices[0]
    return "..." if example is None else written(example)


def _many(parameter: Parameter, value: Any, here: Where) -> tuple[Any, ...]:
    if not isinstance(value, list | tuple):
        remedy = "put the values in square brackets"
        if parameter.sort in (Sort.RECORD, Sort.VARIANT):
            remedy = f"begin each one with [[{_without_places(here.key)}]], in double brackets"
        raise here.error(f"is {_kind(value)}, not a list", remedy)
    if len(value) > parameter.most:
        raise here.error(f"has {len(value)} items, more than {parameter.most}", "give fewer")
    return tuple(_single(parameter, item, here.item(number)) for number, item in enumerate(value, 1))


def _without_places(key: str) -> str:
    """A key as a section's heading has it."""
    return re.sub(r"\[[0-9]+\]", "", key)


def _single(parameter: Parameter, value: Any, here: Where) -> Any:
    sort = parameter.sort
    if sort in (Sort.RECORD, Sort.VARIANT):
        return _sub_record(parameter, value, here)
    if sort is Sort.FLAG:
        if not isinstance(value, bool):
            raise here.error(f"is {_kind(value)}, not true or false", "write true or false, without quotes")
        return value
    if sort is Sort.COUNT:
        if isinstance(value, bool) or not isinstance(value, int):
            raise here.error(f"is {_kind(value)}, not a whole number", "write a whole number, without quotes")
        if abs(value) > 10**9:
            raise here.error("is a number beyond all counting", "give a value in its range")
        return value
    if not isinstance(value, str):
        if sort in READERS and not isinstance(value, bool) and isinstance(value, int | float):
            unit = "in" if here.unit == "in" else "mm"
            raise here.error(
                f"{_plain(value, 'this')} is a bare number, without unit",
                f'write it like "{_plain(value, "12.7")} {unit}"',
            )
        raise here.error(f"is {_kind(value)}, not a text", "put the value in quotes")
    return _from_text(parameter, value, here)


def _plain(value: float, otherwise: str) -> str:
    return f"{value:g}" if abs(value) < 1e6 else otherwise


def _from_text(parameter: Parameter, value: str, here: Where) -> Any:
    sort = parameter.sort
    if sort is Sort.CHOICE:
        if value not in parameter.choices:
            raise here.error(
                f"{shown(value)!r} is no choice ({parameter.doc})", f"use one of: {', '.join(parameter.choices)}"
            )
        return value
    if sort is Sort.NAME:
        return plain_name(value, here)
    if sort is Sort.TEXT:
        if len(value) > MOST_TEXT:
            raise here.error(f"is longer than {MOST_TEXT} characters", "shorten it")
        if not value.isprintable():
            raise here.error(f"{shown(value)!r} holds characters that do not print", "use plain text on one line")
        return value
    try:
        return READERS[sort](value)
    except SizeError as error:
        raise here.error(f"{error.text!r} {error.problem}", error.remedy) from None


def plain_name(value: str, here: Where) -> str:
    """Check a short name that may become a file's name on any system. Errors: DesignError."""
    if len(value) > 60 or not _NAME.fullmatch(value):
        raise here.error(
            f"{shown(value)!r} is no plain name", "use up to 60 of a to z, 0 to 9, with single hyphens between"
        )
    if value in RESERVED:
        raise here.error(f"{value!r} is a name some systems keep for a device", "choose another name")
    return value


def _sub_record(parameter: Parameter, value: Any, here: Where) -> Any:
    if parameter.or_name and isinstance(value, str):
        return plain_name(value, here)
    if not isinstance(value, Mapping):
        wanted = "a name in parts/ or a table of keys" if parameter.or_name else "a table of keys"
        raise here.error(f"is {_kind(value)}, not {wanted}", f"see `slotwright new` for how {here.key} is written")
    if parameter.sort is Sort.RECORD:
        assert parameter.record is not None  # noqa: S101  a record parameter always names its class
        return read(parameter.record, value, here)
    assert parameter.variants is not None  # noqa: S101  likewise
    always, more = parameter.variants(), dict(here.more_kinds)
    kind = value.get("kind")
    if kind is None:
        raise here.error("has no kind", f"add kind = one of: {', '.join((*always, *more))}")
    record = (more.get(kind) or always.get(kind)) if isinstance(kind, str) else None
    if record is None:
        kinds = (*always, *more)
        close = nearest(str(kind), kinds)
        remedy = f"did you mean {close}?" if close else f"use one of: {', '.join(kinds)}"
        problem = f"{shown(str(kind)[:80])!r} is no kind we can make"
        raise UnknownKindError(here.file, here.at("kind").key, problem, remedy)
    return read(record, {key: item for key, item in value.items() if key != "kind"}, here)


def _kind(value: Any) -> str:
    names = {
        bool: "true or false",
        int: "a number",
        float: "a number",
        str: "a text",
        list: "a list",
        dict: "a table of keys",
    }
    return names.get(type(value), "a date or time")
