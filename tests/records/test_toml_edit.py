"""Values changed in TOML text: the standard library's reader says what came of it; all else stands as it stood."""

from __future__ import annotations

import tomllib
from copy import deepcopy
from random import Random
from typing import Any

import pytest

from slotwright.fixtures.family import families
from slotwright.records.toml_edit import rewritten
from slotwright.sharing.starters import starter
from tests.workshop import lay_out

TEXT = """\
# about the whole   [not.a.head] = "x"
slotwright = 1
title = "says # and = and [x]" # behind
"odd key" = 'single # quoted'

[table] # the mill
length = "1000 mm"
[table.slots]
width = "14 mm"   # a
centres = ["40 mm", # front
  "100 mm", ]

# the first bar
[[fixture]]
name = "a"
slots = [
  1,
  3 ] # why so
[[fixture.work-hole]]
at = ["1 mm"]
[[fixture.work-hole]]
at = ["2 mm"]
row = { first = "1 in", pitch = "2 in" }

[[fixture]]
name = "b"
note = \"\"\"two
lines # no comment = 1 \"\"\"
[[fixture.work-hole]]
at = ["3 mm"]
"""


def edited(change: dict[tuple[str | int, ...], Any]) -> str:
    wanted = tomllib.loads(TEXT)
    for path, value in change.items():
        place: Any = wanted
        for key in path[:-1]:
            place = place[key]
        if value is None:
            del place[path[-1]]
        else:
            place[path[-1]] = value
    text, kept = rewritten(TEXT, wanted)
    assert kept
    assert tomllib.loads(text) == wanted
    return text


@pytest.mark.parametrize(
    ("path", "value", "old", "new"),
    [
        (("slotwright",), 2, "slotwright = 1\n", "slotwright = 2\n"),
        (("title",), "short", 'title = "says # and = and [x]" # behind', 'title = "short" # behind'),
        (("odd key",), 'a"b\\', "'single # quoted'", '"a\\"b\\\\"'),
        (("table", "slots", "width"), "12 mm", 'width = "14 mm"   # a', 'width = "12 mm"   # a'),
        (("fixture", 0, "slots"), [1, 2], "[\n  1,\n  3 ] # why so", "[1, 2] # why so"),
        (("fixture", 0, "work-hole", 1, "at"), ["5 mm"], 'at = ["2 mm"]', 'at = ["5 mm"]'),
        (("fixture", 1, "work-hole", 0, "at"), ["5 mm"], 'at = ["3 mm"]', 'at = ["5 mm"]'),
        (("fixture", 0, "work-hole", 1, "row", "first"), "3 in", '{ first = "1 in"', '{ first = "3 in"'),
        (("fixture", 1, "name"), None, 'name = "b"', '#name = "b"'),
        (("fixture", 0, "slots"), None, "slots = [\n  1,\n  3 ]", "#slots = [\n#  1,\n#  3 ]"),
        (("fixture", 0, "bolt"), "M8", "3 ] # why so\n", '3 ] # why so\n\nbolt = "M8"\n'),
        (("unit",), "in", "'single # quoted'\n", "'single # quoted'\n\nunit = \"in\"\n"),
    ],
)
def test_one_change_touches_its_own_place_alone(path: tuple[str | int, ...], value: Any, old: str, new: str) -> None:
    assert TEXT.count(old) == 1
    assert edited({path: value}) == TEXT.replace(old, new)


def test_a_section_makes_way_for_a_name() -> None:
    text = edited({("table",): "mill"})
    assert "[table" not in text
    assert 'table = "mill"\n' in text
    assert text.endswith(TEXT[TEXT.index("# the first bar") :])


def test_what_cannot_be_followed_is_written_anew() -> None:
    text = 'fixture = [{ name = "a" }, { name = "b" }] # one line\n'
    wanted = {"fixture": [{"name": "a"}, {"name": "c"}]}
    again, kept = rewritten(text, wanted)
    assert tomllib.loads(again) == wanted
    assert kept == ("# one line" in again)


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("kind", families())
def test_every_key_of_every_starter_can_be_changed_in_its_place(kind: str, unit: str, tmp_path: Any) -> None:
    lay_out(tmp_path)
    text = starter(kind, unit, None, tmp_path)
    data = tomllib.loads(text)
    plain = [key for key, value in data["fixture"][0].items() if "{" not in str(value)]  # the others are sections
    for key in plain:
        wanted = deepcopy(data)
        wanted["fixture"][0][key] = Random(key).choice(["other", 17, ["1 mm", "2 mm"], True])
        again, kept = rewritten(text, wanted)
        assert kept, key
        assert tomllib.loads(again) == wanted
        assert _comments(again) == _comments(text)


def _comments(text: str) -> list[str]:
    return [line for line in text.splitlines() if line.startswith("#")]
