"""Packing a design for another shop: one zip with the design standing alone, its drawings, solids, card and sums."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable
from pathlib import Path

from slotwright import __version__
from slotwright.errors import OutputError, UnknownKindError
from slotwright.records.reading import Where, file_bytes, parsed, plain_name
from slotwright.sharing import lists
from slotwright.sharing import pack_format as form
from slotwright.sharing.card import card_of, card_text
from slotwright.sharing.design_file import design_from
from slotwright.sharing.lists import FINDINGS
from slotwright.sharing.make import Files, drawings_of, findings_file, paper_files, work_out
from slotwright.sharing.output import write_whole
from slotwright.sharing.received import Received, read_pack
from slotwright.sharing.scripts import not_packed
from slotwright.sharing.set_up import SetUp, set_up, set_up_of
from slotwright.sharing.standalone import alone_text
from slotwright.sharing.workspace import NOWHERE
from slotwright.sharing.zip_safety import MOST_PACKED

EPOCH = (1980, 1, 1, 0, 0, 0)
"""The earliest time a zip file can name: a pack says nothing of when it was made."""
PLAIN_FILE = 0x20
"""The attributes of a plain file (APPNOTE.TXT 4.4.15, as MS-DOS has them); the library makes up others for 0."""


def pack(
    design: Path, target: Path | None, shown: Callable[[Path], str], *, beside: bool, tell: Callable[[str], None]
) -> tuple[Received, Path]:
    """Pack a design file.

    Args:
        design: the design file.
        target: folder that takes NAME.zip, or None for shared/ of the design's workspace.
        shown: names a path the way the user would.
        beside, tell: as in `make`.

    Returns:
        The pack as a receiver will read it, and where it is.

    Errors: DesignError, OutputError.
    """
    try:
        made = set_up(design)
    except UnknownKindError as error:
        raise not_packed(error, design) from None
    plain_name(made.name, Where(design.as_posix()))
    path = (target or made.root / "shared") / f"{made.name}.zip"
    _check_free(path, made.name, shown(path))
    data = pack_bytes(design, made, beside=beside, tell=tell)
    tell("reading it as a receiver will")
    received = read_pack(data, shown(path))
    tell("writing")
    write_whole(path, data, shown(path))
    return received, path


def pack_bytes(design: Path, made: SetUp, *, beside: bool, tell: Callable[[str], None]) -> bytes:
    """Return the zip of a design; the same design gives the same bytes.

    Everything in it is made from the design as it stands alone, which is all a receiver has.
    """
    text = alone_text(design, made.alone).encode()
    shown_as = f"{design.as_posix()}, standing alone"
    read = design_from(parsed(text, Where(shown_as)), shown_as)
    packed = set_up_of(read, NOWHERE, made.name, shown_as)
    files = work_out(packed, _paper, beside=beside, tell=tell)
    contents = {form.DESIGN: text}
    contents |= {name: files.pop(name) for name in (form.CARD_TEXT, form.CARD_SHEET)}
    files[FINDINGS] = lists.with_sums(files)
    contents |= {f"{form.PAPERS}{name}": data for name, data in sorted(files.items())}
    return _zipped({form.MANIFEST: form.manifest_bytes(_manifest(packed, contents)), **contents})


def _paper(made: SetUp) -> Files:
    """Make drawings, lists, findings and card."""
    from slotwright.drawings.writers.pdf import pdf_bytes
    from slotwright.sharing.card_sheet import card_drawing
    from slotwright.sharing.sheets import sheet_data, sheet_style

    drawings, card, style = drawings_of(made), card_of(made), sheet_style(made)
    sheet = card_drawing(card, drawings, sheet_data(made), style)
    return {
        **paper_files(made, drawings),
        **findings_file(made, drawings),
        form.CARD_TEXT: card_text(card).encode(),
        form.CARD_SHEET: pdf_bytes(sheet, style),
    }


def _manifest(made: SetUp, contents: Files) -> form.Manifest:
    sharing = made.design.sharing
    return form.Manifest(
        format=form.VERSION,
        program=__version__,
        name=made.name,
        title=made.design.title,
        content_id=made.content_id,
        author=sharing.author,
        licence=sharing.licence,
        files=tuple(form.packed_file(name, data) for name, data in contents.items()),
    )


def _zipped(contents: Files) -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as archive:
        for name, data in contents.items():
            entry = zipfile.ZipInfo(name, EPOCH)
            entry.create_system = 0  # else it would tell which system packed it
            entry.external_attr = PLAIN_FILE
            entry.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(entry, data, compresslevel=9)
    return stream.getvalue()


def _check_free(path: Path, name: str, shown_as: str) -> None:
    """A pack of this design may be replaced; anything else of its name is somebody's own. Errors: OutputError."""
    if not path.exists():
        return
    try:
        there = read_pack(file_bytes(path, Where(shown_as), MOST_PACKED, "move it away"), shown_as).manifest.name
    except ValueError:
        there = ""
    if there != name:
        raise OutputError(shown_as, "is there and is no pack of this design", "move it away; nothing was overwritten")
