"""Make the solid of a piece of any shape from what was read, by the CAD kernel.

Frame: X and Y from where the sheet counts them, Z from the bottom face.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import atan2, cos, hypot, pi, radians, sin

import cadquery as cq
from OCP.gp import gp_Dir, gp_Lin, gp_Pnt
from OCP.IntCurvesFace import IntCurvesFace_ShapeIntersector

from tests.rebuilding.hole_rows import PlacedHole
from tests.rebuilding.rebuilt import OUT, point_length
from tests.rebuilding.shape import Edge, ReadShape
from tests.rebuilding.wording import Size, UnreadableError

SIDES = {"top": (0, 1, 1.0), "bottom": (0, 1, -1.0), "front": (0, 2, -1.0), "back": (0, 2, 1.0),
         "left": (1, 2, -1.0), "right": (1, 2, 1.0)}  # fmt: skip
"""The two axes of a side, and which way along the third one comes out of the piece there."""
LONG = 1e5


@dataclass(frozen=True, slots=True)
class Ground:
    """A surface to work from: a side of the piece and where it stands along the axis square to it."""

    side: str
    level: float

    @property
    def out(self) -> cq.Vector:
        """The direction out of the piece."""
        first, second, sign = SIDES[self.side]
        ways = [0.0, 0.0, 0.0]
        ways[3 - first - second] = sign
        return cq.Vector(*ways)

    def point(self, u: float, v: float, deep: float = 0.0) -> cq.Vector:
        """A point below the surface."""
        first, second, sign = SIDES[self.side]
        at = [0.0, 0.0, 0.0]
        at[first], at[second], at[3 - first - second] = u, v, self.level - sign * deep
        return cq.Vector(*at)

    def prism(self, edges: Sequence[Edge], top: float, bottom: float) -> cq.Shape:
        """Draw a profile out from one depth to another."""
        if len(edges) == 2 and edges[0].centre is not None and edges[0].centre == edges[1].centre:
            (u, v), (x, y) = _values(edges[0].centre), _values(edges[0].start)
            return self.round(u, v, 2.0 * hypot(x - u, y - v), top, bottom)
        wire = cq.Wire.assembleEdges([self._edge(edge, bottom) for edge in edges])
        return cq.Solid.extrudeLinear(cq.Face.makeFromWires(wire), self.out * (bottom - top))

    def _edge(self, edge: Edge, deep: float) -> cq.Edge:
        a, b = _values(edge.start), _values(edge.end)
        if edge.centre is None:
            return cq.Edge.makeLine(self.point(*a, deep), self.point(*b, deep))
        return cq.Edge.makeThreePointArc(
            self.point(*a, deep), self.point(*_half_way(a, b, _values(edge.centre), edge.outward), deep),
            self.point(*b, deep),
        )  # fmt: skip

    def round(self, u: float, v: float, diameter: float, top: float, bottom: float) -> cq.Shape:
        """A cylinder from one depth to another."""
        return cq.Solid.makeCylinder(diameter / 2.0, bottom - top, self.point(u, v, bottom), self.out)

    def cone(self, u: float, v: float, diameter: float, top: float, high: float) -> cq.Shape:
        """A cone that ends in a point below."""
        return cq.Solid.makeCone(diameter / 2.0, 0.0, high, self.point(u, v, top), self.out * -1.0)


def _values(place: tuple[Size, Size]) -> tuple[float, float]:
    return place[0].value, place[1].value


def _half_way(
    a: tuple[float, float], b: tuple[float, float], centre: tuple[float, float], outward: bool
) -> tuple[float, float]:
    radius = hypot(a[0] - centre[0], a[1] - centre[1])
    first, last = (atan2(p[1] - centre[1], p[0] - centre[0]) for p in (a, b))
    turn = (last - first) % (2.0 * pi) if outward else -((first - last) % (2.0 * pi))
    return centre[0] + radius * cos(first + turn / 2.0), centre[1] + radius * sin(first + turn / 2.0)


def build_shape(shape: ReadShape) -> cq.Shape:
    """Draw out, break the rims, add what stands out, cut, drill. Errors: UnreadableError."""
    body: cq.Shape = Ground(shape.side, shape.end.value).prism(shape.edges, 0.0, shape.end.value - shape.start.value)
    if shape.chamfer.value:
        body = cq.Workplane(body).faces("<Z or >Z").edges().chamfer(shape.chamfer.value).findSolid()
    for one in shape.features:
        ground = Ground(one.side, surface(body, one.side, *_middle(one.edges)))
        if one.high is not None:
            body = body.fuse(ground.prism(one.edges, -one.high.value, 0.0)).clean()
        else:
            deep = _through(body, one.side) if one.deep is None else one.deep.value
            body = body.cut(ground.prism(one.edges, -OUT, deep))
    tools = [tool for hole in shape.holes for tool in _tools(hole, shape, body)]
    return body.cut(*tools) if tools else body


def _middle(edges: Sequence[Edge]) -> tuple[float, float]:
    """A point inside a feature: the middle of the box around its corners."""
    us, vs = ([edge.start[k].value for edge in edges] for k in (0, 1))
    return (min(us) + max(us)) / 2.0, (min(vs) + max(vs)) / 2.0


def surface(body: cq.Shape, side: str, u: float, v: float) -> float:
    """Where a line square to a side first meets the metal, along the axis square to it."""
    ground = Ground(side, 0.0)
    line = gp_Lin(gp_Pnt(*ground.point(u, v).toTuple()), gp_Dir(*ground.out.toTuple()))
    hits = IntCurvesFace_ShapeIntersector()
    hits.Load(body.wrapped, 1e-6)
    hits.Perform(line, -LONG, LONG)
    found = [hits.WParameter(n) for n in range(1, hits.NbPnt() + 1)]
    if not found:
        raise UnreadableError(f"there is no metal at {u:.3f}, {v:.3f} on the {side}")
    return SIDES[side][2] * float(max(found))


def _through(body: cq.Shape, side: str) -> float:
    box = body.BoundingBox()
    return max(box.xlen, box.ylen, box.zlen) + OUT


def _tools(hole: PlacedHole, shape: ReadShape, body: cq.Shape) -> Iterator[cq.Shape]:
    """Every cutter that a hole asks for."""
    (u, v), sizes = _values(hole.place), hole.sizes
    ground = Ground(hole.side, surface(body, hole.side, u, v))
    assert sizes.across is not None
    deep = _through(body, hole.side) if sizes.deep is None else sizes.deep.value
    yield _milled(ground, hole, sizes.across, sizes.long, deep)
    if sizes.deep is not None and sizes.long is None and shape.point is not None:
        yield ground.cone(u, v, sizes.across.value, deep, point_length(sizes.across.value, shape.point))
    if sizes.bore is not None and sizes.bore_deep is not None:
        yield _milled(ground, hole, sizes.bore, sizes.bore_long, sizes.bore_deep.value)
    if sizes.sink is not None and sizes.sink_angle is not None:
        yield ground.cone(u, v, sizes.sink.value, 0.0, point_length(sizes.sink.value, sizes.sink_angle))


def _milled(ground: Ground, hole: PlacedHole, across: Size, long: Size | None, deep: float) -> cq.Shape:
    u, v = _values(hole.place)
    if long is None:
        return ground.round(u, v, across.value, -OUT, deep)
    turn, half, r = radians(hole.sizes.turned or 0.0), (long.value - across.value) / 2.0, across.value / 2.0
    c, s = cos(turn), sin(turn)

    def at(along: float, aside: float) -> tuple[Size, Size]:
        return Size(u + along * c - aside * s, 0.0), Size(v + along * s + aside * c, 0.0)

    corners = [at(-half, -r), at(half, -r), at(half, r), at(-half, r)]
    edges = (Edge(corners[0], corners[1]), Edge(corners[1], corners[2], at(half, 0.0), None, True),
             Edge(corners[2], corners[3]), Edge(corners[3], corners[0], at(-half, 0.0), None, True))  # fmt: skip
    return ground.prism(edges, -OUT, deep)
