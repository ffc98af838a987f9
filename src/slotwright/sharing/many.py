"""Making many designs at once: a process a core, a failure in one never stops the rest, results in the asked order."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from slotwright.errors import DesignError, SlotwrightError
from slotwright.sharing.jobs import Job, Outcome, say_nothing
from slotwright.sharing.make import Files, leave_interrupts_to_parent, make

if TYPE_CHECKING:
    from concurrent.futures import Future

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
    from concurrent.futures import ProcessPoolExecutor, as_completed
    from multiprocessing import get_context

    done: dict[Path, Outcome] = {}
    tell(f"0 of {len(good)} made")
    for _ in range(2):
        left = [(path, job) for path, job in good if path not in done]
        with ProcessPoolExecutor(
            workers, mp_context=get_context("spawn"), initializer=leave_interrupts_to_parent
        ) as pool:
            waiting = {pool.submit(_make_one, job): (path, job) for path, job in left}
            for future in as_completed(waiting):
                path, job = waiting[future]
                outcome = _outcome(path, job, future)
                if outcome is not None:
                    done[path] = outcome
                    tell(f"{len(done)} of {len(good)} made")
        if len(done) == len(good):
            return done
    for path, job in good:
        done.setdefault(path, Outcome(path, job, None, _lost(path)))
    return done


def _make_one(job: Job) -> Files:
    return make(job.made, job.folder, job.shown_as, tell=say_nothing)


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
