"""A set-up: a design read, looked up, solved and checked; all that is written follows from it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from slotwright.checks.everything import check_everything
from slotwright.errors import DesignError, SlotwrightError
from slotwright.findings import Finding, Severity, worst
from slotwright.fixtures.bench import Bench
from slotwright.fixtures.family import families
from slotwright.fixtures.layout import Layout
from slotwright.pieces.piece import Piece
from slotwright.records.parameters import ParameterError
from slotwright.sharing.design_file import Design, content_id, read_design
from slotwright.sharing.workspace import Workspace, resolve


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUp:
    """One design, solved and checked.

    Attributes:
        name: the design file's stem; the output folder's name.
        root: the workspace's folder.
        design: as read.
        bench: the tables, supplies and work it was solved against.
        layouts: one a table.
        findings: of all checks.
        content_id: ten hex digits that stand on every sheet.
    """

    name: str
    root: Path
    design: Design
    bench: Bench
    layouts: tuple[Layout, ...]
    findings: tuple[Finding, ...]
    content_id: str

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Every different piece, in the order of the design."""
        return tuple(dict.fromkeys(placed.piece for layout in self.layouts for placed in layout.pieces))

    @property
    def severity(self) -> Severity:
        """The worst finding's severity."""
        return worst(self.findings)


def set_up(path: Path) -> SetUp:
    """Read, solve and check a design file; nothing heavy is loaded.

    Errors: DesignError for anything in the file or in the parts it names that cannot be.
    """
    shown_as = path.as_posix()
    design = read_design(path, shown_as)
    workspace = Workspace.around(path)
    resolved = resolve(design, workspace, shown_as)
    layouts = solved(design, resolved.bench, shown_as)
    return SetUp(
        name=_output_name(path, shown_as),
        root=workspace.root,
        design=design,
        bench=resolved.bench,
        layouts=layouts,
        findings=check_everything(layouts, resolved.bench),
        content_id=content_id(*resolved.records),
    )


def solved(design: Design, bench: Bench, shown_as: str) -> tuple[Layout, ...]:
    """Solve every fixture of a design and put them together, one lay-out a table. Errors: DesignError."""
    by_kind = {family.parameters: family for family in families().values()}
    parts: list[tuple[Layout, ...]] = []
    for number, parameters in enumerate(design.fixture, 1):
        try:
            parts.append(by_kind[type(parameters)].solve(parameters, bench))
        except ParameterError as error:
            raise DesignError(shown_as, f"fixture[{number}].{error.key}", error.problem, error.remedy) from None
        except SlotwrightError as error:
            raise DesignError(
                shown_as, f"fixture[{number}]", str(error), "choose what there is, or another table"
            ) from None
    return tuple(_together(one_table) for one_table in zip(*parts, strict=True))


def _together(layouts: Iterable[Layout]) -> Layout:
    first, *others = layouts
    for other in others:
        first = replace(
            first,
            pieces=first.pieces + other.pieces,
            hardware=first.hardware + other.hardware,
            joints=first.joints + other.joints,
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
