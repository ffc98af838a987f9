"""Changing values in TOML text while everything else, comments too, stays as it stands.

Only plain ways of writing are followed: `key = value` and sections. The edited text is read back; where it does not say
what it should, such as with a table written on one line across other keys, the file is written anew without comments.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from slotwright.records.starter import written
from slotwright.records.toml_text import toml_text

Path = tuple[str | int, ...]
_GONE = object()
_TOKEN = re.compile(
    r'"""(?:\\.|[^\\])*?"{3,5}|\'\'\'.*?\'{3,5}|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'|#[^\n]*|[\[\]{}\n=]|[^"\'#\[\]{}\n=]+',
    re.DOTALL,
)
_HEAD = re.compile(r"\s*\[(\[?)(.*?)\]\]?\s*(?:#.*)?", re.DOTALL)


@dataclass(frozen=True, slots=True)
class _Span:
    """One statement: a section's head, or a key with its value from `value` to `end`; `stop` is behind its line."""

    path: Path
    start: int
    stop: int
    value: int = 0
    end: int = 0

    @property
    def is_head(self) -> bool:
        return self.end == 0


@dataclass(slots=True)
class _Arrays:
    """How many items each array of tables has so far."""

    counts: dict[Path, int] = field(default_factory=dict)

    def path(self, keys: tuple[str, ...], *, item: bool) -> Path:
        """Return a section's place; each array it goes through stands at its last item."""
        found: Path = ()
        for number, key in enumerate(keys, 1):
            found += (key,)
            if item and number == len(keys):
                self.counts[found] = self.counts.get(found, 0) + 1
            if found in self.counts:
                found += (self.counts[found] - 1,)
        return found


def rewritten(text: str, wanted: Mapping[str, Any]) -> tuple[str, bool]:
    """Return TOML text that reads as wanted, and whether the text's own wording and comments were kept.

    Args:
        text: sound TOML.
        wanted: what it shall say; a key that is left out is commented out.
    """
    edited = text
    for path, value in _changes(tomllib.loads(text), wanted, ()):
        step = _edited(edited, path, value, wanted)
        if step is None:
            return toml_text(wanted), False
        edited = step
    try:
        kept = tomllib.loads(edited) == wanted
    except tomllib.TOMLDecodeError:
        kept = False
    return (edited, True) if kept else (toml_text(wanted), False)


def _changes(before: Any, after: Any, path: Path) -> Iterator[tuple[Path, Any]]:
    """Yield the smallest places that differ, with what shall stand there."""
    if isinstance(before, Mapping) and isinstance(after, Mapping):
        for key in before:
            yield from _changes(before[key], after.get(key, _GONE), (*path, key))
        yield from (((*path, key), after[key]) for key in after if key not in before)
    elif _items(before) and _items(after) and len(before) == len(after):
        for number, (old, new) in enumerate(zip(before, after, strict=True)):
            yield from _changes(old, new, (*path, number))
    elif type(before) is not type(after) or before != after:
        yield path, after


def _items(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(item, Mapping) for item in value)


def _edited(text: str, path: Path, value: Any, wanted: Mapping[str, Any]) -> str | None:
    """Make one change; None when the text has no plain place for it."""
    spans = list(_spans(text))
    for span in spans:
        if not span.is_head and span.path == path:
            return _commented(text, span) if value is _GONE else _valued(text, span, value)
    for span in spans:
        if not span.is_head and span.path == path[: len(span.path)]:
            return _valued(text, span, _at(wanted, span.path))
    if any(span.is_head and span.path[: len(path)] == path for span in spans):
        text = _without_sections(text, spans, path)
        spans = list(_spans(text))
    return text if value is _GONE else _added(text, spans, path, value)


def _at(data: Any, path: Path) -> Any:
    for key in path:
        data = data[key]
    return data


def _valued(text: str, span: _Span, value: Any) -> str:
    return text[: span.value] + written(value) + text[span.end :]


def _commented(text: str, span: _Span) -> str:
    lines = text[span.start : span.stop].splitlines(keepends=True)
    return text[: span.start] + "".join(f"#{line}" for line in lines) + text[span.stop :]


def _without_sections(text: str, spans: list[_Span], path: Path) -> str:
    """Take out every section at or below a place, with its keys."""
    inside = [span for span in spans if span.path[: len(path)] == path]
    for head in reversed([span for span in inside if span.is_head]):
        end = max(span.stop for span in _section(spans, head))
        before, behind = text[: head.start], text[end:]
        text = before + (behind.removeprefix("\n") if before.endswith("\n\n") else behind)
    return text


def _section(spans: list[_Span], head: _Span) -> Iterator[_Span]:
    """Yield a head and the keys under it."""
    yield head
    for span in spans[spans.index(head) + 1 :]:
        if span.is_head:
            return
        yield span


def _added(text: str, spans: list[_Span], path: Path, value: Any) -> str | None:
    """Put a new key behind the last one of its section, a blank line between, so that plain merges keep them apart."""
    above = path[:-1]
    head = next((span for span in spans if span.is_head and span.path == above), None)
    last: _Span | None
    if above and head is None:
        return None
    if head is not None:
        last = list(_section(spans, head))[-1]
    else:
        first_head = next((number for number, span in enumerate(spans) if span.is_head), len(spans))
        last = spans[first_head - 1] if first_head else None
    stop = last.stop if last else 0
    ahead = "" if not stop or text[stop - 1] == "\n" else "\n"
    if last and not last.is_head:
        ahead += "\n"
    return f"{text[:stop]}{ahead}{path[-1]} = {written(value)}\n{text[stop:]}"


# Where things stand


def _spans(text: str) -> Iterator[_Span]:
    """Yield every statement of sound TOML text in order."""
    arrays = _Arrays()
    section: Path = ()
    for start, equals, end, stop in _statements(text):
        if equals is None:
            found = _HEAD.fullmatch(text, start, end)
            if found is not None:
                section = arrays.path(_keys(found[2]), item=bool(found[1]))
                yield _Span(section, start, stop)
        else:
            value = equals + 1 + len(text[equals + 1 : end]) - len(text[equals + 1 : end].lstrip())
            yield _Span((*section, *_keys(text[start:equals])), start, stop, value, end)


def _keys(written_key: str) -> tuple[str, ...]:
    """Read a bare, quoted or dotted key."""
    data: Any = tomllib.loads(f"{written_key.strip()} = 0")
    found: list[str] = []
    while isinstance(data, dict):
        ((key, data),) = data.items()
        found.append(key)
    return tuple(found)


def _statements(text: str) -> Iterator[tuple[int, int | None, int, int]]:
    """Yield each statement's start, its equals sign, the end of what it says and the start of the next line."""
    start, depth, equals, end = 0, 0, None, 0
    for token in _TOKEN.finditer(text):
        sign = token[0]
        if sign == "\n" and depth == 0:
            if end > start:
                yield start, equals, end, token.end()
            start, equals, end = token.end(), None, token.end()
            continue
        depth += (sign in "[{") - (sign in "]}")
        if sign == "=" and depth == 0 and equals is None:
            equals = token.start()
        if not sign.startswith("#") and sign.strip():
            end = token.start() + len(sign.rstrip())
    if end > start:
        yield start, equals, end, len(text)
