"""Two set-ups compared by meaning: what they ask for, their pieces, holes, bought items and findings."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from math import isclose
from pathlib import Path
from typing import Any

from slotwright import sizes
from slotwright.findings import Finding, Severity
from slotwright.fixtures.family import Family, kind_of
from slotwright.fixtures.layout import Layout
from slotwright.pieces.piece import Piece
from slotwright.records import parameters as p
from slotwright.sharing.hole_moves import HoleMove, hole_moves
from slotwright.sharing.set_up import SetUp, set_up
from slotwright.sharing.workspace import design_path

Value = tuple[str, Any, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One value that differs, in words; "" where there is none.

    Attributes:
        place: what it belongs to, such as "outrigger.slots" or "outrigger: length".
        old, new: as each design's own unit says it.
    """

    place: str
    old: str
    new: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingChange:
    """A finding that appeared (no old), went (no new) or changed its severity."""

    old: Finding | None
    new: Finding | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Everything that differs between two set-ups.

    Attributes:
        parameters: values in force, defaults included, of designs that stand alone.
        pieces: section, length, stock, material and number of each piece.
        holes: every hole of every piece, also those that stay.
        hardware: bought items, by their titles, with how many there are.
        findings: those that matter.
    """

    parameters: tuple[Difference, ...]
    pieces: tuple[Difference, ...]
    holes: tuple[HoleMove, ...]
    hardware: tuple[Difference, ...]
    findings: tuple[FindingChange, ...]

    @property
    def changed_holes(self) -> tuple[HoleMove, ...]:
        """Holes that don't stay as they were."""
        return tuple(move for move in self.holes if not move.stays)

    @property
    def same(self) -> bool:
        """Whether the two mean the same."""
        return not (self.parameters or self.pieces or self.changed_holes or self.hardware or self.findings)


def compare(old: SetUp, new: SetUp) -> Comparison:
    """Compare two set-ups; pieces and fixtures go by their names, a single one on each side by being the only one."""
    pairs = _paired(old, new)
    moves = [move for a, b in pairs for move in hole_moves(a, b)]
    return Comparison(
        parameters=tuple(_parameters(old, new)),
        pieces=tuple(_pieces(pairs, old.bench.unit, new.bench.unit)),
        holes=tuple(moves),
        hardware=tuple(_hardware(old, new)),
        findings=tuple(_findings(old, new, moves)),
    )


def _paired(old: SetUp, new: SetUp) -> list[tuple[Piece | None, Piece | None]]:
    before, after = ({piece.name: piece for piece in made.pieces} for made in (old, new))
    if len(before) == len(after) == 1:
        return [(next(iter(before.values())), next(iter(after.values())))]
    return [(before.get(name), after.get(name)) for name in dict.fromkeys((*before, *after))]


def read_either(path: Path, shown_as: str, scripted: tuple[Family, ...] = ()) -> SetUp:
    """Read, solve and check a design file, a design of this name in fixtures/, or a pack.

    Args:
        path: of either, or the name.
        shown_as: how errors name a pack.
        scripted: families of scripts that the user allowed for this run; for designs alone.

    Errors: DesignError.
    """
    if path.suffix == ".zip":
        from slotwright.sharing.receive import look_at

        return look_at(path, shown_as).made
    return set_up(design_path(path), scripted)


# What is asked for


def _parameters(old: SetUp, new: SetUp) -> Iterator[Difference]:
    before, after = (dict(_values(made.alone, "", made.bench.unit)) for made in (old, new))
    for place in dict.fromkeys((*before, *after)):
        a, b = before.get(place), after.get(place)
        if a is None or b is None or not _equal(a[1], b[1]):
            yield Difference(place=place, old=a[2] if a else "", new=b[2] if b else "")


def _values(record: p.Record, place: str, unit: str) -> Iterator[tuple[str, Value]]:
    """Yield every value in force under its dotted place; what is left empty is not there."""
    for key, parameter, value in p.entries(record):
        here = f"{place}{key}"
        if value is None or value == ():
            continue
        if isinstance(value, p.Record):
            yield from _values(value, f"{here}.", unit)
        elif isinstance(value, tuple) and isinstance(value[0], p.Record):
            for number, item in enumerate(value, 1):
                inside = f"{_item(here, item, number)}."
                if here == "fixture" and (kind := kind_of(item)) is not None:
                    yield f"{inside}kind", ("", kind, kind)
                yield from _values(item, inside, unit)
        else:
            yield here, (parameter.sort, value, said(parameter, value, unit))


def _item(place: str, item: p.Record, number: int) -> str:
    """A list's item goes by its name where it has one, so that a new one in front moves no other."""
    name = getattr(item, "name", None)
    if place == "fixture" and name:
        return str(name)
    return f"{place}.{name}" if name else f"{place}[{number}]"


def said(parameter: p.Parameter, value: Any, unit: str) -> str:
    """Say a value as a person in this unit writes it."""
    if isinstance(value, tuple):
        return "[" + ", ".join(said(parameter, item, unit) for item in value) + "]"
    base = p.BASE.get(parameter.sort, "")
    if base and isinstance(value, int | float):
        return sizes.say(value, base, unit)
    return {True: "true", False: "false"}.get(value, str(value)) if isinstance(value, bool) else str(value)


def _equal(a: Any, b: Any) -> bool:
    if isinstance(a, tuple) and isinstance(b, tuple):
        return len(a) == len(b) and all(_equal(x, y) for x, y in zip(a, b, strict=True))
    if isinstance(a, float) and isinstance(b, float):
        return isclose(a, b, rel_tol=1e-12, abs_tol=1e-9)
    return bool(a == b)


# What is made and bought


def _pieces(pairs: list[tuple[Piece | None, Piece | None]], unit: str, new_unit: str) -> Iterator[Difference]:
    rows: dict[str, Callable[[Piece, str], str]] = {
        "length": lambda piece, used: sizes.say(piece.blank.length, "mm", used),
        "width": lambda piece, used: sizes.say(piece.blank.width, "mm", used),
        "thickness": lambda piece, used: sizes.say(piece.blank.thickness, "mm", used),
        "stock": lambda piece, used: piece.stock,
        "material": lambda piece, used: piece.material.name,
        "how many": lambda piece, used: str(piece.quantity),
    }
    for a, b in pairs:
        name = next(piece.name for piece in (b, a) if piece is not None)
        for what, row in rows.items():
            if a is None or b is None or row(a, new_unit) != row(b, new_unit):
                old, new = row(a, unit) if a else "", row(b, new_unit) if b else ""
                yield Difference(place=f"{name}: {what}", old=old, new=new)


def _hardware(old: SetUp, new: SetUp) -> Iterator[Difference]:
    before, after = (_bought(made.layouts) for made in (old, new))
    for title in dict.fromkeys((*before, *after)):
        if before[title] != after[title]:
            yield Difference(place=title, old=_count(before[title]), new=_count(after[title]))


def _bought(layouts: tuple[Layout, ...]) -> Counter[str]:
    return Counter(placed.item.title for layout in layouts for placed in layout.hardware)


def _count(number: int) -> str:
    return str(number) if number else ""


# What the checks say


def _findings(old: SetUp, new: SetUp, moves: list[HoleMove]) -> Iterator[FindingChange]:
    """Yield findings that matter and came, went or changed severity; places are matched through tables and tags."""
    tables = {a.table.name: b.table.name for a, b in zip(old.layouts, new.layouts, strict=False)}
    tags: dict[str, dict[str, str]] = {}
    for move in moves:
        if move.old and move.new:
            tags.setdefault(move.piece, {})[move.old.tag] = move.new.tag
    before = {(f.code, _renamed(f.place, tables, tags)): f for f in old.findings}
    after = {(f.code, f.place): f for f in new.findings}
    for key in dict.fromkeys((*before, *after)):
        a, b = before.get(key), after.get(key)
        severities = tuple(f.severity if f else Severity.FINE for f in (a, b))
        if severities[0] != severities[1]:
            yield FindingChange(
                old=a if severities[0] is not Severity.FINE else None,
                new=b if severities[1] is not Severity.FINE else None,
            )


def _renamed(place: str, tables: Mapping[str, str], tags: Mapping[str, Mapping[str, str]]) -> str:
    """Say an old finding's place in the new set-up's words."""
    piece, comma, rest = place.partition(", ")
    holes = tags.get(piece, {})
    words = re.sub(r"[A-Za-z0-9-]+", lambda word: holes.get(word[0], word[0]), rest)
    return re.sub(r"[A-Za-z0-9-]+", lambda word: tables.get(word[0], word[0]), f"{piece}{comma}{words}")
