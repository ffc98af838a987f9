"""A word of progress on a terminal, silence in a pipe."""

from __future__ import annotations

import sys
from types import TracebackType
from typing import TextIO


class Progress:
    """One line on a terminal that tells what is being done, wiped when it is over.

    Args:
        title: what the work is about.
        stream: where to tell; nothing is told when it is no terminal.
    """

    def __init__(self, title: str, stream: TextIO = sys.stderr) -> None:
        self._title = title
        self._stream = stream
        self._shows = stream.isatty()

    def __enter__(self) -> Progress:
        """Start the line."""
        return self

    def __call__(self, step: str) -> None:
        """Tell the step that begins now."""
        if self._shows:
            self._stream.write(f"\r\x1b[K{self._title}: {step} ...")
            self._stream.flush()

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Wipe the line."""
        if self._shows:
            self._stream.write("\r\x1b[K")
            self._stream.flush()
