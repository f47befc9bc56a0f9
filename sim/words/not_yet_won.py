"""Who has a ball that counts as won only later: read from the log, in which it is the other side's until then."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sim.measures.event_reducer import LoggedEvent

_WITH_THE_BALL = ("touch", "release", "receive")
_SETTLED = ("loss", "win", "contested", "possession", "dead", "end")


@dataclass(frozen=True)
class NotYetWon:
    """By the number of an event in the log.

    side    who has the ball at it without having won it yet, of touches under control, passes played and passes completed
    taken   the touches with which a side has got such a ball
    since   of a loss: when its winner got the ball, where the win has waited
    late    what is told as such a win counts, of a ball that somebody has had since: the loss, and who won it as on the ball
    """

    side: Mapping[int, str]
    taken: frozenset[int]
    since: Mapping[int, float]
    late: frozenset[int]


def not_yet_won(events: Sequence[LoggedEvent]) -> NotYetWon:
    """The stretches of a bout in which a win waits to be confirmed."""
    side_of: dict[str, str] = {}
    side: dict[int, str] = {}
    taken: set[int] = set()
    since: dict[int, float] = {}
    late: list[int] = []
    waiting: dict[int, str] = {}
    for at, event in enumerate(events):
        if event.kind == "job":
            side_of[event.player] = event.side
        elif event.kind in _SETTLED and waiting:
            first = min(waiting)
            if event.t > events[first].t:  # else the win has counted at once
                side |= waiting
                taken.add(first)
                if event.kind == "loss":
                    since[at] = events[first].t
                    late.append(at)
            waiting = {}
        elif event.kind == "possession" and late and event.t == events[late[-1]].t:
            late.append(at)
        elif event.kind in _WITH_THE_BALL and not _runs_loose(events, at):
            own, theirs = side_of.get(event.player, ""), next(iter(waiting.values()), "")
            if own == event.side:
                side |= waiting
                taken |= set(list(waiting)[:1])
                waiting = {}
            elif own in ("", "holder"):
                waiting |= {at: theirs} if theirs else {}
            else:
                waiting |= {at: own}
    return NotYetWon(side, frozenset(taken), since, frozenset(late))


def _runs_loose(events: Sequence[LoggedEvent], at: int) -> bool:
    """Whether a touch leaves the ball loose: it is told as one, then as a deflection."""
    after = events[at + 1] if at + 1 < len(events) else None
    one = events[at]
    return (
        one.kind == "touch"
        and after is not None
        and (after.kind, after.player, after.t) == ("deflect", one.player, one.t)
    )
