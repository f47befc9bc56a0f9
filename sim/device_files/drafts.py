"""The draft of a layout for a file that nobody has seen before: every column that says what it is, to be checked by a person."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from types import MappingProxyType

from sim.device_files.layouts import COLUMNS, FAST, MEASURED, MUST
from sim.device_files.tables import plain

WORDS: Mapping[str, tuple[str, ...]] = MappingProxyType({
    "player": ("player", "athlete", "name", "shirt", "spieler", "joueur", "jugador"),
    "date": ("date", "day", "datum", "fecha"),
    "block": ("drill", "block", "period", "exercise", "task", "übung", "session part", "exercice"),
    "bout": ("bout", "set", "repetition", "rep"),
    "role": ("role", "position"),
    "duration": ("duration", "minutes", "time", "dauer", "durée", "duración"),
    "fast": ("high speed", "fast", "high-speed", "running fast"),
    "sprint": ("sprint",),
    "distance": ("distance", "metres", "meters", "strecke", "distancia", "dist"),
    "accelerations": ("accelerations", "accel"),
    "decelerations": ("decelerations", "decel"),
    "top_speed": ("top speed", "max speed", "maximum speed", "peak speed"),
})  # fmt: skip
"""What columns are usually called (common practice, no source); whoever uses the draft checks it."""
UNIT = re.compile(r"[(\[ ](km/h|m/s|h:mm:ss|mm:ss|h:mm|km|min|m|s)[)\] ]?$", re.IGNORECASE)


def drafted(name: str, head: Sequence[str]) -> str:
    """A layout in TOML for a file with these columns; `checked` is false, and what could not be told is left empty."""
    import tomli_w  # heavy

    named = [one for one in head if one]
    found = columns_in(named)
    lines = [f"[{name}]" if re.fullmatch(r"[\w-]+", name, re.ASCII) else tomli_w.dumps({name: {}}).strip()]
    lines += [tomli_w.dumps({"checked": False}).strip() + "  # read every line below, put it right, then: true"]
    lines += [tomli_w.dumps({"headers": named}).strip()]
    for column in COLUMNS:
        if column not in found and column not in MUST:
            continue
        lines.append(tomli_w.dumps({column: found.get(column, "")}).strip())
        if column in MEASURED:
            unit = UNIT.search(found.get(column, ""))
            said = unit[1].lower() if unit and unit[1].lower() in MEASURED[column] else ""
            lines.append(f'{column}_unit = "{said}"  # {", ".join(MEASURED[column])}')
        if column in FAST:
            lines.append(f'{column}_from = ""  # from which speed on: 19.8 km/h, 5.5 m/s or 80 %')
    lines += ["", f"{lines[0][:-1]}.blocks]", '# "drill as in the file" = "tight-square"', ""]
    return "\n".join(lines)


def columns_in(head: Sequence[str]) -> dict[str, str]:
    """Which column is what, as far as their names say; each column once."""
    found: dict[str, str] = {}
    for column, words in WORDS.items():
        for name in head:
            if name not in found.values() and any(word in plain(name) for word in words):
                found[column] = name
                break
    return found
