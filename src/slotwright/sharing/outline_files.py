"""Outlines that a design takes from DXF files in parts/, put into it as corners so that it stands alone."""

from __future__ import annotations

from dataclasses import replace
from math import atan, degrees
from pathlib import Path
from typing import Any

from slotwright.errors import DesignError
from slotwright.fixtures.plate_outlines import PlateOutline
from slotwright.records import parameters as p
from slotwright.records.reading import Where, file_bytes
from slotwright.sharing.design_file import Design

MOST_BYTES = 500_000
_ARC_PLACES = 9


def with_outlines(design: Design, root: Path, shown_as: str) -> Design:
    """Return a design with the corners of each outline in place of its DXF file's name.

    Args:
        design: as read.
        root: the workspace's folder, where parts/ is.
        shown_as: how errors name the design.

    Errors: DesignError naming the file or the fixture's key.
    """
    fixtures = list(design.fixture)
    for number, fixture in enumerate(fixtures):
        outline = getattr(fixture, "outline", None)
        if isinstance(outline, PlateOutline) and outline.dxf is not None:
            where = Where(shown_as, f"fixture[{number + 1}].outline.dxf")
            fixtures[number] = _with_corners(fixture, outline, design.unit, root, where)
    return design if tuple(fixtures) == design.fixture else replace(design, fixture=tuple(fixtures))


def _with_corners(fixture: p.Record, outline: PlateOutline, unit: str, root: Path, where: Where) -> p.Record:
    # The drawing library takes a while to load: only when there is something to read with it.
    from slotwright.drawings.dxf_outline import DxfOutlineError, read_outline

    name = f"{outline.dxf}.dxf"
    here = Where(f"parts/{name}")
    data = file_bytes(root / "parts" / name, here, MOST_BYTES, "save the outline alone in a file")
    try:
        chain = read_outline(data, unit)
    except DxfOutlineError as error:
        raise here.error(error.problem, error.remedy) from None
    xs, ys = zip(*chain.points, strict=True)
    arcs = tuple(round(degrees(4.0 * atan(bulge)), _ARC_PLACES) for bulge in chain.bulges)
    try:
        corners = replace(outline, shape="corners", dxf=None, x=xs, y=ys, arc=arcs)
        return replace(fixture, outline=corners)  # type: ignore[call-arg]  # only fixtures with an outline come here
    except p.ParameterError as error:
        raise DesignError(here.file, "", error.problem, f"{error.remedy} ({where.key})") from None


def outline_data(outline: PlateOutline) -> dict[str, Any]:
    """Return an outline of corners as a design file writes it, to the digits its file was read to."""
    return {
        "shape": outline.shape,
        "x": [f"{x:.6f} mm" for x in outline.x],
        "y": [f"{y:.6f} mm" for y in outline.y],
        "arc": [f"{arc:.{_ARC_PLACES}f} deg" for arc in outline.arc],
    }
