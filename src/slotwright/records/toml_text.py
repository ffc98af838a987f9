"""Data back to TOML text: plain keys first, then sub-tables, as a person would write the file.

A blank line stands between keys: a plain three-way merge takes edits on neighbouring lines for one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from slotwright.records.starter import written

LONGEST = 100
"""A sub-table inside another one stands on its key's own line when that is no longer; our choice."""


def toml_text(data: Mapping[str, Any]) -> str:
    """Return the text of a TOML file that reads back as the data: texts, numbers, true or false, lists and tables."""
    return "\n".join(_lines(data, "")).strip("\n") + "\n"


def _lines(data: Mapping[str, Any], prefix: str) -> Iterator[str]:
    later = {key: value for key, value in data.items() if _is_section(key, value, prefix)}
    for number, key in enumerate(key for key in data if key not in later):
        if number:
            yield ""
        yield f"{key} = {written(data[key])}"
    for key, value in later.items():
        path = f"{prefix}{key}"
        heads = [(f"[{path}]", value)] if isinstance(value, Mapping) else [(f"[[{path}]]", item) for item in value]
        for head, item in heads:
            yield ""
            yield head
            yield from _lines(item, f"{path}.")


def _is_section(key: str, value: Any, prefix: str) -> bool:
    if isinstance(value, Mapping):
        plain = not any(isinstance(item, Mapping) for item in value.values())
        return not (prefix and plain and len(f"{key} = {written(value)}") <= LONGEST)
    return isinstance(value, list) and bool(value) and all(isinstance(item, Mapping) for item in value)
