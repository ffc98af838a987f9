"""Enlarged details of a shaped piece: circles in its views, and what they enclose, larger."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from slotwright.drawings.details import circles_on_view, detail_group, free_letters, has_room_for_letter
from slotwright.drawings.paper.sheet import Mark, Point
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.view_group import ViewGroup
from slotwright.drawings.shapes.axes import centre_lines
from slotwright.drawings.shapes.panel import Panel
from slotwright.drawings.shapes.patterns import flat
from slotwright.drawings.shapes.seen import Plane, view_marks
from slotwright.drawings.shapes.small_features import distances, small_circles, small_holes, small_steps
from slotwright.drawings.typical import Small, typical_details
from slotwright.pieces.faces import Face
from slotwright.pieces.hole_groups import HoleGroup, hole_groups
from slotwright.pieces.piece import Piece
from slotwright.pieces.script_piece import ScriptPiece

CLEAR = 0.6  # paper between a circle and a loose letter, mm; figures need their own height; our choice


@dataclass(frozen=True, slots=True)
class Enlarged:
    """The details of a piece's views, and whether whatever is too small has one."""

    details: tuple[ViewGroup, ...]
    complete: bool


def seen_marks(piece: Piece, face: Face, plane: Plane | None, scale: float, style: Style) -> tuple[Mark, ...]:
    """Return all that a view shows at a scale, in its own coordinates; the front view is cut by a plane."""
    cut = plane if face is Face.FRONT else None
    return (*view_marks(piece, face, cut, scale, style), *centre_lines(piece, face, scale, style))


def homes_of(piece: Piece, faces: Sequence[Face]) -> dict[Face, list[HoleGroup]]:
    """Return the groups of holes that each view tags: those of its face, and of faces that no view shows."""
    found: dict[Face, list[HoleGroup]] = {face: [] for face in faces}
    for group in hole_groups(piece):
        home = group.size.face
        if home not in found:
            home = Face.TOP if flat(group.size) else Face.FRONT
        found[home].append(group)
    return found


def enlarge(
    piece: Piece, panels: Mapping[Face, Panel], homes: Mapping[Face, Sequence[HoleGroup]], plane: Plane | None
) -> Enlarged:
    """Put circles round what is too small in the views of a piece, and return the details.

    Args:
        piece: what is drawn.
        panels: its views by their faces.
        homes: which groups of holes each view tags.
        plane: of the section that stands for the front elevation, or None.
    """
    steps = small_steps(piece, [(panel.view, face) for face, panel in panels.items()], plane)

    def smalls(panel: Panel) -> Iterator[Small]:
        yield from small_holes(panel.face, homes[panel.face])
        yield from steps.get(panel.face, ())
        yield from distances(panel)

    def seen(panel: Panel, scale: float) -> Iterable[Mark]:
        return seen_marks(piece, panel.face, plane, scale, panel.style)

    return _enlarged(panels, free_letters(piece), smalls, seen)


def enlarge_projected(piece: ScriptPiece, panels: Mapping[Face, Panel]) -> Enlarged:
    """Do the same for a piece of which only edges are known: small circles and short distances."""

    def smalls(panel: Panel) -> Iterator[Small]:
        yield from small_circles(panel)
        yield from distances(panel)

    return _enlarged(panels, free_letters(piece), smalls, lambda panel, _: panel.view.marks)


def _enlarged(
    panels: Mapping[Face, Panel],
    letters: Sequence[str],
    smalls: Callable[[Panel], Iterable[Small]],
    seen: Callable[[Panel, float], Iterable[Mark]],
) -> Enlarged:
    found: list[ViewGroup] = []
    complete = True
    for panel in panels.values():
        kinds = sorted(smalls(panel), key=lambda small: -small.reach)
        scale, style = panel.view.scale, panel.style
        panel.keep_texts_clear(style.text)
        details = typical_details(kinds, scale, style, letters, clear=partial(_clear, panel))
        if details is None:
            complete = False
            continue
        letters = letters[len(details) :]
        circles, lettered = circles_on_view(panel.view, details, panel.register)
        panel.notes += circles
        complete = complete and lettered
        found += (detail_group(one, seen(panel, one.scale), style) for one in details)
    return Enlarged(tuple(found), complete)


def _clear(panel: Panel, centre: Point, radius: float) -> bool:
    """Say whether a circle of a view encloses or cuts no lettering, and has room for its letter."""
    x, y = panel.view.to_paper(centre)
    far = radius * panel.view.scale
    for box, own in panel.texts:
        if box.away(x, y) < far + (panel.style.text if own else CLEAR):
            return False
    return has_room_for_letter((x, y), far, panel.register)
