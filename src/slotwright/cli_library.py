"""Commands for tricks that are passed on: refit to another table, find in a library, compare."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from slotwright.sharing.refit import Refit

STOPPED = 3


@click.command()
@click.argument("design", metavar="DESIGN", type=click.Path(path_type=Path))
@click.option("--table", "tables", multiple=True, help="Name of a table in parts/; twice for pieces that serve both.")
@click.option("--all-tables", is_flag=True, help="Only say which tables in parts/ the design can serve.")
@click.option("--unit", type=click.Choice(["mm", "in"]), help="Unit of the new design; else it goes with the table.")
@click.option("--to", type=click.Path(path_type=Path), help="The new design file; else DESIGN-TABLE.toml beside it.")
@click.option("--trial", is_flag=True, help="Only report; write nothing.")
@click.option("--make", "make_too", is_flag=True, help="Make the new drawings too, with the changes noted on them.")
@click.option("--json", "as_json", is_flag=True, help="Print the report as JSON.")
def refit(
    design: Path,
    tables: tuple[str, ...],
    all_tables: bool,
    unit: str | None,
    to: Path | None,
    trial: bool,
    make_too: bool,
    as_json: bool,
) -> None:
    """Solve a design on another table, and report what changed.

    DESIGN is a design file, or its name in fixtures/. Explicit choices are carried over where they can be; what can't
    be is told, with the nearest choice that can. The refitted design is a new file.
    """
    from slotwright.sharing import refit as refitting

    path = refitting.design_path(design)
    if all_tables == bool(tables):
        raise click.UsageError("Give --table NAME, or --all-tables.")
    if all_tables:
        _all_tables(path, as_json)
        return
    done = refitting.refit(path, tables, unit)
    target = to or path.with_name(f"{done.new.name}.toml")
    if not trial:
        _write(done, target, as_json)
    _report(done, as_json)
    if make_too and not trial:
        _make(done, target, as_json)
    sys.exit(STOPPED if done.new.severity.value == "stop" else 0)


def _write(done: Refit, target: Path, as_json: bool) -> None:
    from slotwright.cli import _shown
    from slotwright.sharing.refit import write_refit

    new = write_refit(done, target, _shown(target))
    if not as_json:
        click.echo(f"{_shown(target)}: {'written' if new else 'is there already, the same'}")


def _report(done: Refit, as_json: bool) -> None:
    from slotwright.cli import _echo_json
    from slotwright.sharing.refit_report import refit_data, refit_lines

    if as_json:
        _echo_json(refit_data(done))
        return
    for line in refit_lines(done):
        click.echo(line)


def _make(done: Refit, target: Path, as_json: bool) -> None:
    from slotwright.cli import _shown
    from slotwright.progress import Progress
    from slotwright.sharing.make import make
    from slotwright.sharing.refit_report import marked

    folder = done.new.root / "drawings" / target.stem
    with Progress(target.stem) as tell:
        files = make(marked(done), folder, _shown(folder), beside=True, tell=tell)
    if not as_json:
        click.echo(f"{_shown(folder)}: {len(files)} files, the changes noted on the drawings")


def _all_tables(path: Path, as_json: bool) -> None:
    from slotwright.cli import _echo_json
    from slotwright.sharing.refit_tables import fit_data, fits, matrix_lines, together

    alone = fits(path)
    several = together(path, alone)
    if as_json:
        _echo_json({"tables": [fit_data(one) for one in alone], "together": [fit_data(one) for one in several]})
        return
    for line in matrix_lines(alone, several):
        click.echo(line)


COMMANDS = (refit,)
