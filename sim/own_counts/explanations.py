"""What would have to be true for a count to be usual: the game played anew with weaker or better passing, softer or harder
pressing, slower or quicker restarts, one at a time.

Each is moved by as much as we are unsure of it: the mean of a population by two standard deviations of our ignorance, the time
until the ball is back by three seconds (house default).  A variant that makes the count usual shows what *could* be so, not what
is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from sim.assumptions import Assumptions, preset
from sim.experiments.replicate import Replication, play_batches, sessions_for
from sim.experiments.sessions import Batch, bout_counts
from sim.game.delays import restarts_later
from sim.game.model import Game
from sim.own_counts.forecast import key_of, of_sessions
from sim.own_counts.predictive import Predictive, predictive
from sim.own_counts.tally import Counted
from sim.players import typical_limit

IGNORANCES = 2.0
RESTART_S = 3.0
PASSING, PRESSING, RESTARTS = "passing", "pressing", "restarts"
TRAITS = {PASSING: "pass_success", PRESSING: "pressing_speed_mps"}


@dataclass(frozen=True)
class Variant:
    """One thing that may be otherwise: `what`, moved `up` or down from `before` to `after` (a share, m/s, or seconds)."""

    what: str
    up: bool
    before: float
    after: float
    game: Game
    assumptions: Assumptions


@dataclass(frozen=True)
class Explained:
    """What a variant gives for the count: `mean`, its usual range, and whether the count lies in it."""

    what: str
    up: bool
    before: float
    after: float
    mean: float
    low: int
    high: int
    usual: bool


def variants_of(game: Game, own: Assumptions) -> list[Variant]:
    """All that can be moved in this game, either way; what is at its end already is left out."""
    found = [trait_moved(game, own, what, up) for what in (PASSING, PRESSING) for up in (False, True)]
    found += [restarts_moved(game, own, up) for up in (False, True)]
    return [one for one in found if one is not None and one.before != one.after]


def trait_moved(game: Game, own: Assumptions, what: str, up: bool) -> Variant | None:
    """The mean of a trait of every population that plays; None where the file gives every team its own value."""
    name, moved, told = TRAITS[what], [], None
    key = {PASSING: "pass_success", PRESSING: "pressing_speed"}[what]
    teams = [team for team in game.teams if getattr(team, key) is None]
    for whose in dict.fromkeys(team.population for team in teams):
        people = preset(whose, own)
        trait = people.traits[name]
        step = IGNORANCES * trait.ignorance * (1 if up else -1)
        top = trait.kind.high if what == PASSING else min(trait.kind.high, typical_limit(people))
        after = max(trait.kind.low, min(top, trait.mean + step))
        moved.append((whose, name, "mean", after))
        told = told or (trait.mean, after)
    if told is None:
        return None
    return Variant(what, up, *told, game, replace(own, populations=(*own.populations, *moved)))


def restarts_moved(game: Game, own: Assumptions, up: bool) -> Variant | None:
    """Every restart later or earlier."""
    moved = restarts_later(game, RESTART_S if up else -RESTART_S)
    return Variant(RESTARTS, up, game.restart("out").seconds, moved.restart("out").seconds, moved, own)


def towards(variants: Sequence[Variant], what: Counted, more: bool) -> list[Variant]:
    """Those that may bring the count nearer: weaker passing, harder pressing and quicker restarts lose more balls; of the other
    counts nobody knows beforehand, so all are played."""
    if what.measure not in ("losses", "wins", "outs"):
        return list(variants)
    raising = {PASSING: False, PRESSING: True, RESTARTS: False}
    return [one for one in variants if (one.up == raising[one.what]) == more]


def explain(game: Game, what: Counted, more: bool, bouts: int, run: Replication) -> list[Explained]:
    """Every variant that may explain a count (`more`: above its forecast), played over so many bouts with the forecast's luck.

    Those that make the count usual come first, then those that come nearest to it.
    """
    variants = towards(variants_of(game, run.assumptions), what, more)
    numbers = range(sessions_for(game, bouts))
    batches = [Batch(one.game, numbers, bout_counts, run.player, one.assumptions) for one in variants]
    played = play_batches(batches, run.seed, run.workers, run.progress)
    found = []
    for variant, sessions in zip(variants, played, strict=True):
        own = replace(run, assumptions=variant.assumptions)
        signed = key_of(variant.game, bouts, own)
        there = predictive(of_sessions(variant.game, list(sessions.values()), *signed), what) if sessions else None
        if there is not None:
            found.append(explained(variant, there, what))
    return ranked(found, what.count)


def explained(variant: Variant, there: Predictive, what: Counted) -> Explained:
    """What a variant gives for the count."""
    low, high = there.low, there.high
    moved = variant.what, variant.up, variant.before, variant.after
    return Explained(*moved, there.mean, low, high, low <= what.count <= high)


def ranked(found: Sequence[Explained], count: int) -> list[Explained]:
    """Those that make the count usual first, then by how near they come."""
    return sorted(found, key=lambda one: (not one.usual, abs(one.mean - count)))
