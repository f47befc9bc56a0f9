"""Layouts: which column of a file is what, written down once in a TOML file and known again by the names of all columns.

```toml
[tracker]
checked = true
headers = ["Name", "Date", "Drill", "Time", "Dist", "Fast"]
player = "Name"
date = "Date"
block = "Drill"
duration = "Time"
duration_unit = "h:mm:ss"
distance = "Dist"
distance_unit = "m"
fast = "Fast"
fast_unit = "m"
fast_from = "19.8 km/h"

[tracker.blocks]
"4v2 end" = "tight-square"

[tracker.players]
"A. One" = "Ali"
```

`blocks` says which game a drill was (a shipped game or a game file; left empty, no game of ours), `players` whom the file calls
otherwise.  Columns that are not named are not read.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from sim.device_files.cells import MARKS, ORDERS, TIMES
from sim.device_files.tables import names_in, plain
from sim.errors import InputError, any_of, nearest
from sim.game.messages import show

WHO = ("player", "date", "block", "bout", "role", "duration")
COUNTED = ("accelerations", "decelerations")
MEASURED: Mapping[str, tuple[str, ...]] = {
    "duration": TIMES,
    "distance": ("m", "km"),
    "fast": ("m", "km"),
    "sprint": ("m", "km"),
    "top_speed": ("km/h", "m/s"),
}
"""What has a unit, and which."""
COLUMNS = (*WHO, "distance", "fast", "sprint", *COUNTED, "top_speed")
"""What a column may be; each names one of the file."""
FAST = ("fast", "sprint")
"""What is counted from a speed on: `fast_from` says it for the whole file, `fast_from_column` names a column that does."""
MUST = ("player", "duration")
THRESHOLD = re.compile(r"\s*([0-9]+(?:[.,][0-9]+)?)\s*(km/h|m/s|%)(?: of own top speed)?\s*")
KEYS = (
    "checked", "headers", "decimal_mark", "date_order", "minors", "blocks", "players",
    *COLUMNS, *(f"{one}_unit" for one in MEASURED), *(f"{one}_from" for one in FAST), *(f"{one}_from_column" for one in FAST),
)  # fmt: skip


@dataclass(frozen=True)
class Layout:
    """A layout called `name`: `columns` and `units` by the names in `COLUMNS`, `starts` of what is fast (`threshold_said`).

    `start_columns` name a column that says the same row by row.  `decimal_mark`, `date_order`: "" where the file shows it itself.
    `minors`: whether minors play wherever this layout is used.
    """

    name: str
    headers: frozenset[str]
    columns: Mapping[str, str]
    units: Mapping[str, str]
    starts: Mapping[str, str] = field(default_factory=dict)
    start_columns: Mapping[str, str] = field(default_factory=dict)
    decimal_mark: str = ""
    date_order: str = ""
    minors: bool = False
    blocks: Mapping[str, str] = field(default_factory=dict)
    players: Mapping[str, str] = field(default_factory=dict)


def threshold_said(typed: str) -> str:
    """A speed as `Thresholds.start_in_words` says it: ``19.8 km/h`` (also of m/s), ``80 % of own top speed``; "" if it is none."""
    found = THRESHOLD.fullmatch(typed)
    if found is None:
        return ""
    value = float(found[1].replace(",", "."))
    if found[2] == "%":
        return f"{value:g} % of own top speed"
    return f"{round(value * (3.6 if found[2] == 'm/s' else 1.0), 2):g} km/h"


def read_layouts(path: Path) -> dict[str, Layout]:
    """All layouts of a file, by name; none where there is no file yet.  Everything wrong with it is told at once."""
    if not path.exists():
        return {}
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError) as error:
        raise InputError(f"must be a text file that can be read (got {type(error).__name__})", str(path)) from None
    except tomllib.TOMLDecodeError as error:
        raise InputError(f"must be valid TOML (got: {error})", str(path)) from None
    problems: list[str] = []
    found = {name: layout_of(name, plain_data, problems) for name, plain_data in data.items()}
    alike = [one.headers for one in found.values() if one is not None]
    problems += [
        f"[{name}].headers must be of one layout (got those of another)"
        for name, one in found.items()
        if one is not None and alike.count(one.headers) > 1
    ]
    if problems:
        raise InputError(problems, str(path))
    return {name: one for name, one in found.items() if one is not None}


def layout_of(name: str, data: object, problems: list[str]) -> Layout | None:
    """A layout from plain data; None where something is wrong, which is then among `problems`."""
    if not isinstance(data, dict):
        problems.append(f"{name} must be a layout: [{name}] and its keys below (got {show(data)})")
        return None
    found = [f"[{name}].{rule}" for rule in (*wrong_kinds(data), *wrong_words(data), *missing(data))]
    problems += found
    if found:
        return None
    return Layout(
        name,
        names_in(data["headers"]),
        {one: data[one] for one in COLUMNS if one in data},
        {one: data[f"{one}_unit"] for one in MEASURED if one in data},
        {one: threshold_said(data[f"{one}_from"]) for one in FAST if f"{one}_from" in data},
        {one: data[f"{one}_from_column"] for one in FAST if f"{one}_from_column" in data},
        data.get("decimal_mark", ""),
        data.get("date_order", ""),
        data.get("minors", False),
        {plain(block): game.strip() for block, game in data.get("blocks", {}).items()},
        {plain(called): player for called, player in data.get("players", {}).items()},
    )


def wrong_kinds(data: Mapping[str, Any]) -> list[str]:
    """Keys that nobody knows, and values that are not of their kind."""
    found = []
    for key, value in data.items():
        if key not in KEYS:
            near = nearest(key, KEYS)
            found.append(f"{key} is none of a layout ({f'did you mean {near[0]}?' if near else 'see cli/README.md'})")
        elif key in ("checked", "minors"):
            found += [] if isinstance(value, bool) else [f"{key} must be true or false (got {show(value)})"]
        elif key == "headers":
            right = isinstance(value, list) and value and all(isinstance(one, str) for one in value)
            found += [] if right else [f"{key} must be the names of all columns (got {show(value)})"]
        elif key in ("blocks", "players"):
            right = isinstance(value, dict) and all(isinstance(one, str) for one in value.values())
            right = right and (key == "blocks" or all(value.values()))
            found += [] if right else [f'{key} must be lines of "as in the file" = "ours" (got {show(value)})']
        elif not isinstance(value, str) or not value.strip():
            found.append(f"{key} must name something, in quotes (got {show(value)})")
    return found


def wrong_words(data: Mapping[str, Any]) -> list[str]:
    """Words that are none of those allowed, and columns that are not among the headers."""
    allowed: dict[str, Sequence[str]] = {f"{one}_unit": units for one, units in MEASURED.items()}
    allowed |= {"decimal_mark": tuple(MARKS), "date_order": ORDERS}
    found = [
        f"{key} must be {any_of(words)} (got {show(data[key])})"
        for key, words in allowed.items()
        if isinstance(data.get(key), str) and data[key].strip() and data[key] not in words
    ]
    for one in FAST:
        typed = data.get(f"{one}_from")
        if isinstance(typed, str) and typed.strip() and not threshold_said(typed):
            found.append(f"{one}_from must be a speed, such as 19.8 km/h, 5.5 m/s or 80 % (got {show(typed)})")
    heads = data.get("headers")
    if isinstance(heads, list):
        there = names_in([one for one in heads if isinstance(one, str)])
        for key in (*COLUMNS, *(f"{one}_from_column" for one in FAST)):
            if isinstance(data.get(key), str) and data[key].strip() and plain(data[key]) not in there:
                found.append(f"{key} must be one of the headers (got {show(data[key])})")
    return found


def missing(data: Mapping[str, Any]) -> list[str]:
    """What a layout must say and does not."""
    found = [f"{key} must be given (got nothing)" for key in ("headers", *MUST) if key not in data]
    if data.get("checked") is not True:
        found.append("checked must be true: read every line of this layout first (got false)")
    if not any(one in data for one in COLUMNS if one not in WHO):
        found.append("distance must be given, or another column of what was measured (got none)")
    found += [
        f"{one}_unit must be given: {any_of(units)} (got nothing)"
        for one, units in MEASURED.items()
        if one in data and f"{one}_unit" not in data
    ]
    found += [
        f"{one}_from must be given: from which speed on (got nothing)"
        for one in FAST
        if one in data and (f"{one}_from" in data) == (f"{one}_from_column" in data)
    ]
    return found


def known_as(layouts: Mapping[str, Layout], head: Sequence[str]) -> Layout | None:
    """The layout of a file with these columns."""
    return next((one for one in layouts.values() if one.headers == names_in(head)), None)


def unlike(layouts: Mapping[str, Layout], head: Sequence[str]) -> str:
    """Why no layout is that of a file with these columns: how the nearest one differs; nothing where none is near."""
    there = names_in(head)
    near = max(layouts.values(), key=lambda one: len(one.headers & there), default=None)
    if near is None or not near.headers & there:
        return ""
    less, more = sorted(near.headers - there), sorted(there - near.headers)
    parts = [
        f"{word} {any_of([show(one) for one in those], 'and')}"
        for word, those in (("without", less), ("with", more))
        if those
    ]
    return f"nearest is [{near.name}], but {' and '.join(parts)}"
