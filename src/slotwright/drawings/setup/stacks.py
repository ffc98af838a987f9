"""What goes together on one axis and is shown in a section of the set-up sheet: bolted joints, then other screws."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeAlias

from slotwright.drawings.setup.covering import holds
from slotwright.drawings.setup.setup_plan import SAME_AXIS
from slotwright.fixtures.joint import Joint
from slotwright.fixtures.layout import Layout, PlacedHardware, PlacedPiece
from slotwright.parts.hardware import Prism
from slotwright.pieces.features import Hole

MOST_JOINTS = 3  # different bolt stacks that are shown; our choice
SCREWS = ("socket head cap screw",)


@dataclass(frozen=True, slots=True)
class Stack:
    """A screw that holds something to a piece, such as a key beneath it or a chuck on it.

    Attributes:
        piece: name of the piece.
        x, y: the axis in the table frame, mm.
        slot: number of the slot that the axis stands in, 1 being the front one, or None.
    """

    piece: str
    x: float
    y: float
    slot: int | None


Axis: TypeAlias = Joint | Stack


def stacks(layout: Layout, tells: Callable[[Joint], int] = lambda _: 0) -> tuple[Axis, ...]:
    """Return one axis for each different stack of piece and bought items; joints come first.

    Args:
        layout: where they stand.
        tells: how many items a section at a joint shows; of like joints the one that tells most is taken, else the
            first.
    """
    alike: dict[tuple[str, ...], list[Joint]] = {}
    for joint in layout.joints:
        alike.setdefault((joint.piece, *_titles(layout, joint)), []).append(joint)
    others: dict[tuple[str, ...], Axis] = {}
    for stack in _screwed(layout):
        others.setdefault((stack.piece, *_titles(layout, stack)), stack)
    return (*(max(joints, key=tells) for joints in list(alike.values())[:MOST_JOINTS]), *others.values())


def _screwed(layout: Layout) -> Iterator[Stack]:
    """Screws that stand on no joint's axis, in a hole of a piece."""
    bolted = [(joint.x, joint.y) for joint in layout.joints]
    for item in layout.hardware:
        x, y = item.place.x, item.place.y
        if item.item.kind not in SCREWS or any(abs(x - u) < SAME_AXIS and abs(y - v) < SAME_AXIS for u, v in bolted):
            continue
        slots = (n for n, centre in enumerate(layout.table.slot_centres, 1) if abs(y - centre) < SAME_AXIS)
        held = next((placed for placed in layout.pieces if hole_at(placed, x, y) is not None), None)
        if held is not None:
            yield Stack(held.piece.name, x, y, next(slots, None) if _in_slot(layout, x, y) else None)


def _in_slot(layout: Layout, x: float, y: float) -> bool:
    """Say whether something on the axis stands below the table top."""
    return any(
        body.bottom + item.place.z < -SAME_AXIS
        for item in layout.hardware
        if on_axis(item, x, y)
        for body in item.item.body
    )


def on_axis(item: PlacedHardware, x: float, y: float) -> bool:
    """Say whether a bought item's own axis stands there, or a window such as a strap's slot lets one through there."""
    if abs(item.place.x - x) < SAME_AXIS and abs(item.place.y - y) < SAME_AXIS:
        return True
    windows = (window for body in item.item.body if isinstance(body, Prism) for window in body.windows)
    return any(holds([item.place.to_table(*point) for point in window], (x, y)) for window in windows)


def hole_at(placed: PlacedPiece, x: float, y: float) -> Hole | None:
    """Return the hole of a piece that an axis goes through; in a slotted hole it may stand off the middle."""
    for hole in placed.piece.holes:
        u, v = placed.place.to_table(hole.x, hole.y)
        play = hole.slot_extra / 2.0 + SAME_AXIS
        if abs(u - x) <= play and abs(v - y) <= play:
            return hole
    return None


def _titles(layout: Layout, at: Axis) -> tuple[str, ...]:
    return tuple(item.item.title for item in layout.hardware if on_axis(item, at.x, at.y))
