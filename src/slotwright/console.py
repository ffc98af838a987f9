"""What commands print with: paths as the user would name them, findings a line each, JSON for programs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import click

from slotwright.errors import printing

if TYPE_CHECKING:
    from pathlib import Path

    from slotwright.findings import Finding
    from slotwright.sharing.set_up import SetUp

BAD_INPUT = 2
"""Exit code: something given cannot be used."""
STOPPED = 3
"""Exit code: a finding says stop."""


def shown(path: Path) -> str:
    """Name a path the way the user would: from where they stand, when it lies below."""
    from pathlib import Path

    try:
        return printing(path.resolve().relative_to(Path.cwd()).as_posix()) or "."
    except (ValueError, OSError):
        return printing(path.as_posix())


def echo_json(value: object) -> None:
    """Print a value as JSON."""
    import json

    click.echo(json.dumps(value, indent=2, ensure_ascii=False))


def report(made: SetUp, *, everything: bool = False) -> None:
    """Print the findings that matter, one a line, what is to be bought gathered at the end, and a closing count."""
    from slotwright.checks.supplies import SHOPPING, gathered

    for finding in made.findings if everything else gathered(made.findings, made.bench):
        if everything or finding.severity.value != "fine":
            click.echo(_line(finding, made.bench.unit))
    for note in _not_looked_for(made):
        click.echo(note)
    counts = {word: sum(f.severity.value == word for f in made.findings) for word in ("stop", "caution", "fine")}
    to_buy = sum(finding.code in SHOPPING for finding in made.findings)
    bought = {"caution": f" ({to_buy} to buy)"} if to_buy else {}
    closing = ", ".join(f"{number} {word}{bought.get(word, '')}" for word, number in counts.items())
    click.echo(f"{made.name}: {closing}")


def _not_looked_for(made: SetUp) -> Iterator[str]:
    """Say which lists of supplies a design names that are not there."""
    from slotwright.sharing.design_file import NO_LIST

    for what, named, found in (
        ("rack", made.design.rack, made.bench.rack),
        ("drawer", made.design.drawer, made.bench.drawer),
    ):
        if isinstance(named, str) and named != NO_LIST and found is None:
            where, aim = f"parts/{named}.toml", "stock was" if what == "rack" else "taps and reamers were"
            yield f"note: {where} is not there, so {aim} not looked for; `slotwright new {what} {where}` begins it"


def _line(finding: Finding, unit: str) -> str:
    from slotwright.sizes import say

    words = f"{finding.severity.value}: {finding.place}: {finding.message}"
    if finding.figure is not None:
        words += f" ({say(finding.figure.value, finding.figure.unit, unit)}"
        if finding.limit is not None:
            words += f", limit {say(finding.limit.value, finding.limit.unit, unit)}"
        words += ")"
    if finding.remedy:
        words += f"; {finding.remedy}"
    return f"{words} [{finding.code}; {finding.source}]"
