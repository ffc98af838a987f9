"""Flat straps, packing and screws put in from below: bodies by hand arithmetic."""

from __future__ import annotations

from math import pi

import pytest

from slotwright.errors import NotListedError
from slotwright.parts.hardware import Prism
from slotwright.parts.items import packing_item, socket_screw_item, strap_item, upside_down
from slotwright.parts.proof_strength import proof_stress
from slotwright.parts.socket_screws import socket_screw
from slotwright.parts.straps import Strap, standard_straps, strap_for, strap_named
from slotwright.parts.threads import thread

STRAP = Strap(
    name="strap",
    size="40 x 20 x 100 mm",
    length=100.0,
    width=40.0,
    thickness=20.0,
    slot_width=14.0,
    slot_from=25.0,
    slot_to=75.0,
    straight_from=5.0,
    straight_to=98.0,
)


def test_places_of_the_stud() -> None:
    assert (STRAP.stud_from, STRAP.stud_to, STRAP.slot_middle) == (32.0, 68.0, 50.0)


def test_a_strap_stands_about_the_middle_of_its_slot() -> None:
    off = Strap(**{**{f: getattr(STRAP, f) for f in Strap.__slots__}, "slot_from": 30.0, "slot_to": 70.0 + 20.0})
    body = strap_item(off).body[0]
    assert isinstance(body, Prism)
    # the slot's middle is 60 from the nose
    assert (min(x for x, _ in body.outline), max(x for x, _ in body.outline)) == (-60.0, 40.0)
    xs = [x for x, _ in body.windows[0]]
    assert (min(xs), max(xs)) == pytest.approx((-30.0, 30.0))


def test_the_slot_is_the_obround_it_stands_for() -> None:
    from slotwright.pieces.cadquery_solid import cadquery_solid

    solid = cadquery_solid(strap_item(STRAP))
    exact = 100 * 40 * 20 - (36 * 14 + pi * 49) * 20  # closed form: a rectangle and a circle
    assert solid.isValid()
    # the round ends are 24-sided: a 24th of a turn leaves 1.1 % of the circle
    assert solid.Volume() == pytest.approx(exact, abs=0.012 * pi * 49 * 20)
    assert solid.Volume() > exact


def test_packing_is_a_block() -> None:
    from slotwright.pieces.cadquery_solid import cadquery_solid

    assert cadquery_solid(packing_item(20.0, 40.0, 10.0, "20 x 40 x 10 mm")).Volume() == pytest.approx(8000.0)


def test_a_screw_from_below_has_its_head_down() -> None:
    item = socket_screw_item(socket_screw(thread("M6")), 20.0)
    turned = upside_down(item)
    assert (min(b.bottom for b in turned.body), max(b.top for b in turned.body)) == (-6.0, 20.0)  # ISO 4762: k 6
    assert upside_down(turned) == item
    assert turned.title == item.title


@pytest.mark.parametrize(
    ("bolt", "slot", "width", "thickness"),
    [
        pytest.param("M8", 9.0, 25.0, 12.0, id="DIN-6314-from-memory-M8"),
        pytest.param("M12", 14.0, 40.0, 20.0, id="DIN-6314-from-memory-M12"),
        pytest.param("M16", 18.0, 50.0, 25.0, id="DIN-6314-from-memory-M16"),
    ],
)
def test_standard_straps(bolt: str, slot: float, width: float, thickness: float) -> None:
    strap = strap_for(thread(bolt))
    assert (strap.slot_width, strap.width, strap.thickness) == (slot, width, thickness)
    assert "from memory" in strap.note


def test_names_are_plain_and_found() -> None:
    names = [strap.name for strap in standard_straps()]
    assert len(set(names)) == len(names)
    assert all(strap_named(name).name == name for name in names)
    with pytest.raises(NotListedError, match="din6314-14x100"):
        strap_named("din6314-14x999")
    with pytest.raises(NotListedError, match="M8"):
        strap_for(thread("M14"))


@pytest.mark.parametrize(
    ("name", "strength", "stress"),
    [
        pytest.param("M16", "8.8", 580.0, id="ISO-898-1-8.8-up-to-16"),
        pytest.param("M20", "8.8", 600.0, id="ISO-898-1-8.8-above-16"),
        pytest.param("M10", "10.9", 830.0, id="ISO-898-1-10.9"),
        pytest.param("1/2-13", "8", 120 * 6.894757, id="SAE-J429-grade-8-120-ksi"),
    ],
)
def test_proof_stress(name: str, strength: str, stress: float) -> None:
    assert proof_stress(thread(name), strength) == pytest.approx(stress, rel=1e-6)


def test_an_unknown_class_says_what_there_is() -> None:
    with pytest.raises(NotListedError, match=r"class '9.9' for M12 .*8.8"):
        proof_stress(thread("M12"), "9.9")
