"""What people see: nothing that a terminal would obey, and nothing that a console could not print."""

from __future__ import annotations

import re
import shutil
import sys

import typer

OBEYED = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u2028-\u202e\u2066-\u2069]")
"""Control characters but tab and line feed, and the signs that turn the direction of writing round."""
INSTEAD = "?"


def say(text: str, err: bool = False) -> None:
    """A text for people, on stdout or stderr."""
    typer.echo(fit(OBEYED.sub(INSTEAD, text.replace("\r\n", "\n")), encoding_of(err)), err=err)


def say_json(text: str) -> None:
    """JSON on stdout, the same data whatever the console can print."""
    typer.echo(escaped(text, encoding_of(False)))


def console_width() -> int | None:
    """Columns of the terminal that people read on; None in a pipe or a file, where nothing has to fit."""
    return shutil.get_terminal_size().columns if sys.stdout.isatty() else None


def encoding_of(err: bool) -> str:
    """The encoding of stderr or of stdout; UTF-8 where it has none."""
    return getattr(sys.stderr if err else sys.stdout, "encoding", None) or "utf-8"


def fit(text: str, encoding: str) -> str:
    """With a question mark for every character that this encoding does not have."""
    return text.encode(encoding, "replace").decode(encoding)


def escaped(text: str, encoding: str) -> str:
    """JSON with ``\\u`` in place of every character that is not in this encoding or that a terminal would obey.

    In what `json` writes such characters stand only inside strings, where the two mean the same.
    """

    def plain(char: str) -> str:
        if not OBEYED.match(char):
            try:
                char.encode(encoding)
            except UnicodeEncodeError:
                pass
            else:
                return char
        units = char.encode("utf-16-be", "surrogatepass")
        return "".join(f"\\u{units[i] << 8 | units[i + 1]:04x}" for i in range(0, len(units), 2))

    return "".join(map(plain, text))
