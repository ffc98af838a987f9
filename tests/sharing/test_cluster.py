"""The same work on a cluster of two workers, one of them killed in mid-run: nothing lost, the same bytes."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from slotwright.sharing.make import make
from slotwright.sharing.set_up import set_up
from tests.sharing.test_many import SLOTWRIGHT, contents, three

pytestmark = pytest.mark.long


def run(tmp_path: Path, *arguments: str | Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run([*SLOTWRIGHT, *arguments], capture_output=True, text=True, check=False, cwd=tmp_path)


@pytest.mark.skipif(sys.platform != "linux", reason="finds the workers in /proc")
def test_a_worker_killed_in_mid_run_loses_nothing_and_changes_no_byte(tmp_path: Path) -> None:
    paths = three(tmp_path)
    process = subprocess.Popen(
        [*SLOTWRIGHT, "make", *paths, "--cluster", "local"],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=tmp_path,
    )  # fmt: skip
    victim = busiest_worker(process.pid)
    os.kill(victim, signal.SIGKILL)
    out, err = process.communicate(timeout=240)
    assert process.returncode == 0, out + err
    assert "Traceback" not in err
    for path in paths:
        alone = tmp_path / "alone" / path.stem
        make(set_up(path), alone, path.stem, tell=lambda step: None)
        assert contents(tmp_path / "drawings" / path.stem) == contents(alone)


def busiest_worker(parent: int) -> int:
    """A worker that has loaded the CAD kernel, so that it is in the middle of a design."""
    while True:
        for entry in Path("/proc").iterdir():
            if entry.name.isdigit() and is_working(entry, parent):
                return int(entry.name)
        time.sleep(0.02)


def is_working(entry: Path, parent: int) -> bool:
    try:
        if int((entry / "stat").read_text().rsplit(")", 1)[1].split()[1]) != parent:
            return False
        return "spawn_main" in (entry / "cmdline").read_text() and "OCP" in (entry / "maps").read_text()
    except (OSError, IndexError):
        return False


def test_no_scheduler_there_ends_in_one_line(tmp_path: Path) -> None:
    done = run(tmp_path, "make", *three(tmp_path), "--cluster", "tcp://127.0.0.1:9")
    assert done.returncode == 2
    assert done.stderr.startswith("slotwright: --cluster tcp://127.0.0.1:9: no scheduler answers there")
    assert done.stderr.count("\n") == 1
