"""`compare`: two games over the same sessions, and what differs.

Both arms play the same session numbers of the same seed, so they have the same drawn players and the same streams of
chance.  Many measures are looked at, so one of them would stand out by luck: a measure is called clear only if its
p-value, adjusted by Holm's method over all rows, is below 5 %.  The intervals are 95 % each on its own.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sim import __version__
from sim.errors import GameError
from sim.experiments.cautions import cautions_for
from sim.experiments.comparison import FORMAT, Arm, Comparison, Counting, Row, Verdict
from sim.experiments.estimate import population_of
from sim.experiments.headline import WORTHWHILE, Headline, headlines
from sim.experiments.paired import Difference, dispersion, evening_larger, holm, minutes_to_show, paired_difference
from sim.experiments.provenance import provenance_of
from sim.experiments.replicate import Bouts, Progress, replicate, session_bouts, sessions_for
from sim.game.model import Game
from sim.measures.sessions import Sessions
from sim.measures.summary import summarise
from sim.measures.tally import Tally

ERROR = 0.05
COUNTED = ("turnovers_per_min", "game")
MULTIPLICITY = (
    "clear: p-value adjusted by Holm's method over all rows below 0.05; each interval is 95 % on its own, "
    "and a size that matters or does not is read off that interval"
)

Key = tuple[str, str]


def compare(
    first: Game,
    second: Game,
    bouts: int = 200,
    seed: int = 1,
    workers: int | None = None,
    progress: Progress | None = None,
    changes: tuple[Sequence[str], Sequence[str]] = ((), ()),
    worthwhile: Mapping[str, float] | None = None,
    population: str | None = None,
    session: Bouts = session_bouts,
) -> Comparison:
    """Whole sessions of both games until `first` has at least `bouts` bouts; the same bits for any number of workers.

    `changes` and `population` are what the games were loaded with.  `worthwhile` replaces smallest worthwhile differences, by
    measure, as shares of the first game's value.  Ctrl-C keeps the pairs of sessions that are finished.
    """
    wanted = sessions_for(first, bouts)
    check(first, bouts, seed, workers, worthwhile or {}, wanted)
    both = wanted * (first.bouts.count + second.bouts.count)
    done = 0

    def told(now: int, _: int) -> None:
        if progress is not None:
            progress(done + now, both)

    one = replicate(first, wanted * first.bouts.count, seed, workers, told, session).sessions
    if len(one) < wanted:
        raise KeyboardInterrupt
    done = wanted * first.bouts.count
    other = replicate(second, wanted * second.bouts.count, seed, workers, told, session).sessions
    numbers = {tally.replicate for tally in other}
    one = tuple(tally for tally in one if tally.replicate in numbers)
    if len(one) < 2:
        raise KeyboardInterrupt

    rows, counting = compared((first, one), (second, other), dict(WORTHWHILE) | dict(worthwhile or {}))
    return Comparison(
        format=FORMAT,
        first=arm_of(first, changes[0]),
        second=arm_of(second, changes[1]),
        population=population,
        seed=seed,
        sessions=len(one),
        bouts=sum(tally.bouts for tally in one),
        version=__version__,
        multiplicity=MULTIPLICITY,
        cautions=cautions_of((first, one), (second, other), wanted),
        rows=rows,
        counting=counting,
        provenance=provenance_of(one[0].thresholds),
    )


def check(
    first: Game, bouts: int, seed: int, workers: int | None, worthwhile: Mapping[str, float], wanted: int
) -> None:
    """Refuse what cannot be compared."""
    problems = [
        f"{name} must be at least {least} (got {value})"
        for name, value, least in (("bouts", bouts, 1), ("seed", seed, 0), ("workers", workers, 1))
        if value is not None and value < least
    ]
    if not problems and wanted < 2:
        problems.append(
            f"bouts must be at least {first.bouts.count + 1}, for two sessions of {first.bouts.count} (got {bouts})"
        )
    for measure, share in worthwhile.items():
        if measure not in WORTHWHILE:
            problems.append(f"worthwhile must name one of: {', '.join(WORTHWHILE)} (got {measure})")
        elif not 0 < share < 1:
            problems.append(f"worthwhile.{measure} must be a share between 0 and 1 (got {share})")
    if problems:
        raise GameError(problems)


def arm_of(game: Game, changes: Sequence[str]) -> Arm:
    return Arm(game.name, game.title, tuple(changes), population_of(game))


def cautions_of(
    first: tuple[Game, Sequence[Tally]], second: tuple[Game, Sequence[Tally]], wanted: int
) -> tuple[str, ...]:
    """What holds for either game, each once, the general line last."""
    found = [
        line
        for game, tallies in (first, second)
        for line in cautions_for(game, summarise(game, tallies), tallies[0].thresholds, len(tallies), wanted)
    ]
    last = found[-1]
    return (*dict.fromkeys(line for line in found if line != last), last)


def compared(
    first: tuple[Game, Sequence[Tally]], second: tuple[Game, Sequence[Tally]], worthwhile: Mapping[str, float]
) -> tuple[tuple[Row, ...], Counting | None]:
    """All rows, over measures that both games have, and the minutes to count."""
    ours, theirs = (headlines(game, Sessions(list(tallies))) for game, tallies in (first, second))
    pairs = {key: (ours[key], theirs[key]) for key in ours if key in theirs}
    found = {key: paired_difference((a.top, a.bottom), (b.top, b.bottom)) for key, (a, b) in pairs.items()}
    there = [key for key, difference in found.items() if difference is not None]
    adjusted = dict(zip(there, holm([found[key].p_value for key in there]), strict=True))
    rows = [row_of(*pairs[key], found[key], adjusted.get(key), worthwhile[key[0]]) for key in pairs]
    return tuple(rows), counting_of(*pairs[COUNTED], found[COUNTED])


def row_of(a: Headline, b: Headline, found: Difference | None, p_holm: float | None, share: float) -> Row:
    what = (a.measure, a.scope, a.unit, a.clock, a.definition)
    if found is None or p_holm is None:
        return Row(*what, *[None] * 11, "cannot tell")
    low, high = found.interval()
    matters = share * abs(found.first) if found.first else None
    return Row(
        *what,
        first=found.first,
        second=found.second,
        difference=found.difference,
        low=low,
        high=high,
        long_run=found.chance_larger,
        evening=evening_larger((a.top, a.bottom), (b.top, b.bottom)),
        p_holm=p_holm,
        worthwhile=matters,
        half_independent=found.apart_half,
        variance_ratio=found.variance_ratio,
        verdict=verdict_of(low, high, p_holm, matters),
    )


def verdict_of(low: float, high: float, p_holm: float, matters: float | None) -> Verdict:
    """Whether there is a difference, and whether it is of a size that matters; neither is an answer too."""
    if matters is not None and -matters < low and high < matters:
        return "no difference that matters"
    if p_holm >= ERROR:
        return "cannot tell"
    if matters is not None and (low >= matters or high <= -matters):
        return "clear, matters"
    return "clear, size open"


def counting_of(a: Headline, b: Headline, found: Difference | None) -> Counting | None:
    """For turnovers; `top` is counts x 60 and `bottom` seconds."""
    if found is None or found.first <= 0 or found.second <= 0:
        return None
    over = dispersion(a.top / 60, a.bottom / 60), dispersion(b.top / 60, b.bottom / 60)
    return Counting(
        minutes=minutes_to_show(found.first, found.second, over),
        poisson=minutes_to_show(found.first, found.second),
        dispersion_first=over[0],
        dispersion_second=over[1],
    )
