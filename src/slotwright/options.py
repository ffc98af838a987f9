"""Options that several commands take, and how they take paths."""

from __future__ import annotations

from os import fsdecode
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from pathlib import Path


class _PathType(click.Path):
    """A path as an object; the module of such objects is loaded when there is one, for help can do without."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Path:
        """Return what was given as a path."""
        from pathlib import Path

        return Path(fsdecode(super().convert(value, param, ctx)))


PATH = _PathType()
HERE = "."
"""The folder the user stands in, as the default of a path."""

allow_script = click.option(
    "--allow-script",
    "scripts",
    multiple=True,
    type=PATH,
    metavar="FILE.py",
    help="Run this script, which can do all that you can, for the kind of fixture that it defines; may be repeated.",
)
