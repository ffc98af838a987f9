"""Features that meet, and webs on every face and to walls: figures by hand, and all sound pieces against the kernel."""

from __future__ import annotations

from typing import Any

import pytest

from slotwright.checks.features import check_features
from slotwright.checks.webs import check_webs
from slotwright.findings import Finding, Severity
from slotwright.pieces.blanks import Bar, Blank, Disc, Extrusion, Plate
from slotwright.pieces.cadquery_solid import cadquery_solid
from slotwright.pieces.features import Counterbore, Face, Groove, Hole, Pocket, Tenon
from slotwright.pieces.outline import circle, obround, rectangle
from slotwright.pieces.piece import Piece
from tests.pieces.examples import STEEL
from tests.pieces.random_pieces import STEPPED, VEE, random_piece
from tests.pieces.wild_pieces import wild_piece

BLOCK = Bar(length=100.0, width=60.0, thickness=20.0)
DISC = Disc(diameter=100.0, thickness=20.0)
CHAMFERED = Bar(length=100.0, width=60.0, thickness=20.0, edge_chamfer=2.0)
MIDDLE = (50.0, 30.0)


def made(*holes: Hole, blank: Blank = BLOCK, **features: Any) -> Piece:
    features = {name: tuple(several) for name, several in features.items()}
    return Piece(name="p", title="P", blank=blank, holes=holes, material=STEEL, stock="any", **features)


def stops(piece: Piece) -> list[Finding]:
    return [finding for finding in check_features(piece) if finding.severity is Severity.STOP]


# Features that meet


@pytest.mark.parametrize("number", range(150))
def test_random_pieces_that_are_drawn_apart_are_sound(number: int) -> None:
    assert [*check_features(random_piece(number))] == []


@pytest.mark.parametrize("number", range(250))
def test_what_is_not_stopped_has_the_volume_the_kernel_finds(number: int) -> None:
    piece = wild_piece(number)
    findings = [*check_features(piece), *check_webs(piece)]
    loose = ("drill-point-breaks-through", "hole-into-chamfer")
    if any(finding.severity is Severity.STOP or finding.code in loose for finding in findings):
        return
    assert piece.volume == pytest.approx(cadquery_solid(piece).Volume(), rel=1e-8)


def test_most_wild_pieces_are_stopped_and_some_are_not() -> None:
    """So that the test above says something."""
    stopped = sum(bool(stops(wild_piece(number))) for number in range(250))
    assert 100 < stopped < 240


@pytest.mark.parametrize(
    ("piece", "place"),
    [
        pytest.param(
            made(pockets=[Pocket(outline=circle(20.0, (8.0, 30.0)), depth=5.0)]), "pocket 1", id="pocket-over-the-edge"
        ),
        pytest.param(
            made(pockets=[Pocket(outline=circle(20.0, MIDDLE), depth=20.0)]),
            "pocket 1",
            id="pocket-as-deep-as-the-plate",
        ),
        pytest.param(
            made(blank=DISC, tenons=[Tenon(outline=rectangle(70.0, 72.0, 0.0, (50.0, 50.0)), height=5.0)]),
            "tenon 1",
            id="tenon-whose-corners-stand-over-a-disc's-rim",
        ),
        pytest.param(
            made(blank=CHAMFERED, tenons=[Tenon(outline=rectangle(97.0, 30.0, 0.0, MIDDLE), height=5.0)]),
            "tenon 1",
            id="tenon-on-the-chamfer",
        ),
        pytest.param(
            made(
                pockets=[
                    Pocket(outline=circle(20.0, MIDDLE), depth=5.0, label="register"),
                    Pocket(outline=circle(20.0, (65.0, 30.0)), depth=5.0),
                ]
            ),
            "register and pocket 2",
            id="pockets-that-overlap",
        ),
        pytest.param(
            made(
                pockets=[
                    Pocket(outline=circle(20.0, MIDDLE), depth=11.0),
                    Pocket(outline=circle(20.0, MIDDLE), face=Face.BOTTOM, depth=11.0),
                ]
            ),
            "pocket 1 and pocket 2",
            id="pockets-from-both-sides-that-meet",
        ),
        pytest.param(
            made(
                grooves=[Groove(centre=30.0, width=10.0, depth=5.0)],
                pockets=[Pocket(outline=circle(20.0, MIDDLE), depth=3.0)],
            ),
            "groove 1 and pocket 1",
            id="groove-through-a-pocket",
        ),
        pytest.param(
            made(
                grooves=[Groove(along="y", centre=50.0, width=10.0, depth=8.0)],
                tenons=[Tenon(outline=circle(16.0, (50.0, 10.0)), face=Face.BACK, height=5.0)],
            ),
            "tenon 1 and groove 1",
            id="groove-that-runs-out-into-a-boss",
        ),
        pytest.param(
            made(Hole(x=59.0, y=30.0, diameter=8.0), pockets=[Pocket(outline=circle(20.0, MIDDLE), depth=5.0)]),
            "hole A1 and pocket 1",
            id="hole-on-a-pocket's-wall",
        ),
        pytest.param(
            made(
                Hole(x=50.0, y=30.0, diameter=8.0, counterbore=Counterbore(diameter=22.0, depth=2.0)),
                pockets=[Pocket(outline=circle(20.0, MIDDLE), depth=5.0)],
            ),
            "hole A1 and pocket 1",
            id="counterbore-wider-than-its-pocket",
        ),
        pytest.param(
            made(
                Hole(x=62.0, y=30.0, diameter=8.0, depth=5.0),
                tenons=[Tenon(outline=circle(20.0, MIDDLE), face=Face.TOP, height=5.0)],
            ),
            "hole A1 and tenon 1",
            id="drill-that-shaves-a-boss",
        ),
        pytest.param(
            made(
                Hole(x=50.0, y=15.0, face=Face.FRONT, diameter=8.0),
                pockets=[Pocket(outline=rectangle(20.0, 20.0, 0.0, MIDDLE), depth=5.0)],
            ),
            "hole A1 and pocket 1",
            id="cross-hole-in-a-pocket's-floor",
        ),
        pytest.param(
            made(
                Hole(x=50.0, y=10.0, face=Face.FRONT, diameter=8.0),
                pockets=[Pocket(outline=circle(20.0, MIDDLE), depth=16.0)],
            ),
            "hole A1 and pocket 1",
            id="cross-hole-through-a-round-wall",
        ),
        pytest.param(
            made(Hole(x=50.0, y=20.0, diameter=8.0), blank=Extrusion(profile=VEE, length=100.0)),
            "hole A1",
            id="hole-on-the-flank-of-a-vee",
        ),
        pytest.param(
            made(Hole(x=50.0, y=40.0, diameter=8.0), blank=Extrusion(profile=STEPPED, length=100.0)),
            "hole A1",
            id="hole-on-the-edge-of-a-step",
        ),
        pytest.param(
            made(Hole(x=20.0, y=10.0, face=Face.FRONT, diameter=8.0), blank=DISC), "hole A1", id="hole-in-a-round-rim"
        ),
        pytest.param(
            made(Hole(x=50.0, y=30.0, diameter=8.0), pockets=[Pocket(outline=circle(20.0, MIDDLE), depth=None)]),
            "hole A1",
            id="hole-in-a-window",
        ),
    ],
)
def test_features_that_meet_are_stopped(piece: Piece, place: str) -> None:
    places = [finding.place for finding in stops(piece)]
    assert f"p, {place}" in places


@pytest.mark.parametrize(
    "piece",
    [
        pytest.param(made(pockets=[Pocket(outline=circle(20.0, MIDDLE), depth=9.0)]), id="pocket"),
        pytest.param(
            made(
                pockets=[
                    Pocket(outline=circle(20.0, MIDDLE), depth=9.0),
                    Pocket(outline=circle(20.0, MIDDLE), face=Face.BOTTOM, depth=10.0),
                ]
            ),
            id="pockets-from-both-sides-with-a-floor-between",
        ),
        pytest.param(
            made(tenons=[Tenon(outline=rectangle(100.0, 20.0, 0.0, MIDDLE), height=5.0)]), id="tenon-all-along"
        ),
        pytest.param(
            made(
                grooves=[
                    Groove(centre=30.0, width=10.0, depth=5.0),
                    Groove(along="y", centre=30.0, width=10.0, depth=5.0),
                ]
            ),
            id="grooves-that-cross",
        ),
        pytest.param(
            made(
                Hole(x=50.0, y=10.0, face=Face.FRONT, diameter=8.0),
                pockets=[Pocket(outline=rectangle(20.0, 20.0, 0.0, MIDDLE), depth=16.0)],
            ),
            id="cross-hole-through-straight-walls",
        ),
        pytest.param(
            made(Hole(x=50.0, y=40.0, diameter=4.0), blank=Extrusion(profile=VEE, length=100.0)),
            id="hole-in-the-relief-slot",
        ),
        pytest.param(
            made(
                Hole(x=80.0, y=10.0, face=Face.FRONT, diameter=8.0),
                blank=Plate(outline=obround(160.0, 60.0), thickness=20.0),
            ),
            id="hole-in-the-straight-side-of-an-obround",
        ),
    ],
)
def test_features_that_may_meet_pass(piece: Piece) -> None:
    assert stops(piece) == []


def test_a_drill_point_that_breaks_through_is_told_with_how_far() -> None:
    # 10 mm, 118 degrees: a point 5 / tan 59 = 3.004 mm long; 18 + 3.004 - 20 = 1.004 comes out
    (finding,) = check_features(made(Hole(x=50.0, y=30.0, diameter=10.0, depth=18.0)))
    assert finding.code == "drill-point-breaks-through"
    assert finding.figure is not None
    assert finding.figure.value == pytest.approx(1.0043, abs=1e-4)


def test_a_hole_in_the_chamfer_is_told() -> None:
    assert [f.code for f in check_features(made(Hole(x=50.0, y=6.9, diameter=10.0), blank=CHAMFERED))] == [
        "hole-into-chamfer"
    ]
    assert [*check_features(made(Hole(x=50.0, y=7.1, diameter=10.0), blank=CHAMFERED))] == []


# Webs


def web(piece: Piece, code: str) -> float:
    """The one figure of a code."""
    (finding,) = (finding for finding in check_webs(piece) if finding.code == code)
    assert finding.figure is not None
    return finding.figure.value


@pytest.mark.parametrize(
    ("piece", "figure"),
    [
        pytest.param(made(Hole(x=90.0, y=50.0, diameter=10.0), blank=DISC), 5.0, id="rim-of-a-disc-50-less-40-less-5"),
        pytest.param(
            made(Hole(x=70.0, y=50.0, diameter=10.0), blank=Disc(diameter=100.0, thickness=20.0, bore=24.0)),
            3.0,
            id="bore-of-a-ring-20-less-12-less-5",
        ),
        pytest.param(
            made(Hole(x=3.0, y=30.0, diameter=10.0), blank=Plate(outline=obround(100.0, 60.0), thickness=20.0)),
            -2.0,
            id="breaks-out-of-an-obround",
        ),
        pytest.param(
            made(Hole(x=50.0, y=50.0, diameter=10.0, slot_extra=60.0, slot_angle=90.0), blank=DISC),
            15.0,
            id="slot-on-a-disc-50-less-30-less-5",
        ),
        pytest.param(made(Hole(x=50.0, y=8.0, face=Face.FRONT, diameter=10.0)), 3.0, id="front-to-the-bottom"),
        pytest.param(made(Hole(x=8.0, y=10.0, face=Face.BACK, diameter=10.0)), 3.0, id="back-to-the-left-end"),
        pytest.param(made(Hole(x=9.0, y=10.0, face=Face.RIGHT, diameter=10.0)), 4.0, id="right-end-to-the-front"),
        pytest.param(
            made(Hole(x=50.0, y=16.0, face=Face.FRONT, diameter=10.0), blank=Extrusion(profile=VEE, length=100.0)),
            6.0,
            id="below-the-relief-slot-of-a-vee-27-less-16-less-5",
        ),
        pytest.param(
            made(
                Hole(x=33.0, y=20.0, face=Face.LEFT, diameter=10.0, depth=9.0),
                blank=Extrusion(profile=STEPPED, length=100.0),
            ),
            (7.0**2 + 5.0**2) ** 0.5 - 5.0,
            id="inner-corner-of-a-stepped-block",
        ),
    ],
)
def test_web_to_the_edge_by_hand(piece: Piece, figure: float) -> None:
    assert web(piece, "hole-to-edge") == pytest.approx(figure, abs=1e-9)


@pytest.mark.parametrize(
    ("piece", "figure"),
    [
        pytest.param(
            made(Hole(x=72.0, y=30.0, diameter=10.0), pockets=[Pocket(outline=circle(20.0, MIDDLE), depth=5.0)]),
            7.0,
            id="beside-a-round-pocket-22-less-10-less-5",
        ),
        pytest.param(
            made(Hole(x=53.0, y=30.0, diameter=10.0), tenons=[Tenon(outline=circle(20.0, MIDDLE), height=5.0)]),
            2.0,
            id="in-a-round-tenon-10-less-3-less-5",
        ),
        pytest.param(
            made(Hole(x=50.0, y=15.0, diameter=10.0), grooves=[Groove(centre=30.0, width=8.0, depth=5.0)]),
            6.0,
            id="beside-a-groove",
        ),
        pytest.param(
            made(
                Hole(x=50.0, y=6.0, face=Face.FRONT, diameter=8.0),
                pockets=[Pocket(outline=circle(20.0, MIDDLE), depth=5.0)],
            ),
            5.0,
            id="across-under-a-pocket-15-less-6-less-4",
        ),
    ],
)
def test_web_to_a_wall_by_hand(piece: Piece, figure: float) -> None:
    assert web(piece, "hole-to-wall") == pytest.approx(figure, abs=1e-9)


@pytest.mark.parametrize(
    "piece",
    [
        pytest.param(
            made(Hole(x=50.0, y=30.0, diameter=10.0), pockets=[Pocket(outline=circle(20.0, MIDDLE), depth=5.0)]),
            id="in-a-pocket-there-is-no-web",
        ),
        pytest.param(
            made(
                Hole(x=61.0, y=30.0, diameter=8.0, depth=5.0),
                pockets=[Pocket(outline=circle(20.0, (46.0, 30.0)), face=Face.BOTTOM, depth=5.0)],
            ),
            id="above-a-pocket-from-below",
        ),
    ],
)
def test_no_wall_no_web(piece: Piece) -> None:
    assert "hole-to-wall" not in {finding.code for finding in check_webs(piece)}


@pytest.mark.parametrize(
    ("holes", "figure"),
    [
        pytest.param(
            [
                Hole(x=50.0, y=30.0, diameter=10.0),
                Hole(x=58.0, y=10.0, face=Face.FRONT, diameter=8.0),
            ],
            8.0 - 5.0 - 4.0,
            id="a-cross-hole-beside-a-hole",
        ),
        pytest.param(
            [
                Hole(x=50.0, y=30.0, diameter=10.0, depth=7.0, point_angle=180.0),
                Hole(x=50.0, y=6.0, face=Face.FRONT, diameter=8.0),
            ],
            7.0 - 5.0 - 4.0,  # axis to axis end, both radii off: on the safe side
            id="a-cross-hole-under-a-blind-one",
        ),
        pytest.param(
            [
                Hole(x=30.0, y=10.0, face=Face.LEFT, diameter=8.0, depth=30.0, point_angle=180.0),
                Hole(x=30.0, y=10.0, face=Face.RIGHT, diameter=8.0, depth=67.0, point_angle=180.0),
            ],
            3.0,
            id="blind-holes-from-both-ends",
        ),
        pytest.param(
            [
                Hole(x=30.0, y=10.0, face=Face.FRONT, diameter=8.0, depth=20.0),
                Hole(x=41.0, y=10.0, face=Face.FRONT, diameter=8.0, depth=20.0),
            ],
            3.0,
            id="side-by-side-at-the-front",
        ),
    ],
)
def test_web_between_holes_on_any_faces_by_hand(holes: list[Hole], figure: float) -> None:
    assert web(made(*holes), "hole-to-hole") == pytest.approx(figure, abs=1e-9)
