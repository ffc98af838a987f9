"""Which of the known words a mistyped one most likely means."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches


def nearest(word: str, known: Iterable[str]) -> str:
    """Return the known hyphenated word that is likest, or has this one among its parts; "" when none is near."""
    plain = "-".join(word[:64].strip().lower().replace("_", " ").split())
    words = list(known)
    close = get_close_matches(plain, words, n=1, cutoff=0.5)
    with_it = [one for one in words if plain and f"-{plain}-" in f"-{one}-"]
    return next(iter([*with_it, *close]), "")
