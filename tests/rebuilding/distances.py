"""Dimensions of the views: distances, rows of equal steps and angles, each an equation between unknown places."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, cos, degrees, radians, sin

from tests.rebuilding import shaped
from tests.rebuilding.elevations import AXES, Elevation
from tests.rebuilding.measured import PITCHES
from tests.rebuilding.paper import Marks, Point, away, from_box
from tests.rebuilding.places import NAMES
from tests.rebuilding.strokes import are_alike
from tests.rebuilding.wording import Size, UnreadableError, one_unit
from tests.rebuilding.worksheet import SAME, Worksheet

AS_SHOWN = "SHOWN AS FAR AS THE WORK GOES"


def take_dimension(sheet: Worksheet, marks: Marks) -> None:
    """Take in what one dimension says."""
    if len(marks.arrows) == 1:
        return  # a leader's
    text = one_unit(" ".join(words.text for words in marks.words))
    if marks.rings:
        _angle(sheet, marks, text)
        return
    if m := PITCHES.fullmatch(text):
        _steps(sheet, marks, text, int(m[1]), sheet.figures.size(m[2]), sheet.figures.size(m[3]))
        return
    written = shaped.distance(text, sheet.figures)
    spot = _spanned(sheet, marks, text)
    if spot is None:
        return
    view, number, low, high = spot
    axis = AXES[view.side][number][0]
    ends = _ends(sheet, axis, low, high)
    if ends is None:
        sheet.doubts.append(f"{text} points at nothing along {NAMES[axis]}")
    elif not written.known or _is_as_shown(sheet, view, number, low, high):
        if any(own == axis and abs(a - low) < SAME and abs(b - high) < SAME for own, a, b in sheet.measured):
            sheet.doubts.append(f"{text} is written twice")
        sheet.measured.append((axis, low, high))
        _hold_distance(sheet, view, number, ends, written, text)


def _spanned(sheet: Worksheet, marks: Marks, text: str) -> tuple[Elevation, int, float, float] | None:
    """The view a dimension stands at, along which of its axes, from where to where as drawn."""
    tips = sorted(_tip(arrow) for arrow in marks.arrows)
    if len(tips) != 2:
        raise UnreadableError(f"dimension {text} has {len(tips)} arrows")
    number = 1 if abs(tips[0][0] - tips[1][0]) < SAME else 0
    view = _measured_view(sheet, marks, tips, number)
    if view is None:
        sheet.doubts.append(f"{text} stands at no view")
        return None
    axis = AXES[view.side][number][0]
    low, high = sorted(view.place(axis, tip) for tip in tips)
    return view, number, low, high


def _is_as_shown(sheet: Worksheet, view: Elevation, number: int, low: float, high: float) -> bool:
    """Whether brackets stand round how much is shown of a part that reaches farther: nothing else gives that size."""
    long = view.box[number + 2] - view.box[number]
    return AS_SHOWN in sheet.note.upper() and low < SAME and high > long - SAME


def _steps(sheet: Worksheet, marks: Marks, text: str, count: int, step: Size, whole: Size) -> None:
    """Equal steps from one place to another; what the whole says in brackets follows."""
    if abs(count * step.value - whole.value) > count * step.off + whole.off:
        sheet.doubts.append(f"{text}: the steps do not make the whole")
    spot = _spanned(sheet, marks, text)
    if spot is None:
        return
    view, number, low, high = spot
    axis = AXES[view.side][number][0]
    stops = [sheet.places.find(axis, low + (high - low) * n / count) for n in range(count + 1)]
    if not all(stops):
        sheet.doubts.append(f"{text} does not meet as many places as it says")
        return
    off = whole.off / count  # the steps are equal, and the whole is no farther off than its own figure
    for n, (a, b) in enumerate(pairwise(stops)):
        sheet.places.apart(a[0].number, b[0].number, Size(step.value, off), text if n == 0 else f"{text} ({n + 1})")


def _ends(sheet: Worksheet, axis: int, low: float, high: float) -> tuple[int, int] | None:
    """The unknowns at both ends: of one thing if there is one, else of the piece itself before a feature's."""
    first, last = (sorted(sheet.places.find(axis, at), key=lambda one: one.whose) for at in (low, high))
    if not first or not last:
        return None
    one = next(((a, b) for a in first for b in last if a.whose == b.whose), (first[0], last[0]))
    return one[0].number, one[1].number


def _hold_distance(
    sheet: Worksheet, view: Elevation, number: int, ends: tuple[int, int], written: shaped.Distance, text: str
) -> None:
    axis = AXES[view.side][number][0]
    spans = [ends]
    own = [profile for _, seen, profile in sheet.features if seen is view and profile is not None]
    measured = next((p for p in own if (p.low[number], p.high[number]) == ends), None)
    if written.count > 1 and measured is not None:
        spans = list({(p.low[number], p.high[number]): None for p in own if are_alike(p.loop, measured.loop)})
        spans = [span for n, span in enumerate(spans) if span not in spans[:n]]
    for n, (low, high) in enumerate(spans):
        sheet.places.apart(low, high, written.size, text if len(spans) == 1 else f"{text} ({n + 1})")
        _even(sheet, axis, low, high)


def _even(sheet: Worksheet, axis: int, low: int, high: int) -> None:
    """A distance about a centre line lies evenly about it."""
    for middle in sheet.places.middles[axis]:
        about = sheet.places.drawn(low) + sheet.places.drawn(high) - 2.0 * sheet.places.drawn(middle)
        equation = {low, high, middle}
        there = any({*one.among} == equation and not one.text for one in sheet.places.equations.all)
        if abs(about) < 0.02 and not there:
            sheet.places.halfway(low, middle, high)


def _measured_view(sheet: Worksheet, marks: Marks, tips: Sequence[Point], number: int) -> Elevation | None:
    """The view at which the extension lines start."""
    found = []
    for view in sheet.views.values():
        box = view.box
        if all(box[number] - SAME < tip[number] < box[number + 2] + SAME for tip in tips):
            feet = [min(from_box(end, box) for end in _extension(marks, tip, number)) for tip in tips]
            found.append((sum(feet), view.side))
    return sheet.views[min(found)[1]] if found and min(found)[0] < 40.0 else None


def _angle(sheet: Worksheet, marks: Marks, text: str) -> None:
    """An angle between two edges that run toward the middle of its arc."""
    ring, size = marks.rings[0], shaped.angle(text)
    view = sheet.view_at(ring.centre)
    if size is None or view is None:
        sheet.doubts.append(f"{text} is no angle of a view")
        return
    flanks = [_flank(sheet, view, ring.centre, way) for way in (ring.start, ring.end)]
    if None in flanks:
        sheet.doubts.append(f"{text} lies between no two edges")
        return
    numbers = [number for flank in flanks if flank is not None for number in flank]
    value = radians(size.value)

    def off(v: Sequence[float]) -> float:
        ways = [atan2(v[n + 3] - v[n + 1], v[n + 2] - v[n]) for n in (0, 4)]
        turn = ways[1] - ways[0] - value
        return atan2(sin(turn), cos(turn))

    sheet.places.equations.hold(numbers, off, text, radians(size.off))


def _flank(sheet: Worksheet, view: Elevation, centre: Point, way: float) -> list[int] | None:
    """An edge in a direction from a point, as the unknowns of its nearer and its farther end."""
    for stroke in view.border():
        if stroke.centre is None:
            near, far = sorted((stroke.start, stroke.end), key=lambda end: away(end, centre))
            turn = degrees(atan2(far[1] - centre[1], far[0] - centre[0])) - way
            line = degrees(atan2(far[1] - near[1], far[0] - near[0])) - way
            if all(abs((t + 180.0) % 360.0 - 180.0) < 0.1 for t in (turn, line)):
                axes = [axis for axis, _ in AXES[view.side]]
                return [sheet.places.at(axis, view.place(axis, end)) for end in (near, far) for axis in axes]
    return None


def _tip(arrow: tuple[Point, Point, Point]) -> Point:
    return max(arrow, key=lambda corner: sum(away(corner, other) for other in arrow))


def _extension(marks: Marks, tip: Point, number: int) -> list[Point]:
    """Ends of the extension line through the point of an arrow, and that point."""
    lines = [path.points for path in marks.paths if not path.closed
             and all(abs(point[number] - tip[number]) < SAME for point in path.points)]  # fmt: skip
    return [tip, *(point for points in lines for point in points)]
