"""A squad file: CSV with a column a value, or TOML with a ``[[people]]`` each; all that is wrong with it is told at once.

Columns and keys are those of `sim.squads.squad.Person`; all but shirt may be missing.  Several limits or days in one cell of a
CSV stand with a plus between them: ``no defending+no tackles``, ``tue+thu``.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from sim.errors import InputError
from sim.game.bounds import HIGHEST_SHIRT, MOST_OF_ONE, MOST_PLAYERS
from sim.game.intake import parsed
from sim.game.messages import show
from sim.populations import named, no_population
from sim.squads.entries import Entries
from sim.squads.squad import DAYS, LEAST_LEVEL, LIMITS, MOST_LEVEL, POSITIONS, STATUSES, Person, Squad
from sim.squads.text_file import lines_of, text_of

SEVERAL = ("limits", "days")
"""What one may have several of."""
TEXTS = ("name", "position", "population", "status", "set_by")
NUMBERS: Mapping[str, tuple[float, float]] = {
    "level": (LEAST_LEVEL, MOST_LEVEL),
    "pass_success": (0.5, 0.999),
    "pressing_speed": (1.0, 8.0),
    "recovery": (20.0, 180.0),
    "intermittent_run": (40.0, 3600.0),
    "most_minutes": (0.0, 240.0),
}
"""The number columns that are no whole numbers, with the least and the most that a file may say."""
PLUS = "+"


def read_squad(path: Path) -> Squad:
    """The squad of a file, or an `InputError` with everything that is wrong with it."""
    source = str(path)
    rows = _rows(path, source)
    problems: list[str] = []
    people = [(where, _person(row, where, problems)) for where, row in rows]
    seen: dict[int, str] = {}
    for where, person in people:
        if person is not None and person.shirt in seen:
            problems.append(f"{where}, shirt must be one person's (got {person.shirt}, as in {seen[person.shirt]})")
        elif person is not None:
            seen[person.shirt] = where
    if not rows and not problems:
        problems.append("must have a person at least")
    if len(rows) > MOST_PLAYERS:
        problems.append(f"must have at most {MOST_PLAYERS} people (got {len(rows)})")
    if problems:
        raise InputError(problems, source)
    return Squad(tuple(person for _, person in people if person is not None), source)


def _rows(path: Path, source: str) -> list[tuple[str, Mapping[str, Any]]]:
    """(where it stands, its values) of each person."""
    text = text_of(path, "file")
    if path.suffix.lower() == ".toml":
        people = parsed(text.replace("\r\n", "\n"), source).get("people", [])
        if not isinstance(people, list):
            raise InputError(f"people must be tables, each headed [[people]] (got {show(people)})", source)
        return [(f"line of person {i}", one) for i, one in enumerate(people, 1)]
    return _lines(text, source)


def _lines(text: str, source: str) -> list[tuple[str, Mapping[str, Any]]]:
    """The rows of a CSV, each cell as a number where it is one; semicolons, tabs and decimal commas as spreadsheets have them."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    delimiter = max((",", ";", "\t"), key=first.count)
    lines = lines_of(text, source, delimiter)
    if not lines:
        raise InputError("must have a line of column names", source)
    names = ["_".join(cell.strip().lower().split()) for cell in lines[0][1]]
    if twice := sorted({name for name in names if names.count(name) > 1}):
        raise InputError(f"line {lines[0][0]} must name a column once (got {', '.join(twice)} twice)", source)
    if long := [number for number, cells in lines if len(cells) > len(names)]:
        raise InputError(f"line {long[0]} must have {len(names)} cells (got more)", source)
    decimal_comma = delimiter != ","
    found: list[tuple[str, Mapping[str, Any]]] = []
    for number, cells in lines[1 : MOST_OF_ONE + 1]:
        written = {name: cell for name, cell in zip(names, cells, strict=False) if cell.strip()}
        found.append((f"line {number}", {name: _cell(name, cell, decimal_comma) for name, cell in written.items()}))
    return found


def _cell(name: str, cell: str, decimal_comma: bool) -> Any:
    text = cell.strip()
    if name in SEVERAL:
        return [part.strip() for part in text.split(PLUS) if part.strip()]
    if name in TEXTS:
        return text
    try:
        return float(text.replace(",", ".") if decimal_comma else text)
    except ValueError:
        return text


def _person(row: Mapping[str, Any], where: str, problems: list[str]) -> Person | None:
    before = len(problems)
    entries = Entries(row, where, problems)
    shirt = entries.whole("shirt", 0, HIGHEST_SHIRT, needed=True)
    name = entries.name("name")
    population = entries.text("population")
    if population and named(population) is None:
        entries.complain("population", f"must name a population: {no_population(population)} (got {show(population)})")
    status = entries.text("status")
    if status and status not in STATUSES:
        entries.complain("status", f"must be {', '.join(STATUSES)}, and never why (got {show(status)})")
    numbers = {key: entries.number(key, *ends) for key, ends in NUMBERS.items()}
    position = entries.text("position", known=POSITIONS)
    limits, days = _several(entries, "limits", LIMITS), _several(entries, "days", DAYS)
    most_bouts = entries.whole("most_bouts", 0, 60)
    set_by = entries.name("set_by")
    entries.finish()
    if len(problems) > before or shirt is None:
        return None
    person = Person(
        shirt,
        name,
        position,
        named(population) or "" if population else "",
        status=next((one for one in STATUSES if one == status), "full"),
        limits=limits,
        most_bouts=most_bouts,
        set_by=set_by,
        days=days,
        **numbers,
    )
    if person.capped and not set_by:
        entries.complain("set_by", "must say who set the status or the limits")
    return person


def _several(entries: Entries, key: str, known: tuple[str, ...]) -> tuple[str, ...]:
    found = entries.listed(key)
    for one in found:
        if one not in known:
            entries.complain(key, f"must be some of {', '.join(known)} (got {show(one)})")
    return tuple(one for one in found if one in known)
