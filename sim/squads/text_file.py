"""A file of the user's as text, and a table in it line by line: refused in a line where it cannot be read."""

from __future__ import annotations

import csv
import io
from pathlib import Path

from sim.errors import InputError
from sim.game.bounds import LARGEST_FILE
from sim.game.messages import show


def text_of(path: Path, what: str) -> str:
    """What stands in a file, in UTF-8; `what` it should be, for whom it is refused."""
    source = show(str(path)).strip('"')
    try:
        data = path.read_bytes()
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise InputError(f"must be a {what} that can be read (got: {reason})", source) from None
    if len(data) > LARGEST_FILE:
        raise InputError(f"the file must be at most {LARGEST_FILE // 1_000_000} MB (got more)", source)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InputError(f"must be a {what} in UTF-8: save it anew as UTF-8 (got other bytes)", source) from None


def lines_of(text: str, source: str, delimiter: str = ",") -> list[tuple[int, list[str]]]:
    """(number, cells) of every line of a table that is not empty; `source` names the file."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    try:
        return [(reader.line_num, cells) for cells in reader if any(cell.strip() for cell in cells)]
    except csv.Error as error:
        raise InputError(f"must be a table as text (got: {error})", source) from None
