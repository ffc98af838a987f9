"""Webs: the metal left between a hole and an edge, and between two holes."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians, sin

import numpy as np
from numpy.typing import NDArray

from slotwright.findings import COMMON_PRACTICE, Figure, Finding, Severity
from slotwright.pieces.features import Hole
from slotwright.pieces.hole_groups import tags
from slotwright.pieces.piece import Piece

Floats = NDArray[np.float64]

SHARE = 0.5
"""A web is sound when it is at least this share of the larger hole's diameter."""
_RULE = "web at least half the diameter of the larger hole, so that the drill does not push through and threads hold"


def check_webs(piece: Piece) -> Iterator[Finding]:
    """Yield the webs of one piece that are too thin, and the thinnest when all are sound."""
    if not piece.holes:
        return
    names = tags(piece)
    yield from _edges(piece, names)
    yield from _pairs(piece, names)


def _edges(piece: Piece, names: tuple[str, ...]) -> Iterator[Finding]:
    webs = [(_edge_web(hole, piece), SHARE * hole.widest, name) for hole, name in zip(piece.holes, names, strict=True)]
    poor = [web for web in webs if web[0] < web[1]]
    for web, limit, name in poor or [min(webs)]:
        yield _finding("hole-to-edge", f"{piece.name}, hole {name}", "the edge", web, limit)


def _edge_web(hole: Hole, piece: Piece) -> float:
    """Least distance from the hole's widest rim to the outline, mm; negative when it breaks out."""
    half = hole.slot_extra / 2.0
    reach_x = abs(cos(radians(hole.slot_angle))) * half + hole.widest / 2.0
    reach_y = abs(sin(radians(hole.slot_angle))) * half + hole.widest / 2.0
    blank = piece.blank
    return min(hole.x - reach_x, blank.length - hole.x - reach_x, hole.y - reach_y, blank.width - hole.y - reach_y)


def _pairs(piece: Piece, names: tuple[str, ...]) -> Iterator[Finding]:
    if len(piece.holes) < 2:
        return
    gaps = _gaps(piece.holes)
    radii = np.array([hole.diameter / 2.0 for hole in piece.holes])
    widest = np.array([hole.widest / 2.0 for hole in piece.holes])
    webs = gaps - widest[:, None] - widest[None, :]
    plain = gaps - radii[:, None] - radii[None, :]
    limits = SHARE * 2.0 * np.maximum(widest[:, None], widest[None, :])
    first, second = np.triu_indices(len(piece.holes), 1)
    poor = [(int(a), int(b)) for a, b in zip(first, second, strict=True) if webs[a, b] < limits[a, b]]
    closest = int(np.argmin((webs - limits)[first, second]))
    for a, b in poor[:200] or [(int(first[closest]), int(second[closest]))]:
        place = f"{piece.name}, holes {names[a]} and {names[b]}"
        # A counterbore that meets a hole its own bore would have cleared is a mistake of its own sort.
        bored = piece.holes[a].counterbore is not None or piece.holes[b].counterbore is not None
        code = "hole-into-counterbore" if bored and plain[a, b] >= limits[a, b] > webs[a, b] else "hole-to-hole"
        yield _finding(code, place, "each other", float(webs[a, b]), float(limits[a, b]))


def _gaps(holes: tuple[Hole, ...]) -> Floats:
    """Distances between the axes of all pairs, mm; for slotted holes between the lines of their axes."""
    at = np.array([(hole.x, hole.y) for hole in holes])
    gaps: Floats = np.linalg.norm(at[:, None, :] - at[None, :, :], axis=2)
    slotted = [number for number, hole in enumerate(holes) if hole.slot_extra]
    for number in slotted:
        for other in range(len(holes)):
            if other != number:
                gaps[number, other] = gaps[other, number] = _segment_gap(holes[number], holes[other])
    return gaps


def _segment_gap(a: Hole, b: Hole) -> float:
    """Distance between two axes' segments: zero when they cross, else from an end of one to the other."""
    one, two = _ends(a), _ends(b)
    if _cross(one, two):
        return 0.0
    return min(
        *(_point_gap(point, two) for point in one),
        *(_point_gap(point, one) for point in two),
    )


def _ends(hole: Hole) -> tuple[Floats, Floats]:
    half = np.array([cos(radians(hole.slot_angle)), sin(radians(hole.slot_angle))]) * hole.slot_extra / 2.0
    middle = np.array([hole.x, hole.y])
    return middle - half, middle + half


def _point_gap(point: Floats, segment: tuple[Floats, Floats]) -> float:
    start, along = segment[0], segment[1] - segment[0]
    length2 = float(along @ along)
    share = 0.0 if length2 == 0.0 else min(1.0, max(0.0, float((point - start) @ along) / length2))
    return float(np.linalg.norm(point - start - share * along))


def _cross(one: tuple[Floats, Floats], two: tuple[Floats, Floats]) -> bool:
    def side(a: Floats, b: Floats, c: Floats) -> float:
        return float((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))

    return side(*one, two[0]) * side(*one, two[1]) < 0.0 and side(*two, one[0]) * side(*two, one[1]) < 0.0


def _finding(code: str, place: str, what: str, web: float, limit: float) -> Finding:
    if web <= 0.0:
        severity, message = Severity.STOP, f"the holes run into {what}" if what != "the edge" else "the hole breaks out"
        remedy = "move the hole, or make it smaller"
    elif web < limit:
        severity, message = Severity.CAUTION, f"little metal is left to {what}"
        remedy = "move the hole, take a wider bar, or accept the thin web knowingly"
    else:
        severity, message, remedy = Severity.FINE, f"the thinnest web to {what} is sound", ""
    return Finding(
        code=code,
        severity=severity,
        place=place,
        message=message,
        figure=Figure(value=web),
        limit=Figure(value=limit),
        rule=_RULE,
        source=COMMON_PRACTICE,
        remedy=remedy,
    )
