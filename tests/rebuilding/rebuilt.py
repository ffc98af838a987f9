"""Make the solid of a bar from what was read, by the CAD kernel, and say how far it may be off."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi, radians, tan

import cadquery as cq

from tests.rebuilding.bar_reading import ReadBar, ReadHole
from tests.rebuilding.wording import NOTHING, Size, UnreadableError

OUT = 1.0  # how far a cutter stands out of the metal, mm


def build(bar: ReadBar) -> cq.Shape:
    """Saw, chamfer and drill: one solid with the datum corner at the origin, threads at their tap drill.

    Errors: UnreadableError for a blind hole whose drill point is not written.
    """
    blank = cq.Workplane("XY").box(bar.length.value, bar.width.value, bar.thickness.value, centered=False)
    if bar.chamfer.value:
        blank = blank.faces("<Z or >Z").edges().chamfer(bar.chamfer.value)
    body: cq.Shape = blank.findSolid()
    tools = [tool for hole in bar.holes for tool in _tools(hole, bar)]
    return body.cut(*tools) if tools else body


def _tools(hole: ReadHole, bar: ReadBar) -> Iterator[cq.Shape]:
    """Every cutter that a hole asks for, in the piece's frame."""
    place = cq.Location(hole.x.value, hole.y.value, bar.thickness.value)
    if hole.sizes.from_below:
        place = cq.Location(hole.x.value, hole.y.value, 0.0, 180.0, 0.0, 0.0)
    for tool in _downward(hole, bar):
        yield tool.moved(place)


def _downward(hole: ReadHole, bar: ReadBar) -> Iterator[cq.Shape]:
    """The cutters of a hole that goes down from the origin."""
    sizes = hole.sizes
    assert sizes.across is not None
    deep = bar.thickness.value + OUT if sizes.deep is None else sizes.deep.value
    yield _milled(sizes.across, sizes.long, sizes.turned, deep)
    if sizes.deep is not None and sizes.long is None:
        if bar.point is None:
            raise UnreadableError(f"no note gives the drill point of hole {hole.tag}")
        radius, high = sizes.across.value / 2.0, point_length(sizes.across.value, bar.point)
        yield cq.Solid.makeCone(radius, 0.0, high, cq.Vector(0, 0, -deep), cq.Vector(0, 0, -1))
    if sizes.bore is not None and sizes.bore_deep is not None:
        yield _milled(sizes.bore, sizes.bore_long, sizes.turned, sizes.bore_deep.value)
    if sizes.sink is not None and sizes.sink_angle is not None:
        high = point_length(sizes.sink.value, sizes.sink_angle)
        yield cq.Solid.makeCone(sizes.sink.value / 2.0, 0.0, high, cq.Vector(0, 0, 0), cq.Vector(0, 0, -1))


def _milled(across: Size, long: Size | None, turned: float | None, deep: float) -> cq.Shape:
    """A round or long hole from OUT above the origin down."""
    flat = cq.Workplane("XY", origin=(0.0, 0.0, -deep))
    if long is None:
        return flat.circle(across.value / 2.0).extrude(deep + OUT).findSolid()
    return flat.slot2D(long.value, across.value, turned or 0.0).extrude(deep + OUT).findSolid()


def point_length(diameter: float, angle: float) -> float:
    """Height of a cone, from its diameter and the angle between its sides."""
    return diameter / 2.0 / tan(radians(angle / 2.0))


# How far it may be off


def volume_limits(bar: ReadBar) -> tuple[float, float]:
    """Least and greatest volume of any bar whose sizes round to the written figures, mm3, while no two holes meet.

    The volume grows with length, width and thickness and shrinks when a chamfer, a diameter or a depth grows, so each
    limit is reached with every size at an end of its own range. Nothing is linearised.
    """
    ends = (-1.0, 1.0)
    least, most = (_volume(bar, end) for end in ends)
    return least, most


def _volume(bar: ReadBar, end: float) -> float:
    """Volume with outer sizes at one end of their range and what is taken away at the other."""

    def at(size: Size | None, way: float) -> float:
        return 0.0 if size is None else size.value + way * size.off

    long, wide, high = (at(size, end) for size in (bar.length, bar.width, bar.thickness))
    c = max(0.0, at(bar.chamfer, -end)) if bar.chamfer != NOTHING else 0.0
    # A rim of legs c: a triangular prism along each of four edges, less the corners, where two meet in a pyramid.
    volume = long * wide * high - 2.0 * ((long + wide) * c**2 - 4.0 / 3.0 * c**3)
    for hole in bar.holes:
        s = hole.sizes
        across, bore = at(s.across, -end), at(s.bore, -end)
        deep = high if s.deep is None else at(s.deep, -end)
        volume -= _area(across, max(across, at(s.long, -end))) * deep
        if s.deep is not None and s.long is None and bar.point is not None:
            volume -= _point(across, bar.point, high - deep)
        if s.bore is not None:
            ring = _area(bore, max(bore, at(s.bore_long, -end))) - _area(across, max(across, at(s.long, -end)))
            volume -= ring * at(s.bore_deep, -end)
    return volume


def _point(across: float, angle: float, floor: float) -> float:
    """Volume of a drill point above a floor; what lies below it is outside of the bar."""
    high = point_length(across, angle)
    out = max(0.0, high - max(0.0, floor)) / high
    return pi / 12.0 * across**2 * high * (1.0 - out**3)


def _area(across: float, long: float) -> float:
    return pi / 4.0 * across**2 + (long - across) * across
