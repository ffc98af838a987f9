"""Bodies of bought items for the lay-out, in the item's own frame: Z is the bolt's axis, z = 0 the seat named below.

Outer threads are modelled at their major diameter and bores for them likewise, so that mating items just touch.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import cos, pi, sin

from slotwright.parts.hardware import Cylinder, Hardware, Prism
from slotwright.parts.nuts import HexNut
from slotwright.parts.socket_screws import SocketScrew
from slotwright.parts.standards import INCH, INCHES
from slotwright.parts.straps import Strap
from slotwright.parts.studs import Stud
from slotwright.parts.t_nuts import TNut
from slotwright.parts.threads import Thread
from slotwright.parts.washers import Washer

Outline = tuple[tuple[float, float], ...]


def t_nut_item(nut: TNut) -> Hardware:
    """A T-nut; z = 0 is its seat under the slot's shoulders, base downward, tongue upward; the slot runs along X."""
    base = Prism(outline=rectangle(nut.base_length, nut.base_width), bottom=-nut.base_height, top=0.0)
    tongue = Prism(outline=rectangle(nut.base_length, nut.tongue_width), bottom=0.0, top=nut.tongue_height)
    stands = nut.thread.major < nut.tongue_width  # a thread as wide as the tongue, a stop finding, leaves only the base
    return Hardware(
        kind="T-nut",
        size=f"{nut.thread.designation} for {_slot_name(nut)} slot",
        standard=nut.standard,
        body=(base, tongue) if stands else (base,),
        bores=_nut_bores(nut, nut.tongue_height if stands else 0.0),
        note=nut.note,
    )


def _nut_bores(nut: TNut, top: float) -> tuple[Cylinder, ...]:
    """Its thread; below the full thread of one to make it is only drilled."""
    end = max(nut.tongue_height - nut.thread_depth, -nut.base_height)
    if not nut.made_to_measure or end >= top:
        return (Cylinder(diameter=nut.thread.major, bottom=-nut.base_height, top=top),)
    drilled = Cylinder(diameter=nut.thread.tap_drill, bottom=-nut.base_height, top=end)
    return drilled, Cylinder(diameter=nut.thread.major, bottom=end, top=top)


def stud_item(stud: Stud) -> Hardware:
    """A stud; z = 0 is its lower end."""
    return Hardware(
        kind="stud",
        size=f"{stud.thread.designation} x {length_name(stud.length, stud.thread)}",
        standard=stud.standard,
        body=(Cylinder(diameter=stud.thread.major, bottom=0.0, top=stud.length),),
    )


def washer_item(washer: Washer) -> Hardware:
    """A washer; z = 0 is its lower face. It is as thick as the standard's nominal."""
    return Hardware(
        kind="washer",
        size=washer.size if washer.size[0] in "M#" else f"{washer.size} in",
        standard=washer.standard,
        body=(Cylinder(diameter=washer.outer, bottom=0.0, top=washer.thickness),),
        bores=(Cylinder(diameter=washer.hole, bottom=0.0, top=washer.thickness),),
    )


def hex_nut_item(nut: HexNut) -> Hardware:
    """A hexagon nut; z = 0 is its lower face, two corners on the X axis."""
    return Hardware(
        kind="hex nut",
        size=nut.thread.designation,
        standard=nut.standard,
        body=(Prism(outline=hexagon(nut.across_flats), bottom=0.0, top=nut.height),),
        bores=(Cylinder(diameter=nut.thread.major, bottom=0.0, top=nut.height),),
    )


def socket_screw_item(screw: SocketScrew, length: float) -> Hardware:
    """A socket head cap screw of a length, mm; z = 0 is the underside of its head, shank downward, head upward."""
    return Hardware(
        kind="socket head cap screw",
        size=f"{screw.thread.designation} x {length_name(length, screw.thread)}",
        standard=screw.standard,
        body=(
            Cylinder(diameter=screw.thread.major, bottom=-length, top=0.0),
            Cylinder(diameter=screw.head_diameter, bottom=0.0, top=screw.head_height),
        ),
        note=f"key {screw.key_name} {'in' if screw.thread.system == INCHES else 'mm'}",
    )


def strap_item(strap: Strap) -> Hardware:
    """A flat strap; z = 0 is its lower face, the middle of its slot at the origin, its nose toward -X."""
    middle = strap.slot_middle
    outline = tuple((x + strap.length / 2.0 - middle, y) for x, y in rectangle(strap.length, strap.width))
    window = _obround(strap.slot_to - strap.slot_from, strap.slot_width)
    return Hardware(
        kind="flat strap",
        size=strap.size,
        standard=strap.standard,
        body=(Prism(outline=outline, bottom=0.0, top=strap.thickness, windows=(window,)),),
        note=strap.note,
    )


def packing_item(length: float, width: float, height: float, size: str) -> Hardware:
    """A packing block, mm; z = 0 is its lower face, its middle at the origin, its length along X."""
    body = Prism(outline=rectangle(length, width), bottom=0.0, top=height)
    return Hardware(kind="packing block", size=size, standard="from the shop's packing", body=(body,))


def upside_down(item: Hardware) -> Hardware:
    """The same item put in from below: z = 0 stays where it is, what was up is down."""
    body = tuple(replace(part, bottom=-part.top, top=-part.bottom) for part in item.body)
    bores = tuple(replace(bore, bottom=-bore.top, top=-bore.bottom) for bore in item.bores)
    return replace(item, body=body, bores=bores)


def hexagon(across_flats: float) -> Outline:
    """Corners of a hexagon about the origin, counter-clockwise, the first on the X axis."""
    radius = across_flats / 2.0 / cos(pi / 6.0)
    return tuple((_clean(radius * cos(k * pi / 3.0)), _clean(radius * sin(k * pi / 3.0))) for k in range(6))


def rectangle(along: float, across: float) -> Outline:
    """Corners of a rectangle about the origin, counter-clockwise from the lower left."""
    x, y = along / 2.0, across / 2.0
    return ((-x, -y), (x, -y), (x, y), (-x, y))


def _obround(along: float, across: float) -> Outline:
    """Corners of a slot about the origin, its round ends as 24ths of a turn."""
    r, half = across / 2.0, (along - across) / 2.0
    turns = [(k - 6) * pi / 12.0 for k in range(13)]
    right = [(_clean(half + r * cos(turn)), _clean(r * sin(turn))) for turn in turns]
    return (*right, *((-x, -y) for x, y in right))


def length_name(length: float, thread: Thread) -> str:
    """A length of the hardware list: "100" for metric threads, "4-1/2 in" for inch threads, to 1/64 in."""
    return f"{_mixed(length)} in" if thread.system == INCHES else f"{length:g}"


def _slot_name(nut: TNut) -> str:
    if nut.thread.system == INCHES:
        return f"{_mixed(nut.slot_width)} in"
    return f"{round(nut.slot_width, 2):g} mm"


def _mixed(length: float) -> str:
    whole, part = divmod(Fraction(round(length / INCH * 64), 64), 1)
    return "-".join(str(n) for n in (whole, part) if n) or "0"


def _clean(value: float) -> float:
    """Sines of round angles must not smear a corner by 1e-16."""
    return round(value, 12) + 0.0
