"""Everyday names: what a coach calls the things that can be changed, and the keys of a game file that they stand for.

``side=9`` is as good as ``areas.square.length=9`` and ``areas.square.width=9``.  Where a game has several (areas, roles, rules)
the one that is meant follows after a dot: ``touches.outside=1``, ``side.west=12``.  A name that could mean two things in a game is
refused with the choices.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from sim.errors import InputError, any_of, given, nearest
from sim.game.messages import show
from sim.game.model import Area, Game, Role
from sim.units import SECONDS_PER_MINUTE

Changes = list[str]
OPTION = "--set"
LONGEST_NUMBER = 20  # characters of a number that somebody types
_TIME = re.compile(r"(\d+(?:\.\d+)?) ?(s|sec|seconds|min|minutes)?")


@dataclass(frozen=True)
class Asked:
    """One change in everyday words: `word` of `place` (None: not said) is to be `value`; `option` is named in complaints."""

    word: str
    place: str | None
    value: str
    option: str

    @property
    def key(self) -> str:
        """The name as it was typed: the word, or word.place."""
        return self.word if self.place is None else f"{self.word}.{self.place}"

    def refused(self, rule: str) -> InputError:
        """The complaint that what was typed breaks this rule."""
        return InputError(f"{self.key} {rule} (got {show(self.value)})", self.option)

    def one_of(self, what: str, places: Sequence[str]) -> InputError:
        """Not unique, or not there: name one of these."""
        if not places:
            return self.refused(f"cannot be changed: this game has no {what}")
        which = any_of([f"{self.word}.{place}" for place in places])
        return InputError(f"{self.key} must say which {what}: {which} (got {show(self.key)})", self.option)

    @property
    def whole(self) -> int:
        """The value as a whole number; refused where it is none."""
        if len(self.value) > LONGEST_NUMBER or not self.value.isdecimal():
            raise self.refused("must be a whole number")
        return int(self.value)


def areas_of(game: Game, name: str | None) -> list[Area]:
    """The area named, or the start area and all of its size."""
    start = game.area(game.start_area)
    return [
        one
        for one in game.areas
        if (one.name == name if name is not None else (one.length, one.width) == (start.length, start.width))
    ]


def limited(game: Game) -> list[Role]:
    """The roles with a limit of touches; if there are none, those that begin with the ball."""
    return [role for role in game.roles if role.touches is not None] or [
        role for role in game.roles if role.side in (game.start_side, "team") and role.style in ("edge", "free")
    ]


def counters(game: Game) -> list[tuple[str, str, float]]:
    """(phase, rule, number) of every rule that counts passes."""
    return [
        (phase.name, rule.name, given(rule.count))
        for phase in game.phases
        for rule in phase.rules
        if rule.on == "passes"
    ]


def hunters(game: Game) -> list[Role]:
    """The roles that hunt the ball from the start."""
    return [
        role
        for role in game.roles
        if role.side not in (game.start_side, "team", "holder")
        and role.style in ("edge", "free")
        and teams_of(game, role)
    ]


def helpers(game: Game) -> list[Role]:
    """The roles that are always with the side that has the ball."""
    return [role for role in game.roles if role.side == "holder" and teams_of(game, role)]


def teams_of(game: Game, role: Role) -> list[str]:
    """The teams with players in a role, in the order of the file."""
    return [team.name for team in game.teams if count_of(game, role, team.name)]


def count_of(game: Game, role: Role, team: str | None = None) -> int:
    """How many have the role at the start, in all or of one team."""
    return sum(one.role == role.name and team in (None, one.team) for one in game.players)


def peopled(game: Game, role: Role, value: object, team: str | None = None) -> Changes:
    """How to write that a role has so many players, of `team` or else of every team that it has players of."""
    if len(game.teams) == 1:
        return [f"roles.{role.name}.players={value}"]
    return [f"roles.{role.name}.players.{one}={value}" for one in ([team] if team else teams_of(game, role))]


def sized(area: Area, what: str, value: int) -> Changes:
    """Length and width in whole numbers, in the shape of the area: `value` is the length, or length times width."""
    length = value if what == "side" else round(math.sqrt(value * area.length / area.width))
    width = round((value if what == "side" else math.sqrt(value * area.length / area.width)) * area.width / area.length)
    return [f"areas.{area.name}.length={length}", f"areas.{area.name}.width={width}"]


def _areas(game: Game, asked: Asked) -> list[Area]:
    found = areas_of(game, asked.place)
    if not found:
        raise asked.one_of("area", [one.name for one in game.areas])
    return found


def _size(game: Game, asked: Asked) -> Changes:
    return [change for area in _areas(game, asked) for change in sized(area, asked.word, asked.whole)]


def _edge(game: Game, asked: Asked) -> Changes:
    return [f"areas.{area.name}.{asked.word}={asked.value}" for area in _areas(game, asked)]


def _touches(game: Game, asked: Asked) -> Changes:
    roles = limited(game)
    if asked.place is not None:
        roles = [role for role in game.roles if role.name == asked.place]
    if len({role.touches for role in roles}) != 1:
        raise asked.one_of("role", [role.name for role in limited(game)])
    return [f"roles.{role.name}.touches={asked.value}" for role in roles]


def _passes(game: Game, asked: Asked) -> Changes:
    every = counters(game)
    found = [one for one in every if asked.place in (None, one[0], one[1])]
    if len({number for _, _, number in found}) != 1:
        raise asked.one_of("rule that counts passes", list(dict.fromkeys(rule for _, rule, _ in every)))
    return [f"phases.{phase}.rules.{rule}.count={asked.value}" for phase, rule, _ in found]


def _players(game: Game, asked: Asked) -> Changes:
    roles = [role for role in game.roles if teams_of(game, role)]
    name, _, team = (asked.place or "").partition(".")
    found = [role for role in roles if role.name == name] if asked.place is not None else roles
    if len(found) != 1:
        raise asked.one_of("role", [role.name for role in roles])
    return _people(game, found[0], asked, team)


def _people(game: Game, role: Role, asked: Asked, team: str = "") -> Changes:
    """So many for the team named, or for every team if all have as many."""
    teams = teams_of(game, role)
    if team not in ("", *teams) or (not team and len({count_of(game, role, one) for one in teams}) > 1):
        choices = [f"players.{role.name}.{one}" for one in teams]
        raise asked.refused(f"must say of which team: {any_of(choices)}")
    return peopled(game, role, asked.value, team or None)


def _one_role(game: Game, asked: Asked, roles: Sequence[Role], nobody: str) -> Changes:
    found = [role for role in roles if asked.place in (None, role.name)]
    if len(found) == 1:
        return _people(game, found[0], asked)
    if roles:
        raise asked.one_of("role", [role.name for role in roles])
    choices = [f"players.{role.name}" for role in game.roles if teams_of(game, role)]
    raise asked.refused(f"cannot be changed: {nobody}; you can change {any_of(choices, 'and')}")


def _defenders(game: Game, asked: Asked) -> Changes:
    return _one_role(game, asked, hunters(game), "no role only hunts the ball here")


def _floaters(game: Game, asked: Asked) -> Changes:
    return _one_role(game, asked, helpers(game), "this game has no floaters")


def time_typed(text: str) -> tuple[str, str] | None:
    """(number, "s" or "min") of a time as people type it, seconds where they say nothing; None for anything else."""
    found = _TIME.fullmatch(text) if len(text) <= LONGEST_NUMBER else None
    return None if found is None else (found[1], "min" if (found[2] or "s").startswith("m") else "s")


def _time(game: Game, asked: Asked) -> Changes:
    """In minutes, as files have it, or in seconds where that many minutes cannot be written."""
    found = time_typed(asked.value)
    if asked.place is not None or found is None:
        raise asked.refused("must be a time, in seconds or such as 90s or 3min")
    number, unit = found
    seconds = float(number) * (SECONDS_PER_MINUTE if unit == "min" else 1)
    minutes = f"{seconds / SECONDS_PER_MINUTE:.10g}"
    prefix = {"bout": "bouts.", "rest": "bouts.rest_"}[asked.word]
    exact = float(minutes) * SECONDS_PER_MINUTE == seconds
    return [f"{prefix}minutes={minutes}" if exact else f"{prefix}seconds={seconds:.10g}"]


def _bouts(game: Game, asked: Asked) -> Changes:
    if asked.place is not None:
        raise asked.refused("must be bouts: how many there are")
    return [f"bouts.count={asked.value}"]


def _area_names(game: Game) -> list[str]:
    return [area.name for area in game.areas]


def _role_names(game: Game) -> list[str]:
    return [role.name for role in game.roles]


def _with_players(game: Game) -> list[str]:
    """Roles, and the teams of those that several have players in."""
    found = []
    for role in game.roles:
        teams = teams_of(game, role)
        found += [role.name] if teams else []
        found += [f"{role.name}.{team}" for team in teams] if len(teams) > 1 else []
    return found


def _nowhere(game: Game) -> list[str]:
    return []


@dataclass(frozen=True)
class Name:
    """How a name is written out as keys of the file, and what may follow it after a dot."""

    written: Callable[[Game, Asked], Changes]
    places: Callable[[Game], list[str]]


NAMES: Mapping[str, Name] = MappingProxyType(
    {
        "side": Name(_size, _area_names),
        "length": Name(_edge, _area_names),
        "width": Name(_edge, _area_names),
        "area": Name(_size, _area_names),
        "touches": Name(_touches, _role_names),
        "passes": Name(_passes, lambda game: [rule for _, rule, _ in counters(game)]),
        "players": Name(_players, _with_players),
        "defenders": Name(_defenders, lambda game: [role.name for role in hunters(game)]),
        "floaters": Name(_floaters, lambda game: [role.name for role in helpers(game)]),
        "bout": Name(_time, _nowhere),
        "rest": Name(_time, _nowhere),
        "bouts": Name(_bouts, _nowhere),
    }
)
"""Everything that has an everyday name.  A role's own name stands for its players, too: ``outside=5``."""

TABLES = ("bouts", "players")
"""Names that are tables of the file, too: with a table after the equals sign they are what the file says."""


def asked_of(game: Game, key: str, value: str, option: str) -> Asked | None:
    """A key in everyday words, the place after the dot or (``west.side``) before it; None where it is none of them."""
    word, dot, place = key.partition(".")
    if word == "bouts" and dot:  # a path of the file
        return None
    if word in NAMES and (place.count(".") == 0 or place.partition(".")[0] in _role_names(game)):
        return Asked(word, place if dot else None, value.strip(), option)
    if dot and place in NAMES and word in NAMES[place].places(game):
        return Asked(place, word, value.strip(), option)
    if not dot and any(role.name == word and teams_of(game, role) for role in game.roles):
        return Asked("players", word, value.strip(), option)
    return None


def expanded(game: Game, key: str, value: str, option: str = OPTION) -> Changes | None:
    """The changes of the file that an everyday name and its value stand for; None for a key that is no such name."""
    asked = asked_of(game, key, value, option)
    return None if asked is None else NAMES[asked.word].written(game, asked)


def means_another(key: str, value: str, roles: Collection[str]) -> bool:
    """Whether a path of the file is meant as the everyday name that it is, too; a table is what the file says."""
    word, dot, place = key.partition(".")
    return word in TABLES and (not dot or place in roles) and not value.strip().startswith("{")


def names_of(game: Game) -> list[str]:
    """Every everyday name that can be written in this game, those with a dot where there is more than one to choose from."""
    found = []
    for word, name in NAMES.items():
        places = name.places(game)
        tried = [word, *(f"{word}.{place}" for place in places)] if len(places) > 1 else [word]
        found += [key for key in tried if _can_be_written(game, key)]
    return found


def _can_be_written(game: Game, key: str) -> bool:
    try:
        return expanded(game, key, "1") is not None
    except InputError:
        return False


def not_a_key(game: Game, key: str, known: Sequence[str], option: str) -> InputError:
    """A complaint about a key nobody knows, with the three that are most like it."""
    names = names_of(game)
    near = nearest(key, [*names, *known])
    plain = [name for name in names if "." not in name]
    hint = f"did you mean {any_of(near)}?" if near else f"there are {any_of(plain, 'and')}"
    return InputError(f"{key} is no name in this game: {hint}", option)


def shortened(game: Game, changes: Sequence[str]) -> Changes:
    """The same changes of this game in everyday names, as far as these say exactly the same."""
    found = list(changes)
    for change in changes:
        value = change.partition("=")[2]
        if change not in found:
            continue
        for short in _short_for(game, change, value):
            key, _, said = short.partition("=")
            try:
                whole = expanded(game, key, said)
            except InputError:
                continue
            if whole and change in whole and all(found.count(one) == 1 for one in whole):
                at = min(found.index(one) for one in whole)
                found = [one for one in found if one not in whole or found.index(one) == at]
                found[at] = short
                break
    return found


def _short_for(game: Game, change: str, value: str) -> list[str]:
    """What a change may be called, the plainest first."""
    path = change.partition("=")[0].split(".")
    if path[0] == "bouts":
        seconds = (
            f"{float(value) * SECONDS_PER_MINUTE:.10g}" if path[-1].endswith("minutes") and _is_number(value) else value
        )
        return [f"bouts={value}"] if path[-1] == "count" else [f"{'rest' if 'rest' in path[-1] else 'bout'}={seconds}"]
    words = {
        "areas": ("side", path[-1]),
        "phases": ("passes",),
        "roles": ("touches", "defenders", "floaters", "players"),
    }
    tried = words.get(path[0], ())
    return [f"{key}={value}" for key in names_of(game) for word in tried if key.partition(".")[0] == word]


def _is_number(text: str) -> bool:
    return len(text) <= LONGEST_NUMBER and re.fullmatch(r"\d+(\.\d+)?", text) is not None
