"""An interrupt from the keyboard is for the process the user started: its helpers neither die of it nor speak."""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def interrupts_held() -> Iterator[None]:
    """Start helping processes in here: one still loading has no way yet to leave interrupts alone, so it inherits one.

    What comes meanwhile is raised on leaving. Works in any thread; where the system knows no masks, nothing is held.
    """
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    from multiprocessing import resource_tracker

    resource_tracker.ensure_running()  # its start, which else happens within, would let interrupts through again
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        with _noted():
            yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


@contextmanager
def _noted() -> Iterator[None]:
    """Note an interrupt that another thread of this process takes, whose mask is its own; obey it on leaving."""
    if threading.current_thread() is not threading.main_thread():  # none is raised in here then
        yield
        return
    came: list[int] = []
    obey = signal.signal(signal.SIGINT, lambda number, frame: came.append(number))
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, obey)
        if came and callable(obey):
            obey(came[0], None)


def leave_interrupts_to_parent() -> None:
    """Begin the work of a helping process so."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
