"""Notes read as sentences, whoever wrote them; common practice, no source."""

from __future__ import annotations

import pytest

from slotwright.drawings.paper.notes import sentence


@pytest.mark.parametrize(
    ("words", "read"),
    [
        ("nose at the left end", "Nose at the left end."),
        ("SAW TO 33 LONG.", "SAW TO 33 LONG."),
        ("3 screws", "3 screws."),
    ],
)
def test_a_note_starts_with_a_capital_and_ends_with_a_stop(words: str, read: str) -> None:
    assert sentence(words) == read
