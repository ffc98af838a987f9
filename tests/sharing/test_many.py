"""Many designs at once: one that fails never stops the rest, the bytes are those of one by one, nothing is torn."""

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
from tests.workshop import DESIGN, lay_out

SLOTWRIGHT = [sys.executable, "-m", "slotwright"]


def three(folder: Path) -> list[Path]:
    return [lay_out(folder, DESIGN.replace('"30 mm"', f'"{20 + 5 * n} mm"'), f"bars-{n}") for n in range(3)]


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


@pytest.mark.long
def test_the_good_are_made_though_others_fail(tmp_path: Path) -> None:
    good = three(tmp_path)
    bad = lay_out(tmp_path, DESIGN.replace('"300 mm"', '"300"'), "bad")
    stop = lay_out(tmp_path, DESIGN.replace('"30 mm"', '"3 mm"'), "stop")
    done = subprocess.run(
        [*SLOTWRIGHT, "make", good[0], bad, stop, *good[1:]], capture_output=True, text=True, check=False, cwd=tmp_path
    )
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert "bad.toml: fixture[1].length" in done.stderr
    assert "1 stop" in done.stdout
    one_by_one = tmp_path / "one"
    make(set_up(good[1]), one_by_one, "one", tell=lambda step: None)
    assert contents(tmp_path / "drawings" / "bars-1") == contents(one_by_one)
    assert sorted(path.name for path in (tmp_path / "drawings").iterdir()) == ["bars-0", "bars-1", "bars-2", "stop"]


@pytest.mark.long
@pytest.mark.skipif(sys.platform != "linux", reason="finds the helping processes in /proc")
def test_a_helping_process_killed_in_mid_run_loses_nothing(tmp_path: Path) -> None:
    paths = three(tmp_path)
    process = subprocess.Popen(
        [*SLOTWRIGHT, "make", *paths], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=tmp_path
    )
    victim = wait_for_worker(process.pid)
    time.sleep(0.7)
    os.kill(victim, signal.SIGKILL)
    out, err = process.communicate(timeout=120)
    assert (process.returncode, err) == (0, ""), out
    assert sorted(path.name for path in (tmp_path / "drawings").iterdir()) == ["bars-0", "bars-1", "bars-2"]
    for path in paths:
        assert "findings.json" in contents(tmp_path / "drawings" / path.stem)


@pytest.mark.skipif(sys.platform != "linux", reason="finds the helping processes in /proc")
@pytest.mark.parametrize("seconds", [0.0, 0.05, 0.3, 1.5])
def test_an_interrupt_of_all_processes_ends_in_one_line_and_soon(seconds: float, tmp_path: Path) -> None:
    paths = [lay_out(tmp_path, DESIGN, f"bars-{n}") for n in range(12)]
    process = subprocess.Popen(
        [*SLOTWRIGHT, "make", *paths],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        cwd=tmp_path,
        start_new_session=True,
    )
    wait_for_worker(process.pid)
    time.sleep(seconds)
    os.killpg(process.pid, signal.SIGINT)  # as a terminal does
    out, err = process.communicate(timeout=60)
    assert (process.returncode, out) == (130, "")
    assert err.strip() == "slotwright: interrupted; earlier output still stands"
    there = [path.name for path in (tmp_path / "drawings").iterdir()] if (tmp_path / "drawings").exists() else []
    assert len(there) < len(paths)  # those not begun were not made
    assert not [name for name in there if name.startswith(".")]  # nothing torn is left behind


def wait_for_worker(parent: int) -> int:
    """The first child that makes designs (not the one that only tracks shared resources)."""
    while True:
        children = Path(f"/proc/{parent}/task/{parent}/children").read_text().split()
        for child in children:
            if "spawn_main" in Path(f"/proc/{child}/cmdline").read_text():
                return int(child)
        time.sleep(0.02)


def test_two_designs_for_one_folder_are_refused(tmp_path: Path) -> None:
    path = lay_out(tmp_path)
    twin = tmp_path / "elsewhere" / "fixtures"
    twin.parent.mkdir()
    other = lay_out(twin.parent)
    done = subprocess.run(
        [*SLOTWRIGHT, "make", path, other, "--out", tmp_path / "out"],
        capture_output=True,
        text=True,
        check=False,
        cwd=tmp_path,
    )
    assert done.returncode == 2
    assert "is made in out/bars, as is" in done.stderr
    assert (tmp_path / "out" / "bars" / "bar.step").exists()
