"""The card of a pack as one sheet: pictures, what the set-up is for, hole tables, cautions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from slotwright.drawings.paper.arranging import Item, Spot, arrange
from slotwright.drawings.paper.formats import Format, formats
from slotwright.drawings.paper.notes import notes_marks, notes_size, stop_marks, stop_size
from slotwright.drawings.paper.placing import marks_box
from slotwright.drawings.paper.sheet import Drawing, Mark, Sheet, Text, View, on_paper
from slotwright.drawings.paper.sheet_choice import NOTE_WIDTHS, STOP_WIDTHS, SheetError, block_box, framed, room
from slotwright.drawings.paper.sheet_data import SheetData
from slotwright.drawings.paper.style import Style
from slotwright.drawings.paper.table_columns import columns_marks, columns_size, variants
from slotwright.drawings.paper.tables import Table
from slotwright.drawings.paper.title_block import TitleFields
from slotwright.drawings.paper.view_group import ViewGroup
from slotwright.sharing.card import Card

SMALL = 2
"""A card wants one of the two smallest sheets; hole tables that find no room there stay in the pack's lists."""
MOST_PICTURES, MOST_TABLES = 3, 4
WIDTHS = (0.95, 0.6, 0.4, 0.25)
"""Shares of a sheet's width tried for a picture, the last one only in need; its height stays under a third."""


@dataclass(frozen=True, slots=True)
class _Contents:
    """What stands on the card beside its pictures."""

    tables: tuple[Table, ...]
    stops: tuple[str, ...]
    about: tuple[str, ...]
    cautions: tuple[str, ...]


def card_drawing(card: Card, drawings: Mapping[str, Drawing], data: SheetData, style: Style) -> Drawing:
    """Return the card as a drawing of one sheet.

    Args:
        card: what it says.
        drawings: the set-up's drawings; pictures are taken from them.
        data: for the title block.
        style: as the drawings have it.

    Raises:
        SheetError: there is more to say than the largest sheet holds.
    """
    views = _pictures(drawings)
    most = min(len(card.holes), MOST_TABLES)
    small, large = formats(style.name)[:SMALL], formats(style.name)[SMALL:]
    tries = [(paper, n, widths) for n in range(most, -1, -1) for widths in (WIDTHS[:-1], WIDTHS) for paper in small]
    tries += [(paper, 0, WIDTHS) for paper in large]
    for paper, count, widths in tries:
        for shown in range(min(len(views), MOST_PICTURES), 0, -1):
            sheet = _sheet(card, views[:shown], widths, _contents(card, count), paper, data, style)
            if sheet is not None:
                return Drawing(name="card", title=card.title, unit=style.unit, sheets=(sheet,))
    raise SheetError("the card of this design does not fit the largest sheet; divide the design")


def _pictures(drawings: Mapping[str, Drawing]) -> list[View]:
    """Return table plans, then a picture of each piece, else the first view there is; bare of words and dimensions."""
    views = [view for drawing in drawings.values() for view in drawing.sheets[0].views]
    found = [view for name in ("table plan", "pictorial") for view in views if view.name == name]
    return [
        replace(view, dimensions=(), frame=None, marks=tuple(m for m in view.marks if not isinstance(m, Text)))
        for view in found or views[:1]
    ]


def _contents(card: Card, count: int) -> _Contents:
    """Return what is said when so many hole tables are shown."""
    shown = card.holes[:count]
    about = [f"{head.upper()}: {words}" for head, words in card.facts]
    about += [rest for _, _, rest in shown if rest]
    about += [f"{heading}: see the lists in the pack" for heading, _, _ in card.holes[count:]]
    tables = tuple(replace(table, title=heading.upper()) for heading, table, _ in shown)
    return _Contents(tables, card.stops, tuple(about), card.cautions)


def _sheet(
    card: Card,
    views: Sequence[View],
    widths: Sequence[float],
    contents: _Contents,
    paper: Format,
    data: SheetData,
    style: Style,
) -> Sheet | None:
    """Return the sheet with everything on it, or None where there is not room enough."""
    area = room(paper)
    pictures = [[_picture(view, share * area.width, area.height / 3.0) for share in widths] for view in views]
    columns = [variants(table, style) for table in contents.tables]
    words = (("ABOUT THIS SET-UP", contents.about), ("CAUTIONS", contents.cautions))
    items = [Item(tuple((g.box.width, g.box.height) for g in one), "top") for one in pictures]
    items += [Item(tuple(columns_size(parts, style) for parts in one), "lower right") for one in columns]
    if contents.stops:
        items.append(Item(tuple(stop_size(contents.stops, w, style) for w in STOP_WIDTHS), "lower left"))
    items += [Item(tuple(notes_size(t, w, width, style) for width in NOTE_WIDTHS), "lower left") for t, w in words]
    spots = arrange(area, [block_box(paper, style)], items)
    if spots is None:
        return None
    at_pictures, rest = spots[: len(pictures)], spots[len(pictures) :]
    groups = [one[spot.variant].moved_to(spot.box) for one, spot in zip(pictures, at_pictures, strict=True)]
    marks: list[Mark] = []
    for one, spot in zip(columns, rest, strict=False):
        marks += columns_marks(one[spot.variant], spot.box.x0, spot.box.y1, style)
    marks += _words(words, contents.stops, rest[len(columns) :], style)
    shown = tuple(view for group in groups for view in group.views)
    return framed(paper, _fields(card, paper), data, shown, marks, style)


def _words(
    words: Sequence[tuple[str, tuple[str, ...]]], stops: tuple[str, ...], spots: Sequence[Spot], style: Style
) -> list[Mark]:
    marks: list[Mark] = []
    if stops:
        box = spots[0].box
        marks += stop_marks(stops, box.x0, box.y1, box.width, style)
    for (title, texts), spot in zip(words, spots[-len(words) :], strict=True):
        marks += notes_marks(title, texts, spot.box.x0, spot.box.y1, spot.box.width + 0.01, style)
    return marks


def _picture(view: View, width: float, height: float) -> ViewGroup:
    """Return a view as large as it fits a width and a height, mm on paper."""
    true = marks_box(on_paper(replace(view, origin=(0.0, 0.0), scale=1.0)))
    scale = min(width / true.width, height / true.height)
    drawn = replace(view, origin=(0.0, 0.0), scale=scale)
    seen = marks_box(on_paper(drawn)).grown(1.0)
    return ViewGroup(views=(replace(drawn, frame=(seen.x0, seen.y0, seen.x1, seen.y1)),), marks=(), box=seen)


def _fields(card: Card, paper: Format) -> TitleFields:
    facts = dict(card.facts)
    return TitleFields(
        title=card.title,
        subtitle=f"Card of pack {card.name}",
        number=card.content_id,
        document="Card",
        scale="not to scale",
        size=paper.name,
        sheet="1/1",
        material=card.made_for,
        stock=facts.get("Licence", ""),
        quantity=str(sum(head == "Piece" for head, _ in card.facts)),
        mass=facts.get("Author", ""),
        heads=("Made for", "Licence", "Pieces", "Author"),
        tolerances=(),
    )
