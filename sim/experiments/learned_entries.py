"""What `overload learn` adds to a user's file of assumptions: one `[[learned]]` entry each time, the last of which is in force.

```toml
[[learned]]
date = "2026-11-29"
reason = "own counts of Tight square"
sessions = 6
bouts = 24
minutes = 48
values = [
  { place = ["population", "amateur men", "pass_success", "mean"], before = 0.963, after = 0.931 },
]
```

An entry is only ever added at the end or, the last one, taken away again: what the user wrote is never touched.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sim.assumptions import OwnData
from sim.errors import InputError
from sim.game.messages import show

LEARNED = "learned"
HEAD = f"[[{LEARNED}]]"
NOTE = "# From your own counts, by `overload learn`; `overload learn --undo` takes the last entry back."


@dataclass(frozen=True)
class Value:
    """A number of the table of assumptions, by the keys of a user's file, `before` and `after`."""

    place: tuple[str, ...]
    before: float
    after: float


@dataclass(frozen=True)
class Entry:
    """What was learned on one day (ISO date), why, from how much, and what it changed."""

    date: str
    reason: str
    own_data: OwnData
    values: tuple[Value, ...]


def entries_of(found: Any, problems: list[str]) -> list[Entry]:
    """The entries of a file as read; what is wrong with one becomes a problem, and it is left out."""
    entries: list[Entry] = []
    for number, plain in enumerate(found if isinstance(found, list) else [found], 1):
        try:
            entries.append(entry_of(plain))
        except (KeyError, TypeError, ValueError, AttributeError):
            problems.append(f"{LEARNED} {number} must be as `overload learn` wrote it (got {show(plain)})")
    return entries


def entry_of(plain: Mapping[str, Any]) -> Entry:
    """One entry; `KeyError`, `TypeError` or `ValueError` where it is none."""
    values = tuple(
        Value(tuple(map(str, one["place"])), number(one["before"]), number(one["after"])) for one in plain["values"]
    )
    own = OwnData(int(number(plain["sessions"])), int(number(plain["bouts"])), number(plain["minutes"]))
    return Entry(str(plain["date"]), str(plain["reason"]), own, values)


def number(value: Any) -> float:
    """A finite number; `TypeError` or `ValueError` for anything else."""
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise TypeError(value)
    if not math.isfinite(value):
        raise ValueError(value)
    return value


def with_entry(text: str, entry: Entry) -> str:
    """The text of a file with one more entry at its end."""
    own = entry.own_data
    lines = [
        HEAD,
        NOTE,
        f"date = {quoted(entry.date)}",
        f"reason = {quoted(entry.reason)}",
        f"sessions = {own.sessions}",
        f"bouts = {own.bouts}",
        f"minutes = {own.minutes:g}",
        "values = [",
        *(
            f"  {{ place = [{', '.join(map(quoted, one.place))}], before = {one.before!r}, after = {one.after!r} }},"
            for one in entry.values
        ),
        "]",
    ]
    before = f"{text.rstrip()}\n\n" if text.strip() else ""
    return before + "\n".join(lines) + "\n"


def last_entry(text: str) -> Entry | None:
    """The entry in force of a file that can be read; None where nothing was learned."""
    found = entries_of(tomllib.loads(text).get(LEARNED, []), [])
    return found[-1] if found else None


def without_last(text: str, source: str = "") -> str:
    """The text of a file without its last entry, as `with_entry` wrote it; what stands after it stays."""
    lines = text.splitlines()
    heads = [i for i, line in enumerate(lines) if line.strip() == HEAD]
    ends = [i + 1 for i in range(heads[-1] if heads else len(lines), len(lines)) if lines[i] == "]"]
    if not ends:
        raise InputError(f"must have its last entry as it was written, headed {HEAD}: take it out by hand", source)
    start, end = heads[-1], ends[0]
    left = "\n".join([*lines[:start], *lines[end:]]).rstrip()
    return f"{left}\n" if left else ""


def quoted(text: str) -> str:
    """A basic string of TOML."""
    plain = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(one if one.isprintable() else f"\\U{ord(one):08X}" for one in plain) + '"'
