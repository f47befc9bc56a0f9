"""The test mode: whether a pass comes off is a matter of chance alone, with a constant probability.

Games whose passes succeed independently of everything else have answers in closed form (runs of passes, turnovers a
minute, who is inside for how long).  `constant_success` makes the whole simulator play such a game:

    play_bout(game, roster, seed, outcome=constant_success(0.85, seconds=1.2), assumptions=CERTAIN)

It takes the place of exactly one function, `sim.pitch.engine.race`, through the argument through which every run is given
its own.  Clocks, restarts, counters, guards, consequences, rotation, the log and the measures are the shipped ones.

`CERTAIN` is no second replacement: these are ordinary assumptions, which anybody can set, taken to the end of their scale.
What `race` decides is who gets to the ball first; after that the engine still asks whether the first touch succeeds and
whether an opponent's foot controls or only deflects the ball, and during a hold whether a presser tries a tackle.  All
three must be certain for the chance given here to be the whole chance (the players' `first_touch` must be 0 as well).
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from sim.errors import InputError
from sim.pitch import arrays as col
from sim.pitch.engine import race
from sim.pitch.moves import draw
from sim.pitch.state import NEVER, Bout, Outcome
from sim.streams import stream_index

OUTCOME = stream_index("outcome")

CERTAIN: Mapping[str, float] = MappingProxyType(
    {
        "miscontrol_pressed": 0.0,
        "miscontrol_stretch": 0.0,
        "touch_chance": 1.0,
        "steal_control": 1.0,
        "tackle_rate": 1e-12,
    }
)
"""Assumptions under which whoever is named by `constant_success` has the ball, and keeps it until he passes."""


def constant_success(p: float | Mapping[str, float], seconds: float, over_the_line: bool = False) -> Outcome:
    """An `outcome` for `play_bout`: each pass reaches the player it is meant for with chance `p`, after `seconds`.

    p              one chance for everybody, or by the id of the passer
    over_the_line  what a pass that fails does: False, an opponent (by lot among those who may win a ball) has it after
                   `seconds`; True, it crosses the line then.  Where no opponent may win a ball it crosses the line.

    A ball that nobody passed (a blocked shot, a loose ball) is raced for as ever.
    """
    chances = p.items() if isinstance(p, Mapping) else [("", p)]
    problems = [
        f"p{'.' + name if name else ''} must be from 0 to 1 (got {chance})"
        for name, chance in chances
        if not 0.0 <= chance <= 1.0
    ]
    if not seconds > 0.0:
        problems.append(f"seconds must be greater than 0 (got {seconds})")
    if problems:
        raise InputError(problems)

    def outcome(bout: Bout, t: float) -> tuple[int, float, float]:
        passer, meant = bout.ball.passer, bout.ball.meant_for
        if meant < 0 or not bout.flight.fresh:
            return race(bout, t)
        chance = p[bout.game.players[passer].id] if isinstance(p, Mapping) else p
        if draw(bout.records, passer, OUTCOME) < chance:
            return meant, t + seconds, NEVER
        takers = [] if over_the_line else opponents(bout)
        if not takers:
            return -1, NEVER, t + seconds
        return takers[int(draw(bout.records, passer, OUTCOME) * len(takers))], t + seconds, NEVER

    return outcome


def opponents(bout: Bout) -> list[int]:
    """Players of the other side who may win a ball: neither on the lines, nor waiting, nor keeping a goal."""
    return [i for i in range(len(bout.ids)) if bout.players[i].style == col.FREE and not bout.is_ours(i)]
