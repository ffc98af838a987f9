"""Dimensions with the marks they are drawn by: linear and ordinate.

Arrows, gaps, overruns and where text stands come from the style (ISO 129-1, ASME Y14.5). Inputs named "model" are the
view's model coordinates; everything else is paper mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from math import atan2, cos, pi, sin

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.placing import DESCENT, spread
from slotwright.drawings.paper.sheet import (
    Anchor,
    Dimension,
    DimensionKind,
    Fill,
    Line,
    Mark,
    Point,
    Stroke,
    Text,
    View,
)
from slotwright.drawings.paper.style import Style

UP = pi / 2.0  # the way of an arrow up the paper, radians
LEAST_UNDER = 0.3  # clear paper between the lowest ink and the dimension line, mm; our choice
BOX_PAD = 0.35  # clear space between a figure and its box, in heights of capitals; our choice


class Side(Enum):
    """A side of a view, as (outward x, outward y)."""

    TOP = (0.0, 1.0)
    BOTTOM = (0.0, -1.0)
    LEFT = (-1.0, 0.0)
    RIGHT = (1.0, 0.0)

    @property
    def upright(self) -> bool:
        """Whether its outward direction runs along paper Y."""
        return self.value[0] == 0.0

    @property
    def sign(self) -> float:
        """+1 where outward is toward growing coordinates."""
        return self.value[0] + self.value[1]

    def point(self, along: float, out: float) -> Point:
        """Return the paper point with this coordinate along the side and this one (absolute) across it."""
        return (along, out) if self.upright else (out, along)


# Straight parts


def arrow(tip: Point, direction: float, style: Style, line: Line = Line.DIMENSION) -> Fill:
    """Return a filled arrowhead.

    Args:
        tip: its point.
        direction: where it points, radians.
        style: gives length and width.
        line: layer.
    """
    c, s = cos(direction), sin(direction)
    back, half = style.arrow, style.arrow_width / 2.0
    left = (tip[0] - back * c - half * s, tip[1] - back * s + half * c)
    right = (tip[0] - back * c + half * s, tip[1] - back * s - half * c)
    return Fill((tip, left, right), line)


def line(*points: Point, kind: Line = Line.DIMENSION) -> Stroke:
    """Return a narrow line through points."""
    return Stroke(points, kind)


# Linear


def linear(
    view: View,
    a: Point,
    b: Point,
    at: float,
    style: Style,
    *,
    text: str = "<>",
    places: int | None = None,
    upright: bool = False,
    starts: tuple[float, float] | None = None,
    overflow_up: bool = True,
    text_along: float | None = None,
    exact: bool = False,
    roomy: bool = False,
) -> Dimension:
    """Return the distance of two points, measured along X, or along Y when upright.

    Args:
        view: the view it belongs to.
        a, b: model points.
        at: paper y (x when upright) of the dimension line.
        style: how it looks.
        text: what is written, "<>" standing for the value; its other unit goes behind it unless it stands in the text.
        places: decimals, None for the style's.
        upright: measure along Y.
        starts: paper y (x) where the two extension lines start, before the gap; None for the points themselves.
        overflow_up: a text too long to stand between goes beyond the upper (right) end, else beyond the other.
        text_along: paper x (y when upright) of the middle of a text that stands between; None for half-way.
        exact: its figure stands in a box: a theoretically exact (basic) dimension (ISO 1101, ASME Y14.5).
        roomy: its figure stands between only where the arrows do too, for a sign hangs on an end.
    """
    axis = 1 if upright else 0
    side = Side.RIGHT if upright else Side.TOP
    value = abs(b[axis] - a[axis])
    shown = style.places if places is None else places
    if "[" not in text:
        text = text.replace("<>", "<>" + style.bracket(value))
    written = text.replace("<>", style.number(value, shown))
    pa, pb = sorted((view.to_paper(a), view.to_paper(b)), key=lambda p: p[axis])
    marks: list[Mark] = []
    for p, start in zip((pa, pb), starts or (pa[1 - axis], pb[1 - axis]), strict=True):
        marks += _extension(side, p[axis], start, at, style)
    body, middle, angle = _dimension_line(
        side, pa[axis], pb[axis], at, written, style, overflow_up, text_along, exact, roomy
    )
    on_line = side.point(pb[axis], at)
    return Dimension(
        kind=DimensionKind.LINEAR,
        points=(a, b, view.to_model(on_line)),
        direction=90.0 if upright else 0.0,
        value=value,
        text=text,
        text_at=view.to_model(middle),
        text_angle=angle,
        places=shown,
        marks=(*marks, *body),
    )


def _extension(side: Side, along: float, start: float, at: float, style: Style) -> list[Mark]:
    away = 1.0 if at > start else -1.0
    if abs(at - start) <= style.extension_gap:
        return []
    return [line(side.point(along, start + away * style.extension_gap),
                 side.point(along, at + away * style.extension_overrun))]  # fmt: skip


def _dimension_line(
    side: Side,
    low: float,
    high: float,
    at: float,
    written: str,
    style: Style,
    overflow_up: bool,
    text_along: float | None,
    exact: bool,
    roomy: bool,
) -> tuple[list[Mark], Point, float]:
    """Return line, arrows and text, the text's middle and its angle."""
    turned = style.text_above and not side.upright
    long = lettering.width(written, style.text)
    pad = BOX_PAD * style.text if exact else 0.0
    need = (long if side.upright or turned else style.text) + 2.0 * pad
    room = high - low
    inside = room >= need + 2.0 * (style.arrow + style.text_gap)
    between = inside or (not roomy and room >= need + 2.0 * style.text_gap)
    tail = 2.0 * style.arrow
    beyond = tail + style.text_gap + need / 2.0
    half_way = (low + high) / 2.0 if text_along is None else text_along
    along = half_way if between else high + beyond if overflow_up else low - beyond
    spans = [(low, high)]
    if not inside:
        spans = [(min(low - tail, along - need / 2.0), low), (high, max(high + tail, along + need / 2.0))]
    if not inside and style.text_above:
        spans = [(spans[0][0], spans[1][1])]
    off = style.text_gap + style.text / 2.0 + _sunk(written, style) if style.text_above else 0.0
    if not style.text_above:
        spans = _interrupted(spans, along, need / 2.0 + style.text_gap)
    marks: list[Mark] = [line(side.point(u, at), side.point(v, at)) for u, v in spans if v - u > 1e-9]
    marks += _arrows(side, low, high, at, inside, style)
    middle = side.point(along, at + off) if side.upright else side.point(along, at - off)
    angle = 90.0 if turned else 0.0
    marks.append(Text(middle, written, style.text, Anchor.CENTRE, angle, True, Line.DIMENSION))
    if exact:
        x, y = middle
        u, v = (style.text / 2.0 + pad, long / 2.0 + pad) if turned else (long / 2.0 + pad, style.text / 2.0 + pad)
        corners = ((x - u, y - v), (x + u, y - v), (x + u, y + v), (x - u, y + v))
        marks.append(Stroke(corners, Line.DIMENSION, closed=True))
    return marks, middle, angle


def _sunk(written: str, style: Style) -> float:
    """How far a text is raised so that letters which reach deep, such as that of a fit g6, clear its line."""
    low, _ = lettering.reach(lettering.safe(written))
    return max(0.0, LEAST_UNDER - low * style.text - style.text_gap)


def _interrupted(spans: list[tuple[float, float]], along: float, half: float) -> list[tuple[float, float]]:
    """Leave a gap for the text in the lines it stands on."""
    cut: list[tuple[float, float]] = []
    for u, v in spans:
        if v <= along - half or u >= along + half:
            cut.append((u, v))
        else:
            cut += [(u, along - half), (along + half, v)]
    return [(u, v) for u, v in cut if v > u]


def _arrows(side: Side, low: float, high: float, at: float, inside: bool, style: Style) -> list[Mark]:
    forward = atan2(*reversed(side.point(1.0, 0.0)))
    back = forward + 3.141592653589793
    first, second = (back, forward) if inside else (forward, back)
    return [arrow(side.point(low, at), first, style), arrow(side.point(high, at), second, style)]


# Ordinates


@dataclass(frozen=True, slots=True)
class Station:
    """One place to be measured from the datum.

    Attributes:
        at: model point of the feature.
        start: paper coordinate, across the side, where its leader starts.
        exact: its figure stands in a box: a theoretically exact (basic) dimension (ISO 1101, ASME Y14.5).
    """

    at: Point
    start: float
    exact: bool = False


def label_pitch(style: Style, *, exact: bool) -> float:
    """Return the least distance of neighbouring ordinates' figures, mm: each stands its own height clear."""
    below = DESCENT if style.alternate or style.decimal == "," else 0.0  # commas and brackets reach below the line
    return (2.0 + (2.0 * BOX_PAD if exact else below)) * style.text


def ordinates(
    view: View,
    origin: Point,
    stations: Sequence[Station],
    side: Side,
    edge: float,
    style: Style,
    limits: tuple[float, float] | None = None,
) -> tuple[Dimension, ...]:
    """Return ordinate dimensions along one side; crowded labels are moved apart by jogged leaders.

    Args:
        view: the view they belong to.
        origin: model point all are measured from.
        stations: rising along the side, no two at one place.
        side: where the labels stand.
        edge: paper coordinate of the outline on that side.
        style: how they look.
        limits: least and greatest paper coordinate of a label's middle, or None.
    """
    if not stations:
        return ()
    axis = 0 if side.upright else 1
    wanted = [view.to_paper(station.at)[axis] for station in stations]
    pitch = label_pitch(style, exact=any(station.exact for station in stations))
    labels = _within(spread(wanted, pitch), limits)
    moves = max(abs(u - v) for u, v in zip(wanted, labels, strict=True))
    knee = edge + side.sign * 2.0 * style.extension_gap
    end = knee + side.sign * jog_depth(moves, style)
    return tuple(
        _ordinate(view, origin, station, label, side, knee, end, style)
        for station, label in zip(stations, labels, strict=True)
    )


def jog_depth(moves: float, style: Style) -> float:
    """Return how far the slanted part of jogged leaders reaches, mm: 45 degrees where labels move little."""
    return max(2.0 * style.text_gap, min(moves, 4.0 * style.text)) + style.text_gap


def _within(labels: list[float], limits: tuple[float, float] | None) -> list[float]:
    """Shift all labels together where they reach over one limit and have room at the other."""
    if limits is None:
        return labels
    low, high = limits
    shift = max(0.0, low - labels[0]) - max(0.0, labels[-1] - high)
    return [label + shift for label in labels]


def _box(side: Side, along: float, out: float, half: float, style: Style) -> tuple[Mark, ...]:
    """Return the box round the figure of a theoretically exact dimension."""
    pad = BOX_PAD * style.text
    wide, long = style.text / 2.0 + pad, half + pad
    corners = ((-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0))
    points = tuple(side.point(along + wide * u, out + long * v) for u, v in corners)
    return (Stroke(points, Line.DIMENSION, closed=True),)


def _ordinate(
    view: View, origin: Point, station: Station, label: float, side: Side, knee: float, end: float, style: Style
) -> Dimension:
    axis = 0 if side.upright else 1
    value = station.at[axis] - origin[axis]
    written = style.figure(value)
    along = view.to_paper(station.at)[axis]
    jog = end - side.sign * style.text_gap
    path = [side.point(along, station.start), side.point(along, knee), side.point(label, jog), side.point(label, end)]
    if abs(label - along) < 1e-9:
        path = [path[0], path[-1]]
    half = lettering.width(written, style.text) / 2.0
    outward = side.sign * (half + (BOX_PAD * style.text if station.exact else style.text_gap))
    middle = side.point(label, end + outward)
    angle = 90.0 if side.upright else 0.0
    text = Text(middle, written, style.text, Anchor.CENTRE, angle, True, Line.DIMENSION)
    return Dimension(
        kind=DimensionKind.ORDINATE_X if side.upright else DimensionKind.ORDINATE_Y,
        points=(origin, station.at, view.to_model(path[-1])),
        value=value,
        text="<>" + style.bracket(value),
        text_at=view.to_model(middle),
        text_angle=angle,
        places=style.places,
        marks=(line(*path), text, *(_box(side, label, end + outward, half, style) if station.exact else ())),
    )
