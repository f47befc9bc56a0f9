"""What the work may feel like: heart rate, perceived effort and session load, as estimates for groups of adults.

Never for minors: in a game in which they play there are no such rows at all.  Never for single players either: how one
heart answers to work is too much his own.

Mean heart rate follows from metabolic power (`sim.measures.heart`); effort on the scale 0 to 10 is taken as growing evenly
from nought at one heart rate to ten at the maximum; the load of a session is effort times minutes, rests between bouts
included (`sim.session_load`).  The estimate's own uncertainty does not shrink with more bouts.  It is reckoned by
propagating the spreads of the constants at the mean, and the range of one session is widened by it, in quadrature
(80 %, like the range itself).  `low` and `high` remain the error of the simulation alone.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from functools import partial

import numpy as np

from sim.game.model import Game
from sim.measures.sessions import Group, Sessions
from sim.parameters import TABLE, defaults
from sim.session_load import effort_load
from sim.speed_zones import minors_of

CLOCK = "watch"
KINDS = ("game", "team", "role")
WHOLE = ("game", "team")  # nobody has one role for a whole session: its load would be that of no player
EIGHT_IN_TEN = 1.2815515655446004  # standard deviations that hold the middle 80 % of a normal distribution
MOST_EFFORT = 10.0
SHARED = ("cost_beyond_running", "critical_share_of_aerobic", "heart_rate_per_uptake_pct")
OURS = defaults()
Numbers = tuple[float | None, float | None, float | None, float | None, float | None]


def has_minors(game: Game) -> bool:
    """Whether players of a population under 18 take part."""
    return bool(minors_of([team.population for team in game.teams]))


def heart_sd(mean: float, players: int, values: Mapping[str, float] = OURS) -> float:
    """Uncertainty of an estimated mean heart rate (points of % of maximum) of a group of so many players."""
    relative = math.hypot(*(TABLE[name].spread / values[name] for name in SHARED))
    at_rest = "heart_rate_at_rest_pct"
    shared = math.hypot((mean - values[at_rest]) * relative, TABLE[at_rest].spread)
    return math.hypot(shared, values["heart_rate_player_sd_pct"] / math.sqrt(players))


def effort_of(pct: float, values: Mapping[str, float] = OURS) -> float:
    """Perceived effort, 0 to 10, at a mean heart rate in per cent of maximum."""
    least = values["effort_from_pct"]
    return min(max(MOST_EFFORT * (pct - least) / (100.0 - least), 0.0), MOST_EFFORT)


def effort_sd(sd_pct: float, players: int, values: Mapping[str, float] = OURS) -> float:
    """Uncertainty of the effort, from that of the heart rate, of the scale, and of how differently players rate."""
    per_pct = MOST_EFFORT / (100.0 - values["effort_from_pct"])
    own = values["effort_player_sd"] / math.sqrt(players)
    return math.hypot(per_pct * sd_pct, per_pct * TABLE["effort_from_pct"].spread, own)


def widened(numbers: Numbers, sd: float, least: float, most: float) -> Numbers:
    """The range of one session made wider by the estimate's own uncertainty, in quadrature, kept where values can lie."""
    mean, low, high, session_low, session_high = numbers
    if mean is None or session_low is None or session_high is None:
        return numbers
    more = EIGHT_IN_TEN * sd
    session_low = max(mean - math.hypot(mean - session_low, more), least)
    return mean, low, high, session_low, min(mean + math.hypot(session_high - mean, more), most)


def changed(numbers: Numbers, say: Callable[[float], float]) -> Numbers:
    """The same numbers, said otherwise: `say` of each that is defined."""
    mean, low, high, session_low, session_high = (None if value is None else say(value) for value in numbers)
    return mean, low, high, session_low, session_high


def session_minutes(game: Game, sessions: Sessions) -> np.ndarray:
    """Bouts as long as they were played, and the rests between them, of each session."""
    return (sessions.duration_s + (sessions.bouts - 1) * game.bouts.rest_seconds) / 60.0


def loads(sessions: Sessions, group: Group, minutes: np.ndarray, values: Mapping[str, float]) -> np.ndarray:
    """Each session's effort times its minutes."""
    pct = sessions.sum(group, "heart_pct_s") / sessions.sum(group, "time_s")
    return np.array([effort_load(effort_of(one, values), long) for one, long in zip(pct, minutes, strict=True)])


def estimates(
    game: Game,
    sessions: Sessions,
    groups: list[Group],
    of_ratio: Callable[[np.ndarray, np.ndarray, float, bool], Numbers],
    values: Mapping[str, float] = OURS,
) -> Iterator[tuple[tuple, Group, Numbers]]:
    """((measure, unit, clock, definition), group, numbers) of every row; nothing at all where minors play."""
    if has_minors(game):
        return
    minutes = session_minutes(game, sessions)
    for group in (group for group in groups if group.kind in KINDS):
        heart = of_ratio(sessions.sum(group, "heart_pct_s"), sessions.sum(group, "time_s"), 1.0, False)
        if heart[0] is None:
            continue
        players = max(1, int((sessions.cells[:, :, :, 0] * group.cells > 0).any(axis=(0, 2)).sum()))
        sd = heart_sd(heart[0], players, values)
        felt = effort_sd(sd, players, values)
        effort = changed(heart, partial(effort_of, values=values))
        own = "of the estimate itself, in the range of one session"
        yield ("mean_heart_rate_estimate", "% of maximum", CLOCK, "estimate from metabolic power, each player against his "
               f"own maximum, mean over the bouts; standard deviation {sd:.1f} points {own}"), group, widened(
                   heart, sd, 0.0, 100.0)  # fmt: skip
        yield ("perceived_effort_estimate", "0 to 10", CLOCK, "estimate of the effort a player would name after the bouts "
               f"(category-ratio scale), from the estimated heart rate; standard deviation {felt:.1f} {own}"), group, widened(
                   effort, felt, 0.0, MOST_EFFORT)  # fmt: skip
        if group.kind in WHOLE:
            mean = float(minutes.mean())
            load = of_ratio(loads(sessions, group, minutes, values), np.ones(sessions.n), 1.0, False)
            doubt = effort_load(felt, mean)
            yield ("session_load_estimate", "effort x min", CLOCK, f"estimate: perceived effort x minutes of bouts as long as "
                   f"they were played, and of the rests between them, {mean:.3g} on average; standard deviation {doubt:.0f} "
                   f"{own}"), group, widened(load, doubt, 0.0, effort_load(MOST_EFFORT, float(minutes.max())))  # fmt: skip
