"""Designs whose kinds come from scripts: how the user is told, and what is left of them when the script has run."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path

from slotwright.errors import UnknownKindError
from slotwright.fixtures.family import Family
from slotwright.pieces.piece import Piece
from slotwright.pieces.script_piece import ScriptPiece
from slotwright.records import parameters as p
from slotwright.sharing.design_file import Design
from slotwright.sharing.roots import workspace_root

_LISTED = 5  # scripts named in a message; our choice


@dataclass(frozen=True, slots=True, kw_only=True)
class ScriptFixture(p.Record):
    """Stands for a script's own record once it is solved: plain data, which a process without the script can read."""

    kind: str = p.text("the kind that the script defines", required=True)
    name: str = p.text("of the fixture", required=True)
    values: str = p.text("of the parameters", required=True)
    solids: str = p.text("digest of the pieces that all scripts made of the design", required=True)


def without_scripts(design: Design, scripted: tuple[Family, ...], pieces: Iterable[Piece]) -> Design:
    """Return a solved design with plain data in place of scripts' records.

    The pieces stand in the data by their digest, so that the content id changes with what a script makes.
    """
    kinds = {family.parameters: family.kind for family in scripted}
    if not any(type(fixture) in kinds for fixture in design.fixture):
        return design
    made = sha256("".join(piece.digest for piece in pieces if isinstance(piece, ScriptPiece)).encode()).hexdigest()
    fixtures = [
        _plain(fixture, kinds[type(fixture)], made) if type(fixture) in kinds else fixture for fixture in design.fixture
    ]
    return replace(design, fixture=tuple(fixtures))


def _plain(fixture: p.Record, kind: str, made: str) -> ScriptFixture:
    values = {key: value for key, _, value in p.entries(fixture)}
    written = json.dumps(values, sort_keys=True, default=repr)
    return ScriptFixture(kind=kind, name=str(values["name"]), values=written, solids=made)


def how_to_allow(error: UnknownKindError, design: Path) -> UnknownKindError:
    """Return the error with word of the scripts that may define the kind, where there are any."""
    scripts = _scripts_near(design)
    if not scripts:
        return error
    there = ", ".join(path.name for path in scripts[:_LISTED])
    remedy = (
        f"{error.remedy}; if a script defines it ({there}), read that and allow it: "
        f"--allow-script {scripts[0].as_posix()}"
    )
    return UnknownKindError(error.file, error.key, error.problem, remedy)


def not_packed(error: UnknownKindError, design: Path) -> UnknownKindError:
    """Return the error with word that packs hold no scripts, where one may define the kind."""
    if not _scripts_near(design):
        return error
    remedy = "a kind that a script defines is not packed, for packs carry no programs: share its drawings and solids"
    return UnknownKindError(error.file, error.key, error.problem, remedy)


def not_run(error: UnknownKindError, design: Path) -> UnknownKindError:
    """Return the error with word that a search runs no scripts, where one may define the kind."""
    if not _scripts_near(design):
        return error
    remedy = "a script may define it; a search runs none, and goes by what the file says"
    return UnknownKindError(error.file, error.key, error.problem, remedy)


def _scripts_near(design: Path) -> list[Path]:
    """Scripts beside a design, and in fixtures/ of its workspace, none opened."""
    fixtures = workspace_root(design.resolve().parent) / "fixtures"
    folders = [design.parent] if design.resolve().parent == fixtures else [design.parent, fixtures]
    return [path for folder in folders for path in sorted(folder.glob("*.py"))]
