"""The games that are played once to learn from: clubs of all kinds, one session each, kept for the next time.

The clubs fill the space of the values evenly (Sobol 1967, USSR Comput Math Math Phys 7:86, scrambled), from the furthest to the
furthest on either side, so that what is fitted to them holds for clubs far off the usual.  Each has players, days and luck of its
own.  A design hangs on its game, the program and the constants (`Plan.key`), never on what was counted.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from sim.assumptions import Assumptions
from sim.errors import InputError
from sim.experiments.digests import digest_of
from sim.experiments.drawer import Session
from sim.experiments.keeping import NowAndThen
from sim.experiments.made_of import made_of
from sim.experiments.provenance import provenance_of
from sim.experiments.replicate import Replication, play_batches
from sim.experiments.sessions import Batch, bout_counts
from sim.game.model import Game
from sim.learning.values import Learned, at_scores, learnable
from sim.measures.thresholds import limits_of
from sim.own_counts.columns import CLOCKS, COUNTS
from sim.own_counts.forecast import counts_of_bout
from sim.provenance import engine

MOST_BOUTS = 4
"""Bouts of each; how a longer session ends is like how it goes on."""
SECONDS_OF = {"watch": "duration_s", "rolling": "in_play_s"}


@dataclass(frozen=True)
class Plan:
    """A design before it is played: the `game` with the bouts of a session, what is learned, the `scores` [club, value]."""

    key: str
    game: Game
    learned: tuple[Learned, ...]
    scores: np.ndarray

    def club(self, number: int, own: Assumptions) -> Assumptions:
        """The assumptions under which one club plays."""
        scores = {one.name: float(z) for one, z in zip(self.learned, self.scores[number], strict=True)}
        return at_scores([self.game], own, scores)


@dataclass(frozen=True)
class Design:
    """What of a plan has been played: `clubs`[number][name][bout], the names those of clocks (in seconds) and counts.

    `engine`: the digest of the program that played it; `wanted`: how many clubs there are.
    """

    engine: str
    wanted: int
    clubs: Mapping[int, Mapping[str, Sequence[float]]]

    @property
    def is_whole(self) -> bool:
        """Whether all clubs have played."""
        return len(self.clubs) == self.wanted

    def table(self, name: str) -> np.ndarray:
        """A clock or a count, [club, bout]; clubs in the order of their numbers."""
        return np.array([self.clubs[number][name] for number in sorted(self.clubs)], dtype=float)


def planned(game: Game, run: Replication, points: int) -> Plan:
    """The design of a game under the assumptions of a run, of so many clubs (a power of two, as its sequence wants it)."""
    from scipy.stats.qmc import Sobol, scale

    learned = learnable([game], run.assumptions)
    bouts = min(game.bouts.count, MOST_BOUTS)
    short = game.model_copy(update={"bouts": game.bouts.model_copy(update={"count": bouts, "best_of": False})})
    unit = Sobol(d=len(learned), seed=run.seed).random(points)
    scores = scale(unit, [one.low for one in learned], [one.high for one in learned])
    made = made_of(short, run.seed, provenance_of(limits_of(short), run.assumptions))
    return Plan(digest_of([made, scores.tolist()]), short, learned, scores)


def play(
    plans: Sequence[Plan], run: Replication, known: Mapping[str, Design], keep: Callable[[dict[str, Design]], None]
) -> dict[str, Design]:
    """The designs by key, of which what is `known` is not played again; `keep` is given them now and then and at the end.

    An interruption leaves those clubs that have played.
    """
    found = {plan.key: dict(known[plan.key].clubs) if plan.key in known else {} for plan in plans}
    jobs = [(plan, number) for plan in plans for number in range(len(plan.scores)) if number not in found[plan.key]]

    def designs() -> dict[str, Design]:
        return {plan.key: Design(engine(), len(plan.scores), found[plan.key]) for plan in plans if found[plan.key]}

    now_and_then = NowAndThen(lambda: keep(designs()))

    def tell(place: int, finished: Mapping[int, Session]) -> None:
        plan, number = jobs[place]
        found[plan.key][number] = counts_of(finished[number])
        now_and_then()

    batches = [
        Batch(plan.game, [number], bout_counts, run.player, plan.club(number, run.assumptions)) for plan, number in jobs
    ]
    if batches:
        try:
            play_batches(batches, run.seed, run.workers, run.progress, tell)
        except KeyboardInterrupt:
            if not any(found.values()):
                raise
        finally:
            keep(designs())
    return designs()


def counts_of(session: Session) -> dict[str, list[float]]:
    """Clocks and counts of the bouts of one session."""
    read = [counts_of_bout(bout) for bout in session]
    counts = {name: [float(bout[name]) for bout in read] for name in COUNTS}
    return {clock: [float(getattr(bout, SECONDS_OF[clock])) for bout in session] for clock in CLOCKS} | counts


def packed(designs: Mapping[str, Design]) -> bytes:
    """Designs of this program as a file."""
    plain = {
        key: {
            "engine": one.engine,
            "wanted": one.wanted,
            "clubs": {str(n): dict(club) for n, club in one.clubs.items()},
        }
        for key, one in designs.items()
        if one.engine == engine()
    }
    return json.dumps(plain, allow_nan=False, sort_keys=True).encode()


def unpacked(data: bytes, source: str) -> dict[str, Design]:
    """The designs of a file that `packed` wrote; refused where it is none."""
    try:
        plain: dict[str, Any] = json.loads(data)
        return {
            key: Design(
                str(one["engine"]),
                int(one["wanted"]),
                {int(number): club_of(club) for number, club in one["clubs"].items()},
            )
            for key, one in plain.items()
        }
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        raise InputError(f"must be a file that `overload learn` wrote (got: {type(error).__name__})", source) from None


def club_of(plain: Mapping[str, Any]) -> dict[str, list[float]]:
    """Clocks and counts of one club, bouts alike in number; `KeyError` or `ValueError` where they are not."""
    found = {name: [float(one) for one in plain[name]] for name in (*CLOCKS, *COUNTS)}
    if len({len(one) for one in found.values()}) != 1:
        raise ValueError("bouts")
    return found
