"""Jobs: designs solved, each with the folder it is to be made in; and what became of them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from slotwright.errors import DesignError, SlotwrightError
from slotwright.fixtures.family import Family
from slotwright.sharing.make import Files
from slotwright.sharing.set_up import SetUp, set_up


@dataclass(frozen=True, slots=True)
class Job:
    """One design with the folder it is made in; shown_as is how messages name the folder."""

    made: SetUp
    folder: Path
    shown_as: str


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one design: its files, or the error that ended it."""

    path: Path
    job: Job | None
    files: Files | None
    error: SlotwrightError | None


def jobs(
    paths: Sequence[Path], folder_of: Callable[[SetUp], tuple[Path, str]], scripted: tuple[Family, ...] = ()
) -> Iterator[tuple[Path, Job | SlotwrightError]]:
    """Solve and check each design, by allowed scripts' families too; an error takes the place of the job."""
    taken: dict[Path, Path] = {}
    for path in paths:
        try:
            made = set_up(path, scripted)
            folder, shown_as = folder_of(made)
            first = taken.setdefault(folder.resolve(), path)
            if first != path:
                problem = f"is made in {shown_as}, as is {first.as_posix()}"
                raise DesignError(path.as_posix(), "", problem, "rename one of the two")
            yield path, Job(made, folder, shown_as)
        except SlotwrightError as error:
            yield path, error


def say_nothing(step: str) -> None:
    """Progress is told by the process that the user started."""
