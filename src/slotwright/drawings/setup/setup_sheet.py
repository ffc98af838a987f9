"""The set-up drawing: the table with everything on it, a section at a bolt, parts list, cautions, findings."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from slotwright import sizes
from slotwright.checks.supplies import SHOPPING
from slotwright.drawings.callouts import times
from slotwright.drawings.paper.formats import scale_text
from slotwright.drawings.paper.notes import CAUTIONS, sentence, with_remedy
from slotwright.drawings.paper.sheet import Drawing
from slotwright.drawings.paper.sheet_choice import Choice, chosen_sheet
from slotwright.drawings.paper.sheet_data import SheetData, spelled, unit_name
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.title_block import TitleFields
from slotwright.drawings.setup.parts_list import PartsLine, parts_lines
from slotwright.drawings.setup.setup_choice import choose
from slotwright.drawings.setup.setup_gauges import gauge_notes
from slotwright.findings import Finding, Severity
from slotwright.fixtures.layout import Layout


def setup_drawing(layout: Layout, data: SheetData, style: Style) -> Drawing:
    """Return the set-up drawing of a lay-out.

    Args:
        layout: table, pieces, hardware, work.
        data: title block and findings; stop findings are printed in a box, cautions among the notes.
        style: ISO or ASME, mm or inch.

    Raises:
        SheetError: the table does not fit the largest sheet at the smallest scale.
    """
    lines = parts_lines(layout, data, style)
    chosen = choose(layout, lines, setup_notes(layout, data, lines, style), data, style)
    sheet = chosen_sheet(chosen, _fields(layout, data, style, chosen), data, style)
    return Drawing(
        name=f"set-up-{layout.table.name}",
        title=f"{data.title}: set-up on {layout.table.title}",
        unit=style.unit,
        sheets=(sheet,),
        properties=(("design", data.title), ("table", layout.table.name), ("content id", data.content_id)),
    )


def setup_notes(layout: Layout, data: SheetData, lines: Sequence[PartsLine], style: Style) -> tuple[str, ...]:
    """Return the cautions and what else the set-up sheet says in words."""
    notes = [f"DIMENSIONS IN {unit_name(style)}, FROM THE TABLE'S LEFT END AND FRONT EDGE; SLOT 1 IS THE FRONT ONE."]
    work = layout.work
    if work is not None and work.mass is not None:
        notes.append(f"WORK: {work.name}, {sizes.say(work.mass, 'kg', style.unit)}.")
    cautions = _cautions(data.findings)
    said = " ".join(cautions)
    notes += [f"ITEM {line.item}: {line.note}." for line in lines if line.note and line.words.split()[0] not in said]
    words = (*notes, *gauge_notes(layout), *map(sentence, layout.notes), *cautions, *CAUTIONS)
    return tuple(spelled(note, style) for note in words)


def _cautions(findings: Iterable[Finding]) -> list[str]:
    """Return what the findings caution against and what to do; places with the same share a note.

    What is to be bought is left out.
    """
    places: dict[str, list[str]] = {}
    for finding in findings:
        if finding.severity is Severity.CAUTION and finding.code not in SHOPPING:
            places.setdefault(with_remedy(finding), []).append(finding.place)
    return [sentence(f"CAUTION, {', '.join(dict.fromkeys(where))}: {words}") for words, where in places.items()]


def _fields(layout: Layout, data: SheetData, style: Style, chosen: Choice) -> TitleFields:
    slot = style.number(layout.table.slot.width)
    return TitleFields(
        title=data.title,
        subtitle=f"Set-up on {layout.table.title}",
        number=data.setup_number(layout.table.name),
        document="Set-up drawing",
        scale=scale_text(chosen.scale),
        size=chosen.paper.name,
        sheet="1/1",
        material=layout.table.title,
        stock=f"{len(layout.table.slot_centres)} {times(style)} {slot}",
        quantity=str(len(layout.joints)),
        mass=sizes.say(sum(placed.piece.mass for placed in layout.pieces), "kg", style.unit) if layout.pieces else "",
        heads=("Machine table", "T-slots", "Bolts", "Mass of pieces"),
        tolerances=(),
    )
