"""Measures by name: what each is of one session, and the estimate over many.

Three kinds.  A *ratio* has a top and a bottom a session, and is the sum of the tops over the sum of the bottoms.  A
*pool* puts the values of all sessions together and takes a quantile or a share.  A *spread* is the standard deviation of the
sessions' own values, in per cent of their mean.  Errors: linearised residuals for ratios, resampled sessions for the rest.

    distance_per_min, metres_per_min:LOW-HIGH (km/h), share:LOW-HIGH (of distance), metres:LOW-HIGH (a player and session)
    peak_kmh, longest_run:18 (mean over players of the session's greatest)
    accelerations_per_min, hard_accelerations_per_min, turns_per_min, accelerations_per_km, turns_per_km
    losses_per_min, tackles_per_min, outs_per_min, passes_per_min, completed_per_min (of the game or group, in play)
    losses_per_pass, completion, in_play_share, tackles (a session)
    touches_per_min (a player), touches_per_release, on_ball_s, receiver_speed_kmh, receiver_space_m, support_arrival_s
    reached:N (chance a possession), distance_cv (between players)
    completion:LOW-HIGH:free|pressed (m), pass_speed:LOW-HIGH:qN, reception_to_pass:all|free|pressed:qN,
    reception_to_pass_share:SECONDS
    heart_rate_pct (of maximum), perceived_effort (0 to 10): estimates, adults only
    session_cv:distance, session_cv:LOW-HIGH (between sessions, per cent)

Any other name is looked up among the measures of an answer (`sim.measures.catalogue`), of the game, a team or a role.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sim.evidence.ball_events import PASS
from sim.evidence.session import COLUMN, ZONES, Session
from sim.evidence.trajectories import EDGES_KMH
from sim.game.model import Game
from sim.measures.intervals import ratio_error, t_quantile

RESAMPLES = 200
NOBODY_MEASURES = ("losses", "passes", "completed", "tackles", "outs")
ESTIMATES = ("heart_rate_pct", "perceived_effort")
ALL_METRES = [COLUMN[f"metres {zone}"] for zone in ZONES]
LENGTH, PRESSED, COMPLETED, SPEED, WAIT, KEEPER = range(len(PASS))


class Unknown(KeyError):
    """A measure that does not exist (yet)."""


def kind_of(measure: str) -> str:
    """ "ratio", "pool" or "spread": how a measure is put together from sessions."""
    name = measure.partition(":")[0]
    if name in ("pass_speed", "reception_to_pass", "reception_to_pass_share"):
        return "pool"
    return "spread" if name == "session_cv" else "ratio"


def chosen(session: Session, scope: str, everybody: bool = False) -> tuple[np.ndarray, np.ndarray]:
    """(mask[player, role], mask[block]) of a scope; `everybody`: "all" takes keepers and nobody in as well."""
    players, roles, blocks = session.cells.shape[:3]
    who, when = np.ones((players, roles), dtype=bool), np.ones(blocks, dtype=bool)
    begin = {player.id: player.role for player in session.game.players}
    keepers = {role.name for role in session.game.roles if role.style == "goal"}
    named = False
    for word in scope.split():
        kind, _, name = word.partition(":")
        if kind == "role":
            who &= np.array([role == name for role in session.roles])[None, :]
        elif kind == "team":
            who &= np.array([*(team == name for team in session.teams), False])[:, None]
        elif kind == "start":
            who &= np.array([*(begin[player] == name for player in session.players), False])[:, None]
        elif kind == "bout":
            when &= session.bout_of == int(name)
        elif kind == "quarter":
            when &= session.quarter_of == int(name)
        elif kind != "all":
            raise ValueError(f"scope must be made of all, role:, team:, start:, bout:, quarter: (got {word!r})")
        named |= kind in ("role", "team", "start")
    if named or not everybody:
        who &= np.array([*(begin[player] not in keepers for player in session.players), False])[:, None]
    return who, when


def zone_columns(zone: str) -> list[int]:
    """The columns of the zones between LOW and HIGH km/h."""
    low, high = (float(end) for end in zone.split("-"))
    if low not in EDGES_KMH or high not in EDGES_KMH:
        raise Unknown(f"speeds must be two of {EDGES_KMH} (got {zone})")
    return [COLUMN[f"metres {one}"] for one in ZONES[EDGES_KMH.index(low) : EDGES_KMH.index(high)]]


@dataclass(frozen=True, eq=False)
class Slice:
    """The part of a session that a scope names, with its columns (`sim.evidence.session.COLUMNS`) added up.

    Minutes are those of all its players together, but `in_play_min` is the clock's; `people`: who had the role, for however long.
    """

    session: Session
    when: np.ndarray
    cells: np.ndarray
    in_play_min: float
    people: np.ndarray

    @property
    def minutes(self) -> float:
        """On the watch."""
        return self.cell("seconds") / 60

    @property
    def metres(self) -> float:
        """At any speed."""
        return float(self.cells[ALL_METRES].sum())

    def cell(self, column: str) -> float:
        """One column, added up."""
        return float(self.cells[COLUMN[column]])

    def between(self, zone: str) -> float:
        """Metres at speeds from LOW to HIGH km/h ("LOW-HIGH")."""
        return float(self.cells[zone_columns(zone)].sum())


def slice_of(session: Session, scope: str, everybody: bool) -> Slice:
    """What a scope names; `everybody` as for `chosen`."""
    who, when = chosen(session, scope, everybody)
    there = (session.cells[:-1][:, :, when, COLUMN["seconds"]].sum(axis=2) > 0.0) & who[:-1]
    cells = session.cells[who][:, when].sum(axis=(0, 1))
    return Slice(session, when, cells, session.in_play_s[when].sum() / 60, np.flatnonzero(there.any(axis=1)))


TopBottom = tuple[float, float]
Rule = Callable[[Slice, str], TopBottom]
"""(slice, what stands behind the colon of the name) -> (top, bottom), scaled so that top over bottom is the measure."""


def quotient(top: str, bottom: str, scale: float = 1.0) -> Rule:
    """One column over another."""
    return lambda part, _: (part.cell(top) * scale, part.cell(bottom))


def a_minute_of_play(column: str) -> Rule:
    """A column over the minutes in play."""
    return lambda part, _: (part.cell(column), part.in_play_min)


def a_minute(column: str) -> Rule:
    """A column over the minutes of all players."""
    return lambda part, _: (part.cell(column), part.minutes)


def a_kilometre(column: str) -> Rule:
    """A column over the distance of all players."""
    return lambda part, _: (part.cell(column), part.metres / 1000)


def a_player(value: Callable[[Slice, str], float]) -> Rule:
    """Something over the number of players."""
    return lambda part, detail: (value(part, detail), float(len(part.people)))


def longest_run(part: Slice, detail: str) -> float:
    """Metres of every player's longest run above 18 km/h; there is no other."""
    if detail != "18":
        raise Unknown(f"no measure longest_run:{detail}")
    return float(part.session.longest_m[part.people].sum())


def completion(part: Slice, detail: str) -> TopBottom:
    """Completed and played passes; of a class of length, free or pressed, keepers are left out."""
    if not detail:
        return part.cell("completed"), part.cell("passes")
    lengths, _, which = detail.partition(":")
    rows = in_class(part.session.passes, lengths)
    rows = rows[rows[:, PRESSED] == (which == "pressed")]
    return float(rows[:, COMPLETED].sum()), float(len(rows))


def reached(part: Slice, detail: str) -> TopBottom:
    """Possessions of at least so many passes, among all that had them or came to an end of their own."""
    wanted = int(detail)
    told = [passes for passes, cut in part.session.runs if passes >= wanted or not cut]
    return float(sum(passes >= wanted for passes in told)), float(len(told))


def distance_cv(part: Slice, _: str) -> TopBottom:
    """Coefficient of variation, between players, of metres a second."""
    each = part.session.cells[:-1][:, :, part.when][part.people]
    own = each[..., ALL_METRES].sum(axis=(1, 2, 3)) / each[..., COLUMN["seconds"]].sum(axis=(1, 2))
    return float(own.std(ddof=1) / own.mean()), 1.0


RATIOS: Mapping[str, Rule] = {
    "distance_per_min": lambda part, _: (part.metres, part.minutes),
    "metres_per_min": lambda part, zone: (part.between(zone), part.minutes),
    "share": lambda part, zone: (part.between(zone), part.metres),
    "metres": a_player(lambda part, zone: part.between(zone)),
    "peak_kmh": a_player(lambda part, _: part.session.peak_mps[part.people].sum() * 3.6),
    "longest_run": a_player(longest_run),
    "accelerations_per_min": a_minute("accelerations"),
    "hard_accelerations_per_min": a_minute("hard_accelerations"),
    "turns_per_min": a_minute("turns"),
    "accelerations_per_km": a_kilometre("accelerations"),
    "turns_per_km": a_kilometre("turns"),
    **{f"{name}_per_min": a_minute_of_play(name) for name in NOBODY_MEASURES},
    "touches_per_min": lambda part, _: (part.cell("touches"), part.in_play_min * len(part.people)),
    "tackles": lambda part, _: (part.cell("tackles"), 1.0),
    "in_play_share": lambda part, _: (part.in_play_min, part.session.block_s[part.when].sum() / 60),
    "losses_per_pass": quotient("losses", "passes"),
    "touches_per_release": quotient("touches", "passes"),
    "on_ball_s": quotient("on_ball_s", "timed"),
    "receiver_speed_kmh": quotient("received_mps", "received", 3.6),
    "receiver_space_m": quotient("space_m", "spaced"),
    "support_arrival_s": quotient("support_s", "supports"),
    "completion": completion,
    "reached": reached,
    "distance_cv": distance_cv,
}
OF_EVERYBODY = {"tackles", "losses_per_pass", "completion", *(f"{name}_per_min" for name in NOBODY_MEASURES)}
"""Counts of the game, with keepers, and with what nobody did."""


def ratio_of(session: Session, measure: str, scope: str) -> TopBottom:
    """(top, bottom) of one session, scaled so that top over bottom is the measure."""
    name, _, detail = measure.partition(":")
    rule = RATIOS.get(name)
    if rule is None:
        return from_catalogue(session, measure, scope)
    return rule(slice_of(session, scope, name in OF_EVERYBODY), detail)


def from_catalogue(session: Session, measure: str, scope: str) -> TopBottom:
    """(top, bottom) of a measure of the answers for this session; keepers are in the game's own."""
    from sim.measures.catalogue import measures
    from sim.measures.sessions import Sessions, groups_of

    counts = session.counts
    ratio = next((one for one in measures(counts.thresholds) if one.measure == measure), None)
    if ratio is None and measure not in ESTIMATES:
        raise Unknown(f"no measure {measure}")
    whole = Sessions([counts])
    wanted = "game" if scope == "all" else scope
    group = next((one for one in groups_of(session.game, whole) if one.scope == wanted), None)
    if group is None:
        raise Unknown(f"no measure {measure} of {scope}")
    if ratio is None:
        return estimated(
            session.game, measure, float(whole.sum(group, "heart_pct_s")[0]), float(whole.sum(group, "time_s")[0])
        )
    return float(ratio.scale * ratio.top(whole, group)[0]), float(ratio.bottom(whole, group)[0])


def estimated(game: Game, measure: str, heart_pct_s: float, seconds: float) -> tuple[float, float]:
    """(top, bottom) of estimated heart rate or effort; none where minors play."""
    from sim.measures.internal_load import effort_of, has_minors

    if has_minors(game):
        raise Unknown(f"no {measure} of minors")
    if measure == "perceived_effort":
        return effort_of(heart_pct_s / seconds) * seconds, seconds
    return heart_pct_s, seconds


def in_class(passes: np.ndarray, lengths: str) -> np.ndarray:
    """The rows of passes of LOW-HIGH metres, keepers left out."""
    low, high = (float(end) for end in lengths.split("-"))
    return passes[(passes[:, LENGTH] >= low) & (passes[:, LENGTH] < high) & (passes[:, KEEPER] == 0.0)]


def pool_of(session: Session, measure: str) -> np.ndarray:
    """The values one session puts into the pool."""
    name, detail, *_ = measure.split(":")
    if name == "pass_speed":
        values = in_class(session.passes, detail)[:, SPEED]
    else:
        rows = session.passes[session.passes[:, KEEPER] == 0.0]
        if detail in ("free", "pressed"):
            rows = rows[rows[:, PRESSED] == (detail == "pressed")]
        values = rows[:, WAIT]
    return values[~np.isnan(values)]


def observed(session: Session, measure: str, scope: str) -> np.ndarray:
    """What one session contributes to a measure."""
    kind = kind_of(measure)
    if kind == "pool":
        return pool_of(session, measure)
    if kind == "spread":
        zone = measure.partition(":")[2]
        return np.array(
            ratio_of(session, "distance_per_min" if zone == "distance" else f"metres_per_min:{zone}", scope)
        )
    return np.array(ratio_of(session, measure, scope), dtype=float)


def statistic(measure: str, values: Sequence[np.ndarray]) -> float:
    """A pool's or a spread's value; nan where there is nothing."""
    if kind_of(measure) == "spread":
        own = np.array([top / bottom for top, bottom in values])
        return float(100 * own.std(ddof=1) / own.mean()) if own.mean() > 0 else math.nan
    pooled = np.concatenate(values)
    if len(pooled) == 0:
        return math.nan
    name, *_, last = measure.split(":")
    if name == "reception_to_pass_share":
        return float((pooled < float(last)).mean())
    return float(np.quantile(pooled, float(last.removeprefix("q")) / 100))


def estimate(measure: str, values: Sequence[np.ndarray]) -> tuple[float, float]:
    """(value, standard error) over sessions; nan where it is not defined."""
    if not values:
        return math.nan, math.nan
    if kind_of(measure) == "ratio":
        top, bottom = np.array(values).T
        if bottom.sum() <= 0:
            return math.nan, math.nan
        error = ratio_error(top, bottom) if len(values) > 1 else math.nan
        return float(top.sum() / bottom.sum()), error
    if len(values) < 2:
        return math.nan, math.nan
    lot = np.random.default_rng(1)
    again = [
        statistic(measure, [values[i] for i in lot.integers(len(values), size=len(values))]) for _ in range(RESAMPLES)
    ]
    return statistic(measure, values), float(np.std(again, ddof=1))


def change(
    measures: tuple[str, str], first: Sequence[np.ndarray], second: Sequence[np.ndarray], relative: bool
) -> tuple[float, float]:
    """(change from the first condition to the second, its standard error): paired sessions of ratios.

    Relative changes are of the logarithm's kind: value B / value A - 1, with the error of the logarithm times the ratio.
    """
    (value_a, error_a), (value_b, error_b) = (estimate(m, v) for m, v in zip(measures, (first, second), strict=True))
    paired = len(first) == len(second) > 1 and all(kind_of(measure) == "ratio" for measure in measures)
    if math.isnan(value_a) or math.isnan(value_b) or (relative and value_a == 0.0):
        return math.nan, math.nan
    if not relative:
        return value_b - value_a, paired_error(first, second, 1.0, 1.0) if paired else math.hypot(error_a, error_b)
    ratio = value_b / value_a
    if paired:
        return ratio - 1.0, ratio * paired_error(first, second, 1 / value_a, 1 / value_b if value_b else 0.0)
    return ratio - 1.0, ratio * math.hypot(error_a / value_a, error_b / value_b if value_b else 0.0)


def paired_error(first: Sequence[np.ndarray], second: Sequence[np.ndarray], scale_a: float, scale_b: float) -> float:
    """Standard error of scale_b * ratio B - scale_a * ratio A, session by session (linearised residuals)."""
    (top_a, bottom_a), (top_b, bottom_b) = np.array(first).T, np.array(second).T
    rest = scale_b * residual(top_b, bottom_b) - scale_a * residual(top_a, bottom_a)
    n = len(rest)
    return math.sqrt(float(rest @ rest) / (n * (n - 1)))


def residual(top: np.ndarray, bottom: np.ndarray) -> np.ndarray:
    """What each session adds to the ratio of sums (linearised)."""
    return (top - top.sum() / bottom.sum() * bottom) / bottom.mean()


def interval(value: float, error: float, sessions: int, level: float) -> tuple[float, float]:
    """(low, high) by Student's t over sessions."""
    half = t_quantile((1 + level) / 2, max(sessions - 1, 1)) * error
    return value - half, value + half
