"""Read a piece of any shape from its sheets alone: profiles, features and holes, each size from printed figures.

Lines of the views say only how things hang together; a place that no figure gives is a doubt, and so is a figure that
follows from others.
"""

from __future__ import annotations

from tests.rebuilding.bar_reading import EDGES
from tests.rebuilding.body_lines import body_of, centre_lines, drawn_out, reach_of, same_boxes, zeros_of
from tests.rebuilding.distances import take_dimension
from tests.rebuilding.dxf_tags import read_dxf
from tests.rebuilding.enlarged import enlarged, unlike
from tests.rebuilding.features_noted import edges_of, find_features, find_notches, made_features
from tests.rebuilding.hole_rows import HoleRows
from tests.rebuilding.leader_sizes import bolt_circles, notes_of_sizes
from tests.rebuilding.paper import papers
from tests.rebuilding.shape import ReadShape
from tests.rebuilding.tagged import tag_faults
from tests.rebuilding.wording import CHAMFER, DRILL_POINTS, NOTHING, Size
from tests.rebuilding.worksheet import Worksheet


def read_shape(dxf: bytes) -> ReadShape:
    """Read a piece from a DXF file. Errors: UnreadableError where it can't be read at all."""
    sheet = Worksheet(papers(read_dxf(dxf)))
    sheet.doubts += unlike(enlarged(sheet.sheets), sheet.sheets[0])
    side, loop = body_of(sheet)
    same_boxes(sheet)
    table = sheet.points_of("OUTLINE")
    body = sheet.places.profile(sheet.views[side], loop) if table is None else None
    start, end = drawn_out(sheet, side)
    sheet.places.main.update((start, end))
    centre_lines(sheet)
    zeros = zeros_of(sheet)
    if table is not None:
        reach_of(sheet, table, sheet.views[side], zeros)
    find_features(sheet)
    if side == "right":
        find_notches(sheet, loop)
    notes_of_sizes(sheet)
    circles = bolt_circles(sheet)
    for marks in sheet.sheets[0].dimensions:
        take_dimension(sheet, marks)
    sheet.doubts += sheet.places.equations.solve(sheet.places.in_line())
    sheet.doubts += [f"the note {note.lines} says nothing that is understood" for note in sheet.leaders
                    if note not in sheet.used and note.figure]  # fmt: skip
    rows = HoleRows(sheet.sheets, sheet.figures, {d: sheet.centre_of(c) for d, c in circles})
    features = [feature for one in sheet.features for feature in made_features(sheet, *one)]
    sheet.doubts += rows.doubts
    not_drawn, unclear = tag_faults(sheet, rows.holes, zeros)
    sheet.doubts += not_drawn
    central = [zero in sheet.places.middles[axis] for axis, zero in enumerate(zeros)]
    cornered = [zero == sheet.places.at(axis, 0.0) for axis, zero in enumerate(zeros[:2])]
    return ReadShape(
        side=side, edges=edges_of(sheet, body, table), start=sheet.places.size(start), end=sheet.places.size(end),
        chamfer=_chamfer(sheet), point=_point(sheet), holes=tuple(rows.holes),
        features=tuple(sorted(features, key=lambda f: f.high is None)),
        central=(central[0], central[1], False), cornered=(cornered[0], cornered[1], True),
        doubts=tuple(sheet.doubts), unclear=tuple(unclear),
    )  # fmt: skip


def _point(sheet: Worksheet) -> float | None:
    found = {float(angle.replace(",", ".")) for note in sheet.notes for angle in DRILL_POINTS.findall(note)}
    if len(found) > 1:
        sheet.doubts.append("the notes name several drill points and not which holes have which")
    return min(found, default=None)


def _chamfer(sheet: Worksheet) -> Size:
    texts = [note.removeprefix("CHAMFER ").rstrip(".") for note in sheet.notes if note.startswith("CHAMFER ")]
    texts += [" ".join(note.lines) for note in sheet.leaders]
    found = [m for m in (CHAMFER.fullmatch(text) for text in texts) if m and m[2] == EDGES]
    if not found:
        if not any(note.startswith("BREAK SHARP EDGES") for note in sheet.notes):
            sheet.doubts.append("nothing is said about the edges")
        return NOTHING
    if len(found) > 1:
        sheet.doubts.append("the chamfer is written twice")
    return sheet.figures.size(found[0][1])
