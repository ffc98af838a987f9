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


def refused(task: Callable[[], object], words: str) -> str:
    """Run a task that must end in one clear line, twice: for its processor time, then for its memory."""
    begun = time.process_time()
    with pytest.raises(SlotwrightError) as caught:
        task()
    taken = time.process_time() - begun
    tracemalloc.start()
    try:
        with pytest.raises(SlotwrightError):
            task()
        most = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    message = str(caught.value)
    assert words in message
    assert message.isprintable(), "no line breaks, escapes or direction signs"
    assert len(message) < 1200
    assert "; " in message, "says what to do"
    assert taken < SECONDS
    assert most < BYTES
    return message
