"""The games that come with the simulator, by name.

In an installed wheel they are the data package ``sim.shipped``; in the source tree they are the
folder ``scenarios`` at the top.  Either is found, and nothing else.
"""

from __future__ import annotations

from importlib import resources
from pathlib import Path
from typing import Any

import sim


def _folder() -> Any:  # a `Path`, or a path-like of the wheel
    installed = resources.files(sim) / "shipped"
    return installed if installed.is_dir() else Path(sim.__path__[0]).parent / "scenarios"


def shipped_games() -> dict[str, Path]:
    """Every shipped game's file (a `Path`, or a path-like of the wheel) by its name, sorted."""
    files = [file for file in _folder().iterdir() if file.name.endswith(".toml")]
    return {file.name.removesuffix(".toml"): file for file in sorted(files, key=lambda file: file.name)}
