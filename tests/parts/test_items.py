"""Bodies of bought items: seats, outlines and names."""

from itertools import pairwise
from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slotwright.parts.hardware import Cylinder, Hardware, Prism
from slotwright.parts.items import (
    hex_nut_item,
    hexagon,
    rectangle,
    socket_screw_item,
    stud_item,
    t_nut_item,
    washer_item,
)
from slotwright.parts.nuts import hex_nut
from slotwright.parts.socket_screws import socket_screw
from slotwright.parts.studs import stud
from slotwright.parts.t_nuts import nut_for
from slotwright.parts.t_slots import complete_slot
from slotwright.parts.threads import thread
from slotwright.parts.washers import washer

INCH = 25.4
M12, HALF = thread("M12"), thread("1/2-13")

ITEMS = {
    "T-nut M12": t_nut_item(nut_for(complete_slot(14.0), "mm")),
    "T-nut 1/2": t_nut_item(nut_for(complete_slot(15.875, system="in"), "in")),
    "stud M12": stud_item(stud(M12, 95.0)),
    "stud 1/2": stud_item(stud(HALF, 4.2 * INCH)),
    "washer M12": washer_item(washer(M12)),
    "washer 1/2": washer_item(washer(HALF)),
    "nut M12": hex_nut_item(hex_nut(M12, "clamping")),
    "nut 1/2": hex_nut_item(hex_nut(HALF)),
    "screw M12": socket_screw_item(socket_screw(M12), 60.0),
    "screw 1/2": socket_screw_item(socket_screw(HALF), 2.25 * INCH),
}


def _area(outline: tuple[tuple[float, float], ...]) -> float:
    """Signed area by the surveyor's formula: positive when counter-clockwise."""
    ends = (*outline[1:], outline[0])
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(outline, ends, strict=True)) / 2.0


@given(st.floats(1.0, 200.0))
def test_a_hexagon_has_the_area_of_its_flats_and_runs_counter_clockwise(flats: float) -> None:
    """Closed form: sqrt(3) / 2 times the square of the width across flats."""
    assert _area(hexagon(flats)) == pytest.approx(sqrt(3) / 2 * flats**2, rel=1e-9)
    assert max(y for _, y in hexagon(flats)) == pytest.approx(flats / 2)


@given(st.floats(1.0, 200.0), st.floats(1.0, 200.0))
def test_a_rectangle_runs_counter_clockwise(along: float, across: float) -> None:
    assert _area(rectangle(along, across)) == pytest.approx(along * across)


@pytest.mark.parametrize("item", ITEMS.values(), ids=ITEMS)
def test_every_body_is_solid_and_every_bore_goes_through_it(item: Hardware) -> None:
    low, high = min(b.bottom for b in item.body), max(b.top for b in item.body)
    for body in item.body:
        assert body.bottom < body.top
        if isinstance(body, Prism):
            assert _area(body.outline) > 0.0
    for bore in item.bores:
        assert all(bore.diameter < body.diameter for body in item.body if isinstance(body, Cylinder))
    if item.bores:
        assert (item.bores[0].bottom, item.bores[-1].top) == (low, high)
        assert all(lower.top == upper.bottom for lower, upper in pairwise(item.bores))


def test_a_t_nut_to_make_is_tapped_short_of_its_bottom() -> None:
    """1/2-13 with two pitches unfinished (common practice, no source), drilled 27/64 in (tap drill table)."""
    drilled, tapped = ITEMS["T-nut 1/2"].bores
    assert drilled.top - drilled.bottom == pytest.approx(2 * INCH / 13)
    assert (drilled.diameter, tapped.diameter) == pytest.approx((27 / 64 * INCH, 12.7), abs=1e-3)


@pytest.mark.parametrize(
    ("name", "title"),
    [
        ("T-nut M12", "T-nut M12 for 14 mm slot, DIN 508"),
        ("T-nut 1/2", "T-nut 1/2-13 UNC for 5/8 in slot, made to measure"),
        ("stud M12", "stud M12 x 100, DIN 6379"),
        ("stud 1/2", "stud 1/2-13 UNC x 4-1/2 in, inch stud lengths"),
        ("washer M12", "washer M12, DIN 6340"),
        ("washer 1/2", "washer 1/2 in, ASME B18.21.1 type B regular"),
        ("nut M12", "hex nut M12, DIN 6330"),
        ("nut 1/2", "hex nut 1/2-13 UNC, ASME B18.2.2"),
        ("screw M12", "socket head cap screw M12 x 60, ISO 4762"),
        ("screw 1/2", "socket head cap screw 1/2-13 UNC x 2-1/4 in, ASME B18.3"),
    ],
)
def test_titles(name: str, title: str) -> None:
    assert ITEMS[name].title == title


def test_a_t_nut_seats_under_the_shoulders() -> None:
    """DIN 508 for 14 mm slots: h 16, k 8, e 22; base below z = 0, tongue above."""
    base, tongue = ITEMS["T-nut M12"].body
    assert (base.bottom, base.top, tongue.bottom, tongue.top) == (-8, 0, 0, 8)
    assert isinstance(base, Prism)
    assert _area(base.outline) == pytest.approx(22 * 22)
    assert isinstance(tongue, Prism)
    assert max(y for _, y in tongue.outline) * 2 < 14 < max(y for _, y in base.outline) * 2


def test_a_screw_hangs_from_its_head() -> None:
    """ISO 4762 M12: head 18.27 knurled, 12 high."""
    shank, head = ITEMS["screw M12"].body
    assert (shank.bottom, shank.top, head.bottom, head.top) == (-60, 0, 0, 12)
    assert ITEMS["screw M12"].note == "key 10 mm"
    assert ITEMS["screw 1/2"].note == "key 3/8 in"


@pytest.mark.parametrize("name", ["stud M12", "washer M12", "nut M12"])
def test_these_stand_on_their_lower_face(name: str) -> None:
    assert min(body.bottom for body in ITEMS[name].body) == 0.0
