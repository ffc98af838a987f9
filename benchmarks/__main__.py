"""Measure every timing claim in one run and print the table: `python -m benchmarks [name ...]`."""

from __future__ import annotations

import sys

from benchmarks import drawing, kernel, library, start_up, whole_make

SUBJECTS = {
    "start-up": start_up.claims,
    "make": whole_make.claims,
    "kernel": kernel.claims,
    "library": library.claims,
    "drawing": drawing.claims,
}


def main() -> None:
    """Print one row a claim; exit 1 when one does not hold."""
    wanted = sys.argv[1:] or list(SUBJECTS)
    print("| what | measured | claim | holds | |")
    print("| --- | --- | --- | --- | --- |")
    fine = True
    for name in wanted:
        for claim in SUBJECTS[name]():
            print(claim.row(), flush=True)
            fine = fine and claim.holds
    sys.exit(0 if fine else 1)


if __name__ == "__main__":
    main()
