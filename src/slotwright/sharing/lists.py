"""Lists a shop reads in a spreadsheet: hole table, cut list, hardware list; and the findings for programs."""

from __future__ import annotations

import csv
import io
import json
import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from hashlib import sha256
from math import atan2, degrees, hypot
from typing import Any
from unicodedata import normalize

from slotwright import __version__, sizes
from slotwright.findings import Figure, Finding, Severity
from slotwright.fixtures.layout import Layout
from slotwright.pieces.features import Hole
from slotwright.pieces.hole_groups import tagged_holes
from slotwright.pieces.piece import Piece
from slotwright.sharing.set_up import SetUp

FINDINGS = "findings.json"
PLACES = {"mm": 6, "in": 8}
"""Decimals of a coordinate, so that a value read back is true to a millionth of a mm."""
_NUMBER = re.compile(r"-?[0-9]+(?:\.[0-9]+)?", re.ASCII)


def table(rows: Iterable[Sequence[str]]) -> bytes:
    """Write rows as CSV; text that a spreadsheet would take for a formula is made plain."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    for row in rows:
        writer.writerow([_plain(cell) for cell in row])
    return stream.getvalue().encode()


def _plain(cell: str) -> str:
    return "'" + cell if is_formula(cell) else cell


def is_formula(cell: str) -> bool:
    """Say whether a spreadsheet would take a cell for a formula; signs of full width count too."""
    return normalize("NFKC", cell).lstrip()[:1] in ("=", "+", "-", "@") and not _NUMBER.fullmatch(cell)


def exact(mm: float, unit: str) -> str:
    """Write a length for a program or a readout, in full."""
    return sizes.decimals(sizes.in_unit(mm, "mm", unit), PLACES[unit])


def hole_list(piece: Piece, unit: str) -> bytes:
    """Return the hole table of a piece; X and Y from its datum corner, along the two axes of the hole's face.

    Countersinks have columns of their own where the piece has any, revisions one where any hole was changed.
    """
    head: tuple[str, ...] = (
        "tag", f"x_{unit}", f"y_{unit}", "face", "kind", f"diameter_{unit}", f"depth_{unit}", "thread",
        f"thread_depth_{unit}", f"counterbore_{unit}", f"counterbore_depth_{unit}", f"slot_extra_{unit}",
        f"position_tolerance_{unit}", "for", "tables",
    )  # fmt: skip
    rows: list[tuple[str, ...]] = [_hole_row(tagged.tag, tagged.hole, unit) for tagged in tagged_holes(piece)]
    if any(hole.countersink is not None for hole in piece.holes):
        head = (*head, f"countersink_{unit}", "countersink_angle_deg")
        sinks = [_sink_cells(tagged.hole, unit) for tagged in tagged_holes(piece)]
        rows = [(*row, *cells) for row, cells in zip(rows, sinks, strict=True)]
    if any(hole.revised for hole in piece.holes):
        head = (*head, "revision")
        rows = [(*row, tagged.hole.revised) for row, tagged in zip(rows, tagged_holes(piece), strict=True)]
    return table([head, *rows])


def _sink_cells(hole: Hole, unit: str) -> tuple[str, str]:
    sink = hole.countersink
    return ("", "") if sink is None else (exact(sink.diameter, unit), sizes.decimals(sink.angle, 6))


def centre_list(piece: Piece, unit: str) -> bytes:
    """Return where the upright holes of a piece stand from its centre, in X/Y and polar, as a readout takes them.

    X to the right and Y up in the plan; angles counter-clockwise from X. Errors: ValueError when it has no centre.
    """
    if piece.centre is None:
        raise ValueError(f"{piece.name} has no centre to list its holes from")
    head = ("tag", f"x_{unit}", f"y_{unit}", f"radius_{unit}", "angle_deg")
    rows = []
    for tagged in tagged_holes(piece):
        if not tagged.hole.face.upright:
            x, y = tagged.hole.x - piece.centre[0], tagged.hole.y - piece.centre[1]
            radius, angle = hypot(x, y), round(degrees(atan2(y, x)), 8) % 360.0
            placed = (*(exact(size, unit) for size in (x, y, radius)), sizes.decimals(angle, 8))
            rows.append((tagged.tag, *placed))
    return table([head, *rows])


def _hole_row(tag: str, hole: Hole, unit: str) -> tuple[str, ...]:
    def size(value: float | None) -> str:
        return "" if value is None else exact(value, unit)

    bore = hole.counterbore
    return (
        tag,
        size(hole.x),
        size(hole.y),
        hole.face.value,
        _kind(hole),
        size(hole.diameter),
        "through" if hole.depth is None else size(hole.depth),
        "" if hole.thread is None else hole.thread.designation,
        size(hole.thread_depth),
        size(bore.diameter if bore else None),
        size(bore.depth if bore else None),
        size(hole.slot_extra or None),
        size(hole.position_tolerance),
        hole.purpose.value,
        " ".join(hole.tables),
    )


def _kind(hole: Hole) -> str:
    if hole.thread is not None:
        return "tapped"
    if hole.ream is not None:
        return f"reamed {hole.ream.tolerance}"
    return "slotted" if hole.slot_extra else "drilled"


def cut_list(pieces: Iterable[Piece], unit: str) -> bytes:
    """Return what to saw: section, material, cut and finished length, how many, mass of one finished piece."""
    mass_unit = "lb" if unit == "in" else "kg"
    head = ("piece", "quantity", "stock", "material", f"cut_length_{unit}", f"finished_length_{unit}",
            f"width_{unit}", f"thickness_{unit}", f"mass_{mass_unit}")  # fmt: skip
    rows = [_cut_row(piece, unit, mass_unit) for piece in pieces if piece.sawn]
    return table([head, *rows])


def _cut_row(piece: Piece, unit: str, mass_unit: str) -> tuple[str, ...]:
    """One piece's row; what stands out of its blank must be in the section that is sawn."""
    length, width, thickness = piece.sides
    return (
        piece.name,
        str(piece.quantity),
        piece.stock,
        piece.material.name,
        _sawn(piece.cut_length, unit),
        _sawn(length, unit),
        _sawn(width, unit),
        _sawn(thickness, unit),
        sizes.decimals(sizes.in_unit(piece.mass, "kg", mass_unit), 3),
    )


def _sawn(mm: float, unit: str) -> str:
    return sizes.decimals(sizes.in_unit(mm, "mm", unit), 2 if unit == "mm" else 4)


def hardware_list(layout: Layout) -> bytes:
    """Return what to take from the drawer or buy for one table."""
    counted = Counter(placed.item for placed in layout.hardware)
    head = ("item", "size", "standard", "quantity", "note")
    rows = [(item.kind, item.size, item.standard, str(number), item.note) for item, number in counted.items()]
    return table([head, *rows])


def with_sums(files: Mapping[str, bytes]) -> bytes:
    """Return the findings document among files with the sums of all the others; it cannot hold its own."""
    document = json.loads(files[FINDINGS])
    document["files"] = {name: sha256(data).hexdigest() for name, data in sorted(files.items()) if name != FINDINGS}
    return _json(document)


def findings_from(document: bytes) -> tuple[Finding, ...]:
    """Return the findings that a document of ours holds."""
    return tuple(
        Finding(
            **{key: entry[key] for key in ("code", "place", "message", "rule", "source", "remedy")},
            severity=Severity(entry["severity"]),
            figure=_figure_from(entry["figure"]),
            limit=_figure_from(entry["limit"]),
        )
        for entry in json.loads(document)["findings"]
    )


def _figure_from(data: dict[str, Any] | None) -> Figure | None:
    return None if data is None else Figure(value=data["value"], unit=data["unit"])


def finding_data(finding: Finding, unit: str) -> dict[str, Any]:
    """Return one finding for a program; figures in the program's base unit and as a person reads them."""
    return {
        "code": finding.code,
        "severity": finding.severity.value,
        "place": finding.place,
        "message": finding.message,
        "figure": _figure_data(finding.figure, unit),
        "limit": _figure_data(finding.limit, unit),
        "rule": finding.rule,
        "source": finding.source,
        "remedy": finding.remedy,
    }


def _figure_data(figure: Figure | None, unit: str) -> dict[str, Any] | None:
    if figure is None:
        return None
    return {"value": round(figure.value, 9), "unit": figure.unit, "text": sizes.say(figure.value, figure.unit, unit)}


def findings_document(made: SetUp) -> bytes:
    """Return all findings as JSON; `with_sums` adds the sums of the files they belong to."""
    document = {
        "slotwright": __version__,
        "design": made.name,
        "title": made.design.title,
        "content-id": made.content_id,
        "worst": made.severity.value,
        "findings": [finding_data(finding, made.bench.unit) for finding in made.findings],
    }
    return _json(document)


def _json(document: dict[str, Any]) -> bytes:
    return (json.dumps(document, indent=2, ensure_ascii=False) + "\n").encode()
