"""What a player does with the ball, told apart, and the game's own counters."""

from __future__ import annotations

from sim.game.borders import distance
from sim.game.counters import Counted, Counter
from sim.game.model import Phase
from sim.geometry import ROUNDING_M
from sim.pitch import entries, stopwatch
from sim.pitch.answering import tell
from sim.pitch.assignment import nearest_in_play
from sim.pitch.ball_state import ROLLING
from sim.pitch.bout_parts import Struck
from sim.pitch.log import EventKind
from sim.pitch.seeking import seek
from sim.pitch.state import Bout
from sim.rules.guards import RuleEvent
from sim.rules.passes import Deed


def areas_at(bout: Bout, i: int, x: float, y: float) -> frozenset[str]:
    """The areas and zones that (x, y) lies in, and the area on whose lines player i stands.  A ball played from just over a line of
    the ground is in the zone beside it."""
    inside = {one.name for one in bout.game.areas if distance(one, x, y) <= ROUNDING_M}
    if bout.game.zones:
        nx, ny = nearest_in_play(bout, x, y)
        inside |= {one.name for one in bout.game.zones if distance(one, nx, ny) <= ROUNDING_M}
    return frozenset(inside | {job.place for job in (bout.jobs[i],) if job.style == "edge"})


def asks_where(bout: Bout) -> bool:
    """Whether any rule or counter tells passes and carries apart."""
    return bout.layout.tells_apart


def played(bout: Bout, i: int, x: float, y: float, first_time: bool) -> None:
    """Player i plays a pass from (x, y): what of it can only be seen now is kept."""
    if asks_where(bout):
        bout.flight.struck = Struck(areas_at(bout, i, x, y), bout.standing.role[i], first_time, bout.ball.giver, [])


def rolled_to(bout: Bout, x: float, y: float) -> None:
    """The ball has rolled to (x, y) from where it was last touched: through which gates?"""
    if bout.game.gates and bout.flight.struck is not None and bout.ball_state is ROLLING:
        for k, gate in enumerate(bout.game.gates):
            if entries.through_gate(bout.match, k, x, y):
                bout.flight.struck.gates.append(gate.name)


def rolled_here(bout: Bout) -> None:
    """The same, to where it is now."""
    if bout.game.gates:
        rolled_to(bout, *bout.ball_place())


def deed_of_pass(bout: Bout, i: int, x: float, y: float) -> Deed:
    """A pass that player i has just received at (x, y), told apart."""
    struck = bout.flight.struck
    if struck is None:
        return Deed()
    return Deed(
        struck.role,
        bout.standing.role[i],
        struck.areas,
        areas_at(bout, i, x, y),
        tuple(struck.gates),
        bout.standing.last_gate.get(bout.standing.side, ""),
        struck.first_time,
        struck.had_from == i,
    )


def tell_deed(bout: Bout, side: str, passer: int, i: int, deed: Deed, phase: Phase) -> None:  # noqa: PLR0913 - one a fact
    """The rules of that phase hear of a pass of a side by what is asked of it."""
    tell(bout, RuleEvent("pass", side, i, passer, deed=deed), phase)
    if deed.gates:
        bout.standing.last_gate[side] = deed.gates[-1]
        seek(bout)


def tell_carried(bout: Bout, i: int, x: float, y: float) -> None:
    """The rules hear of a ball that player i has carried into an area or a zone; not while his win waits to be confirmed."""
    if not asks_where(bout) or bout.possession.pending is not None:
        return
    before, now = bout.carrier.inside, areas_at(bout, i, x, y)
    bout.carrier.inside = now
    for area in (one.name for one in bout.game.places if one.name in now - before):
        phase = bout.standing.phase
        bout.note(EventKind.CARRY, i, detail=area, x=x, y=y)
        deed = Deed(by=bout.standing.role[i], end=frozenset({area}))
        tell(bout, RuleEvent("carry", bout.standing.side, i, deed=deed), phase)


def count(bout: Bout, counters: list[Counter], side: str, i: int, phase: Phase) -> None:
    """Player i has done, for a side, what these counters count; the rules of that phase answer."""
    for counter in counters:
        value = bout.standing.tally.of(counter, side) + 1.0
        bout.standing.tally.put(counter, side, value)
        tell_count(bout, counter, side, i, value, phase)


def tell_count(bout: Bout, counter: Counter, side: str, i: int, value: float, phase: Phase) -> None:
    """A counter stands at another value."""
    if not bout.is_over():
        bout.note(EventKind.COUNT, i, side=side, cause=counter.name, value=value)
    tell(bout, RuleEvent("counter", side, i, cause=counter.name, count=value), phase)


def done(bout: Bout, what: Counted, deed: Deed) -> list[Counter]:
    """The counters that count what has been done."""
    return bout.standing.tally.counting(what, deed)


def touch(bout: Bout, i: int, x: float, y: float) -> None:
    """Player i touches the ball at (x, y); what is counted of it is told when what he does with it has been seen."""
    bout.note(EventKind.TOUCH, i, x=x, y=y)
    if bout.standing.tally.counters:
        counted_as(bout, "touches", Deed(by=bout.standing.role[i]), bout.side_for(i), i)


def counted_as(bout: Bout, what: Counted, deed: Deed, side: str, i: int) -> None:
    """What player i does for a side is counted, if it is, when all that comes of it at this moment has been seen."""
    if counters := done(bout, what, deed):
        bout.expect(bout.now, "count", None, counters, side, i, bout.standing.phase)


def counted(  # noqa: PLR0913 - what is booked with the moment
    bout: Bout, t: float, counters: list[Counter], side: str, i: int, phase: Phase, seconds: float | None = None
) -> None:
    """What player i has just done for a side is counted; or so many `seconds` are full, whoever has the ball."""
    bout.now = t
    if seconds is None:
        count(bout, counters, side, i, phase)
        return
    stopwatch.read(bout)
    for counter in counters:
        bout.standing.tally.put(counter, side, seconds)
        tell_count(bout, counter, side, bout.holder(), seconds, phase)
