"""`pack` and `receive` as a person uses them: exit codes, one-line errors, bounds of the whole process, kill -9."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
import zipfile
from pathlib import Path

import pytest

from tests.sharing import packs
from tests.sharing.bounds import tree
from tests.sharing.test_hostile_packs import CASES
from tests.workshop import DESIGN, lay_out

SLOTWRIGHT = [sys.executable, "-m", "slotwright"]


def run(*arguments: str | Path, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    return subprocess.run([*SLOTWRIGHT, *arguments], capture_output=True, text=True, check=False, cwd=cwd)


def test_pack_then_receive_in_another_shop(tmp_path: Path) -> None:
    file = lay_out(tmp_path / "ours", DESIGN.replace('at = ["30 mm"]', 'at = ["3 mm"]'))
    done = run("pack", file, cwd=tmp_path)
    assert (done.returncode, done.stderr) == (3, ""), "a stop finding"
    assert "ours/shared/bars.zip: 16 files, content id " in done.stdout
    assert [entry.name for entry in (tmp_path / "ours" / "shared").iterdir()] == ["bars.zip"]
    lay_out(tmp_path / "theirs")
    before = tree(tmp_path)
    trial = run("receive", "--trial", tmp_path / "ours" / "shared" / "bars.zip", cwd=tmp_path / "theirs")
    assert (trial.returncode, trial.stderr) == (3, "")
    assert "STOP: DO NOT MAKE OR USE" in trial.stdout
    assert "  drawings/bar.step\n" in trial.stdout
    assert tree(tmp_path) == before, "only looked"
    done = run("receive", tmp_path / "ours" / "shared" / "bars.zip", cwd=tmp_path / "theirs" / "parts")
    assert done.returncode == 3
    assert (tmp_path / "theirs" / "fixtures" / "bars-2.toml").exists(), "bars.toml was taken"
    with zipfile.ZipFile(tmp_path / "ours" / "shared" / "bars.zip") as archive:
        came = {name: archive.read(name) for name in archive.namelist()}
    unpacked = tree(tmp_path / "theirs" / "shared" / "bars-2")
    assert {name: data for name, data in unpacked.items() if data is not None} == came
    assert run("check", tmp_path / "theirs" / "fixtures" / "bars-2.toml").returncode == 3


def test_out_and_into_name_other_places(tmp_path: Path) -> None:
    (tmp_path / "bars.zip").write_bytes(packs.pack())
    (tmp_path / "shop" / "parts").mkdir(parents=True)
    done = run("receive", "bars.zip", "--into", "shop", cwd=tmp_path)
    assert done.returncode == 0
    assert "shop/fixtures/bars.toml" in done.stdout
    assert (tmp_path / "shop" / "fixtures" / "bars.toml").read_text() == packs.DESIGN


@pytest.mark.parametrize(
    ("there", "into", "words"),
    [
        ("", "shop", "shop: is not there; name the workspace's folder"),
        ("shop", "shop", "shop: is a file; name the workspace's folder"),
        ("shop/fixtures", "shop", "fixtures/bars.toml: has a file where a folder should be"),
        ("shop/shared", "shop", "shared/bars: has a file where a folder should be"),
    ],
)
def test_a_place_that_takes_no_pack_is_left_as_it_is(there: str, into: str, words: str, tmp_path: Path) -> None:
    (tmp_path / "bars.zip").write_bytes(packs.pack())
    if "/" in there:
        (tmp_path / "shop" / "parts").mkdir(parents=True)
    if there:
        (tmp_path / there).write_text("a file")
    before = tree(tmp_path)
    done = run("receive", "bars.zip", "--into", into, cwd=tmp_path)
    assert (done.returncode, done.stderr.count("\n")) == (2, 1)
    assert words in done.stderr
    assert tree(tmp_path) == before


@pytest.mark.parametrize("command", [["check"], ["refit", "--table", "mill"]])
def test_a_pack_in_a_designs_place_is_told_so(command: list[str], tmp_path: Path) -> None:
    lay_out(tmp_path)
    (tmp_path / "bars.zip").write_bytes(packs.pack())
    done = run(*command, "bars.zip", cwd=tmp_path)
    assert (done.returncode, done.stdout) == (2, "")
    assert "bars.zip: is a zip file; if it is a pack, `slotwright receive` unpacks it" in done.stderr


# A process's peak counts that of the one that started it, so a small one starts it, not the tests' own.
LAUNCHER = """
import resource, subprocess, sys
from pathlib import Path
done = subprocess.run(sys.argv[2:])
used = resource.getrusage(resource.RUSAGE_CHILDREN)
Path(sys.argv[1]).write_text(f"{used.ru_utime + used.ru_stime} {used.ru_maxrss}")
sys.exit(done.returncode)
"""


@pytest.mark.parametrize(
    "arguments", [["receive"], ["receive", "no-such.zip"], ["receive", "."], ["pack", "no-such.toml"]]
)
def test_clumsy_commands_exit_2_without_traceback(arguments: list[str], tmp_path: Path) -> None:
    done = run(*arguments, cwd=tmp_path)
    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert done.stderr
    assert tree(tmp_path) == {}


def test_receive_loads_neither_kernel_nor_drawing_library(tmp_path: Path) -> None:
    (tmp_path / "bars.zip").write_bytes(packs.pack())
    program = (
        "import sys\nfrom slotwright.cli import main\nsys.argv = ['slotwright', 'receive', 'bars.zip']\n"
        "try:\n    main()\nfinally:\n"
        "    heavy = {'cadquery', 'OCP', 'ezdxf', 'reportlab', 'fontTools'} & set(sys.modules)\n"
        "    assert not heavy, heavy\n"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=False, cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.skipif(os.name != "posix", reason="what a process used is told the POSIX way")
@pytest.mark.parametrize(
    "case",
    [
        "bomb-ratio", "bomb-total", "name-ten-thousand-long", "manifest-deep", "manifest-title-escape",
        "design-million-keys", "design-key-of-many-parts", "sixteen-million-zeros",
    ],
)  # fmt: skip
def test_whole_process_keeps_its_bounds(case: str, tmp_path: Path) -> None:
    """One line, exit code 2, one second of the processor, 200 MB, and nothing written."""
    build, words = CASES[case]
    lay_out(tmp_path / "shop")
    (tmp_path / "pack.zip").write_bytes(build())
    before = tree(tmp_path)
    measured = tmp_path.parent / f"{tmp_path.name}-measured"
    command = [sys.executable, "-c", LAUNCHER, str(measured), *SLOTWRIGHT, "receive", "../pack.zip"]
    process = subprocess.run(command, cwd=tmp_path / "shop", capture_output=True, check=False)
    shown, line = process.stdout, process.stderr.decode()
    seconds, peak = (float(word) for word in measured.read_text().split())
    assert (process.returncode, shown) == (2, b"")
    assert line.endswith("\n")
    assert line[:-1].isprintable()
    assert words in line
    assert seconds < 1.5, "half a second of it is Python's own start"
    per_unit = 1 if sys.platform == "darwin" else 1024
    assert peak * per_unit < 200_000_000
    assert tree(tmp_path) == before


@pytest.mark.skipif(os.name != "posix", reason="kill -9 is POSIX")
def test_receive_killed_at_random_moments_leaves_every_file_whole(tmp_path: Path) -> None:
    """Whatever is there afterwards is whole, and the next run simply works."""
    files = packs.with_manifest(packs.contents())
    (tmp_path / "bars.zip").write_bytes(packs.pack())
    shop = tmp_path / "shop"
    lay_out(shop, name="other")
    begun = time.perf_counter()
    run("receive", "../bars.zip", cwd=shop)
    whole_run = time.perf_counter() - begun
    moments = random.Random(7)
    for _ in range(10):
        process = subprocess.Popen([*SLOTWRIGHT, "receive", "../bars.zip"], cwd=shop, stdout=subprocess.DEVNULL)
        time.sleep(whole_run * moments.uniform(0.5, 1.05))
        process.send_signal(signal.SIGKILL)
        process.wait()
        for design in (shop / "fixtures").glob("bars*.toml"):
            assert design.read_text() == packs.DESIGN
        for folder in (shop / "shared").glob("bars*"):
            assert {name: data for name, data in tree(folder).items() if data is not None} == files
    done = run("receive", "../bars.zip", cwd=shop)
    assert done.returncode == 0
    hidden = [entry.name for entry in (*shop.glob("*/.*"),)]
    assert hidden == [], "what killed runs left is swept away"
