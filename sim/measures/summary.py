"""From sessions to the rows of the answer: means, simulation intervals, and the range of one session.

`low`/`high` are the 95 % simulation interval of the mean, over independent sessions; they shrink with more bouts.
`session_low`/`session_high` hold the middle 80 % of sessions, each with its own value; they do not.  Undefined is
None: a ratio with nothing below the line, an interval from one session.  A rare event never seen has an upper bound
all the same: three divided by the time watched (the "rule of three", 95 %, Hanley & Lippman-Hand 1983).

Beyond the ratios of the catalogue: the 80 % point of pass runs; the shares of the players who defended most and
least in a session, and how often the most exceeds 60 %; how likely each threshold of the game is;
how often each of its rules answers; and what is told bout by bout (`sim.measures.by_bout`).
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sim.game.model import Game
from sim.measures.basis import Basis, Evidence, basis_of, is_studied, setting_of
from sim.measures.by_bout import SCORED, WAITS, point_for_passes, reaching, waits_by_session
from sim.measures.catalogue import IN_PLAY, PLAYED, SIDES, WATCH, Ratio, can_happen, measures
from sim.measures.internal_load import estimates, has_minors
from sim.measures.intervals import (
    mean_interval,
    ratio_interval,
    run_quantile,
    run_quantile_interval,
    session_range,
    share_interval,
)
from sim.measures.minors import untold
from sim.measures.session_counts import SessionCounts
from sim.measures.sessions import Group, Sessions, groups_of
from sim.measures.thresholds import STRICT
from sim.parameters import defaults

LONG_RUN = 0.8
MUCH = 0.6
RULE_OF_THREE = 3.0


@dataclass(frozen=True)
class Measure:
    """One row of the answer."""

    __pydantic_config__ = STRICT

    measure: str
    scope: str
    unit: str
    clock: str
    definition: str
    mean: float | None
    low: float | None
    high: float | None
    session_low: float | None
    session_high: float | None
    n: int
    basis: Basis


@dataclass(frozen=True)
class Threshold:
    """A counter of the game with its number, and the side it is for (None: any)."""

    counter: str
    count: float
    side: str | None

    @property
    def words(self) -> str:
        """The threshold as it stands in a definition: "8 passes by outside"."""
        return f"{self.count:g} {self.counter}" + (f" by {self.side}" if self.side else "")


Estimate = tuple[float | None, float | None, float | None, float | None, float | None]
What = tuple[str, str, str, str]
"""(measure, unit, clock, definition) of a row."""

UNDEFINED: Estimate = (None, None, None, None, None)


def thresholds_of(game: Game) -> list[Threshold]:
    """The thresholds of a game, each once, in the order of the file."""
    found = [
        Threshold(rule.on, rule.count, rule.by)
        for phase in game.phases
        for rule in phase.rules
        if rule.on in ("passes", "wins") and rule.count is not None
    ]
    return list(dict.fromkeys(found))


def spread(values: np.ndarray) -> tuple[float | None, float | None]:
    """The range of one session, undefined for a single one."""
    return session_range(values) if len(values) > 1 else (None, None)


def of_ratio(top: np.ndarray, bottom: np.ndarray, scale: float, rare: bool) -> Estimate:
    """Ratio of sums with both ranges; `rare`: nought has an upper bound."""
    if bottom.sum() <= 0:
        return UNDEFINED
    top = top * scale
    own = spread(top[bottom > 0] / bottom[bottom > 0])
    if len(top) < 2:
        return (float(top.sum() / bottom.sum()), None, None, *own)
    ratio, low, high = ratio_interval(top, bottom)
    if rare and not top.any():
        high = RULE_OF_THREE * scale / float(bottom.sum())
    return (ratio, low, high, *own)


def of_values(values: np.ndarray) -> Estimate:
    """Mean of the sessions' own values."""
    if len(values) == 0:
        return UNDEFINED
    if len(values) == 1:
        return (float(values[0]), None, None, None, None)
    return (*mean_interval(values), *session_range(values))


def of_runs(counts: np.ndarray) -> Estimate:
    """The 80 % point of pass runs."""
    own = [run_quantile(one, LONG_RUN) for one in counts if one.any()]
    return (*run_quantile_interval(counts, LONG_RUN), *(spread(np.array(own)) if own else (None, None)))


def of_share(hits: np.ndarray) -> Estimate:
    """Share of sessions in which something happened."""
    if len(hits) == 0:
        return UNDEFINED
    return (*share_interval(int(hits.sum()), len(hits)), None, None)


def takes(scopes: Sequence[str], group: Group, happens: bool) -> bool:
    """Whether a measure has a row for the group; what cannot happen in a game is told once, for the game."""
    if group.kind == "game":
        return "game" in scopes
    named = group.kind in scopes or ("side" in scopes and bool(group.sides))
    return named and happens


def numbers(
    game: Game, sessions: Sessions, values: Mapping[str, float] | None = None
) -> Iterator[tuple[Ratio | What, Group, Estimate]]:
    """(what, group, estimate) of every row, in the order of the answer."""
    groups = groups_of(game, sessions)
    whole, minors = groups[0], has_minors(game)
    for ratio in measures(sessions.thresholds):
        told = [group for group in groups if not (minors and group.kind == "player" and untold(ratio.measure))]
        yield from of_catalogue(ratio, game, sessions, told)
        if ratio.measure == "pass_run_mean":
            yield from long_runs(sessions, groups)
        if ratio.measure == "defending_share":
            yield from extremes(sessions, whole)
    yield from estimates(game, sessions, groups, of_ratio, defaults() if values is None else values)
    for threshold in thresholds_of(game):
        yield chance_of(threshold, sessions, whole)
    yield from answers_of_rules(game, sessions, whole)
    yield from bout_by_bout(game, sessions, groups)


def of_catalogue(
    ratio: Ratio, game: Game, sessions: Sessions, groups: Sequence[Group]
) -> Iterator[tuple[Ratio, Group, Estimate]]:
    """A measure of the catalogue for each of the groups it has a row for."""
    happens = can_happen(ratio.needs, game)
    for group in groups:
        if takes(ratio.scopes, group, happens):
            top, bottom = ratio.top(sessions, group), ratio.bottom(sessions, group)
            yield ratio, group, of_ratio(top, bottom, ratio.scale, ratio.counts and happens)


def long_runs(sessions: Sessions, groups: Sequence[Group]) -> Iterator[tuple[What, Group, Estimate]]:
    """The 80 % point of the pass runs of the game and of every side."""
    what = ("pass_run_p80", "passes", IN_PLAY, "80 % of possessions have at most this many completed passes, "
            "however they end")  # fmt: skip
    for group in groups:
        if takes(SIDES, group, True):
            yield what, group, of_runs(sessions.runs(group))


def answers_of_rules(game: Game, sessions: Sessions, whole: Group) -> Iterator[tuple[What, Group, Estimate]]:
    """How often each rule of the game answers in a bout."""
    for phase in game.phases:
        for rule in phase.rules:
            definition = f"rule: {rule.name} in {phase.name}; times it answered in a bout{PLAYED}"
            what = ("rule_fired_per_bout", "1/bout", WATCH, definition)
            yield what, whole, of_ratio(sessions.fired(phase.name, rule.name), sessions.bouts, 1.0, True)


def share_of_bouts(hits: np.ndarray, bouts: np.ndarray) -> Estimate:
    """A share of bouts with both ranges; the interval ends at 0 and 1."""
    mean, low, high, *own = of_ratio(hits, bouts, 1.0, False)
    return mean, None if low is None else max(0.0, low), None if high is None else min(1.0, high), own[0], own[1]


def bout_by_bout(game: Game, sessions: Sessions, groups: Sequence[Group]) -> Iterator[tuple[What, Group, Estimate]]:
    """Bouts in which a side gets no point, or has no run of so many passes; and how long between two balls across."""
    tallies = [one.tallies for one in sessions.counts]
    for group in groups if can_happen("points", game) else ():
        for side in group.sides or ():
            none = sessions.bouts - np.array([float(one[SCORED, side, 1]) for one in tallies])
            what = ("bouts_without_point", "share", WATCH, f"share of bouts without a point{PLAYED}")
            yield what, group, share_of_bouts(none, sessions.bouts)
            for passes in range(1, (point_for_passes(game, side) or 0) + 1):
                short = sessions.bouts - reaching(tallies, side, passes)
                definition = f"passes: {passes}; share of bouts without one run so long{PLAYED}"
                what = ("bouts_without_run", "share", WATCH, definition)
                yield what, group, share_of_bouts(short, sessions.bouts)
    if can_happen("areas", game):
        for name, value, own in waits_by_session(tallies):
            late = f"{WAITS[name]:.0%} of waits from one ball across to the next of the bout are over by then"
            what = (f"between_transfers_{name}_s", "s", WATCH, f"{late}; cut waits were at least so long")
            yield what, groups[0], (value, None, None, *spread(own))


def extremes(sessions: Sessions, whole: Group) -> Iterator[tuple[What, Group, Estimate]]:
    """Who defended most and least in a session, whoever it was, and how often the most is much."""
    shares = sessions.defending_shares()
    shares = shares[~np.isnan(shares).all(axis=1)]
    most, least = np.nanmax(shares, axis=1, initial=0.0), np.nanmin(shares, axis=1, initial=1.0)
    of = "of one session, whoever it is; players who never had a job that can defend left out"
    yield ("defending_share_most", "share", IN_PLAY, f"largest defending share {of}"), whole, of_values(most)
    yield ("defending_share_least", "share", IN_PLAY, f"smallest defending share {of}"), whole, of_values(least)
    definition = f"share of sessions in which somebody defends more than {MUCH:.0%} of the time in play"
    yield ("chance_someone_defends_over_60", "share", IN_PLAY, definition), whole, of_share(most > MUCH)


def chance_of(threshold: Threshold, sessions: Sessions, whole: Group) -> tuple[What, Group, Estimate]:
    """How often a threshold is reached: per possession for passes, else per bout."""
    reached = sessions.reached(threshold.counter, threshold.count, threshold.side)
    if threshold.counter == "passes":
        per, bottom = "possession", sessions.possessions(threshold.side)
    else:
        per, bottom = "bout", sessions.bouts
    what = (
        "threshold_chance",
        f"1/{per}",
        IN_PLAY,
        f"threshold: {threshold.words}; times reached per {per}",
    )
    return what, whole, of_ratio(reached, bottom, 1.0, True)


def summarise(
    game: Game,
    counts: Collection[SessionCounts],
    own: Collection[str] = (),
    values: Mapping[str, float] | None = None,
    evidence: Collection[Evidence] = (),
) -> tuple[Measure, ...]:
    """All rows for these sessions (`counts`: one a session); `own`: measures the user's own counts have entered.

    `values`: constants by name (None: those of `sim.parameters`); `evidence`: what is published of whom (nothing by default).
    """
    if not counts:
        return ()
    sessions, setting = Sessions(list(counts)), setting_of(game)
    rows = []
    for what, group, estimate in numbers(game, sessions, values):
        if isinstance(what, Ratio):
            what = (what.measure, what.unit, what.clock, what.definition)
        name, unit, clock, definition = what
        basis = basis_of(name, setting, own, evidence if is_studied(game, group.scope) else ())
        rows.append(Measure(name, group.scope, unit, clock, definition, *estimate, sessions.n, basis))
    return tuple(rows)
