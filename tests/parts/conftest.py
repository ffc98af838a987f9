"""The reference fastener library's data files, read without importing the library (its CAD kernel is not needed)."""

import csv
import os
from collections.abc import Callable
from importlib import metadata
from pathlib import Path

import pytest

Reference = Callable[[str], list[dict[str, str]]]

INSTALL = "pip install --no-deps bd_warehouse==0.4.0"


def _data_file(name: str) -> Path:
    try:
        files = metadata.distribution("bd_warehouse").files or []
    except metadata.PackageNotFoundError:
        if os.environ.get("CI"):
            pytest.fail(f"the reference fastener tables are missing: {INSTALL}")
        pytest.skip(f"the reference fastener tables are not installed: {INSTALL}")
    return next(Path(str(f.locate())) for f in files if str(f).endswith(f"data/{name}.csv"))


@pytest.fixture(scope="session")
def reference() -> Reference:
    """Rows of one data file of bd_warehouse 0.4.0 (Apache-2.0), headings and cells stripped of spaces."""

    def read(name: str) -> list[dict[str, str]]:
        with _data_file(name).open(encoding="utf-8", newline="") as stream:
            return [
                {(key or "").strip(): (cell or "").strip() for key, cell in row.items()}
                for row in csv.DictReader(stream)
            ]

    return read
