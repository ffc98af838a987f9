"""STEP files read back: by the kernel, and as text by a reader of a few lines that shares nothing with it."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from OCP.Interface import Interface_Static
from OCP.Message import Message, Message_Gravity
from OCP.STEPCAFControl import STEPCAFControl_Writer

from slotwright.pieces.cadquery_solid import cadquery_solid
from slotwright.pieces.features import Counterbore, Hole
from slotwright.pieces.solid import Solids
from slotwright.pieces.step import HARDWARE_COLOUR, TABLE_COLOUR, assembly_step, piece_step
from tests.kernel_reading import box, holes, is_whole, read_step
from tests.pieces.examples import BAR, NUT, STEEL, STUD, T_NUT, TABLE, WASHER, piece, set_up

TITLE = "Bonnet outriggers"


def _entities(data: bytes) -> dict[int, str]:
    """The data section of a STEP file by instance number (ISO 10303-21, clear text encoding)."""
    text = re.sub(r"\n\s*", "", data.decode("ascii").partition("DATA;")[2])
    return {int(number): body for number, body in re.findall(r"#(\d+) ?= ?(.*?);(?=#|ENDSEC)", text)}


def _of_kind(data: bytes, kind: str) -> list[str]:
    return [body for body in _entities(data).values() if body.startswith(f"{kind}(")]


def test_piece_bears_its_name_and_its_materials_colour() -> None:
    back = read_step(piece_step(BAR))
    assert back.title == "outrigger"
    assert back.parts[0].colour == pytest.approx(STEEL.colour, abs=1e-6)


def test_piece_comes_back_whole() -> None:
    made = piece(
        Hole(x=20.0, y=15.0, diameter=12.0, depth=11.0),
        Hole(x=45.0, y=25.0, diameter=8.0, counterbore=Counterbore(diameter=14.0, depth=6.0)),
        Hole(x=75.0, y=20.0, diameter=9.0, slot_extra=5.0, slot_angle=20.0),
        edge_chamfer=1.0,
    )
    shape = read_step(piece_step(made)).parts[0].shape
    assert is_whole(shape)
    assert shape.Volume() == pytest.approx(made.volume, rel=1e-9)
    low, high = box(shape)
    assert low == pytest.approx((0.0, 0.0, 0.0), abs=1e-9)
    assert high == pytest.approx((100.0, 40.0, 20.0), abs=1e-9)


def test_text_of_the_file_has_the_holes() -> None:
    entities = _entities(piece_step(BAR))
    found = []
    for body in entities.values():
        if body.startswith("CYLINDRICAL_SURFACE("):
            placement, radius = re.findall(r"'',#(\d+),([\d.E+-]+)", body)[0]
            point = entities[int(re.findall(r"#(\d+)", entities[int(placement)])[0])]
            x, y = (float(value) for value in re.findall(r"-?\d+\.[\dE+-]*", point)[:2])
            found.append((x, y, 2.0 * float(radius)))
    asked = sorted((hole.x, hole.y, hole.diameter) for hole in BAR.holes)
    assert sorted(found) == [pytest.approx(hole, abs=1e-9) for hole in asked]


def test_lengths_are_millimetres() -> None:
    data = piece_step(BAR)
    assert b"SI_UNIT(.MILLI.,.METRE.)" in data
    assert b"CONVERSION_BASED_UNIT" not in data


def test_assembly_places_every_item() -> None:
    back = read_step(assembly_step(set_up(), TITLE))
    assert back.title == TITLE
    counts = {name: len(back.copies(name)) for name in {part.name for part in back.parts}}
    bought = {item.title: 6 for item in (T_NUT, STUD, WASHER, NUT)}
    assert counts == {TABLE.title: 1, "outrigger": 2, **bought}


def test_assembly_colours() -> None:
    back = read_step(assembly_step(set_up(), TITLE))
    assert back.part(TABLE.title).colour == pytest.approx(TABLE_COLOUR, abs=1e-6)
    assert back.part("outrigger").colour == pytest.approx(STEEL.colour, abs=1e-6)
    assert back.part(STUD.title).colour == pytest.approx(HARDWARE_COLOUR, abs=1e-6)


def test_copies_are_numbered() -> None:
    back = read_step(assembly_step(set_up(), TITLE))
    assert [part.copy_name for part in back.copies("outrigger")] == ["outrigger (1)", "outrigger (2)"]


def test_each_distinct_solid_is_written_once() -> None:
    data = assembly_step(set_up(), TITLE)
    assert len(_of_kind(data, "MANIFOLD_SOLID_BREP")) == 6  # table, bar, T-nut, stud, washer, nut
    assert len(_of_kind(data, "NEXT_ASSEMBLY_USAGE_OCCURRENCE")) == 27
    back = read_step(data)
    assert len({part.shared for part in back.parts}) == 6
    one, other = back.copies("outrigger")
    assert one.shape.wrapped.IsPartner(other.shape.wrapped)


def test_bar_turned_a_quarter_lies_exactly_across_the_table() -> None:
    first = read_step(assembly_step(set_up(), TITLE)).part("outrigger")
    low, high = box(first.shape)
    assert low == pytest.approx((160.0, -40.0, 0.0), abs=1e-9)  # 40 mm wide, to the left of its datum at X = 200
    assert high == pytest.approx((200.0, 280.0, 20.0), abs=1e-9)


def test_bolts_pass_through_the_bars_holes_over_the_slots() -> None:
    back = read_step(assembly_step(set_up(), TITLE))
    drilled = [hole.start[:2] for bar in back.copies("outrigger") for hole in holes(bar.shape) if hole.radius > 6.0]
    studs = [part.shape.Center().toTuple()[:2] for part in back.copies(STUD.title)]
    assert sorted(drilled) == [pytest.approx(at, abs=1e-9) for at in sorted(studs)]
    assert sorted({round(y, 9) for _, y in drilled}) == list(TABLE.slot_centres)


def test_solids_made_before_are_used_again(monkeypatch: pytest.MonkeyPatch) -> None:
    solids = Solids()
    first = piece_step(BAR, solids)
    monkeypatch.setattr("slotwright.pieces.solid.solid", lambda _: pytest.fail("a solid was built twice"))
    assert piece_step(BAR, solids) == first
    assert read_step(assembly_step(set_up(), TITLE, solids)).copies("outrigger")


def test_every_reference_is_defined_once() -> None:
    data = assembly_step(set_up(), TITLE)
    entities = _entities(data)
    numbers = re.findall(rb"^#(\d+) ?=", data, re.MULTILINE)
    assert len(numbers) == len(set(numbers)) == len(entities)
    used = {int(n) for body in entities.values() for n in re.findall(r"#(\d+)", re.sub(r"'[^']*'", "", body))}
    assert used <= set(entities)


def test_header_says_what_and_not_when_where_or_by_whom() -> None:
    header = re.sub(r"\n\s*", "", piece_step(BAR).decode("ascii").partition("DATA;")[0])
    name = re.search(r"FILE_NAME\((.*?)\);", header)
    assert name is not None
    assert re.fullmatch(r"'outrigger','',\(''\),\(''\),'[^']*','Slotwright',''", name[1])
    assert "FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'))" in header  # ISO 10303-214, long form


@pytest.mark.parametrize(
    ("name", "written"),
    [
        pytest.param("Bügel ⌀12", rb"B\X2\00FC\X0\gel \X2\2300\X0\12", id="X2-UTF-16-code-units"),
        pytest.param("nut 🔩", rb"nut \X4\0001F529\X0" + b"\\", id="X4-UTF-32-beyond-the-basic-plane"),
        pytest.param("3' bar", b"3'' bar", id="apostrophe-doubled"),
        pytest.param("a\\b", b"a\\\\b", id="backslash-doubled"),
    ],
)
def test_names_are_encoded_as_iso_10303_21_has_it(name: str, written: bytes) -> None:
    data = piece_step(replace(BAR, name=name, holes=()))
    assert b"PRODUCT('" + written in data
    data.decode("ascii")
    assert read_step(data).title == name


def test_a_long_name_comes_back() -> None:
    name = " ".join(["Haltebügel"] * 12)
    assert read_step(assembly_step(set_up(), name)).title == name


def test_a_piece_cut_in_two_is_still_written() -> None:
    cut = piece(Hole(x=50.0, y=20.0, diameter=44.0))
    back = read_step(piece_step(cut)).parts[0]
    assert len(back.shape.Solids()) == 2
    assert back.shape.Volume() == pytest.approx(cadquery_solid(cut).Volume(), rel=1e-9)


def test_second_write_in_the_process_has_the_same_bytes() -> None:
    assert assembly_step(set_up(), TITLE) == assembly_step(set_up(), TITLE)
    assert piece_step(BAR) == piece_step(BAR)


def test_settings_of_the_kernel_are_put_back() -> None:
    Interface_Static.SetIVal_s("write.surfacecurve.mode", 1)
    Interface_Static.SetCVal_s("write.step.unit", "INCH")
    try:
        data = piece_step(BAR)
        assert Interface_Static.IVal_s("write.surfacecurve.mode") == 1
        assert Interface_Static.CVal_s("write.step.unit") == "INCH"
        assert b"SI_UNIT(.MILLI.,.METRE.)" in data
    finally:
        Interface_Static.SetIVal_s("write.surfacecurve.mode", 0)
        Interface_Static.SetCVal_s("write.step.unit", "MM")


def test_kernel_is_silent(capfd: pytest.CaptureFixture[str]) -> None:
    piece_step(BAR)
    assembly_step(set_up(), TITLE)
    assert capfd.readouterr() == ("", "")


def test_what_the_kernel_has_to_say_while_writing_stays_off_the_terminal(
    capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    messenger = Message.DefaultMessenger_s()

    def complaining() -> object:
        messenger.Send("a complaint of the kernel", Message_Gravity.Message_Fail)
        return STEPCAFControl_Writer()

    monkeypatch.setattr("slotwright.pieces.step.STEPCAFControl_Writer", complaining)
    piece_step(BAR)
    assert capfd.readouterr() == ("", "")
    messenger.Send("heard again afterwards", Message_Gravity.Message_Fail)
    assert "heard again afterwards" in "".join(capfd.readouterr())


WRITE = """
import hashlib
from tests.pieces.examples import BAR, piece, set_up
from slotwright.pieces.features import Counterbore, Hole
from slotwright.pieces.step import assembly_step, piece_step

meeting = [Hole(x=20.0 + 6.0 * n, y=20.0, diameter=9.0, depth=12.0) for n in range(9)]
sunk = [Hole(x=12.0 + 19.0 * n, y=20.0, diameter=9.0, counterbore=Counterbore(diameter=15.0, depth=8.0), slot_extra=2.0)
        for n in range(5)]
files = [piece_step(BAR), assembly_step(set_up(), "Set-up")]
files += [piece_step(piece(*holes, edge_chamfer=1.0)) for holes in (meeting, sunk)]
print(*(hashlib.sha256(data).hexdigest() for data in files))
"""


def test_other_processes_write_the_same_bytes(tmp_path: Path) -> None:
    """Another folder, time zone, locale, hash seed, user and host name, and one processor less."""
    root = str(Path(__file__).parents[2])
    far = {
        "TZ": "Pacific/Apia",
        "LC_ALL": "de_DE.UTF-8",
        "LANG": "de_DE.UTF-8",
        "PYTHONHASHSEED": "7",
        "USER": "miller",
    }
    near = {"TZ": "UTC", "LC_ALL": "C", "PYTHONHASHSEED": "0", "HOSTNAME": "mill"}
    one_core = "import os; hasattr(os, 'sched_setaffinity') and os.sched_setaffinity(0, [min(os.sched_getaffinity(0))])"
    runs = [
        subprocess.Popen(
            [sys.executable, "-c", before + WRITE],
            env={**os.environ, **settings, "PYTHONPATH": root},
            cwd=folder,
            stdout=subprocess.PIPE,
            text=True,
        )
        for before, settings, folder in (("", near, root), (one_core, far, str(tmp_path)))
    ]
    near_sums, far_sums = (run.communicate()[0].split() for run in runs)
    assert len(near_sums) == 4
    assert near_sums == far_sums
