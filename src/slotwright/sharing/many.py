"""Making many designs at once: a process a core, a failure in one never stops the rest, results in the asked order."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from slotwright.errors import DesignError, SlotwrightError
from slotwright.sharing.interrupts import interrupts_held, leave_interrupts_to_parent
from slotwright.sharing.jobs import Job, Outcome
from slotwright.sharing.make import Files, make

if TYPE_CHECKING:
    from concurrent.futures import Future
    from multiprocessing.synchronize import Event

MOST_AT_ONCE = 8
"""More processes than this cost more memory (about half a gigabyte each, for the CAD kernel) than they gain."""


def make_many(
    todo: Sequence[tuple[Path, Job | SlotwrightError]], tell: Callable[[str], None], cluster: str | None = None
) -> Iterator[Outcome]:
    """Make all jobs, as many at once as there are cores, and yield their outcomes in the order given.

    Args:
        todo: what `jobs` yields.
        tell: takes a word of progress.
        cluster: address of a Dask scheduler that does the work instead, or "local" for one of our own; the workers
            need the same version of this program, and nothing of this machine's disk.
    """
    good = [(path, job) for path, job in todo if isinstance(job, Job)]
    workers = min(os.cpu_count() or 1, len(good), MOST_AT_ONCE)
    outcomes = {path: Outcome(path, None, None, error) for path, error in todo if isinstance(error, SlotwrightError)}
    if good and cluster is not None:
        from slotwright.sharing.cluster import make_on_cluster

        outcomes |= make_on_cluster(good, cluster, tell)
    elif len(good) == 1:
        outcomes |= dict([_beside(*good[0], tell)])
    elif good:
        outcomes |= _in_processes(good, workers, tell)
    for path, _ in todo:
        yield outcomes[path]


def _beside(path: Path, job: Job, tell: Callable[[str], None]) -> tuple[Path, Outcome]:
    """Make a single design here, its paper work beside the loading of the kernel."""
    try:
        return path, Outcome(path, job, make(job.made, job.folder, job.shown_as, beside=True, tell=tell), None)
    except SlotwrightError as error:
        return path, Outcome(path, job, None, error)


def _in_processes(good: list[tuple[Path, Job]], workers: int, tell: Callable[[str], None]) -> dict[Path, Outcome]:
    """Make all; what was lost with a process that was ended from outside is tried once more."""
    from multiprocessing import get_context

    done: dict[Path, Outcome] = {}
    tell(f"0 of {len(good)} made")
    for _ in range(2):
        stop = get_context("spawn").Event()
        try:
            for outcome in _in_pool([(path, job) for path, job in good if path not in done], workers, stop):
                done[outcome.path] = outcome
                tell(f"{len(done)} of {len(good)} made")
        finally:
            stop.set()
        if len(done) == len(good):
            return done
    for path, job in good:
        done.setdefault(path, Outcome(path, job, None, _lost(path)))
    return done


def _in_pool(left: list[tuple[Path, Job]], workers: int, stop: Event) -> Iterator[Outcome]:
    """Yield what becomes of each, but for what was lost with its process; after an interrupt no more is begun."""
    from concurrent.futures import ProcessPoolExecutor, as_completed
    from multiprocessing import get_context

    pool = ProcessPoolExecutor(workers, get_context("spawn"), _Helper.begin, (stop,))
    try:
        with interrupts_held():
            waiting = {pool.submit(_make_one, job): (path, job) for path, job in left}
        for future in as_completed(waiting):
            outcome = _outcome(*waiting[future], future)
            if outcome is not None:
                yield outcome
    except BaseException:
        stop.set()
        raise
    finally:
        pool.shutdown(cancel_futures=True)


class _Helper:
    """What a helping process knows: whether it is to stop."""

    stop: Event

    @classmethod
    def begin(cls, stop: Event) -> None:
        leave_interrupts_to_parent()
        cls.stop = stop

    @classmethod
    def step(cls, step: str) -> None:
        """Go on to the next long step, unless the user has had enough; progress is told by the user's process."""
        if cls.stop.is_set():
            raise InterruptedError(step)


def _make_one(job: Job) -> Files:
    _Helper.step("begin")
    return make(job.made, job.folder, job.shown_as, tell=_Helper.step)


def _outcome(path: Path, job: Job, future: Future[Files]) -> Outcome | None:
    """What became of one job; None when its process was ended from outside."""
    from concurrent.futures.process import BrokenProcessPool

    try:
        return Outcome(path, job, future.result(), None)
    except SlotwrightError as error:
        return Outcome(path, job, None, error)
    except BrokenProcessPool:
        return None


def _lost(path: Path) -> SlotwrightError:
    return DesignError(path.as_posix(), "", "was not made, for its process was ended from outside, twice", "run again")
