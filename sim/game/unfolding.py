"""What a short file writes once: lists of actions by name, several events of one rule, the same for the other side.

Each is written out in full, in plain data, before anything is checked.  `Unfolding.written` tells where in the file stands what
is written out, by the dotted paths of the full form, so that complaints can name the place in the file.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from itertools import combinations
from typing import Any

from sim.errors import any_of
from sim.game.filling import PHASE, Table, sides, tables, teams_named
from sim.game.messages import Problem, broken, show, unknown
from sim.game.short_words import OTHER_SIDE

_ENDS = (("west", "east"), ("south", "north"))
_OF_ONE_BALL = (
    *(("loss", event) for event in ("win", "wins", "out", "goal", "save", "miss")),
    *combinations(("win", "wins", "save"), 2),  # a save is a ball won, by the keeper
    *(("won back", event) for event in ("loss", "win", "wins", "out", "goal", "save", "miss")),
    *combinations(("transfer", "home", "passes", "pass", "not won back"), 2),
    ("carry", "home"),
    ("loss", "foul"),  # by those who had it, before the win of the others counts
)
"""Events that may come of one and the same ball."""
_MIRRORED = ("areas", "zones", "goals", "gates", "roles", "restarts")


class Unfolding:
    """A file while it is written out in full."""

    def __init__(self, data: Table):
        self.data = data
        self.problems: list[Problem] = []
        self.written: dict[str, str] = {}

    def refuse(self, problem: Problem) -> None:
        """Something is wrong with what the file writes once."""
        self.problems.append(problem)


def _rules_into_the_phase(unfolding: Unfolding) -> None:
    """Rules at the top of the file are those of its only phase."""
    data = unfolding.data
    if "rules" not in data:
        return
    rules, phases = data.pop("rules"), data.get("phases", {PHASE: {}})
    if not isinstance(rules, dict):
        unfolding.refuse(broken("rules", "be a table", rules))
    elif not isinstance(phases, dict) or not all(isinstance(phase, dict) for phase in phases.values()):
        return  # complained about as phases
    elif len(phases) != 1 or "rules" in next(iter(phases.values())):
        there = any_of([f"phases.{name}.rules" for name in phases], "and")
        unfolding.refuse(
            Problem("rules", f"must stand in phases where there are several, or rules there (got {there})")
        )
    else:
        name = next(iter(phases))
        unfolding.data.setdefault("phases", {}).setdefault(name, {})["rules"] = rules
        unfolding.written[f"phases.{name}.rules"] = "rules"


def _places(unfolding: Unfolding) -> list[tuple[str, Table]]:
    """(path, table) of every table of rules."""
    phases = tables(unfolding.data, "phases")
    return [
        (f"phases.{name}.rules", phase["rules"]) for name, phase in phases.items() if "rules" in tables(phases, name)
    ]


def _listed(unfolding: Unfolding, path: str, do: list, lists: Table) -> tuple[list, set[str]]:
    """The consequences of a rule with every name of a list replaced by what stands in it, and the names that were used."""
    found: list = []
    used: set[str] = set()
    for one in do:
        if not isinstance(one, str) or not lists:
            found.append(one)
        elif one in lists:
            used.add(one)
            found += lists[one] if isinstance(lists[one], list) else []
        else:
            unfolding.refuse(unknown(f"{path}.do", "a list in actions", one, lists))
            found.append({"end": "bout"})  # stands in, so that the rest of the file can be looked at
    return found, used


def _actions(unfolding: Unfolding) -> None:
    """Named lists of consequences, where they are used."""
    lists = unfolding.data.pop("actions", {})
    if not isinstance(lists, dict):
        unfolding.refuse(broken("actions", "be a table", lists))
        lists = {}
    used: set[str] = set()
    for path, rules in _places(unfolding):
        for name, rule in rules.items():
            if isinstance(rule, dict) and isinstance(rule.get("do"), list):
                rule["do"], here = _listed(unfolding, f"{path}.{name}", rule["do"], lists)
                used |= here
    for name, one in lists.items():
        wrong = not isinstance(one, list) or not all(isinstance(action, dict) for action in one) or not one
        if wrong:
            unfolding.refuse(broken(f"actions.{name}", "be a list of tables with one verb each", one))
        elif name not in used:
            unfolding.refuse(Problem(f"actions.{name}", "must be used by the do of some rule (got none)"))


def _at_once(events: list) -> str | None:
    """Two of these events that may come of one ball, as a person reads them; None where there are none."""
    for one, other in combinations(events, 2):
        if one == other:
            return f"{show(one)} twice"
        if (one, other) in _OF_ONE_BALL or (other, one) in _OF_ONE_BALL:
            return f"{show(one)} and {show(other)}"
    return None


def _events(unfolding: Unfolding) -> None:
    """A rule on several events is one rule for each."""
    for path, rules in _places(unfolding):
        for name, rule in list(rules.items()):
            if not isinstance(rule, dict) or not isinstance(rule.get("on"), list):
                continue
            events, own = rule["on"], {key: value for key, value in rule.items() if key != "on"}
            if not events or not all(isinstance(event, str) for event in events):
                unfolding.refuse(broken(f"{path}.{name}.on", "be an event, or a list of events", events))
                events = []
            elif twice := _at_once(events):
                must = "hold events that never come of the same ball, or its rule would answer twice"
                unfolding.refuse(Problem(f"{path}.{name}.on", f"must {must} (got {twice})"))
                events = events[:1]
            made = {name if len(events) == 1 else f"{name}-{event}": own | {"on": event} for event in events}
            _instead(unfolding, path, rules, name, made)


def _instead(unfolding: Unfolding, path: str, held: Table, name: str, made: Mapping[str, Any]) -> None:
    """Put what is written out in full where it was written once."""
    taken = [one for one in made if one != name and one in held]
    for one in taken:
        unfolding.refuse(
            Problem(f"{path}.{one}", f"must have another name, as {path}.{name} makes one of this name (got both)")
        )
    kept = {key: value for key, value in held.items() if key not in taken}
    held.clear()
    for key, value in kept.items():
        held |= made if key == name else {key: value}
    for one in (one for one in made if one not in taken):
        unfolding.written.setdefault(f"{path}.{one}", f"{path}.{name}")


def _exchange(unfolding: Unfolding) -> dict[str, str]:
    """The words that change places on the other side."""
    there = sides(unfolding.data)
    if len(there) < 2:  # the other one may be in what is written out here
        there = teams_named(unfolding.data)
    pairs = [*_ENDS, tuple(there)] if len(there) == 2 else list(_ENDS)
    return {word: other for pair in pairs for word, other in (pair, pair[::-1])}


def _turned(value: Any, words: Mapping[str, str], key: str = "") -> Any:
    """A value as it is on the other side; the way through a gate has no sides."""
    if key == "way":
        return value
    if isinstance(value, str):
        pattern = rf"(?<![A-Za-z0-9])({'|'.join(map(re.escape, words))})(?![A-Za-z0-9])"
        return re.sub(pattern, lambda found: words[found[0]], value)
    if isinstance(value, dict):
        return {_turned(name, words): _turned(one, words, name) for name, one in value.items()}
    if isinstance(value, list):
        negative = key == "centre" and all(isinstance(one, (int, float)) for one in value)
        return [-one for one in value] if negative else [_turned(one, words) for one in value]
    return value


def _otherwise(unfolding: Unfolding, path: str, table: Table, other: str) -> Table:
    """What is written of the other side by its own name, and holds instead there: taken out of the table."""
    own = table.get(other)
    if not isinstance(own, dict) or OTHER_SIDE in own:
        return {}
    unfolding.written |= {f"{path}.{key}": f"{path}.{key}" for key in own}
    return table.pop(other)


def _other_side(unfolding: Unfolding) -> None:
    """What is the same for the other side, once more."""
    words = _exchange(unfolding)
    held = [(key, unfolding.data[key]) for key in _MIRRORED if isinstance(unfolding.data.get(key), dict)]
    for path, table in [*held, *_places(unfolding)]:
        for name, one in list(table.items()):
            if table.get(name) is not one or not isinstance(one, dict) or OTHER_SIDE not in one:
                continue
            asked, other = one.pop(OTHER_SIDE), _turned(name, words)
            if asked is not True:
                unfolding.refuse(broken(f"{path}.{name}.{OTHER_SIDE}", "be true or left out", asked))
            elif other == name:
                must = f"stand where the name has a word that changes: {any_of(list(words))}"
                unfolding.refuse(broken(f"{path}.{name}.{OTHER_SIDE}", must, name))
            else:
                made = _turned(one, words) | _otherwise(unfolding, f"{path}.{other}", table, other)
                _instead(unfolding, path, table, name, {name: one, other: made})


def unfold(data: Table) -> Unfolding:
    """Write out in full what `data` writes once, in place; with what is wrong with it, and where in the file it stands."""
    unfolding = Unfolding(data)
    _rules_into_the_phase(unfolding)
    _actions(unfolding)
    _events(unfolding)
    _other_side(unfolding)
    return unfolding
