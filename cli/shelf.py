"""Where blocks that have been played are kept: a folder of the user's cache, or the one that the environment names."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sim.planning.kept_loads import Shelf

VARIABLE = "OVERLOAD_BLOCKS"


def folder_of() -> Path | None:
    """The folder; None for a user who has no home."""
    if named := os.environ.get(VARIABLE):
        return Path(named)
    try:
        cache = Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache")
    except (
        RuntimeError
    ):  # neither HOME nor an entry among the users, as in a container that is given any number for a user
        return None
    return cache / "overload" / "blocks"


def shelf_of() -> Shelf:
    """The shelf; a folder that is not there, cannot be made or written to keeps nothing, and nobody is bothered with it."""
    from cli.files import NotWritten, write_bytes
    from sim.planning.kept_loads import Shelf

    def write(file: Path, data: bytes) -> None:
        try:
            file.parent.mkdir(parents=True, exist_ok=True)
            write_bytes(file, data)
        except (OSError, NotWritten):
            pass  # it is played again next time

    return Shelf(folder_of(), write)
