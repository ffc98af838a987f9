"""The committed drawings of the demo designs, compared by meaning with what the program makes now."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import ezdxf
import pypdfium2
import pytest

from slotwright.fixtures.scripted import load_scripts
from slotwright.sharing.make import make
from slotwright.sharing.set_up import set_up
from tests.kernel_reading import box, holes, read_step

ROOT = Path(__file__).parents[1]
SCRIPT = ROOT / "fixtures" / "scripts" / "anvil-saddle.py"
DESIGNS = [*sorted((ROOT / "fixtures").glob("*.toml")), SCRIPT.with_suffix(".toml")]


@pytest.fixture(scope="module", params=DESIGNS, ids=lambda path: path.stem)
def pair(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """The committed folder and the one made now."""
    made = set_up(request.param, load_scripts([SCRIPT]) if request.param.stem == SCRIPT.stem else ())
    folder = tmp_path_factory.mktemp("drawings") / made.name
    make(made, folder, made.name, tell=lambda step: None)
    return ROOT / "drawings" / made.name, folder


def files(pair: tuple[Path, Path], ending: str) -> list[tuple[bytes, bytes]]:
    committed, made = pair
    names = sorted(path.name for path in made.glob(f"*{ending}"))
    assert names, f"no {ending} was made"
    assert names == sorted(path.name for path in committed.glob(f"*{ending}")), "the committed set is not the made one"
    return [((committed / name).read_bytes(), (made / name).read_bytes()) for name in names]


def test_solids(pair: tuple[Path, Path]) -> None:
    for old, new in files(pair, ".step"):
        before, now = read_step(old), read_step(new)
        assert [(p.name, p.copy_name) for p in before.parts] == [(p.name, p.copy_name) for p in now.parts]
        for a, b in zip(before.parts, now.parts, strict=True):
            assert a.shape.Volume() == pytest.approx(b.shape.Volume(), rel=1e-9)
            assert sum(box(a.shape), ()) == pytest.approx(sum(box(b.shape), ()), abs=1e-6)
            was = [(*h.start, *h.end, h.radius) for h in holes(a.shape)]
            assert was == [pytest.approx((*h.start, *h.end, h.radius), abs=1e-6) for h in holes(b.shape)]


def test_drawings(pair: tuple[Path, Path]) -> None:
    for old, new in files(pair, ".dxf"):
        before, now = (dxf_meaning(data) for data in (old, new))
        assert before["texts"] == now["texts"]
        assert before["measured"] == pytest.approx(now["measured"], abs=1e-6)
        assert before["circles"] == [pytest.approx(circle, abs=1e-6) for circle in now["circles"]]


def dxf_meaning(data: bytes) -> dict[str, list[object]]:
    document = ezdxf.read(io.StringIO(data.decode()))  # type: ignore[attr-defined]  # ezdxf does not list it as public
    space = document.modelspace()
    texts = sorted(t.dxf.text for layout in document.layouts for t in layout.query("TEXT"))
    circles = sorted((*c.dxf.center.vec2, c.dxf.radius) for c in space.query("CIRCLE"))
    measured = sorted(d.dxf.actual_measurement for d in space.query("DIMENSION"))
    return {"texts": texts, "circles": circles, "measured": measured}


def test_papers_say_the_same(pair: tuple[Path, Path]) -> None:
    for old, new in files(pair, ".pdf"):
        assert pdf_text(old) == pdf_text(new)


def pdf_text(data: bytes) -> list[str]:
    document = pypdfium2.PdfDocument(data)
    return [page.get_textpage().get_text_range() for page in document]


def test_lists(pair: tuple[Path, Path]) -> None:
    for old, new in files(pair, ".csv"):
        before, now = (list(csv.reader(io.StringIO(data.decode()))) for data in (old, new))
        assert len(before) == len(now)
        for a, b in zip(before, now, strict=True):
            assert [cell(x) for x in a] == [pytest.approx(cell(x), abs=1e-6) for x in b]


def cell(text: str) -> float | str:
    try:
        return float(text)
    except ValueError:
        return text


def test_findings(pair: tuple[Path, Path]) -> None:
    ((old, new),) = files(pair, ".json")
    before, now = json.loads(old), json.loads(new)
    for key in ("content-id", "worst"):
        assert before[key] == now[key]
    assert [(f["code"], f["severity"], f["place"]) for f in before["findings"]] == [
        (f["code"], f["severity"], f["place"]) for f in now["findings"]
    ]
