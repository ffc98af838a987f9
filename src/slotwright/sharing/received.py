"""A pack from outside, read and verified in memory: nothing in it is believed before it has been checked."""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256

from slotwright.records.reading import MOST_BYTES, Where, parsed
from slotwright.sharing import pack_format as form
from slotwright.sharing.card import card_of, card_text
from slotwright.sharing.design_file import design_from
from slotwright.sharing.paper_safety import look_through, plain_text
from slotwright.sharing.set_up import SetUp, set_up_of
from slotwright.sharing.standalone import check_alone
from slotwright.sharing.workspace import NOWHERE
from slotwright.sharing.zip_safety import read_zip

_REMEDY = "ask the sender for the pack again"


@dataclass(frozen=True, slots=True, kw_only=True)
class Received:
    """A pack that is as it says.

    Attributes:
        manifest: what it says of itself.
        files: every file by name, in the pack's order, the manifest first.
        made: its design, solved and checked here.
        card: the card, written anew from the design.
        notes: what the user should know.
    """

    manifest: form.Manifest
    files: dict[str, bytes]
    made: SetUp
    card: str
    notes: tuple[str, ...]


def read_pack(data: bytes, shown_as: str) -> Received:
    """Read and verify a pack.

    Args:
        data: the zip file's bytes.
        shown_as: how errors name the file.

    Errors: DesignError for the first thing that is not as it should be.
    """
    where = Where(shown_as)
    files = read_zip(data, where, form.name_problem)
    if next(iter(files)) != form.MANIFEST:
        raise where.error(f"does not begin with {form.MANIFEST}, so it is no pack", "name a pack")
    for name in (form.MANIFEST, form.DESIGN):
        if len(files.get(name, b"")) > MOST_BYTES:
            raise where.at(name).error(f"is larger than {MOST_BYTES} bytes", _REMEDY)
    manifest, notes = form.read_manifest(files[form.MANIFEST], shown_as)
    _verify(manifest, files, where)
    look_through(files, where)
    made = _solved(manifest, files[form.DESIGN], shown_as)
    card = card_text(card_of(made))
    return Received(
        manifest=manifest, files=files, made=made, card=card, notes=(*notes, *_differences(manifest, files, made, card))
    )


def _verify(manifest: form.Manifest, files: dict[str, bytes], where: Where) -> None:
    """See that the pack holds what its manifest lists, in its order, byte for byte, and nothing else."""
    listed = [file.name for file in manifest.files]
    for name in files:
        if name != form.MANIFEST and name not in listed:
            raise where.at(name).error("is not listed in the manifest", _REMEDY)
    for file in manifest.files:
        here = where.at(file.name)
        if file.name not in files:
            raise here.error("is listed in the manifest but is not there", _REMEDY)
        if len(files[file.name]) != file.size or sha256(files[file.name]).hexdigest() != file.sha256:
            raise here.error("is not the file the manifest lists: its sum is another", _REMEDY)
    if [form.MANIFEST, *listed] != list(files):
        raise where.error("has its files in another order than its manifest lists", _REMEDY)


def _solved(manifest: form.Manifest, data: bytes, shown_as: str) -> SetUp:
    """Read, solve and check the design, which must stand alone and be the one the manifest speaks of."""
    inside = f"{shown_as}: {form.DESIGN}"
    plain_text(data, Where(shown_as, form.DESIGN))
    design = design_from(parsed(data, Where(inside)), inside)
    check_alone(design, inside)
    for key, given, listed in (
        ("title", design.title, manifest.title),
        ("sharing.author", design.sharing.author, manifest.author),
        ("sharing.licence", design.sharing.licence, manifest.licence),
    ):
        if given != listed:
            raise Where(inside, key).error("is not what the manifest says", _REMEDY)
    return set_up_of(design, NOWHERE, manifest.name, inside)


def _differences(manifest: form.Manifest, files: dict[str, bytes], made: SetUp, card: str) -> list[str]:
    """Tell what this program reads out of the design otherwise than the one that packed it did."""
    found = []
    if made.content_id != manifest.content_id:
        found.append(
            f"the manifest says content id {manifest.content_id}, this program's reading of the design is "
            f"{made.content_id}: go by drawings made here, not by those in the pack"
        )
    if files[form.CARD_TEXT] != card.encode():
        found.append(f"{form.CARD_TEXT} in the pack says something else than the card above, which is the design's own")
    return found
