"""Reading DXF files by GDAL (through pyogrio), a reader that shares nothing with the writer."""

from __future__ import annotations

import tempfile
from pathlib import Path

import numpy as np
import pyogrio.raw
from numpy.typing import NDArray


def circles(dxf: bytes) -> list[tuple[float, float, float]]:
    """Centre x, y and radius of every full circle in model space, in the file's unit.

    GDAL hands circles over as closed lines of points that lie on them.
    """
    found = []
    for points in closed_lines(dxf):
        if len(points) < 16:
            continue
        middle = (points[:-1].max(axis=0) + points[:-1].min(axis=0)) / 2.0
        radii = np.linalg.norm(points - middle, axis=1)
        if np.ptp(radii) < 1e-7 * radii.max() + 1e-9:
            found.append((float(middle[0]), float(middle[1]), float(radii.mean())))
    return found


def closed_lines(dxf: bytes) -> list[NDArray[np.float64]]:
    """Points of every closed line string."""
    lines = []
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "drawing.dxf"
        path.write_bytes(dxf)
        _, _, geometries, _ = pyogrio.raw.read(path)
    for blob in geometries:
        points = _points(bytes(blob))
        if points is not None and len(points) > 3 and np.allclose(points[0], points[-1], atol=1e-9):
            lines.append(points)
    return lines


def _points(wkb: bytes) -> NDArray[np.float64] | None:
    """Points of a WKB line string in two or three dimensions; None for anything else."""
    order = "<" if wkb[0] == 1 else ">"
    kind = int(np.frombuffer(wkb, f"{order}u4", 1, 1)[0])
    dimensions = 3 if kind & 0x80000000 or kind // 1000 == 1 else 2
    if (kind & 0xFF) % 1000 != 2:
        return None
    count = int(np.frombuffer(wkb, f"{order}u4", 1, 5)[0])
    flat = np.frombuffer(wkb, f"{order}f8", count * dimensions, 9)
    return np.asarray(flat.reshape(count, dimensions)[:, :2])
