"""The JSON Schema of a design file, by an independent validator: it takes what the program takes, and names a fault."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from slotwright import sizes
from slotwright.errors import SizeError
from slotwright.fixtures.family import families
from slotwright.sharing.starters import schema_of, starter
from tests.fixtures.random_settings import CASES

ROOT = Path(__file__).parents[2]
SCHEMA = schema_of("design")
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)
BAR: dict[str, Any] = {
    "slotwright": 1, "title": "Bars", "unit": "mm", "table": "mill",
    "fixture": [{"kind": "hold-down-bar", "name": "bar", "length": "300 mm", "width": "50 mm", "thickness": "25 mm"}],
}  # fmt: skip


def _faults(data: dict[str, Any]) -> list[tuple[str, str]]:
    """Place and broken rule of each fault."""
    return [("/".join(map(str, fault.absolute_path)), str(fault.validator)) for fault in VALIDATOR.iter_errors(data)]


def test_it_is_a_schema_of_its_draft() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("path", sorted((ROOT / "fixtures").glob("*.toml")), ids=lambda path: path.stem)
def test_demo_designs_are_valid(path: Path) -> None:
    assert _faults(tomllib.loads(path.read_text(encoding="utf-8"))) == []


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("kind", sorted(families()))
def test_starters_are_valid(kind: str, unit: str, tmp_path: Path) -> None:
    assert _faults(tomllib.loads(starter(kind, unit, None, tmp_path))) == []


@pytest.mark.parametrize("kind", sorted(CASES))
def test_random_settings_are_valid(kind: str) -> None:
    for number in range(20):
        data, unit, _, _ = CASES[kind].case(number)
        design = {"slotwright": 1, "title": "Gear", "unit": unit, "table": "mill", "fixture": [{"kind": kind, **data}]}
        assert _faults(design) == []


def _with(**changed: Any) -> dict[str, Any]:
    return {**BAR, "fixture": [{**BAR["fixture"][0], **changed}]}


@pytest.mark.parametrize(
    ("data", "place", "rule"),
    [
        (_with(lenght="300 mm"), "fixture/0", "additionalProperties"),
        (_with(length="300"), "fixture/0/length", "pattern"),
        (_with(length="300 mmm"), "fixture/0/length", "pattern"),
        (_with(length="7,5 in"), "fixture/0/length", "pattern"),
        (_with(length=300), "fixture/0/length", "type"),
        (_with(kind="hold-down-bra"), "fixture/0/kind", "enum"),
        ({**BAR, "fixture": [{"name": "bar"}]}, "fixture/0", "required"),
    ],
)
def test_a_fault_is_named_where_it_is(data: dict[str, Any], place: str, rule: str) -> None:
    assert _faults(BAR) == []
    assert _faults(data) == [(place, rule)]


# Written as the tables of threads, drawings and tape measures write them.
WRITTEN = {
    "length": ["12.7 mm", "31-13/16 in", '31 13/16"', '1/2"', ".500 in", "3' 6-1/2\"", "5 ft 6 in", "2 ft", "-7.5in",
               " 40 mm ", "1 inch", "2.5 cm", "7. mm", "1/64 in", "5280 feet"],
    "angle": ["45 deg", "23 deg 41'", "90°", "-0.5 deg", "12 degrees", "7 deg 5 min"],
    "mass": ["38 kg", "84 lb", "12.5 oz", "0.3 t", "84 lbs"],
    "force": ["8000 N", "8 kN", "1800 lbf"],
    "torque": ["88 N.m", "65 lbf.ft", "40 lbf in", "9 Nm", "9 N m"],
    "stress": ["640 MPa", "92 ksi", "36000 psi", "235 N/mm2"],
}  # fmt: skip
NONE = [
    "",
    "12",
    "mm",
    "M12",
    "1/2-13 UNC",
    "12 mm mm",
    "twelve mm",
    "1e3 mm",
    "12..7 mm",
    "1,5 mm",
    "45 grad",
    "8 kgf",
]


@pytest.mark.parametrize(("sort", "text"), [(sort, text) for sort, texts in WRITTEN.items() for text in texts])
def test_the_pattern_takes_what_is_read(sort: str, text: str) -> None:
    getattr(sizes, sort)(text)
    jsonschema.validate(text, {"pattern": sizes.pattern(sort)})


@pytest.mark.parametrize("text", NONE)
@pytest.mark.parametrize("sort", WRITTEN)
def test_the_pattern_refuses_what_is_no_size(sort: str, text: str) -> None:
    with pytest.raises(SizeError):
        getattr(sizes, sort)(text)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(text, {"pattern": sizes.pattern(sort)})
