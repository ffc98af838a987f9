"""One view with everything that is written to it: dimensions, notes and tags find their places one after another.

A panel stands alone with its view's origin at paper (0, 0); nothing reaches out of its box, so that panels are laid
out as wholes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from copy import copy
from dataclasses import dataclass, field
from itertools import pairwise

from slotwright.drawings.paper.crossing import chords, cross, runs_along, tight_box
from slotwright.drawings.paper.placing import Box, Register, text_box
from slotwright.drawings.paper.sheet import (
    Arc,
    Dimension,
    DimensionKind,
    Line,
    Mark,
    Point,
    Stroke,
    Text,
    View,
    on_paper,
)
from slotwright.drawings.paper.style import Style
from slotwright.pieces.faces import Face

APART = 2.0  # clear paper beside a level figure, in heights of capitals; our choice
Stretch = tuple[Point, Point]


@dataclass(slots=True)
class Panel:
    """A view that is being filled.

    Attributes:
        face: the face one looks at.
        view: its geometry.
        style: how it is written.
        core: box of the geometry on paper.
        dimensions: those that stand.
        notes: marks that belong to the paper.
        waiting: notes that find their place after all distances have one, each by a call.
        crowded: something found no free place.
        register: what stands on the paper.
        texts: boxes of lettering; with each whether it belongs to a dimension or a note on a leader.
        lines: extension lines and leaders.
        measured: dimension lines.
    """

    face: Face
    view: View
    style: Style
    core: Box = field(init=False)
    dimensions: list[Dimension] = field(default_factory=list)
    notes: list[Mark] = field(default_factory=list)
    waiting: list[Callable[[], None]] = field(default_factory=list)
    crowded: bool = False
    register: Register = field(default_factory=Register)
    texts: list[tuple[Box, bool]] = field(default_factory=list)
    lines: list[Stretch] = field(default_factory=list)
    measured: list[Stretch] = field(default_factory=list)

    def __post_init__(self) -> None:
        shown = list(on_paper(self.view))
        self.register.add(shown)
        self.core = tight_box(mark for mark in shown if mark.line in (Line.OUTLINE, Line.HIDDEN))

    @property
    def box(self) -> Box:
        """Box around all of it on paper."""
        return tight_box([*on_paper(self.view), *self.notes, *(m for d in self.dimensions for m in d.marks)])

    def copy(self) -> Panel:
        """Return a panel in which more can be placed on trial."""
        twin = copy(self)
        twin.dimensions, twin.texts = [*self.dimensions], [*self.texts]
        twin.lines, twin.measured = [*self.lines], [*self.measured]
        twin.notes, twin.waiting = [*self.notes], [*self.waiting]
        twin.register = self.register.copy()
        return twin

    def become(self, other: Panel) -> None:
        """Take over what was placed in a copy."""
        self.dimensions, self.register, self.texts = other.dimensions, other.register, other.texts
        self.lines, self.measured = other.lines, other.measured

    def take(self, dimension: Dimension) -> None:
        """Put a dimension where it stands."""
        self.dimensions.append(dimension)
        self.register.add(dimension.marks)
        for mark in dimension.marks:
            match mark:
                case Text():
                    self.texts.append((text_box(mark), True))
                    if dimension.direction == 90.0 and mark.angle == 0.0:
                        self.keep_row_clear(mark)
                case Stroke():
                    along = dimension.kind is DimensionKind.LINEAR and runs_along(mark, dimension.direction)
                    (self.measured if along else self.lines).extend(pairwise(mark.points))
                case Arc():
                    self.measured.extend(chords(mark))

    def keep_row_clear(self, text: Text) -> None:
        """Keep level figures off each other's line, so that two beside each other are not read as one."""
        x0, y0, x1, y1 = text_box(text)
        self.register.add_box(Box(x0 - APART * text.height, y0, x1 + APART * text.height, y1))

    def note(self, marks: Iterable[Mark]) -> None:
        """Put marks of the paper where they stand."""
        kept = list(marks)
        self.notes += kept
        self.register.add(kept)
        for mark in kept:
            if isinstance(mark, Text):
                self.texts.append((text_box(mark), mark.line is Line.DIMENSION))
            elif isinstance(mark, Stroke) and mark.line is Line.DIMENSION:
                self.lines += pairwise(mark.points)

    def write_notes(self) -> None:
        """Place the notes that wait; they find their way round the distances, which have less choice."""
        for place in self.waiting:
            place()
        self.waiting.clear()

    def keep_texts_clear(self, by: float) -> None:
        """Keep what comes later off the lettering that stands."""
        for box, _ in self.texts:
            self.register.add_box(box.grown(by))

    def crosses_measured(self, a: Point, b: Point) -> bool:
        """Say whether a line crosses a dimension line."""
        return any(cross(a, b, *other) for other in self.measured)

    def crosses_any(self, a: Point, b: Point) -> bool:
        """Say whether a line crosses a dimension line, an extension line or a leader."""
        return self.crosses_measured(a, b) or any(cross(a, b, *other) for other in self.lines)

    def meets_text(self, a: Point, b: Point, clear: float, loose: float | None = None) -> bool:
        """Say whether a line comes nearer to lettering than it may; loose is for what is no dimension's or note's."""
        aside = clear if loose is None else loose
        return any(box.grown(clear if own else aside).cut_by(a, b) for box, own in self.texts)
