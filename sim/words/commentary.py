"""What happened in a bout, event by event, as a commentator of few words has it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from sim.words.listing import listed
from sim.words.screen import WIDTH
from sim.words.turns import roles_at_the_start, roles_taken
from sim.words.who import counted_in, in_a_row

AFTER_THE_TIME = " " * 10  # where what happened begins, and goes on in a second line
HOW_LOST = {
    "interception": "cut out",
    "tackle": "tackled",
    "miscontrol": "heavy touch",
    "misplaced": "stray pass",
    "out": "out of play",
    "time limit": "held too long",
    "rule fault": "against the rules",
}
BY = ("interception", "tackle")  # what an opponent does; after the others somebody merely gets the ball
OPENED = {"transfer": "they can play across now", "shoot": "they can shoot now"}
KINDS = {"pass": "to", "first-time": "first time to", "transfer": "across to"}
TACKLES = {"won": "wins the ball", "loose": "knocks it loose", "beaten": "is beaten"}
STOPS = {
    "loss": "after the loss",
    "end": "time",
    "out": "out of play",
    "goal": "after the goal",
    "save": "after the save",
}


class Event(NamedTuple):
    """One row of the log, by name (the order of `sim.pitch.log.FIELDS`)."""

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


def by_shot(event: Event) -> bool:
    """Whether a possession has ended with a shot, which is no ball lost."""
    return event.kind == "loss" and event.cause == "shot"


def at_the_start(events: Sequence[Event], names: Mapping[str, str]) -> list[str]:
    """Who begins the bout in which role."""
    return [
        f"{counted_in(role, len(who))}: {names_grouped(who)}."
        for role, who in roles_at_the_start(events, names).items()
    ]


def commentary(events: Sequence[Event], names: Mapping[str, str]) -> Iterator[str]:
    """What happened, an event at a time, with its seconds, in lines that fit the screen."""
    for t, text in happened(events, names):
        yield "\n".join(
            textwrap.wrap(f"{t:6.1f} s  {text}", WIDTH, subsequent_indent=AFTER_THE_TIME, break_on_hyphens=False)
        )


def happened(events: Sequence[Event], names: Mapping[str, str]) -> Iterator[tuple[float, str]]:
    """(seconds, what happened), an event at a time; bare touches are left to the CSV file."""
    told = roles_taken(events, names)
    for at, event in enumerate(events):
        text = told.get(at) or event_told(
            event._replace(player=names.get(event.player, event.player), other=names.get(event.other, event.other))
        )
        if text:
            yield event.t, text


def event_told(event: Event) -> str:
    """One event in a few words, by the names that stand in it; nothing for what goes without saying."""
    player, other, side, cause, value = event.player, event.other, event.side, event.cause, event.value
    match event.kind:
        case "begin":
            return "the bout begins"
        case "live":
            return f"ball in to {other or player}" if other or player else f"ball in for {side}"
        case "dead":
            return f"play stops: {STOPS.get(cause, cause)}"
        case "possession":
            return f"{player} on the ball for {side}"
        case "release":
            return f"{player} {KINDS[event.detail]} {other}, {value:.0f} m" + (
                ", under pressure" if cause == "pressed" else ""
            )
        case "receive":
            return f"{player} has it" + (f", {event.passes} in a row" if event.passes > 1 else "")
        case "loss" if by_shot(event):
            return f"{player}'s shot ends it for {side}" + (f", {other} has it" if other else "")
        case "loss":
            return f"LOSS: {player} loses it for {side}, {loss_cause(cause, other)}"
        case "win":
            return f"{player} wins it for {side}"
        case "contested":
            return f"{player} can't keep it"
        case "tackle":
            return f"{player} goes in on {other} and {TACKLES[cause]}"
        case "deflect":
            return f"{player} gets a touch on it"
        case "out":
            return f"out, off {player}"
        case "rule":
            return f"rule: {cause}"
        case "threshold":
            return f"{value:g} {cause} for {side}"
        case "unlock":
            return OPENED.get(cause, f"{cause} is on now")
        case "transfer":
            return f"{player} takes it across, {event.detail.replace('>', ' to ')}"
        case "area":
            return f"{player} has it in {event.detail.partition('>')[2]}, play goes on there"
        case "break":
            return f"break-away for {side}"
        case "phase":
            return f"now: {cause}"
        case "shot":
            return f"{player} shoots from {value:.0f} m"
        case "goal":
            return f"GOAL by {player}"
        case "save":
            return f"saved by {player}"
        case "miss":
            return "the shot is off target"
        case "block":
            return f"blocked by {player}"
        case "score":
            return f"{amount_of(value, 'point', 'points')} for {side}" + (f" ({cause})" if cause else "")
        case "swap":
            return f"{player} and {other} swap"
        case "end":
            return "the bout is over"
    return ""


def loss_cause(cause: str, other: str) -> str:
    """``cut out by player 2``, ``heavy touch, player 2 has it``, ``out of play``."""
    how = HOW_LOST.get(cause, cause)
    if not other:
        return how
    return f"{how} by {other}" if cause in BY else f"{how}, {other} has it"


def amount_of(count: float, one: str, many: str) -> str:
    return f"{count:g} {one if count == 1 else many}"


def names_grouped(who: Sequence[str]) -> str:
    """``players 1 to 4``, ``amber 1 to 6 and slate 1, 2 and 4``: by team and shirt number; other names one by one."""
    numbers: dict[str, list[int]] = {}
    for one in who:
        team, _, number = one.rpartition(" ")
        if team and number.isdigit():
            numbers.setdefault(team, []).append(int(number))
    groups = [
        f"{'players' if team == 'player' and len(shirts) > 1 else team} {listed(in_a_row(sorted(shirts)))}"
        for team, shirts in numbers.items()
    ]
    return listed([*groups, *(one for one in who if not (one.rpartition(" ")[0] and one.rpartition(" ")[2].isdigit()))])
