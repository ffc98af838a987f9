"""Sizes and places of features, each where it is seen true: distances beside the view, notes on leaders."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from slotwright.drawings.callouts import DEPTH, THROUGH, times
from slotwright.drawings.paper.dimensioning import Side
from slotwright.drawings.paper.style import Style
from slotwright.drawings.shapes.distances import Wish
from slotwright.drawings.shapes.leaders import note_diameter, point_out
from slotwright.drawings.shapes.outline_measures import Span, length_and_width, limited
from slotwright.drawings.shapes.panel import Panel
from slotwright.drawings.shapes.patterns import SAME, Origin, Zero
from slotwright.drawings.shapes.reading_outlines import Form, Reading, read
from slotwright.drawings.shapes.seen import flips, shown
from slotwright.drawings.shapes.views_needed import Shaped
from slotwright.pieces.faces import Face, plane_axes
from slotwright.pieces.features import Groove, Pocket, Tenon
from slotwright.pieces.metal import Metal
from slotwright.pieces.outline import Outline
from slotwright.pieces.segment import Point

_NOTHING: Mapping[int, str] = {}


def measure_features(
    panel: Panel, features: Iterable[Shaped], metal: Metal, origin: Origin, both: Mapping[int, str] = _NOTHING
) -> list[Wish]:
    """Return the distances that size and locate features; what else they need is noted on leaders.

    Args:
        panel: the view they are seen in.
        features: those of the view's face.
        metal: of the piece.
        origin: what places are measured from.
        both: by id, what the notes of features add that come on the opposite face too.
    """
    wishes: list[Wish] = []
    places: list[Wish] = []
    for alike in _alike(features, metal):
        first = alike[0]
        outline = metal.outline(first)
        count = f"{len(alike)}{times(panel.style)} " if len(alike) > 1 else ""
        reading = read(outline)
        if isinstance(first, Groove):
            wishes += _groove_sizes(panel, first, metal, count)
        elif reading.form in (Form.RECTANGLE, Form.OBROUND) and reading.angle in (0.0, 90.0):
            wishes += _shown_all(panel, _sizes(first, outline, reading, panel.style, count))
        _feature_note(panel, first, outline, reading, count, both.get(id(first), ""))
        places += [wish for one in alike for wish in _places(panel, one, metal, origin)]
    return [*wishes, *_paired(places, panel.face, origin)]


def _paired(places: Iterable[Wish], face: Face, origin: Origin) -> Iterator[Wish]:
    """Say each place once; two as far on either side of the middle are one distance about it."""
    about = [origin.zero(axis) is not Zero.EDGE for axis in plane_axes(face.axis)]
    unlike: list[Wish] = []
    for wish in places:
        if not any(_same(wish, other, other.low, other.high) for other in unlike):
            unlike.append(wish)
    for wish in unlike:
        long = wish.high - wish.low
        before = next((one for one in unlike if _same(one, wish, wish.low - long, wish.low)), None)
        after = next((one for one in unlike if _same(one, wish, wish.high, wish.high + long)), None)
        if not about[wish.upright] or (before is None and after is None):
            yield wish
        elif after is not None:
            yield replace(wish, high=after.high, high_span=after.high_span)


def _same(wish: Wish, other: Wish, low: float, high: float) -> bool:
    """Say whether a distance runs the way another does, between these ends."""
    return wish.upright == other.upright and abs(wish.low - low) < SAME and abs(wish.high - high) < SAME


def _alike(features: Iterable[Shaped], metal: Metal) -> list[list[Shaped]]:
    found: dict[tuple[object, ...], list[Shaped]] = {}
    for feature in features:
        outline = metal.outline(feature)
        deep = feature.height if isinstance(feature, Tenon) else feature.depth
        size = tuple(round(value, 4) for value in (*outline.size, outline.area, outline.perimeter))
        limits: tuple[object, ...] = (
            (feature.width_limits,) if isinstance(feature, Groove) else (feature.length_limits, feature.width_limits)
        )
        way = feature.along if isinstance(feature, Groove) else ""
        key = (type(feature), size, deep, limits, way, feature.label, feature.note)
        found.setdefault(key, []).append(feature)
    return list(found.values())


def _sizes(feature: Pocket | Tenon, outline: Outline, reading: Reading, style: Style, count: str) -> Iterator[Wish]:
    long, wide = outline.size
    along = limited(feature.length_limits, long, style, count)
    across = limited(feature.width_limits, wide, style, count)
    yield from length_and_width(outline, reading, along, across)


def _groove_sizes(panel: Panel, groove: Groove, metal: Metal, count: str) -> Iterator[Wish]:
    """Width across, where it is whole; a step reaches from the edge to its wall."""
    x0, y0, x1, y1 = metal.outline(groove).bounds
    text, places = limited(groove.width_limits, groove.width, panel.style, count)
    level = groove.along == "x"
    low, high = (y0, y1) if level else (x0, x1)
    reach = (x0, x1) if level else (y0, y1)
    most = _face_size(panel, metal)[1 if level else 0]
    low, high = max(low, 0.0), min(high, most)
    side = Side.RIGHT if level else Side.TOP
    yield from _shown_all(panel, [Wish(level, low, high, reach, reach, side, text, places)])


def _face_size(panel: Panel, metal: Metal) -> tuple[float, float]:
    first, second = plane_axes(panel.face.axis)
    return metal.size[first], metal.size[second]


def _shown_all(panel: Panel, wishes: Iterable[Wish]) -> Iterator[Wish]:
    """Take distances from a face's coordinates into its view's."""
    su, sv = flips(panel.face)
    for wish in wishes:
        along, across = (sv, su) if wish.upright else (su, sv)
        low, high, low_span, high_span = wish.low, wish.high, wish.low_span, wish.high_span
        if along < 0.0:
            low, high, low_span, high_span = -high, -low, high_span, low_span
        if across < 0.0:
            low_span, high_span = (-low_span[1], -low_span[0]), (-high_span[1], -high_span[0])
        yield replace(wish, low=low + 0.0, high=high + 0.0, low_span=low_span, high_span=high_span)


def _places(panel: Panel, feature: Shaped, metal: Metal, origin: Origin) -> Iterator[Wish]:
    """From the origin to a feature's middle in both ways; to the ends of a groove that stops."""
    x0, y0, x1, y1 = metal.outline(feature).bounds
    ox, oy = origin.on(panel.face)
    size = _face_size(panel, metal)
    u, v = (x0 + x1) / 2.0, (y0 + y1) / 2.0
    wanted: list[tuple[bool, float, Span]] = []
    if isinstance(feature, Groove):
        level = feature.along == "x"
        at = v if level else u
        if not is_step(feature, metal):
            wanted.append((level, at, ((x0, x1) if level else (y0, y1))))
        for end in (feature.start, feature.end):
            if end is not None:
                wanted.append((not level, end, (v, v) if level else (u, u)))
    elif read(feature.outline).form not in (Form.POLYGON, Form.FREE):  # those go by their points
        wanted += [(False, u, (v, v)), (True, v, (u, u))]
    found = []
    for upright, at, reach in wanted:
        zero = oy if upright else ox
        if abs(at - zero) < SAME:
            continue
        whole = (0.0, size[0] if upright else size[1])
        ends = (zero, at) if zero < at else (at, zero)
        spans = (whole, reach) if zero < at else (reach, whole)
        below = Side.TOP if panel.face is Face.BOTTOM and origin.central else Side.BOTTOM  # away from the letter Y
        found.append(Wish(upright, *ends, *spans, Side.LEFT if upright else below))
    yield from _shown_all(panel, found)


def is_step(groove: Groove, metal: Metal) -> bool:
    """Say whether a groove takes an edge of its face away."""
    first, second = plane_axes(groove.face.axis)
    across = metal.size[second if groove.along == "x" else first]
    return groove.centre - groove.width / 2.0 <= SAME or groove.centre + groove.width / 2.0 >= across - SAME


def _feature_note(panel: Panel, feature: Shaped, outline: Outline, reading: Reading, count: str, more: str) -> None:
    """Say what a feature is, how deep or high, and how its corners are."""
    style, sign = panel.style, times(panel.style)
    words = f"{count}{name_of(feature, reading)} {_depth(feature, style)} {more}".rstrip()
    lines = [words]
    if reading.form is Form.CIRCLE and not isinstance(feature, Groove):
        size = outline.diameter or 0.0
        text, places = limited(feature.length_limits, size, style, "⌀")
        if feature.length_limits is None:
            text += style.bracket(size)
        note_diameter(
            panel,
            shown(panel.face, outline.centroid), size / 2.0,
            f"{count}{name_of(feature, reading)} {text} {_depth(feature, style)} {more}".rstrip(), places,
        )  # fmt: skip
        if feature.note:
            point_out(panel, _tips(panel, outline), (feature.note.upper(),))
        return
    if not isinstance(feature, Groove) and reading.form is Form.OBROUND:
        if reading.angle not in (0.0, 90.0):
            long = max(dist_ends(outline), 0.0)
            across = 2.0 * next(side.radius for side in outline.segments if side.bulge)
            lines.append(f"{style.figure(long)} {sign} {style.figure(across)} AT {style.angle(reading.angle, 3)}")
        lines.append("ROUND ENDS")
    if isinstance(feature, Groove) and (feature.start is not None or feature.end is not None):
        lines.append("ROUND END" if None in (feature.start, feature.end) else "ROUND ENDS")
    for radius, sides in reading.fillets if reading.form is Form.RECTANGLE else ():
        lines.append(f"{len(sides)}{sign} R{style.figure(radius)}")
    if feature.note:
        lines.append(feature.note.upper())
    point_out(panel, _tips(panel, outline), lines)


def dist_ends(outline: Outline) -> float:
    """Return the length of an obround over its ends."""
    straight = next(side for side in outline.segments if not side.bulge)
    return straight.chord + 2.0 * next(side.radius for side in outline.segments if side.bulge)


def name_of(feature: Shaped, reading: Reading) -> str:
    """Return what a feature is called on the drawing."""
    if feature.label:
        return feature.label.upper()
    match feature:
        case Tenon():
            return "BOSS" if reading.form is Form.CIRCLE else "TENON"
        case Groove():
            return "GROOVE"
        case Pocket(depth=None):
            return "WINDOW"
    return "RECESS" if reading.form is Form.CIRCLE else "POCKET"


def _depth(feature: Shaped, style: Style) -> str:
    if isinstance(feature, Tenon):
        return f"{style.figure(feature.height)} HIGH"
    return THROUGH if feature.depth is None else DEPTH + style.figure(feature.depth)


def _tips(panel: Panel, outline: Outline) -> list[Point]:
    """Points on an outline that a leader may point at, those in the view's frame."""
    x0, y0, x1, y1 = panel.core
    points = [shown(panel.face, side.at(share)) for share in (0.5, 0.25, 0.75) for side in outline.segments]
    return [p for p in points if x0 - 1e-6 <= panel.view.to_paper(p)[0] <= x1 + 1e-6
            and y0 - 1e-6 <= panel.view.to_paper(p)[1] <= y1 + 1e-6]  # fmt: skip
