"""Views that are aligned with each other and move over the paper as one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from slotwright.drawings.paper.placing import Box, marks_box, moved
from slotwright.drawings.paper.sheet import Mark, View, on_paper


@dataclass(frozen=True, slots=True, kw_only=True)
class ViewGroup:
    """Views with what stands among them.

    Attributes:
        views: the main one first.
        marks: tags, datums, leaders, balloons and view titles, paper coordinates.
        box: around all of it.
        parts: boxes around what of it stands apart, between which other things may stand; empty for its box.
        located: ordinates locate the holes; else a table must.
        edges_noted: a leader calls out the chamfer; else a general note must.
        complete: all that is written to the views found a free place.
        tagged: every hole has its tag.
        enlarged: whatever is too small on paper has a detail.
        details: enlarged details that belong to it; each finds its own place on the sheet.
        otherwise: the same views laid out another way, for where this one does not fit.
    """

    views: tuple[View, ...]
    marks: tuple[Mark, ...]
    box: Box
    located: bool = True
    edges_noted: bool = True
    complete: bool = True
    tagged: bool = True
    enlarged: bool = True
    details: tuple[ViewGroup, ...] = ()
    otherwise: ViewGroup | None = None
    parts: tuple[Box, ...] = ()

    def moved(self, dx: float, dy: float) -> ViewGroup:
        """Return the group shifted on the paper."""
        return replace(
            self,
            views=tuple(_moved_view(view, dx, dy) for view in self.views),
            marks=tuple(moved(mark, dx, dy) for mark in self.marks),
            box=self.box.moved(dx, dy),
            parts=tuple(part.moved(dx, dy) for part in self.parts),
        )

    @property
    def taken(self) -> tuple[Box, ...]:
        """What of the paper it takes up."""
        return self.parts or (self.box,)

    def moved_to(self, box: Box) -> ViewGroup:
        """Return the group with the lower left corner of its box at that of another."""
        return self.moved(box.x0 - self.box.x0, box.y0 - self.box.y0)


def drawn(views: Iterable[View], marks: Sequence[Mark] = ()) -> list[Mark]:
    """Return everything the views show, and the marks, in paper coordinates."""
    found: list[Mark] = []
    for view in views:
        found += on_paper(view)
        found += (mark for dimension in view.dimensions for mark in dimension.marks)
    return [*found, *marks]


def group_box(views: Iterable[View], marks: Sequence[Mark]) -> Box:
    """Return the box around views and marks."""
    return marks_box(drawn(views, marks))


def _moved_view(view: View, dx: float, dy: float) -> View:
    window = view.frame
    return View(
        name=view.name,
        origin=(view.origin[0] + dx, view.origin[1] + dy),
        scale=view.scale,
        marks=view.marks,
        dimensions=tuple(replace(d, marks=tuple(moved(m, dx, dy) for m in d.marks)) for d in view.dimensions),
        frame=None if window is None else (window[0] + dx, window[1] + dy, window[2] + dx, window[3] + dy),
        whole=None if view.whole is None else _moved_view(view.whole, dx, dy),
    )
