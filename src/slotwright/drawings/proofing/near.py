"""How near lines come to lettering: pairs found through a grid, distances exact, all in arrays."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from slotwright.drawings.proofing.paper import Floats, Lettered, Lines, Numbers

CELL = 8.0  # side of the grid's squares, and the greatest length of a piece of line in it, mm
Flags: TypeAlias = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Pieces:
    """Lines cut to pieces no longer than a cell, sorted by the cell that holds their middle.

    Attributes:
        ends: x0, y0, x1, y1.
        row: the line each is a piece of.
        cell: number of its cell, rising.
        low, columns: lower left corner of the grid, and how many cells lie side by side.
    """

    ends: Floats
    row: Numbers
    cell: Numbers
    low: Floats
    columns: int
    rows: int


def pieces(lines: Lines) -> Pieces:
    """Cut and sort lines."""
    ends = lines.ends
    steps = ends[:, 2:] - ends[:, :2]
    count = np.maximum(1, np.ceil(np.hypot(steps[:, 0], steps[:, 1]) / CELL)).astype(np.int64)
    row = np.repeat(np.arange(len(ends)), count)
    part = _count_up(count)
    share = np.stack((part / count[row], (part + 1) / count[row]), axis=1)
    start, step = ends[row, :2], steps[row]
    cut = np.hstack((start + step * share[:, :1], start + step * share[:, 1:]))
    middle = (cut[:, :2] + cut[:, 2:]) / 2.0
    low = middle.min(axis=0) if len(cut) else np.zeros(2)
    where = np.floor((middle - low) / CELL).astype(np.int64)
    columns, rows = (int(n) + 1 for n in (where.max(axis=0) if len(cut) else (0, 0)))
    cell = where[:, 1] * columns + where[:, 0]
    order = np.argsort(cell, kind="stable")
    return Pieces(cut[order], row[order], cell[order], low, columns, rows)


def near(texts: Sequence[Lettered], reach: Floats, sorted_pieces: Pieces) -> tuple[Numbers, Numbers]:
    """Return pairs (text, piece) that may be within reach of each other; every pair that is, is among them.

    Args:
        texts: lettering.
        reach: for each text, how far from its box, mm.
        sorted_pieces: what may be near.
    """
    corners = np.array([text.corners() for text in texts])
    margin = (reach + CELL / 2.0)[:, None]  # a piece's end is half its length from its middle at most
    first = np.floor((corners.min(axis=1) - margin - sorted_pieces.low) / CELL).astype(np.int64)
    last = np.floor((corners.max(axis=1) + margin - sorted_pieces.low) / CELL).astype(np.int64)
    most = np.array((sorted_pieces.columns - 1, sorted_pieces.rows - 1))
    first, last = np.clip(first, 0, most + 1), np.clip(last, -1, most)
    bands = np.maximum(0, last[:, 1] - first[:, 1] + 1)
    text = np.repeat(np.arange(len(texts)), bands)
    band = first[text, 1] + _count_up(bands)
    begin = np.searchsorted(sorted_pieces.cell, band * sorted_pieces.columns + first[text, 0], "left")
    end = np.searchsorted(sorted_pieces.cell, band * sorted_pieces.columns + last[text, 0], "right")
    found = np.maximum(0, end - begin)
    return np.repeat(text, found), np.repeat(begin, found) + _count_up(found)


def distances(boxes: Floats, ends: Floats) -> tuple[Floats, Floats]:
    """Return how far each straight piece is from its rectangle, 0 where they meet, and the piece's nearest point.

    Args:
        boxes: a row for each pair: x, y, cosine and sine of the angle; then u0, v0, u1, v1 in the turned frame.
        ends: x0, y0, x1, y1 of the piece.

    Returns:
        Distances, mm; points x, y on the pieces.
    """
    a, b = _turned(boxes, ends[:, :2]), _turned(boxes, ends[:, 2:])
    low, high = boxes[:, 4:6], boxes[:, 6:8]
    # The nearest point of a straight piece is an end, the foot of a corner, or where it runs through.
    ways: list[Floats] = [np.zeros(len(a)), np.ones(len(a))]
    step = b - a
    square = np.maximum((step * step).sum(axis=1), 1e-18)
    for u in (low[:, 0], high[:, 0]):
        for v in (low[:, 1], high[:, 1]):
            foot = ((u - a[:, 0]) * step[:, 0] + (v - a[:, 1]) * step[:, 1]) / square
            ways.append(np.clip(foot, 0.0, 1.0))
    ways.append(_through(a, step, low, high))
    best, share = np.full(len(a), np.inf), np.zeros(len(a))
    for way in ways:
        point = a + step * way[:, None]
        gap = np.maximum(np.maximum(low - point, point - high), 0.0)
        far = np.hypot(gap[:, 0], gap[:, 1])
        nearer = far < best
        best, share = np.where(nearer, far, best), np.where(nearer, way, share)
    return best, ends[:, :2] + (ends[:, 2:] - ends[:, :2]) * share[:, None]


def _turned(boxes: Floats, points: Floats) -> Floats:
    """Take points to the frames of the boxes."""
    x, y = points[:, 0] - boxes[:, 0], points[:, 1] - boxes[:, 1]
    c, s = boxes[:, 2], boxes[:, 3]
    return np.stack((x * c + y * s, y * c - x * s), axis=1)


def _through(a: Floats, step: Floats, low: Floats, high: Floats) -> Floats:
    """Return where, of 0 to 1, each piece is in the middle of its run through the box, or any share where it is not."""
    with np.errstate(divide="ignore", invalid="ignore"):
        t0, t1 = (low - a) / step, (high - a) / step
    parallel = np.abs(step) < 1e-12
    enter = np.where(parallel, -np.inf, np.minimum(t0, t1)).max(axis=1)
    leave = np.where(parallel, np.inf, np.maximum(t0, t1)).min(axis=1)
    enter, leave = np.clip(enter, 0.0, 1.0), np.clip(leave, 0.0, 1.0)
    share: Floats = np.clip((enter + leave) / 2.0, 0.0, 1.0)
    return share


def crossings(first: Floats, second: Floats, keep: float) -> tuple[Numbers, Numbers, Floats]:
    """Return pairs of straight lines that cross, at least so far from the ends of both, and where.

    Args:
        first, second: x0, y0, x1, y1 in rows.
        keep: least distance of the crossing from all four ends, mm.
    """
    near_by = np.flatnonzero(_meeting(second, first)) if len(first) and len(second) else np.zeros(0, np.int64)
    lefts, rights, spots = [np.zeros(0, np.int64)], [np.zeros(0, np.int64)], [np.zeros((0, 2))]
    others = second[near_by]
    steps = others[:, 2:] - others[:, :2]
    longs = np.hypot(steps[:, 0], steps[:, 1])
    for n in range(len(first) if len(others) else 0):
        start, step = first[n, :2], first[n, 2:] - first[n, :2]
        away = others[:, :2] - start
        cross = step[0] * steps[:, 1] - step[1] * steps[:, 0]
        with np.errstate(divide="ignore", invalid="ignore"):
            t = (away[:, 0] * steps[:, 1] - away[:, 1] * steps[:, 0]) / cross
            u = (away[:, 0] * step[1] - away[:, 1] * step[0]) / cross
            inner = np.minimum(np.minimum(t, 1.0 - t) * np.hypot(*step), np.minimum(u, 1.0 - u) * longs)
        hits = np.flatnonzero(np.isfinite(inner) & (inner > keep))
        lefts.append(np.full(len(hits), n, dtype=np.int64))
        rights.append(near_by[hits])
        spots.append(start + t[hits, None] * step)
    return np.concatenate(lefts), np.concatenate(rights), np.concatenate(spots)


def _meeting(lines: Floats, others: Floats) -> Flags:
    """Say which lines reach into the box around others."""
    xs, ys, all_x, all_y = lines[:, 0::2], lines[:, 1::2], others[:, 0::2], others[:, 1::2]
    result: Flags = (
        (xs.max(axis=1) >= all_x.min())
        & (xs.min(axis=1) <= all_x.max())
        & (ys.max(axis=1) >= all_y.min())
        & (ys.min(axis=1) <= all_y.max())
    )
    return result


def _count_up(counts: Numbers) -> Numbers:
    """Return 0, 1 .. n - 1 for each count n, one after the other."""
    total = int(counts.sum())
    starts = np.repeat(np.cumsum(counts) - counts, counts)
    result: Numbers = np.arange(total) - starts
    return result
