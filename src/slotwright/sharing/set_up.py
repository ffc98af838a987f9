"""A set-up: a design read, looked up, solved and checked; all that is written follows from it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from slotwright.checks.everything import check_everything, pieces_of
from slotwright.errors import DesignError, SlotwrightError, UnknownKindError
from slotwright.findings import Finding, Severity, worst
from slotwright.fixtures.bench import Bench
from slotwright.fixtures.family import Family, family_for
from slotwright.fixtures.layout import Layout, Solution
from slotwright.pieces.piece import Piece
from slotwright.records.parameters import ParameterError, Record, told_first
from slotwright.sharing.design_file import Design, content_id, read_design
from slotwright.sharing.outline_files import with_outlines
from slotwright.sharing.scripts import how_to_allow, without_scripts
from slotwright.sharing.standalone import alone
from slotwright.sharing.workspace import Workspace, resolve

MOST = {
    "holes in all its pieces": 2000,
    "pieces on all its tables": 400,
    "bought items on all its tables": 10_000,
}
"""How much one design may ask for; our choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUp:
    """One design, solved and checked.

    Attributes:
        name: the design file's stem; the output folder's name.
        root: the workspace's folder.
        design: as read.
        bench: the tables, supplies and work it was solved against.
        solution: pieces and lay-outs of all its fixtures.
        findings: of all checks.
        alone: the design with all that it names written in it.
        content_id: ten hex digits that stand in the number of every sheet.
    """

    name: str
    root: Path
    design: Design
    bench: Bench
    solution: Solution
    findings: tuple[Finding, ...]
    alone: Design
    content_id: str

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Every different piece, in the order of the design."""
        return pieces_of(self.solution)

    @property
    def layouts(self) -> tuple[Layout, ...]:
        """One lay-out a table."""
        return self.solution.layouts

    @property
    def severity(self) -> Severity:
        """The worst finding's severity."""
        return worst(self.findings)


def set_up(path: Path, scripted: tuple[Family, ...] = ()) -> SetUp:
    """Read, solve and check a design file; nothing heavy is loaded, unless by a script.

    Args:
        path: the design file.
        scripted: families of scripts that the user allowed for this run.

    Errors: DesignError for anything in the file or in the parts it names that cannot be.
    """
    shown_as = path.as_posix()
    try:
        design = read_design(path, shown_as, scripted)
    except UnknownKindError as error:
        raise how_to_allow(error, path) from None
    return set_up_of(design, Workspace.around(path), _output_name(path, shown_as), shown_as, scripted)


def set_up_of(
    design: Design, workspace: Workspace, name: str, shown_as: str, scripted: tuple[Family, ...] = ()
) -> SetUp:
    """Look up, solve and check a design that has been read.

    Args:
        design: as read.
        workspace: where the parts are that it names.
        name: for the output.
        shown_as: how errors name the design.
        scripted: families of scripts that the user allowed for this run.

    Errors: DesignError.
    """
    design = with_outlines(design, workspace.root, shown_as)
    resolved = resolve(design, workspace, shown_as)
    solution = solved(design, resolved.bench, shown_as, scripted)
    design = without_scripts(design, scripted, pieces_of(solution))
    resolved = replace(resolved, design=design)
    stands_alone = alone(resolved, pieces_of(solution))
    return SetUp(
        name=name,
        root=workspace.root,
        design=design,
        bench=resolved.bench,
        solution=solution,
        findings=check_everything(solution, resolved.bench),
        alone=stands_alone,
        content_id=content_id(stands_alone),
    )


def solved(design: Design, bench: Bench, shown_as: str, scripted: tuple[Family, ...] = ()) -> Solution:
    """Solve every fixture of a design and put them together. Errors: DesignError."""
    parts: list[Solution] = []
    for number, parameters in enumerate(design.fixture, 1):
        parts.append(_solved(parameters, bench, shown_as, number, scripted))
        _check_amount(parts, shown_as, number)
    by_table = zip(*(part.layouts for part in parts if part.layouts), strict=True)
    return Solution(
        layouts=tuple(_together(one_table) for one_table in by_table),
        loose=tuple(piece for part in parts for piece in part.loose),
        findings=tuple(finding for part in parts for finding in part.findings),
    )


def _solved(parameters: Record, bench: Bench, shown_as: str, number: int, scripted: tuple[Family, ...]) -> Solution:
    of_script = (family for family in scripted if family.parameters is type(parameters))
    family = next(of_script, None) or family_for(parameters)
    if family.needs_table and not bench.tables:
        raise DesignError(
            shown_as, "table", f"is missing; {family.kind} is solved for one", "name the table, or write it inline"
        )
    try:
        with told_first(bench.unit):
            return family.solve(parameters, bench)
    except ParameterError as error:
        raise DesignError(shown_as, f"fixture[{number}].{error.key}", error.problem, error.remedy) from None
    except DesignError:  # it names a script's line
        raise
    except SlotwrightError as error:
        raise DesignError(
            shown_as, f"fixture[{number}]", str(error), "choose what there is, or another table"
        ) from None


def _check_amount(parts: list[Solution], shown_as: str, number: int) -> None:
    """Refuse what no table holds and no check gets through in a moment, as soon as it is seen."""
    pieces = {piece for part in parts for piece in pieces_of(part)}
    layouts = [layout for part in parts for layout in part.layouts]
    found = {
        "holes in all its pieces": sum(len(piece.holes) for piece in pieces),
        "pieces on all its tables": sum(len(layout.pieces) for layout in layouts),
        "bought items on all its tables": sum(len(layout.hardware) for layout in layouts),
    }
    for what, count in found.items():
        if count > MOST[what]:
            raise DesignError(
                shown_as, f"fixture[{number}]", f"brings the design to {count} {what}, more than {MOST[what]}",
                "divide the design",
            )  # fmt: skip


def _together(layouts: Iterable[Layout]) -> Layout:
    first, *others = layouts
    for other in others:
        first = replace(
            first,
            pieces=first.pieces + other.pieces,
            hardware=first.hardware + other.hardware,
            joints=first.joints + other.joints,
            work_outlines=first.work_outlines + other.work_outlines,
            gauges=first.gauges + other.gauges,
            notes=first.notes + other.notes,
            findings=first.findings + other.findings,
        )
    return first


def _output_name(path: Path, shown_as: str) -> str:
    name = path.stem
    if (
        not name
        or name.startswith(".")
        or any(c in '<>:"/\\|?*' or not c.isprintable() for c in name)
        or len(name) > 100
    ):
        raise DesignError(shown_as, "", "has a name that not every system takes for a folder", "rename the file")
    return name
