"""The small screen of an estimate: what this kind of game is played for, what stands beside it, and what to try next."""

from __future__ import annotations

from collections.abc import Sequence

from sim.game.model import Game
from sim.results import Result
from sim.words import passing
from sim.words.commands import Given
from sim.words.estimate_beside import (
    between_transfers,
    bouts,
    go_without,
    how_lost,
    lost_beside,
    most_of,
    on_the_night,
    running,
    scored,
)
from sim.words.estimate_leads import DEFENDING, LOSSES, Key, answer_of
from sim.words.losses import SHORT, SHORT_NO_SHOT, USUALLY
from sim.words.next_steps import after_estimate
from sim.words.rule_counts import never_fired
from sim.words.screen import LINES, MOST_BESIDE, Screen
from sim.words.setting_up import question_line, time_of
from sim.words.what_would_change import what_would_change

FEWEST_BESIDE = 2
"""So many are told however many cautions there are: the screen grows."""


def short_answer(
    result: Result,
    game: Game,
    given: Given | None = None,
    unit: str = "m",
    more: Sequence[str] = (),
    asked: Key | None = None,
) -> str:
    """The screen; `unit` is what the file counts lengths in, `more` stands before the cautions (assumptions of the user's own).

    `asked`: (measure, scope) that the coach cares about, which leads; None: what this kind of game is played for.
    """
    of_these = f"{bouts(result)} of {time_of(game.bouts.seconds)}"
    head, answer = question_line(game, of_these, unit), answer_of(result, game, asked)
    doing = after_estimate(result, game, given, asked)
    change = what_would_change(result, game, asked)

    def screen(beside: Sequence[str]) -> str:
        ranges = any("(usually " in line for line in (*answer, *beside))
        means = " ".join([*([USUALLY] if ranges else []), SHORT_NO_SHOT if game.goals else SHORT])
        last = [line for line in (means, never_fired(result, game), *more, change) if line]
        return Screen(head, answer, beside, doing, [*last, *result.cautions]).text()

    beside: list[str] = []
    for line in candidates(result, game, asked):
        fits = len(screen([*beside, line]).splitlines()) <= LINES
        if len(beside) < FEWEST_BESIDE or (len(beside) < MOST_BESIDE and fits):
            beside.append(line)
    return screen(beside)


def candidates(result: Result, game: Game, asked: Key | None = None) -> list[str]:
    """What may stand beside the answer, the most telling of this kind of game first; nothing that the answer says."""
    if not result.row("in_play_share").mean:
        return []
    run, most, night, fatigue = (
        passing.short(result, game),
        most_of(result, game),
        "" if asked is not None and asked[0] in DEFENDING else on_the_night(result, game),
        running(result, game),
    )
    score, how = scored(result, game), how_lost(result)
    without = " ".join(go_without(result, game))
    second = lost_beside(result, game)
    order = {
        "transfer": (second, between_transfers(result), run, fatigue, night, most, how),
        "break-away": (second, run, fatigue, night, most, how),
        "even with goals": (run, fatigue, how, score),
        "overload with goals": (run, fatigue, how, score),
        "even keep-ball": (score, without, run, fatigue, how, night) if without else (run, score, fatigue, how, night),
        "role swap": (run, score, without, night, fatigue, most, how),
    }.get(game.family, (run, without, most, night, fatigue, score, how))
    if asked is not None and asked[0] not in LOSSES:
        order = (*(() if second in order else (second,)), *order)
    said = answer_of(result, game, asked)
    return [line for line in order if line and not any(one in line or line.rstrip(".") in one for one in said)]
