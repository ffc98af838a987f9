"""What the views of one piece have in common: scale, projection, how holes are located, and the distances that follow.

Paper frame of all views: the plan's datum corner at (0, 0).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from slotwright.drawings.details import Detail
from slotwright.drawings.middles import Middles, middles_of, off, pairs
from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.dimensioning import label_pitch
from slotwright.drawings.paper.sheet_data import Projection
from slotwright.drawings.paper.style import Style
from slotwright.drawings.piece.breaks import Stretch, parts, stretches
from slotwright.drawings.piece.sections import Cut, cut_for
from slotwright.drawings.piece.small_holes import zones
from slotwright.drawings.pitches import Row, equal_rows
from slotwright.drawings.views import reach
from slotwright.pieces.features import Hole
from slotwright.pieces.piece import Piece

MOST_ORDINATES = 24  # above it, holes are located by the table alone; our choice
OUTER_PLACES = 2  # decimals of outer sizes: on inch drawings one fewer than of hole positions, for a wider tolerance
TRACE_OUT = 5.5  # how far the ends of a section plane stand off the right end of the plan, mm; our choice
DATUM_ASIDE = 10.0  # between the lines of thickness and width where datum B hangs on the width, mm; our choice


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One piece at one scale.

    Attributes:
        piece: what is drawn.
        scale: paper over model.
        projection: first or third angle.
        style: ISO or ASME.
        located: ordinates locate the holes.
        cut: the section that stands for the elevation, or None for hidden lines.
        details: what is drawn again, larger.
        rows: rows of holes that one dimension each locates.
        middles: which places count from the middle.
        removed: stretches of paper that a broken bar leaves out; empty for an unbroken one.
    """

    piece: Piece
    scale: float
    projection: Projection
    style: Style
    located: bool
    cut: Cut | None
    details: tuple[Detail, ...] = ()
    rows: tuple[Row, ...] = ()
    middles: Middles = Middles()
    removed: tuple[Stretch, ...] = ()

    @property
    def third(self) -> bool:
        """Third angle: the view from the front stands below the plan; first angle: above it."""
        return self.projection == "third"

    @property
    def right(self) -> float:
        """Right end of plan and elevation on paper."""
        return self.piece.blank.length * self.scale

    @property
    def traced(self) -> bool:
        """Whether the section plane is drawn on the plan."""
        return self.cut is not None and not self.cut.plain

    @property
    def width_line(self) -> float:
        """Where the dimension lines of thickness and width stand: beyond the end of section plane or centre line."""
        beyond = TRACE_OUT + 0.5 if self.traced else self.style.centre_overrun if self.middles.across else 0.0
        return self.right + max(self.style.first_offset, self._figures) + beyond

    @property
    def across_line(self) -> float:
        """Where the dimension line of the width stands: beside the other where a datum symbol stands at its end."""
        return self.width_line + (DATUM_ASIDE if self.middles.across and self.has_datums else 0.0)

    @property
    def _figures(self) -> float:
        """Room that level figures of width and thickness need beside the outline when they stand on their lines."""
        style, blank = self.style, self.piece.blank
        if style.text_above:
            return 0.0
        words = [style.figure(size, OUTER_PLACES) for size in (blank.width, blank.thickness)]
        return max(lettering.width(one, style.text) for one in words) / 2.0 + style.text + 0.3

    @property
    def has_datums(self) -> bool:
        """Whether a position tolerance refers to datums."""
        return self.piece.has_datums

    @property
    def gap(self) -> float:
        """Room between plan and elevation: for axes, the note on the edges, and in first angle datum A."""
        style = self.style
        gap = 4.0 * style.centre_overrun
        if self.piece.blank.edge_chamfer or self.traced:
            gap = max(gap, 3.0 * style.centre_overrun + 2.0 * style.text)
        if not self.third and self.has_datums:
            gap = max(gap, 4.0 * style.text + style.centre_overrun + 2.0)
        return gap

    @property
    def side_origin(self) -> float:
        """Paper y of the bottom face in the elevation."""
        blank = self.piece.blank
        return -self.gap - blank.thickness * self.scale if self.third else blank.width * self.scale + self.gap


def setting(
    piece: Piece,
    scale: float,
    projection: Projection,
    style: Style,
    *,
    breaks: int = 0,
    details: tuple[Detail, ...] = (),
) -> Setting:
    """Decide how a piece is shown at a scale, broken so many times at most where it is long."""
    rows = equal_rows(piece, scale, style)
    located = can_be_located(piece, scale, style, rows)
    cut = cut_for(piece)
    if cut is not None and not cut.plain:
        located = False  # the ends of the plane would run into the ordinates; the table locates as well
    bends = [x for x, _ in cut.path[1:-1]] if cut is not None else []
    bends += zones(details, scale)
    pitch = label_pitch(style, exact=piece.has_datums) if located else None
    rows = rows if located else ()
    removed = stretches(piece, scale, pitch, style, breaks, bends, rows)
    if not _length_is_shown(piece, scale, style, removed):
        removed = ()
    return Setting(
        piece=piece, scale=scale, projection=projection, style=style, located=located, cut=cut, rows=rows,
        details=details, removed=removed, middles=middles_of(piece),
    )  # fmt: skip


def _length_is_shown(piece: Piece, scale: float, style: Style, removed: tuple[Stretch, ...]) -> bool:
    """Say whether a part of a broken bar has room for the figure of the length."""
    need = lettering.width(style.figure(piece.blank.length, OUTER_PLACES), style.text)
    need += 2.0 * (style.arrow + style.text_gap)
    return max(high - low for low, high in parts(0.0, piece.blank.length * scale, removed)) >= need


def can_be_located(piece: Piece, scale: float, style: Style, rows: Sequence[Row] = ()) -> bool:
    """Say whether ordinates can locate every hole: not too many, and no leader across another hole.

    Of rows that have a dimension of their own only the first hole needs an ordinate.
    """
    middles = middles_of(piece)
    columns = {round(hole.x, 6) for hole in piece.holes if not any(row.inside(hole.x) for row in rows)}
    lines = set() if middles.across else {round(hole.y, 6) for hole in piece.holes}
    if max(len(columns), len(lines)) > MOST_ORDINATES:
        return False
    pitch = label_pitch(style, exact=piece.has_datums)
    if (len(columns) + 1) * pitch > piece.blank.length * scale + 8.0 * pitch:
        return False
    if (len(lines) + 1) * pitch > piece.blank.width * scale + 6.0 * pitch:
        return False
    if middles.across and not _pairs_fit(piece, scale, style):
        return False
    placed = [hole for hole in piece.holes if not middles.across or abs(off(piece, hole)) > 1e-6]
    return not any(_stacked(a, b) for a in piece.holes for b in piece.holes if a is not b) and not any(
        _beside(a, b) for a in piece.holes for b in placed if a is not b
    )


def _pairs_fit(piece: Piece, scale: float, style: Style) -> bool:
    """Say whether figure and arrows of each distance across the middle stand between its ends, but for the widest."""
    for far in list(pairs(piece))[:-1]:
        long = lettering.width(style.figure(2.0 * far), style.text) if style.text_above else style.text
        if long + 2.0 * (style.arrow + style.text_gap) > 2.0 * far * scale:
            return False
    return True


def _stacked(a: Hole, b: Hole) -> bool:
    """Say whether a hole stands across the leader of another, above or below it."""
    return abs(a.y - b.y) > 1e-6 and 1e-6 < abs(a.x - b.x) < reach(a)[0]


def _beside(a: Hole, b: Hole) -> bool:
    """Say whether a hole stands across the leader of another, to its left."""
    return a.x < b.x and 1e-6 < abs(a.y - b.y) < reach(a)[1]
