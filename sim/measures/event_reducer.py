"""One pass over the events of a bout: everything the tables and the counts of a session need, read once.

Counts of the game (`totals`), of sides (`by_side`: points, thresholds, break-aways, unlocks), of thresholds one by
one (`reached`) and of rules (`fired`) are plain dictionaries; a key that is missing has not happened.  What each kind of
event does stands in `HANDLERS`; kinds that are not there change nothing that is counted.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable, Mapping
from dataclasses import dataclass
from typing import NamedTuple, TypeVar

from sim.game.borders import around
from sim.game.model import Game
from sim.measures.ball_events import LOSSES, OUTS, SHOT_ENDS, TRANSFERS, WINS, BallEvents
from sim.measures.exposure import FLOATING, Exposure
from sim.measures.possession import Possessions
from sim.pitch.log import BoutLog, EventKind

SHOT = "shot"  # the end of a possession that is no loss to a coach
CAUSES = ("interception", "tackle", "miscontrol", "misplaced", "out", "time limit", "rule fault", SHOT)

GOES_ON = ("out", "end")
"""Causes of a dead ball after which the same side's passes are counted on: out, and the whistle, seen to at the end."""

Key = TypeVar("Key", bound=Hashable)


class LoggedEvent(NamedTuple):
    """A row of `BoutLog.events`, by the names of `sim.pitch.log.FIELDS`."""

    t: float
    seq: int
    kind: str
    player: str
    other: str
    side: str
    cause: str
    detail: str
    value: float
    x: float
    y: float
    phase: str
    area: str
    passes: int


@dataclass(frozen=True)
class ReducedEvents:
    """What one bout held."""

    exposure: Exposure
    possessions: Possessions
    ball_events: BallEvents
    totals: Counter[str]  # "turnovers", "turnovers: CAUSE", "wins", "outs", "thresholds", "unlocks", "transfers", ...
    by_side: Counter[tuple[str, str]]  # (what, side) -> count or points
    reached: Counter[tuple[str, float, str]]  # (counter, count, side) -> times
    fired: Counter[tuple[str, str]]  # (phase, rule) -> times


def jobs_of(game: Game) -> dict[tuple[str, str, str], tuple[str, str]]:
    """(phase, team, role) -> (style, area or "active"); a phase's jobs go before the role's own style and place.

    Whose place is a zone is in the area that it is a part of.
    """
    areas = {zone.name: around(game, zone).name for zone in game.zones}
    found: dict[tuple[str, str, str], tuple[str, str]] = {}
    for phase in game.phases:
        jobs = {job.role: (job.style, job.place) for job in phase.jobs}
        for role in game.roles:
            style, place = jobs.get(role.name, (role.style, role.place))
            for team in game.teams:
                home = (team.home or "") if place == "home" else areas.get(place, place)
                found[phase.name, team.name, role.name] = style, home
    return found


COLOUR_POINTS = "points of a colour"
"""What is counted of a team, whatever side it plays for."""


class EventReducer:
    """What has been counted of a bout up to one of its events."""

    def __init__(self, game: Game, log: BoutLog) -> None:
        self.log = log
        self.number = {player: i for i, player in enumerate(log.players)}
        self.role_number = {role: i for i, role in enumerate(log.roles)}
        self.jobs = jobs_of(game)
        self.where = ("", "")  # phase and area in which the last event happened
        self.exposure = Exposure(len(log.players), len(log.roles))
        self.possessions = Possessions()
        self.ball_events = BallEvents(len(log.players), len(log.roles))
        self.totals: Counter[str] = Counter()
        self.by_side: Counter[tuple[str, str]] = Counter()
        self.reached: Counter[tuple[str, float, str]] = Counter()
        self.fired: Counter[tuple[str, str]] = Counter()

    def cell(self, player: str) -> list[float]:
        """The ball events of a player in the role he has now."""
        i = self.number[player]
        return self.ball_events.counts[i][self.exposure.role[i]]

    def move(self, event: LoggedEvent) -> None:
        """Where phase or area have changed with the event, everybody has another job or another place."""
        if (event.phase, event.area) == self.where:
            return
        self.where = (event.phase, event.area)
        now = [
            self.jobs[event.phase, team, self.log.roles[role]] if role >= 0 else ("wait", "active")
            for team, role in zip(self.log.teams, self.exposure.role, strict=True)
        ]
        self.exposure.move(event.area, now, event.t)

    def close_possession(self, t: float) -> None:
        """The possession that goes on, if any, is cut."""
        self.possessions.close(t, self.exposure.in_play(t), "")

    def finish(self) -> ReducedEvents:
        """The bout is over: what still goes on is cut, and nothing more is counted."""
        end = self.log.duration_s
        self.exposure.finish(end)
        self.possessions.close(end, self.exposure.clock, "")
        self.ball_events.finish()
        return ReducedEvents(
            self.exposure, self.possessions, self.ball_events, self.totals, self.by_side, self.reached, self.fired
        )


def add(counter: Counter[Key], key: Key, amount: float) -> None:
    """Add to a counter."""
    counter[key] += amount  # type: ignore[assignment]  # points may be fractions; `Counter` is typed for whole numbers


def on_touch(so_far: EventReducer, event: LoggedEvent) -> None:
    """A contact with the ball."""
    so_far.ball_events.touch(event.player, so_far.cell(event.player), event.t)


def on_release(so_far: EventReducer, event: LoggedEvent) -> None:
    """A pass is played."""
    so_far.ball_events.release(event.player, so_far.cell(event.player), event.t, event.detail)


def on_receive(so_far: EventReducer, event: LoggedEvent) -> None:
    """A pass is completed; it is one of its side's run unless a win still waits to be confirmed."""
    so_far.ball_events.receive(event.player, so_far.cell(event.other), event.t)
    if so_far.exposure.side[so_far.number[event.player]] in (event.side, FLOATING):
        so_far.possessions.complete(event.side, event.t, so_far.exposure.in_play(event.t))


def on_job(so_far: EventReducer, event: LoggedEvent) -> None:
    """A player takes a role."""
    i, role = so_far.number[event.player], event.cause
    _, place = so_far.jobs[event.phase, so_far.log.teams[i], role]
    so_far.exposure.job(i, so_far.role_number[role], event.side, event.detail, place, event.t)


def on_possession(so_far: EventReducer, event: LoggedEvent) -> None:
    """A side has the ball under control."""
    so_far.exposure.control(event.side, event.t)
    so_far.possessions.control(event.side, event.t, so_far.exposure.in_play(event.t))
    so_far.ball_events.control(event.player, event.t)


def on_loss(so_far: EventReducer, event: LoggedEvent) -> None:
    """A side's possession ends."""
    so_far.exposure.lose(event.side, event.t)
    so_far.possessions.lose(event.side, event.t, so_far.exposure.in_play(event.t), event.cause)
    so_far.totals["turnovers"] += 1
    so_far.totals["turnovers: " + event.cause] += 1
    so_far.by_side["turnovers", event.side] += 1
    if event.player:
        so_far.cell(event.player)[LOSSES] += 1
        so_far.cell(event.player)[SHOT_ENDS] += event.cause == SHOT
    so_far.ball_events.stop()


def on_win(so_far: EventReducer, event: LoggedEvent) -> None:
    """A win is confirmed."""
    so_far.totals["wins"] += 1
    so_far.cell(event.player)[WINS] += 1


def on_out(so_far: EventReducer, event: LoggedEvent) -> None:
    """The ball crosses the line."""
    so_far.totals["outs"] += 1
    if event.player:
        so_far.cell(event.player)[OUTS] += 1


def on_live(so_far: EventReducer, event: LoggedEvent) -> None:
    """The ball comes into play."""
    if event.side != so_far.possessions.side:
        so_far.close_possession(event.t)
    so_far.exposure.serve(event.side, event.t)


def on_dead(so_far: EventReducer, event: LoggedEvent) -> None:
    """The ball goes out of play."""
    so_far.exposure.stop(event.t)
    if event.cause not in GOES_ON:
        so_far.close_possession(event.t)
    if event.cause != "end":
        so_far.ball_events.stop()


def on_shot(so_far: EventReducer, event: LoggedEvent) -> None:
    """A shot is struck."""
    so_far.totals["shots"] += 1
    so_far.ball_events.shot(so_far.cell(event.player))


def on_goal(so_far: EventReducer, event: LoggedEvent) -> None:
    """The last shot is a goal."""
    so_far.totals["goals"] += 1
    so_far.ball_events.goal()


def on_transfer(so_far: EventReducer, event: LoggedEvent) -> None:
    """A pass to another area is controlled there."""
    so_far.totals["transfers"] += 1
    so_far.cell(event.player)[TRANSFERS] += 1


def on_rule(so_far: EventReducer, event: LoggedEvent) -> None:
    """A rule answers."""
    so_far.fired[event.detail, event.cause] += 1


def on_threshold(so_far: EventReducer, event: LoggedEvent) -> None:
    """A counter has reached its number."""
    so_far.totals["thresholds"] += 1
    so_far.by_side["thresholds", event.side] += 1
    so_far.reached[event.cause, event.value, event.side] += 1


def on_break(so_far: EventReducer, event: LoggedEvent) -> None:
    """Play turns from keeping the ball to attacking a goal."""
    so_far.totals["break_aways"] += 1
    so_far.by_side["break_aways", event.side] += 1


def on_score(so_far: EventReducer, event: LoggedEvent) -> None:
    """A side gets points, and so does every colour that plays for it just then."""
    add(so_far.totals, "points", event.value)
    add(so_far.by_side, ("points", event.side), event.value)
    exposure = so_far.exposure
    playing = zip(so_far.log.teams, exposure.side, exposure.able, strict=True)
    for team in sorted({team for team, side, able in playing if able and side == event.side}):
        add(so_far.by_side, (COLOUR_POINTS, team), event.value)


def on_unlock(so_far: EventReducer, event: LoggedEvent) -> None:
    """A transfer or a shot is allowed from now on."""
    so_far.totals["unlocks"] += 1


HANDLERS: Mapping[str, Callable[[EventReducer, LoggedEvent], None]] = {
    EventKind.TOUCH: on_touch,
    EventKind.RELEASE: on_release,
    EventKind.RECEIVE: on_receive,
    EventKind.JOB: on_job,
    EventKind.POSSESSION: on_possession,
    EventKind.LOSS: on_loss,
    EventKind.WIN: on_win,
    EventKind.OUT: on_out,
    EventKind.LIVE: on_live,
    EventKind.DEAD: on_dead,
    EventKind.SHOT: on_shot,
    EventKind.GOAL: on_goal,
    EventKind.TRANSFER: on_transfer,
    EventKind.RULE: on_rule,
    EventKind.THRESHOLD: on_threshold,
    EventKind.BREAK: on_break,
    EventKind.SCORE: on_score,
    EventKind.UNLOCK: on_unlock,
}
"""What an event of each kind does to what has been counted so far."""


def reduce_events(
    game: Game, log: BoutLog, watch: Callable[[EventReducer, LoggedEvent], None] | None = None
) -> ReducedEvents:
    """Read a bout's events in order; `watch` is shown each of them, and what has been counted before it."""
    so_far = EventReducer(game, log)
    for row in log.events:
        event = LoggedEvent._make(row)
        if watch is not None:
            watch(so_far, event)
        so_far.move(event)
        handle = HANDLERS.get(event.kind)
        if handle is not None:
            handle(so_far, event)
    return so_far.finish()
