"""Views of a piece on a sheet, and which side of the piece each shows: by titles, by how they stand to each other.

A view's box on paper is the box around the piece; places along each of its axes are counted from the box's lower end.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from tests.rebuilding.paper import Box, Marks, Paper, Point, Words, away, break_circles, from_box
from tests.rebuilding.strokes import Loop, Stroke, area, box_of, joined, loops, strokes_of
from tests.rebuilding.wording import UnreadableError

TOUCH = 0.3
"""Lines of one view are no farther from each other, lines of two views are, mm."""
AXES = {
    "top": ((0, 1), (1, 1)), "bottom": ((0, 1), (1, -1)), "front": ((0, 1), (2, 1)), "back": ((0, -1), (2, 1)),
    "right": ((1, 1), (2, 1)), "left": ((1, -1), (2, 1)),
}  # fmt: skip
"""Of each side as one looks at it: which axis of the piece runs to the right and which up, and which way."""
PICTURE = re.compile("PICTORIAL( FROM BELOW)?, NOT TO SCALE")
TITLES = {"FROM THE RIGHT": "right", "FROM THE LEFT": "left", "FROM BEHIND": "back", "FROM BELOW": "bottom",
          "SECTION ON THE CENTRE LINE": "front", "SECTION ON THE CENTER LINE": "front",
          "SECTION A-A": "front", "A-A": "front"}  # fmt: skip


@dataclass(slots=True)
class Elevation:
    """One view.

    Attributes:
        box: around its edges.
        edges: what is seen.
        hidden: dashed.
        centres: axes, centre marks.
        side: which side of the piece it shows.
    """

    box: Box
    edges: list[Stroke]
    hidden: list[Stroke]
    centres: list[Stroke]
    side: str = ""
    _loops: list[Loop] = field(default_factory=list)

    def place(self, axis: int, at: Point) -> float:
        """Where a point of the paper is along an axis of the piece, from the box's lower end there."""
        number = [own for own, _ in AXES[self.side]].index(axis)
        way = AXES[self.side][number][1]
        return at[number] - self.box[number] if way > 0 else self.box[number + 2] - at[number]

    def loops(self) -> list[Loop]:
        """The closed lines of its edges; the border of each part that hangs together runs clockwise."""
        if not self._loops:
            self._loops = [joined(loop) for loop in loops(self.edges)]
        return self._loops

    def border(self) -> Loop:
        """What the piece looks like as a whole, counter-clockwise."""
        clockwise = min(self.loops(), key=area)
        return tuple(stroke.turned for stroke in reversed(clockwise))

    def lines_across(self, axis: int) -> list[float]:
        """Where long centre lines cross an axis: those that reach over the whole view."""
        number = [own for own, _ in AXES[self.side]].index(axis)
        other = 1 - number
        low, high = self.box[other], self.box[other + 2]
        return [
            self.place(axis, one.start)
            for one in self.centres
            if one.centre is None and abs(one.start[number] - one.end[number]) < 1e-3
            and min(one.start[other], one.end[other]) < low + TOUCH
            and max(one.start[other], one.end[other]) > high - TOUCH
        ]  # fmt: skip


def elevations(sheet: Paper) -> dict[str, Elevation]:
    """The views of a sheet by the side they show."""
    pictures = _pictures(sheet)
    apart = [*pictures, *(ring.box for ring in break_circles(sheet.views.rings))]
    views = [view for view in _clusters(sheet.views) if not any(_inside(view.box, box) for box in apart)]
    _by_titles(views, sheet.marks.words)
    unnamed = [view for view in views if not view.side]
    sides = {view.side for view in views}
    if len(unnamed) == 2:
        third = is_third_angle(sheet.marks)
        upper, lower = sorted(unnamed, key=lambda view: -view.box[1])
        upper.side, lower.side = ("top", "front") if third else ("front", "top")
    elif len(unnamed) == 1:
        unnamed[0].side = "top" if "front" in sides else "front"
    elif unnamed:
        raise UnreadableError(f"{len(unnamed)} views without a title")
    found = {view.side: view for view in views}
    if len(found) != len(views) or "front" not in found:
        raise UnreadableError(f"views of {[view.side for view in views]}")
    _projected(found)
    return found


def _projected(views: dict[str, Elevation]) -> None:
    """A section may leave out where the piece is longest; what the plan shows stands above or below it."""
    plan, front = views.get("top"), views["front"]
    if plan is not None and plan.box[0] - TOUCH < front.box[0] and front.box[2] < plan.box[2] + TOUCH:
        front.box = plan.box[0], front.box[1], plan.box[2], front.box[3]


def _pictures(sheet: Paper) -> list[Box]:
    """Windows that show what the piece looks like; nothing is to be measured in them."""
    found = []
    for title in (words for words in sheet.marks.words if PICTURE.fullmatch(words.text)):
        above = [box for box in sheet.windows if box[1] > title.start[1]]
        found.append(
            min(above, key=lambda box: abs((box[0] + box[2]) / 2.0 - title.middle[0]) + box[1] - title.start[1])
        )
    return found


def _inside(box: Box, other: Box) -> bool:
    return other[0] < (box[0] + box[2]) / 2.0 < other[2] and other[1] < (box[1] + box[3]) / 2.0 < other[3]


def _clusters(marks: Marks) -> list[Elevation]:
    edges, hidden, centres = (
        strokes_of(marks.paths, marks.rings, layers) for layers in (["OUTLINE"], ["HIDDEN", "THREAD"], ["CENTRE"])
    )
    boxes: list[Box] = []
    for stroke in edges:
        box = box_of([stroke])
        while (near := next((other for other in boxes if _touch(box, other)), None)) is not None:
            boxes.remove(near)
            box = min(box[0], near[0]), min(box[1], near[1]), max(box[2], near[2]), max(box[3], near[3])
        boxes.append(box)
    return [Elevation(box, _within(edges, box), _within(hidden, box), _within(centres, box)) for box in boxes]


def _touch(a: Box, b: Box) -> bool:
    return a[0] < b[2] + TOUCH and b[0] < a[2] + TOUCH and a[1] < b[3] + TOUCH and b[1] < a[3] + TOUCH


def _within(strokes: Iterable[Stroke], box: Box) -> list[Stroke]:
    return [stroke for stroke in strokes if from_box(stroke.middle, box) < TOUCH]


def _by_titles(views: Sequence[Elevation], words: Iterable[Words]) -> None:
    for title in words:
        side = TITLES.get(title.text)
        above = [view for view in views if view.box[1] > title.start[1]]
        if side is not None and above:
            middle = title.middle[0]
            nearest = min(above, key=lambda view: abs((view.box[0] + view.box[2]) / 2.0 - middle)
                          + view.box[1] - title.start[1])  # fmt: skip
            nearest.side = side


def is_third_angle(marks: Marks) -> bool:
    """By the symbol in the title block (ISO 5456-2): the rings stand left of the cone."""
    rings = [ring for ring in marks.rings if ring.layer == "OUTLINE" and ring.end - ring.start >= 360.0]
    pairs = [(a, b) for a in rings for b in rings if away(a.centre, b.centre) < 0.01 and a.radius < b.radius]
    cones = [path for path in marks.paths if path.closed and len(path.points) == 4 and _is_cone(path.points)]
    if len(pairs) != 1 or len(cones) != 1:
        raise UnreadableError("the title block does not show the projection")
    return pairs[0][0].centre[0] < cones[0].box[0]


def _is_cone(points: Sequence[Point]) -> bool:
    """Two upright sides of unlike height."""
    uprights = [abs(a[1] - b[1]) for a, b in zip(points, (*points[1:], points[0]), strict=True)
                if abs(a[0] - b[0]) < 1e-3]  # fmt: skip
    return len(uprights) == 2 and abs(uprights[0] - uprights[1]) > 0.5
