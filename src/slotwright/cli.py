"""The command line: thin, and nothing heavy is loaded before a command needs it."""

from __future__ import annotations

import os
import sys
from typing import TYPE_CHECKING

import click

from slotwright import __version__, cli_library
from slotwright.console import BAD_INPUT, STOPPED, echo_json, report, shown
from slotwright.errors import SlotwrightError, printing
from slotwright.options import HERE, PATH, allow_script

if TYPE_CHECKING:
    from pathlib import Path
    from types import FrameType

    from slotwright.sharing.jobs import Outcome
    from slotwright.sharing.proof_file import Proofed
    from slotwright.sharing.set_up import SetUp

INTERRUPTED = 130


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="slotwright")
def commands() -> None:
    """Work-holding pieces for T-slot tables, from a measured table and a small text file.

    A workspace is a folder with parts/ (tables, rack, drawer), fixtures/ (designs) and drawings/ (what comes out).
    The figures are aids: the machine's manual, local rules and a competent person decide.
    """


@commands.command()
@click.argument("designs", nargs=-1, required=True, type=PATH, metavar="DESIGN.toml ...")
@click.option("--out", type=PATH, help="Folder that takes the output folder; else drawings/.")
@click.option("--json", "as_json", is_flag=True, help="Print the findings and files as JSON.")
@allow_script
@click.option("--cluster", metavar="ADDRESS", help="Work on a Dask cluster: its scheduler's address, or local.")
def make(
    designs: tuple[Path, ...], out: Path | None, as_json: bool, scripts: tuple[Path, ...], cluster: str | None
) -> None:
    """Make solids, drawings, hole tables and lists of designs; several at once use all cores."""
    from slotwright.fixtures.scripted import load_scripts
    from slotwright.progress import Progress
    from slotwright.sharing.jobs import jobs
    from slotwright.sharing.many import make_many

    def folder_of(made: SetUp) -> tuple[Path, str]:
        folder = (out or made.root / "drawings") / made.name
        return folder, shown(folder)

    todo = list(jobs(list(dict.fromkeys(designs)), folder_of, load_scripts(scripts)))
    with Progress(designs[0].stem if len(todo) == 1 else f"{len(todo)} designs") as tell:
        outcomes = list(make_many(todo, tell, cluster))
    codes = [_tell_outcome(outcome, as_json) for outcome in outcomes]
    sys.exit(BAD_INPUT if BAD_INPUT in codes else max(codes))


def _tell_outcome(outcome: Outcome, as_json: bool) -> int:
    """Print what became of one design; return its exit code."""
    from dataclasses import replace

    from slotwright.sharing.lists import FINDINGS, findings_from

    if outcome.job is None or outcome.files is None:
        return _tell_error(outcome.error)
    made, files = outcome.job.made, outcome.files
    if as_json:
        click.echo(files[FINDINGS].decode(), nl=False)
    else:
        report(replace(made, findings=findings_from(files[FINDINGS])))
        click.echo(f"{outcome.job.shown_as}: {len(files)} files, content id {made.content_id}")
    return STOPPED if made.severity.value == "stop" else 0


@commands.command()
@click.argument("designs", nargs=-1, required=True, type=PATH, metavar="DESIGN.toml ...")
@click.option("--json", "as_json", is_flag=True, help="Print the findings as JSON.")
@allow_script
@click.option("--all", "everything", is_flag=True, help="Print fine findings too.")
def check(designs: tuple[Path, ...], as_json: bool, scripts: tuple[Path, ...], everything: bool) -> None:
    """Solve and check a design without making anything."""
    from slotwright.fixtures.scripted import load_scripts
    from slotwright.sharing.lists import findings_document
    from slotwright.sharing.set_up import set_up

    codes, scripted = [0], load_scripts(scripts)
    for design in designs:
        try:
            made = set_up(design, scripted)
        except SlotwrightError as error:
            codes.append(_tell_error(error))
            continue
        if as_json:
            click.echo(findings_document(made).decode(), nl=False)
        else:
            report(made, everything=everything)
        codes.append(STOPPED if made.severity.value == "stop" else 0)
    sys.exit(BAD_INPUT if BAD_INPUT in codes else max(codes))


def _tell_error(error: SlotwrightError | None) -> int:
    """Print why one of several cannot be used; return its exit code."""
    click.echo(f"slotwright: {printing(' '.join(str(error).split()))}", err=True)
    return BAD_INPUT


@commands.command()
@click.argument("files", nargs=-1, required=True, type=PATH, metavar="DRAWING.dxf ...")
@click.option("--json", "as_json", is_flag=True, help="Print what is found as JSON.")
def proof(files: tuple[Path, ...], as_json: bool) -> None:
    """Proof-read drawings: text on text, lines through text, crowded dimensions, anything outside the frame.

    It judges the DXF file alone. Places are mm from the lower left corner of the sheet.
    """
    from slotwright.sharing.proof_file import proof_file, proofs_document

    proofed = [proof_file(file, shown(file)) for file in files]
    if as_json:
        echo_json(proofs_document(proofed))
    else:
        for one in proofed:
            _report_proof(one)
    sys.exit(STOPPED if any(one.faults for one in proofed) else 0)


@commands.command()
@click.argument("kind")
@click.argument("file", required=False, type=PATH)
@click.option("--unit", type=click.Choice(["mm", "in"]), default="mm", show_default=True, help="Unit of the design.")
@click.option("--table", help="Name of a table in parts/; else the first there.")
def new(kind: str, file: Path | None, unit: str, table: str | None) -> None:
    """Write a starter design, or print it when no FILE is named.

    KIND is one of `slotwright kinds`, or table, rack or drawer for a file in parts/.
    """
    from pathlib import Path

    from slotwright.sharing.starters import PARTS, starter

    file = None if file is None else _design_name(file)
    folder = Path.cwd() if file is None else file.parent
    text = starter(kind, unit, table, folder)
    if file is None:
        click.echo(text, nl=False)
        return
    _write_new(file, text)
    then = f"`slotwright check {shown(file)}`" if kind not in PARTS else f'a design can say {kind} = "{file.stem}"'
    click.echo(f"{shown(file)}: written; edit it, then {then}")


@commands.command()
@click.option("--json", "as_json", is_flag=True, help="Print as JSON.")
def kinds(as_json: bool) -> None:
    """List what can be made."""
    from slotwright.fixtures.family import families

    if as_json:
        echo_json([{"kind": family.kind, "summary": family.summary} for family in families().values()])
        return
    for family in families().values():
        click.echo(f"{family.kind:16} {family.summary}")


@commands.command()
@click.argument("folder", default=HERE, type=PATH)
@click.option("--json", "as_json", is_flag=True, help="Print as JSON.")
def tables(folder: Path, as_json: bool) -> None:
    """List the tables in parts/ of a workspace."""
    from slotwright.sharing.table_list import table_rows

    rows = table_rows(folder)
    if as_json:
        echo_json(rows)
        return
    for row in rows:
        click.echo("{name:24} {title:34} {size:18} {slots}".format(**row))
    if not rows:
        click.echo(f"no tables in {shown(folder / 'parts')}; write one with `slotwright new table parts/NAME.toml`")


@commands.command()
@click.argument("designs", nargs=-1, required=True, type=PATH, metavar="DESIGN.toml ...")
@click.option("--out", type=PATH, help="Folder that takes NAME.zip; else shared/.")
def pack(designs: tuple[Path, ...], out: Path | None) -> None:
    """Pack a design for another shop: one zip with the design standing alone, drawings, solids and a card."""
    from slotwright.progress import Progress
    from slotwright.sharing.pack import pack as pack_design

    stopped = False
    for design in designs:
        with Progress(design.stem) as tell:
            packed, path = pack_design(design, out, shown, beside=True, tell=tell)
        report(packed.made)
        click.echo(f"{shown(path)}: {len(packed.files)} files, content id {packed.made.content_id}")
        stopped = stopped or packed.made.severity.value == "stop"
    sys.exit(STOPPED if stopped else 0)


@commands.command()
@click.argument("file", type=PATH)
@click.option("--trial", is_flag=True, help="Only look: list, verify, show the card; write nothing.")
@click.option("--into", type=PATH, default=HERE, help="A workspace; else the one you stand in.")
def receive(file: Path, trial: bool, into: Path) -> None:
    """Verify a pack from another shop, show its card, and unpack it under a free name."""
    from slotwright.sharing.receive import look_at, unpack, workspace_of

    received = look_at(file, shown(file))
    manifest = received.manifest
    for name, data in received.files.items():
        click.echo(f"{len(data):10}  {name}")
    click.echo(f"\n{received.card}")
    for note in received.notes:
        click.echo(f"note: {note}")
    click.echo(f"{shown(file)}: pack format {manifest.format}, sums agree, content id {received.made.content_id}")
    if not trial:
        unpacked = unpack(received, workspace_of(into))
        click.echo(f"{shown(unpacked.folder)}: the pack as it came, {len(received.files)} files")
        click.echo(f"{shown(unpacked.design)}: its design; `slotwright make` draws it here")
    sys.exit(STOPPED if received.made.severity.value == "stop" else 0)


@commands.command()
@click.argument("what", default="design", type=click.Choice(["design", "table", "rack", "drawer", "pack"]))
def schema(what: str) -> None:
    """Print the JSON Schema of a file, for editors that complete and check; `pack` is a pack's manifest."""
    from slotwright.sharing.starters import schema_of

    echo_json(schema_of(what))


def _report_proof(proofed: Proofed) -> None:
    """Print what was found on a drawing, one a line, and a closing count."""
    for one in proofed.violations:
        avoidable = " (better avoided)" if one.avoidable else ""
        click.echo(f"{proofed.file}: {one.place}: {one.sentence} [{one.kind.value}]{avoidable}")
    faults, better = len(proofed.faults), len(proofed.violations) - len(proofed.faults)
    click.echo(f"{proofed.file}: {faults} {'violation' if faults == 1 else 'violations'}, {better} better avoided")


def _design_name(file: Path) -> Path:
    """Give a file's name the ending that files here are found by. Errors: OutputError for another ending."""
    from slotwright.errors import OutputError

    if file.suffix == "" and file.name and not file.is_dir():
        return file.with_suffix(".toml")
    if file.suffix != ".toml":
        raise OutputError(shown(file), "does not end in .toml", f"name it like {shown(file.parent / 'NAME.toml')}")
    return file


def _write_new(file: Path, text: str) -> None:
    from slotwright.errors import OutputError
    from slotwright.sharing.output import write_new

    if not write_new(file, text.encode(), shown(file)):
        raise OutputError(shown(file), "is there already", "choose another name; nothing was overwritten")


for _command in cli_library.COMMANDS:
    commands.add_command(_command)


def main() -> None:
    """Run; whatever goes wrong ends in one line and a proper exit code."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a terminal without ⌀ shows ? rather than nothing
    interrupt = _Interrupt()
    try:
        commands.main(standalone_mode=False)
    except click.exceptions.Abort:
        _fail("interrupted; earlier output still stands", INTERRUPTED)
    except click.ClickException as error:
        error.show()
        sys.exit(error.exit_code)
    except KeyboardInterrupt:
        _fail("interrupted; earlier output still stands", INTERRUPTED)
    except BrokenPipeError:
        sys.stdout = open(os.devnull, "w")  # noqa: SIM115, PTH123  the reader went away; nothing is left to tell
        sys.exit(1)
    except SlotwrightError as error:
        _fail(str(error), BAD_INPUT)
    except OSError as error:
        _fail(f"cannot go on: {error.strerror or error}", 1)
    except Exception as error:  # the last resort: users get a line, developers ask for the trace
        if interrupt.came:
            _fail("interrupted; earlier output still stands", INTERRUPTED)
        if os.environ.get("SLOTWRIGHT_TRACE"):
            raise
        _fail(f"a fault in slotwright itself ({type(error).__name__}: {error}); run again with SLOTWRIGHT_TRACE=1", 1)


class _Interrupt:
    """Remembers that the user interrupted: a library caught in loading turns the interrupt into an error of its own."""

    def __init__(self) -> None:
        self.came = False
        if len(sys.argv) > 1 and not sys.argv[1].startswith("-"):  # help and version end too soon to be interrupted
            import signal

            signal.signal(signal.SIGINT, self._note)

    def _note(self, number: int, frame: FrameType | None) -> None:
        self.came = True
        raise KeyboardInterrupt


def _fail(message: str, code: int) -> None:
    click.echo(f"slotwright: {printing(' '.join(message.split()))}", err=True)
    sys.exit(code)
