"""Options that several commands take."""

from __future__ import annotations

from pathlib import Path

import click

allow_script = click.option(
    "--allow-script",
    "scripts",
    multiple=True,
    type=click.Path(path_type=Path),
    metavar="FILE.py",
    help="Run this script, which can do all that you can, for the kind of fixture that it defines; may be repeated.",
)
