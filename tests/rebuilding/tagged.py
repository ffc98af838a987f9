"""Which hole of a view each tag stands at, and whether a hole is drawn where the table has one."""

from __future__ import annotations

from collections.abc import Sequence

from tests.rebuilding.elevations import AXES, Elevation
from tests.rebuilding.hole_rows import PlacedHole
from tests.rebuilding.paper import Point, Words, away, from_box
from tests.rebuilding.ruled import Rulings
from tests.rebuilding.seen import Spot, match_tags
from tests.rebuilding.worksheet import Worksheet

NEAR = 60.0
"""No tag stands farther from its view, mm on paper."""
AT = 0.3
"""A hole is drawn no farther from where the table has it, mm on paper; a printed figure is off by less."""
LEFT_OUT = "HOLES WITHOUT A TAG ON THE PLAN ARE FOUND BY"


def tag_faults(sheet: Worksheet, holes: Sequence[PlacedHole], zeros: Sequence[int]) -> tuple[list[str], list[str]]:
    """Say which holes are not drawn where the table has them, and which tags are not plain by where they stand."""
    scale = _scale(sheet)
    rulings = Rulings(sheet.sheets[0].marks)
    free = [words for words in sheet.sheets[0].marks.words if rulings.stands_free(words)]
    doubts, unclear = [], []
    for side, view in sheet.views.items():
        own = [hole for hole in holes if _home(sheet, hole) == side]
        spots = {hole.tag: _spot(sheet, view, hole, zeros, scale) for hole in own}
        middles = [stroke.centre for stroke in (*view.edges, *view.hidden) if stroke.centre is not None]
        middles += [_halfway(a, b) for a in middles for b in middles] if any(hole.sizes.long for hole in own) else []
        doubts += [f"hole {tag} of the table is not in the view" for tag, spot in spots.items()
                   if min((away(spot.middle, at) for at in middles), default=AT) >= AT]  # fmt: skip
        alone = {tag: spot for tag, spot in spots.items()
                 if sum(away(spot.middle, other.middle) < AT for other in spots.values()) == 1}  # fmt: skip
        unclear += _misplaced(sheet, view, alone, free)
    return doubts, unclear


def _misplaced(sheet: Worksheet, view: Elevation, spots: dict[str, Spot], free: Sequence[Words]) -> list[str]:
    leaders = [path for path in sheet.sheets[0].marks.paths if path.layer == "NOTE" and not path.closed]
    tags = [words for words in free if words.text in spots and from_box(words.middle, view.box) < NEAR]
    found, doubts = match_tags(tags, leaders, list(spots.values()))
    if any(note.startswith(LEFT_OUT) for note in sheet.notes):
        doubts = [doubt for doubt in doubts if not doubt.startswith("no tag at")]
    return doubts + [f"tag {tag} stands at another hole" for tag, spot in found.items() if spot != spots[tag]]


def _home(sheet: Worksheet, hole: PlacedHole) -> str:
    """The view in which a hole is tagged: of its side, else of the side it can be seen from."""
    if hole.side in sheet.views:
        return hole.side
    return "top" if hole.side == "bottom" else "front"


def _scale(sheet: Worksheet) -> float:
    """How much larger the paper is than the piece."""
    front = sheet.views["front"]
    low, high = sheet.places.at(0, 0.0), sheet.places.at(0, front.box[2] - front.box[0])
    return (front.box[2] - front.box[0]) / (sheet.places.size(high).value - sheet.places.size(low).value)


def _spot(sheet: Worksheet, view: Elevation, hole: PlacedHole, zeros: Sequence[int], scale: float) -> Spot:
    """Where a hole of a table is on paper."""
    at: list[float] = []
    for number, (axis, way) in enumerate(AXES[view.side]):
        along = sheet.places.drawn(zeros[axis]) + scale * hole.place[number].value
        at.append(view.box[number] + along if way > 0 else view.box[number + 2] - along)
    sizes = [size.value for size in (hole.sizes.across, hole.sizes.bore, hole.sizes.sink) if size is not None]
    reach = max(sizes) * scale / 2.0
    return Spot((at[0], at[1]), reach, reach)


def _halfway(a: Point, b: Point) -> Point:
    return (a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0
