"""Writing files: checked before the work starts, and whole or not at all.

A file is written beside its place under another name and then moved there, so a reader never sees half of
one, and a run that is stopped leaves the old one as it was.  Files that belong together are all written before the first is
moved.  What is no plain file (a device, a pipe, the output itself) is written into, never replaced; of a link, what it points to
is what changes.
"""

from __future__ import annotations

import os
import re
import shlex
import stat
import sys
import tempfile
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from cli.console import say, say_json
from sim.errors import InputError
from sim.words.world import not_written

OWN = re.compile(r"/(?:dev|proc/self)/fd/(\d+)")
SHOWN = 60  # characters of a place in a complaint
Files = tuple[tuple[str, Path | None], ...]
"""Files that are asked for, by their options."""


class NotWritten(Exception):
    """The world outside would not take it: one line, with the place and the reason."""

    def __init__(self, path: Path, error: Exception):
        reason = getattr(error, "strerror", None) or str(error)
        super().__init__(not_written(shortened(path), reason))


class Keeper:
    """Keeps what is finished in a file as the work goes on; a write that fails is tried again with the next one, and told at the
    end, so that no answer is lost over it."""

    def __init__(self, path: Path | None):
        self.path = path
        self.failed: NotWritten | None = None

    def __call__(self, data: bytes) -> None:
        """Write `data` in place of what was kept; nothing where nothing is to be kept."""
        if self.path is None:
            return
        try:
            write_bytes(self.path, data)
            self.failed = None
        except NotWritten as error:
            self.failed = error

    def settle(self) -> None:
        """Raise what went wrong with the last write."""
        if self.failed is not None:
            raise self.failed


def keeper_at(save: Path | None) -> Keeper:
    """What keeps in the file of --save; refused, before anything is simulated, where that cannot be written."""
    if save is not None:
        require_place("--save", save, again=True)
    return Keeper(save)


def shortened(path: Path) -> str:
    """A place as it is named in a complaint: in quotes, the middle of a long one left out."""
    text = repr(str(path))
    return text if len(text) <= SHOWN else f"{text[: SHOWN // 2]}...{text[-SHOWN // 2 :]}"


def asked_for(out: Path | None, command: str, game: str, name: str) -> Path:
    """The file of --out; where it is left out, an example of the whole command with a file of that name."""
    if out is None:
        raise InputError(f"must be given (got nothing): overload {command} {shlex.quote(game)} --out {name}", "--out")
    return out


def require_place(option: str, path: Path, again: bool = False) -> None:
    """Refuse, before anything is simulated, a file that cannot be written where `option` wants it.

    `again`: it is read again another day, so it must be a plain file.
    """
    try:
        problem = problem_of(path, again)
    except (OSError, ValueError) as error:
        problem = (
            f"must name a file that can be written (got {shortened(path)}: {getattr(error, 'strerror', None) or error})"
        )
    if problem:
        raise InputError(problem, source=option)


def problem_of(path: Path, again: bool) -> str:
    """What is wrong with a place, or nothing."""
    if path.is_dir():
        return f"must name a file, not a folder (got {str(path)!r})"
    if path.exists() and (is_stream(path) or not path.is_file()):
        if again:
            return f"must be a plain file, because it is read again (got {str(path)!r})"
        return "" if os.access(path, os.W_OK) else f"must be writable (got {str(path)!r})"
    folder = target_of(path).parent if path.is_symlink() else path.parent
    if not folder.is_dir():
        return f"folder {str(folder)!r} must exist (got {str(path)!r})"
    if not os.access(folder, os.W_OK):
        return f"folder {str(folder)!r} must be writable (got {str(path)!r})"
    return ""


def refuse_overwriting(files: Files, inputs: Sequence[Path]) -> None:
    """Refuse, before anything is played, to write over what is read, or two files into one."""
    taken = {target_of(one) for one in inputs}
    for option, place in files:
        if place is None:
            continue
        if target_of(place) in taken:
            rule = "must be a file of its own, that nothing else is read from or written to"
            raise InputError(f"{rule} (got {shortened(place)})", option)
        taken.add(target_of(place))


def require_makeable(option: str, path: Path) -> None:
    """Refuse a folder that is not there and cannot be made (in a folder that is there); nothing of it stays."""
    if os.path.lexists(path):
        require_folder(option, path)
        return
    try:
        path.mkdir()
        path.rmdir()
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise InputError(
            f"must be a folder that is there or can be made (got {shortened(path)}: {reason})", option
        ) from None


def write_into(folder: Path, files: Mapping[str, str | bytes]) -> None:
    """Write these texts (or bytes), by name, into a folder, made if it is not there; all or none, and then no new folder either."""
    made = False
    try:
        if not folder.is_dir():
            folder.mkdir()
            made = True
        write_together({folder / name: encoded(one) if isinstance(one, str) else one for name, one in files.items()})
    except BaseException as error:
        if made:
            folder.rmdir()
        if isinstance(error, OSError):
            raise NotWritten(folder, error) from None
        raise


def require_folder(option: str, path: Path) -> None:
    """Refuse a folder that does not exist or cannot be written to."""
    try:
        there = path.is_dir()
    except (OSError, ValueError) as error:
        raise InputError(
            f"folder must exist (got {shortened(path)}: {getattr(error, 'strerror', None) or error})", option
        ) from None
    if not there:
        raise InputError(f"folder must exist (got {str(path)!r})", source=option)
    if not os.access(path, os.W_OK):
        raise InputError(f"folder must be writable (got {str(path)!r})", source=option)


def require_json(json: str | None) -> None:
    """Refuse a place for `--json` that cannot be written (None and "-" need none)."""
    if json not in (None, "-"):
        require_place("--json", Path(json))


def give(json: str | None, as_json: Callable[[], str], in_words: Callable[[], str]) -> None:
    """The answer in words, beside its JSON in a file; or the JSON instead of the words (`json` is "-")."""
    if json == "-":
        say_json(as_json())
        return
    failed = None
    if json is not None:
        try:
            write_whole(Path(json), as_json() + "\n")
        except NotWritten as error:
            failed = error
    say(in_words())
    if failed is not None:
        raise failed


def write_whole(path: Path, text: str) -> None:
    """Write `text` to `path` in one step."""
    write_bytes(path, encoded(text))


def write_bytes(path: Path, data: bytes) -> None:
    """Write `data` to `path` in one step."""
    write_together({path: data})


def encoded(text: str) -> bytes:
    """UTF-8; what cannot be encoded (a lone surrogate of a file name) as its number."""
    return text.encode("utf-8", "backslashreplace")


def write_together(files: Mapping[Path, bytes]) -> None:
    """Write all of these, or, where one cannot be written, none."""
    parts: list[tuple[Path, Path]] = []
    path = Path()
    try:
        for path, data in files.items():
            if not is_stream(path):
                target = target_of(path)
                if target.is_dir():
                    raise IsADirectoryError(f"{shortened(target)} is a folder")
                handle, name = tempfile.mkstemp(prefix=".overload-", suffix=".part", dir=target.parent)
                parts.append((Path(name), target))
                with os.fdopen(handle, "wb") as place:
                    place.write(data)
        for part, target in parts:
            part.chmod(0o666 & ~_umask())
            part.replace(target)
        for path, data in files.items():
            if is_stream(path):
                pour(path, data)
    except BaseException as error:
        for part, _ in parts:
            part.unlink(missing_ok=True)
        if isinstance(error, (OSError, ValueError)) and not isinstance(error, BrokenPipeError):
            raise NotWritten(path, error) from None
        raise


def target_of(path: Path) -> Path:
    """What changes when this place is written: of a link, what it points to."""
    return Path(os.path.realpath(path))


def is_stream(path: Path) -> bool:
    """Whether it is something to be written into: no plain file, or an output that is open already."""
    if own_number(path) is not None:
        return True
    try:
        return not stat.S_ISREG(os.stat(path).st_mode) and not path.is_dir()
    except FileNotFoundError:
        return False


def own_number(path: Path) -> int | None:
    """The number of this process's own open file that a place means (`/dev/stdout`, `/dev/fd/3`), however it is spelled."""
    if found := OWN.fullmatch(os.path.abspath(path)):
        return int(found[1])
    for number in (1, 2):
        try:
            if os.path.samestat(os.stat(path), os.fstat(number)):
                return number
        except OSError:
            continue
    return None


def pour(path: Path, data: bytes) -> None:
    """Write into what is there."""
    number = own_number(path)
    sys.stdout.flush()
    with open(path if number is None else os.dup(number), "wb") as stream:
        stream.write(data)


def _umask() -> int:
    """The permissions this process takes away from new files (reading them means setting them twice)."""
    mask = os.umask(0)
    os.umask(mask)
    return mask
