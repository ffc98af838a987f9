"""Read a DXF file tag by tag, without any library: what a file says, before anybody draws conclusions.

Group codes by the published DXF reference, R2018.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

Tag = tuple[int, str]


@dataclass(frozen=True, slots=True)
class Entity:
    """One entity, table entry or object: its kind and its tags, groups of application data left out."""

    kind: str
    tags: tuple[Tag, ...]

    def text(self, code: int, otherwise: str = "") -> str:
        """The first value of a group code."""
        return next((value for c, value in self.tags if c == code), otherwise)

    def number(self, code: int, otherwise: float = 0.0) -> float:
        """The first value of a group code as a number."""
        return float(self.text(code, repr(otherwise)))

    def numbers(self, code: int) -> list[float]:
        """All values of a group code."""
        return [float(value) for c, value in self.tags if c == code]

    def after(self, subclass: str) -> Entity:
        """The part that belongs to a subclass and those behind it."""
        start = next(n for n, tag in enumerate(self.tags) if tag == (100, subclass))
        return Entity(self.kind, self.tags[start:])


@dataclass(slots=True)
class DxfFile:
    """What the reader needs of a file.

    Attributes:
        header: the first value of each header variable.
        model: entities of model space.
        sheets: name and entities of every layout, in the order of their tabs.
        blocks: entities by the block's name.
    """

    header: dict[str, str] = field(default_factory=dict)
    model: list[Entity] = field(default_factory=list)
    sheets: list[tuple[Entity, list[Entity]]] = field(default_factory=list)
    blocks: dict[str, list[Entity]] = field(default_factory=dict)


def read_dxf(data: bytes) -> DxfFile:
    """Read a file from its bytes (UTF-8, as DXF R2007 and later are)."""
    lines = data.decode("utf-8").splitlines()
    tags = [(int(code), value) for code, value in zip(lines[::2], lines[1::2], strict=True)]
    sections = {section[0].text(2): section[1:] for section in _parts(_entities(tags), "SECTION", "ENDSEC")}
    found = DxfFile(header=_header(tags))
    for block in _parts(sections["BLOCKS"], "BLOCK", "ENDBLK"):
        found.blocks[block[0].text(2)] = block[1:]
    spaces = _spaces(sections, found)
    for layout in sorted(_layouts(sections["OBJECTS"]), key=lambda one: one.number(71)):
        contents = spaces[layout.text(330)]
        if layout.text(1) == "Model":
            found.model = contents
        else:
            found.sheets.append((layout, contents))
    return found


def _header(tags: list[Tag]) -> dict[str, str]:
    return {name: tags[n + 1][1] for n, (code, name) in enumerate(tags[:-1]) if code == 9}


def _entities(tags: Iterable[Tag]) -> Iterator[Entity]:
    kind, group = "", False
    own: list[Tag] = []
    for code, value in tags:
        if code == 0:
            if kind:
                yield Entity(kind, tuple(own))
            kind, own = value, []
        elif code == 102:
            group = value.startswith("{")
        elif not group:
            own.append((code, value))
    yield Entity(kind, tuple(own))


def _parts(entities: Iterable[Entity], start: str, end: str) -> Iterator[list[Entity]]:
    part: list[Entity] | None = None
    for entity in entities:
        if entity.kind == start:
            part = [entity]
        elif entity.kind == end and part is not None:
            yield part
            part = None
        elif part is not None:
            part.append(entity)


def _layouts(objects: Iterable[Entity]) -> Iterator[Entity]:
    return (entity.after("AcDbLayout") for entity in objects if entity.kind == "LAYOUT")


def _spaces(sections: dict[str, list[Entity]], found: DxfFile) -> dict[str, list[Entity]]:
    """The entities of every space by the handle of its block record; one sheet's stand beside the model's own."""
    names = {e.text(5): e.text(2) for e in sections["TABLES"] if e.kind == "BLOCK_RECORD"}
    spaces: dict[str, list[Entity]] = {handle: list(found.blocks.get(name, ())) for handle, name in names.items()}
    for entity in sections["ENTITIES"]:
        spaces[entity.text(330)].append(entity)
    return spaces
