"""`compare`: a game and its variants over the same sessions, and what differs.

All conditions play the same session numbers of the same seed, so they have the same drawn players and the same streams of
chance.  Many measures are looked at, so one of them would stand out by luck: a measure is called clear only if its
p-value, adjusted by Holm's method over all rows, is below 5 %.  The intervals are 95 % each on its own.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from sim import __version__
from sim.assumptions import NONE, Assumptions
from sim.errors import InputError
from sim.evidence.published import domains
from sim.experiments.cautions import STUDY, cautions_for, studies_of
from sim.experiments.comparison import (
    FORMAT,
    Compared,
    Comparison,
    Condition,
    Counting,
    Row,
    SessionValue,
    Verdict,
)
from sim.experiments.drawer import Drawer, play_missing
from sim.experiments.estimate import population_of
from sim.experiments.evenings import OfBouts, evening_of, parts_of, session_chance, watch_session
from sim.experiments.executors import Workers, too_small
from sim.experiments.key_measures import ALL_WORTHWHILE, LOST, WORTHWHILE, KeyMeasure
from sim.experiments.paired import Difference, dispersion, holm, minutes_to_show, paired_difference
from sim.experiments.provenance import provenance_of
from sim.experiments.reduced import no_proposal
from sim.experiments.replicate import Progress, Replication, sessions_for
from sim.experiments.series import series_compared
from sim.experiments.sessions import SessionPlayer, session_bouts
from sim.experiments.sums import Key, Sums
from sim.experiments.variance_components import long_run_larger
from sim.game.model import Game
from sim.measures.summary import summarise

ERROR = 0.05
COUNTED = (LOST, "turnovers_per_min")  # what is counted on the grass: the first of these that both games have
MULTIPLICITY = (
    "clear: p-value adjusted by Holm's method over all rows below 0.05; each interval is 95 % on its own, "
    "and a size that matters or does not is read off that interval"
)

NUMBER = re.compile(r"\d+(?:\.\d+)?")
AS_IT_IS, CHANGED = "as it is", "changed"


BESIDE_SEVERAL: Mapping[Key, float] = {("touches_per_min", "game"): 0.05}
"""What is looked at besides where several are held against one, with the smallest share worth having (house default)."""


@dataclass(frozen=True)
class Variant:
    """A game to hold against the first: `changes` are all it was loaded with, `said` what its own are called by people."""

    game: Game
    changes: tuple[str, ...] = ()
    name: str = CHANGED
    said: str = ""


def compare_all(  # noqa: PLR0913 - the public face: what may be asked for by keyword
    first: Game,
    variants: Sequence[Variant],
    bouts: int = 200,
    seed: int = 1,
    workers: Workers = None,
    progress: Progress | None = None,
    changes: Sequence[str] = (),
    worthwhile: Mapping[str, float] | None = None,
    population: str | None = None,
    session: SessionPlayer = session_bouts,
    assumptions: Assumptions = NONE,
    drawer: Drawer | None = None,
    asked: Key | None = None,
) -> Compared:
    """Whole sessions of all games until `first` has at least `bouts` bouts; the same bits for any number of workers.

    `asked`: (measure, scope) that the answer is to lead with, one that all games have.  `changes` and `population` are what the
    first game was loaded with.  `worthwhile` replaces smallest worthwhile
    differences, by measure, as shares of the first game's value; the rest as in `Replication`.  Ctrl-C keeps the sessions that
    all games finished.
    """
    run = Replication(seed, workers, progress, session, assumptions, drawer)
    wanted = sessions_for(first, bouts)
    check(first, variants, bouts, run, worthwhile or {})
    games = [first, *(variant.game for variant in variants)]
    found = play_missing(run, games, [range(wanted)] * len(games))
    numbers = common_numbers(found)
    if len(numbers) < 2:
        raise KeyboardInterrupt
    more = [*([] if asked is None else [asked]), *(BESIDE_SEVERAL if len(variants) > 1 else ())]
    conditions = [
        Sums(game, [condition[number] for number in numbers], more)
        for game, condition in zip(games, found, strict=True)
    ]
    beside = {measure: share for (measure, _), share in BESIDE_SEVERAL.items()}
    answers = compared(conditions[0], conditions[1:], ALL_WORTHWHILE | beside | dict(worthwhile or {}))
    base = condition_of(first, changes)
    lines = [cautions_of(condition, wanted) for condition in conditions]
    names = [AS_IT_IS, *(spoken(variant, changes) for variant in variants)]
    studies = studies_of(games, names)
    comparisons = tuple(
        Comparison(
            format=FORMAT,
            first=base,
            second=condition_of(variant.game, variant.changes, variant.name),
            population=population,
            seed=seed,
            sessions=len(numbers),
            bouts=sum(counts.bouts for counts in conditions[0].sessions),
            version=__version__,
            multiplicity=MULTIPLICITY,
            cautions=(
                *told_of(lines, names, (0, i), studies),
                *no_proposal(conditions[0], conditions[i]),
                lines[0][-1],
            ),
            rows=rows,
            counting=counting,
            series=series_compared((first, variant.game), (conditions[0].bouts, conditions[i].bouts)),
            provenance=provenance_of(conditions[0].sessions[0].thresholds, assumptions),
        ).about(first, variant.game)
        for i, (variant, (rows, counting)) in enumerate(zip(variants, answers, strict=True), start=1)
    )
    seen = values_by_session([base.name, *(one.second.name for one in comparisons)], conditions, numbers)
    return Compared(comparisons, tuple(seen), asked).about(*games)


def common_numbers(found: Sequence[Mapping[int, object]]) -> list[int]:
    """The numbers of the sessions that all have finished, in order."""
    return sorted(set.intersection(*(set(one) for one in found)))


def check(
    first: Game, variants: Sequence[Variant], bouts: int, run: Replication, worthwhile: Mapping[str, float]
) -> None:
    """Refuse what cannot be compared."""
    problems = too_small(bouts=(bouts, 1), seed=(run.seed, 0), workers=(run.workers, 1))
    if not problems and sessions_for(first, bouts) < 2:
        problems.append(
            f"bouts must be at least {first.bouts.count + 1}, for two sessions of {first.bouts.count} (got {bouts})"
        )
    names = [variant.name for variant in variants]
    if not names:
        problems.append("variants must be at least one (got none)")
    if len(set(names)) < len(names):
        problems.append(f"every variant must have a name of its own (got {', '.join(names)})")
    for measure, share in worthwhile.items():
        if measure not in WORTHWHILE:
            problems.append(f"worthwhile must name one of: {', '.join(WORTHWHILE)} (got {measure})")
        elif not 0 < share < 1:
            problems.append(f"worthwhile.{measure} must be a share between 0 and 1 (got {share})")
    if problems:
        raise InputError(problems)


def condition_of(game: Game, changes: Sequence[str], name: str = AS_IT_IS) -> Condition:
    """What an answer says of a game: its file, what was set beside it, who played."""
    return Condition(name, game.name, game.title, tuple(changes), population_of(game))


def spoken(variant: Variant, before: Sequence[str]) -> str:
    """What a variant is called beside a caution that is its own: its changes where it has no name."""
    own = [change for change in variant.changes if change not in before]
    return f"with {variant.said or ' and '.join(own)}" if variant.name == CHANGED and own else variant.name


def cautions_of(condition: Sums, wanted: int) -> tuple[str, ...]:
    """The cautions of one condition by itself."""
    measures = summarise(condition.game, condition.sessions, evidence=domains())
    return cautions_for(condition.game, measures, condition.sessions[0].thresholds, len(condition.sessions), wanted)


def told_of(lines: Sequence[Sequence[str]], names: Sequence[str], pair: Sequence[int], studies: str = "") -> list[str]:
    """The cautions of these two, each once, without the general line.

    One that all games have but for a single number is said once, with the numbers it spans ("the longest line is 11 to 16 m");
    any other that does not hold for all games says for which.  `studies`: the nearest studies of all games in one sentence.
    """
    found = []
    for line in dict.fromkeys(line for i in pair for line in lines[i][:-1]):
        alike = [next((one for one in own if NUMBER.sub("", one) == NUMBER.sub("", line)), None) for own in lines]
        whose = [name for name, own in zip(names, lines, strict=True) if line in own]
        if len(whose) == len(names):
            found.append(line)
        elif None not in alike and (told := spanned([one for one in alike if one is not None])):
            found.append(told)
        elif studies and line.startswith(STUDY):
            found.append(studies)
        else:
            found.append(f"{line.removesuffix('.')} (only {', '.join(whose)}).")
    return list(dict.fromkeys(found))


def spanned(lines: Sequence[str]) -> str | None:
    """Lines that differ in one number alone, as one line with the least and the most of it; None where more differs."""
    numbers = list(zip(*(NUMBER.findall(line) for line in lines), strict=True))
    differing = [i for i, column in enumerate(numbers) if len(set(column)) > 1]
    if len(differing) != 1:
        return None
    (place,) = differing
    ends = sorted(numbers[place], key=float)
    pieces, found = NUMBER.split(lines[0]), NUMBER.findall(lines[0])
    found[place] = f"{ends[0]} to {ends[-1]}"
    return "".join(part for both in zip(pieces, [*found, ""], strict=True) for part in both)


def compared(
    first: Sums, others: Sequence[Sums], worthwhile: Mapping[str, float], apart: Key | None = None
) -> list[tuple[tuple[Row, ...], Counting | None]]:
    """For each of the others: all rows over the measures that it and the first have, and the minutes to count.

    Holm's adjustment is over all rows of all of them; the rows of the measure `apart` are adjusted among themselves.
    """
    pairs = [
        {key: (first.whole[key], other.whole[key]) for key in first.whole if key in other.whole} for other in others
    ]
    found = [
        {key: paired_difference((a.top, a.bottom), (b.top, b.bottom)) for key, (a, b) in both.items()} for both in pairs
    ]
    p_values = {(i, key): one.p_value for i, every in enumerate(found) for key, one in every.items() if one is not None}
    adjusted: dict[tuple[int, Key], float] = {}
    for family in ([one for one in p_values if one[1] == apart], [one for one in p_values if one[1] != apart]):
        adjusted |= zip(family, holm([p_values[one] for one in family]), strict=True)
    answers = []
    for i, (other, both) in enumerate(zip(others, pairs, strict=True)):
        rows = [
            row_of(
                *both[key],
                found[i][key],
                adjusted.get((i, key)),
                worthwhile[key[0]],
                (first.by_bout.get(key), other.by_bout.get(key)),
            )
            for key in both
        ]
        counted = next(key for key in ((name, "game") for name in COUNTED) if key in both)
        answers.append((tuple(rows), counting_of(*both[counted], found[i][counted])))
    return answers


def row_of(
    a: KeyMeasure, b: KeyMeasure, found: Difference | None, p_holm: float | None, share: float, bouts: OfBouts
) -> Row:
    """One measure of both conditions, and their `bouts`; `share`: the smallest worthwhile difference, of the first's value."""
    what = (a.measure, a.scope, a.unit, a.clock, a.definition)
    if found is None or p_holm is None:
        nothing = (None,) * 13
        return Row(*what, *nothing, "cannot tell", evening_of(a), evening_of(b))
    low, high = found.interval()
    matters = share * abs(found.first) if found.first else None
    parts = parts_of(bouts)
    return Row(
        *what,
        first=found.first,
        second=found.second,
        difference=found.difference,
        low=low,
        high=high,
        long_run=long_run_larger(found.difference, found.error, found.pairs - 1, parts),
        one_session=session_chance(a, b, found, parts),
        watch_session=watch_session(a, b, bouts),
        ignorance=None if parts is None else math.sqrt(parts.ignorance),
        p_holm=p_holm,
        worthwhile=matters,
        half_independent=found.apart_half,
        variance_ratio=found.variance_ratio,
        verdict=verdict_of(low, high, p_holm, matters),
        first_evening=evening_of(a),
        second_evening=evening_of(b),
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


def counting_of(a: KeyMeasure, b: KeyMeasure, found: Difference | None) -> Counting | None:
    """For losses; `top` is counts x 60 and `bottom` seconds."""
    if found is None or found.first <= 0 or found.second <= 0:
        return None
    over = dispersion(a.top / 60, a.bottom / 60), dispersion(b.top / 60, b.bottom / 60)
    return Counting(
        minutes=minutes_to_show(found.first, found.second, over),
        poisson=minutes_to_show(found.first, found.second),
        dispersion_first=over[0],
        dispersion_second=over[1],
    )


def values_by_session(
    names: Sequence[str], conditions: Sequence[Sums], numbers: Sequence[int]
) -> Iterator[SessionValue]:
    """Every session's own value of every measure, for pictures."""
    for name, condition in zip(names, conditions, strict=True):
        for key, one in condition.whole.items():
            for number, value in zip(numbers, one.values, strict=True):
                if not math.isnan(value):
                    yield SessionValue(name, *key, number, float(value))
