"""Making a set-up's files: solids by the kernel, paper work beside it, all in one folder that appears whole."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from slotwright.errors import DesignError, OutputError
from slotwright.sharing import lists
from slotwright.sharing.interrupts import interrupts_held, leave_interrupts_to_parent
from slotwright.sharing.output import Outbox

if TYPE_CHECKING:
    from multiprocessing.connection import Connection

    from slotwright.drawings.paper.sheet import Drawing
    from slotwright.fixtures.layout import Layout
    from slotwright.sharing.set_up import SetUp

Files = dict[str, bytes]


def make(
    made: SetUp, folder: Path, shown_as: str, *, beside: bool = False, tell: Callable[[str], None] = print
) -> Files:
    """Write all files of a set-up into a folder, whole or not at all.

    Args:
        made: the set-up.
        folder: what to make or replace; files in it that are not ours stay.
        shown_as: how messages name the folder.
        beside: do the paper work in a second process while this one loads the kernel. Only for a program whose main
            module may be loaded again.
        tell: takes a word of progress before each long step.

    Returns:
        The files written, by name.

    Errors: OutputError.
    """
    with Outbox(folder, shown_as) as box:
        files = all_files(made, beside=beside, tell=tell)
        tell("writing")
        _fill(box, files)
    return files


def all_files(made: SetUp, *, beside: bool = False, tell: Callable[[str], None] = print) -> Files:
    """Return all files of a set-up by name, nothing written; arguments as in `make`."""
    files = work_out(made, _papers, beside=beside, tell=tell)
    files[lists.FINDINGS] = lists.with_sums(files)
    return files


def write(files: Files, folder: Path, shown_as: str) -> None:
    """Write files made elsewhere into a folder, whole or not at all. Errors: OutputError."""
    with Outbox(folder, shown_as) as box:
        _fill(box, files)


def _fill(box: Outbox, files: Files) -> None:
    for name, data in sorted(files.items()):
        box.write(name, data)
    box.finish(_made_before(box.folder))


def work_out(made: SetUp, paper: Callable[[SetUp], Files], *, beside: bool, tell: Callable[[str], None]) -> Files:
    """Return the solids' files and those of the paper work.

    Args:
        made: the set-up.
        paper: makes the paper work's files; a function of a module, so that another process can call it.
        beside, tell: as in `make`.
    """
    if beside and "OCP" not in sys.modules:
        return _beside(made, paper, tell)
    tell("drawing")
    files = paper(made)
    tell("building solids")
    return files | solid_files(made)


def _beside(made: SetUp, paper: Callable[[SetUp], Files], tell: Callable[[str], None]) -> Files:
    """Do the paper work in a process of its own, which is ended as soon as its files are here."""
    from multiprocessing import get_context

    context = get_context("spawn")
    papers, sender = context.Pipe(duplex=False)
    helper = context.Process(target=_send_papers, args=(sender, paper, made), daemon=True)
    try:
        with interrupts_held():
            helper.start()
        sender.close()
        tell("loading the CAD kernel, drawing beside it")
        solids = solid_files(made)
        tell("drawing")
        files: Files | Exception = papers.recv()
    except EOFError:
        raise OutputError(made.name, "was not drawn, for its process was ended from outside", "run again") from None
    finally:
        if helper.pid is not None:
            helper.kill()
            helper.join()
    if isinstance(files, Exception):
        raise files
    return files | solids


def _send_papers(sender: Connection, paper: Callable[[SetUp], Files], made: SetUp) -> None:
    leave_interrupts_to_parent()
    try:
        sender.send(paper(made))
    except Exception as error:  # noqa: BLE001  it is raised again where the user sees it
        sender.send(error)


def _made_before(folder: Path) -> tuple[str, ...]:
    """Names an earlier run wrote into the folder, by its own account."""
    with suppress(OSError, ValueError, AttributeError):
        return (*json.loads((folder / lists.FINDINGS).read_text(encoding="utf-8")).get("files", {}), lists.FINDINGS)
    return ()


def set_up_name(made: SetUp, layout: Layout) -> str:
    """Name the files of one table's lay-out."""
    return "set-up" if len(made.layouts) == 1 else f"set-up-{layout.table.name}"


def solid_files(made: SetUp) -> Files:
    """Build and write the solids; this loads the CAD kernel."""
    from slotwright.pieces.solid import Solids
    from slotwright.pieces.step import assembly_step, piece_step

    solids = Solids()
    files = {f"{piece.name}.step": piece_step(piece, solids) for piece in made.pieces}
    for layout in made.layouts:
        files[f"{set_up_name(made, layout)}.step"] = assembly_step(layout, made.design.title, solids)
    return files


def drawings_of(made: SetUp) -> dict[str, Drawing]:
    """Compose all drawings of a set-up, by the names of their files."""
    from slotwright.drawings.piece.piece_sheet import piece_drawing
    from slotwright.drawings.setup.setup_sheet import setup_drawing
    from slotwright.sharing.sheets import sheet_data, sheet_style

    data, style = sheet_data(made), sheet_style(made)
    drawings = {piece.name: piece_drawing(piece, data, style) for piece in made.pieces}
    return drawings | {set_up_name(made, layout): setup_drawing(layout, data, style) for layout in made.layouts}


def _papers(made: SetUp) -> Files:
    """Make the paper work's files and the findings."""
    drawings = drawings_of(made)
    return paper_files(made, drawings) | findings_file(made, drawings)


def findings_file(made: SetUp, drawings: dict[str, Drawing]) -> Files:
    """Return the file of all findings, those about the drawings among them."""
    from slotwright.drawings.proof import layout_findings

    told = replace(made, findings=(*made.findings, *layout_findings(drawings)))
    return {lists.FINDINGS: lists.findings_document(told)}


def paper_files(made: SetUp, drawings: dict[str, Drawing] | None = None) -> Files:
    """Compose and write drawings and lists; this loads the drawing and PDF libraries.

    Args:
        made: the set-up.
        drawings: its drawings, where they are composed already.

    Errors: DesignError when a drawing's further sheet would have the name of another drawing's file.
    """
    from slotwright.drawings.writers.dxf import dxf_bytes
    from slotwright.drawings.writers.pdf import pdf_bytes
    from slotwright.drawings.writers.svg import svg_bytes
    from slotwright.sharing.sheets import sheet_style

    unit, style = made.bench.unit, sheet_style(made)
    drawings = drawings if drawings is not None else drawings_of(made)
    _check_sheet_names({name: len(drawing.sheets) for name, drawing in drawings.items()}, made.name)
    files: Files = {}
    for name, drawing in drawings.items():
        files[f"{name}.dxf"] = dxf_bytes(drawing, style)
        files[f"{name}.pdf"] = pdf_bytes(drawing, style)
        for number in range(len(drawing.sheets)):
            files[f"{_sheet_name(name, number)}.svg"] = svg_bytes(drawing, style, number)
    for piece in made.pieces:
        files[f"{piece.name}-holes.csv"] = lists.hole_list(piece, unit)
        if piece.centre is not None:
            files[f"{piece.name}-from-centre.csv"] = lists.centre_list(piece, unit)
    files["cut-list.csv"] = lists.cut_list(made.pieces, unit)
    for layout in made.layouts:
        suffix = "" if len(made.layouts) == 1 else f"-{layout.table.name}"
        files[f"hardware{suffix}.csv"] = lists.hardware_list(layout)
    return files


def _sheet_name(name: str, number: int) -> str:
    """Name a drawing's sheet, counted from 0: a picture holds one sheet, so that a further one has its number."""
    return f"{name}-{number + 1}" if number else name


def _check_sheet_names(sheets: Mapping[str, int], design: str) -> None:
    """Refuse what would lose a sheet; how many there are shows only once they are drawn. Errors: DesignError."""
    for name, count in sheets.items():
        for number in range(1, count):
            if (taken := _sheet_name(name, number)) in sheets:
                raise DesignError(
                    design,
                    "",
                    f"makes {taken}.svg twice: of piece {taken}, and of sheet {number + 1} of {name}",
                    f"rename the piece {taken}",
                )
