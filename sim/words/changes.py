"""Changes of a game as a coach says them: ``8 x 8 m``, ``one touch for outside``, ``3 inside``, ``one ball at hand``; what has
no such name stays ``KEY = VALUE``.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from sim.errors import InputError
from sim.game.everyday import expanded, teams_of, time_typed
from sim.game.model import Area, Game
from sim.units import to_metres
from sim.words.figures import present
from sim.words.listing import WORDS, listed
from sim.words.plain_keys import in_plain_words
from sim.words.plurals import counted
from sim.words.who import counted_in

SPELT = ("no", *WORDS)
UNITS = {"m": "metres", "yd": "yards"}
SIZES = ("side", "area", "length", "width")
SIZE = re.compile(rf"areas\.([^.]+)\.(?:length|width)|(?:{'|'.join(SIZES)})(?:\.([^.]+))?|([^.]+)\.(?:side|area)")
TOUCHES = re.compile(r"roles\.([^.]+)\.touches|touches(?:\.([^.]+))?")
PLAYERS = re.compile(r"roles\.([^.]+)\.players(?:\.([^.]+))?|players\.([^.]+)|(defender|floater)s")
PASSES = re.compile(r"phases\.([^.]+)\.rules\.([^.]+)\.count|passes")
TIMES = {
    "bouts.minutes": ("bouts", "min"),
    "bouts.seconds": ("bouts", "s"),
    "bouts.rest_minutes": ("rests", "min"),
    "bouts.rest_seconds": ("rests", "s"),
}
TYPED_TIMES = {"bout": "bouts", "rest": "rests"}
COUNTS = ("bouts.count", "bouts")


def in_words(changes: Sequence[str], game: Game | None = None, unit: str = "m") -> list[str]:
    """What each of these changes is called, those that belong together in one.

    `game` is the game with the changes made (without it a size is what they say of it), `unit` what its file counts lengths in.
    """
    found: dict[str, list[tuple[str, str]]] = {}
    for change in changes:
        for key, value in in_keys(change, game):
            found.setdefault(kind_of(key, value, game) or f"{key} =", []).append((key, value))
    said = {
        "size": lambda own: sizes(own, game, unit),
        "touches": touches,
        "players": lambda own: players(own, game),
        "passes": passes,
    }
    return [one for kind, own in found.items() for one in said.get(kind, lambda own: other_changes(own, game))(own)]


def phrase(changes: Sequence[str], game: Game | None = None, unit: str = "m") -> str:
    """All of them in one: ``8 x 8 m and one touch for outside``."""
    return listed(in_words(changes, game, unit))


def in_keys(change: str, game: Game | None) -> list[tuple[str, str]]:
    """(key, value) of a change; an everyday name that only the game can tell (``inside=3``) by the keys of the file."""
    key, _, value = (part.strip() for part in change.partition("="))
    if game is None or kind_of(key, value, game) or key in (*TYPED_TIMES, *COUNTS):
        return [(key, value)]
    try:
        written = expanded(game, key, value)
    except InputError:  # it could be written in the game as it was, and cannot in this one
        written = None
    return (
        [(key, value)]
        if written is None
        else [(one, said) for one, _, said in (each.partition("=") for each in written)]
    )


def kind_of(key: str, value: str, game: Game | None) -> str:
    """What a change belongs to; nothing where it stands alone."""
    if SIZE.fullmatch(key) and number_of(value) is not None:
        return "size"
    if TOUCHES.fullmatch(key):
        return "touches"
    if PLAYERS.fullmatch(key) and number_of(value) is not None:
        return "players"
    if (match := PASSES.fullmatch(key)) and (key == "passes" or counts_passes(game, *match.groups())):
        return "passes"
    return ""


def counts_passes(game: Game | None, phase: str, rule: str) -> bool:
    """Whether a rule of a phase counts passes; not where the game is not known."""
    return game is not None and any(
        one.on == "passes" for part in game.phases if part.name == phase for one in part.rules if one.name == rule
    )


def number_of(text: str) -> float | None:
    """The number a text is; None where it is none."""
    try:
        return float(text)
    except ValueError:
        return None


def named_in(pattern: re.Pattern[str], key: str) -> str:
    """The role or area that a key of this pattern is about; nothing where it names none."""
    match = pattern.fullmatch(key)
    return next((one for one in match.groups() if one), "") if match else ""


def spelt(count: float) -> str:
    """``two``; figures from eleven on, and where it is not whole."""
    return SPELT[int(count)] if count == int(count) and 0 <= count < len(SPELT) else f"{count:g}"


def area_size(area: Area, unit: str = "m") -> str:
    """``8 x 8 m``, in the unit of the file."""
    metre = to_metres(1.0, UNITS[unit])
    return f"{area.length / metre:.3g} x {area.width / metre:.3g} {unit}"


def sizes(own: Sequence[tuple[str, str]], game: Game | None, unit: str) -> list[str]:
    """Sizes as they come out; each area by name where they are not all of one size."""
    if game is None:
        return sizes_alone(own, unit)
    names = dict.fromkeys(name for key, _ in own for name in areas_meant(key, game))
    by_size: dict[str, list[str]] = {}
    for name in names:
        by_size.setdefault(area_size(game.area(name), unit), []).append(name)
    if len(by_size) == 1 and len(names) == len(game.areas):
        return [("each " if len(names) > 1 else "") + size for size in by_size]
    return [f"{listed(where)} {size}" for size, where in by_size.items()]


def areas_meant(key: str, game: Game) -> list[str]:
    """The area a size is set of; without a name the start area and all of its size."""
    name = named_in(SIZE, key)
    there = [area.name for area in game.areas]
    if name:
        return [name] if name in there else []
    start = game.area(game.start_area)
    return [area.name for area in game.areas if (area.length, area.width) == (start.length, start.width)]


def sizes_alone(own: Sequence[tuple[str, str]], unit: str) -> list[str]:
    """What the changes themselves say of sizes, area by area."""
    by_area: dict[str, dict[str, str]] = {}
    for key, value in own:
        name, what = named_in(SIZE, key), next(one for one in SIZES if one in key.split("."))
        by_area.setdefault(name, {})[what] = value
    found = []
    for name, parts in by_area.items():
        both = {"length", "width"} <= set(parts)
        size = (
            f"{parts['length']} x {parts['width']} {unit}"
            if both
            else listed(f"{what} {n} {unit}" for what, n in parts.items())
        )
        found.append(size if len(by_area) == 1 else f"{name} {size}".strip())
    return found


def touches(own: Sequence[tuple[str, str]]) -> list[str]:
    """``one touch for outside``, ``free touches``."""

    def said(value: str) -> str:
        count = number_of(value)
        how_many = value.strip('"') if count is None else spelt(count)
        return f"{how_many} {counted('touch', 0 if count is None else count)}"

    found = grouped_by_value(own, lambda key, value: named_in(TOUCHES, key))
    return [said(value) + (f" for {whom}" if whom else "") for value, whom in found]


def players(own: Sequence[tuple[str, str]], game: Game | None) -> list[str]:
    """``3 inside``, ``4 hunters``; with the bibs where a role has players of several: ``5 home in amber``."""
    return [f"{value} {whom}" for value, whom in grouped_by_value(own, lambda key, value: players_of(key, value, game))]


def players_of(key: str, value: str, game: Game | None) -> str:
    """Whom a number of players is about."""
    role, team = [*(one for one in present(PLAYERS.fullmatch(key)).groups() if one), ""][:2]
    said = counted_in(role, 1 if number_of(value) == 1 else 2).partition(" ")[2]
    return f"{said} in {team}" if team and (game is None or len(teams_of(game, game.role(role))) > 1) else said


def passes(own: Sequence[tuple[str, str]]) -> list[str]:
    """``8 passes``, each number once."""
    return [f"{value} {'pass' if value == '1' else 'passes'}" for value in dict.fromkeys(value for _, value in own)]


def grouped_by_value(own: Sequence[tuple[str, str]], whose: Callable[[str, str], str]) -> list[tuple[str, str]]:
    """(value, all that have it), each value once."""
    found: dict[str, list[str]] = {}
    for key, value in own:
        found.setdefault(value, []).append(whose(key, value))
    return [(value, listed(dict.fromkeys(one for one in whom if one))) for value, whom in found.items()]


def other_changes(own: Sequence[tuple[str, str]], game: Game | None) -> list[str]:
    """Times, numbers of bouts and what else there are words for; all else as ``KEY = VALUE``."""
    found = []
    for key, value in own:
        if key in TIMES and number_of(value) is not None:
            what, unit = TIMES[key]
            found.append(f"{what} of {value} {unit}")
        elif key in TYPED_TIMES and (typed := time_typed(value)):
            found.append(f"{TYPED_TIMES[key]} of {' '.join(typed)}")
        elif key in COUNTS and number_of(value) is not None:
            found.append(f"{value} {'bout' if value == '1' else 'bouts'}")
        else:
            found.append(in_plain_words(key, value, game) or f"{key} = {value}")
    return found
