"""Knobs: what a coach turns, in whole steps, and the changes of a game file that a value of it stands for.

A knob is an everyday name (`sim.game.everyday`) or any other key as for ``--set``.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import product

from sim.errors import InputError
from sim.experiments.ranges import values_of
from sim.game.everyday import Changes, expanded
from sim.game.messages import show
from sim.game.model import Game

MOST_VALUES = 40
OPTION = "--knob"
LONGEST_NUMBER = 9  # digits: nothing on the grass comes in so many


@dataclass(frozen=True)
class Knob:
    """`key` and the whole values it may have."""

    key: str
    values: tuple[int, ...]


def knob_of(text: str) -> Knob:
    """A key and its values as typed (`sim.experiments.ranges`), all of them whole numbers."""
    key, equals, rest = (part.strip() for part in text.partition("="))
    if not equals or not key or not rest:
        raise InputError(
            f"must read KEY=FROM..TO or KEY=A,B,C, such as side=8..14 or touches=1,2,3 (got {show(text)})", OPTION
        )
    found = values_of(rest, key, OPTION, MOST_VALUES)
    if not found.listed or not all(value.isdecimal() and len(value) <= LONGEST_NUMBER for value in found.listed):
        raise InputError(f"{key} must have whole numbers (got {show(rest)})", OPTION)
    return Knob(key, tuple(sorted(int(value) for value in found.listed)))


def grid(knobs: Sequence[Knob]) -> list[tuple[int, ...]]:
    """Every combination of values, in order."""
    count = math.prod(len(knob.values) for knob in knobs)
    if not 2 <= count <= MOST_VALUES:
        raise InputError(f"must have from 2 to {MOST_VALUES} values in all (got {count})", OPTION)
    return list(product(*(knob.values for knob in knobs)))


def candidates(
    base: Game, knobs: Sequence[Knob], load: Callable[[Sequence[str]], Game]
) -> dict[tuple[int, ...], tuple[Game, Changes]]:
    """The game at every combination of values, with its changes; what comes to the same game is kept once."""
    if not 1 <= len(knobs) <= 2:
        raise InputError(f"must be given once or twice (got {len(knobs)} knobs)", OPTION)
    if len({knob.key for knob in knobs}) < len(knobs):
        raise InputError(f"must be two different knobs (got {knobs[0].key} twice)", OPTION)
    found: dict[tuple[int, ...], tuple[Game, Changes]] = {}
    for values in grid(knobs):
        changes: Changes = []
        for knob, value in zip(knobs, values, strict=True):
            changes += turned(base, knob.key, value)
        if all(changes != other for _, other in found.values()):
            found[values] = load(changes), changes
    return found


def turned(game: Game, knob: str, value: int | str, option: str = OPTION) -> Changes:
    """The changes of the file that put a knob at a value: an everyday name as it stands for them, anything else as it is."""
    whole = expanded(game, knob, str(value), option)
    return [f"{knob}={value}"] if whole is None else whole
