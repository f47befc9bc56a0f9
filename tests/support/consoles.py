"""A whole evening on a page: commands one after the other in one folder, with what each prints.

It takes minutes, so it is played only when the pages are made anew; the digest in its mark says of which program it is, and a test
asks for that digest.  The files it needs are shown by `cat`.
"""

from __future__ import annotations

from pathlib import Path

from sim import provenance
from tests.support import readmes

SAYING = ("estimate_screen", "tally_screen", "review_screen", "learn_screen")
SHOWN = "cat "


def digest() -> str:
    """Of all that such an evening's answers are made of: play, learning and words."""
    return provenance.digest([f"sim.words.{one}" for one in SAYING])


def steps(body: str) -> list[tuple[str, str]]:
    """(command, what it printed), in order."""
    found = [readmes.example(f"$ {part}") for part in f"\n{body}".split("\n$ ")[1:]]
    return [(command, output if output.endswith("\n") or not output else f"{output}\n") for command, output in found]


def anew(body: str, folder: Path) -> str:
    """The same commands with what they print today; files that are shown are written first."""
    lines = []
    for command, output in steps(body):
        if command.startswith(SHOWN):
            (folder / command.removeprefix(SHOWN)).write_text(output, encoding="utf-8")
        else:
            typed, _, filters = command.partition(" | ")
            output = readmes.played(typed, folder).stdout
            if filters:
                output = readmes.filtered(filters, output, folder)
        lines.append(f"$ {command}\n{output}")
    return "".join(lines)
