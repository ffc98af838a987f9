"""Making designs on a Dask cluster: the workers compute, this process writes; they need nothing of our disk."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from slotwright.errors import SlotwrightError
from slotwright.sharing.jobs import Job, Outcome, say_nothing
from slotwright.sharing.make import Files, all_files, write
from slotwright.sharing.set_up import SetUp

LOCAL = "local"
TRIES_MORE = 3
"""How often a design is given to another worker when the one that had it is lost."""


class ClusterError(SlotwrightError, ConnectionError):
    """A cluster that is not there, or not installed for."""


def make_on_cluster(good: list[tuple[Path, Job]], address: str, tell: Callable[[str], None]) -> dict[Path, Outcome]:
    """Make all jobs on the cluster at an address, or on one of our own for "local".

    Errors: ClusterError when there is no cluster there; what goes wrong with one design is its own outcome.
    """
    done: dict[Path, Outcome] = {}
    with _client(address) as (client, as_completed):
        futures = {
            client.submit(_computed, job.made, pure=False, retries=TRIES_MORE): (path, job) for path, job in good
        }
        tell(f"0 of {len(good)} made on the cluster")
        for future in as_completed(futures):
            path, job = futures[future]
            done[path] = _outcome(path, job, future)
            future.release()
            tell(f"{len(done)} of {len(good)} made on the cluster")
    return done


def _computed(made: SetUp) -> Files:
    return all_files(made, tell=say_nothing)


def _outcome(path: Path, job: Job, future: Any) -> Outcome:
    try:
        files: Files = future.result()
        write(files, job.folder, job.shown_as)
        return Outcome(path, job, files, None)
    except SlotwrightError as error:
        return Outcome(path, job, None, error)
    except Exception as error:  # noqa: BLE001  whatever a worker far away met must not stop the others
        lost = ClusterError(
            f"{path.as_posix()}: was not made on the cluster ({type(error).__name__}); run again without it"
        )
        return Outcome(path, job, None, lost)


@contextmanager
def _client(address: str) -> Iterator[tuple[Any, Callable[..., Any]]]:
    try:
        from distributed import Client, LocalCluster, as_completed
    except ImportError:
        raise ClusterError("--cluster needs Dask: pip install 'slotwright[cluster]'") from None
    if address == LOCAL:
        workers = os.cpu_count() or 1
        with (
            LocalCluster(  # type: ignore[no-untyped-call]  # the library is typed in part
                n_workers=workers, threads_per_worker=1, dashboard_address=None, silence_logs=50
            ) as own,
            Client(own) as client,  # type: ignore[no-untyped-call]  # the library is typed in part
        ):
            yield client, as_completed
        return
    try:
        client = Client(address, timeout="10s")  # type: ignore[no-untyped-call]  # likewise
    except (OSError, TimeoutError, ValueError) as error:
        raise ClusterError(
            f"--cluster {address}: no scheduler answers there ({type(error).__name__}); check the address"
        ) from None
    with client:
        yield client, as_completed
