"""Run as a program: do one kind of work over and over in children killed at random moments; look at what is left.

    python -m tests.sharing.interrupting FOLDER SEED TIMES

The folder becomes a workspace. Its design changes between two versions from one try to the next. After each kill every
file that is not hidden must be, byte for byte, what a whole run of one of the two versions writes. Prints a line a kind
of work: its name, how many children were killed in mid-work, how many were done before. Exits 1 at the first torn file.
"""

from __future__ import annotations

import os
import random
import signal
import sys
import time
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

from slotwright.sharing.make import make
from slotwright.sharing.pack import pack
from slotwright.sharing.receive import look_at, unpack
from slotwright.sharing.refit import refit, write_refit
from slotwright.sharing.set_up import set_up
from tests.workshop import DESIGN, lay_out

VERSIONS = (DESIGN, DESIGN.replace('"30 mm"', '"40 mm"'))
Sums = dict[str, set[str]]


def _tell(line: str) -> None:
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def say_nothing(step: str) -> None:
    """Keep quiet."""


def run_make(design: Path) -> None:
    """Make the design's drawings."""
    make(set_up(design), design.parents[1] / "drawings" / design.stem, "drawings", tell=say_nothing)


def run_pack(design: Path) -> None:
    """Pack the design."""
    pack(design, None, str, beside=False, tell=say_nothing)


def run_refit(design: Path) -> None:
    """Refit the design to the inch table."""
    path = design.with_name("bars-inch-mill.toml")
    path.unlink(missing_ok=True)  # refit never writes over another version's file
    write_refit(refit(design, ("inch-mill",)), path, path.name)


def run_receive(design: Path) -> None:
    """Receive the pack that the workspace itself made."""
    file = design.parents[1] / "shared" / "bars.zip"
    unpack(look_at(file, "bars.zip"), design.parents[1] / "other")


WORK: dict[str, Callable[[Path], None]] = {
    "make": run_make,
    "pack": run_pack,
    "receive": run_receive,
    "refit": run_refit,
}


def seen(root: Path) -> dict[str, str]:
    """Sum of each file that is not hidden, nor in a hidden folder."""
    found = {}
    for path in sorted(root.rglob("*")):
        name = path.relative_to(root).as_posix()
        if path.is_file() and not any(part.startswith(".") for part in Path(name).parts):
            found[name] = sha256(path.read_bytes()).hexdigest()
    return found


def plain(name: str) -> str:
    """The name without the number that keeps a received pack apart from those before."""
    return "/".join(part.rstrip("0123456789").rstrip("-") if "." not in part else part for part in name.split("/"))


def torn(root: Path, whole: set[str]) -> list[str]:
    """Files whose bytes no whole run writes."""
    return [name for name, found in seen(root).items() if found not in whole]


def whole_sums(root: Path, work: Callable[[Path], None]) -> set[str]:
    """Sums of everything that lies there after whole runs of either version."""
    sums: set[str] = set()
    for version in VERSIONS:
        design = lay_out(root, version)
        run_pack(design)
        work(design)
        sums |= set(seen(root).values())
    return sums


def try_once(root: Path, work: Callable[[Path], None], version: str, delay: float) -> bool:
    """Do the work in a child that is killed after a while; say whether it was killed before it was done."""
    design = lay_out(root, version)
    child = os.fork()
    if child == 0:
        code = 1
        try:
            work(design)
            code = 0
        finally:
            os._exit(code)
    time.sleep(delay)
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    if not os.WIFSIGNALED(status) and os.WEXITSTATUS(status) != 0:
        raise RuntimeError("the work failed by itself")
    return os.WIFSIGNALED(status)


def main() -> int:
    """Try every kind of work."""
    root, chance, times = Path(sys.argv[1]), random.Random(int(sys.argv[2])), int(sys.argv[3])
    for name, work in WORK.items():
        whole = whole_sums(root, work)
        design = lay_out(root, VERSIONS[0])
        start = time.perf_counter()
        work(design)
        usual = time.perf_counter() - start
        killed = 0
        for number in range(times):
            killed += try_once(root, work, VERSIONS[number % 2], chance.uniform(0.0, 1.1 * usual))
            if found := torn(root, whole):
                _tell(f"{name}: torn after try {number + 1}: {found}")
                return 1
        work(lay_out(root, VERSIONS[0]))
        left = [path.name for path in root.rglob(".*")]
        if found := torn(root, whole) or left:
            _tell(f"{name}: the next run left {found}")
            return 1
        _tell(f"{name} {killed} {times - killed}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
