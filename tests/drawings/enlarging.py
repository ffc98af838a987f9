"""What of a piece is under 3 mm on its drawing's paper, and whether a detail shows it: by the piece and the marks."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from math import dist

from slotwright.drawings.paper.sheet import (
    Arc,
    Circle,
    DimensionKind,
    Drawing,
    Line,
    Point,
    Stroke,
    View,
)
from slotwright.pieces.features import Groove, Hole, Pocket, Tenon
from slotwright.pieces.hole_groups import hole_groups
from slotwright.pieces.piece import Piece
from slotwright.pieces.script_piece import ScriptPiece

LEAST = 3.0
"""What is smaller on paper is to be enlarged, mm."""
SAME = 1e-4


def pairs(strokes: Iterable[tuple[Point, ...]]) -> list[tuple[Point, Point]]:
    """The straight parts of strokes."""
    return [part for points in strokes for part in pairwise(points)]


def small_sizes(piece: Piece, drawing: Drawing) -> list[str]:
    """What is under 3 mm on paper in the views: holes, steps whose walls are seen, dimensioned distances."""
    if isinstance(piece, ScriptPiece):
        return []
    scale = drawing.sheets[0].views[0].scale
    found = [f"hole {group.letter}" for group in hole_groups(piece) if group.size.diameter * scale < LEAST - SAME]
    found += [f"step {step}" for step in _steps(piece) if step * scale < LEAST - SAME and _shown(step, drawing)]
    found += [f"distance {value}" for value, _ in _distances(drawing)]
    return found


def not_enlarged(piece: Piece, drawing: Drawing) -> list[str]:
    """What of that no detail shows at 3 mm or more."""
    if isinstance(piece, ScriptPiece):
        return []
    scale = drawing.sheets[0].views[0].scale
    details = [view for sheet in drawing.sheets for view in sheet.views if view.name.startswith("detail")]
    found = []
    for group in hole_groups(piece):
        if group.size.diameter * scale < LEAST - SAME and not any(_shows_hole(d, group.size) for d in details):
            found.append(f"hole {group.letter} of {group.size.diameter:g} mm at {scale:g}")
    for step in _steps(piece):
        if step * scale < LEAST - SAME and _shown(step, drawing) and not any(_shows_step(d, step) for d in details):
            found.append(f"step of {step:g} mm at {scale:g}")
    circles = [m for m in drawing.sheets[0].marks if isinstance(m, Circle) and m.line is Line.BREAK]
    found += [
        f"distance of {value:g} mm at {scale:g}"
        for value, at in _distances(drawing)
        if not any(dist(at, circle.centre) < circle.radius for circle in circles)
    ]
    return found


def _steps(piece: Piece) -> list[float]:
    """How high tenons are, how deep grooves and pockets; each once."""
    shaped: tuple[Tenon | Groove | Pocket, ...] = (*piece.tenons, *piece.grooves, *piece.pockets)
    depths = (one.height if isinstance(one, Tenon) else one.depth for one in shaped)
    return sorted({depth for depth in depths if depth is not None})


def _distances(drawing: Drawing) -> list[tuple[float, Point]]:
    """Dimensioned distances under 3 mm on paper, and where each is, on paper."""
    found = []
    for view in drawing.sheets[0].views:
        for one in view.dimensions:
            if one.kind is DimensionKind.LINEAR and one.value * view.scale < LEAST - SAME:
                (ax, ay), (bx, by) = (view.to_paper(p) for p in one.points[:2])
                found.append((one.value, ((ax + bx) / 2.0, (ay + by) / 2.0)))
    return found


def _shows_hole(detail: View, hole: Hole) -> bool:
    rounds = (m for m in detail.marks if isinstance(m, Circle | Arc) and m.line in (Line.OUTLINE, Line.HIDDEN))
    return detail.scale * hole.diameter >= LEAST and any(abs(2.0 * m.radius - hole.diameter) < SAME for m in rounds)


def _shows_step(detail: View, step: float) -> bool:
    return detail.scale * step >= LEAST and _has_wall(detail, step)


def _shown(step: float, drawing: Drawing) -> bool:
    """Whether a view has a straight edge as long as a step; where none has, nothing of it is drawn small."""
    views = (v for v in drawing.sheets[0].views if not v.name.startswith(("detail", "pictorial", "plan", "bottom")))
    return any(_has_wall(view, step) for view in views)


def _has_wall(view: View, step: float) -> bool:
    strokes = (m for m in view.marks if isinstance(m, Stroke) and m.line in (Line.OUTLINE, Line.HIDDEN))
    closed = (s.points + s.points[:1] if s.closed else s.points for s in strokes)
    return any(abs(dist(a, b) - step) < SAME and (a[0] == b[0] or a[1] == b[1]) for a, b in pairs(closed))
