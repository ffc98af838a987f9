"""Words on a sheet: general notes, cautions, and stop findings that nobody may miss."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from slotwright.drawings.paper import lettering
from slotwright.drawings.paper.sheet import Line, Mark, Stroke, Text
from slotwright.drawings.paper.style import Style
from slotwright.findings import Finding, Severity

LEADING = 1.7  # from line to line in heights of capitals; our choice
STOP = "STOP: DO NOT MAKE OR USE"
BORDER = 1.2  # between the two lines around what must not be missed, mm; our choice
CAUTIONS = (
    "CHECKS ON THIS SHEET ARE COMPUTED AIDS, NOT A PROOF.",
    "THE MACHINE'S MANUAL AND LOCAL RULES COME FIRST; A COMPETENT PERSON DECIDES.",
    "TRY THE SET-UP BY HAND BEFORE THE SPINDLE TURNS; RE-TIGHTEN AFTER THE FIRST CUT.",
)


def sentence(words: str) -> str:
    """Return a note as a sentence: a capital first, a full stop at its end."""
    return words[:1].upper() + words[1:] + ("" if words.endswith((".", ":", "!")) else ".")


def wrapped(text: str, height: float, width: float) -> list[str]:
    """Break a text into lines no longer than a width, mm; a word longer than that stands on a line of its own.

    No-break spaces hold words together.
    """
    lines: list[str] = []
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and lettering.width(longer, height) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def note_lines(notes: Iterable[str], width: float, style: Style) -> list[tuple[float, str]]:
    """Number notes and break them to a width; returns indent and text of every line."""
    indent = 2.4 * style.text
    lines: list[tuple[float, str]] = []
    for number, note in enumerate(notes, start=1):
        for n, words in enumerate(wrapped(note, style.text, width - indent)):
            if n == 0:
                lines.append((0.0, f"{number}."))
            lines.append((indent, words))
    return lines


def notes_size(title: str, notes: Sequence[str], width: float, style: Style) -> tuple[float, float]:
    """Return the width and height numbered notes take when broken to a width."""
    lines = note_lines(notes, width, style)
    rows = sum(1 for indent, _ in lines if indent)
    used = max(indent + lettering.width(words, style.text) for indent, words in lines)
    return max(used, lettering.width(title, style.text)), (rows + 1) * LEADING * style.text


def notes_marks(
    title: str, notes: Sequence[str], left: float, top: float, width: float, style: Style
) -> tuple[Mark, ...]:
    """Return numbered notes under a title, the upper left corner at a paper point."""
    y = top - style.text
    marks: list[Mark] = [Text((left, y), title, style.text)]
    for indent, words in note_lines(notes, width, style):
        if not indent:
            y -= LEADING * style.text
            marks.append(Text((left, y), words, style.text))
            continue
        if not (isinstance(marks[-1], Text) and marks[-1].at == (left, y) and len(marks) > 1):
            y -= LEADING * style.text
        marks.append(Text((left + indent, y), words, style.text))
    return tuple(marks)


def stop_texts(findings: Iterable[Finding]) -> tuple[str, ...]:
    """Return what the stop findings say, each as one text with its remedy."""
    return tuple(f"{f.place}: {with_remedy(f)}" for f in findings if f.severity is Severity.STOP)


def with_remedy(finding: Finding) -> str:
    """Return a finding's message and what to do, where it says so."""
    if not finding.remedy:
        return finding.message
    return f"{finding.message}{'' if finding.message.endswith('.') else ';'} {finding.remedy}"


def stop_size(texts: Sequence[str], width: float, style: Style) -> tuple[float, float]:
    """Return the width and height of the box that stop findings stand in; it is never narrower than its heading."""
    width = max(width, lettering.width(STOP, style.title) + 2.0 * (BORDER + style.text))
    rows = sum(len(wrapped(text, style.text, width - 2.0 * style.text)) for text in texts)
    return width, rows * LEADING * style.text + 1.8 * style.title + 2.0 * style.text


def stop_marks(texts: Sequence[str], left: float, top: float, width: float, style: Style) -> tuple[Mark, ...]:
    """Return a box in wide lines with the heading STOP and every stop finding."""
    _, height = stop_size(texts, width, style)
    right, low = left + width, top - height
    corners = ((left, low), (right, low), (right, top), (left, top))
    inner = tuple((x + (BORDER if x == left else -BORDER), y + (BORDER if y == low else -BORDER)) for x, y in corners)
    marks: list[Mark] = [Stroke(corners, Line.OUTLINE, closed=True), Stroke(inner, Line.OUTLINE, closed=True)]
    y = top - style.text - style.title
    marks.append(Text((left + style.text, y), STOP, style.title))
    y -= 0.5 * style.title
    for text in texts:
        for words in wrapped(text, style.text, width - 2.0 * style.text):
            y -= LEADING * style.text
            marks.append(Text((left + style.text, y), words, style.text))
    return tuple(marks)
