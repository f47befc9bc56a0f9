"""Levers: what can be changed on the grass between two bouts, one small step either way, and the game that it makes.

A lever is data about the change (what is turned, from what to what), never about its effect.  What a game cannot have is
left out with its reason: no touch limit below one, no area that no longer fits its neighbours, no defender where both
sides are alike.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Literal

from sim.errors import InputError
from sim.experiments.knobs import turned
from sim.game.everyday import areas_of, count_of, counters, helpers, hunters, limited, peopled, teams_of
from sim.game.loader import load_game, to_short
from sim.game.model import Game, Role
from sim.measures.catalogue import actions_of
from sim.measures.thresholds import STRICT
from sim.units import to_metres

Load = Callable[[Sequence[str]], Game]
Kind = Literal["size", "touches", "defenders", "floaters", "passes", "bout"]
Reason = Literal["least", "most", "free", "none", "all", "pairs", "refused"]

LIMIT_OF_FREE = 3  # where touches are free, a touch fewer is a limit of so many; common practice, no source
MOST_TOUCHES = 10
SHARE_OF_BOUT = 4  # a bout is made shorter or longer by one part in so many ...
PAIRS = re.compile(r"teams\.[^ ]+\.pairs must ")  # how the check begins what it says about partners
TO_SECONDS = 15  # ... to the nearest so many seconds; common practice, no source


@dataclass(frozen=True)
class Lever:
    """`what` (areas, roles) is turned down (`way` -1) or up (+1), from `before` to `after`; None: no limit.

    A size is (length, width) of the first area named, in `unit`.  `people`: how many players more it takes.  `changes`: how to
    write it as KEY=VALUE, empty where that cannot be said (a new role).
    """

    __pydantic_config__ = STRICT

    kind: Kind
    way: int
    what: tuple[str, ...]
    before: tuple[float | None, ...]
    after: tuple[float | None, ...]
    unit: str
    people: int
    changes: tuple[str, ...]


@dataclass(frozen=True)
class LeftOut:
    """A lever that this game cannot have; `detail` is what the check of the game said."""

    __pydantic_config__ = STRICT

    kind: Kind
    way: int
    reason: Reason
    detail: str = ""


Found = tuple[Lever, Game] | LeftOut


def levers_of(game: Game, load: Load, step: int = 1) -> tuple[list[tuple[Lever, Game]], list[LeftOut]]:
    """(levers with their games, what is left out); `load` makes the game anew with more changes, sizes move by `step`."""
    kinds = (partial(sizes, step=step), touches, defenders, floaters, passes, bouts)
    found = [kind(game, load, way) for kind in kinds for way in (-1, 1)]
    return [one for one in found if not isinstance(one, LeftOut)], [one for one in found if isinstance(one, LeftOut)]


def made(game: Game, load: Load, lever: Lever) -> Found:
    """The lever with the game that its changes make and the players that takes, or what the check says against it."""
    try:
        changed = load(lever.changes)
    except InputError as error:
        return refused(lever.kind, lever.way, error)
    return replace(lever, people=len(changed.players) - len(game.players)), changed


def refused(kind: Kind, way: int, error: InputError) -> LeftOut:
    """What the check says; where it is about the file's own pairs, that: the file has no other pairs to give."""
    problem = error.problems[0]
    if PAIRS.match(problem):
        return LeftOut(kind, way, "pairs")
    return LeftOut(kind, way, "refused", problem)


def unit_of(game: Game, load: Load) -> str:
    """What the file counts lengths in: "m" or "yd"."""
    try:
        return "m" if load(["units=metres"]) == game else "yd"
    except InputError:
        return "yd"


def sizes(game: Game, load: Load, way: int, step: int) -> Found:
    """Length and width of the area where play begins, and of all of its size, a step shorter or longer."""
    unit = unit_of(game, load)
    metre = to_metres(1.0, {"m": "metres", "yd": "yards"}[unit])
    areas = areas_of(game, None)
    before = tuple(round(size / metre, 6) for size in (areas[0].length, areas[0].width))
    after = tuple(size + way * step for size in before)
    if min(after) <= 0:
        return LeftOut("size", way, "least")
    changes = [
        f"areas.{area.name}.{side}={size:.10g}"
        for area in areas
        for side, size in zip(("length", "width"), after, strict=True)
    ]
    names = tuple(area.name for area in areas)
    return made(game, load, Lever("size", way, names, before, after, unit, 0, tuple(changes)))


def touches(game: Game, load: Load, way: int) -> Found:
    """One touch fewer or more for all who have a limit; where all are free, a limit."""
    roles = limited(game)
    before = tuple(role.touches for role in roles)
    limits = [limit for limit in before if limit is not None]
    if not roles:
        return LeftOut("touches", way, "none")
    if len(limits) < len(before):
        if way > 0:
            return LeftOut("touches", way, "free")
        after = [LIMIT_OF_FREE] * len(roles)
    else:
        after = [limit + way for limit in limits]
    if min(after) < 1 or max(after) > MOST_TOUCHES:
        return LeftOut("touches", way, "least" if way < 0 else "most")
    names = tuple(role.name for role in roles)
    changes = tuple(f"roles.{name}.touches={limit}" for name, limit in zip(names, after, strict=True))
    return made(game, load, Lever("touches", way, names, before, tuple(after), "", 0, changes))


def defenders(game: Game, load: Load, way: int) -> Found:
    """One player more or fewer in the role that hunts the ball."""
    found = hunters(game)
    return of_role(game, load, "defenders", way, found[0]) if len(found) == 1 else LeftOut("defenders", way, "none")


def of_role(game: Game, load: Load, kind: Kind, way: int, role: Role) -> Found:
    """One player more or fewer in a role."""
    count = count_of(game, role)
    if count + way < 1:
        return LeftOut(kind, way, "least")
    changes = changes_of(game, role, count + way)
    return made(game, load, Lever(kind, way, (role.name,), (count,), (count + way,), "", 0, tuple(changes)))


def changes_of(game: Game, role: Role, count: int) -> list[str]:
    """How to write that a role has so many: for its only team, or its first team has what the others leave."""
    first, *others = teams_of(game, role)
    return peopled(game, role, count - sum(count_of(game, role, team) for team in others), first)


def floaters(game: Game, load: Load, way: int) -> Found:
    """One player more or fewer who is always with the side that has the ball."""
    roles = helpers(game)
    if roles and count_of(game, roles[0]) + way > 0:
        return of_role(game, load, "floaters", way, roles[0])
    if roles or way < 0 or not starters(game):
        return LeftOut("floaters", way, "least" if roles else "none")
    if any(one.verb == "assign" and one.who == "all" and one.from_role is None for one in actions_of(game)):
        return LeftOut("floaters", way, "all")  # he would lose his role, and his side with it
    name, short = with_floater(game)
    try:
        more = load_game(short)
    except InputError as error:
        return refused("floaters", way, error)
    return Lever("floaters", way, (name,), (0,), (1,), "", 1, ()), more


def with_floater(game: Game) -> tuple[str, dict]:
    """(the new role, the game as plain data with one player in it, in bibs of his own).

    He stands anywhere in the area where play begins, with the touch limit and the jobs of those who begin with the ball.
    """
    short = to_short(game)
    name, bibs = free_name("floater", short["roles"]), free_name("neutral", short["teams"])
    first = starters(game)[0]
    place = game.start_area if len(game.areas) == 1 or game.phase(game.start_phase).ball_in != "active" else "active"
    role = {
        "side": "holder",
        "style": "free",
        "place": place,
        "touches": "free" if first.touches is None else first.touches,
        "players": {bibs: 1},
    }
    phases = {
        key: phase | {"jobs": phase["jobs"] | {name: phase["jobs"][first.name]}}
        if first.name in phase.get("jobs", {})
        else phase
        for key, phase in short["phases"].items()
    }
    population = next(team.population for team in game.teams if any(
        player.team == team.name and player.role == first.name for player in game.players
    ))  # fmt: skip
    return name, short | {
        "teams": short["teams"] | {bibs: {"population": population}},
        "roles": short["roles"] | {name: role},
        "phases": phases,
    }


def starters(game: Game) -> list[Role]:
    """The outfield roles with players of the side that begins with the ball."""

    def begins(role: Role) -> bool:
        teams = {player.team for player in game.players if player.role == role.name}
        return bool(teams) and game.start_side in (teams if role.side == "team" else {role.side})

    return [role for role in game.roles if role.style in ("edge", "free") and begins(role)]


def free_name(name: str, taken: Collection[str]) -> str:
    """The name, or one like it that is not taken."""
    return name if name not in taken else free_name(f"new-{name}", taken)


def passes(game: Game, load: Load, way: int) -> Found:
    """One pass fewer or more in the number that the rules ask for."""
    found = counters(game)
    if len({number for _, _, number in found}) != 1:
        return LeftOut("passes", way, "none")
    count = int(found[0][2])
    if count + way < 1:
        return LeftOut("passes", way, "least")
    names, changes = tuple(rule for _, rule, _ in found), turned(game, "passes", count + way)
    return made(game, load, Lever("passes", way, names, (count,), (count + way,), "", 0, tuple(changes)))


def bouts(game: Game, load: Load, way: int) -> Found:
    """Bouts a quarter shorter or longer."""
    before = game.bouts.seconds
    step = TO_SECONDS * max(1, round(before / SHARE_OF_BOUT / TO_SECONDS))
    after = round(before) + way * step
    if after < TO_SECONDS:
        return LeftOut("bout", way, "least")
    return made(game, load, Lever("bout", way, (), (before,), (after,), "s", 0, tuple(turned(game, "bout", after))))
