"""Random and mutated input for every reader: each ends well or in one line; nothing else is raised, nothing hangs.

Hypothesis's own deadline is the guard against hanging: three seconds an example, for slow machines.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from slotwright.fixtures.family import families
from tests.sharing import fuzzing
from tests.sharing.packs import DESIGN, contents, pack, with_manifest

FUZZ = settings(deadline=3000, max_examples=150, suppress_health_check=[HealthCheck.too_slow])
SIZES = st.text(st.sampled_from("0123456789.,-/'\"# °xXMUNCFinmdegk lbNHhg\\²½−\x00\u202e"), max_size=70) | st.text(
    max_size=70
)
SOUND = pack()
FILES = with_manifest(contents())
WORDS = (
    "kind", "name", "unit", "table", "tables", "rack", "row", "first", "pitch", "number", "slots", "centres", "part",
    "mm", "in", "none", "hold-down-bar", "40 mm", "1/2 in", "-9999 mm", "0 mm", "tapped", "reamed", "clear", "M12",
    "1/2-13 UNC", "along", "sunk", "38 kg", "45 deg", "asme", "\x1b[31m", "\u202e", "../x", "con",
)  # fmt: skip
LEAVES = (
    st.sampled_from(WORDS)
    | st.integers()
    | st.floats()
    | st.booleans()
    | st.text(max_size=12)
    | st.sampled_from((10**400, -(2**63), 1))
)
VALUES = st.recursive(
    LEAVES,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.sampled_from(WORDS), inner, max_size=6),
    max_leaves=25,
)


@FUZZ
@given(SIZES)
@example("1" * 64)
@example("9" * 9 + "/" + "64 in")
def test_sizes(text: str) -> None:
    fuzzing.read_sizes(text)


@FUZZ
@given(st.binary(max_size=400) | st.text(max_size=400).map(lambda text: text.encode("utf-8", "surrogatepass")))
def test_design_of_random_bytes(data: bytes) -> None:
    fuzzing.read_design(data)


@FUZZ
@given(st.data())
def test_design_with_parts_exchanged(data: st.DataObject) -> None:
    """A sound design in which pieces are cut out, doubled or replaced by words of the trade."""
    text = DESIGN
    for _ in range(data.draw(st.integers(1, 4))):
        start = data.draw(st.integers(0, len(text)))
        end = data.draw(st.integers(start, min(len(text), start + 40)))
        new = data.draw(
            st.sampled_from((*WORDS, "", "\n", '"', "[", "]]", "=", text[start:end] * 2)) | st.text(max_size=5)
        )
        text = text[:start] + new + text[end:]
    fuzzing.read_design(text.encode("utf-8", "surrogatepass"))


@FUZZ
@given(st.dictionaries(st.sampled_from(WORDS), VALUES, max_size=10))
def test_design_of_random_values(values: dict[str, Any]) -> None:
    """Data as TOML could bring it, past the parser."""
    fuzzing.solve_data(values)


@FUZZ
@given(st.data())
def test_sound_design_with_one_value_exchanged(data: st.DataObject) -> None:
    """Every place of a starter design of every kind takes every sort of value in turn."""
    values = fuzzing.sound_data(data.draw(st.sampled_from(sorted(families())), label="kind"))
    place: Any = values
    while True:
        key = data.draw(st.sampled_from(list(place) if isinstance(place, dict) else range(len(place))))
        if not isinstance(place[key], dict | list) or not place[key] or data.draw(st.booleans()):
            break
        place = place[key]
    place[key] = data.draw(VALUES)
    fuzzing.solve_data(values)


@FUZZ
@given(st.binary(max_size=300), st.booleans())
def test_pack_of_random_bytes(data: bytes, magic: bool) -> None:
    fuzzing.receive(b"PK\x03\x04" * magic + data)


@FUZZ
@given(st.data())
def test_pack_with_bytes_changed(data: st.DataObject) -> None:
    changed = bytearray(SOUND)
    for _ in range(data.draw(st.integers(1, 6))):
        at = data.draw(st.integers(0, len(changed) - 1))
        change: Callable[[], object] = data.draw(
            st.sampled_from(
                (
                    lambda at=at: changed.__setitem__(at, data.draw(st.integers(0, 255))),
                    lambda at=at: changed.__delitem__(slice(at, at + data.draw(st.integers(1, 50)))),
                    lambda at=at: changed.__setitem__(slice(at, at), data.draw(st.binary(max_size=50))),
                    lambda at=at: changed.extend(changed[at : at + 100]),
                )
            )
        )
        change()
        if not changed:
            break
    fuzzing.receive(bytes(changed))


@FUZZ
@given(st.data())
def test_pack_whose_files_are_changed_and_whose_sums_are_true(data: st.DataObject) -> None:
    name = data.draw(st.sampled_from([name for name in FILES if name != "manifest.json"]))
    old = FILES[name]
    at = data.draw(st.integers(0, len(old)))
    new = data.draw(
        st.binary(max_size=30) | st.sampled_from((b"=1+1", b"<script>", b"/JavaScript", b"\x1b", b"\xe2\x80\xae"))
    )
    fuzzing.receive_mended(FILES | {name: old[:at] + new + old[at + data.draw(st.integers(0, 40)) :]})


@FUZZ
@given(
    st.dictionaries(
        st.sampled_from(("format", "program", "name", "title", "content-id", "author", "files", "x")), VALUES
    )
)
def test_pack_with_a_random_manifest(values: dict[str, Any]) -> None:
    fuzzing.receive_saying(values)
