"""What every hostile file is held to: one clear line, one second, 200 MB, and nothing changed on the disk."""

from __future__ import annotations

import time
import tracemalloc
from collections.abc import Callable
from pathlib import Path

import pytest

from slotwright.errors import SlotwrightError

SECONDS = 1.0
BYTES = 150_000_000  # the program itself takes some 45 MB, which makes 200 in all


def tree(folder: Path) -> dict[str, bytes | None]:
    """Return every file of a folder with its bytes, and every folder."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() if path.is_file() else None
        for path in sorted(folder.rglob("*"))
    }


def refused(task: Callable[[], object], words: str, *, weigh: bool = True) -> str:
    """Run a task that must end in one clear line, for its processor time, then again for its memory.

    Args:
        task: what must be refused.
        words: what the line must say.
        weigh: measure the memory too, which takes ten times as long where a library makes many small things.
    """
    begun = time.process_time()
    with pytest.raises(SlotwrightError) as caught:
        task()
    taken = time.process_time() - begun
    if weigh:
        assert _memory(task) < BYTES
    message = str(caught.value)
    assert words in message
    assert message.isprintable(), "no line breaks, escapes or direction signs"
    assert len(message) < 1200
    assert "; " in message, "says what to do"
    assert taken < SECONDS
    return message


def _memory(task: Callable[[], object]) -> int:
    """Return how many bytes a refused task had in use at the most."""
    tracemalloc.start()
    try:
        with pytest.raises(SlotwrightError):
            task()
        return tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
