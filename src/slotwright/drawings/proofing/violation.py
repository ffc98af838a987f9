"""What the proof finds: one thing that meets another, with its place."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from slotwright.drawings.paper.sheet import Point


class Kind(StrEnum):
    """What is wrong."""

    TEXT_ON_TEXT = "text-on-text"
    LINE_THROUGH_TEXT = "line-through-text"
    ARROW_ON_TEXT = "arrow-on-text"
    TEXT_TOO_NEAR = "text-too-near"
    OUTSIDE_FRAME = "outside-frame"
    CUT_OFF = "cut-off"
    AREAS_OVERLAP = "areas-overlap"
    LINE_OVER_VIEW = "dimension-over-view"
    LINES_CROSS = "dimension-line-crossed"
    UNREAD = "not-judged"


AVOIDABLE = frozenset({Kind.LINES_CROSS})  # better not, but no fault where there is no other way


@dataclass(frozen=True, slots=True, kw_only=True)
class Violation:
    """One thing that meets another on a sheet.

    Attributes:
        kind: what is wrong.
        sheet: the sheet's name.
        at: where on the paper, mm from the lower left corner.
        zone: the field of the sheet's border, such as "C4", or "".
        what: the one thing.
        against: the other thing, or "".
        clear: the clear space found, mm, where the rule asks for some.
        wanted: the clear space asked for, mm.
    """

    kind: Kind
    sheet: str
    at: Point
    zone: str = ""
    what: str
    against: str = ""
    clear: float | None = None
    wanted: float | None = None

    @property
    def avoidable(self) -> bool:
        """Whether it is only better avoided, and no fault where there is no other way."""
        return self.kind in AVOIDABLE

    @property
    def sentence(self) -> str:
        """What is wrong, in a few words."""
        match self.kind:
            case Kind.TEXT_TOO_NEAR:
                room = f"{self.clear:g} mm from {self.against}, less than its height of {self.wanted:g} mm"
                return f"{self.what} stands {room}"
            case Kind.LINE_THROUGH_TEXT | Kind.ARROW_ON_TEXT:
                return f"{self.what} is met by {self.against}"
            case Kind.UNREAD:
                return f"{self.what} cannot be judged"
            case Kind.LINES_CROSS:
                return f"{self.what} is crossed by {self.against}"
            case _:
                return f"{self.what} {_VERBS[self.kind]} {self.against}"

    @property
    def place(self) -> str:
        """Where it is: sheet, field, and mm from the lower left corner of the paper."""
        x, y = self.at
        return ", ".join(part for part in (self.sheet, self.zone, f"at {x:g}, {y:g} mm") if part)


_VERBS = {
    Kind.TEXT_ON_TEXT: "overlaps",
    Kind.OUTSIDE_FRAME: "reaches beyond",
    Kind.CUT_OFF: "is cut off by",
    Kind.AREAS_OVERLAP: "overlaps",
    Kind.LINE_OVER_VIEW: "crosses",
}
