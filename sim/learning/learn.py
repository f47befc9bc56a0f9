"""`learn`: a club's values from its tallies, with the population as the prior; offered only if they forecast no worse.

It is simulation-based inference with a synthetic likelihood (Wood 2010, Nature 466:1102): clubs all over the prior are played once
(`design`), what their values do to the counts becomes a smooth function with its error (`emulator`), counts vary about it as they
did there (`likelihood`), and the posterior is drawn by sequential Monte Carlo (`posterior`).  It always begins from the population,
or what the user wrote in its place, and takes all tallies, so nothing is counted twice.  Nothing is said of single players: the
counts are of groups.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from enum import Enum
from functools import partial

from sim.assumptions import Assumptions, OwnData
from sim.experiments.last_line import LINE
from sim.experiments.learned_entries import Value
from sim.game.model import Game
from sim.learning.changes import Change, changes_of, in_the_file, inseparable
from sim.learning.club import Club, counts_from
from sim.learning.design import Design, Plan
from sim.learning.held_out import HeldOut, checked
from sim.learning.posterior import posterior
from sim.learning.tallies import Tally, amount

FORMAT = 1
"""Of the JSON."""
FEWEST_BOUTS = 3
"""Fewer bouts are too few to learn from."""


class Outcome(Enum):
    """What came of it."""

    LEARNED = "learned"
    TOO_FEW = "too few bouts"
    ONE_ROW = "nothing to check with"
    NO_BETTER = "no better than the population"
    NOTHING = "the counts say nothing"


@dataclass(frozen=True)
class Answer:
    """What `learn` says.  `games` by title; `changed`: bouts left out because they were changed on the grass.

    `changes` of every value that was asked for; `inseparable`: pairs that these counts cannot tell apart; `fits`: (game, count,
    clock, how far clubs held out of the design lie off); `values`: what goes into the user's file, empty unless something was
    learned.
    """

    outcome: Outcome
    own_data: OwnData
    changed: int
    games: tuple[str, ...]
    changes: tuple[Change, ...] = ()
    inseparable: tuple[tuple[str, str], ...] = ()
    held_out: HeldOut | None = None
    fits: tuple[tuple[str, str, str, float], ...] = ()
    values: tuple[Value, ...] = ()

    def to_json(self) -> str:
        """Strict JSON, in the order of the fields; of each change also whether the counts say anything on it (`is_told`)."""
        plain = {"format": FORMAT, **asdict(self), "outcome": self.outcome.value, "cautions": [LINE]}
        plain["changes"] = [{**asdict(one), "is_told": one.is_told} for one in self.changes]
        return json.dumps(plain, indent=1, ensure_ascii=False, allow_nan=False)


def early(tallies: Sequence[Tally], changed: int, games: Mapping[str, Game]) -> Answer | None:
    """The answer where there is too little to learn from, before anything is played."""
    own = amount(tallies, games)
    titles = tuple(dict.fromkeys(games[one.setup].title for one in tallies))
    if own.bouts < FEWEST_BOUTS:
        return Answer(Outcome.TOO_FEW, own, changed, titles)
    if sum(len(one.rows) for one in tallies) < 2:
        return Answer(Outcome.ONE_ROW, own, changed, titles)
    return None


def learned(
    tallies: Sequence[Tally],
    changed: int,
    plans: Mapping[str, Plan],
    designs: Mapping[str, Design],
    own: Assumptions,
    now: Assumptions,
    seed: int,
) -> Answer:
    """What these sessions say; plans by the digest of a game's layout, designs by the key of a plan.

    `own`: what the user put in place himself, from which it begins; `now`: what is in force, which may have been learned before.
    """
    games = {setup: plan.game for setup, plan in plans.items()}
    counts = {setup: counts_from(plan, designs[plan.key], keys_taken(tallies, setup)) for setup, plan in plans.items()}
    club = Club(plans, counts)
    told = [one for one in tallies if club.taken(one)]
    about = (amount(told, games), changed, tuple(dict.fromkeys(game.title for game in games.values())))
    if not told:
        return Answer(Outcome.NOTHING, *about)
    particles = posterior(partial(club.log_likelihood, told), club.ends, seed)
    changes = changes_of(club, particles, list(games.values()), own, now)
    held = checked(club, told, seed)
    outcome = Outcome.ONE_ROW if held.parts < 2 else Outcome.LEARNED if held.is_no_worse else Outcome.NO_BETTER
    if not any(one.is_told for one in changes):
        outcome = Outcome.NOTHING
    values = in_the_file(changes, particles, list(games.values()), own, now) if outcome is Outcome.LEARNED else ()
    return Answer(outcome, *about, changes, inseparable(club, particles), held, fits_of(plans, club), values)


def keys_taken(tallies: Sequence[Tally], setup: str) -> list[tuple[str, str]]:
    """(measure, clock) of everything that was counted of a game."""
    return [(one.measure, one.clock) for tally in tallies if tally.setup == setup for one in tally.counts]


def fits_of(plans: Mapping[str, Plan], club: Club) -> tuple[tuple[str, str, str, float], ...]:
    """How well each count is emulated."""
    return tuple(
        (plans[setup].game.title, *key, one.off)
        for setup, part in club.parts.items()
        for key, one in part.counts.emulators.items()
    )
