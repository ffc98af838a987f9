"""Commands for tricks that are passed on: refit to another table, find in a library, compare."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Any

import click

from slotwright.console import STOPPED, echo_json, shown
from slotwright.options import HERE, PATH, allow_script

if TYPE_CHECKING:
    from pathlib import Path

    from slotwright.fixtures.family import Family
    from slotwright.sharing.refit import Refit


@click.command()
@click.argument("design", metavar="DESIGN", type=PATH)
@click.option("--table", "tables", multiple=True, help="Name of a table in parts/; twice for pieces that serve both.")
@click.option("--all-tables", is_flag=True, help="Only say which tables in parts/ the design can serve.")
@click.option("--unit", type=click.Choice(["mm", "in"]), help="Unit of the new design; else it goes with the table.")
@click.option("--to", type=PATH, help="The new design file; else DESIGN-TABLE.toml beside it.")
@click.option("--trial", is_flag=True, help="Only report; write nothing.")
@click.option("--make", "make_too", is_flag=True, help="Make the new drawings too, with the changes marked on them.")
@click.option("--json", "as_json", is_flag=True, help="Print the report as JSON.")
@allow_script
def refit(
    design: Path,
    tables: tuple[str, ...],
    all_tables: bool,
    unit: str | None,
    to: Path | None,
    trial: bool,
    make_too: bool,
    as_json: bool,
    scripts: tuple[Path, ...],
) -> None:
    """Solve a design on another table, and report what changed.

    DESIGN is a design file, or its name in fixtures/. Explicit choices are carried over where they can be; what can't
    be is told, with the nearest choice that can. The refitted design is a new file.
    """
    from slotwright.fixtures.scripted import load_scripts
    from slotwright.sharing import refit as refitting
    from slotwright.sharing.workspace import design_path

    path = design_path(design)
    if all_tables == bool(tables):
        raise click.UsageError("Give --table NAME, or --all-tables.")
    scripted = load_scripts(scripts)
    if all_tables:
        _all_tables(path, scripted, as_json)
        return
    done = refitting.refit(path, tables, unit, scripted)
    target = to or path.with_name(f"{done.new.name}.toml")
    if not trial:
        _write(done, target, as_json)
    _report(done, as_json)
    if make_too and not trial:
        _make(done, target, as_json)
    sys.exit(STOPPED if done.new.severity.value == "stop" else 0)


def _write(done: Refit, target: Path, as_json: bool) -> None:
    from slotwright.sharing.refit import write_refit

    new = write_refit(done, target, shown(target))
    if not as_json:
        click.echo(f"{shown(target)}: {'written' if new else 'is there already, the same'}")


def _report(done: Refit, as_json: bool) -> None:
    from slotwright.sharing.refit_report import refit_data, refit_lines

    if as_json:
        echo_json(refit_data(done))
        return
    for line in refit_lines(done):
        click.echo(line)


def _make(done: Refit, target: Path, as_json: bool) -> None:
    from slotwright.progress import Progress
    from slotwright.sharing.make import make
    from slotwright.sharing.refit_marks import marked

    folder = done.new.root / "drawings" / target.stem
    with Progress(target.stem) as tell:
        files = make(marked(done), folder, shown(folder), beside=True, tell=tell)
    if not as_json:
        click.echo(f"{shown(folder)}: {len(files)} files, the changes marked on the drawings")


def _all_tables(path: Path, scripted: tuple[Family, ...], as_json: bool) -> None:
    from slotwright.sharing.refit_tables import fit_data, fits, matrix_lines, together

    alone = fits(path, scripted)
    several = together(path, alone, scripted)
    if as_json:
        echo_json({"tables": [fit_data(one) for one in alone], "together": [fit_data(one) for one in several]})
        return
    for line in matrix_lines(alone, several):
        click.echo(line)


@click.command()
@click.argument("words", nargs=-1, metavar="[WORD ...]")
@click.option("--in", "library", default=HERE, type=PATH, help="Folder of the library; else here.")
@click.option("--kind", help="Kind of a fixture, such as hold-down-bar.")
@click.option("--table", help="Part of the name or title of a table it is made for.")
@click.option("--slot", help='Width of the table\'s slots, such as "14 mm" or "5/8 in".')
@click.option("--size", help='A side of a made piece, to 2 %, such as "480 mm".')
@click.option("--fresh", is_flag=True, help="Work the index out anew.")
@click.option("--json", "as_json", is_flag=True, help="Print as JSON.")
def find(
    words: tuple[str, ...],
    library: Path,
    kind: str | None,
    table: str | None,
    slot: str | None,
    size: str | None,
    fresh: bool,
    as_json: bool,
) -> None:
    """Find designs and packs in a folder tree: a shop folder, or a plain git checkout of many.

    All that is given must hold. Words are looked for in titles, names, tables, the work and what is told to other
    shops. The index is kept in the user's cache folder; it follows the files and may be deleted at any time.
    """
    from slotwright.progress import Progress
    from slotwright.sharing import library as shelves
    from slotwright.sharing.library_index import Wish

    wish = Wish(words=words, kind=kind, table=table, slot=_slot(slot), size=_length(size))
    with Progress("find") as tell:
        found = shelves.find(library, wish, fresh=fresh, helpers=shelves.cores(), tell=tell)
    if as_json:
        echo_json({"found": found.rows, "designs-and-packs": found.number, "with-a-problem": found.bad})
        return
    for row in found.rows:
        click.echo(_row_words(row))
    bad = f", {found.bad} of them with a problem" if found.bad else ""
    click.echo(f"{len(found.rows)} found among {found.number} designs and packs{bad}")


def _slot(text: str | None) -> float | None:
    from slotwright.sizes import slot_width

    return None if text is None else slot_width(text)


def _length(text: str | None) -> float | None:
    from slotwright.sizes import length

    return None if text is None else length(text)


def _row_words(row: dict[str, Any]) -> str:
    from slotwright.errors import printing

    if not row["title"]:
        return printing(f"{row['path']}: cannot be read: {row['problem']}")
    tables = ", ".join(table["name"] for table in row["tables"]) or "any table"
    problem = f" (cannot be solved: {row['problem']})" if row["problem"] else ""
    return printing(f"{row['path']}: {row['title']} [{', '.join(row['kinds'])}; {tables}]{problem}")


@click.command()
@click.argument("old", type=PATH, metavar="A")
@click.argument("new", type=PATH, metavar="B")
@click.option("--json", "as_json", is_flag=True, help="Print as JSON.")
@allow_script
def compare(old: Path, new: Path, as_json: bool, scripts: tuple[Path, ...]) -> None:
    """Compare two designs or packs by meaning: what is asked for, pieces, holes, hardware, findings.

    Each is a design file, its name in fixtures/, or a pack; packs run no scripts.
    """
    from slotwright.fixtures.scripted import load_scripts
    from slotwright.sharing.compare import compare as compared
    from slotwright.sharing.compare import read_either
    from slotwright.sharing.refit_report import comparison_data, comparison_lines

    scripted = load_scripts(scripts)
    before, after = (read_either(path, shown(path), scripted) for path in (old, new))
    found = compared(before, after)
    if as_json:
        echo_json(comparison_data(found, before, after))
        return
    for line in comparison_lines(found, before, after):
        click.echo(line)
    if found.same:
        click.echo("the two mean the same")


COMMANDS = (refit, find, compare)
