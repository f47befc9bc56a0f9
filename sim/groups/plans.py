"""Ways to set a game up for who turned up: in one group or several, with somebody waiting or not, keepers among them or apart."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import islice
from math import ceil

from sim.errors import InputError
from sim.game.equipment import server_needed
from sim.game.model import Game
from sim.groups.making import SUPPORT, Wanted, made, seats
from sim.groups.posts import Shape, shape_of
from sim.groups.splits import splits

MOST_GROUPS = 4
"""At a time; a server and somebody to count for each (house default)."""
TIMES_AS_MANY = 2.5
"""A group is at most so many times the game (house default)."""
FEWEST_OF_A_GROUP = 0.6
"""And at least this share of it (house default)."""
MOST_WAITING = 3
"""At a time, outside the game (house default)."""
KEEPERS_ON_THE_LINES = 2
WAYS_TO_SPLIT = 2
"""Of each kind: the split most like the game, and the next."""


Known = dict[tuple[int, int, int], list[tuple[Wanted, Game]]]
"""Groups by how many are in them, on reduced load, and keepers among them: the most alike first."""


@dataclass(frozen=True)
class Turnout:
    """Who is there: `players` without the keepers, `restricted` of them on reduced load, each with `most_bouts` at most."""

    players: int
    restricted: int = 0
    keepers: int = 0
    most_bouts: int | None = None


@dataclass(frozen=True)
class Plan:
    """A set-up: the groups as they were wanted and the games they play, who waits, and the keepers who are in no group."""

    groups: tuple[tuple[Wanted, Game], ...]
    waiting: int
    keepers_apart: int

    @property
    def kind(self) -> tuple[int, int, bool]:
        """What tells it from others at a glance."""
        return len(self.groups), self.waiting, any(wanted.keepers for wanted, _ in self.groups)

    @property
    def staff(self) -> int:
        """How many people it takes: one with the watch, and a server for every group that needs one."""
        return 1 + sum(server_needed(game) for _, game in self.groups)

    @property
    def people(self) -> int:
        """Everybody in a group or waiting, keepers in goal not counted."""
        return self.waiting + sum(wanted.split.people for wanted, _ in self.groups)


def plans(game: Game, turnout: Turnout) -> list[Plan]:
    """Every way that can be played, of each kind the one most like the game; refused where there is none."""
    shape = shape_of(game)
    refuse(game, shape, turnout)
    found: list[Plan] = []
    known: Known = {}
    for groups in range(1, most_groups(shape, turnout) + 1):
        for waiting, keepers in _outside(shape, turnout, groups):
            for best in range(WAYS_TO_SPLIT):
                plan = _plan(game, shape, turnout, (groups, waiting, keepers, best), known)
                if plan is not None and plan not in found:
                    found.append(plan)
    if not found:
        raise InputError(_none(game, shape, turnout), "--players")
    return found


def one_fewer(game: Game, turnout: Turnout, plan: Plan) -> Plan | None:
    """The set-up of this plan when one more player does not come: in as many groups where that goes; None where nothing goes."""
    try:
        found = plans(game, replace(turnout, players=turnout.players - 1))
    except InputError:
        return None
    alike = [one for one in found if len(one.groups) == len(plan.groups)]
    return min(alike or found, key=lambda one: abs(one.waiting - plan.waiting))


def refuse(game: Game, shape: Shape, turnout: Turnout) -> None:
    """Say what would do where nothing can be made of who is there."""
    keepers = shape.count("keeper")
    if turnout.restricted > turnout.players:
        raise InputError(
            f"must be at most the {turnout.players} players who are there (got {turnout.restricted})", "--restricted"
        )
    if turnout.keepers < keepers:
        what = f"{game.name} needs {keepers} in goal: put an outfield player there (--keepers {keepers}), or play a game without"
        raise InputError(f"{what} (got {turnout.keepers})", "--keepers")
    if turnout.most_bouts is not None and not turnout.restricted:
        raise InputError("must go with --restricted: it is for those on reduced load", "--most-bouts")
    groups = most_groups(shape, turnout)
    least, most = limits(shape, groups)
    if turnout.players > most:
        where = (
            f"{groups} groups"
            if groups > 1
            else f"one group with {turnout.keepers} keepers"
            if keepers
            else "one group"
        )
        what = f"{game.name} holds {most} players at most, in {where}"
        raise InputError(f"{what}: take fewer, or play another game beside it (got {turnout.players})", "--players")
    if turnout.players < least:
        what = f"{game.name} needs {least} players at least"
        raise InputError(f"{what}: `overload games --players {turnout.players}` lists what fits", "--players")
    fit, defending = turnout.players - turnout.restricted, -(-least * shape.count("others") // max(1, shape.people))
    if fit <= defending:
        what = (
            f"nobody is left to defend: at most {turnout.players - defending - 1} of {turnout.players} on reduced load"
        )
        raise InputError(f"{what} (got {turnout.restricted})", "--restricted")


def most_groups(shape: Shape, turnout: Turnout) -> int:
    """In how many groups it can be played at once: each needs its keepers."""
    keepers = shape.count("keeper")
    return min(MOST_GROUPS, turnout.keepers // keepers) if keepers else MOST_GROUPS


def limits(shape: Shape, groups: int) -> tuple[int, int]:
    """The fewest people that a game is played with, and the most that it holds in so many groups, nobody waiting."""
    least = next(people for people in range(1, shape.people + 1) if splits(shape, people, 0))
    return max(least, ceil(FEWEST_OF_A_GROUP * shape.people)), int(TIMES_AS_MANY * shape.people) * groups


def _none(game: Game, shape: Shape, turnout: Turnout) -> str:
    what = f"{game.name} cannot be set up for {turnout.players} with {turnout.restricted} on reduced load"
    return f"{what}: try one player fewer or more, or `overload games --players {turnout.players}`"


def _outside(shape: Shape, turnout: Turnout, groups: int) -> Iterator[tuple[int, int]]:
    """(players who wait, keepers who play on the lines) worth a look with so many groups."""
    left_over = turnout.players - groups * shape.people
    waits = {0, left_over} if 0 < left_over <= MOST_WAITING else {0, 1} if turnout.players % 2 else {0}
    for waiting in sorted(waits):
        yield waiting, 0
    if not shape.count("keeper") and 0 < turnout.keepers <= KEEPERS_ON_THE_LINES and groups <= turnout.keepers:
        yield 0, turnout.keepers


def _plan(game: Game, shape: Shape, turnout: Turnout, kind: tuple[int, int, int, int], known: Known) -> Plan | None:
    """The plan with so many groups, players who wait and keepers on the lines, by the nth best split; None where there is none.

    `known`: groups made so far, filled up here.
    """
    groups, waiting, keepers, best = kind
    people = turnout.players - waiting + keepers
    sizes = [people // groups + (i < people % groups) for i in range(groups)]
    if not FEWEST_OF_A_GROUP * shape.people <= sizes[-1] or sizes[0] > TIMES_AS_MANY * shape.people:
        return None
    found = []
    for i, size in enumerate(sizes):
        own = (size, _share(turnout.restricted, groups, i), _share(keepers, groups, i))
        if own not in known:
            known[own] = _groups(game, shape, own)
        if not known[own]:
            return None
        found.append(known[own][min(best, len(known[own]) - 1)])
    return Plan(tuple(found), waiting, turnout.keepers - keepers - groups * shape.count("keeper"))


def _share(total: int, groups: int, which: int) -> int:
    return total // groups + (which < total % groups)


def _groups(game: Game, shape: Shape, own: tuple[int, int, int]) -> list[tuple[Wanted, Game]]:
    """The groups most like the game, `WAYS_TO_SPLIT` at most, those on reduced load where they run least and the rules allow it."""
    size, restricted, keepers = own
    for seat in seats(shape) if restricted else [SUPPORT]:
        supports = keepers + (restricted if seat == SUPPORT else 0)
        wanted = [Wanted(split, restricted, keepers, seat) for split in splits(shape, size, supports)]
        tried = ((one, made(game, one)) for one in wanted if _enough_left(shape, one))
        found = list(islice(((one, own_game) for one, own_game in tried if own_game is not None), WAYS_TO_SPLIT))
        if found:
            return found
    return []


def _enough_left(shape: Shape, wanted: Wanted) -> bool:
    """Whether those who may defend are more than defend at a time, or as many where sides are even."""
    split, in_post = wanted.split, 0 if wanted.seat == SUPPORT else wanted.restricted
    fit = split.mine + split.others - in_post
    return split.mine > in_post and (shape.even or fit > split.others)
