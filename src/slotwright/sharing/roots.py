"""Where a workspace begins; light, for it is asked of thousands of files."""

from __future__ import annotations

from pathlib import Path


def workspace_root(folder: Path) -> Path:
    """Return the nearest folder at or above this one that has parts/, else this one (or its parent, if "fixtures").

    Args:
        folder: without links.
    """
    for candidate in (folder, *folder.parents):
        if (candidate / "parts").is_dir():
            return candidate
    return folder.parent if folder.name == "fixtures" else folder
