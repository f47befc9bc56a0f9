"""The four values of a club that are learned, each as a standard score beside other clubs: 0 is a usual club of its level.

*Passing* and *pressing* move the mean of a trait of the populations by our ignorance of it, in the shape of the trait (so the
spread between players goes with it, `sim.players.spread_about`).  *Willingness* to run moves the usual day of the group, *restarts*
every restart of a game, by the doubt that stands in their rows of the table.  These are values of a club, never of a player.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sim.assumptions import Assumptions, preset
from sim.game.delays import LEAST_RESTART_S
from sim.game.model import Game
from sim.parameters import TABLE
from sim.players import spread_about, typical_limit, value_at
from sim.populations import Trait
from sim.streams import lognormal_parameters

PASSING, PRESSING, RESTARTS, WILLINGNESS = "passing", "pressing", "restarts", "willingness"
TRAITS = {PASSING: "pass_success", PRESSING: "pressing_speed_mps"}
LATER, UNSURE, DAY = "restarts_later_s", "restarts_unsure_s", "willingness"
REACH = 3.0
"""No club is further than so many standard deviations from a usual one."""
STEPS = 120
"""Of the search for the scores that are legal."""


@dataclass(frozen=True)
class Learned:
    """One value that can be learned: its name, and the standard scores `low` to `high` that can be played.

    `forecast`: our forecasts vary it by themselves (as an ignorance); else they take a usual club for granted.
    """

    name: str
    low: float
    high: float
    forecast: bool


def learnable(games: Sequence[Game], own: Assumptions) -> tuple[Learned, ...]:
    """What can be learned from these games: a trait is left out where the files give every team its own."""
    found = []
    for name, trait in TRAITS.items():
        scores = [
            legal_scores(preset(whose, own).traits[trait], limit_of(name, whose, own))
            for whose in moved_by(name, games)
        ]
        scores = [one for one in scores if one[0] < one[1]]
        if scores:
            found.append(Learned(name, max(low for low, _ in scores), min(high for _, high in scores), True))
    soonest = max(LEAST_RESTART_S - game.restart("out").seconds for game in games)
    lowest = max(-REACH, (soonest - own.table[LATER]) / TABLE[LATER].spread)
    return (*found, Learned(RESTARTS, min(lowest, 0.0), REACH, False), Learned(WILLINGNESS, -REACH, REACH, False))


def moved_by(name: str, games: Iterable[Game]) -> tuple[str, ...]:
    """The populations whose mean of a trait plays in any of these games."""
    key = {PASSING: "pass_success", PRESSING: "pressing_speed"}[name]
    teams = [team for game in games for team in game.teams if getattr(team, key) is None]
    return tuple(dict.fromkeys(team.population for team in teams))


def limit_of(name: str, whose: str, own: Assumptions) -> float:
    """The most that the mean of a trait may be."""
    people = preset(whose, own)
    high = people.traits[TRAITS[name]].kind.high
    return min(high, typical_limit(people)) if name == PRESSING else high


def legal_scores(trait: Trait, most: float) -> tuple[float, float]:
    """(lowest, highest) score whose value lies in the legal range; both 0 where there is no ignorance, and nothing to learn."""
    if trait.ignorance <= 0:
        return 0.0, 0.0
    scores = np.linspace(-REACH, REACH, STEPS + 1)
    legal = [z for z in scores if trait.kind.low <= value_at(trait, trait.mean, trait.ignorance, float(z)) <= most]
    return (float(legal[0]), float(legal[-1])) if legal else (0.0, 0.0)


def trait_values(trait: Trait, z: float) -> tuple[float, float]:
    """(mean, spread between players) of a club with this score."""
    mean = value_at(trait, trait.mean, trait.ignorance, z)
    return mean, spread_about(trait, mean)


def later_s(own: Assumptions, z: float) -> float:
    """Seconds by which restarts come later at a club with this score."""
    return own.table[LATER] + TABLE[LATER].spread * z


def willingness(whose: str, own: Assumptions, z: float) -> float:
    """The usual day's willingness of a club with this score."""
    row = preset(whose, own).days[DAY]
    mu, sigma = lognormal_parameters(row.value, row.spread)
    return math.exp(mu + sigma * z)


def at_scores(games: Sequence[Game], own: Assumptions, scores: Mapping[str, float]) -> Assumptions:
    """The assumptions under which exactly the club with these scores plays: a usual one in all else, without any ignorance."""
    moved = [(whose, trait, "ignorance", 0.0) for whose in everybody(games) for trait in preset(whose, own).traits]
    for name in (one for one in TRAITS if one in scores):
        for whose in moved_by(name, games):
            trait = preset(whose, own).traits[TRAITS[name]]
            mean, spread = trait_values(trait, scores[name])
            moved += [(whose, TRAITS[name], "mean", mean), (whose, TRAITS[name], "spread", spread)]
    if WILLINGNESS in scores:
        moved += [(whose, DAY, "value", willingness(whose, own, scores[WILLINGNESS])) for whose in everybody(games)]
    club = own.club
    if RESTARTS in scores:
        club = (*(one for one in club if one[0] not in (LATER, UNSURE)), (LATER, later_s(own, scores[RESTARTS])))
    return replace(own, populations=(*own.populations, *moved), club=club)


def everybody(games: Iterable[Game]) -> tuple[str, ...]:
    """All populations that play in these games."""
    return tuple(dict.fromkeys(team.population for game in games for team in game.teams))
