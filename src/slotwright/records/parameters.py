"""Parameters with units, ranges and meaning, and the records they make.

A record is a frozen dataclass whose fields are made by the functions below:

    @dataclass(frozen=True, slots=True, kw_only=True)
    class Strap(Record):
        width: float = length("across the strap", low=10.0, high=200.0, default="40 mm", inch="1-1/2 in")

In files a field's name is written with hyphens. Values are checked whenever a record is built, also by hand.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field, fields
from enum import StrEnum
from math import isfinite
from typing import Any

from slotwright import sizes


class Sort(StrEnum):
    """What a parameter's value is."""

    LENGTH = "length"
    ANGLE = "angle"
    MASS = "mass"
    FORCE = "force"
    TEMPERATURE = "temperature"
    SLOT_WIDTH = "slot width"
    COUNT = "count"
    CHOICE = "choice"
    FLAG = "flag"
    TEXT = "text"
    NAME = "name"
    THREAD = "thread"
    FIT = "fit"
    RECORD = "record"
    VARIANT = "variant"


READERS: dict[Sort, Callable[[str], Any]] = {
    Sort.LENGTH: sizes.length,
    Sort.ANGLE: sizes.angle,
    Sort.MASS: sizes.mass,
    Sort.FORCE: sizes.force,
    Sort.TEMPERATURE: sizes.temperature,
    Sort.SLOT_WIDTH: sizes.slot_width,
    Sort.THREAD: sizes.thread_name,
    Sort.FIT: sizes.fit_name,
}
BASE = {
    Sort.LENGTH: "mm",
    Sort.SLOT_WIDTH: "mm",
    Sort.ANGLE: "deg",
    Sort.MASS: "kg",
    Sort.FORCE: "N",
    Sort.TEMPERATURE: "degC",
    Sort.COUNT: "",
}
_units: ContextVar[tuple[str, ...]] = ContextVar("units", default=("mm", "in"))
MOST_TEXT = 200
MOST_ITEMS = 1000


class ParameterError(ValueError):
    """A record's value that breaks a rule.

    Args:
        key: the parameter as files write it.
        problem: the value with its unit and the rule.
        remedy: what to do.
    """

    def __init__(self, key: str, problem: str, remedy: str) -> None:
        super().__init__(key, problem, remedy)
        self.key = key
        self.problem = problem
        self.remedy = remedy

    def __str__(self) -> str:
        return f"{self.key}: {self.problem}; {self.remedy}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Parameter:
    """What is known of one parameter.

    Attributes:
        sort: what its value is.
        doc: meaning, one line without a full stop.
        low, high: bounds in the base unit (mm, deg, kg, N, degC or a count), both included unless low_open.
        default: as a user would write it, or a plain value; None means none.
        inch: the default in a design whose unit is the inch, where that differs.
        example, example_inch: the value a starter file shows in force; None leaves the line commented out. True puts
            an optional RECORD's own examples in force.
        required: whether a file must give it.
        choices: what a CHOICE may be.
        many: a list of such values rather than one.
        most: how many items a list may have.
        record: class of a RECORD.
        or_name: a RECORD that may be given by its name in parts/ instead.
        variants: for VARIANT: gives the record classes by their `kind`.
    """

    sort: Sort
    doc: str
    low: float | None = None
    high: float | None = None
    low_open: bool = False
    default: Any = None
    inch: Any = None
    example: Any = None
    example_inch: Any = None
    required: bool = False
    choices: tuple[str, ...] = ()
    many: bool = False
    most: int = MOST_ITEMS
    record: type[Record] | None = None
    or_name: bool = False
    variants: Callable[[], Mapping[str, type[Record]]] | None = None

    def default_for(self, unit: str) -> Any:
        """Return the default as written for a design in this unit."""
        return self.inch if unit == "in" and self.inch is not None else self.default

    def example_for(self, unit: str) -> Any:
        """Return the starter file's value for a design in this unit."""
        return self.example_inch if unit == "in" and self.example_inch is not None else self.example

    def range_text(self, unit: str) -> str:
        """Say the range in words, in the unit of the design; empty when there is none."""
        base = BASE.get(self.sort, "")
        low = "" if self.low is None else ("more than " if self.low_open else "") + sizes.say(self.low, base, unit)
        high = "" if self.high is None else sizes.say(self.high, base, unit)
        if low and high:
            return low if low == high else f"{low} to {high}"
        return (
            f"{low} or more".replace("more than 0 or more", "more than 0") if low else (f"up to {high}" if high else "")
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """Base of all records; subclasses add `check` for rules between their parameters."""

    def __post_init__(self) -> None:
        """Check each value against its parameter, then the rules between them."""
        for key, parameter, value in entries(self):
            check_range(key, parameter, value)
        self.check()

    def check(self) -> None:
        """Raise ParameterError when values don't go together."""


def parameters(record: type[Record]) -> dict[str, Parameter]:
    """Return the parameters of a record by the key a file writes."""
    return {key_of(f.name): f.metadata["parameter"] for f in fields(record)}


def entries(record: Record) -> list[tuple[str, Parameter, Any]]:
    """Return key, parameter and value of each field."""
    return [(key_of(f.name), f.metadata["parameter"], getattr(record, f.name)) for f in fields(record)]


def key_of(name: str) -> str:
    """Return the file's key for a field's name."""
    return name.rstrip("_").replace("_", "-")


def check_range(key: str, parameter: Parameter, value: Any) -> None:
    """Check a number, or each number of a list, against the bounds. Errors: ParameterError."""
    if parameter.many and isinstance(value, tuple):
        if len(value) > parameter.most:
            raise ParameterError(key, f"has {len(value)} items, more than {parameter.most}", "give fewer")
        for number, item in enumerate(value, 1):
            check_range(f"{key}[{number}]", _one_of(parameter), item)
        return
    if isinstance(value, bool) or not isinstance(value, int | float):
        return
    base = BASE.get(parameter.sort, "")
    low, high = parameter.low, parameter.high
    too_low = low is not None and not (value > low if parameter.low_open else value >= low)
    too_high = high is not None and not value <= high
    if too_low or too_high or not isfinite(value):
        ranges = " or ".join(dict.fromkeys(parameter.range_text(unit) for unit in _units.get()))
        shown = " = ".join(dict.fromkeys(sizes.say(value, base, unit) for unit in _units.get()))
        raise ParameterError(
            key, f"{shown} is outside its range, {ranges} ({parameter.doc})", "give a value in that range"
        )


def _one_of(parameter: Parameter) -> Parameter:
    from dataclasses import replace

    return replace(parameter, many=False)


def both(mm: float) -> str:
    """Say a length in both units, that of the design first (see `told_first`): "12.7 mm = 0.5 in"."""
    return " = ".join(sizes.say(mm, "mm", unit) for unit in _units.get())


def like(metric: str, inch: str) -> str:
    """Choose the example that a remedy gives, in the unit that is told first, and write it as TOML."""
    return f'"{inch if _units.get()[0] == "in" else metric}"'


@contextmanager
def told_first(unit: str) -> Iterator[None]:
    """Within this, rules tell sizes in this unit, "mm" or "in", before the other: they don't know the design's own."""
    before = _units.set(("in", "mm") if unit == "in" else ("mm", "in"))
    try:
        yield
    finally:
        _units.reset(before)


# Makers of fields, one a sort


def _field(sort: Sort, doc: str, **rest: Any) -> Any:
    return field(metadata={"parameter": Parameter(sort=sort, doc=doc, **rest)})


def length(doc: str, *, low: float = 0.0, high: float = 20000.0, **rest: Any) -> Any:
    """Make a length field, mm."""
    return _field(Sort.LENGTH, doc, low=low, high=high, **rest)


def slot_width(doc: str, **rest: Any) -> Any:
    """Make a T-slot width field, mm."""
    return _field(Sort.SLOT_WIDTH, doc, low=3.0, high=80.0, **rest)


def angle(doc: str, *, low: float, high: float, **rest: Any) -> Any:
    """Make an angle field, degrees."""
    return _field(Sort.ANGLE, doc, low=low, high=high, **rest)


def mass(doc: str, *, low: float = 0.0, high: float = 1e6, **rest: Any) -> Any:
    """Make a mass field, kg."""
    return _field(Sort.MASS, doc, low=low, high=high, **rest)


def force(doc: str, *, low: float = 0.0, high: float = 1e7, **rest: Any) -> Any:
    """Make a force field, N."""
    return _field(Sort.FORCE, doc, low=low, high=high, **rest)


def temperature(doc: str, *, low: float = -60.0, high: float = 400.0, **rest: Any) -> Any:
    """Make a temperature field, degrees Celsius."""
    return _field(Sort.TEMPERATURE, doc, low=low, high=high, **rest)


def count(doc: str, *, low: int = 1, high: int = 1000, **rest: Any) -> Any:
    """Make a whole-number field."""
    return _field(Sort.COUNT, doc, low=low, high=high, **rest)


def choice(doc: str, choices: tuple[str, ...], **rest: Any) -> Any:
    """Make a field that takes one of a few words."""
    return _field(Sort.CHOICE, doc, choices=choices, **rest)


def flag(doc: str, **rest: Any) -> Any:
    """Make a true-or-false field."""
    return _field(Sort.FLAG, doc, **rest)


def text(doc: str, **rest: Any) -> Any:
    """Make a free text field."""
    return _field(Sort.TEXT, doc, **rest)


def name(doc: str, **rest: Any) -> Any:
    """Make a field for a short name that may become a file's name."""
    return _field(Sort.NAME, doc, **rest)


def thread(doc: str, **rest: Any) -> Any:
    """Make a field for a thread's name."""
    return _field(Sort.THREAD, doc, **rest)


def fit(doc: str, **rest: Any) -> Any:
    """Make a field for a size with a tolerance class."""
    return _field(Sort.FIT, doc, **rest)


def record(doc: str, of: type[Record], **rest: Any) -> Any:
    """Make a field that is a record of its own (a sub-table)."""
    return _field(Sort.RECORD, doc, record=of, **rest)


def variant(doc: str, variants: Callable[[], Mapping[str, type[Record]]], **rest: Any) -> Any:
    """Make a field whose record class goes by its `kind`."""
    return _field(Sort.VARIANT, doc, variants=variants, **rest)
