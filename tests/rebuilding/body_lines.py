"""What the views show of a piece as a whole: its profile, how far it is drawn out, centre lines, zeros."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from tests.rebuilding.bar_reading import ZERO_CORNER
from tests.rebuilding.elevations import AXES, Elevation
from tests.rebuilding.paper import Paper, from_box
from tests.rebuilding.places import NAMES
from tests.rebuilding.points import PointTable
from tests.rebuilding.strokes import Loop, box_of, is_sloped
from tests.rebuilding.wording import UnreadableError
from tests.rebuilding.worksheet import SAME, Worksheet

ZERO_CENTRE = re.compile(r"X AND Y FROM THE (?P<owner>[A-Z ]+'S )?CENT(RE|ER)")
ZERO_EACH = re.compile(r"X FROM THE (?P<x>[A-Z' ]+), Y FROM THE (?P<y>[A-Z' ]+)\.")


def body_of(sheet: Worksheet) -> tuple[str, Loop]:
    """The side on which the profile is seen, and the profile as drawn there."""
    right = sheet.views.get("right")
    if right is not None and ("top" not in sheet.views or not _is_box(right.border())):
        return "right", right.border()
    if "top" not in sheet.views:
        raise UnreadableError("no view shows the outline")
    return "top", sheet.views["top"].border()


def same_boxes(sheet: Worksheet) -> None:
    """All views show the piece equally large, and those beside each other stand in line."""
    for axis in range(3):
        found = {}
        for view in sheet.views.values():
            for number, (own, _) in enumerate(AXES[view.side]):
                if own == axis:
                    found[view.side] = view.box[number + 2] - view.box[number]
        if max(found.values()) - min(found.values()) > SAME:
            sheet.doubts.append(f"views are unlike along {NAMES[axis]}: {found}")


def drawn_out(sheet: Worksheet, side: str) -> tuple[int, int]:
    """From where to where the profile is drawn out: the ends, or for a plan where the front is as long as all."""
    front = sheet.views["front"]
    if side == "right":
        return sheet.places.at(0, 0.0), sheet.places.at(0, front.box[2] - front.box[0])
    low, high = _full_width(front)
    stands_out = {one.side for note in sheet.leaders for one in [sheet.view_at(note.tip)] if one is not None
                  and note.lines[0].endswith(" HIGH")}  # fmt: skip
    low = low if "bottom" in stands_out else front.box[1]
    high = high if "top" in stands_out else front.box[3]
    return sheet.places.at(2, low - front.box[1]), sheet.places.at(2, high - front.box[1])


def reach_of(sheet: Worksheet, table: PointTable, view: Elevation, zeros: Sequence[int]) -> None:
    """An outline that goes by points ends where they, and the arcs between them, do."""
    for number, (axis, _) in enumerate(AXES[view.side]):
        long = view.box[number + 2] - view.box[number]
        for drawn, end in zip((0.0, long), table.reach(number), strict=True):
            there = sheet.places.at(axis, drawn)
            if there != zeros[axis]:
                sheet.places.apart(zeros[axis], there, end, "")
            elif abs(end.value) > end.off + 1e-9:
                sheet.doubts.append(f"the points of the outline start at {end.value:.4f} mm along {NAMES[axis]}")


def centre_lines(sheet: Worksheet) -> None:
    """A long centre line through the middle of all says that what lies about it does so evenly.

    Those of a bore that all is counted from say nothing of the piece's own middle.
    """
    zeros = _counted_from(sheet.note)
    for view in sheet.views.values():
        for number, (axis, _) in enumerate(AXES[view.side]):
            if zeros[axis] == "feature" or (zeros[axis] == "edge" and view.side != "right"):
                continue  # else axes of grooves
            long = view.box[number + 2] - view.box[number]
            for at in view.lines_across(axis):
                if abs(at - long / 2.0) < 0.02:
                    middle = sheet.places.at(axis, at)
                    if middle not in sheet.places.middles[axis]:
                        sheet.places.middles[axis].append(middle)
                        sheet.places.halfway(sheet.places.at(axis, 0.0), middle, sheet.places.at(axis, long))


def zeros_of(sheet: Worksheet) -> tuple[int, int, int]:
    """What X, Y and Z are counted from; heights from the bottom face."""
    low = [sheet.places.at(axis, 0.0) for axis in range(2)]
    zeros = _counted_from(sheet.note)
    for axis in range(2):
        if zeros[axis] == "line":
            middles = sheet.places.middles[axis]
            low[axis] = middles[0] if middles else low[axis]
            if not middles:
                sheet.doubts.append(f"{NAMES[axis]} counts from a centre line that is not drawn")
        elif zeros[axis] in ("centre", "feature"):
            at = _axis_at(sheet, axis)
            low[axis] = low[axis] if at is None else sheet.places.at(axis, at)
    if not zeros[0] and any(True for _ in _tables(sheet.sheets)):
        sheet.doubts.append("no note says what X and Y are measured from")
    bottom = _bottom(sheet)
    for zero in (*low, bottom):
        sheet.places.fix(zero)
    return low[0], low[1], bottom


def _counted_from(note: str) -> tuple[str, str, str]:
    """What X, Y and Z count from by the notes: an edge, a centre line, the piece's centre, a feature's; else ""."""
    if ZERO_CORNER in note:
        return "edge", "edge", "edge"
    if each := ZERO_EACH.search(note):
        kinds = {"LEFT END": "edge", "FRONT EDGE": "edge", "CENTRE LINE": "line", "CENTER LINE": "line"}
        x, y = kinds.get(each["x"], "feature"), kinds.get(each["y"], "feature")
        return x, y, "feature" if "feature" in (x, y) else "edge"
    centre = ZERO_CENTRE.search(note)
    if centre is None:
        return "", "", ""
    return ("feature",) * 3 if centre["owner"] else ("centre", "centre", "")


def _bottom(sheet: Worksheet) -> int:
    if "top" in sheet.views and body_of(sheet)[0] == "top":
        return drawn_out(sheet, "top")[0]
    return sheet.places.at(2, 0.0)


def _axis_at(sheet: Worksheet, axis: int) -> float | None:
    """Where the axis that is named by the other letter stands: X is counted from where the axis Y is drawn."""
    for side in ("top", "bottom", "front", "right"):
        view = sheet.views.get(side)
        if view is None or axis not in [own for own, _ in AXES[side]]:
            continue
        lines = view.lines_across(axis)
        number = [own for own, _ in AXES[side]].index(axis)
        letters = [w for w in sheet.sheets[0].marks.words if w.text == NAMES[1 - axis]
                   and from_box(w.middle, view.box) < 14.0]  # fmt: skip
        named = [at for at in lines for w in letters if abs(view.place(axis, w.middle) - at) < 1.5]
        if named or (side not in ("top", "bottom") and lines):
            long = view.box[number + 2] - view.box[number]
            return min(named or lines, key=lambda at: abs(at - long / 2.0))
    return None


def _tables(sheets: Sequence[Paper]) -> Iterator[str]:
    return (words.text for sheet in sheets for words in sheet.marks.words if words.text == "TAG")


def _is_box(loop: Loop) -> bool:
    """Whether it is four sides, its corners sharp or broken."""
    x0, y0, x1, y1 = box_of(loop)
    ends = [end for stroke in loop if not is_sloped(stroke) for end in (stroke.start, stroke.end)]
    return len(loop) in (4, 8) and all(min(x - x0, x1 - x, y - y0, y1 - y) < 0.02 for x, y in ends)


def _full_width(front: Elevation) -> tuple[float, float]:
    """The lowest and the highest level at which the front is as wide as all of it; broken rims belong to it."""
    border = front.border()
    x0, _, x1, _ = box_of(border)
    levels = sorted({round(end[1], 4) for stroke in border for end in (stroke.start, stroke.end)})
    bands = [(a, b) for a, b in pairwise(levels) if b - a > 0.02]
    wide = [(a, b, _crossings(border, (a + b) / 2.0)) for a, b in bands]
    full = [(a, b) for a, b, at in wide if at and min(at) < x0 + 0.02 and max(at) > x1 - 0.02]
    if not full:
        raise UnreadableError("the front is nowhere as wide as it is")
    low, high = full[0][0], full[-1][1]
    slopes = [sorted((stroke.start[1], stroke.end[1])) for stroke in border if is_sloped(stroke)]
    for a, b in (band for band in bands if any(s[0] < band[0] + 0.02 and s[1] > band[1] - 0.02 for s in slopes)):
        if abs(b - low) < 0.02:
            low = a
        elif abs(a - high) < 0.02:
            high = b
    return low, high


def _crossings(border: Loop, level: float) -> list[float]:
    found = []
    for stroke in border:
        (ax, ay), (bx, by) = stroke.start, stroke.end
        if min(ay, by) < level < max(ay, by):
            found.append(ax + (bx - ax) * (level - ay) / (by - ay))
    return found
