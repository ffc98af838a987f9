"""The proof of files: what the file alone says, texts moved in real drawings, damaged and foreign files, speed."""

from __future__ import annotations

from io import StringIO
from random import Random
from time import perf_counter

import pytest
from ezdxf.document import Drawing as Document
from ezdxf.entities.dxfobj import XRecord
from ezdxf.filemanagement import new as new_document
from ezdxf.filemanagement import read as read_document
from ezdxf.math import Vec3

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.sheet import (
    Anchor,
    Line,
    Text,
)
from slotwright.drawings.paper.style import style
from slotwright.drawings.proof import Kind, proof, proof_of
from slotwright.drawings.proofing.reading import NotADrawingError
from slotwright.drawings.writers.dxf import VIEWS, dxf_bytes
from tests.drawings.small_sheet import ROOM, RX, RY, H, drawing, hold, only, stroke
from tests.random_designs import drawings, random_set_up, set_up_from


def test_text_with_drawn_signs_is_one_text_again() -> None:
    """In the file it is pieces of text and inserts; its box is that of the whole line."""
    words = "4× ⌀6.6 ↧20 / ⌴⌀11 ↧6.5"
    long = lettering.width(words, H)
    line = stroke((RX + long / 2 - 0.5, RY - 9), (RX + long / 2 - 0.5, RY + 9), line=Line.NOTE)
    for angle in (0.0, 90.0):
        text = Text(ROOM, words, H, Anchor.CENTRE, angle, True)
        crossing = (
            line
            if angle == 0.0
            else stroke((RX - 9, RY + long / 2 - 0.5), (RX + 9, RY + long / 2 - 0.5), line=Line.NOTE)
        )
        found = only(drawing(text, crossing))
        assert found.what == f'"{words}"'


def test_views_are_known_from_the_file() -> None:
    data = dxf_bytes(drawing(), style("iso", "mm"))
    record = read_document(StringIO(data.decode())).rootdict.get(VIEWS)
    assert isinstance(record, XRecord)
    assert [value for code, value in record.tags if code == 1] == ["plan"]


def test_what_it_cannot_judge_it_says() -> None:
    document = read_document(StringIO(dxf_bytes(drawing(), style("iso", "mm")).decode()))
    document.paperspace("Sheet 1").add_spline([(20, 20), (30, 30), (40, 20)])
    assert [v.kind for v in proof(_written(document))] == [Kind.UNREAD]


def _written(document: Document) -> bytes:
    stream = StringIO()
    document.write(stream)
    return stream.getvalue().encode()


def test_text_moved_in_a_real_drawing() -> None:
    """In written files of real designs each of some texts is moved onto another; every time both are named."""
    one, how = next(iter(drawings(random_set_up(3))))
    data = dxf_bytes(one, how)
    before = {(v.kind, v.what, v.against) for v in proof(data)}
    random = Random(11)
    document = read_document(StringIO(data.decode()))
    sheet = document.paperspace("Sheet 1")
    notes = [
        e
        for e in sheet.query('TEXT[layer=="NOTE"]')
        if len(e.dxf.text) > 3 and "halign" not in e.dxf.all_existing_dxf_attribs()
    ]
    assert len(notes) > 5
    for _ in range(12):
        moved, onto = random.sample(notes, 2)
        home = moved.dxf.insert
        moved.dxf.insert = onto.dxf.insert + Vec3(0.5, 0.5)
        found = {(v.kind, v.what, v.against) for v in proof(_written(document))} - before
        named = {frozenset((what, against)) for kind, what, against in found if kind is Kind.TEXT_ON_TEXT}
        pair = {_as_shown(moved.dxf.text), _as_shown(onto.dxf.text)}
        assert frozenset(pair) in named
        moved.dxf.insert = home
    assert {(v.kind, v.what, v.against) for v in proof(_written(document))} == before


def _as_shown(words: str) -> str:
    return f'"{words.replace("%%c", "⌀")}"'


def test_dimension_text_moved_in_a_real_drawing() -> None:
    """A dimension's text is pushed along its own reading direction until it meets what stands there."""
    one, how = next(iter(drawings(random_set_up(3))))
    data = dxf_bytes(one, how)
    assert not any(v.kind is Kind.LINE_THROUGH_TEXT for v in proof(data))
    document = read_document(StringIO(data.decode()))
    model = document.modelspace()
    dimension = next(d for d in model.query("DIMENSION") if d.dxf.dimtype & 7 == 0)
    block = document.blocks.get(dimension.dxf.geometry)
    text = block.query("TEXT").first
    line = next(e for e in block.query("LINE") if abs((e.dxf.end - e.dxf.start).x) > abs((e.dxf.end - e.dxf.start).y))
    middle = (line.dxf.start + line.dxf.end) / 2
    for name in ("insert", "align_point"):
        if text.dxf.hasattr(name):
            text.dxf.set(name, middle - (0.0, text.dxf.height / 2.0, 0.0))
    assert any(v.kind is Kind.LINE_THROUGH_TEXT for v in proof(_written(document)))


@pytest.mark.parametrize("seed", range(0, 40, 8))
def test_file_and_drawing_are_judged_alike(seed: int) -> None:
    for one, how in drawings(random_set_up(seed)):
        from_file, before = (
            {(v.kind, v.what, v.against) for v in found} for found in (proof(dxf_bytes(one, how)), proof_of(one))
        )
        assert from_file == before


# Bad files


@pytest.mark.parametrize(
    "data",
    [
        pytest.param(b"", id="empty"),
        pytest.param(b"not a drawing", id="words"),
        pytest.param(bytes(range(256)) * 40, id="bytes"),
        pytest.param(b"  0\nSECTION\n  2\nENTITIES\n", id="cut"),
    ],
)
def test_no_dxf_file(data: bytes) -> None:
    with pytest.raises(NotADrawingError, match="no DXF file"):
        proof(data)


def test_dxf_file_of_another_program() -> None:
    with pytest.raises(NotADrawingError, match="another program"):
        proof(_written(new_document()))


@pytest.mark.filterwarnings("ignore")  # the drawing library warns of odd numbers on its way to refusing them
def test_damaged_files_are_judged_or_refused() -> None:
    data = dxf_bytes(drawing(hold(ROOM)), style("iso", "mm"))
    random, refused = Random(5), 0
    lines = data.split(b"\n")
    for _ in range(60):
        torn = list(lines)
        for _ in range(random.choice((1, 3))):
            torn[random.randrange(len(torn))] = random.choice((b"1e999", b"nan", b"-1", b"1e12", b"", b"LINE", b"0"))
        try:
            proof(b"\n".join(torn[: random.choice((len(torn), random.randrange(len(torn))))]))
        except NotADrawingError:
            refused += 1
    assert 10 < refused < 60


def test_speed_of_a_sheet_with_512_holes() -> None:
    """A ratio in one run: proofing the file takes at most three times what only reading it with ezdxf does."""

    one, how = next(iter(drawings(set_up_from(_many(512), "many"))))
    data = dxf_bytes(one, how)
    text = data.decode()
    best = {"read": float("inf"), "proof": float("inf")}
    for _ in range(3):
        for name, work in (("read", lambda: read_document(StringIO(text))), ("proof", lambda: proof(data))):
            start = perf_counter()
            work()
            best[name] = min(best[name], perf_counter() - start)
    assert best["proof"] < 3.0 * best["read"]


def _many(count: int) -> dict[str, object]:
    pitch = 2700.0 / (count // 4)
    rows = [
        {"make": "tapped", "thread": "M8", "row": {"first": "30 mm", "pitch": f"{pitch} mm", "number": count // 4},
         "across": f"{across} mm"}
        for across in (-60, -20, 25, 65)
    ]  # fmt: skip
    return {
        "slotwright": 1,
        "title": "Many holes",
        "unit": "mm",
        "table": {"name": "mill", "length": "3000 mm", "width": "800 mm",
                  "slots": {"width": "14 mm", "number": 8, "pitch": "90 mm"}},
        "fixture": [{"kind": "hold-down-bar", "name": "bar", "width": "200 mm", "thickness": "20 mm",
                     "length": "2800 mm", "direction": "along", "bolts": 6, "work-hole": rows}],
    }  # fmt: skip
