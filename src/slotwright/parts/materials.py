"""Materials by the names a shop uses, with what weights, bending and drawings need."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from slotwright.errors import NotListedError
from slotwright.parts.standards import Row, rows


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """One material.

    Attributes:
        name: as the table has it.
        family: trade family, such as "low-carbon steel".
        density: kg/m3.
        youngs_modulus: MPa.
        yield_strength: MPa, or None for brittle materials; for the condition named.
        expansion: linear thermal expansion, 1/K.
        colour: red, green, blue from 0 to 1 for solids and pictures; our own choice.
        hatch: key of the section lining: "steel", "iron", "aluminium", "brass", "plastic".
        confirmed: whether every figure was read at a source.
    """

    name: str
    family: str
    density: float
    youngs_modulus: float
    yield_strength: float | None
    expansion: float
    colour: tuple[float, float, float]
    hatch: str
    confirmed: bool = True


_LOOKS = {
    "low-carbon steel": ("steel", (0.56, 0.60, 0.65)),
    "low-alloy steel": ("steel", (0.42, 0.46, 0.54)),
    "grey cast iron": ("iron", (0.36, 0.39, 0.37)),
    "aluminium wrought": ("aluminium", (0.80, 0.82, 0.84)),
    "free-cutting brass": ("brass", (0.83, 0.70, 0.34)),
    "bearing bronze": ("brass", (0.70, 0.49, 0.28)),
    "austenitic stainless": ("steel", (0.70, 0.73, 0.75)),
    "thermoplastic": ("plastic", (0.88, 0.87, 0.80)),
}

_SYNONYMS: dict[str, tuple[str, ...]] = {
    "S235JR / AISI 1018-1020": (
        "S235JR", "S235", "1018", "AISI 1018", "1020", "AISI 1020", "A36", "steel", "mild steel", "low-carbon steel",
        "cold rolled steel", "CRS", "hot rolled steel", "HRS",
    ),
    "42CrMo4 / AISI 4140 annealed": ("4140", "AISI 4140", "42CrMo4", "4140 annealed", "42CrMo4 annealed"),
    "42CrMo4 / AISI 4140 quenched+tempered about 1000 MPa": (
        "4140 pre-hard", "4140 prehard", "4140 PH", "4140 HT", "4140 quenched and tempered", "42CrMo4+QT", "42CrMo4 QT",
    ),
    "EN-GJL-250 / ASTM A48 class 35": (
        "EN-GJL-250", "GJL-250", "GG25", "cast iron", "grey cast iron", "gray cast iron", "grey iron", "gray iron",
        "class 35", "class 35 iron",
    ),
    "ASTM A48 class 20": ("class 20", "class 20 iron"),
    "EN AW-6061-T6": (
        "6061", "6061-T6", "AA 6061", "AA 6061-T6", "EN AW-6061", "aluminium", "aluminum", "AlMg1SiCu",
    ),
    "CuZn39Pb3 / C36000": ("CuZn39Pb3", "C36000", "C360", "360 brass", "brass", "free-cutting brass", "CW614N"),
    "CuSn7ZnPb / C93200": ("CuSn7ZnPb", "C93200", "C932", "SAE 660", "bronze", "bearing bronze"),
    "X5CrNi18-10 / AISI 304": (
        "X5CrNi18-10", "304", "AISI 304", "1.4301", "stainless", "stainless steel", "304 stainless",
    ),
    "PVC-U rigid": ("PVC", "PVC-U", "uPVC", "rigid PVC"),
    "POM-C acetal": ("POM", "POM-C", "acetal", "acetal copolymer"),
}  # fmt: skip


def material(name: str) -> Material:
    """Look a material up by the table's name or a name of the trade; case, spaces and hyphens are free.

    "4140" and "42CrMo4" alone mean the annealed condition, the weaker one.

    Raises:
        NotListedError: unknown; the message lists what there is.
    """
    found = _index().get(_key(name))
    if found is None:
        listed = tuple(m.name for m in materials())
        raise NotListedError(f"material {name.strip()[:64]!r}", "the material table", listed)
    return found


@cache
def materials() -> tuple[Material, ...]:
    """All materials, in the table's order."""
    return tuple(_material(row) for row in rows("materials"))


def _material(row: Row) -> Material:
    hatch, colour = _LOOKS[row.text("family")]
    return Material(
        name=row.text("material"),
        family=row.text("family"),
        density=row.number("density_kg_m3"),
        youngs_modulus=row.number("youngs_modulus_gpa") * 1000.0,
        yield_strength=row.optional("yield_mpa"),
        expansion=row.number("cte_um_per_m_k") * 1e-6,
        colour=colour,
        hatch=hatch,
        confirmed=row.confirmed,
    )


def _key(name: str) -> str:
    return re.sub(r"[\s\-_]+", "", name[:64]).casefold()


@cache
def _index() -> dict[str, Material]:
    """Every accepted name, by its key."""
    index: dict[str, Material] = {}
    for m in materials():
        for name in (m.name, *_SYNONYMS.get(m.name, ())):
            index[_key(name)] = m
    return index
