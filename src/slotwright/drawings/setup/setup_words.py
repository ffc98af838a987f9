"""Words on the table plan: the operator's side and the work's name, each where nothing else stands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from slotwright.drawings.paper.formats import scale_text
from slotwright.drawings.paper.notes import wrapped
from slotwright.drawings.paper.placing import Box, Register, text_box, union
from slotwright.drawings.paper.sheet import Anchor, Mark, Stroke, Text, View
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.symbols import leader
from slotwright.drawings.setup.bolt_section import fastened
from slotwright.drawings.setup.setup_plan import work_box
from slotwright.drawings.setup.stacks import SCREWS, Axis, on_axis
from slotwright.fixtures.joint import Joint
from slotwright.fixtures.layout import Layout

FRONT = (("FRONT - OPERATOR'S SIDE",), ("FRONT", "OPERATOR'S SIDE"), ("FRONT",))
LINE = 1.6  # from line to line, in heights of capitals; our choice
FRONT_ROWS = 9  # in front of the table that are tried for naming the front
NARROW = 26.0  # width a long name is broken to, mm on paper; our choice


def front_words(view: View, layout: Layout, taken: Register, style: Style) -> tuple[Mark, ...]:
    """Name the operator's side in front of the table, as near to the middle of the edge as may be."""
    right = layout.table.length * view.scale
    step = right / 24.0
    for words in FRONT:
        for row in range(FRONT_ROWS):
            y = -3.0 - style.text - row * 1.5 * style.text
            for n in range(23):
                x = right / 2.0 + (n + 1) // 2 * step * (1.0 if n % 2 else -1.0)
                texts = _stacked(words, x, y, style.text)
                box = _box(texts).grown(1.5)
                if box.x0 > 0.0 and box.x1 < right and taken.free(box):
                    return texts
    return ()


def section_words(layout: Layout, at: Axis, scale: float) -> list[str]:
    """Say what a section is cut through, line by line, and its scale, for it is not the sheet's (ISO 5455)."""
    seen, ratio = "SEEN FROM THE RIGHT END", scale_text(scale)
    if isinstance(at, Joint):
        return [f"SECTION AT SLOT {at.slot}, {ratio}", seen]
    kinds = [item.item.kind for item in layout.hardware if on_axis(item, at.x, at.y)]
    held = [kind.upper() for kind in kinds if kind not in SCREWS]
    held += [f"SCREW OF THE {item.item.kind.upper()}" for item in fastened(layout, at)]
    title = f"SECTION AT A {held[0] if held else kinds[0].upper()}"
    if at.slot is not None:
        return [f"{title} IN SLOT {at.slot}, {ratio}", seen]
    return [f"{title}, {ratio}", seen, "TABLE LEFT OUT"]


def work_words(view: View, layout: Layout, taken: Register, style: Style) -> tuple[Mark, ...]:
    """Letter the work's name inside its outline on one line or two, else beside it with a leader."""
    work = layout.work
    outline = work_box(work, layout) if work is not None else None
    if work is None or outline is None:
        return ()
    name = work.name.upper()
    low, high = view.to_paper((outline.x0, outline.y0)), view.to_paper((outline.x1, outline.y1))
    area = Box(*low, *high).grown(-2.0)
    broken = tuple(wrapped(name, style.text, NARROW))
    for words, size in (((name,), style.text), (broken, style.text), ((name,), style.small), (broken, style.small)):
        for texts in _inside(area, words, size):
            box = _box(texts)
            if area.holds(box) and taken.free(box.grown(1.0)):
                return texts
    return _pointed_out(view, outline, broken, taken, style)


def _inside(area: Box, words: Sequence[str], size: float) -> Iterator[tuple[Text, ...]]:
    """Yield places inside an area, from its front edge back, each row from its middle out."""
    tall = (len(words) - 1) * LINE * size
    for rise in (0.0, 0.08, 0.16, 0.24, 0.32, 1.0, 0.9, 0.8, 0.5, 0.4, 0.6, 0.7):
        y = area.y0 + 0.3 * size + tall + (area.height - 1.4 * size - tall) * rise
        for share in (0.5, 0.45, 0.55, 0.4, 0.6, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9):
            yield _stacked(words, area.x0 + area.width * share, y, size)


def _stacked(words: Sequence[str], x: float, y: float, size: float) -> tuple[Text, ...]:
    """Lines one under the other, the first one's baseline at y."""
    return tuple(Text((x, y - n * LINE * size), line, size, Anchor.CENTRE) for n, line in enumerate(words))


def _box(texts: Sequence[Text]) -> Box:
    return union(text_box(text) for text in texts)


def _pointed_out(view: View, outline: Box, words: Sequence[str], taken: Register, style: Style) -> tuple[Mark, ...]:
    """Letter a name beside its outline with a leader to it."""
    for far in (8.0, 14.0, 20.0, 28.0, 40.0, 60.0):
        for share in (0.2, 0.4, 0.6, 0.05, 0.8, 0.95):
            for x, way in ((outline.x1, 1.0), (outline.x0, -1.0)):
                tip = view.to_paper((x, outline.y0 + outline.height * share))
                for rise in (-6.0, 6.0, 0.0, -14.0, 14.0, -24.0, 24.0):
                    marks = leader(tip, (tip[0] + way * far, tip[1] + rise), words, style, to_left=way < 0.0)
                    if _stands_clear(marks, taken, style):
                        return marks
    return ()


def _stands_clear(marks: Sequence[Mark], taken: Register, style: Style) -> bool:
    """Say whether a note on a leader has its own height free around it, and its leader crosses no lettering."""
    for mark in marks:
        if isinstance(mark, Text) and not taken.free(text_box(mark).grown(style.text)):
            return False
        if isinstance(mark, Stroke) and not all(taken.passable(a, b) for a, b in pairwise(mark.points)):
            return False
    return True
