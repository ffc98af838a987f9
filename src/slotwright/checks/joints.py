"""Bolted joints: bolt in the throat, T-nut in the slot, thread in the T-nut, room under a screw, play in the hole."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from slotwright import sizes
from slotwright.findings import COMMON_PRACTICE, Figure, Finding, Severity
from slotwright.fixtures.bolting import CLEAR_OF_FLOOR
from slotwright.fixtures.joint import Joint
from slotwright.fixtures.layout import Layout
from slotwright.parts.engagement import shop_engagement
from slotwright.parts.t_nuts import BOLT_PLAY, LEAST_WALL
from slotwright.parts.t_slots import UNDER, TSlot

NUT_FAMILY = "low-carbon steel"


def check_joints(layout: Layout, unit: str) -> Iterator[Finding]:
    """Yield the findings of one lay-out's bolts; equal joints of one piece are spoken of once."""
    slot = layout.table.slot
    made = {placed.piece.name for placed in layout.pieces}
    yield from _assumed(layout, unit)
    for one in _different(layout.joints):
        place = f"{one.piece} on {layout.table.name}"
        yield _bolt_in_throat(one, slot, place)
        yield _nut_in_slot(one, slot, place)
        yield _nut_wall(one, place)
        if one.nut.made_to_measure:
            yield _nut_to_make(one, slot, place, unit)
        yield _engagement(one, place)
        if one.sunk:
            yield _bottoming(one, slot, place)
        else:
            yield from _stud(one, place)
        if one.piece in made:  # a bought strap is not drilled
            yield _position(one, layout, place)
    yield from _swing(layout)


def _different(joints: tuple[Joint, ...]) -> list[Joint]:
    return list({(j.piece, j.thread.designation, j.tip, j.seat, j.hole): j for j in joints}.values())


def _assumed(layout: Layout, unit: str) -> Iterator[Finding]:
    slot = layout.table.slot
    if not slot.assumed:
        return
    names = ", ".join(name.replace("_", "-") for name in slot.assumed)
    known, width = slot.standard != "measured", sizes.say(slot.width, "mm", unit)
    yield Finding(
        code="slot-figures-assumed",
        severity=Severity.FINE if known else Severity.CAUTION,
        place=layout.table.name,
        message=f"{names} of the slot not measured; taken from {slot.standard}'s smallest"
        if known
        else f"{names} of the slot not measured, and no standard has its width, {width}; "
        "taken from the standard's next narrower slot",
        rule="slots are made to ISO 299 or ASME B5.1M, or else measured",
        source="ISO 299; ASME B5.1M",
        remedy="" if known else "measure the slot's headspace and depth and write them in the table's file",
    )


def _bolt_in_throat(one: Joint, slot: TSlot, place: str) -> Finding:
    play = slot.width - one.thread.major
    ok = play >= BOLT_PLAY - 1e-9
    return Finding(
        code="bolt-in-slot",
        severity=Severity.FINE if ok else Severity.STOP,
        place=place,
        message=f"{one.thread.designation} {'passes' if ok else 'is too large for'} the slot's throat",
        figure=Figure(value=play),
        limit=Figure(value=BOLT_PLAY),
        rule="throat wider than the bolt by the least that the standard's own bolts have",
        source="ASME B5.1M, throat width less bolt size",
        remedy="" if ok else "choose a smaller bolt",
    )


def _nut_in_slot(one: Joint, slot: TSlot, place: str) -> Finding:
    """Least clearance of the T-nut: under the table top, and below the shoulders."""
    rooms = {
        "the T-nut would stand above the table top": -one.nut_top,
        "the T-nut's base is too high for the headspace": slot.headspace_depth - one.nut.base_height,
        "the T-nut's base is too wide for the headspace": slot.headspace_width - one.nut.base_width,
    }
    words, room = min(rooms.items(), key=lambda item: item[1])
    ok = room > 0.0
    return Finding(
        code="t-nut-in-slot",
        severity=Severity.FINE if ok else Severity.STOP,
        place=place,
        message="the T-nut has room in the slot" if ok else words,
        figure=Figure(value=room),
        limit=Figure(value=0.0),
        rule="T-nut's base lower and narrower than the headspace, its tongue below the table top",
        source=one.nut.standard if not one.nut.made_to_measure else COMMON_PRACTICE,
        remedy="" if ok else "measure the slot, or make a lower T-nut",
    )


def _nut_wall(one: Joint, place: str) -> Finding:
    wall = one.nut.wall
    severity = Severity.FINE if wall >= LEAST_WALL - UNDER else Severity.CAUTION if wall > 0.0 else Severity.STOP
    return Finding(
        code="t-nut-wall",
        severity=severity,
        place=place,
        message=f"the T-nut's tongue has {'its' if severity is Severity.FINE else 'too little'} wall",
        figure=Figure(value=wall),
        limit=Figure(value=LEAST_WALL),
        rule="wall each side of the thread within the throat, as DIN 508's own nuts have",
        source="DIN 508, slot width less thread",
        remedy="" if severity is Severity.FINE else "choose a smaller bolt",
    )


def _nut_to_make(one: Joint, slot: TSlot, place: str, unit: str) -> Finding:
    nut = one.nut
    names = (
        ("tongue", nut.tongue_width),
        ("base", nut.base_width),
        ("base height", nut.base_height),
        ("height", nut.height),
        ("length", nut.base_length),
    )
    figures = ", ".join(f"{name} {sizes.say(value, 'mm', unit)}" for name, value in names)
    return Finding(
        code="t-nut-to-measure",
        severity=Severity.CAUTION,
        place=place,
        message=f"no standard T-nut fits a slot {sizes.say(slot.width, 'mm', unit)} wide; "
        f"make one: {nut.thread.designation}, {figures}",
        rule="a T-nut's tongue fits the throat with no more play than the standard allows"
        + (f"; {nut.note}" if nut.note else ""),
        source="DIN 508; ASME B5.1M",
        remedy="leave its thread short of the bottom or stake it",
    )


def _engagement(one: Joint, place: str) -> Finding:
    needed = shop_engagement(one.thread, NUT_FAMILY)
    found = one.engagement
    severity = Severity.FINE if found >= needed - 1e-9 else Severity.CAUTION if found >= needed / 2.0 else Severity.STOP
    return Finding(
        code="engagement",
        severity=severity,
        place=place,
        message=f"{one.thread.designation} is held {'' if severity is Severity.FINE else 'too short '}in the T-nut",
        figure=Figure(value=found),
        limit=Figure(value=needed),
        rule=f"{needed / one.thread.major:g} diameter of thread in a steel T-nut",
        source=COMMON_PRACTICE,
        remedy="" if severity is Severity.FINE else _longer(one),
    )


def _longer(one: Joint) -> str:
    """What gives a joint more thread: it is the T-nut's, unless the fastener does not reach its end."""
    if one.tip > one.thread_bottom + 1e-9:
        return "take a longer fastener or a taller T-nut"
    if one.nut.made_to_measure:
        return "tap the T-nut through and stake its last thread for a stud to stop at, or make it taller"
    return "take a taller T-nut"


def _bottoming(one: Joint, slot: TSlot, place: str) -> Finding:
    if one.nut.made_to_measure and one.tip < one.thread_bottom - 1e-9:
        return Finding(
            code="screw-bottoms",
            severity=Severity.STOP,
            place=place,
            message="the screw bottoms at the end of the T-nut's thread and clamps nothing",
            figure=Figure(value=one.nut_top - one.tip),
            limit=Figure(value=one.nut.thread_depth),
            rule="a screw within the thread of a T-nut that is tapped short of its bottom",
            source=COMMON_PRACTICE,
            remedy="take a shorter screw, put a washer under its head, or tap the T-nut through",
        )
    room = one.tip + slot.depth
    ok = room >= CLEAR_OF_FLOOR - 1e-9
    return Finding(
        code="screw-bottoms",
        severity=Severity.FINE if ok else Severity.STOP,
        place=place,
        message="the screw ends clear of the slot's floor"
        if ok
        else "the screw bottoms in the slot and clamps nothing",
        figure=Figure(value=room),
        limit=Figure(value=CLEAR_OF_FLOOR),
        rule="a screw's end clear of the slot's floor",
        source=COMMON_PRACTICE,
        remedy="" if ok else "take a shorter screw, put a washer under its head, or a thicker bar",
    )


def _stud(one: Joint, place: str) -> Iterator[Finding]:
    if one.from_series:
        return
    yield Finding(
        code="stud-not-in-series",
        severity=Severity.CAUTION,
        place=place,
        message=f"no standard {one.thread.designation} stud is long enough; cut one from threaded rod",
        figure=Figure(value=one.needed_length),
        rule="stud from the standard lengths",
        source="DIN 6379 (from memory); inch lengths: " + COMMON_PRACTICE,
        remedy="cut threaded rod of the strength the studs have",
    )


def _position(one: Joint, layout: Layout, place: str) -> Finding:
    """Floating fastener, ASME Y14.5: hole less fastener; a slot known to +-u takes 2 u off the zone's diameter."""
    zone = one.hole - one.thread.major - 2.0 * layout.table.uncertainty
    ok = zone > 0.0
    return Finding(
        code="position-tolerance",
        severity=Severity.FINE if ok else Severity.STOP,
        place=place,
        message="the table holes' position tolerance" if ok else "the slots are known too poorly for holes this tight",
        figure=Figure(value=zone),
        limit=Figure(value=0.0),
        rule="floating fastener: smallest hole less largest fastener, less twice the slots' uncertainty",
        source="ASME Y14.5, floating-fastener rule T = H - F",
        remedy="" if ok else "measure the slots better, or drill the holes medium or coarse, or slot them with play",
    )


def _swing(layout: Layout) -> Iterator[Finding]:
    copies = Counter(placed.piece.name for placed in layout.pieces)
    bolts = Counter(one.piece for one in layout.joints)
    for piece, number in copies.items():
        if bolts[piece] == number:
            yield Finding(
                code="single-bolt",
                severity=Severity.CAUTION,
                place=f"{piece} on {layout.table.name}",
                message="a single bolt holds it: it can swing under a side load",
                figure=Figure(value=1.0, unit=""),
                limit=Figure(value=2.0, unit=""),
                rule="two bolts, or one bolt and a stop",
                source=COMMON_PRACTICE,
                remedy="bolt to a second slot, or put a stop against it",
            )
