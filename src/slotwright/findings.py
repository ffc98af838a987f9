"""What a check found: never an exception, always with its figure, limit, rule and source."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

COMMON_PRACTICE = "common practice, no source"


class Severity(StrEnum):
    """How much a finding matters."""

    FINE = "fine"
    CAUTION = "caution"
    STOP = "stop"


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A number with the unit it is kept in ("mm", "kg", "N", "MPa", "deg" or "" for a count)."""

    value: float
    unit: str = "mm"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One result of a check.

    Attributes:
        code: short, stable, hyphenated name of the check, such as "hole-to-edge".
        severity: fine, caution or stop.
        place: piece and feature it is about, such as "outrigger, hole A2".
        message: one sentence that says what is so.
        figure: what was found, or None where no number is behind it.
        limit: what the rule allows, or None.
        rule: the rule in words.
        source: the standard with its table, or COMMON_PRACTICE.
        remedy: what to do; empty for a fine finding.
    """

    code: str
    severity: Severity
    place: str
    message: str
    figure: Figure | None = None
    limit: Figure | None = None
    rule: str
    source: str
    remedy: str = ""


def worst(findings: Iterable[Finding]) -> Severity:
    """Return the highest severity among the findings; FINE when there are none."""
    order = list(Severity)
    return max((f.severity for f in findings), key=order.index, default=Severity.FINE)
