"""A volume with its first moments, so that metal can be added and taken away and its centre of gravity be known."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from slotwright.pieces.faces import Vector


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount of metal in the piece frame.

    Attributes:
        volume: mm3; negative for metal taken away.
        moment: volume times the centroid, mm4.
    """

    volume: float
    moment: Vector

    @classmethod
    def at(cls, volume: float, centroid: Vector) -> Amount:
        """Make an amount from its volume and centroid."""
        x, y, z = centroid
        return cls(volume, (volume * x, volume * y, volume * z))

    @property
    def centroid(self) -> Vector:
        """Errors: ZeroDivisionError when there is none."""
        x, y, z = self.moment
        return x / self.volume, y / self.volume, z / self.volume

    def times(self, factor: float) -> Amount:
        """Return it multiplied; -1 takes metal away."""
        x, y, z = self.moment
        return Amount(self.volume * factor, (x * factor, y * factor, z * factor))


def total(amounts: Iterable[Amount]) -> Amount:
    """Add amounts up."""
    volume = x = y = z = 0.0
    for amount in amounts:
        mx, my, mz = amount.moment
        volume, x, y, z = volume + amount.volume, x + mx, y + my, z + mz
    return Amount(volume, (x, y, z))
