"""What the shop has at hand: bars on the rack, taps and reamers in the drawer."""

from __future__ import annotations

from dataclasses import dataclass

from slotwright.records import parameters as p


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
class DrawerFile(p.Record):
    """The drawer of taps and reamers."""

    slotwright: int = p.count("format of this file", low=1, high=1, default=1, example=1)
    part: str = p.choice("what this file describes", ("drawer",), default="drawer", example="drawer")
    unit: str = p.choice(
        "unit of the drawer's sizes", ("mm", "in"), default="mm", inch="in", example="mm", example_inch="in"
    )
    taps: tuple[str, ...] = p.thread(
        "taps", many=True, example=["M8", "M10", "M12"], example_inch=["3/8-16 UNC", "1/2-13 UNC"]
    )
    reamers: tuple[float, ...] = p.length("reamers by diameter", many=True, low=0.5, high=100.0)
