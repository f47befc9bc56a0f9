"""Which games hold so many players: as they are, side by side, with one or two waiting, or set up anew."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from sim.errors import InputError
from sim.game.model import Game
from sim.groups.choosing import nearest
from sim.groups.plans import MOST_GROUPS, Plan, Turnout, plans
from sim.groups.posts import shape_of

FEW_WAITING = 2
"""As many may wait before other numbers are better (house default)."""
How = Literal["as it is", "side by side", "waiting", "set up anew", "not at all"]


@dataclass(frozen=True)
class Fit:
    """How a game holds them: `groups` of it as it is with `waiting` besides, or the nearest `plan`; `why` not at all."""

    game: Game
    how: How
    groups: int = 1
    waiting: int = 0
    plan: Plan | None = None
    why: str = ""


def fits(games: Iterable[Game], players: int) -> list[Fit]:
    """How each of the games holds so many players, keepers not counted: as many of these are there as it needs."""
    return [_fit(game, players) for game in games]


def _fit(game: Game, players: int) -> Fit:
    shape = shape_of(game)
    groups, waiting = divmod(players, shape.people)
    if 1 <= groups <= (1 if shape.count("keeper") else MOST_GROUPS) and waiting <= FEW_WAITING:
        how: How = "waiting" if waiting else "as it is" if groups == 1 else "side by side"
        return Fit(game, how, groups, waiting)
    try:
        found = nearest(game, plans(game, Turnout(players, 0, shape.count("keeper"))))
    except InputError as error:
        reason, _, _ = error.problems[0].partition(": ")  # without what to try: that is this very list
        return Fit(game, "not at all", why=reason)
    return Fit(game, "set up anew", len(found[0].groups), found[0].waiting, found[0])
