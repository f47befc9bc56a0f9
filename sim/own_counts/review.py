"""Looking back: what was planned and what was counted, how often our ranges held, and whether the same game goes better now.

Everything is reckoned anew from the rows as they stand, so a correction changes what is told.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import Enum
from statistics import harmonic_mean

from sim.measures.intervals import share_interval
from sim.own_counts.columns import COUNTS
from sim.own_counts.forecast import Forecast, from_bout
from sim.own_counts.logbook import Evening
from sim.own_counts.rates import count_interval, ratio_interval
from sim.own_counts.tally import LONGEST, Counted, Row, as_planned, counted
from sim.own_counts.trend import Counts, Trend, trend_of
from sim.own_counts.verdict import Judged, Verdict, judge, spread_of

FEWEST, LEAST = 10, 5
"""Fewer forecasts than the first tell little of how far to trust the next, fewer than the second nothing (house default)."""
SURE = 0.6
"""Ranges are only praised where they hold at least so often, by the low end of what is sure of it (house default)."""
MOST_TO_TELL, STEP_TO_TELL = 60, 5
"""Minutes of one game that one evening may have, and in what steps they are told (house default)."""
BETTER_WITH_MORE = ("passes", LONGEST, "reached", "goals")
"""Counts of which more is better for those who keep the ball; fewer losses are."""
BETTER_WITH_LESS = ("losses",)


@dataclass(frozen=True)
class BoutSeen:
    """One count of one bout beside what bouts of that number usually bring; not judged where the forecast has fewer bouts."""

    bout: int | None
    judged: Judged


@dataclass(frozen=True)
class Looked:
    """One evening of one game: each count of it, each of its bouts; `left_out`: bouts that were changed on the grass."""

    evening: Evening
    judged: tuple[Judged, ...]
    bouts: tuple[BoutSeen, ...]
    left_out: tuple[Row, ...]


@dataclass(frozen=True)
class Coverage:
    """Of `forecasts` of a measure `inside` lay in their usual range; `low` to `high` is the 95 % interval of that share (Wilson).

    `promised`: the share that had to be expected, a little above eight in ten because counts are whole.
    """

    measure: str
    inside: int
    forecasts: int
    share: float
    low: float
    high: float
    promised: float

    @property
    def trust(self) -> Trust:
        """What that says of the next forecast."""
        as_promised = self.low <= self.promised <= self.high
        if self.forecasts < (FEWEST if as_promised else LEAST):
            return Trust.TOO_FEW
        if self.high < self.promised:
            return Trust.TOO_NARROW
        if self.low > self.promised:
            return Trust.TOO_WIDE
        return Trust.HOLDS if self.low >= SURE else Trust.NOTHING_AGAINST


class Trust(Enum):
    """What past forecasts say of the next."""

    HOLDS = "holds"
    TOO_NARROW = "too narrow"
    TOO_WIDE = "too wide"
    NOTHING_AGAINST = "nothing against"
    TOO_FEW = "too few"


class Change(Enum):
    """The same game later."""

    BETTER = "better"
    WORSE = "worse"
    MORE = "more"
    FEWER = "fewer"
    CANNOT_TELL = "cannot tell"


@dataclass(frozen=True)
class Later:
    """A count of the first evening and of the last of the same game; `low` to `high`: last rate over first, 95 %.

    `next_min`: so many minutes of the next evening, held against the first, would tell a change as large as this looks; `both_min`:
    so many of each of two evenings; None where `MOST_TO_TELL` of them are too few.  `evenings`: how many there are; of more
    than two the interval goes by all of them, as do the rates `fitted` to the first and the last, and `next_min` is of one more.
    """

    measure: str
    first_day: str
    last_day: str
    first: Counted
    last: Counted
    low: float
    high: float
    next_min: int | None = None
    both_min: int | None = None
    evenings: int = 2
    fitted: tuple[float, float] | None = None

    @property
    def rates(self) -> tuple[float, float]:
        """A minute, then and now: as counted, or by the run of all evenings."""
        return self.fitted or (self.first.count / self.first.minutes, self.last.count / self.last.minutes)

    @property
    def change(self) -> Change:
        """Better, worse, more, fewer; or cannot tell."""
        if self.low <= 1 <= self.high:
            return Change.CANNOT_TELL
        more = self.low > 1
        if self.measure in BETTER_WITH_MORE:
            return Change.BETTER if more else Change.WORSE
        if self.measure in BETTER_WITH_LESS:
            return Change.WORSE if more else Change.BETTER
        return Change.MORE if more else Change.FEWER


@dataclass(frozen=True)
class Rate:
    """A count of all evenings of a game together: so many in `minutes` on `clock`; `low` to `high` a minute, 95 %."""

    measure: str
    clock: str
    count: int
    minutes: float
    low: float
    high: float


@dataclass(frozen=True)
class Review:
    """Evenings by the layout of their game, the user's own rates, coverage by measure, and the same game later.

    `planned`: coverage of those forecasts alone that were kept before anything was counted.
    """

    games: Mapping[str, tuple[Looked, ...]]
    rates: Mapping[str, tuple[Rate, ...]]
    coverage: tuple[Coverage, ...]
    later: Mapping[str, tuple[Later, ...]]
    planned: tuple[Coverage, ...] = ()


def looked_at(evening: Evening, found: Forecast | None) -> Looked:
    """One evening against its forecast; without one nothing is judged."""
    rows = as_planned(evening.standing)
    left_out = tuple(row for row in evening.standing if row.changed)
    if found is None:
        return Looked(evening, (), (), left_out)
    judged = tuple(judge(found, one) for one in counted(rows))
    bouts = tuple(
        BoutSeen(row.bout, judge(from_bout(found, row.bout), one))
        for row in rows
        if row.bout is not None
        for one in counted([row])
    )
    return Looked(evening, judged, bouts, left_out)


def reviewed(evenings: Sequence[Evening], forecasts: Mapping[str, Forecast]) -> Review:
    """The whole look back; `forecasts` by key."""
    games: dict[str, list[Looked]] = {}
    for evening in evenings:
        if evening.standing:
            found = None if evening.forecast is None else forecasts[evening.forecast]
            games.setdefault(evening.setup, []).append(looked_at(evening, found))
    later = {
        setup: compared(looked, forecasts[looked[0].evening.forecast or ""])
        for setup, looked in games.items()
        if len(looked) > 1 and looked[0].evening.forecast
    }
    rates = {
        setup: rates_of(looked, forecasts[looked[0].evening.forecast])
        for setup, looked in games.items()
        if looked[0].evening.forecast
    }
    every = [one for looked in games.values() for one in looked]
    return Review(
        {setup: tuple(looked) for setup, looked in games.items()},
        rates,
        coverage_of([one for looked in every for one in looked.judged]),
        later,
        coverage_of([one for looked in every if looked.evening.planned for one in looked.judged]),
    )


def coverage_of(judged: Sequence[Judged]) -> tuple[Coverage, ...]:
    """How many lay inside, measure by measure."""
    found = []
    for measure in COUNTS:
        those = [one for one in judged if one.what.measure == measure and one.verdict is not Verdict.NOT_JUDGED]
        if those:
            inside = sum(one.is_inside for one in those)
            promised = sum(one.inside for one in those) / len(those)
            found.append(Coverage(measure, inside, len(those), *share_interval(inside, len(those)), promised))
    return tuple(found)


def rates_of(looked: Sequence[Looked], found: Forecast) -> tuple[Rate, ...]:
    """Every count of these evenings added up, clock by clock."""
    every: dict[tuple[str, str], list[Counted]] = {}
    for evening in looked:
        for one in evening.judged:
            if one.what.measure != LONGEST:
                every.setdefault((one.what.measure, one.what.clock), []).append(one.what)
    told = []
    for (measure, clock), those in every.items():
        count, minutes = sum(one.count for one in those), sum(one.minutes for one in those)
        wide = dispersion(found, those[0], sum(one.minutes**2 for one in those) / minutes)
        low, high = (wide * end / minutes for end in count_interval(count / wide))
        told.append(Rate(measure, clock, count, minutes, low, high))
    return tuple(told)


def compared(looked: Sequence[Looked], found: Forecast) -> tuple[Later, ...]:
    """The last evening of a game beside the first, count by count on the same clock; with those between, where there are any."""
    last = [(one.what.measure, one.what.clock) for one in looked[-1].judged if one.what.measure != LONGEST]
    counts: dict[tuple[str, str], list[tuple[str, Counted]]] = {key: [] for key in last}
    for evening in looked:
        for one in evening.judged:
            if (one.what.measure, one.what.clock) in counts:
                counts[one.what.measure, one.what.clock].append((evening.evening.day, one.what))
    return tuple(later_of(found, those) for those in counts.values() if len(those) > 1)


def later_of(found: Forecast, counts: Sequence[tuple[str, Counted]]) -> Later:
    """One count of these days: of two the last beside the first, of more the run of them all."""
    (first_day, first), (last_day, last) = counts[0], counts[-1]
    if len(counts) == 2:
        ends, longer = interval_of(found, first, last), minutes_to_tell(found, first, last)
        return Later(first.measure, first_day, last_day, first, last, *ends, *longer)
    days = [(date.fromisoformat(day) - date.fromisoformat(first_day)).days for day, _ in counts]
    points = [Counts(day, one.count, one.minutes) for day, (_, one) in zip(days, counts, strict=True)]
    run = run_of(found, first, points)
    steps = range(STEP_TO_TELL, MOST_TO_TELL + 1, STEP_TO_TELL)
    after = days[-1] + days[-1] / (len(days) - 1)  # the next evening, as long after as they usually are
    more = next((m for m in steps if told(run_of(found, first, [*points, Counts(after, run.now * m, m)]))), None)
    fitted = run.then, run.now
    return Later(first.measure, first_day, last_day, first, last, run.low, run.high, more, None, len(counts), fitted)


def run_of(found: Forecast, what: Counted, points: Sequence[Counts]) -> Trend:
    """The trend of a count over these evenings."""
    return trend_of(points, dispersion(found, what, harmonic_mean([one.minutes for one in points])))


def told(run: Trend) -> bool:
    """Whether it is sure that it goes one way."""
    return not run.low <= 1 <= run.high


def interval_of(found: Forecast, first: Counted, last: Counted) -> tuple[float, float]:
    """(low, high) of the last rate over the first, 95 %."""
    wide = dispersion(found, first, harmonic_mean([first.minutes, last.minutes]))
    return ratio_interval((first.count, first.minutes), (last.count, last.minutes), wide)


def minutes_to_tell(found: Forecast, first: Counted, last: Counted) -> tuple[int | None, int | None]:
    """The fewest minutes of the next evening, and of each of two, in which counts at these very rates would be told apart."""

    def apart(then: Counted, now: Counted) -> bool:
        low, high = interval_of(found, then, now)
        return not low <= 1 <= high

    steps = range(STEP_TO_TELL, MOST_TO_TELL + 1, STEP_TO_TELL)
    longer = next((m for m in steps if m > last.minutes and apart(first, at_rate(last, m))), None)
    return longer, next((m for m in steps if apart(at_rate(first, m), at_rate(last, m))), None)


def at_rate(what: Counted, minutes: float) -> Counted:
    """The same count in other minutes."""
    return replace(what, count=round(what.count * minutes / what.minutes), minutes=minutes)


def dispersion(found: Forecast, what: Counted, minutes: float) -> float:
    """Variance of a count over its mean, in so many minutes of one evening, as the forecast has it; 1 where nothing happens.

    The luck of the bouts makes it 1 or more, however long (what the simulation makes more regular than chance need not be so on the
    grass); that other players come on another evening adds to it with every minute.  Of two evenings, what is compared varies as if
    both had the harmonic mean of their minutes; the sum of several as if each had the mean of theirs, weighted by themselves.
    """
    spread = spread_of(found, what)
    if spread.rate == 0:
        return 1.0
    return max(1.0, spread.luck / spread.rate) + spread.players * 60 * minutes / spread.rate
