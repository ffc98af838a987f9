"""The pictorial view of a piece in what room is left on its sheet."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from slotwright.drawings.paper.arranging import Item, arrange, centred
from slotwright.drawings.paper.placing import Box
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.view_group import ViewGroup
from slotwright.drawings.pictorial import picture_group, picture_size
from slotwright.drawings.shapes.views_needed import is_shaped
from slotwright.pieces.piece import Piece

if TYPE_CHECKING:
    from slotwright.drawings.shapes.picture import Picture

PARTS = (1.0, 0.8, 0.6, 0.5, 0.4, 0.3)  # size of the pictorial view, of the main scale
LEAST_BAR = 60.0  # width of a bar's, mm on paper; our choice
LEAST_SHAPED, MOST_SHAPED = 45.0, 120.0  # the same of a shaped piece's, and what it need not exceed


class PieceImage:
    """The picture of one piece, which is made once for all sheets that are tried."""

    def __init__(self, piece: Piece, style: Style) -> None:
        self._piece, self._style, self._shaped = piece, style, is_shaped(piece)
        self._drawn: Picture | None = None

    def in_room(self, scale: float, area: Box, taken: Sequence[Box]) -> tuple[ViewGroup, ...]:
        """Return the view, placed, in the largest size for which there is room beside what is taken, or nothing."""
        for part in PARTS:
            size = self._size(scale * part)
            if size[0] < (LEAST_SHAPED if self._shaped else LEAST_BAR):
                break
            if self._shaped and max(size) > MOST_SHAPED:
                continue
            spots = arrange(area, taken, [Item((size,), "upper right")])
            if spots is not None:
                return (self._group(scale * part).moved_to(centred(area, spots[0].box, taken)),)
        return ()

    def _size(self, scale: float) -> tuple[float, float]:
        return self._seen().size(scale, self._style) if self._shaped else picture_size(self._piece, scale, self._style)

    def _group(self, scale: float) -> ViewGroup:
        if self._shaped:
            return self._seen().group(scale, self._style)
        return picture_group(self._piece, scale, self._style)

    def _seen(self) -> Picture:
        """The picture of a shaped piece, drawn when there may be room for it."""
        if self._drawn is None:
            from slotwright.drawings.shapes.picture import shaped_picture  # numpy would slow the start of plain bars

            self._drawn = shaped_picture(self._piece)
        return self._drawn
