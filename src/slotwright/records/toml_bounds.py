"""Bounds on TOML text before it is parsed.

The parser's time and memory grow with the square of a dotted key's parts, and its stack with the depth of brackets.
One pass over the text's signs, strings and comments left out, refuses what no person writes.
"""

from __future__ import annotations

import re

MOST_DEPTH = 16
MOST_PARTS = 16
_OUTSIDE = re.compile(r'"""|\'\'\'|["\'#\n.=,\[\]{}]')
_END_OF = {
    '"': re.compile(r'\\.|["\n]', re.DOTALL),
    '"""': re.compile(r'\\.|"{3,5}', re.DOTALL),  # up to two quotes may stand right before the closing three
    "'": re.compile(r"['\n]"),
    "'''": re.compile(r"'{3,5}"),
    "#": re.compile(r"\n"),
}


def too_much(text: str) -> str | None:
    """Say what is beyond all measure in a TOML text, or None when nothing is.

    A broken text may pass; the parser then says what is broken.
    """
    at = depth = parts = 0
    while found := _OUTSIDE.search(text, at):
        sign, at = found[0], found.end()
        if sign in _END_OF:
            at = _after(text, at, sign)
        elif sign == ".":
            parts += 1
        else:
            parts = 0
            depth += (sign in "[{") - (sign in "]}")
        if parts >= MOST_PARTS:
            return f"has a key of more than {MOST_PARTS} parts"
        if depth > MOST_DEPTH:
            return f"is nested deeper than {MOST_DEPTH} levels"
    return None


def _after(text: str, at: int, quotes: str) -> int:
    """Return where a string or comment that begins before `at` is over."""
    end = _END_OF[quotes]
    while found := end.search(text, at):
        at = found.end()
        if not found[0].startswith("\\"):
            return at - (quotes == "#")  # the line's end counts for what stands around it
    return len(text)
