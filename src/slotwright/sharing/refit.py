"""Refit: the same intent solved on another table, with the explicit choices carried over where they can be."""

from __future__ import annotations

import re
from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass, field, replace
from itertools import islice
from pathlib import Path
from typing import Any

from slotwright.errors import DesignError, OutputError
from slotwright.fixtures.family import Family
from slotwright.parts.t_nuts import nut_for
from slotwright.parts.table import Table
from slotwright.records import reading
from slotwright.records.toml_edit import rewritten
from slotwright.sharing.design_file import design_from
from slotwright.sharing.output import write_new
from slotwright.sharing.refit_choices import MOST_TRIES, Choice, too_wide, ways_out
from slotwright.sharing.refit_places import least_shift, placed_keys, reach, shifted
from slotwright.sharing.scripts import ScriptFixture
from slotwright.sharing.set_up import SetUp, set_up, set_up_of
from slotwright.sharing.workspace import Workspace

Data = dict[str, Any]
MOST_REPAIRS = 30
_IN_FIXTURE = re.compile(r"fixture\[([0-9]+)\](?:\.([a-z0-9-]+))?", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class Refit:
    """A design before and after.

    Attributes:
        old, new: both solved and checked.
        choices: what could not be carried over, and what was changed with the table.
        text: the refitted design file.
        comments_kept: whether it is the old file's text with only values changed.
    """

    old: SetUp
    new: SetUp
    choices: tuple[Choice, ...]
    text: bytes
    comments_kept: bool

    @property
    def lost(self) -> tuple[Choice, ...]:
        """What the refitted design no longer says."""
        return tuple(choice for choice in self.choices if choice.lost)


@dataclass(slots=True)
class _Draft:
    """A design on its way to another table."""

    data: Data
    tables: tuple[Table, ...]
    workspace: Workspace
    name: str
    shown_as: str
    scripted: tuple[Family, ...] = ()
    choices: list[Choice] = field(default_factory=list)

    @property
    def unit(self) -> str:
        return "in" if self.data.get("unit") == "in" else "mm"

    @property
    def fixtures(self) -> list[Data]:
        found: list[Data] = self.data["fixture"]
        return found

    def solve(self) -> SetUp:
        """Solve it as it stands. Errors: DesignError."""
        design = design_from(self.data, self.shown_as, self.scripted)
        return set_up_of(design, self.workspace, self.name, self.shown_as, self.scripted)

    def change(self, number: int, changes: Mapping[str, Any], why: str) -> None:
        """Change keys of a fixture, counted from 0, and keep account."""
        entry = self.fixtures[number]
        for key, value in changes.items():
            said = Choice(fixture=entry.get("name", ""), key=key, old=entry.get(key), new=value, why=why)
            self.choices.append(said)
            _put(entry, key, value)

    def note(self, number: int, key: str, why: str) -> None:
        """Keep account of a key that stays, but whose way back would change it."""
        entry = self.fixtures[number]
        kept = Choice(fixture=entry.get("name", ""), key=key, old=entry.get(key), new=entry.get(key), why=why)
        if kept not in self.choices:
            self.choices.append(kept)

    def after(self, number: int, changes: Mapping[str, Any]) -> _Draft:
        """Return a copy with these changes, to be tried."""
        copy = replace(self, data=deepcopy(self.data), choices=[])
        for key, value in changes.items():
            _put(copy.fixtures[number], key, value)
        return copy


def _put(entry: Data, key: str, value: Any) -> None:
    if value is None:
        entry.pop(key, None)
    else:
        entry[key] = value


def refit(path: Path, tables: tuple[str, ...], unit: str | None = None, scripted: tuple[Family, ...] = ()) -> Refit:
    """Solve a design on other tables of its workspace.

    Args:
        path: the design file.
        tables: names in parts/; several make one set of pieces serve all of them.
        unit: "mm" or "in" for the refitted design; None goes with the table where the design did so before.
        scripted: families of scripts that the user allowed for this run.

    Errors: DesignError when the design is bad, a table is not there, or the design cannot be made for it at all.
    """
    shown_as = path.as_posix()
    where = reading.Where(shown_as)
    text = reading.file_bytes(path, where, reading.MOST_BYTES, "a design file is a few kilobytes")
    data = reading.parsed(text, where)
    workspace = Workspace.around(path)
    old = set_up(path, scripted)
    check_on_table(old, shown_as)
    there = tuple(workspace.table(name)[1] for name in tables)
    draft = _Draft(deepcopy(data), there, workspace, refitted_name(old, tables), shown_as, scripted)
    _put_on_tables(draft, old, tables)
    _take_unit(draft, old, unit)
    new = _solved(draft, old)
    written, kept = rewritten(text.decode("utf-8-sig").replace("\r\n", "\n"), draft.data)
    return Refit(old=old, new=new, choices=tuple(draft.choices), text=written.encode(), comments_kept=kept)


def check_on_table(made: SetUp, shown_as: str) -> None:
    """Refuse to refit what no table has a part in. Errors: DesignError."""
    if not made.bench.tables:
        raise DesignError(shown_as, "table", "is not there: the design goes by no table", "make it as it is")


def refitted_name(old: SetUp, tables: tuple[str, ...]) -> str:
    """Name a refitted design: NAME-TABLE; the old table's name at the end of NAME makes way."""
    stem = old.name
    for table in old.bench.tables:
        stem = stem.removesuffix(f"-{table.name}") or stem
    return "-".join((stem, *tables))[:100]


def _put_on_tables(draft: _Draft, old: SetUp, tables: tuple[str, ...]) -> None:
    """Write the new tables' names in place of the old."""
    was = old.design.wanted_tables
    for key in ("table", "tables"):
        draft.data.pop(key, None)
    new: str | list[str] = tables[0] if len(tables) == 1 else list(tables)
    draft.data["table" if len(tables) == 1 else "tables"] = new
    named = [table.name for table in old.bench.tables]
    why, lost = "the table asked for", len(tables) != 1 or len(named) != 1
    if not all(isinstance(table, str) for table in was):
        why, lost = "the old table was written in the design; keep that file for the way back", True
    elif len(named) > 1:
        why = "the old pieces served several tables"
    shown = named[0] if len(named) == 1 else named
    draft.choices.append(Choice(fixture="", key="table", old=shown, new=new, why=why, lost=lost))


def _take_unit(draft: _Draft, old: SetUp, asked: str | None) -> None:
    """Let the design's unit go with the table's, as it did before; a unit chosen against the table's stays."""
    before, after = old.bench.tables[0].unit, draft.tables[0].unit
    goes_with_table = old.bench.unit == before
    unit = asked or (after if goes_with_table else old.bench.unit)
    if unit != old.bench.unit:
        draft.data["unit"] = unit
        why = "asked for" if asked else "the design's unit goes with its table's; defaults and bought items follow"
        lost = unit != after or not goes_with_table
        draft.choices.append(Choice(fixture="", key="unit", old=old.bench.unit, new=unit, why=why, lost=lost))
    elif (unit == after) != goes_with_table:
        why = "stays, though it " + ("was" if goes_with_table else "was not") + " the unit of the old table"
        draft.choices.append(Choice(fixture="", key="unit", old=unit, new=unit, why=why))


def _solved(draft: _Draft, old: SetUp) -> SetUp:
    """Solve, and where that cannot be, change as little as lets it be."""
    for number, entry in enumerate(draft.fixtures):
        why = too_wide(entry, old.bench.tables, draft.tables)
        if why is not None:
            own = ", ".join(dict.fromkeys(_own_bolt(table, draft.unit) for table in draft.tables))
            draft.change(number, {"bolt": None}, f"{why}; the slot's own T-nut takes {own}")
        elif (why := too_wide(entry, draft.tables, old.bench.tables)) is not None:
            draft.note(number, "bolt", f"{why}; it passes now, so the way back would not keep it")
    for _ in range(MOST_REPAIRS):
        try:
            new = draft.solve()
        except DesignError as error:
            _repair(draft, error)
            continue
        if not _stand_on_table(draft, old, new):
            return new
    raise DesignError(draft.shown_as, "", "cannot be brought onto the table", "change the design by hand")


def _own_bolt(table: Table, unit: str) -> str:
    return nut_for(table.slot, unit).thread.designation


def _repair(draft: _Draft, error: DesignError) -> None:
    """Take the nearest way out of what cannot be. Errors: the same DesignError when there is none."""
    match = _IN_FIXTURE.match(error.key)
    if match is None:
        raise error
    number, key = int(match[1]) - 1, match[2] or ""
    for changes in islice(ways_out(key, draft.fixtures[number], draft.tables, draft.unit), MOST_TRIES):
        try:
            draft.after(number, changes).solve()
        except DesignError as left:
            found = _IN_FIXTURE.match(left.key)
            if found is None or (int(found[1]) - 1, found[2] or "") == (number, key):
                continue
        draft.change(number, changes, error.problem)
        return
    raise error


def _stand_on_table(draft: _Draft, old: SetUp, new: SetUp) -> bool:
    """Move what is placed along the table onto it, if it was on the old one; say whether anything was changed.

    What a script makes stands on no table, whatever its keys are called.
    """
    made = enumerate(old.design.fixture)
    numbers = [n for n, one in made if placed_keys(draft.fixtures[n]) and not isinstance(one, ScriptFixture)]
    length = min(table.length for table in draft.tables)
    before = reach(old.design, old.bench, numbers)
    after = reach(new.design, new.bench, numbers)
    if before is None or after is None:
        return False
    was_on, is_on = before.on(min(table.length for table in old.bench.tables)), after.on(length)
    if is_on and not was_on:
        for number in numbers:
            for key in placed_keys(draft.fixtures[number]):
                draft.note(number, key, "stood off the old table; it does not now, so the way back would not keep it")
    if is_on or not was_on:
        return False
    shift = least_shift(after, length, draft.unit)
    for number in numbers:
        entry = draft.fixtures[number]
        if shift is None:
            why = f"does not fit on a table {_said(length, draft.unit)} long; placed by the usual rule"
            draft.change(number, dict.fromkeys(placed_keys(entry)), why)
        else:
            why = f"would stand off a table {_said(length, draft.unit)} long; everything moves together"
            draft.change(number, {key: shifted(entry[key], shift, draft.unit) for key in placed_keys(entry)}, why)
    _move_work(draft, shift)
    return True


def _move_work(draft: _Draft, shift: float | None) -> None:
    at = draft.data.get("work", {}).get("at")
    if not at:
        return
    moved = None if shift is None else [shifted(at[0], shift, draft.unit), *at[1:]]
    draft.choices.append(Choice(fixture="", key="work.at", old=at, new=moved, why="goes with what holds it"))
    _put(draft.data["work"], "at", moved)


def _said(mm: float, unit: str) -> str:
    from slotwright.sizes import say

    return say(mm, "mm", unit)


def write_refit(done: Refit, path: Path, shown_as: str) -> bool:
    """Write the refitted design file, whole or not at all; say whether it was not there already, word for word.

    Errors: OutputError when another file is there, or the disk will not have it.
    """
    if write_new(path, done.text, shown_as):
        return True
    if path.is_file() and path.read_bytes() == done.text:
        return False
    raise OutputError(shown_as, "is there already and says something else", "move it away, or choose a name with --to")
