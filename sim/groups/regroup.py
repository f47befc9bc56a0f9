"""The game for who turned up: two or three set-ups, played, and ranked by how far each is from what was planned."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import inf

from sim.experiments.estimate import estimate
from sim.experiments.executors import Workers
from sim.game.model import Game
from sim.groups.choosing import nearest, told_apart
from sim.groups.likeness import WEIGHTS, Likeness, Off, likeness_of, off, together
from sim.groups.plans import Plan, Turnout, plans
from sim.results import Result
from sim.units import SECONDS_PER_MINUTE

MOST_SHOWN = 3
FEWEST_BOUTS, MOST_BOUTS, PLAYER_MINUTES = 8, 24, 1500
"""Bouts of each game where none are asked for: as many as make so many minutes of all players together, within these bounds."""


@dataclass(frozen=True)
class SetUp:
    """One way to play it, what a player meets in it, and how far that is from what was planned.

    `paces`: metres a minute by player of those on reduced load, by group, and of everybody else in his group.
    """

    plan: Plan
    likeness: Likeness
    off: Off
    paces: tuple[dict[str, tuple[float, float]], ...] = ()


@dataclass(frozen=True)
class Regrouped:
    """The answer: the set-ups, the nearest first; `bouts` of each game at least, in `sessions`."""

    game: Game
    turnout: Turnout
    planned: Likeness
    set_ups: tuple[SetUp, ...]
    bouts: int
    sessions: int

    @property
    def close(self) -> bool:
        """Whether the first two are nearer to each other than our doubt about their losses; so they are where that is not known."""
        if len(self.set_ups) < 2:
            return False
        first, second = self.set_ups[:2]
        if inf in (self.planned.doubt, first.likeness.doubt, second.likeness.doubt):
            return True
        share = WEIGHTS["losses"] / sum(WEIGHTS.values())
        doubt = (
            share * (first.likeness.doubt + second.likeness.doubt) / max(self.planned.losses, self.planned.doubt, 1e-9)
        )
        return second.off.total - first.off.total < doubt


def usual_bouts(game: Game) -> int:
    """So many that the answer is there within half a minute: fewer of long bouts of many."""
    minutes = game.bouts.seconds / SECONDS_PER_MINUTE * len(game.players)
    return max(FEWEST_BOUTS, min(MOST_BOUTS, int(PLAYER_MINUTES / minutes)))


def regroup(
    game: Game,
    turnout: Turnout,
    bouts: int,
    seed: int,
    workers: Workers = None,
    progress: Callable[[int, int], None] | None = None,
) -> Regrouped:
    """Two or three set-ups of the game for who is there, each played; refused (`InputError`) where there is none."""
    found = told_apart(nearest(game, plans(game, turnout)))
    games = list(dict.fromkeys([game, *(own for plan in found for _, own in plan.groups)]))
    total, played = len(games), {}
    for number, one in enumerate(games):

        def tell(done: int, wanted: int, before: int = number) -> None:
            if progress is not None:
                progress(before * wanted + done, total * wanted)

        played[one] = estimate(one, bouts=bouts, seed=seed, workers=workers, progress=tell)
    planned = likeness_of(game, played[game])
    made = []
    for plan in found:
        groups = [(wanted, likeness_of(own, played[own], wanted.keepers)) for wanted, own in plan.groups]
        whole = together(groups, plan.waiting)
        paces = tuple(paces_of(own, played[own]) for _, own in plan.groups)
        made.append(SetUp(plan, whole, off(planned, whole), paces))
    made.sort(key=lambda one: one.off.total)
    fewest = min(played.values(), key=lambda one: one.bouts).bouts
    return Regrouped(game, turnout, planned, tuple(made[:MOST_SHOWN]), fewest, max(1, fewest // game.bouts.count))


def paces_of(game: Game, result: Result) -> dict[str, tuple[float, float]]:
    """Metres a minute of every player on reduced load, and the mean of all the others who keep no goal."""
    field = [player for player in game.players if game.role(player.role).style != "goal"]
    pace = {player.id: result.row("distance_per_min", f"player:{player.id}").mean or 0.0 for player in field}
    others = [pace[player.id] for player in field if not player.restricted]
    return {player.id: (pace[player.id], sum(others) / len(others)) for player in field if player.restricted}
