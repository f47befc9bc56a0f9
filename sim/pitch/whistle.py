"""The end of a bout."""

from __future__ import annotations

from sim.pitch import entries
from sim.pitch.ball_state import OVER
from sim.pitch.log import EventKind
from sim.pitch.state import Bout


def time_is_over(bout: Bout, t: float, extra: str = "") -> None:
    """The time of the bout, or of the `extra` time in it, is up: it ends, unless it goes on for the next point, or until the
    attack is over.  Nothing happens where other extra time is played meanwhile."""
    if bout.extra != extra:
        return
    bout.now = t
    bouts = bout.game.bouts
    if bouts.level_seconds and bout.extra == "" and len(standings(bout)) == 1:
        play_on(bout, "level", bouts.level_seconds)
    elif bouts.finish_seconds and bout.extra != "attack" and bout.in_play() and not bout.flight.shot:
        play_on(bout, "attack", bouts.finish_seconds)
    else:
        whistle(bout, t)


def start_clock(bout: Bout) -> None:
    """The ball is in play: where the clock stands while it is dead, it runs from here."""
    clock, bouts = bout.play_clock, bout.game.bouts
    if bouts.clock == "stopped":
        clock.since = bout.now
        bout.expect(bout.now + max(0.0, bouts.seconds - clock.played), "whistle", bout.spells.clock)


def stop_clock(bout: Bout) -> None:
    """The ball is dead: where the clock stands meanwhile, it is stopped."""
    clock = bout.play_clock
    if clock.since is not None:
        clock.played, clock.since = clock.played + bout.now - clock.since, None
        bout.spells.clock.renew()


def standings(bout: Bout) -> set[float]:
    """The points of both sides: one number where they are level."""
    return {bout.standing.score.get(side, 0.0) for side in bout.standing.sides()}


def play_on(bout: Bout, why: str, seconds: float) -> None:
    """Play goes on for so many seconds by the watch at most."""
    bout.extra = why
    bout.note(EventKind.EXTRA, cause=why, value=seconds)
    bout.expect(bout.now + seconds, "whistle", None, why)


def end_attack(bout: Bout) -> bool:
    """The ball is dead or lost: where only this attack was waited for, the bout is over as soon as the rules have answered."""
    if bout.extra == "attack" and not bout.is_over():
        bout.clock.at(bout.now, "whistle", lambda t: finish(bout, t))
    return bout.extra == "attack"


def decided(bout: Bout) -> bool:
    """Points have been given: whether a side, or a colour, has as many as it takes, or time was up and this was the next point."""
    standing, first_to = bout.standing, bout.game.bouts.first_to
    points = standing.colours if bout.game.bouts.points_by == "colour" else standing.score
    most = max(points.values(), default=0.0)
    return (first_to is not None and most >= first_to) or (bout.extra == "level" and len(standings(bout)) > 1)


def whistle(bout: Bout, t: float) -> None:
    """Time is up, or a rule ends the bout: it is over, with a shot already on its way when that has ended."""
    if bout.flight.shot:
        bout.flight.whistle_due = True
        bout.spells.timers.renew()
    else:
        finish(bout, t)


def finish(bout: Bout, t: float) -> None:
    """The bout is over at time t."""
    bout.now = t
    if bout.in_play():
        bout.note(EventKind.DEAD, cause="end")
    bout.become(OVER)
    bout.note(EventKind.END)
    for i in range(len(bout.game.players)):
        entries.record(*bout.arrays, i, t)
        if bout.play.recorded > bout.rows_filled:
            bout.make_room()
    bout.clock.stop()
    bout.over.succeed()
