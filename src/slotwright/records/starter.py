"""Starter files: every parameter stands there with its meaning, unit, range and default."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from slotwright.records.parameters import BASE, Parameter, Record, Sort, parameters


def written(value: Any) -> str:
    """Write a plain value as TOML."""
    match value:
        case bool():
            return "true" if value else "false"
        case int() | float():
            return str(value)
        case str():
            return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
        case dict():
            return "{ " + ", ".join(f"{key} = {written(item)}" for key, item in value.items()) + " }"
        case _:
            return "[" + ", ".join(written(item) for item in value) + "]"


def lines(record: type[Record], unit: str, prefix: str = "") -> Iterator[str]:
    """Yield the starter lines of a record; sub-tables come after the plain keys, as TOML wants it."""
    later: list[tuple[str, Parameter]] = []
    for key, parameter in parameters(record).items():
        if (
            parameter.sort in (Sort.RECORD, Sort.VARIANT)
            and parameter.example_for(unit) in (None, True)
            and not parameter.or_name
        ):
            later.append((key, parameter))
            continue
        yield from _key_lines(key, parameter, unit)
    for key, parameter in later:
        if parameter.record is None:
            continue
        yield ""
        yield f"# {parameter.doc}"
        opening, closing = ("[[", "]]") if parameter.many else ("[", "]")
        off = "" if parameter.required or parameter.example_for(unit) is True else "#"
        yield f"{off}{opening}{prefix}{key}{closing}"
        for line in lines(parameter.record, unit, f"{prefix}{key}."):
            yield f"{off}{line}" if line and not line.startswith("#") else line


def _key_lines(key: str, parameter: Parameter, unit: str) -> Iterator[str]:
    yield f"# {describe(parameter, unit)}"
    example = parameter.example_for(unit)
    if example is not None:
        yield f"{key} = {written(example)}"
        return
    default = parameter.default_for(unit)
    shown = default if default is not None else (parameter.choices[0] if parameter.choices else _blank(parameter, unit))
    yield f"#{key} = {written(shown)}"


def describe(parameter: Parameter, unit: str) -> str:
    """Say meaning, range or choices, and default in one line."""
    words = [parameter.doc]
    if parameter.choices:
        words.append("one of: " + ", ".join(parameter.choices))
    elif parameter.sort in BASE:
        words.append(parameter.range_text(unit))
    default = parameter.default_for(unit)
    if parameter.required:
        words.append("needed")
    elif default is not None:
        words.append(f"default {written(default)}")
    return "; ".join(word for word in words if word)


def _blank(parameter: Parameter, unit: str) -> Any:
    blanks: dict[Sort, Any] = {
        Sort.LENGTH: "4 in" if unit == "in" else "100 mm",
        Sort.SLOT_WIDTH: "5/8 in" if unit == "in" else "14 mm",
        Sort.ANGLE: "45 deg",
        Sort.MASS: "84 lb" if unit == "in" else "38 kg",
        Sort.FORCE: "100 lbf" if unit == "in" else "500 N",
        Sort.TEMPERATURE: "140 degF" if unit == "in" else "60 degC",
        Sort.COUNT: 1,
        Sort.FLAG: False,
        Sort.THREAD: "1/2-13 UNC" if unit == "in" else "M12",
        Sort.FIT: "10 H7",
        Sort.RECORD: "a-name-in-parts",
    }
    value = blanks.get(parameter.sort, "...")
    return [value] if parameter.many else value
