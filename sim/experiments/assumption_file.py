"""A user's own assumptions, in TOML: constants of the engine, the heart rate (`[heart]`) and the club (`[club]`), and numbers of
populations.

```toml
[engine]
tackle_win = 0.5

[population."amateur men"]
day_effort = 0.05

[population."amateur men".pass_success]
mean = 0.97
```

What is left out stays as it is.  What `overload learn` has added (`sim.experiments.learned_entries`) stands over the rest.
Everything wrong with a file is told at once, and nothing is played with half of it.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from itertools import chain
from pathlib import Path
from typing import Any

from sim.assumptions import NONE, Assumptions, preset
from sim.errors import InputError, any_of, nearest
from sim.experiments.assumption_table import Row, rows
from sim.experiments.learned_entries import LEARNED, entries_of
from sim.game.messages import show
from sim.players import typical_limit
from sim.populations import POPULATIONS

COMPILED = "is part of the compiled code of motion and ball, and cannot be replaced"


def read_assumptions(file: str | Path, learned: bool = True) -> Assumptions:
    """What a file puts in place of the program's own, or every problem of it; without what was `learned`, what its user wrote."""
    path = Path(file)
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError):
        raise InputError(f"must name a readable text file (got {show(str(file))})", "--assumptions") from None
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise InputError(f"the file must be valid TOML (got: {error})", str(file)) from None
    found = assumptions_of(data, str(file))
    return found if learned else assumptions_of({key: data[key] for key in data if key != LEARNED}, str(file))


def assumptions_of(data: Mapping[str, Any], source: str = "assumptions") -> Assumptions:
    """The same from plain data."""
    table = {row.place: row for row in rows()}
    problems: list[str] = []
    found: dict[tuple[str, ...], float] = {}
    entries = entries_of(data.get(LEARNED, []), problems)
    written = {key: value for key, value in data.items() if key != LEARNED}
    last = [(one.place, one.after) for one in entries[-1].values] if entries else []
    for place, value in chain(leaves(written, table, problems), last):
        row = table.get(place)
        if row is None:
            problems.append(f"{LEARNED}: {dotted(place)} is not an assumption")
            continue
        problem = wrong(row, value)
        if problem:
            problems.append(f"{dotted(place)} {problem} (got {show(value)})")
        else:
            found[place] = float(value)
    chosen = Assumptions(
        engine=tuple((place[1], value) for place, value in found.items() if place[0] == "engine"),
        heart=tuple((place[1], value) for place, value in found.items() if place[0] == "heart"),
        club=tuple((place[1], value) for place, value in found.items() if place[0] == "club"),
        own_data=entries[-1].own_data if entries else None,
        populations=tuple(
            (place[1], place[2], place[3] if len(place) > 3 else "value", value)
            for place, value in found.items()
            if place[0] == "population"
        ),
    )
    problems += list(too_fast(chosen))
    if problems:
        raise InputError(problems, source)
    return chosen


def leaves(
    data: Mapping[str, Any], table: Mapping[tuple[str, ...], Row], problems: list[str]
) -> Iterator[tuple[tuple[str, ...], Any]]:
    """Every (place, value) of the file that the table knows; what it does not know becomes a problem."""
    known = {place[:depth] for place in table for depth in range(1, len(place) + 1)}

    def walk(here: Any, path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], Any]]:
        for key, value in here.items():
            place = (*path, key)
            if place not in known:
                near = (other[len(path)] for other in known if len(other) == len(place) and other[: len(path)] == path)
                problems.append(f"{dotted(place)} is not an assumption ({near_ones(key, near)})")
            elif place in table:
                yield place, value
            elif isinstance(value, dict):
                yield from walk(value, place)
            else:
                problems.append(f"{dotted(place)} must be a table (got {show(value)})")

    yield from walk(data, ())


def near_ones(key: str, known: Iterable[str]) -> str:
    """The names most like a wrong one; all of them where they are few."""
    names = list(dict.fromkeys(known))
    near = nearest(key, names)
    if near:
        return f"did you mean {any_of(near)}?"
    if len(names) <= len(POPULATIONS):
        return f"there can be {any_of(sorted(names))}"
    return "see `overload assumptions`"


def wrong(row: Row, value: Any) -> str:
    """What is wrong with a value in this place; empty when all is well."""
    if not row.replaceable:
        return COMPILED
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
        return "must be a number"
    if row.number == "mean" and row.low == 0.0 and value == 0 and row.name == "first_touch":
        return "must be greater than 0"
    if not row.low <= value <= row.high:
        return f"must be between {row.low:g} and {row.high:g} {'' if row.unit == '1' else row.unit}".rstrip()
    return ""


def too_fast(chosen: Assumptions) -> Iterator[str]:
    """Populations whose typical player would press faster than he can sprint."""
    for name in dict.fromkeys(whose for whose, *_ in chosen.populations):
        whose = preset(name, chosen)
        limit, speed = typical_limit(whose), whose.traits["pressing_speed_mps"].mean
        if speed > limit:
            place = dotted(("population", name, "pressing_speed_mps", "mean"))
            yield f"{place} must be at most {math.floor(100 * limit) / 100:g}, what the top speed allows, in m/s (got {speed:g})"


def dotted(place: tuple[str, ...]) -> str:
    """A place as the file writes it: keys with dots between them, quoted where they must be."""
    return ".".join(part if part.replace("_", "").replace("-", "").isalnum() else f'"{part}"' for part in place)


def template_of(whose: str = "amateur men") -> str:
    """A file with every constant that can be replaced and one population, all commented out: take the # away and change."""
    lines = [
        "# Assumptions of your own. Take the # away from a line and change its value; what is left out stays as it is.",
        "# Use it with: overload estimate GAME --assumptions FILE",
    ]
    constants: dict[str, list[str]] = {"engine": [], "heart": [], "club": []}
    days: list[str] = []
    traits: list[str] = []
    last = ""
    for row in rows():
        legal = f"{row.low:g} to {row.high:g}" + ("" if row.unit == "1" else f" {row.unit}")
        if row.group in constants:
            constants[row.group].append(f"# {row.name} = {row.value:g}  # {legal}; {row.note}")
        elif row.group == whose and row.number == "value":
            days.append(f"# {row.name} = {row.value:g}  # {legal}; {row.note}")
        elif row.group == whose:
            if row.name != last:
                traits += ["", f'[population."{whose}".{row.name}]  # {row.note}']
                last = row.name
            traits.append(f"# {row.number} = {row.value:g}  # {legal}")
    lines += [line for group, rest in constants.items() for line in ("", f"[{group}]", *rest)]
    return "\n".join([*lines, "", f'[population."{whose}"]', *days, *traits]) + "\n"


def read_or_none(file: str | Path | None) -> Assumptions:
    """What the option --assumptions says; nothing replaced where it was not given."""
    return NONE if file is None else read_assumptions(file)
