"""The command line as a person uses it: exit codes, one-line errors, silence in a pipe, nothing heavy at start-up."""

from __future__ import annotations

import json
import os
import pty
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.workshop import DESIGN, lay_out

SLOTWRIGHT = [sys.executable, "-m", "slotwright"]


def run(*arguments: str | Path, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    return subprocess.run([*SLOTWRIGHT, *arguments], capture_output=True, text=True, check=False, cwd=cwd)


def test_check_is_fine_and_says_nothing_on_stderr(tmp_path: Path) -> None:
    done = run("check", lay_out(tmp_path))
    assert (done.returncode, done.stderr) == (0, "")
    assert "0 stop, 0 caution" in done.stdout


def test_stop_finding_exits_3(tmp_path: Path) -> None:
    path = lay_out(tmp_path, DESIGN.replace('at = ["30 mm"]', 'at = ["3 mm"]'))
    done = run("check", path)
    assert done.returncode == 3
    assert "stop: bar, hole B1: the hole breaks out (-3 mm, limit 6 mm)" in done.stdout
    as_json = run("check", "--json", path)
    assert as_json.returncode == 3
    assert json.loads(as_json.stdout)["worst"] == "stop"


def test_bad_input_exits_2_with_one_line(tmp_path: Path) -> None:
    done = run("make", lay_out(tmp_path, DESIGN.replace('"300 mm"', '"300,5 mm"')))
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.count("\n") == 1
    assert "fixture[1].length: '300,5 mm' has a comma" in done.stderr


@pytest.mark.parametrize(
    "arguments",
    [["make"], ["mkae"], ["make", "no-such-file.toml"], ["new", "anvil"], ["schema", "anvil"], ["check", "."]],
)
def test_clumsy_commands_exit_2_without_traceback(arguments: list[str], tmp_path: Path) -> None:
    done = run(*arguments, cwd=tmp_path)
    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert done.stderr


def test_make_writes_a_folder_and_is_silent_in_a_pipe(tmp_path: Path) -> None:
    done = run("make", lay_out(tmp_path), cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert "drawings/bars: 12 files" in done.stdout
    assert (tmp_path / "drawings" / "bars" / "bar.pdf").read_bytes().startswith(b"%PDF")


def test_make_with_a_stop_still_writes_and_prints_it_on_the_drawing(tmp_path: Path) -> None:
    path = lay_out(tmp_path, DESIGN.replace('at = ["30 mm"]', 'at = ["3 mm"]'))
    done = run("make", "--json", path, cwd=tmp_path)
    assert done.returncode == 3
    assert json.loads(done.stdout)["worst"] == "stop"
    assert "STOP" in (tmp_path / "drawings" / "bars" / "bar.svg").read_text(encoding="utf-8")


def test_make_with_a_bolt_wider_than_the_slot_still_writes_everything(tmp_path: Path) -> None:
    path = lay_out(tmp_path, DESIGN.replace('name = "bar"', 'name = "bar"\nbolt = "M16"'))
    done = run("make", path, cwd=tmp_path)
    assert done.returncode == 3
    assert "[bolt-in-slot; " in done.stdout
    assert (tmp_path / "drawings" / "bars" / "set-up.step").exists()


def test_file_in_the_place_of_the_folder_is_left_alone(tmp_path: Path) -> None:
    path = lay_out(tmp_path)
    (tmp_path / "drawings").mkdir()
    (tmp_path / "drawings" / "bars").write_text("mine")
    done = run("make", path, cwd=tmp_path)
    assert done.returncode == 2
    assert done.stderr.startswith("slotwright: drawings/bars: has a file where a folder should be; move that file")
    assert done.stderr.count("\n") == 1
    assert (tmp_path / "drawings" / "bars").read_text() == "mine"


def test_out_puts_the_folder_elsewhere(tmp_path: Path) -> None:
    done = run("make", lay_out(tmp_path), "--out", tmp_path / "elsewhere", cwd=tmp_path)
    assert done.returncode == 0
    assert (tmp_path / "elsewhere" / "bars" / "bar.step").exists()
    assert not (tmp_path / "drawings").exists()


@pytest.mark.skipif(os.name != "posix", reason="signals and pseudo-terminals are POSIX")
def test_progress_shows_on_a_terminal_and_an_interrupt_leaves_the_old_folder(tmp_path: Path) -> None:
    path = lay_out(tmp_path)
    old = tmp_path / "drawings" / "bars"
    old.mkdir(parents=True)
    (old / "kept").write_text("old")
    master, slave = pty.openpty()
    process = subprocess.Popen([*SLOTWRIGHT, "make", path], stdout=slave, stderr=slave, cwd=tmp_path)
    os.close(slave)
    seen = b""
    while b"loading the CAD kernel" not in seen:
        seen += os.read(master, 1000)
    time.sleep(0.2)
    process.send_signal(signal.SIGINT)
    code = process.wait(timeout=60)
    os.set_blocking(master, False)
    try:
        while block := os.read(master, 65536):
            seen += block
    except (BlockingIOError, OSError):
        pass
    os.close(master)
    assert code == 130
    assert b"interrupted; earlier output still stands" in seen
    assert b"Traceback" not in seen
    assert [entry.name for entry in old.iterdir()] == ["kept"]
    assert [entry.name for entry in old.parent.iterdir()] == ["bars"]


def test_new_writes_a_starter_that_checks_and_is_never_overwritten(tmp_path: Path) -> None:
    lay_out(tmp_path)
    for unit in ("mm", "in"):
        file = tmp_path / "fixtures" / f"fresh-{unit}.toml"
        assert run("new", "hold-down-bar", file, "--unit", unit, cwd=tmp_path).returncode == 0
        done = run("check", file, cwd=tmp_path)
        assert done.returncode == 0, done.stdout + done.stderr
        again = run("new", "hold-down-bar", file, cwd=tmp_path)
        assert again.returncode == 2
        assert "is there already" in again.stderr


@pytest.mark.parametrize(
    ("kind", "name", "written"),
    [
        ("table", "parts/planer", "parts/planer.toml"),
        ("rack", "parts/racks", "parts/racks.toml"),
        ("drawer", "parts/drawers", "parts/drawers.toml"),
        ("hold-down-bar", "fixtures/fresh", "fixtures/fresh.toml"),
    ],
)
def test_new_gives_a_name_the_ending_it_is_found_by(kind: str, name: str, written: str, tmp_path: Path) -> None:
    lay_out(tmp_path)
    done = run("new", kind, name, cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith(f"{written}: written")
    assert (tmp_path / written).exists()
    assert not (tmp_path / name).exists()


def test_new_refuses_another_ending(tmp_path: Path) -> None:
    done = run("new", "table", "planer.txt", cwd=tmp_path)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == "slotwright: planer.txt: does not end in .toml; name it like NAME.toml\n"
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("wanted", "meant"),
    [
        ("bar", "hold-down-bar"),
        ("hold_down_bar", "hold-down-bar"),
        ("Hold down bar", "hold-down-bar"),
        ("fense", "fence"),
    ],
)
def test_new_asks_which_kind_was_meant(wanted: str, meant: str, tmp_path: Path) -> None:
    done = run("new", wanted, cwd=tmp_path)
    assert done.returncode == 2
    assert f"did you mean {meant}? there is: " in done.stderr


def test_check_goes_on_past_a_design_that_cannot_be_read(tmp_path: Path) -> None:
    first, last = lay_out(tmp_path), lay_out(tmp_path, DESIGN.replace('at = ["30 mm"]', 'at = ["3 mm"]'), "last")
    done = run("check", first, tmp_path / "nofile.toml", last, cwd=tmp_path)
    assert done.returncode == 2  # though the last stops
    assert done.stderr.count("\n") == 1
    assert "nofile.toml: is not there" in done.stderr
    assert "bars: 0 stop" in done.stdout
    assert "last: 1 stop" in done.stdout


def test_a_missing_or_empty_rack_is_told_in_one_line(tmp_path: Path) -> None:
    path = lay_out(tmp_path, DESIGN.replace('stock = "flat-40x20"', 'width = "40 mm"\nthickness = "20 mm"'))
    rack = tmp_path / "parts" / "rack.toml"
    rack.write_text('slotwright = 1\npart = "rack"\n')
    empty = run("check", path, cwd=tmp_path).stdout.splitlines()
    assert [line for line in empty if "rack" in line] == [
        line for line in empty if line.startswith("caution: rack: has ")
    ]
    assert empty[-1].startswith("bars: 0 stop, 1 caution (1 to buy), ")
    rack.unlink()
    missing = run("check", path, cwd=tmp_path).stdout.splitlines()
    (note,) = [line for line in missing if "rack" in line]
    assert note.startswith("note: parts/rack.toml is not there, so stock was not looked for; ")
    path.write_text('rack = "none"\n' + path.read_text())
    assert "rack" not in run("check", path, cwd=tmp_path).stdout


def test_a_part_file_is_told_from_a_design(tmp_path: Path) -> None:
    lay_out(tmp_path)
    done = run("check", tmp_path / "parts" / "mill.toml")
    assert done.returncode == 2
    assert "this is no design" in done.stderr
    assert run("tables", tmp_path / "nowhere").returncode == 2


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="a device that is always full is Linux's own")
def test_a_full_standard_output_ends_in_one_line(tmp_path: Path) -> None:
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [*SLOTWRIGHT, "check", lay_out(tmp_path)], stdout=full, stderr=subprocess.PIPE, text=True, check=False
        )
    assert done.returncode == 1
    assert "No space left on device" in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize("what", ["table", "rack", "drawer"])
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_new_part_files_read_back(tmp_path: Path, what: str, unit: str) -> None:
    path = lay_out(tmp_path)
    (tmp_path / "parts" / f"{what}.toml").unlink(missing_ok=True)
    assert run("new", what, tmp_path / "parts" / f"{what}.toml", "--unit", unit).returncode == 0
    if what == "table":
        assert "table" in run("tables", tmp_path).stdout
        path.write_text(DESIGN.replace('"mill"', '"table"').replace('"300 mm"', '"1500 mm"'), encoding="utf-8")
    if what == "rack":
        path.write_text(
            DESIGN.replace('stock = "flat-40x20"', 'width = "40 mm"\nthickness = "20 mm"'), encoding="utf-8"
        )
    done = run("check", path)
    assert done.returncode in (0, 3), done.stderr


def test_lists_for_programs(tmp_path: Path) -> None:
    lay_out(tmp_path)
    kinds = json.loads(run("kinds", "--json").stdout)
    assert "hold-down-bar" in [kind["kind"] for kind in kinds]
    tables = json.loads(run("tables", "--json", tmp_path).stdout)
    assert [table["name"] for table in tables] == ["inch-mill", "mill"]
    schema = json.loads(run("schema").stdout)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert "fixture" in schema["required"]


@pytest.mark.parametrize("arguments", [["--help"], ["--version"], ["make", "--help"], ["kinds"]])
def test_start_up_loads_nothing_heavy(arguments: list[str]) -> None:
    program = (
        "import sys\nfrom slotwright.cli import main\nsys.argv = ['slotwright', *sys.argv[1:]]\n"
        "try:\n    main()\nfinally:\n"
        "    heavy = {'cadquery', 'OCP', 'ezdxf', 'reportlab', 'fontTools', 'matplotlib'} & set(sys.modules)\n"
        "    assert not heavy, heavy\n"
        "    assert sys.argv[1] == 'kinds' or not {'numpy', 'pint'} & set(sys.modules)\n"
    )
    done = subprocess.run([sys.executable, "-c", program, *arguments], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")


def test_no_check_loads_the_kernel(tmp_path: Path) -> None:
    program = (
        "import sys\nfrom slotwright.cli import main\nsys.argv = ['slotwright', 'check', sys.argv[1]]\n"
        "try:\n    main()\nfinally:\n"
        "    assert not {'cadquery', 'OCP', 'ezdxf', 'reportlab'} & set(sys.modules)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, lay_out(tmp_path)], capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")
