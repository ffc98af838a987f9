"""The design file: what a set-up is made of, and its content id."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from slotwright.fixtures.family import Family, Kinds, kind_of
from slotwright.fixtures.layout import Work
from slotwright.parts.supplies import DrawerFile, RackFile
from slotwright.parts.table_file import TableFile
from slotwright.records import parameters as p
from slotwright.records import reading

FORMAT = 1
NO_LIST = "none"
"""Stands for a rack or drawer that is not kept."""
_NEVER = object()  # stands for the default of what must be given


@dataclass(frozen=True, slots=True, kw_only=True)
class RevisionEntry(p.Record):
    """One row of the revision table."""

    index: str = p.text("revision letter or number", required=True, example="A")
    text: str | None = p.text("what was changed")
    date: str | None = p.text("when")
    by: str | None = p.text("who")


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawingChoices(p.Record):
    """How the drawings look."""

    style: str = p.choice("rules the drawings follow: ISO or ASME", ("iso", "asme"), default="iso", inch="asme")
    projection: str = p.choice(
        "where the views stand: first or third angle; asme drawings have the third unless this says first",
        ("first", "third"),
        default="first",
        inch="third",
    )
    tolerance: str = p.choice(
        "general tolerance: ISO 2768-1 class f, m, c or v; on inch drawings the same classes stand as a decimal block",
        ("f", "m", "c", "v"),
        default="m",
    )
    owner: str | None = p.text("whose drawing it is, for the title block")
    creator: str | None = p.text("who drew it, for the title block")
    date: str | None = p.text("date of issue as it shall be printed; nothing is printed when not given")
    decimal: str = p.choice("decimal sign; the comma goes with iso drawings in mm", (".", ","), default=".")
    alternate: bool = p.flag("add each size in the other unit, in brackets", default=False)
    revision: str | None = p.text("revision letter or number; that of the last of `revisions` when not given")
    revisions: tuple[RevisionEntry, ...] = p.record(
        "rows of the revision table, the oldest first", RevisionEntry, many=True, most=12
    )

    def check(self) -> None:
        """The comma goes with iso; the index in the title block is that of the last revision."""
        if self.decimal == "," and self.style != "iso":
            raise p.ParameterError("decimal", f"is a comma on a drawing by {self.style}", "leave it out, or choose iso")
        if self.revision is not None and self.revisions and self.revisions[-1].index != self.revision:
            last = self.revisions[-1].index
            raise p.ParameterError(
                "revision", f"is {self.revision!r}, the last row of revisions {last!r}", "leave it out"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Sharing(p.Record):
    """What another shop is told on the card of a pack."""

    purpose: str | None = p.text("what the set-up is good for, in a sentence")
    author: str | None = p.text("whom to thank or ask, as it shall be printed")
    licence: str | None = p.text("what others may do with it, as it shall be printed")
    cautions: tuple[str, ...] = p.text("what went wrong before, and what to look out for", many=True, most=12)


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkEntry(p.Record):
    """The part that is held."""

    name: str = p.text("what the shop calls the part", required=True, example="bonnet")
    mass: float | None = p.mass("its mass")
    size: tuple[float, ...] = p.length("its envelope along table X, Y and Z", many=True, most=3)
    at: tuple[float, ...] = p.length(
        "middle of the envelope from the table's left end and front edge", many=True, most=2, low=-20000.0
    )

    def check(self) -> None:
        """Envelope and place are whole when given."""
        if len(self.size) not in (0, 3):
            raise p.ParameterError("size", f"has {len(self.size)} values", "give three: along X, Y and Z")
        if len(self.at) not in (0, 2):
            raise p.ParameterError("at", f"has {len(self.at)} values", "give two: X and Y")

    def work(self) -> Work:
        """Make the lay-out's work."""
        size = (self.size[0], self.size[1], self.size[2]) if self.size else None
        return Work(name=self.name, mass=self.mass, size=size, at=(self.at[0], self.at[1]) if self.at else None)


def _kinds() -> Mapping[str, type[p.Record]]:
    return Kinds()


@dataclass(frozen=True, slots=True, kw_only=True)
class Design(p.Record):
    """A whole design file."""

    slotwright: int = p.count("format of this file", low=1, high=FORMAT, required=True, example=FORMAT)
    title: str = p.text("what the set-up is for", required=True, example="Outrigger bars for a sluice-valve bonnet")
    unit: str = p.choice(
        "unit of drawings and defaults", ("mm", "in"), default="mm", inch="in", example="mm", example_inch="in"
    )
    table: TableFile | str | None = p.record(
        "the table: a file's name in parts/, or the table itself",
        TableFile,
        or_name=True,
        example="canal-mill-1100",
        example_inch="knee-mill-9x42",
    )
    tables: tuple[TableFile | str, ...] = p.record(
        "instead of table: several tables that one set of pieces shall serve",
        TableFile,
        or_name=True,
        many=True,
        most=12,
    )
    rack: RackFile | str = p.record(
        f"the bar stock: a file's name in parts/, the list itself, or {NO_LIST} to go by no list",
        RackFile,
        or_name=True,
        default="rack",
    )
    drawer: DrawerFile | str = p.record(
        f"taps and reamers: a file's name in parts/, the list itself, or {NO_LIST} to go by no list",
        DrawerFile,
        or_name=True,
        default="drawer",
    )
    drawing: DrawingChoices = p.record("how the drawings look", DrawingChoices, default={})
    sharing: Sharing = p.record("what another shop is told when the design is packed", Sharing, default={})
    work: WorkEntry | None = p.record("the part that is held", WorkEntry)
    fixture: tuple[p.Record, ...] = p.variant("the fixtures", _kinds, many=True, most=50, required=True)

    def check(self) -> None:
        """One way to name the tables; at least one fixture; every fixture its own name."""
        if self.table is not None and self.tables:
            raise p.ParameterError("table", "stands beside tables", "give exactly one of the two")
        if self.drawing.decimal == "," and self.unit == "in":
            raise p.ParameterError(
                "drawing.decimal", "is a comma on an inch drawing", "leave it out; inches have the point"
            )
        if not self.fixture:
            raise p.ParameterError("fixture", "is an empty list", "add a [[fixture]]; `slotwright kinds` lists them")
        names = [getattr(fixture, "name", "") for fixture in self.fixture]
        for number, name in enumerate(names, 1):
            if name in names[: number - 1]:
                raise p.ParameterError(f"fixture[{number}].name", f"{name!r} is taken by another fixture", "rename one")

    @property
    def wanted_tables(self) -> tuple[TableFile | str, ...]:
        """Return the tables as the file gives them."""
        return self.tables or ((self.table,) if self.table is not None else ())


def read_design(path: Path, shown_as: str, scripted: tuple[Family, ...] = ()) -> Design:
    """Read a design file; families of scripts the user allowed count with the others. Errors: DesignError."""
    return design_from(reading.load(path, shown_as), shown_as, scripted)


def design_from(data: Mapping[str, Any], shown_as: str, scripted: tuple[Family, ...] = ()) -> Design:
    """Read a design from parsed TOML. Errors: DesignError."""
    version = data.get("slotwright")
    if isinstance(version, int) and not isinstance(version, bool) and version > FORMAT:
        where = reading.Where(shown_as, "slotwright")
        raise where.error(
            f"{version if version < 1000 else 'this'} is a format newer than this program knows ({FORMAT})",
            "bring the program up to date",
        )
    if isinstance(data.get("part"), str):
        where = reading.Where(shown_as, "part")
        raise where.error(
            "stands in files of parts/; this is no design", "name a design file, such as those in fixtures/"
        )
    unit = "in" if data.get("unit") == "in" else "mm"
    more = tuple((family.kind, family.parameters) for family in scripted)
    return reading.read(Design, _with_angle(data), reading.Where(shown_as, "", unit, more))


def _with_angle(data: Mapping[str, Any]) -> Mapping[str, Any]:
    """Return what a file says, with the third angle of ASME Y14.3 where it chooses asme and no projection."""
    drawing = data.get("drawing")
    if not isinstance(drawing, Mapping) or drawing.get("style") != "asme" or "projection" in drawing:
        return data
    return {**data, "drawing": {**drawing, "projection": "third"}}


def content_id(design: Design) -> str:
    """Return ten hex digits that change when, and only when, a design says something else is to be made.

    Args:
        design: standing alone (sharing/standalone.py), so that its tables and supplies count.

    What the author chose counts, however it was written. A value that is the default does not, written out or not, so a
    later version's new key leaves the ids of old designs as they were; nor does what another shop is told in `sharing`.
    """
    said = _said(design, design.unit, {type(fixture): kind_of(fixture) for fixture in design.fixture})
    said.pop("sharing", None)
    return hashlib.sha256(json.dumps(said, sort_keys=True, default=repr).encode()).hexdigest()[:10]


def _said(value: Any, unit: str, kinds: Mapping[type[p.Record], str | None]) -> Any:
    """Return a record's values that are no defaults as plain data; its unit and a fixture's kind always count."""
    if isinstance(value, tuple):
        return [_said(item, unit, kinds) for item in value]
    if not isinstance(value, p.Record):
        return value
    unit = getattr(value, "unit", unit)
    defaults = reading.defaults(type(value), unit)  # type: ignore[arg-type]  # the class is hashed, not its instance
    entries = [(key, item) for key, _, item in p.entries(value) if key == "unit" or item != defaults.get(key, _NEVER)]
    found = {key: _said(item, unit, kinds) for key, item in entries}
    kind = kinds.get(type(value))
    return found if kind is None else {"kind": kind, **found}
