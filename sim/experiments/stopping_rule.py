"""How many sessions are enough: play until the interval of one measure is narrow, or the budget is spent.

The stopping rule of Law (Simulation Modeling and Analysis, ch. 9) for a relative error g: stop at the first look at which
the half-width of the 95 % interval is at most g / (1 + g) of the estimate, with a minimum of sessions before the first
look, because the interval of a few is itself a matter of luck.  Every look plays as many more as the present spread asks
for, at least a tenth, at most as many again.  So the looks, and the answer, are the same for any number of processes.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from sim.errors import InputError
from sim.experiments.everyday import every_key, measure_named
from sim.experiments.key_measures import MOST
from sim.experiments.replicate import Played
from sim.experiments.shares import share_of
from sim.game.model import Game
from sim.measures.summary import Measure, summarise

MINIMUM = 20  # sessions before the first look
HEADLINES = {
    "transfer": "transfers_per_min",
    "break-away": "break_aways_per_bout",
    "overload with goals": "goals_per_bout",
    "even with goals": "goals_per_bout",
}
USUAL = "turnovers_per_min"
NO_RATIOS = (
    MOST, "defending_share_least", "chance_someone_defends_over_60", "threshold_chance", "rule_fired_per_bout", "pass_run_p80",
    "mean_heart_rate_estimate", "perceived_effort_estimate", "session_load_estimate",
)  # fmt: skip
"""What may be asked for besides the ratios of the catalogue."""


@dataclass(frozen=True)
class Precision:
    """Within `share` of the measure, in at most `budget` bouts; `said`: what people call it (else as machines do)."""

    share: float
    measure: str
    scope: str
    budget: int
    said: str = ""


def key_measure_of(game: Game) -> str:
    """The measure this kind of game is about."""
    return HEADLINES.get(game.family, USUAL)


def precision_of(
    text: str, name: str | None, budget: int, game: Game, say: Callable[[str, str, bool], str] = lambda *key: ""
) -> Precision:
    """``5%``, and MEASURE or MEASURE.ROLE (None: the one the game is about), as typed; `say`: what people call a measure, of a
    scope, with shots counted or without."""
    measure, scope = asked_measure(name or key_measure_of(game), game)
    return Precision(share_of(text, "--precision"), measure, scope, budget, say(measure, scope, bool(game.goals)))


def asked_measure(name: str, game: Game) -> tuple[str, str]:
    """(measure, scope) of MEASURE or MEASURE.ROLE as typed, of all that an estimate has; refused where the game has none such."""
    more = [(one, scope) for one in NO_RATIOS for scope in ("game", *(f"role:{role.name}" for role in game.roles))]
    return measure_named(name, game, [*every_key(game), *more], "--measure")


def needed(share: float) -> float:
    """The half-width, as a share of the estimate, at which the true value is within `share` of itself."""
    return share / (1 + share)


def row_of(game: Game, played: Played, wanted: Precision, values: Mapping[str, float] | None = None) -> Measure:
    """The row that has to be narrow."""
    rows = summarise(game, played.sessions, values=values)
    found = [row for row in rows if (row.measure, row.scope) == (wanted.measure, wanted.scope)]
    if len(found) == 1:
        return found[0]
    known = dict.fromkeys(row.measure for row in rows if row.scope == wanted.scope)
    role = f" for {wanted.scope}" if wanted.scope != "game" else ""
    raise InputError(f"must name one of: {', '.join(known)} (got {wanted.measure}{role})", "--measure")


def width_of(row: Measure) -> float:
    """Half-width over the estimate; infinite where that cannot be told."""
    if not row.mean or row.low is None or row.high is None:
        return math.inf
    return (row.high - row.low) / 2 / abs(row.mean)


def next_look(sessions: int, width: float, share: float, most: int) -> int:
    """Sessions at the next look."""
    ratio = width / needed(share)
    asked = sessions * ratio * ratio if math.isfinite(ratio) else math.inf
    return min(most, math.ceil(max(sessions + max(1, sessions // 10), min(asked, 2 * sessions))))


def until_narrow(
    game: Game,
    wanted: Precision,
    first: int,
    play: Callable[[int], Played],
    values: Mapping[str, float] | None = None,
) -> tuple[Played, str]:
    """(what was played, a line saying how it ended).  `play(n)` sees to it that sessions 0 ... n-1 are there.

    `values`: constants by name, as for `summarise`.
    """
    most = max(1, wanted.budget // game.bouts.count)
    sessions = min(max(MINIMUM, first), most)
    while True:
        played = play(sessions)
        width = width_of(row_of(game, played, wanted, values))
        stopped = len(played.sessions) < sessions
        if stopped or width <= needed(wanted.share) or sessions >= most:
            return played, line_of(wanted, width, played, stopped)
        sessions = next_look(sessions, width, wanted.share, most)


def line_of(wanted: Precision, width: float, played: Played, stopped: bool) -> str:
    """How it ended."""
    name = wanted.said or wanted.measure + (f" {wanted.scope.removeprefix('role:')}" if wanted.scope != "game" else "")
    asked = f"{100 * wanted.share:.2g} %"
    if width <= needed(wanted.share):
        return f"As precise as asked: {name} to within {asked}, after {len(played.sessions)} sessions."
    got = "not known how far off" if not width < 1 else f"only within {100 * width / (1 - width):.2g} %"
    why = "stopped early" if stopped else f"the budget of {wanted.budget} bouts is spent"
    return f"Not as precise as asked: {name} {got} instead of {asked}, and {why}."
