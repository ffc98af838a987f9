"""What a refit changed: old and new side by side, for people and for programs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from slotwright import sizes
from slotwright.findings import Finding
from slotwright.fixtures.layout import Layout
from slotwright.parts.table import Table
from slotwright.records.starter import written
from slotwright.sharing.compare import Comparison, Difference, FindingChange, compare
from slotwright.sharing.hole_moves import SAME, HoleMove, hole_words
from slotwright.sharing.lists import finding_data
from slotwright.sharing.refit import Refit
from slotwright.sharing.refit_choices import Choice
from slotwright.sharing.set_up import SetUp
from slotwright.sharing.table_list import table_row


def refit_lines(done: Refit) -> Iterator[str]:
    """Say for a person what became of a design, line by line."""
    found = compare(done.old, done.new)
    yield f"{done.old.name} -> {done.new.name}"
    yield from _side_by_side(done)
    yield from (f"  {_choice_words(choice)}" for choice in done.choices if choice.key != "table" or choice.lost)
    yield from comparison_lines(found, done.old, done.new, parameters=False)
    if not done.comments_kept:
        yield "  the file was written anew, for its own way of writing could not be followed: its comments are gone"


def _side_by_side(done: Refit) -> Iterator[str]:
    rows = [("unit", done.old.bench.unit, done.new.bench.unit)]
    old, new = (_table_words(made.bench.tables) for made in (done.old, done.new))
    rows += [(what, old[what], new[what]) for what in old]
    rows += [("bolts", _bolts(done.old.layouts), _bolts(done.new.layouts))]
    wide = max(len(row[1]) for row in rows)
    yield from (f"  {what:7}{a:{wide}}  {b}".rstrip() for what, a, b in rows)


def _table_words(tables: tuple[Table, ...]) -> dict[str, str]:
    rows = [table_row(table) for table in tables]
    return {
        "table": "; ".join(row["name"] for row in rows),
        "size": "; ".join(row["size"] for row in rows),
        "slots": "; ".join(row["slots"] for row in rows),
    }


def _bolts(layouts: tuple[Layout, ...]) -> str:
    names = dict.fromkeys(f"{j.thread.designation} in {j.nut.standard}" for layout in layouts for j in layout.joints)
    return ", ".join(names)


def _choice_words(choice: Choice) -> str:
    where = f"{choice.fixture}: " if choice.fixture else ""
    old, new = (_value(value) for value in (choice.old, choice.new))
    mark = "not carried over: " if choice.lost else ""
    return f"{mark}{where}{choice.key} = {old} -> {new}: {choice.why}"


def _value(value: Any) -> str:
    return "left to the usual rule" if value is None else written(value)


def comparison_lines(found: Comparison, old: SetUp, new: SetUp, *, parameters: bool = True) -> Iterator[str]:
    """Say what differs, a heading and its lines for each sort; nothing for a sort without difference."""
    groups: Mapping[str, list[str]] = {
        "asked for": [_difference(one) for one in found.parameters] if parameters else [],
        "pieces": [_difference(one) for one in found.pieces],
        "holes": [_move_words(move, old.bench.unit, new.bench.unit) for move in found.changed_holes],
        "hardware": [_hardware_words(one) for one in found.hardware],
        "findings": [_finding_words(one) for one in found.findings],
    }
    for title, lines in groups.items():
        if lines:
            yield f"{title}:"
            yield from (f"  {line}" for line in lines)
    stay = sum(move.stays for move in found.holes)
    if found.holes:
        yield f"{stay} of {len(found.holes)} holes stay as they are"


def _difference(one: Difference) -> str:
    if not one.old:
        return f"{one.place}: now {one.new}"
    return f"{one.place}: {one.old} -> {one.new or 'no more'}"


def _hardware_words(one: Difference) -> str:
    change = int(one.new or 0) - int(one.old or 0)
    return f"{change:+d} {one.place} ({one.old or 0} -> {one.new or 0})"


def _move_words(move: HoleMove, unit: str, new_unit: str) -> str:
    if move.old is None and move.new is not None:
        hole = move.new.hole
        at = place_words(hole.x, hole.y, new_unit)
        return f"{move.piece} {move.new.tag}: new, {hole_words(hole, new_unit)}, at {at}"
    if move.new is None and move.old is not None:
        hole = move.old.hole
        return f"{move.piece} {move.old.tag}: no more, was at {place_words(hole.x, hole.y, unit)}"
    assert move.old is not None and move.new is not None  # noqa: S101, PT018  the two cases above
    tag = move.old.tag if move.old.tag == move.new.tag else f"{move.old.tag} -> {move.new.tag}"
    words = [f"{name} {_size(a, unit)} -> {_size(b, new_unit)} ({_signed(b - a, new_unit)})"
             for name, a, b in (("x", move.old.hole.x, move.new.hole.x), ("y", move.old.hole.y, move.new.hole.y))
             if abs(b - a) >= SAME]  # fmt: skip
    if move.resized:
        words.append(f"{hole_words(move.old.hole, unit)} -> {hole_words(move.new.hole, new_unit)}")
    return f"{move.piece} {tag}: " + "; ".join(words)


def _size(mm: float, unit: str) -> str:
    return sizes.say(mm, "mm", unit)


def _signed(mm: float, unit: str) -> str:
    return ("+" if mm > 0 else "") + _size(mm, unit)


def place_words(x: float, y: float, unit: str) -> str:
    """Say where a hole stands."""
    return f"x {_size(x, unit)}, y {_size(y, unit)}"


def _finding_words(change: FindingChange) -> str:
    if change.new is None and change.old is not None:
        return f"went: {_finding(change.old)}"
    if change.old is None and change.new is not None:
        return f"appeared: {_finding(change.new)}"
    assert change.old is not None and change.new is not None  # noqa: S101, PT018  the two cases above
    return f"was {change.old.severity.value}, now {_finding(change.new)}"


def _finding(finding: Finding) -> str:
    return f"{finding.severity.value}: {finding.place}: {finding.message} [{finding.code}]"


# For programs


def refit_data(done: Refit) -> dict[str, Any]:
    """Return a refit for a program; lengths in mm."""
    return {
        "old": done.old.name,
        "new": done.new.name,
        "tables": {
            "old": [table_row(table) for table in done.old.bench.tables],
            "new": [table_row(table) for table in done.new.bench.tables],
        },
        "choices": [
            {"fixture": c.fixture, "key": c.key, "old": c.old, "new": c.new, "why": c.why, "lost": c.lost}
            for c in done.choices
        ],
        "comments-kept": done.comments_kept,
        **comparison_data(compare(done.old, done.new), done.old, done.new),
    }


def comparison_data(found: Comparison, old: SetUp, new: SetUp) -> dict[str, Any]:
    """Return a comparison for a program; lengths in mm."""
    return {
        "content-id": {"old": old.content_id, "new": new.content_id},
        "worst": {"old": old.severity.value, "new": new.severity.value},
        "same": found.same,
        "parameters": [_difference_data(one) for one in found.parameters],
        "pieces": [_difference_data(one) for one in found.pieces],
        "holes": [_move_data(move) for move in found.holes],
        "hardware": [_difference_data(one) for one in found.hardware],
        "findings": [
            {
                "old": finding_data(change.old, old.bench.unit) if change.old else None,
                "new": finding_data(change.new, new.bench.unit) if change.new else None,
            }
            for change in found.findings
        ],
    }


def _difference_data(one: Difference) -> dict[str, str]:
    return {"place": one.place, "old": one.old, "new": one.new}


def _move_data(move: HoleMove) -> dict[str, Any]:
    def side(tagged: Any) -> dict[str, Any] | None:
        if tagged is None:
            return None
        hole = tagged.hole
        return {"tag": tagged.tag, "x": round(hole.x, 6), "y": round(hole.y, 6), "face": hole.face.value,
                "is": hole_words(hole, "mm")}  # fmt: skip

    return {
        "piece": move.piece,
        "old": side(move.old),
        "new": side(move.new),
        "moved": [round(mm, 6) for mm in move.moved],
        "stays": move.stays,
    }
