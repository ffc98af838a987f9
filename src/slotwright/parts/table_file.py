"""A table as a file in parts/ (or inline in a design) says it, and the table that follows."""

from __future__ import annotations

from dataclasses import dataclass

from slotwright.parts.t_slots import complete_slot
from slotwright.parts.table import Table
from slotwright.records import parameters as p


@dataclass(frozen=True, slots=True, kw_only=True)
class Slots(p.Record):
    """The T-slots: by number and pitch, or by the measured centres."""

    width: float = p.slot_width(
        "width of the throat, as measured", required=True, example="14 mm", example_inch="5/8 in"
    )
    number: int | None = p.count("how many slots, with their pitch", high=40, example=3)
    pitch: float | None = p.length(
        "distance between neighbouring slot centres", low=10.0, high=1000.0, example="63 mm", example_inch="2-1/2 in"
    )
    first: float | None = p.length("centre of slot 1 from the front edge; else the slots stand in the table's middle")
    centres: tuple[float, ...] = p.length(
        "instead of number and pitch: each slot's centre from the front edge, as measured, front slot first",
        many=True,
        most=40,
    )
    uncertainty: float = p.length(
        "how far a measured centre may be off, plus or minus", high=2.0, default="0 mm", inch="0 in"
    )
    headspace_width: float | None = p.length(
        "width of the wide part below the throat, as measured; else from ISO 299 or ASME B5.1M", low=5.0, high=150.0
    )
    headspace_depth: float | None = p.length(
        "height of the wide part, as measured; else from the standard", low=2.0, high=80.0
    )
    depth: float | None = p.length(
        "from the table top to the floor of the slot, as measured; else from the standard", low=5.0, high=200.0
    )

    def check(self) -> None:
        """Exactly one way to place the slots, and slots that don't run into each other."""
        if self.centres and (self.number or self.pitch or self.first is not None):
            raise p.ParameterError("centres", "stands beside number, pitch or first", "keep one way, not both")
        if not self.centres and (self.number is None or (self.pitch is None and self.number > 1)):
            raise p.ParameterError(
                "number", "is missing, or its pitch is", "give number and pitch, or the measured centres"
            )
        for number, (a, b) in enumerate(zip(self.centres, self.centres[1:], strict=False), 2):
            if not b - a > self.width:
                raise p.ParameterError(
                    f"centres[{number}]",
                    f"{p.both(b)} is not a slot's width ({p.both(self.width)}) behind {p.both(a)}",
                    "list the centres from the front edge, each once",
                )
        if self.pitch is not None and not self.pitch > self.width:
            raise p.ParameterError("pitch", f"{p.both(self.pitch)} is no more than the slot's width", "check the pitch")

    def centres_in(self, width: float) -> tuple[float, ...]:
        """Return every slot's centre from the front edge, mm, on a table of this width."""
        if self.centres:
            return self.centres
        assert self.number is not None  # noqa: S101  `check` has seen to it
        pitch = self.pitch or 0.0
        first = (width - (self.number - 1) * pitch) / 2.0 if self.first is None else self.first
        return tuple(first + pitch * n for n in range(self.number))


@dataclass(frozen=True, slots=True, kw_only=True)
class TableFile(p.Record):
    """A machine's table."""

    slotwright: int = p.count("format of this file", low=1, high=1, default=1, example=1)
    part: str = p.choice("what this file describes", ("table",), default="table", example="table")
    name: str | None = p.name("short name, for a table written inside a design; a file in parts/ goes by its own name")
    title: str = p.text("what the shop calls the machine", default="T-slot table", example="Mill in bay 2")
    unit: str = p.choice(
        "unit the table was measured in", ("mm", "in"), default="mm", inch="in", example="mm", example_inch="in"
    )
    length: float = p.length("along the slots", low=50.0, required=True, example="1100 mm", example_inch="42 in")
    width: float = p.length(
        "front edge to back edge", low=30.0, high=5000.0, required=True, example="280 mm", example_inch="9 in"
    )
    thickness: float = p.length(
        "of the casting, for the picture only", low=10.0, high=500.0, default="75 mm", inch="3 in"
    )
    slots: Slots = p.record("the T-slots", Slots, required=True)
    travel_x: float | None = p.length("travel along the table")
    travel_y: float | None = p.length("travel across the table")
    travel_z: float | None = p.length("travel up and down")
    load: float | None = p.mass("load the machine's manual allows on the table")

    def check(self) -> None:
        """Slots lie on the table, and their depths make sense together."""
        slots = self.slots
        centres = slots.centres_in(self.width)
        half = slots.width / 2.0
        if not (centres[0] > half and centres[-1] < self.width - half):
            raise p.ParameterError(
                "slots",
                f"reach from {p.both(centres[0])} to {p.both(centres[-1])}, off a table {p.both(self.width)} wide",
                "measure the centres from the front edge",
            )
        if slots.headspace_width is not None and not slots.headspace_width > slots.width:
            raise p.ParameterError(
                "slots.headspace-width",
                f"{p.both(slots.headspace_width)} is no wider than the throat, {p.both(slots.width)}",
                "measure the wide part below the throat",
            )
        if slots.depth is not None and slots.headspace_depth is not None and not slots.depth > slots.headspace_depth:
            raise p.ParameterError(
                "slots.depth",
                f"{p.both(slots.depth)} is no deeper than the headspace alone, {p.both(slots.headspace_depth)}",
                "measure from the table top to the slot's floor",
            )
        if slots.depth is not None and not slots.depth < self.thickness:
            raise p.ParameterError(
                "thickness",
                f"{p.both(self.thickness)} is no more than the slots' depth, {p.both(slots.depth)}",
                "give the casting's thickness",
            )

    def table(self, name: str) -> Table:
        """Make the table of this name."""
        slots = self.slots
        return Table(
            name=name,
            title=self.title,
            unit=self.unit,
            length=self.length,
            width=self.width,
            thickness=self.thickness,
            slot=complete_slot(
                slots.width, slots.headspace_width, slots.headspace_depth, slots.depth, system=self.unit
            ),
            slot_centres=slots.centres_in(self.width),
            uncertainty=slots.uncertainty,
            travel=(self.travel_x, self.travel_y, self.travel_z),
            load=self.load,
        )
