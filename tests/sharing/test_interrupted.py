"""Work that is ended from outside: whatever the moment, every file is whole, and the next run simply works."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.test_cli import SLOTWRIGHT
from tests.workshop import DESIGN, lay_out

ROOT = Path(__file__).parents[2]


@pytest.mark.long
@pytest.mark.skipif(sys.platform == "win32", reason="kills forked children the POSIX way")
def test_fifty_kills_at_random_moments_tear_no_file(tmp_path: Path) -> None:
    """13 kills each of make, pack, receive and refit; by hand: `python -m tests.sharing.interrupting FOLDER 1 13`."""
    command = [sys.executable, "-m", "tests.sharing.interrupting", str(tmp_path), "20261125", "13"]
    done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=ROOT)
    assert done.returncode == 0, done.stdout + done.stderr
    counts = {line.split()[0]: int(line.split()[1]) for line in done.stdout.splitlines()}
    assert set(counts) == {"make", "pack", "receive", "refit"}
    assert all(killed > 0 for killed in counts.values()), "no kill came in mid-work, so nothing was shown"


@pytest.mark.long
def test_two_runs_at_once_on_one_workspace(tmp_path: Path) -> None:
    paths = [lay_out(tmp_path, DESIGN.replace('"30 mm"', f'"{at} mm"')) for at in (30,)]
    runs = [
        subprocess.Popen(
            [*SLOTWRIGHT, "make", *paths], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=tmp_path
        )
        for _ in range(2)
    ]
    for run in runs:
        out, err = run.communicate(timeout=120)
        assert (run.returncode, err) == (0, ""), out
    assert [path.name for path in (tmp_path / "drawings").iterdir()] == ["bars"]
    assert len(list((tmp_path / "drawings" / "bars").iterdir())) >= 12
