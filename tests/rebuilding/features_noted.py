"""Features that notes on leaders name: which closed lines of a view they are, and how often they come."""

from __future__ import annotations

from collections.abc import Iterator

from tests.rebuilding import shaped
from tests.rebuilding.elevations import Elevation
from tests.rebuilding.places import Profile
from tests.rebuilding.points import PointTable
from tests.rebuilding.shape import Edge, Feature
from tests.rebuilding.strokes import Loop, are_alike
from tests.rebuilding.worksheet import SAME, Worksheet

OPPOSITE = {"front": "back", "right": "left"}


def find_features(sheet: Worksheet) -> None:
    """Take in what notes name, every one of those that are alike."""
    for note in sheet.leaders:
        said = shaped.feature(note.lines, sheet.figures)
        view = sheet.view_at(note.tip)
        if said is None or view is None:
            continue
        sheet.used.add(note)
        first = sheet.pointed_at(view, note.tip, round_one=said.diameter is not None)
        if first is None:
            sheet.doubts.append(f"the note {note.lines[0]} points at no closed line")
            continue
        alike = [loop for loop in sheet.inner_loops(view) if are_alike(loop, first)] or [first]
        if len(alike) != said.count:
            sheet.doubts.append(f"{note.lines[0]}: there are {len(alike)} alike")
        if sheet.points_of(said.name) is not None:
            sheet.features.append((said, view, None))
            continue
        for loop in alike:
            profile = sheet.places.profile(view, loop, f"{said.name} {len(sheet.features) + 1}")
            sheet.middle_of(view, profile)
            sheet.features.append((said, view, profile))
            corner_sizes(sheet, said, profile)


def corner_sizes(sheet: Worksheet, said: shaped.Said, profile: Profile) -> None:
    """Take in the diameter of a round feature, or the radius of its corners."""
    if said.diameter is not None:
        sheet.radius(profile.corners[0].radius, said.diameter, 2.0, said.name)
    if said.radius is not None:
        arcs = {corner.radius for corner in profile.corners if corner.radius is not None}
        if len(arcs) != said.corners:
            sheet.doubts.append(f"{said.name} has {len(arcs)} round corners, {said.corners} are written")
        for radius in arcs - {min(arcs)}:
            sheet.places.equations.hold([radius, min(arcs)], lambda v: v[0] - v[1])
        sheet.radius(min(arcs), said.radius, 1.0, said.name)


def find_notches(sheet: Worksheet, border: Loop) -> None:
    """What is cut into the front or the back all along shows as a notch of the section: its depth is the note's."""
    end = sheet.views["right"]
    low, high = sheet.places.at(1, 0.0), sheet.places.at(1, end.box[2] - end.box[0])
    for said, view, profile in list(sheet.features):
        sides = [view.side, *([OPPOSITE.get(view.side)] if said.both else [])]
        if profile is None or said.deep is None:
            continue
        levels = [sheet.places.drawn(number) for number in (profile.low[1], profile.high[1])]
        for stroke in border:
            heights = sorted(end.place(2, at) for at in (stroke.start, stroke.end))
            if all(abs(a - b) < SAME for a, b in zip(heights, levels, strict=True)):
                floor = sheet.places.at(1, end.place(1, stroke.middle))
                sheet.places.main.update(sheet.places.at(2, at) for at in heights)
                for side, (a, b) in (("front", (low, floor)), ("back", (floor, high))):
                    near = abs(sheet.places.drawn(a) - sheet.places.drawn(b)) < (end.box[2] - end.box[0]) / 2.0
                    if side in sides and near:
                        sheet.places.apart(a, b, said.deep, "")
                        sheet.notched.add(id(profile))


def edges_of(sheet: Worksheet, profile: Profile | None, table: PointTable | None) -> tuple[Edge, ...]:
    """The sides of a profile as worked out, or as a table has them."""
    if profile is None or table is not None:
        sides = () if table is None else table.sides
        return tuple(Edge(one.start, one.end, one.centre, one.radius, one.outward) for one in sides)
    found = []
    for corner in profile.corners:
        start, end = sheet.centre_of(corner.start), sheet.centre_of(corner.end)
        centre = None if corner.centre is None else sheet.centre_of(corner.centre)
        radius = None if corner.radius is None else sheet.places.size(corner.radius)
        found.append(Edge(start, end, centre, radius, corner.outward))
    return tuple(found)


def made_features(sheet: Worksheet, said: shaped.Said, view: Elevation, profile: Profile | None) -> Iterator[Feature]:
    """What is to be made of a feature."""
    if id(profile) in sheet.notched:
        return  # the section has it already
    edges = edges_of(sheet, profile, sheet.points_of(said.name))
    yield Feature(view.side, edges, said.high, said.deep)
    if said.both:
        yield Feature(OPPOSITE[view.side], edges, said.high, said.deep)
