"""A new phase, new roles, and what waits for a time of the phase."""

from __future__ import annotations

from sim.errors import given
from sim.game.model import Rule
from sim.pitch import entries
from sim.pitch.assignment import assign
from sim.pitch.log import EventKind
from sim.pitch.state import Bout
from sim.pitch.tackle_attempts import await_tackle


def change_phase(bout: Bout, name: str) -> None:
    """The phase of that name begins."""
    before = bout.standing.phase
    bout.standing.enter_phase(name, bout.now)
    bout.note(EventKind.PHASE, cause=name)
    if before.aim != "goal" and bout.standing.phase.aim == "goal":
        bout.note(EventKind.BREAK)
    start_timers(bout)
    roles_changed(bout, [])


def start_timers(bout: Bout) -> None:
    """A phase has begun: wait for the times that its rules name, and for no others."""
    bout.spells.timers.renew()
    bout.possession.crossed = False
    bouts = bout.game.bouts
    left = bouts.most_seconds + bouts.level_seconds + bouts.finish_seconds - bout.now
    counts = [count for rule in bout.standing.phase.rules if rule.on == "time" for count in times_of(rule, left)]
    for count in dict.fromkeys(counts):
        bout.expect(bout.now + count, "timer", bout.spells.timers, count)


def times_of(rule: Rule, left: float) -> list[float]:
    """When a rule on time rings, in seconds since its phase began, with so many of the bout left: once, or at every multiple."""
    count = given(rule.count)
    return [n * count for n in range(1, int(left / count) + 1)] if rule.each else [count]


def roles_changed(bout: Bout, players: list[int]) -> None:
    """These players have new roles, or the rules have changed for everybody: jobs are written anew and all think again."""
    for i in players:
        entries.record(*bout.arrays, i, bout.now)
    assign(bout)
    for i in players:
        bout.note_job(i)
    entries.replan_all(*bout.arrays, bout.holder(), bout.now)
    await_tackle(bout, bout.now)
