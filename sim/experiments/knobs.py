"""Knobs: what a coach turns, in whole steps, and the changes of a game file that a value of it stands for.

A knob is a key as for ``--set`` or one of the short words below.  A size keeps the shape of its area, in whole metres (or
yards, where the file counts in yards).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import product

from sim.errors import GameError
from sim.game.model import Area, Game, Role

MOST_VALUES = 40
WORDS = ("side", "area", "touches", "passes", "defenders", "bout", "rest")
OPTION = "--knob"
LONGEST_SPAN = 60  # characters of FROM..TO..STEP
Changes = list[str]


@dataclass(frozen=True)
class Knob:
    """`key` and the whole values it may have."""

    key: str
    values: tuple[int, ...]


def knob_of(text: str) -> Knob:
    """``KEY=FROM..TO`` or ``KEY=FROM..TO..STEP`` as typed."""
    key, equals, span = text.partition("=")
    try:
        numbers = [int(part) for part in span.split("..")] if len(span) <= LONGEST_SPAN else []
    except ValueError:
        numbers = []
    if not equals or not key.strip() or len(numbers) not in (2, 3):
        raise GameError(f"must read KEY=FROM..TO, whole numbers, or KEY=FROM..TO..STEP (got {text!r})", OPTION)
    start, end, step = (*numbers, 1)[:3]
    if step < 1 or end < start:
        raise GameError(f"{key.strip()} must go upwards (got {span})", OPTION)
    if (count := (end - start) // step + 1) > MOST_VALUES:  # asked before they are built
        raise GameError(f"must have from 2 to {MOST_VALUES} values in all (got {count})", OPTION)
    return Knob(key.strip(), tuple(range(start, end + 1, step)))


def grid(knobs: Sequence[Knob]) -> list[tuple[int, ...]]:
    """Every combination of values, in order."""
    count = math.prod(len(knob.values) for knob in knobs)
    if not 2 <= count <= MOST_VALUES:
        raise GameError(f"must have from 2 to {MOST_VALUES} values in all (got {count})", OPTION)
    return list(product(*(knob.values for knob in knobs)))


def candidates(
    base: Game, knobs: Sequence[Knob], load: Callable[[Sequence[str]], Game]
) -> dict[tuple[int, ...], tuple[Game, Changes]]:
    """The game at every combination of values, with its changes; what comes to the same game is kept once."""
    if not 1 <= len(knobs) <= 2:
        raise GameError(f"must be given once or twice (got {len(knobs)} knobs)", OPTION)
    if len({knob.key for knob in knobs}) < len(knobs):
        raise GameError(f"must be two different knobs (got {knobs[0].key} twice)", OPTION)
    found: dict[tuple[int, ...], tuple[Game, Changes]] = {}
    for values in grid(knobs):
        changes: Changes = []
        for knob, value in zip(knobs, values, strict=True):
            changes += fitting(turned(base, knob.key, value), changes, load)
        if all(changes != other for _, other in found.values()):
            found[values] = load(changes), changes
    return found


def fitting(ways: Sequence[Changes], before: Changes, load: Callable[[Sequence[str]], Game]) -> Changes:
    """The first of several ways to write a change that this file accepts; the last one's complaint if none is."""
    for way in ways[:-1]:
        try:
            load([*before, *way])
        except GameError:
            continue
        return way
    return ways[-1]


def turned(game: Game, knob: str, value: int | str) -> list[Changes]:
    """The ways to write the changes that put a knob at a value; sizes and times must be whole numbers."""
    area, dot, what = knob.rpartition(".")
    if isinstance(value, str) and (what in ("side", "area") and "." not in area or knob in ("bout", "rest")):
        raise GameError(f"must be a whole number (got {value})", f"{knob}={value}")
    if what in ("side", "area") and "." not in area:
        return [[change for one in areas_of(game, area if dot else None) for change in sized(one, what, value)]]
    if knob == "touches":
        return [[f"roles.{role.name}.touches={value}" for role in limited(game)]]
    if knob == "passes":
        return [[f"phases.{phase}.rules.{rule}.count={value}" for phase, rule in counters(game)]]
    if knob == "defenders":
        return defenders(game, value)
    if knob in ("bout", "rest"):
        length = f"{value / 60:.10g}"
        names = ("seconds", "minutes") if knob == "bout" else ("rest_seconds", "rest_minutes")
        return [[f"bouts.{names[1]}={length}"], [f"bouts.{names[0]}={value}"]]
    return [[f"{knob}={value}"]]


def areas_of(game: Game, name: str | None) -> list[Area]:
    """The area named, or the start area and all of its size."""
    start = game.area(game.start_area)
    found = [
        one
        for one in game.areas
        if (one.name == name if name is not None else (one.length, one.width) == (start.length, start.width))
    ]
    if not found:
        raise GameError(f"must name an area: {', '.join(one.name for one in game.areas)} (got {name})", OPTION)
    return found


def sized(area: Area, what: str, value: int) -> Changes:
    """Length and width in whole numbers, in the shape of the area: `value` is the length, or length times width."""
    length = value if what == "side" else round(math.sqrt(value * area.length / area.width))
    width = round((value if what == "side" else math.sqrt(value * area.length / area.width)) * area.width / area.length)
    return [f"areas.{area.name}.length={length}", f"areas.{area.name}.width={width}"]


def limited(game: Game) -> list[Role]:
    """The roles with a limit of touches; if there are none, those that begin with the ball."""
    return [role for role in game.roles if role.touches is not None] or [
        role for role in game.roles if role.side in (game.start_side, "team") and role.style in ("edge", "free")
    ]


def counters(game: Game) -> list[tuple[str, str]]:
    """(phase, rule) of every rule that counts passes; all must ask for the same number."""
    found = [
        (phase.name, rule.name, rule.count) for phase in game.phases for rule in phase.rules if rule.on == "passes"
    ]
    if len({count for _, _, count in found}) != 1:
        keys = ", ".join(f"phases.{phase}.rules.{rule}.count" for phase, rule, _ in found) or "none in this game"
        raise GameError(f"passes must be one number in the game; name the key instead (got {keys})", OPTION)
    return [(phase, rule) for phase, rule, _ in found]


def defenders(game: Game, value: int) -> list[Changes]:
    """So many players in the one role that hunts the ball from the start."""
    return peopled(game, hunters(game), value)


def peopled(game: Game, role: Role, value: int) -> list[Changes]:
    """The ways to write that a role has so many players, of the team that it has players of."""
    team = next(player.team for player in game.players if player.role == role.name)
    return [[f"roles.{role.name}.players={value}"], [f"roles.{role.name}.players.{team}={value}"]]


def hunters(game: Game) -> Role:
    """The one role that hunts the ball from the start."""
    found = [
        role
        for role in game.roles
        if role.side not in (game.start_side, "team", "holder")
        and role.style in ("edge", "free")
        and any(player.role == role.name for player in game.players)
    ]
    if len(found) != 1:
        names = ", ".join(f"roles.{role.name}.players" for role in found or game.roles)
        raise GameError(f"defenders must be one role; name the key instead, one of: {names} (got defenders)", OPTION)
    return found[0]
