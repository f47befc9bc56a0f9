"""Where blocks that have been played are kept: a folder of the user's cache, or the one that the environment names."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sim.planning.kept_loads import Shelf

VARIABLE = "OVERLOAD_BLOCKS"


def shelf_of() -> Shelf:
    """The shelf; a folder that cannot be made or written to keeps nothing, and nobody is bothered with it."""
    from cli.files import NotWritten, write_bytes
    from sim.planning.kept_loads import Shelf

    named = os.environ.get(VARIABLE)
    cache = Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache")
    folder = Path(named) if named else cache / "overload" / "blocks"

    def write(file: Path, data: bytes) -> None:
        try:
            file.parent.mkdir(parents=True, exist_ok=True)
            write_bytes(file, data)
        except (OSError, NotWritten):
            pass  # it is played again next time

    return Shelf(folder, write)
