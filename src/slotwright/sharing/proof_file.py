"""Proof-reading a drawing's file, for the command line."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from slotwright.drawings.proofing.violation import Violation
from slotwright.errors import DesignError

MOST_BYTES = 200_000_000
OURS = "name a .dxf file that `slotwright make` wrote"


@dataclass(frozen=True, slots=True)
class Proofed:
    """A drawing that was proof-read.

    Attributes:
        file: as the user named it.
        violations: what was found, sheet by sheet.
    """

    file: str
    violations: tuple[Violation, ...]

    @property
    def faults(self) -> tuple[Violation, ...]:
        """Those that are more than better avoided."""
        return tuple(one for one in self.violations if not one.avoidable)


def proof_file(path: Path, shown_as: str) -> Proofed:
    """Proof-read one file. Errors: DesignError when it is missing, no DXF file, or not one of ours."""
    data = _read(path, shown_as)
    # The drawing library takes a while to load: only when there is something to read with it.
    from slotwright.drawings.proof import proof
    from slotwright.drawings.proofing.reading import NotADrawingError

    try:
        return Proofed(shown_as, proof(data))
    except NotADrawingError as error:
        raise DesignError(shown_as, "", error.problem, error.remedy) from None


def _read(path: Path, shown_as: str) -> bytes:
    if path.is_dir():
        raise DesignError(shown_as, "", "is a folder, not a file", "name the DXF files in it")
    try:
        with path.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise DesignError(shown_as, "", "is not there", OURS) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "the name is not usable"
        raise DesignError(shown_as, "", f"cannot be read ({reason})", "check the file and its permissions") from None
    if len(data) > MOST_BYTES:
        raise DesignError(shown_as, "", f"is larger than {MOST_BYTES} bytes", OURS)
    return data


def proofs_document(proofed: Iterable[Proofed]) -> list[dict[str, Any]]:
    """Return what was found as plain values for JSON; lengths are mm."""
    return [
        {
            "file": one.file,
            "violations": [_entry(violation) for violation in one.faults],
            "better-avoided": [_entry(violation) for violation in one.violations if violation.avoidable],
        }
        for one in proofed
    ]


def _entry(violation: Violation) -> dict[str, Any]:
    return {
        "kind": violation.kind.value,
        "sheet": violation.sheet,
        "at": list(violation.at),
        "zone": violation.zone,
        "what": violation.what,
        "against": violation.against,
        "clear": violation.clear,
        "wanted": violation.wanted,
        "message": violation.sentence,
    }
