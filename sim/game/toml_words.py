"""What TOML's own reader finds wrong, in the words of somebody who writes a game file."""

from __future__ import annotations

import re

_AT = re.compile(r" \(at (?:line (\d+), column \d+|end of document)\)$")
_TABLE = re.compile(r"^Cannot (mutate immutable namespace|declare|redefine namespace) \((.+?),?\)")
_KEY = re.compile(r"^\s*([\w.\"'-]+)\s*=")


def _line(text: str, told: str) -> int:
    """The line of which the reader tells, counted from 1."""
    found = _AT.search(told)
    if found is None or found[1] is None:
        return len(text.rstrip().splitlines())
    return int(found[1])


def _key(text: str, line: int) -> str:
    """The key that a line begins with; nothing where it begins with none."""
    lines = text.splitlines()
    found = _KEY.match(lines[line - 1]) if 0 < line <= len(lines) else None
    return found[1] if found else ""


def told_in_words(text: str, told: str) -> str:
    """What must be put right where one thing is written in two places; else what the reader tells."""
    line = _line(text, told)
    key, table = _key(text, line), _TABLE.match(told)
    path = ".".join(re.findall(r"'([^']*)'", table[2])) if table else ""
    if table and table[1].startswith("mutate"):
        inner = key.rpartition(".")[2] or "it"
        return f"line {line}: {path} is written in braces {{ }}, so {inner} must stand inside these, not on a line of its own"
    if table:
        return f"line {line}: {path} is written further up already, so what stands here must stand there"
    if told.startswith("Cannot overwrite a value"):
        return f"line {line}: {key or 'this'} is written further up already, so one of the two must go"
    return told
