"""The gallery: one command draws it, every picture is on its page, and what is committed is what the program draws."""

from __future__ import annotations

import importlib.util
import re
from pathlib import Path
from types import ModuleType

import pytest

from slotwright.fixtures.family import families

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "drawings"


@pytest.fixture(scope="module")
def gallery() -> ModuleType:
    spec = importlib.util.spec_from_file_location("gallery", ROOT / ".ci" / "gallery.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_committed_gallery_is_what_the_program_draws(gallery: ModuleType) -> None:
    for name, data in gallery.pictures().items():
        assert (FOLDER / name).read_bytes() == data, f"{name}: run .ci/gallery"


def test_every_kind_is_shown(gallery: ModuleType) -> None:
    headings = re.findall(r"^## (.+)$", (FOLDER / "GALLERY.md").read_text(encoding="utf-8"), re.MULTILINE)
    assert set(families()) <= set(headings)
    assert len(headings) == len(set(headings))
    assert {sheet[0] for sheet in gallery.SHEETS} == set(families())


def test_the_page_shows_every_picture_and_names_no_other() -> None:
    shown = re.findall(r"!\[[^]]+\]\((gallery/[a-z-]+\.svg)\)", (FOLDER / "GALLERY.md").read_text(encoding="utf-8"))
    assert sorted(shown) == sorted(f"gallery/{path.name}" for path in (FOLDER / "gallery").glob("*"))
    assert len(shown) == len(set(shown))


def test_pictures_are_small() -> None:
    """A page of them should load at once over a poor line; common practice, no source."""
    assert all(path.stat().st_size < 120_000 for path in (FOLDER / "gallery").glob("*.svg"))
