"""What the shop has at hand: bars on the rack; taps, reamers and straps in the drawer."""

from __future__ import annotations

from dataclasses import dataclass

from slotwright import sizes
from slotwright.parts.straps import Strap
from slotwright.records import parameters as p


def _size(mm: float, unit: str) -> str:
    written = sizes.fraction(mm)
    if unit == "in" and written.exact:
        return written.text
    return sizes.decimals(sizes.in_unit(mm, "mm", unit), 2 if unit == "mm" else 3)


@dataclass(frozen=True, slots=True, kw_only=True)
class RackBar(p.Record):
    """One section on the rack."""

    name: str = p.name("short name a design uses", required=True, example="flat-40x20")
    title: str | None = p.text("section as the shop calls it; else made from the sizes")
    width: float = p.length("wide side", low=3.0, high=1000.0, required=True, example="40 mm", example_inch="1-1/2 in")
    thickness: float = p.length("thin side", low=1.0, high=500.0, required=True, example="20 mm", example_inch="3/4 in")
    material: str = p.text("material", default="S235JR", inch="1018", example="S235JR", example_inch="1018")
    longest: float | None = p.length("longest piece on the rack; else any length")


@dataclass(frozen=True, slots=True, kw_only=True)
class RackFile(p.Record):
    """The rack of bar stock."""

    slotwright: int = p.count("format of this file", low=1, high=1, default=1, example=1)
    part: str = p.choice("what this file describes", ("rack",), default="rack", example="rack")
    unit: str = p.choice(
        "unit of the rack's sizes", ("mm", "in"), default="mm", inch="in", example="mm", example_inch="in"
    )
    bar: tuple[RackBar, ...] = p.record("the sections", RackBar, many=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapEntry(p.Record):
    """A pair of flat straps, as measured; lengths along a strap are from its nose."""

    name: str | None = p.name("short name a design uses; one written inside a design needs none")
    width: float = p.length(
        "across the strap", low=8.0, high=200.0, required=True, example="40 mm", example_inch="2 in"
    )
    length: float = p.length("over all", low=20.0, high=1000.0, required=True, example="100 mm", example_inch="4 in")
    thickness: float = p.length("height", low=4.0, high=100.0, required=True, example="20 mm", example_inch="3/4 in")
    slot_width: float = p.length(
        "width of its slot", low=3.0, high=60.0, required=True, example="14 mm", example_inch="9/16 in"
    )
    slot_from: float = p.length(
        "where its slot begins, over the round end", required=True, example="30 mm", example_inch="1-1/4 in"
    )
    slot_to: float = p.length("where its slot ends", required=True, example="75 mm", example_inch="3 in")
    straight_from: float = p.length("where its long edges begin to be straight", default="0 mm", inch="0 in")
    straight_to: float | None = p.length("where they end to be straight; else at the strap's end")

    def check(self) -> None:
        """A slot in the strap, and straight edges along it."""
        if not self.slot_width < self.width:
            raise p.ParameterError(
                "slot-width", f"{p.both(self.slot_width)} is no less than the strap's width", "measure the slot"
            )
        if not self.slot_from + self.slot_width <= self.slot_to < self.length:
            raise p.ParameterError(
                "slot-to",
                f"{p.both(self.slot_to)} is not between the slot's beginning and the strap's end",
                "measure both ends of the slot from the nose, over the round ends",
            )
        if not self.straight_from < (self.straight_to or self.length) <= self.length:
            raise p.ParameterError("straight-to", "is not on the strap, behind straight-from", "measure from the nose")

    def strap(self, unit: str) -> Strap:
        """Make the strap, named in this unit ("mm" or "in")."""
        return Strap(
            name=self.name or "strap",
            size=" x ".join(_size(value, unit) for value in (self.width, self.thickness, self.length)) + f" {unit}",
            length=self.length,
            width=self.width,
            thickness=self.thickness,
            slot_width=self.slot_width,
            slot_from=self.slot_from,
            slot_to=self.slot_to,
            straight_from=self.straight_from,
            straight_to=self.length if self.straight_to is None else self.straight_to,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawerFile(p.Record):
    """The drawer of taps, reamers and straps."""

    slotwright: int = p.count("format of this file", low=1, high=1, default=1, example=1)
    part: str = p.choice("what this file describes", ("drawer",), default="drawer", example="drawer")
    unit: str = p.choice(
        "unit of the drawer's sizes", ("mm", "in"), default="mm", inch="in", example="mm", example_inch="in"
    )
    taps: tuple[str, ...] = p.thread(
        "taps", many=True, example=["M8", "M10", "M12"], example_inch=["3/8-16 UNC", "1/2-13 UNC"]
    )
    reamers: tuple[float, ...] = p.length("reamers by diameter", many=True, low=0.5, high=100.0)
    strap: tuple[StrapEntry, ...] = p.record("pairs of flat straps", StrapEntry, many=True, most=200)
