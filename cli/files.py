"""Writing files: checked before the work starts, and whole or not at all.

A file is written beside its place under another name and then moved there, so a reader never sees half of
one, and a run that is stopped leaves the old one as it was.
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable
from pathlib import Path

import typer

from sim.errors import GameError


def require_place(option: str, path: Path) -> None:
    """Refuse, before anything is simulated, a file that cannot be written where `option` wants it."""
    problems = []
    if not path.parent.is_dir():
        problems.append(f"folder {str(path.parent)!r} must exist (got {str(path)!r})")
    elif path.is_dir():
        problems.append(f"must name a file, not a folder (got {str(path)!r})")
    elif not os.access(path.parent, os.W_OK):
        problems.append(f"folder {str(path.parent)!r} must be writable (got {str(path)!r})")
    if problems:
        raise GameError(problems, source=option)


def require_folder(option: str, path: Path) -> None:
    """Refuse a folder that does not exist or cannot be written to."""
    if not path.is_dir():
        raise GameError(f"folder must exist (got {str(path)!r})", source=option)
    if not os.access(path, os.W_OK):
        raise GameError(f"folder must be writable (got {str(path)!r})", source=option)


def require_json(json: str | None) -> None:
    """Refuse a place for `--json` that cannot be written (None and "-" need none)."""
    if json not in (None, "-"):
        require_place("--json", Path(json))


def give(json: str | None, as_json: Callable[[], str], in_words: Callable[[], str]) -> None:
    """The answer in words, beside its JSON in a file; or the JSON instead of the words (`json` is "-")."""
    if json == "-":
        typer.echo(as_json())
        return
    if json is not None:
        write_whole(Path(json), as_json() + "\n")
    typer.echo(in_words())


def write_whole(path: Path, text: str) -> None:
    """Write `text` to `path` in one step."""
    write_bytes(path, text.encode("utf-8"))


def write_bytes(path: Path, data: bytes) -> None:
    """Write `data` to `path` in one step."""
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".part", dir=path.parent)
    part = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
        part.chmod(0o666 & ~_umask())
        part.replace(path)
    except BaseException:
        part.unlink(missing_ok=True)
        raise


def _umask() -> int:
    """The permissions this process takes away from new files (reading them means setting them twice)."""
    mask = os.umask(0)
    os.umask(mask)
    return mask
