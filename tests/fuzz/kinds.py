"""The kinds of things that a game file can say, from the tables of the language, and which of them one game says.

A kind is every key of every table, every word a key may be one of (`tests.support.language_page` reads both off the models), and
where a key holds a name, every sort of name: the words of the rules, and names of the file's own.  So whatever comes into the
language is a kind by itself, and has to be drawn.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from sim.game.actions import ACTIONS
from sim.game.colours import OF_A_COLOUR
from sim.game.counting import COUNTED_APART, STEPS, TOLD_APART
from sim.game.model import AFTER_A_GOAL
from sim.game.opened import EITHER
from sim.game.references import COUNTERS, RESERVED_PLACES, RESTART_PLACES, RESTART_SIDES
from sim.game.spec import GameSpec
from sim.game.values import STYLES
from sim.game.zone_spec import OPENED, PARTS
from sim.game.zones import HOLDER, OTHER
from tests.support.language_page import TABLES, rows, says, uses

OWN = "a name of the file"
SORTS: Mapping[tuple[str, str], tuple[str, ...]] = {
    ("RoleSpec", "side"): ("team", "holder", OWN),
    ("RoleSpec", "place"): (*RESERVED_PLACES, "an area", "a zone", "a goal"),
    ("PhaseSpec", "open"): (*OPENED, "a zone"),
    ("PhaseSpec", "ball_in"): ("active", "an area"),
    ("OpenAction", "open"): (*OPENED, "a zone"),
    ("CloseAction", "close"): (*OPENED, "a zone"),
    ("OpenAction", "for"): EITHER,
    ("CloseAction", "for"): EITHER,
    ("ScoreAction", "to"): (*EITHER, OWN),
    ("ResetAction", "reset"): (*COUNTERS, STEPS, OWN),
    ("RestartSpec", "to"): (*RESTART_SIDES, OWN),
    ("RestartSpec", "area"): (*RESTART_PLACES, "an area"),
    ("GoalSpec", "attacked_by"): ("any", OWN),
    ("WinSpec", "gate"): ("any", OWN),
    ("RuleSpec", "through"): ("any", OWN),
    ("RuleSpec", "from"): ("an area", "a zone"),
    ("RuleSpec", "to"): ("an area", "a zone"),
    ("ZoneSpec", "closed_to"): (HOLDER, OTHER, "a role", OWN),
    ("ZoneSpec", "least"): (HOLDER, OTHER, "a role", OWN),
    ("ZoneSpec", "most"): (HOLDER, OTHER, "a role", OWN),
}
"""Where a key holds a name: what sorts of names there are."""


def all_kinds() -> set[str]:
    """Everything that a game file can say."""
    found: set[str] = set()
    for model in TABLES:
        for row in rows(model):
            found.add(f"{row.table}.{row.key}")
            found |= {f"{row.table}.{row.key} = {word}" for word in row.words} if len(row.words) > 1 else set()
    found |= {f"{table}.{key}: {sort}" for (table, key), sorts in SORTS.items() for sort in sorts}
    found |= {f"jobs: {style}" for style in STYLES}
    found |= {f"zone: {part} {kind}" for kind, parts in PARTS.items() for part in parts}
    found |= {f"restart: {name}" for name in ("start", "out", "foul", AFTER_A_GOAL, OWN)}
    found |= {f"{on} told apart by {key}" for on, keys in TOLD_APART.items() for key in keys}
    found |= {f"{of} counted apart by {key}" for of, keys in COUNTED_APART.items() for key in keys}
    found |= {f"{on} of a colour" for on in OF_A_COLOUR}
    return found | {f"{verb} after {on}" for verb, on in _follows()}


def _follows() -> Iterator[tuple[str, str]]:
    """(verb, event) of every consequence that can follow an event; ground that changes needs room, and is a kind by itself."""
    events = next(row.words for model in TABLES for row in rows(model) if (row.table, row.key) == ("RuleSpec", "on"))
    after_a_loss = ("trade", "window", "step")
    verbs = [verb for verb in ACTIONS if verb != "resize"]
    yield from ((verb, on) for verb in verbs for on in events if verb not in after_a_loss or on == "loss")


def kinds_of(short: dict[str, Any]) -> set[str]:
    """Everything that one game file says."""
    found: set[str] = set()
    words = {(row.table, row.key): row.words for model in TABLES for row in rows(model)}
    for table, key, value in uses(GameSpec, short):
        found.add(f"{table}.{key}")
        found |= {f"{table}.{key} = {word}" for word in words[table, key] if says(value, key, word)}
        if (table, key) in SORTS:
            held = value[key] if isinstance(value, dict) and key in value else value
            for name in held if isinstance(held, (list, dict)) else [held]:
                found.add(f"{table}.{key}: {_sort(short, SORTS[table, key], name)}")
    found |= {f"zone: {' '.join(zone['at'].split()[:2])}" for zone in short.get("zones", {}).values() if "at" in zone}
    found |= {
        f"restart: {name if name in ('start', 'out', 'foul', AFTER_A_GOAL) else OWN}"
        for name in short.get("restarts", {})
    }
    for one in short.get("counters", {}).values():
        found |= {f"{one['of']} counted apart by {key}" for key in COUNTED_APART.get(one["of"], ()) if key in one}
    for phase in short.get("phases", {}).values():
        found |= {f"jobs: {job.split()[0]}" for job in phase.get("jobs", {}).values()}
    rules = [one for phase in short.get("phases", {}).values() for one in phase.get("rules", {}).values()]
    return found | {kind for one in [*rules, *short.get("rules", {}).values()] for kind in _of_rule(short, one)}


def _of_rule(short: dict[str, Any], rule: dict[str, Any]) -> Iterator[str]:
    """What one rule says together."""
    does = [one for do in rule["do"] for one in (short["actions"][do] if isinstance(do, str) else [do])]
    for on in rule["on"] if isinstance(rule["on"], list) else [rule["on"]]:
        yield from (f"{on} told apart by {key}" for key in TOLD_APART.get(on, ()) if key in rule)
        yield from (f"{on} of a colour" for _ in [0] if "colour" in rule)
        yield from (f"{verb} after {on}" for do in does for verb in do if verb in ACTIONS)


def _sort(short: dict[str, Any], sorts: tuple[str, ...], name: str) -> str:
    """What sort of name a name is."""
    if name in sorts:
        return name
    by_table = {"areas": "an area", "zones": "a zone", "goals": "a goal", "roles": "a role"}
    return next((sort for table, sort in by_table.items() if sort in sorts and name in short.get(table, {})), OWN)
