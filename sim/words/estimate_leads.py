"""What an estimate leads with: what this kind of game is played for, or what the coach cares about."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from sim.game.model import Game
from sim.results import Measure, Result
from sim.words import passing
from sim.words.changes import spelt
from sim.words.clocks import WATCH
from sim.words.counting import (
    Counted,
    bout_of,
    bouts_taken_together,
    count_told,
    losses_a_bout,
    of_rate,
    per_bout,
    rate,
    rolls,
    times,
)
from sim.words.estimate_beside import between_transfers, bouts, go_without, most_of, on_the_night, running, scored
from sim.words.evening_out import evened_out
from sim.words.figures import count, metres, percent, present, seconds, usual
from sim.words.listing import capital
from sim.words.measure_names import is_counted
from sim.words.measure_phrases import happens, holds, noun, per, players_of_role, value, whom
from sim.words.playing import shots_allowed
from sim.words.plurals import after_figure
from sim.words.screen import WIDTH
from sim.words.setting_up import spelt_time

WITH_GOALS = ("even with goals", "overload with goals")
TOGETHER = ("even keep-ball", "role swap", *WITH_GOALS)
"""Kinds of games in which both sides have the ball in turn, so that both lose it."""


Key = tuple[str, str]
goals_of, shots_of = partial(after_figure, noun="goal"), partial(after_figure, noun="shot")
LOSSES = ("turnovers_per_min", "turnovers_per_clock_min", "balls_lost_per_min")
POINTS = ("points_per_min", "points_per_bout", "threshold_reached_per_min", "bouts_without_point")
METRES = ("distance_per_min", "total_distance_m", "session_distance_m")
DEFENDING = ("defending_share_most", "chance_someone_defends_over_60")
ROLLING_SHARE = "in_play_share"


def answer_of(result: Result, game: Game, asked: Key | None = None) -> list[str]:
    """What the coach cares about (`asked`), else what this kind of game is played for, as he counts it, with what is usual."""
    if not result.row(ROLLING_SHARE).mean:
        return ["The ball never came into play."]
    return main_answer(result, game) if asked is None else led_by(asked, result, game) or by_name(asked, result, game)


def led_by(asked: Key, result: Result, game: Game) -> list[str]:
    """The answer led by a measure that has sentences of its own; nothing for any other."""
    measure, scope = asked
    if measure in METRES:
        return metres_told(result, game, scope)
    if scope != "game":
        return []
    if measure in LOSSES:
        return losses_told(result, game)
    if measure in POINTS:
        points = scored(result, game)
        return [points, *go_without(result, game, True)] if points else []
    if measure == ROLLING_SHARE:
        return dead_told(result, game)
    if measure in DEFENDING:
        told = [line for line in (on_the_night(result, game, True), most_of(result, game)) if line]
        return [*told, *evened_out(game)] if told else []
    if measure == "transfers_per_min":
        row = result.row(measure)
        return [
            *event("They", "get it across", of_rate(row, result, game), row, result, game),
            between_transfers(result),
        ]
    if measure == "pass_run_median":
        return [line for line in [passing.short(result, game)] if line]
    if measure == "goals_per_bout":
        return goals_told(result, game)
    return []


def dead_told(result: Result, game: Game) -> list[str]:
    """How much of a bout the ball is dead, by the watch too."""
    row = result.row(ROLLING_SHARE)
    dead = 1 - present(row.mean)
    low, high = (None if one is None else 1 - one for one in (row.session_high, row.session_low))
    period = f"{seconds(dead * bout_of(result, game))} s of {spelt_time(round(bout_of(result, game)))} {WATCH}"
    return [f"The ball is dead for {percent(dead)} of a bout{usual(low, high, percent, dead)}: about {period}."]


def metres_told(result: Result, game: Game, scope: str) -> list[str]:
    """Whole bouts first: metres of each player in a bout and all evening, then by the role."""
    row, session = (
        next((one for one in result.rows(name) if one.scope == scope), None)
        for name in ("total_distance_m", "session_distance_m")
    )
    if row is None or row.mean is None:
        return []
    who = "They" if scope == "game" else capital(players_of_role(whom(scope)))
    period = f"a bout, {spelt_time(round(bout_of(result, game)))} {WATCH}"
    lines = [
        f"{who} run about {metres(row.mean)} m each in {period}{usual(row.session_low, row.session_high, metres)}."
    ]
    if session is not None and session.mean is not None:
        ends = usual(session.session_low, session.session_high, metres)
        lines.append(f"In all {spelt(game.bouts.count)} bouts about {metres(session.mean)} m each{ends}.")
    return [*lines, running(result, game)] if scope == "game" else lines


def by_name(asked: Key, result: Result, game: Game) -> list[str]:
    """Any other measure: its mean with what is usual."""
    measure, scope = asked
    row = next((one for one in result.rows(measure) if one.scope == scope), None)
    if row is None or row.mean is None:
        return [f"{capital(noun(measure, scope, shots_allowed(game)))}: can't be told."]
    amount = value(measure, row.unit, row.mean)
    ends = usual(row.session_low, row.session_high, lambda one: value(measure, row.unit, one), row.mean)
    if is_counted(measure) and per(row.unit, row.clock):
        text = f"{happens(measure, f'about {amount}', scope, shots_allowed(game))} {per(row.unit, row.clock)}"
    else:
        text = holds(measure, amount, scope, row.clock, row.unit)
    return [f"{capital(text)}{ends}."]


def main_answer(result: Result, game: Game) -> list[str]:
    """What this kind of game is played for."""
    if game.family == "transfer":
        row = result.row("transfers_per_min")
        return event("They", "get it across", of_rate(row, result, game), row, result, game)
    if game.family == "break-away":
        breaks = per_bout(result.row("break_aways_per_bout"))
        return [*event("They", "break away", breaks, None, result, game), *goals_told(result, game)]
    if game.family in WITH_GOALS:
        return [*goals_told(result, game), *losses_told(result, game)]
    return losses_told(result, game)


def event(who: str, do: str, found: Counted | None, row: Measure | None, result: Result, game: Game) -> list[str]:
    """``They get it across about 9 times a bout, three minutes on the watch.``, and the rate of `row` on the other clock."""
    if found is None:
        return []
    if not found.mean:
        return [f"{who} do not {do} once in {bouts(result)}."]
    lines = [fitting(lambda brief: f"{who} {do} {count_told(found, result, game, times, brief)}.")]
    if row is None:
        return lines
    ends = usual(row.session_low, row.session_high) if found.low is None else ""
    tail = "" if ends or "with goals" in game.family else f"; {rolls(result)}"
    return [*lines, f"That is {rate(row)}{ends}{tail}."]


def losses_told(result: Result, game: Game) -> list[str]:
    """How often they lose it, on both clocks."""
    who = "Between them they" if game.family in TOGETHER else "They"
    return event(who, "lose it", losses_a_bout(result, game), result.row("balls_lost_per_min"), result, game)


def goals_told(result: Result, game: Game) -> list[str]:
    """Goals, and the shots they take."""
    found, shots = per_bout(result.row("goals_per_bout")), per_bout(result.row("shots_per_bout"))
    if found is None or shots is None:
        return []
    if not shots.mean:
        return [f"Not one shot in {bouts(result)}."]
    if not found.mean:
        return [f"Not one goal in {bouts(result)}: {count_told(shots, result, game, shots_of)}."]
    tried = count(bouts_taken_together(found, game) * shots.mean)

    def say(brief: bool) -> str:
        return f"A{count_told(found, result, game, goals_of, brief)[1:]}, from {shots_of(tried)}."

    return [fitting(say)]


def fitting(say: Callable[[bool], str]) -> str:
    """A sentence as it fits a line: with how long a bout is, which the first line of the screen says too, or without."""
    return say(len(say(False)) > WIDTH)
