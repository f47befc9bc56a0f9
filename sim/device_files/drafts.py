"""The draft of a layout for a file that nobody has seen before: every column and drill that it shows, to be checked by a person."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from sim.device_files.cells import CLOCK, text
from sim.device_files.column_words import columns_in, threshold_in, unit_in
from sim.device_files.layouts import COLUMNS, FAST, MEASURED, MUST
from sim.device_files.tables import Cell, Table, plain
from sim.game.shipped import shipped_games

MOST_DRILLS = 60
"""More names than so many are no names of drills."""
BY_COLONS = {2: "h:mm:ss"}
"""How a duration is written, by its colons; one alone may be hours or minutes."""


def drafted(name: str, table: Table) -> str:
    """A layout in TOML for a file with these columns and drills; `checked` is false, and what could not be told is left empty."""
    head = [one for one in table.head if one]
    found = columns_in(head)
    title = f"[{name}]" if re.fullmatch(r"[\w-]+", name, re.ASCII) else toml({name: {}})
    lines = [title, toml({"checked": False}) + "  # read every line below, put it right, then: true"]
    lines += [toml({"headers": head})]
    for column in COLUMNS:
        if column in found or column in MUST:
            lines += of_column(column, found, cells_of(table, found.get(column)))
    if spare := [one for one in COLUMNS if one not in found and one not in MUST]:
        lines.append(f"# not found: {', '.join(spare)}")
    if unread := [one for one in head if one not in found.values()]:
        lines.append(f"# columns that nothing reads: {', '.join(toml_value(one) for one in unread)}")
    return "\n".join([*lines, "", f"{title[:-1]}.blocks]", *of_drills(cells_of(table, found.get("block"))), ""])


def of_column(column: str, found: Mapping[str, str], cells: Sequence[Cell]) -> list[str]:
    """The lines of one column: which it is, its unit, and from which speed on it counts."""
    name = found.get(column, "")
    lines = [toml({column: name})]
    if column in MEASURED:
        unit = unit_in(name, MEASURED[column]) or (clock_of(cells) if column == "duration" else "")
        lines.append(f'{column}_unit = "{unit}"  # {", ".join(MEASURED[column])}')
    if f"{column}_from_column" in found:
        lines.append(toml({f"{column}_from_column": found[f"{column}_from_column"]}))
    elif column in FAST:
        lines.append(f'{column}_from = "{threshold_in(name)}"  # from which speed on: 19.8 km/h, 5.5 m/s or 80 %')
    return lines


def clock_of(cells: Sequence[Cell]) -> str:
    """How durations are written, where all of them can be read in one way alone; else ""."""
    colons = {one.count(":") if CLOCK.fullmatch(one) else 0 for cell in cells if (one := text(cell))}
    return next((BY_COLONS.get(one, "") for one in colons), "") if len(colons) == 1 else ""


def of_drills(cells: Sequence[Cell]) -> list[str]:
    """A line for each drill, in the order of the file, its game to be filled in; a shipped game of that name stands there."""
    drills = {plain(one): one for cell in reversed(cells) if (one := text(cell))}
    if not drills or len(drills) > MOST_DRILLS:
        return ['# "drill as in the file" = "tight-square"']
    shipped = shipped_games()
    told = {one: plain(one) if plain(one) in shipped else "" for one in reversed(drills.values())}
    return [
        "# which game each was: a shipped one (tight-square) or a game file; left empty: no game",
        *map(toml, ({one: game} for one, game in told.items())),
    ]


def cells_of(table: Table, column: str | None) -> list[Cell]:
    """All cells of a column; none where it is not known."""
    place = None if column is None else table.head.index(column)
    return [cells[place] for _, cells in table.rows if place is not None and place < len(cells)]


def toml(data: Mapping[str, object]) -> str:
    """Plain data as TOML, without the line feed at its end."""
    import tomli_w  # heavy

    return tomli_w.dumps(data).strip()


def toml_value(one: str) -> str:
    """A string as TOML has it."""
    return toml({"x": one}).partition(" = ")[2]
