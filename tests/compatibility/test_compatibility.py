"""The compatibility promise: files of every released format version are never edited and keep loading for ever."""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path

import pytest

from slotwright.sharing.receive import look_at
from slotwright.sharing.set_up import set_up

HERE = Path(__file__).parent
# When a version is released, its folder is added with its sums; a line here is never changed.
SUMS = {
    "1.0/README.md": "4fa5d9d29bda15c2c8498031c3cdb7359b0754d31f53e23045ab82d6d24b241f",
    "1.0/fixtures/across-inch.toml": "3cc805705ef4d21898da5b6258aaca3675258245338cbb0c5e748138c4b734eb",
    "1.0/fixtures/across-metric.toml": "1fc49cd62ee3ff951852ede321ce309d036d23434665bdefdec6e9fc369a1309",
    "1.0/fixtures/along-inline.toml": "392f5ae60381a753b5d36b5c69433855e6674acf7cc40f79349678b95dd9a5e9",
    "1.0/parts/bay-mill.toml": "34df5f10f60a6a3d57c3582f0717d3db8c88f9a2a1fae729a0635f7adaf9bdc6",
    "1.0/parts/drawer.toml": "2feac1bd291e9e677193fc5dfd3f2ccc1f68a08e418bcff60f595e1ee13c6862",
    "1.0/parts/rack.toml": "e158c2eea6fca0a8c01f0b8c17b27d01e11970272a94e722de9168b25e0fd58d",
    "1.0/parts/worn-mill.toml": "c85ae974c6fa35249de006ed5a1e1117382a26ba99f5af7968dd8a5a3996f2ad",
    "1.0/shared/across-metric.zip": "e6b708edfd8e7fc0f698fca5bf00d1001b756ed7f9bc31a7f19eda708b789dac",
}
METRIC = [25.0, 65.0, 105.0, 145.0, 45.0, 125.0, 235.5, 298.5, 424.5]
"""Work holes as given, then slots 1, 2 and 4: (280 - 3 x 63)/2 = 45.5 from the front edge, 63 apart, 190 overhang."""


def places(file: Path) -> list[float]:
    (piece,) = set_up(file).pieces
    return sorted(round(hole.x, 6) for hole in piece.holes)


def test_no_file_was_edited_added_or_lost() -> None:
    there = {path.relative_to(HERE).as_posix(): path for path in HERE.glob("*.*/**/*") if path.is_file()}
    assert {name: sha256(path.read_bytes()).hexdigest() for name, path in there.items()} == SUMS


@pytest.mark.parametrize(
    ("design", "expected"),
    [
        pytest.param("across-metric", METRIC, id="1.0-across-metric"),
        # Inches: 1, 2.5, 4 and 5.5 as given; slots at 2, 4.5 and 7 from the front edge and 7.5 overhang.
        pytest.param("across-inch", [25.4 * x for x in (1, 2.5, 4, 5.5, 9.5, 12, 14.5)], id="1.0-across-inch"),
        # Two bolts spread evenly over 300: at a quarter and three quarters.
        pytest.param("along-inline", [75.0, 225.0], id="1.0-along-inline"),
    ],
)
def test_design_loads_and_means_the_same(design: str, expected: list[float]) -> None:
    assert places(HERE / "1.0" / "fixtures" / f"{design}.toml") == pytest.approx(sorted(expected), abs=1e-6)


def test_pack_is_received_and_means_the_same() -> None:
    received = look_at(HERE / "1.0" / "shared" / "across-metric.zip", "across-metric.zip")
    assert received.manifest.format == "1.0"
    assert received.made.content_id == received.manifest.content_id
    assert sorted(round(hole.x, 6) for hole in received.made.pieces[0].holes) == sorted(METRIC)
    assert "Castings that hang over the front of the table" in received.card
