"""`tune`: which whole value of one knob brings a measure to a target.

Every candidate is played over the same sessions (common random numbers), so that the curve is smooth where luck is
shared.  Then a bisection looks for the place where the curve crosses the target: a candidate is put on a side only when
its 95 % interval excludes the target, and while it does not, its bouts are doubled up to `MOST` times those asked
for.  What still cannot be told from the target is as good as it.  The answer is played again on a fresh seed, because
the best of several looks better than it is.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from sim import __version__
from sim.errors import GameError
from sim.experiments.cautions import cautions_for
from sim.experiments.compare import Key, arm_of, compared
from sim.experiments.headline import WORTHWHILE, headlines, keys_of
from sim.experiments.provenance import provenance_of
from sim.experiments.replicate import Bouts, Progress, replicate, session_bouts, sessions_for
from sim.experiments.tuned import FORMAT, Point, Side, Tuned
from sim.game.model import Game
from sim.measures.intervals import ratio_interval
from sim.measures.sessions import Sessions
from sim.measures.summary import summarise
from sim.measures.tally import Tally

MOST = 4
FRESH = 1_000_003  # added to the seed for the answer's own sessions

Play = Callable[[int, int], Point]


def tune(
    game: Game,
    candidates: Mapping[int, Game],
    knob: str,
    target: tuple[str, str, float],
    bouts: int = 40,
    seed: int = 1,
    workers: int | None = None,
    progress: Progress | None = None,
    changes: Sequence[str] = (),
    session: Bouts = session_bouts,
) -> Tuned:
    """The candidate that brings `target` = (measure, scope, value) nearest; `candidates` are games by the knob's value."""
    measure, scope, value = target
    check(game, candidates, (measure, scope), bouts, seed, workers)
    values = sorted(candidates)
    runs = 0

    def played(which: Game, wanted: int, seed: int) -> tuple[Tally, ...]:
        nonlocal runs
        found = replicate(which, wanted, seed, workers, None, session)
        if len(found.sessions) < found.wanted:
            raise KeyboardInterrupt
        runs += 1
        if progress is not None:
            progress(min(runs, len(values) + 2), len(values) + 2)
        return found.sessions

    def play(number: int, wanted: int) -> Point:
        which = candidates[number]
        return point_of(number, which, played(which, wanted, seed), (measure, scope), value)

    curve = bisect({number: play(number, bouts) for number in values}, bouts, play)
    best = as_good(curve)
    answer = min(best or curve, key=lambda point: (abs(point.mean - value), point.value))
    chosen = candidates[answer.value]
    count = MOST * bouts
    now, then = played(game, count, seed + FRESH), played(chosen, count, seed + FRESH)
    rows, _ = compared((game, now), (chosen, then), WORTHWHILE)
    thresholds = then[0].thresholds
    return Tuned(
        format=FORMAT,
        game=arm_of(game, changes),
        knob=knob,
        measure=measure,
        scope=scope,
        target=value,
        seed=seed,
        version=__version__,
        answer=answer.value,
        reached=bool(best) or crossings(curve) > 0,
        as_good=tuple(point.value for point in best),
        crossings=crossings(curve),
        curve=tuple(curve),
        fresh=point_of(answer.value, chosen, then, (measure, scope), value),
        effects=rows,
        cautions=cautions_for(chosen, summarise(chosen, then), thresholds, len(then), len(then)),
        provenance=provenance_of(thresholds),
    )


def check(game: Game, candidates: Mapping[int, Game], key: Key, bouts: int, seed: int, workers: int | None) -> None:
    """Refuse what cannot be tuned."""
    problems = [
        f"{name} must be at least {least} (got {value})"
        for name, value, least in (("bouts", bouts, 1), ("seed", seed, 0), ("workers", workers, 1))
        if value is not None and value < least
    ]
    if any(key not in keys_of(one) for one in (game, *candidates.values())):
        problems.append(f"target must be a measure of every candidate (got {key[0]} for {key[1]})")
    if len(candidates) < 2:
        problems.append(f"candidates must be at least 2 (got {len(candidates)})")
    counts = [one.bouts.count for one in (game, *candidates.values())]
    if not problems and sessions_for(max((game, *candidates.values()), key=lambda one: one.bouts.count), bouts) < 2:
        problems.append(f"bouts must be at least {max(counts) + 1}, for two sessions of {max(counts)} (got {bouts})")
    if problems:
        raise GameError(problems)


def point_of(number: int, game: Game, tallies: Sequence[Tally], key: Key, target: float) -> Point:
    """One point of the curve, and on which side of the target it is."""
    found = headlines(game, Sessions(list(tallies)))
    row = found[key]
    if row.bottom.sum() <= 0:
        raise GameError(
            f"{key[0]} must be defined for every candidate (got nothing to divide by at {number})", "--target"
        )
    mean, low, high = ratio_interval(row.top, row.bottom)
    side: Side = "below" if high < target else "above" if low > target else "at"
    return Point(number, mean, low, high, sum(tally.bouts for tally in tallies), side)


def bisect(points: Mapping[int, Point], bouts: int, play: Play) -> list[Point]:
    """The curve, with more bouts where the bisection could not decide a side."""
    curve = dict(points)
    values = sorted(curve)

    def decided(number: int) -> Side:
        wanted = bouts
        while curve[number].side == "at" and wanted < MOST * bouts:
            wanted *= 2
            curve[number] = play(number, wanted)
        return curve[number].side

    low, high = 0, len(values) - 1
    first, last = decided(values[low]), decided(values[high])
    if {first, last} != {"below", "above"}:  # no bracket: look at every candidate that may be it
        for number in values:
            decided(number)
        return [curve[number] for number in values]
    while high - low > 1:
        middle = (low + high) // 2
        side = decided(values[middle])
        if side == "at":  # so may be its neighbours
            for steps in (range(middle - 1, low, -1), range(middle + 1, high)):
                for step in steps:
                    if decided(values[step]) != "at":
                        break
            break
        low, high = (middle, high) if side == first else (low, middle)
    return [curve[number] for number in values]


def as_good(curve: Sequence[Point]) -> list[Point]:
    """Candidates that could not be told from the target with the most bouts that any had."""
    most = max(point.bouts for point in curve)
    return [point for point in curve if point.side == "at" and point.bouts == most]


def crossings(curve: Sequence[Point]) -> int:
    """How often the decided points change sides; more than once: the curve does not go one way."""
    sure = [point.side for point in curve if point.side != "at"]
    return sum(one != other for one, other in zip(sure, sure[1:], strict=False))
