"""Coverage-guided fuzzing of the readers, for a machine with atheris: python -m tests.sharing.atheris_fuzzing SECONDS.

Not part of the test run. It ends with exit code 0 when nothing but SlotwrightError was ever raised and nothing hung.
"""

from __future__ import annotations

import sys
from pathlib import Path
from tempfile import TemporaryDirectory

import atheris

with atheris.instrument_imports(include=["slotwright"]):
    from tests.sharing import fuzzing
    from tests.sharing.packs import DESIGN, contents, pack, with_manifest

FILES = with_manifest(contents())
SEEDS = [
    b"\0" + b"31-13/16 in",
    b"\0" + b"1/2-13 UNC",
    b"\0" + b"25 H7/g6",
    b"\1" + DESIGN.encode(),
    b"\2" + pack(),
    *(b"\3" + bytes((number,)) + FILES[name] for number, name in enumerate(sorted(FILES))),
]


def one(data: bytes) -> None:
    """Give one input to the reader its first byte chooses."""
    if not data:
        return
    choice, rest = data[0] % 5, data[1:]
    if choice == 0:
        fuzzing.read_sizes(rest.decode("utf-8", "replace"))
    elif choice == 1:
        fuzzing.read_design(rest)
    elif choice == 2:
        fuzzing.receive(rest)
    elif rest:
        name = sorted(FILES)[rest[0] % len(FILES)]
        fuzzing.receive_mended(FILES | {name: rest[1:]}) if name != "manifest.json" else fuzzing.read_design(rest[1:])


def main() -> None:
    """Fuzz for so many seconds; an input that takes longer than two is a fault, as is one that takes over 1 GB."""
    with TemporaryDirectory() as corpus:
        for number, seed in enumerate(SEEDS):
            (Path(corpus) / str(number)).write_bytes(seed)
        limits = [f"-max_total_time={sys.argv[1]}", "-timeout=2", "-rss_limit_mb=1000", "-max_len=20000"]
        atheris.Setup([sys.argv[0], *limits, corpus], one)
        atheris.Fuzz()


if __name__ == "__main__":
    main()
