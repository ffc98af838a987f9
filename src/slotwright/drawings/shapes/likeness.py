"""Whether things are the same but for the last digits of their figures."""

from __future__ import annotations

from collections.abc import Hashable, Iterable

SAME = 1e-4  # mm

Key = tuple[Hashable, tuple[float, ...]]
"""What must be equal of a thing, and the figures of it, the first of which tell many things apart best."""


def alike(some: Iterable[Key], others: Iterable[Key]) -> bool:
    """Say whether each of some things is among others; no figure differs by more than SAME."""
    there: dict[tuple[Hashable, int], list[tuple[float, ...]]] = {}
    for kind, figures in others:
        there.setdefault((kind, round(figures[0])), []).append(figures)
    return all(
        any(
            all(abs(a - b) < SAME for a, b in zip(figures, other, strict=True))
            for near in (-1, 0, 1)
            for other in there.get((kind, round(figures[0]) + near), ())
        )
        for kind, figures in some
    )
