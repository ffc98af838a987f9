"""Tags stand plain at their own holes, or are tied to them by leaders; measured with shapely, not by the program."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians, sin
from typing import NamedTuple

import pytest
from shapely import LineString, Polygon, box

from slotwright.drawings.hole_tags import place_tags
from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.placing import Register
from slotwright.drawings.paper.sheet import Mark, Stroke, Text, View
from slotwright.drawings.paper.style import style
from slotwright.drawings.paper.view_group import drawn
from slotwright.drawings.views import plan
from slotwright.pieces.features import Hole
from slotwright.pieces.hole_groups import tagged_holes
from slotwright.pieces.piece import Piece
from tests.drawings.pieces import ALL, bar, plain, random_bar

LINE = 0.5
"""A wide line of ISO 128-2 line group 0.5, mm; that a tag must be nearer by it is our choice."""
ISO = style("iso", "mm")
SLOTS = bar(
    *(Hole(x=20.0 + 15.0 * n, y=15.0, diameter=6.0, slot_extra=6.0, slot_angle=30.0 * n) for n in range(8)),
    size=(150.0, 30.0, 10.0),
)
DENSE = bar(*(plain(8.0 + 5.5 * n, 20.0, 4.0) for n in range(12)), size=(80.0, 40.0, 10.0))
PIECES = {**ALL, "slots": SLOTS, "dense": DENSE, **{f"random-{seed}": random_bar(seed) for seed in range(30)}}


class Tag(NamedTuple):
    """A tag, its hole's axis and radius on paper, and the foot and end of its leader if it has one."""

    text: Polygon
    name: str
    leader: LineString | None


def _axis(hole: Hole, scale: float) -> LineString:
    u = hole.slot_extra / 2.0 * cos(radians(hole.slot_angle)), hole.slot_extra / 2.0 * sin(radians(hole.slot_angle))
    return LineString([((hole.x + w * u[0]) * scale, (hole.y + w * u[1]) * scale) for w in (-1.0, 1.0)])


def _tags(marks: tuple[Mark, ...]) -> Iterator[Tag]:
    leaders = [LineString(mark.points) for mark in marks if isinstance(mark, Stroke)]
    for mark in marks:
        if isinstance(mark, Text):
            (x, y), wide = mark.at, lettering.width(mark.text, mark.height)
            found = box(x, y, x + wide, y + mark.height)  # capitals and figures have no descenders
            own = [line for line in leaders if line.boundary.geoms[1].distance(found) < 1.5]
            assert len(own) <= 1
            yield Tag(found, mark.text, own[0] if own else None)


def _placed(piece: Piece, scale: float) -> tuple[tuple[Tag, ...], bool]:
    view = View(name="plan", origin=(0.0, 0.0), scale=scale, marks=plan(piece, scale, ISO))
    taken = Register()
    taken.add(drawn((view,)))
    marks, complete = place_tags(view, tagged_holes(piece), taken, ISO)
    return tuple(_tags(marks)), complete


@pytest.mark.parametrize("scale", [1.0, 0.5])
@pytest.mark.parametrize("name", PIECES)
def test_every_tag_is_plain_by_its_place_or_its_leader(name: str, scale: float) -> None:
    piece = PIECES[name]
    tags, complete = _placed(piece, scale)
    rims = {one.tag: (_axis(one.hole, scale), one.hole.widest / 2.0 * scale) for one in tagged_holes(piece)}
    assert len(tags) == len(rims) or not complete
    for tag in tags:
        at = tag.text if tag.leader is None else tag.leader.boundary.geoms[0]
        gaps = {other: axis.distance(at) - radius for other, (axis, radius) in rims.items()}
        own = gaps.pop(tag.name)
        assert min(gaps.values(), default=99.0) >= own + LINE


@pytest.mark.parametrize("name", PIECES)
def test_leaders_start_on_the_edge_and_cross_no_hole_tag_or_leader(name: str) -> None:
    piece = PIECES[name]
    tags, _ = _placed(piece, 0.5)
    rims = {one.tag: (_axis(one.hole, 0.5), one.hole.widest / 4.0) for one in tagged_holes(piece)}
    led = [tag for tag in tags if tag.leader is not None]
    for tag in led:
        assert tag.leader is not None
        axis, radius = rims[tag.name]
        assert axis.distance(tag.leader.boundary.geoms[0]) == pytest.approx(radius, abs=1e-6)
        assert axis.distance(tag.leader) == pytest.approx(radius, abs=1e-6)
        assert all(a.distance(tag.leader) > r for other, (a, r) in rims.items() if other != tag.name)
        assert not any(tag.leader.intersects(other.text) for other in tags)
        assert not any(tag.leader.crosses(other.leader) for other in led if other is not tag)


def test_a_dense_row_has_leaders() -> None:
    """Holes of 4 mm at 5.5 mm have no room beside them for tags of 4 mm and more, 0.8 mm clear."""
    tags, complete = _placed(DENSE, 1.0)
    assert complete
    assert sum(tag.leader is not None for tag in tags) >= len(DENSE.holes) // 2


def test_holes_that_run_into_each_other_have_their_tags_all_the_same() -> None:
    """A sheet with a stop finding shows them; no place is nearer to one of them than to the other."""
    tags, complete = _placed(bar(plain(40.0, 20.0), plain(40.4, 20.0), plain(100.0, 20.0, 9.0)), 1.0)
    assert complete
    assert len(tags) == 3
