"""Output appears whole or not at all, and what was there before is never lost."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest

from slotwright.errors import OutputError
from slotwright.sharing.output import Outbox, write_new, write_whole


def write(folder: Path, files: dict[str, bytes], made_before: tuple[str, ...] = ()) -> None:
    with Outbox(folder) as box:
        for name, data in files.items():
            box.write(name, data)
        box.finish(made_before)


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def names(folder: Path) -> list[str]:
    return [path.name for path in folder.iterdir()]


def test_new_folder_and_replacement(tmp_path: Path) -> None:
    folder = tmp_path / "drawings" / "bar"
    write(folder, {"a": b"1", "b": b"2"})
    assert contents(folder) == {"a": b"1", "b": b"2"}
    write(folder, {"a": b"3"}, made_before=("a", "b"))
    assert contents(folder) == {"a": b"3"}
    assert names(folder.parent) == ["bar"]


def test_files_that_are_the_users_own_stay(tmp_path: Path) -> None:
    folder = tmp_path / "bar"
    write(folder, {"a": b"1"})
    (folder / "notes.txt").write_bytes(b"mine")
    (folder / "photos").mkdir()
    (folder / "photos" / "p").write_bytes(b"x")
    write(folder, {"a": b"2"}, made_before=("a",))
    assert (folder / "notes.txt").read_bytes() == b"mine"
    assert (folder / "photos" / "p").read_bytes() == b"x"
    assert (folder / "a").read_bytes() == b"2"


def test_failure_leaves_the_old_folder_and_no_litter(tmp_path: Path) -> None:
    folder = tmp_path / "bar"
    write(folder, {"a": b"1"})
    with Outbox(folder) as box:
        box.write("a", b"2")  # and never finished
    assert contents(folder) == {"a": b"1"}
    assert names(tmp_path) == ["bar"]


def test_file_in_the_place_of_the_folder(tmp_path: Path) -> None:
    (tmp_path / "bar").write_bytes(b"a file")
    with pytest.raises(OutputError, match="has a file where a folder should be") as caught:
        write(tmp_path / "bar", {"a": b"1"})
    assert "\n" not in str(caught.value)
    assert (tmp_path / "bar").read_bytes() == b"a file"


def test_file_in_the_place_of_the_parent(tmp_path: Path) -> None:
    (tmp_path / "drawings").write_bytes(b"a file")
    with pytest.raises(OutputError, match="has a file where a folder should be"):
        write(tmp_path / "drawings" / "bar", {"a": b"1"})


def test_disk_that_fills_up(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = tmp_path / "bar"
    write(folder, {"a": b"1"})

    def full(self: Path, data: bytes) -> int:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(OutputError, match="the disk is full; free some space; the earlier output still stands"):
        write(folder, {"a": b"2"})
    monkeypatch.undo()
    assert contents(folder) == {"a": b"1"}


@pytest.mark.skipif(os.name != "posix", reason="limits of file size are set the POSIX way")
def test_a_real_limit_of_file_size_ends_in_one_line(tmp_path: Path) -> None:
    program = (
        "import resource, signal, sys\nfrom pathlib import Path\n"
        "from slotwright.errors import OutputError\nfrom slotwright.sharing.output import Outbox\n"
        "signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\nresource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))\n"
        "try:\n    with Outbox(Path(sys.argv[1])) as box:\n        box.write('a', b'x' * 5000)\n"
        "except OutputError as error:\n    print(error)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, str(tmp_path / "bar")], capture_output=True, text=True, check=True
    )
    assert "larger than this system allows" in done.stdout
    assert names(tmp_path) == []


def test_what_a_killed_run_left_is_mended(tmp_path: Path) -> None:
    folder = tmp_path / "bar"
    # a run killed between the two renames (where the system cannot exchange), and one killed while writing
    (tmp_path / ".bar.old").mkdir()
    (tmp_path / ".bar.old" / "notes.txt").write_bytes(b"mine")
    (tmp_path / f".bar.new-{dead_number()}").mkdir()
    write(folder, {"a": b"1"})
    assert contents(folder) == {"a": b"1", "notes.txt": b"mine"}
    assert names(tmp_path) == ["bar"]


def dead_number() -> int:
    """The number of a process that has ended."""
    dead = subprocess.Popen([sys.executable, "-c", ""])
    dead.wait()
    return dead.pid


def shop_with_leftovers(tmp_path: Path, number: int) -> list[Path]:
    left = [tmp_path / room / f".bars.toml.new-{number}" for room in ("parts", "fixtures", "drawings", "shared")]
    for path in left:
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(b"half")
    (tmp_path / "drawings" / f".bars.new-{number}" / "deep").mkdir(parents=True)
    return [*left, tmp_path / "drawings" / f".bars.new-{number}"]


@pytest.mark.parametrize("room", ["fixtures", "drawings", "shared"])
@pytest.mark.parametrize("way", ["folder", "file", "new file"])
def test_any_run_that_writes_clears_what_dead_runs_left_in_the_workspace(room: str, way: str, tmp_path: Path) -> None:
    left = shop_with_leftovers(tmp_path, dead_number())
    if way == "folder":
        write(tmp_path / room / "other", {"a": b"1"})
    else:
        (write_whole if way == "file" else write_new)(tmp_path / room / "other", b"1", "other")
    assert [path for path in left if path.exists()] == []
    assert (tmp_path / room / "other").exists()


def test_what_a_living_run_is_at_stays_for_a_day(tmp_path: Path) -> None:
    with subprocess.Popen([sys.executable, "-c", "input()"], stdin=subprocess.PIPE) as living:
        left = shop_with_leftovers(tmp_path, living.pid)
        write_whole(tmp_path / "fixtures" / "other", b"1", "other")
        assert all(path.exists() for path in left)
        for path in left:
            os.utime(path, (0, 0))  # its number was given anew since
        write_whole(tmp_path / "fixtures" / "other", b"2", "other")
        assert not any(path.exists() for path in left)


def test_files_of_the_users_own_stay(tmp_path: Path) -> None:
    mine = [tmp_path / "parts" / name for name in (".bars.toml", "bars.new-1", ".bars.new-", ".bars.new-x", ".new-7")]
    mine[0].parent.mkdir()
    for path in mine:
        path.write_bytes(b"mine")
    write_whole(tmp_path / "fixtures" / "other", b"1", "other")
    assert all(path.exists() for path in mine)


def test_a_system_that_cannot_exchange_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("slotwright.sharing.output._exchange", lambda a, b: False)
    folder = tmp_path / "bar"
    write(folder, {"a": b"1"})
    write(folder, {"a": b"2"}, made_before=("a",))
    assert contents(folder) == {"a": b"2"}
    assert names(tmp_path) == ["bar"]
