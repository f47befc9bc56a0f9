"""`tune`: which whole value of one knob, or of two, brings a measure to a target, or makes it most or least.

Every candidate is played over the same sessions (common random numbers), so that the curve is smooth where luck is
shared.  Each begins with a few; then, for a target, further sessions go where they tell most (OCBA, Chen et al.
2000), with the distance from the target in the place of the cost: few to what is far off, many to what is close.  The
search ends when the chance that another candidate is nearer, by more than a difference nobody would care about, is below
`ERROR` over all of them, or when the budget is spent.  For "most" and "least" candidates are dropped one by one (KN, Kim &
Nelson 2001).  The answer is played again on a fresh seed, because the best of several looks better than it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sim import __version__
from sim.assumptions import NONE, Assumptions
from sim.errors import InputError
from sim.evidence.published import domains
from sim.experiments.cautions import cautions_for
from sim.experiments.compare import common_numbers, compared, condition_of
from sim.experiments.comparison import Row
from sim.experiments.drawer import Drawer, play_missing
from sim.experiments.evenings import evening_of
from sim.experiments.executors import Workers, too_small
from sim.experiments.key_measures import ALL_WORTHWHILE, KeyMeasure, aims_of, key_measures
from sim.experiments.provenance import provenance_of
from sim.experiments.ranking_and_selection import KimNelson, kn_select, ocba_shares
from sim.experiments.reduced import no_proposal
from sim.experiments.replicate import Progress, Replication, sessions_for
from sim.experiments.sessions import SessionPlayer, session_bouts
from sim.experiments.shares import unit_of
from sim.experiments.sums import Key, Sums
from sim.experiments.tuned import FORMAT, STOPPED, Point, Side, Tuned
from sim.game.model import Game
from sim.measures.intervals import ratio_interval
from sim.measures.session_counts import SessionCounts, session_of
from sim.measures.sessions import Sessions
from sim.measures.summary import summarise

FEWEST = 5  # sessions of every candidate
ROUND = 12, 4  # sessions of a round, all candidates together: so many at least, or the present total over so much
ERROR = 0.05
FRESH = 1_000_003  # added to the seed for the answer's own sessions

Values = tuple[int, ...]


class Runs:
    """The sessions played so far of every candidate, in order of its values; progress is told the bouts of all together."""

    def __init__(self, candidates: Mapping[Values, Game], key: Key, run: Replication):
        self.order, self.games = list(candidates), list(candidates.values())
        self.key, self.run = key, run
        self.sessions: list[dict[int, SessionCounts]] = [{} for _ in self.games]
        self.started = False
        self.rows: dict[int, KeyMeasure] = {}

    def extend(self, wanted: Sequence[int]) -> None:
        """See to it that each has so many sessions."""
        missing = [range(len(have), max(len(have), count)) for have, count in zip(self.sessions, wanted, strict=True)]
        if not any(missing):
            return
        found = play_missing(going_on(self.run, self.bouts()), self.games, missing, warm=not self.started)
        self.started = True
        if any(len(one) < len(part) for one, part in zip(found, missing, strict=True)):
            raise KeyboardInterrupt
        for i, more in enumerate(found):
            if more:
                self.sessions[i] |= {number: session_of(bouts) for number, bouts in more.items()}
                row = key_measures(self.games[i], Sessions(list(self.sessions[i].values())), [self.key])[self.key]
                self.rows[i] = row
                if row.bottom.sum() <= 0:
                    at = ", ".join(map(str, self.order[i]))
                    raise InputError(
                        f"{self.key[0]} must come up at every value tried (got none at {at})",
                        "--target",
                    )

    def bouts(self) -> int:
        """Bouts played so far, of all candidates."""
        return sum(counts.bouts for have in self.sessions for counts in have.values())

    def counts(self) -> list[int]:
        """Sessions of each candidate."""
        return [len(have) for have in self.sessions]

    def values(self, i: int) -> np.ndarray:
        """Every session's share of the ratio of sums; their mean is the ratio."""
        top, bottom = self.rows[i].top, self.rows[i].bottom
        ratio = top.sum() / bottom.sum()
        return ratio + (top - ratio * bottom) / bottom.mean()

    def estimates(self) -> tuple[np.ndarray, np.ndarray]:
        """(means, standard deviations of a session)."""
        found = [self.values(i) for i in range(len(self.order))]
        return np.array([one.mean() for one in found]), np.array([one.std(ddof=1) for one in found])


@dataclass(frozen=True)
class Size:
    """Bouts: of each candidate at least, of all together at most, and of the answer on fresh sessions."""

    bouts: int
    budget: int
    fresh: int

    def sessions(self, games: Iterable[Game]) -> int:
        """Sessions of every candidate to begin with."""
        return max(FEWEST, *(sessions_for(one, self.bouts) for one in games))


def going_on(run: Replication, before: int) -> Replication:
    """The same run, its progress counted on from the bouts before."""
    progress = run.progress
    if progress is None:
        return run
    return replace(run, progress=lambda done, wanted: progress(before + done, wanted))


def within_total(progress: Progress | None, total: int) -> Progress | None:
    """Told as so many of `total`, which a search may never come to."""
    return None if progress is None else lambda done, _: progress(min(done, total), total)


def tune(  # noqa: PLR0913 - the public face: what may be asked for by keyword
    game: Game,
    candidates: Mapping[Values, Game],
    knobs: Sequence[str],
    target: tuple[str, str, float | str],
    bouts: int = 20,
    budget: int = 600,
    fresh: int = 100,
    seed: int = 1,
    workers: Workers = None,
    progress: Progress | None = None,
    changes: Sequence[str] = (),
    turned: Mapping[Values, Sequence[str]] | None = None,
    session: SessionPlayer = session_bouts,
    assumptions: Assumptions = NONE,
    drawer: Drawer | None = None,
) -> Tuned:
    """The candidate that brings `target` = (measure, scope, value, or "most" or "least") nearest.

    `candidates`: games by the values of the knobs, `turned`: their changes.  `bouts` of each at least, `budget` of all
    together at most, then `fresh` of the answer and of the game as it is; the rest as in `Replication`.  The same bits for any
    number of workers.
    """
    measure, scope, value = target
    size = Size(bouts, budget, fresh)
    run = Replication(seed, workers, within_total(progress, budget + 2 * fresh), session, assumptions, drawer)
    check(game, candidates, (measure, scope), size, run)
    runs = Runs(dict(sorted(candidates.items())), (measure, scope), run)
    first = size.sessions(runs.games)
    cautions: list[str] = []
    try:
        if isinstance(value, str):
            left, sure, zone = search_extreme(runs, value == "most", first, budget)
        else:
            left, sure, zone = search_target(runs, value, first, budget)
    except KeyboardInterrupt:
        if min(runs.counts()) < 2:
            raise
        left, sure, zone = list(range(len(runs.order))), False, zone_of(measure, value, runs)
        cautions.append(STOPPED)
    means, _ = runs.estimates()
    best = min(left, key=lambda i: (distance(float(means[i]), value), runs.order[i]))
    curve = [point_of(runs, i, value, left) for i in range(len(runs.order))]
    chosen = runs.games[best]
    effects: tuple[Row, ...] = ()
    checked = None
    last = list(runs.sessions[best].values())
    if not cautions:
        played = fresh_sessions(going_on(run, runs.bouts()), game, chosen, (measure, scope), fresh)
        if played is None:
            cautions.append("Stopped early: the answer was not played again on fresh sessions.")
        else:
            now, then = played
            ((effects, _),) = compared(now, [then], ALL_WORTHWHILE)
            checked = point(runs.order[best], then.whole[measure, scope], then.sessions, value)
            cautions += no_proposal(now, then)
            last = then.sessions
    measures = summarise(chosen, last, evidence=domains())
    lines = cautions_for(chosen, measures, last[0].thresholds, *[len(last)] * 2)
    return Tuned(
        format=FORMAT,
        game=condition_of(game, changes),
        knobs=tuple(knobs),
        measure=measure,
        scope=scope,
        unit=unit_of(measure),
        target=value,
        seed=seed,
        version=__version__,
        answer=runs.order[best],
        changes=tuple((turned or {}).get(runs.order[best], ())),
        as_it_is=chosen == game,
        reached=isinstance(value, str) or reached(curve, curve[best], checked),
        as_good=as_good(curve, runs.order[best]),
        crossings=crossings(curve) if len(knobs) == 1 else 0,
        sure=sure,
        nearer=zone,
        curve=tuple(curve),
        fresh=checked,
        effects=effects,
        cautions=(*cautions, *lines),
        provenance=provenance_of(next(iter(runs.sessions[best].values())).thresholds, assumptions),
    ).about(game, chosen)


def check(game: Game, candidates: Mapping[Values, Game], key: Key, size: Size, run: Replication) -> None:
    """Refuse what cannot be tuned."""
    problems = too_small(bouts=(size.bouts, 1), fresh=(size.fresh, 1), seed=(run.seed, 0), workers=(run.workers, 1))
    if any(key not in aims_of(one) for one in (game, *candidates.values())):
        problems.append(f"target must be a measure of every candidate (got {key[0]} for {key[1]})")
    if len(candidates) < 2:
        problems.append(f"candidates must be at least 2 (got {len(candidates)})")
    elif not problems:
        first = size.sessions(candidates.values())
        needed = sum(first * one.bouts.count for one in candidates.values())
        if size.budget < needed:
            problems.append(f"budget must be at least {needed}, {first} sessions of each value (got {size.budget})")
    if problems:
        raise InputError(problems)


def distance(mean: float, target: float | str) -> float:
    """How far from the target; for most and least, smaller is better."""
    if isinstance(target, str):
        return -mean if target == "most" else mean
    return abs(mean - target)


def zone_of(measure: str, target: float | str, runs: Runs) -> float:
    """A difference nobody would care about: half of what is worth having."""
    size = abs(target) if not isinstance(target, str) else float(np.abs(runs.estimates()[0]).max())
    return max(ALL_WORTHWHILE[measure] / 2 * size, 1e-9)


def search_target(runs: Runs, target: float, first: int, budget: int) -> tuple[list[int], bool, float]:
    """(the nearest, whether that is sure, the zone): sessions where they tell most until it is."""
    zone = zone_of(runs.key[0], target, runs)
    runs.extend([first] * len(runs.order))
    while True:
        means, spreads = runs.estimates()
        counts = runs.counts()
        gaps = np.abs(means - target)
        best = int(np.argmin(gaps))
        if wrong(means, spreads, counts, target, best, zone) <= ERROR:
            return [best], True, zone
        left = budget - runs.bouts()
        costs = [one.bouts.count for one in runs.games]
        if left < min(costs):
            return [best], False, zone
        worse = np.maximum(gaps - gaps[best], zone)
        worse[best] = 0.0
        floor = max(1e-9, 1e-3 * float(spreads.max()))
        more = max(ROUND[0], sum(counts) // ROUND[1])
        wanted = ocba_shares(list(worse), list(np.maximum(spreads, floor)), sum(counts) + more)
        runs.extend(within(counts, wanted, costs, more, left))


def within(counts: Sequence[int], wanted: Sequence[float], costs: Sequence[int], more: int, left: int) -> list[int]:
    """Sessions to have next: those most wanting get them, `more` in all, as far as the bouts that are left go."""
    found = list(counts)
    for _ in range(more):
        able = [i for i in range(len(found)) if costs[i] <= left]
        if not able:
            break
        poorest = max(able, key=lambda i: (wanted[i] - found[i], -i))
        found[poorest] += 1
        left -= costs[poorest]
    return found


def wrong(
    means: np.ndarray, spreads: np.ndarray, counts: Sequence[int], target: float, best: int, zone: float
) -> float:
    """At most this is the chance that some other is nearer to the target by more than the zone (Bonferroni, normal).

    On the same side of the target errors of independent runs are added as squares; on the other side, where shared luck
    makes them worse, as they are.
    """
    from scipy.special import ndtr

    errors = spreads / np.sqrt(counts)
    gaps = np.abs(means - target)
    same = (means > target) == (means[best] > target)
    joint = np.where(same, np.hypot(errors, errors[best]), errors + errors[best])
    chances = ndtr(-(gaps - gaps[best] + zone) / np.maximum(joint, 1e-12))
    return float(chances.sum() - chances[best])


def search_extreme(runs: Runs, most: bool, first: int, budget: int) -> tuple[list[int], bool, float]:
    """(those left, whether it is one, the zone) by KN; all have the same sessions, so a budget is one of sessions."""
    runs.extend([first] * len(runs.order))
    zone = zone_of(runs.key[0], "most", runs)
    sign = 1 if most else -1

    def observe(which: Sequence[int], count: int) -> None:
        runs.extend([count if i in which else 0 for i in range(len(runs.order))])

    per = sum(one.bouts.count for one in runs.games)
    longest = max(first, budget // per)
    asked = KimNelson(first, zone, ERROR, longest, step=3)
    left = kn_select(observe, lambda i: sign * runs.values(i), len(runs.order), asked)
    return left, len(left) == 1, zone


def point_of(runs: Runs, i: int, target: float | str, left: Sequence[int]) -> Point:
    """The point of candidate i; for "most" and "least" those `left` may be the answer."""
    found = point(runs.order[i], runs.rows[i], list(runs.sessions[i].values()), target)
    if not isinstance(target, str):
        return found
    side: Side = "at" if i in left else "below" if target == "most" else "above"
    return replace(found, side=side)


def point(values: Values, row: KeyMeasure, sessions: Sequence[SessionCounts], target: float | str) -> Point:
    """One point of the curve, and on which side of the target it is."""
    mean, low, high = ratio_interval(row.top, row.bottom)
    side: Side = "at"
    if not isinstance(target, str):
        side = "below" if high < target else "above" if low > target else "at"
    low = max(0.0, low)  # whatever is counted is never below nothing, which two evenings alone do not know
    return Point(values, mean, low, high, sum(counts.bouts for counts in sessions), side, evening_of(row))


def fresh_sessions(run: Replication, game: Game, chosen: Game, key: Key, bouts: int) -> tuple[Sums, Sums] | None:
    """The game as it is and the answer over sessions of their own; None if it was interrupted too early."""
    numbers = range(max(FEWEST, sessions_for(chosen, bouts)))
    games = [game] if game == chosen else [game, chosen]
    try:
        found = play_missing(replace(run, seed=run.seed + FRESH), games, [numbers] * len(games), warm=False)
    except KeyboardInterrupt:
        return None
    common = common_numbers(found)
    if len(common) < 2:
        return None
    both = [Sums(one, [own[number] for number in common], [key]) for one, own in zip(games, found, strict=True)]
    return both[0], both[-1]


def reached(curve: Sequence[Point], answer: Point, fresh: Point | None) -> bool:
    """Whether the answer cannot be told from the target, or candidates lie surely on either side of it."""
    return "at" in (answer.side, fresh.side if fresh else "") or {"below", "above"} <= {one.side for one in curve}


def as_good(curve: Sequence[Point], answer: Values) -> tuple[Values, ...]:
    """The other candidates that cannot be told from the target, or from the most or least: those that say so in the curve."""
    return tuple(one.values for one in curve if one.side == "at" and one.values != answer)


def crossings(curve: Sequence[Point]) -> int:
    """How often the decided points change sides; more than once: the curve does not go one way."""
    sure = [one.side for one in curve if one.side != "at"]
    return sum(one != other for one, other in zip(sure, sure[1:], strict=False))
