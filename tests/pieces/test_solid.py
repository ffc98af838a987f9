"""Solids against hand arithmetic in closed form, and against what the kernel finds in them."""

from __future__ import annotations

from dataclasses import replace
from math import acos, pi, radians, sqrt, tan
from typing import Any

import pytest
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut

from slotwright.parts.hardware import Hardware
from slotwright.pieces.cadquery_solid import cadquery_solid
from slotwright.pieces.features import Counterbore, Face, Hole
from slotwright.pieces.piece import Piece
from slotwright.pieces.solid import SolidError, Solids
from tests.kernel_reading import box, holes, is_whole, round_faces
from tests.pieces.examples import BAR, NUT, SCREW, STUD, T_NUT, TABLE, WASHER, bar_of, piece

BOX = 100.0 * 40.0 * 20.0
STADIUM = pi * 25.0 + 10.0 * 6.0  # 10 mm wide, end centres 6 mm apart


def _middle(diameter: float, **more: Any) -> Hole:
    """A hole in the middle of the 100 x 40 x 20 mm bar."""
    return Hole(x=50.0, y=20.0, diameter=diameter, **more)


def _frustum(low: tuple[float, float], high: tuple[float, float], height: float) -> float:
    """Prismatoid of two rectangles, by Simpson's rule, which is exact for it."""
    middle = (low[0] + high[0]) / 2.0 * (low[1] + high[1]) / 2.0
    return height / 6.0 * (low[0] * low[1] + 4.0 * middle + high[0] * high[1])


CLOSED_FORM = [
    pytest.param(piece(), BOX, id="box"),
    pytest.param(
        piece(edge_chamfer=2.0),
        2.0 * _frustum((96.0, 36.0), (100.0, 40.0), 2.0) + 100.0 * 40.0 * 16.0,
        id="chamfered-rims-by-the-prismatoid-formula",
    ),
    pytest.param(piece(_middle(10.0)), BOX - pi * 25.0 * 20.0, id="through-hole-is-a-cylinder"),
    pytest.param(
        piece(_middle(10.0, depth=12.0, point_angle=180.0)),
        BOX - pi * 25.0 * 12.0,
        id="flat-bottom-is-a-cylinder",
    ),
    pytest.param(
        piece(_middle(10.0, depth=12.0)),
        BOX - pi * 25.0 * 12.0 - pi * 25.0 * (5.0 / tan(radians(59.0))) / 3.0,
        id="118-degree-point-is-a-third-of-its-cylinder",
    ),
    pytest.param(
        piece(_middle(10.0, counterbore=Counterbore(diameter=18.0, depth=8.0))),
        BOX - pi * 81.0 * 8.0 - pi * 25.0 * 12.0,
        id="counterbore-is-two-cylinders",
    ),
    pytest.param(
        piece(_middle(10.0, slot_extra=6.0, slot_angle=30.0)),
        BOX - STADIUM * 20.0,
        id="slotted-hole-is-a-circle-and-a-rectangle",
    ),
    pytest.param(
        piece(_middle(10.0, depth=7.0, slot_extra=6.0, face=Face.BOTTOM)),
        BOX - STADIUM * 7.0,
        id="blind-slotted-hole-is-milled-flat",
    ),
    pytest.param(
        piece(_middle(10.0, slot_extra=6.0, slot_angle=90.0, counterbore=Counterbore(diameter=18.0, depth=8))),
        BOX - STADIUM * 12.0 - (pi * 81.0 + 18.0 * 6.0) * 8.0,
        id="counterbored-slot-is-two-stadiums",
    ),
    pytest.param(
        piece(Hole(x=0.0, y=20.0, diameter=10.0)), BOX - pi * 25.0 / 2.0 * 20.0, id="on-the-edge-is-half-a-cylinder"
    ),
    pytest.param(
        piece(Hole(x=47.0, y=20.0, diameter=10.0), Hole(x=53.0, y=20.0, diameter=10.0)),
        BOX - 20.0 * (2.0 * pi * 25.0 - (2.0 * 25.0 * acos(0.6) - 3.0 * sqrt(100.0 - 36.0))),
        id="holes-that-meet-share-a-lens",
    ),
]


@pytest.mark.parametrize(("made", "volume"), CLOSED_FORM)
def test_volume_by_hand(made: Piece, volume: float) -> None:
    assert cadquery_solid(made).Volume() == pytest.approx(volume, rel=1e-9)


@pytest.mark.parametrize(("made", "volume"), CLOSED_FORM)
def test_one_valid_closed_solid(made: Piece, volume: float) -> None:
    assert is_whole(cadquery_solid(made))


@pytest.mark.parametrize(("made", "volume"), CLOSED_FORM)
def test_no_face_is_split(made: Piece, volume: float) -> None:
    body = cadquery_solid(made)
    assert len(body.clean().Faces()) == len(body.Faces())


@pytest.mark.parametrize(("made", "volume"), CLOSED_FORM[:-2])
def test_piece_volume_is_closed_form_while_no_features_meet(made: Piece, volume: float) -> None:
    assert made.volume == pytest.approx(volume, rel=1e-12)


def test_kernel_finds_the_same_centre_of_gravity() -> None:
    made = piece(
        Hole(x=20.0, y=15.0, diameter=12.0, depth=11.0),
        Hole(x=45.0, y=25.0, diameter=8.0, counterbore=Counterbore(diameter=14.0, depth=6.0)),
        Hole(x=80.0, y=12.0, diameter=9.0, depth=5.0, face=Face.BOTTOM),
        edge_chamfer=1.0,
    )
    assert made.centre_of_gravity == pytest.approx(cadquery_solid(made).Center().toTuple(), abs=1e-9)


@pytest.mark.parametrize(
    ("hole", "faces"),
    [
        pytest.param(_middle(10.0), 1, id="through-one-wall"),
        pytest.param(_middle(10.0, depth=9.0), 2, id="blind-wall-and-cone"),
        pytest.param(_middle(10.0, depth=9.0, point_angle=180.0), 2, id="flat-wall-and-floor"),
        pytest.param(_middle(10.0, counterbore=Counterbore(diameter=16.0, depth=5.0)), 3, id="two-walls-and-step"),
        pytest.param(_middle(10.0, slot_extra=4.0), 4, id="slotted-two-ends-two-sides"),
    ],
)
def test_a_hole_adds_just_its_own_faces(hole: Hole, faces: int) -> None:
    assert len(cadquery_solid(piece(hole)).Faces()) == 6 + faces


def test_holes_are_found_where_they_were_asked_for() -> None:
    made = piece(
        Hole(x=20.0, y=15.0, diameter=12.0),
        Hole(x=45.0, y=25.0, diameter=8.0, depth=11.0),
        Hole(x=70.0, y=12.0, diameter=9.0, depth=5.0, face=Face.BOTTOM),
        Hole(x=85.0, y=28.0, diameter=6.6, counterbore=Counterbore(diameter=11.0, depth=6.4)),
    )
    found = [(*hole.start, hole.end[2], 2.0 * hole.radius) for hole in holes(cadquery_solid(made))]
    asked = [
        (20.0, 15.0, 0.0, 20.0, 12.0),
        (45.0, 25.0, 9.0, 20.0, 8.0),
        (70.0, 12.0, 0.0, 5.0, 9.0),
        (85.0, 28.0, 0.0, 13.6, 6.6),
        (85.0, 28.0, 13.6, 20.0, 11.0),
    ]
    assert len(found) == len(asked)
    for one, other in zip(found, asked, strict=True):
        assert one == pytest.approx(other, abs=1e-6)


@pytest.mark.parametrize(("angle", "ends"), [(0.0, [(47, 20), (53, 20)]), (90.0, [(50, 17), (50, 23)])])
def test_slot_ends_lie_along_its_angle(angle: float, ends: list[tuple[float, float]]) -> None:
    body = cadquery_solid(piece(_middle(10.0, slot_extra=6.0, slot_angle=angle, depth=9.0)))
    found = round_faces(body)
    assert [face.sweep for face in found] == pytest.approx([180.0, 180.0])
    for face, end in zip(found, ends, strict=True):
        assert face.start[:2] == pytest.approx(end, abs=1e-9)


@pytest.mark.parametrize("face", [Face.TOP, Face.BOTTOM])
def test_slot_angle_is_counter_clockwise_from_x_on_either_face(face: Face) -> None:
    body = cadquery_solid(piece(_middle(10.0, slot_extra=6.0, slot_angle=30.0, depth=9.0, face=face)))
    far = max(face.start[:2] for face in round_faces(body))
    assert far == pytest.approx((50.0 + 3.0 * sqrt(3.0) / 2.0, 20.0 + 1.5), abs=1e-9)


def test_a_point_that_breaks_through_leaves_no_skin() -> None:
    body = cadquery_solid(piece(_middle(10.0, depth=18.0)))
    cut_off = 5.0 / tan(radians(59.0)) - 2.0  # the cone's tip beyond the bottom face
    tip = pi * (cut_off * tan(radians(59.0))) ** 2 * cut_off / 3.0
    cone = pi * 25.0 * (5.0 / tan(radians(59.0))) / 3.0
    assert body.Volume() == pytest.approx(BOX - pi * 25.0 * 18.0 - cone + tip, rel=1e-9)
    assert is_whole(body)


def test_a_bar_cut_in_two_comes_as_two_solids() -> None:
    body = cadquery_solid(piece(_middle(44.0)))
    assert [part.isValid() for part in body.Solids()] == [True, True]


def test_nothing_left_is_an_error() -> None:
    with pytest.raises(SolidError, match="leave no metal"):
        cadquery_solid(piece(_middle(120.0)))


def test_all_holes_that_meet_are_cut_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    operations = []

    def counted() -> BRepAlgoAPI_Cut:
        operations.append(BRepAlgoAPI_Cut())
        return operations[-1]

    monkeypatch.setattr("slotwright.pieces.kernel.BRepAlgoAPI_Cut", counted)
    assert is_whole(cadquery_solid(bar_of(7, pitch=8.0)))
    assert [len(list(operation.Tools())) for operation in operations] == [7]


@pytest.mark.parametrize(
    "more",
    [
        pytest.param({}, id="through"),
        pytest.param({"depth": 9.0}, id="blind"),
        pytest.param({"face": Face.BOTTOM, "depth": 9.0}, id="from-below"),
        pytest.param({"counterbore": Counterbore(diameter=15.0, depth=8.0)}, id="counterbored"),
        pytest.param({"slot_extra": 3.0, "slot_angle": 20.0}, id="slotted"),
    ],
)
def test_holes_clear_of_all_else_need_no_boolean(more: dict[str, Any], monkeypatch: pytest.MonkeyPatch) -> None:
    for operation in ("Cut", "Fuse"):
        monkeypatch.setattr(
            f"slotwright.pieces.kernel.BRepAlgoAPI_{operation}", lambda: pytest.fail("a boolean was run")
        )
    plain = bar_of(40)
    made = replace(plain, holes=tuple(replace(hole, **more) for hole in plain.holes))
    body = cadquery_solid(made)
    assert body.Volume() == pytest.approx(made.volume, rel=1e-9)
    assert is_whole(body)


@pytest.mark.parametrize("gap", [-0.01, 0.0, 0.0005, 0.002])
def test_holes_that_all_but_touch(gap: float) -> None:
    """The two ways of making a hole must join without a step: side by side, and at the rim."""
    made = piece(
        Hole(x=40.0, y=20.0, diameter=10.0),
        Hole(x=50.0 + gap, y=20.0, diameter=10.0),
        Hole(x=80.0, y=5.0 + gap, diameter=10.0, depth=9.0),
        Hole(x=20.0, y=20.0, diameter=10.0),
    )
    body = cadquery_solid(made)
    assert body.Volume() == pytest.approx(made.volume, abs=0.2)  # 0.01 mm deep lens or segment, 20 mm long
    assert body.isValid()


@pytest.mark.parametrize(
    ("item", "volume"),
    [
        pytest.param(STUD, pi * 36.0 * 80.0, id="stud-is-a-cylinder"),
        pytest.param(WASHER, pi * (144.0 - 42.25) * 2.5, id="washer-is-a-ring"),
        pytest.param(NUT, (2.0 * sqrt(3.0) * 100.0 - pi * 25.0) * 10.0, id="hexagon-area-2-sqrt3-r2"),
        pytest.param(T_NUT, (22.0 * 22.0 + 22.0 * 13.8 - 2.0 * pi * 25.0) * 8.0, id="t-nut-is-two-blocks-less-a-bore"),
        pytest.param(SCREW, pi * (81.0 * 12.0 + 36.0 * 40.0 - 25.0 * 6.0), id="screw-head-shank-and-socket"),
    ],
)
def test_hardware_by_hand(item: Hardware, volume: float) -> None:
    body = cadquery_solid(item)
    assert body.Volume() == pytest.approx(volume, rel=1e-9)
    assert is_whole(body)


def test_table_is_a_block_less_its_slots() -> None:
    body = cadquery_solid(TABLE)
    slot = 14.0 * 16.0 + 24.0 * 10.0
    assert body.Volume() == pytest.approx(1000.0 * (240.0 * 60.0 - 3.0 * slot), rel=1e-12)
    low, high = box(body)
    assert low == pytest.approx((0.0, 0.0, -60.0), abs=1e-9)
    assert high == pytest.approx((1000.0, 240.0, 0.0), abs=1e-9)
    assert is_whole(body)


def test_table_slots_stand_at_their_centres() -> None:
    sides = sorted(
        face.Center().y
        for face in cadquery_solid(TABLE).Faces()
        if abs(face.normalAt().y) > 0.5 and face.Center().z == pytest.approx(-8.0)
    )
    assert sides == pytest.approx([43.0, 57.0, 113.0, 127.0, 183.0, 197.0])


def test_solids_are_built_once() -> None:
    solids = Solids()
    assert solids[BAR] is solids[replace(BAR)]
    assert solids[TABLE] is solids[TABLE]
    assert solids[T_NUT] is solids[T_NUT]
