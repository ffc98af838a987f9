"""Materials by trade name, and their figures against handbook values."""

import pytest

from slotwright.errors import NotListedError
from slotwright.parts.materials import Material, material, materials


@pytest.mark.parametrize(
    ("name", "family"),
    [
        ("S235JR", "low-carbon steel"), ("1018", "low-carbon steel"), ("AISI 1018", "low-carbon steel"),
        ("mild steel", "low-carbon steel"), ("4140", "low-alloy steel"), ("42CrMo4", "low-alloy steel"),
        ("42crmo4", "low-alloy steel"), ("6061", "aluminium wrought"), ("EN AW-6061-T6", "aluminium wrought"),
        ("6061-T6", "aluminium wrought"), ("aluminum", "aluminium wrought"), ("cast iron", "grey cast iron"),
        ("EN-GJL-250", "grey cast iron"), ("gjl 250", "grey cast iron"), ("brass", "free-cutting brass"),
        ("bronze", "bearing bronze"), ("304", "austenitic stainless"), ("PVC", "thermoplastic"),
        ("acetal", "thermoplastic"), ("POM", "thermoplastic"),
    ],
)  # fmt: skip
def test_trade_names(name: str, family: str) -> None:
    assert material(name).family == family


def test_the_bare_grade_means_the_weaker_condition() -> None:
    annealed, hard = material("4140").yield_strength, material("4140 pre-hard").yield_strength
    assert annealed is not None
    assert hard is not None
    assert annealed < hard


@pytest.mark.parametrize("name", ["unobtainium", "", "x" * 100_000])
def test_an_unknown_material_is_refused_and_the_list_shown(name: str) -> None:
    with pytest.raises(NotListedError, match="EN AW-6061-T6") as caught:
        material(name)
    assert len(caught.value.wanted) < 100


# name: density kg/m3, Young's modulus GPa, expansion 1e-6/K: textbook appendices (mechanics of materials, SI; US units
# converted), and for iron and steel 450 and 490 lb/ft3 in Shop Practice vol. 2
HANDBOOK = {
    "S235JR": (7849, 200, 12), "cast iron": (7208, 110, 11), "6061-T6": (2710, 69, 24), "304": (7860, 193, 17),
    "class 20": (7190, 67, 12),
    "brass": (8500, 97, 20.5), "PVC": (1390, 2.8, 55),
}  # fmt: skip


@pytest.mark.parametrize(("name", "figures"), HANDBOOK.items(), ids=HANDBOOK)
def test_figures_are_near_the_handbooks(name: str, figures: tuple[float, float, float]) -> None:
    """Handbooks differ by a few percent between grades."""
    m = material(name)
    found = (m.density, m.youngs_modulus / 1e3, m.expansion * 1e6)
    assert found == pytest.approx(figures, rel=0.03)


@pytest.mark.parametrize("m", materials(), ids=lambda m: m.name)
def test_every_material_is_whole(m: Material) -> None:
    assert material(m.name) is m
    assert 1000 < m.density < 9000
    assert all(0.0 <= part <= 1.0 for part in m.colour)
    assert m.hatch in {"steel", "iron", "aluminium", "brass", "plastic"}
    if m.family == "grey cast iron":
        assert m.yield_strength is None  # brittle: no yield point
    else:
        assert m.yield_strength is not None
        assert m.yield_strength < m.youngs_modulus


def test_colours_tell_families_apart() -> None:
    looks = {m.family: m.colour for m in materials()}
    assert len(set(looks.values())) == len(looks)
