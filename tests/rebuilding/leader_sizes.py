"""Sizes on leaders: radii, broken corners, bores, bolt circles."""

from __future__ import annotations

import re

from tests.rebuilding import shaped
from tests.rebuilding.elevations import AXES, Elevation
from tests.rebuilding.features_noted import corner_sizes
from tests.rebuilding.leaders import Note
from tests.rebuilding.paper import away
from tests.rebuilding.places import Spot
from tests.rebuilding.strokes import is_sloped
from tests.rebuilding.wording import FIGURE, Size, one_unit
from tests.rebuilding.worksheet import TIP, Worksheet


def notes_of_sizes(sheet: Worksheet) -> None:
    """Radii, broken corners and bores."""
    for note in sheet.leaders:
        view = sheet.view_at(note.tip)
        if view is None or note in sheet.used:
            continue
        text = one_unit(note.lines[0])
        if m := shaped.RADIUS.fullmatch(text):
            _radii(sheet, note, view, sheet.figures.size(m["size"]), int(m["count"] or 1))
        elif m := shaped.BROKEN.fullmatch(text):
            _broken(sheet, note, view, sheet.figures.size(m["size"]), int(m["count"] or 1))
        elif re.fullmatch(rf"⌀{FIGURE}", text):
            _bore(sheet, note, view, sheet.figures.size(text[1:]))
        elif shaped.AUXILIARY.fullmatch(text) or shaped.CIRCLE.fullmatch(text):
            sheet.used.add(note)


def _radii(sheet: Worksheet, note: Note, view: Elevation, size: Size, count: int) -> None:
    own = [(stroke, number) for side, stroke, number in sheet.places.radii if side == view.side]
    first = min(own, key=lambda one: one[0].from_point(note.tip), default=None)
    if first is None or first[0].from_point(note.tip) > TIP:
        sheet.doubts.append(f"{note.lines[0]} points at no arc")
        return
    alike = [number for stroke, number in own if abs(stroke.radius - first[0].radius) < 0.02]
    if len(alike) != count:
        sheet.doubts.append(f"{note.lines[0]}: there are {len(alike)} alike")
    sheet.radius(first[1], size, 1.0, note.lines[0])
    for number in alike:
        if number != first[1]:
            sheet.places.equations.hold([number, first[1]], lambda v: v[0] - v[1])
    sheet.used.add(note)


def _broken(sheet: Worksheet, note: Note, view: Elevation, size: Size, count: int) -> None:
    """Legs of corners that are broken at 45 degrees."""
    slopes = [stroke for stroke in view.border() if is_sloped(stroke)]
    first = min(slopes, key=lambda stroke: stroke.from_point(note.tip), default=None)
    if first is None or first.from_point(note.tip) > TIP:
        sheet.doubts.append(f"{note.lines[0]} points at no broken corner")
        return
    alike = [stroke for stroke in slopes if abs(away(stroke.start, stroke.end) - away(first.start, first.end)) < 0.02]
    if len(alike) != count:
        sheet.doubts.append(f"{note.lines[0]}: there are {len(alike)} alike")
    text = note.lines[0]
    for stroke in alike:
        for axis, _ in AXES[view.side]:
            a, b = sorted((view.place(axis, stroke.start), view.place(axis, stroke.end)))
            sheet.places.apart(sheet.places.at(axis, a), sheet.places.at(axis, b), size, text)
            text = ""  # the others are as the first
    sheet.used.add(note)


def _bore(sheet: Worksheet, note: Note, view: Elevation, size: Size) -> None:
    """A bore that has its diameter alone goes through."""
    loop = sheet.pointed_at(view, note.tip, round_one=True)
    if loop is None:
        sheet.doubts.append(f"{note.lines[0]} points at no circle")
        return
    profile = sheet.places.profile(view, loop, "BORE")
    sheet.middle_of(view, profile)
    said = shaped.Said("BORE", 1, size, None, None, False, None, 0)
    sheet.features.append((said, view, profile))
    corner_sizes(sheet, said, profile)
    sheet.used.add(note)


def bolt_circles(sheet: Worksheet) -> list[tuple[float, Spot]]:
    """Diameter and centre of the circles that notes call bolt circles."""
    found = []
    for note in sheet.leaders:
        m, view = shaped.CIRCLE.fullmatch(one_unit(note.lines[0])), sheet.view_at(note.tip)
        if m is None or view is None:
            continue
        rims = [one for one in view.centres if one.centre is not None]
        rim = min(rims, key=lambda one: one.from_point(note.tip), default=None)
        if rim is None or rim.centre is None or rim.from_point(note.tip) > TIP:
            sheet.doubts.append(f"{note.lines[0]} points at no circle of centre lines")
            continue
        spot = tuple(sheet.places.at(axis, view.place(axis, rim.centre)) for axis, _ in AXES[view.side])
        sheet.places.main.update(spot)
        found.append((sheet.figures.size(m["size"]).value, (spot[0], spot[1])))
    return found
