"""What happened in a bout, event by event, as a commentator of few words has it."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator, Mapping, Sequence

from sim.measures.event_reducer import LoggedEvent
from sim.words.listing import listed
from sim.words.not_yet_won import NotYetWon, not_yet_won
from sim.words.places import within_area
from sim.words.roles_taken import roles_at_the_start, roles_taken
from sim.words.screen import WIDTH
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
TAKEN_ON = "taken on"
TAKEN = {"won": "loses the ball", "loose": "has it knocked away", "beaten": "goes past"}
TACKLES = {"won": "wins the ball", "loose": "knocks it loose", "beaten": "is beaten"}
STOPS = {
    "loss": "after the loss",
    "end": "time",
    "out": "out of play",
    "goal": "after the goal",
    "save": "after the save",
    "foul": "free restart",
}


def by_shot(event: LoggedEvent) -> bool:
    """Whether a possession has ended with a shot, which is no ball lost."""
    return event.kind == "loss" and event.cause == "shot"


def at_the_start(events: Sequence[LoggedEvent], names: Mapping[str, str]) -> list[str]:
    """Who begins the bout in which role."""
    return [
        f"{counted_in(role, len(who))}: {names_grouped(who)}."
        for role, who in roles_at_the_start(events, names).items()
    ]


def commentary(events: Sequence[LoggedEvent], names: Mapping[str, str], tell: Callable[[str], str]) -> Iterator[str]:
    """What happened, an event at a time, with its seconds, in lines that fit the screen; `tell`: in which words."""
    for t, text in happened(events, names):
        yield "\n".join(
            textwrap.wrap(f"{t:6.1f} s  {tell(text)}", WIDTH, subsequent_indent=AFTER_THE_TIME, break_on_hyphens=False)
        )


def happened(events: Sequence[LoggedEvent], names: Mapping[str, str]) -> Iterator[tuple[float, str]]:
    """(seconds, what happened), an event at a time; bare touches are left to the CSV file."""
    told, waiting = roles_taken(events, names), not_yet_won(events)
    for at, event in enumerate(events):
        named = event._replace(player=names.get(event.player, event.player), other=names.get(event.other, event.other))
        text = told.get(at) or _before_it_is_won(at, named, waiting) or event_told(named)
        if text and (at not in waiting.late or event.kind == "loss"):
            yield event.t, text


def _before_it_is_won(at: int, event: LoggedEvent, waiting: NotYetWon) -> str:
    """An event of a ball that has been taken and not yet won, or that counts as won at last; nothing of any other."""
    if at in waiting.since:
        return f"{event_told(event)}, {event.t - waiting.since[at]:.1f} s ago: it is won now"
    if at in waiting.taken:
        return f"{event.player} has it for {waiting.side[at]}, not won yet"
    return f"{event.player} has it, not won yet" if at in waiting.side and event.kind == "receive" else ""


PLAIN = {
    "begin": "the bout begins",
    "possession": "{player} on the ball for {side}",
    "win": "{player} wins it for {side}",
    "contested": "{player} can't keep it",
    "foul": "FOUL by {player} on {other}",
    "deflect": "{player} gets a touch on it",
    "out": "out, off {player}",
    "rule": "rule: {cause}",
    "threshold": "{value:g} {cause} for {side}",
    "break": "break-away for {side}",
    "phase": "now: {cause}",
    "shot": "{player} shoots from {value:.0f} m",
    "goal": "GOAL by {player}",
    "save": "saved by {player}",
    "miss": "the shot is off target",
    "block": "blocked by {player}",
    "swap": "{player} and {other} swap",
    "end": "the bout is over",
    "ground": "{detail} is {x:g} x {y:g} m now",
    "carry": "{player} carries it into {detail}",
    "count": "{cause}: {value:g} for {side}",
}
"""Kinds of events of which one sentence does for all."""


def event_told(event: LoggedEvent) -> str:
    """One event in a few words, by the names that stand in it; nothing for what goes without saying."""
    if event.kind in PLAIN:
        return PLAIN[event.kind].format(**event._asdict())
    return OTHERS[event.kind](event) if event.kind in OTHERS else ""


def _live(event: LoggedEvent) -> str:
    who = event.other or event.player
    return f"ball in to {who}" if who else f"ball in for {event.side}"


def _dead(event: LoggedEvent) -> str:
    return f"play stops: {STOPS.get(event.cause, event.cause)}"


def _release(event: LoggedEvent) -> str:
    pressed = ", under pressure" if event.cause == "pressed" else ""
    return f"{event.player} {KINDS[event.detail]} {event.other}, {event.value:.0f} m{pressed}"


def _receive(event: LoggedEvent) -> str:
    way = f" through {event.detail.replace(' ', ' and ')}" if event.detail else ""
    return f"{event.player} has it{way}" + (f", {event.passes} in a row" if event.passes > 1 else "")


def _loss(event: LoggedEvent) -> str:
    if by_shot(event):
        return f"{event.player}'s shot ends it for {event.side}" + (f", {event.other} has it" if event.other else "")
    return f"LOSS: {event.player} loses it for {event.side}, {loss_cause(event.cause, event.other)}"


def _tackle(event: LoggedEvent) -> str:
    if event.detail == TAKEN_ON:
        return f"{event.other} takes on {event.player} and {TAKEN[event.cause]}"
    return f"{event.player} goes in on {event.other} and {TACKLES[event.cause]}"


def _unlock(event: LoggedEvent) -> str:
    only = f", for {event.detail} only" if event.detail else ""
    return OPENED.get(event.cause, f"zone {event.cause} is open now") + only


def _transfer(event: LoggedEvent) -> str:
    return f"{event.player} takes it across, {event.detail.replace('>', ' to ')}"


def _area(event: LoggedEvent) -> str:
    return f"{event.player} has it {within_area(event.detail.partition('>')[2])}, play goes on there"


def _score(event: LoggedEvent) -> str:
    points = amount_of(event.value, "point", "points")
    return f"{points} for {event.side}" + (f" ({event.cause})" if event.cause else "")


def _limit(event: LoggedEvent) -> str:
    then = f"{event.other} comes for them" if event.other else "nobody is there to come"
    return f"{event.player} has had all the {event.cause} allowed and goes off; {then}"


def _extra(event: LoggedEvent) -> str:
    until = "until this attack is over" if event.cause == "attack" else "until the next point"
    return f"time is up, and play goes on {until}, {event.value:g} s at most"


OTHERS: Mapping[str, Callable[[LoggedEvent], str]] = {
    "live": _live,
    "dead": _dead,
    "release": _release,
    "receive": _receive,
    "loss": _loss,
    "tackle": _tackle,
    "unlock": _unlock,
    "transfer": _transfer,
    "area": _area,
    "score": _score,
    "extra": _extra,
    "limit": _limit,
}


def loss_cause(cause: str, other: str) -> str:
    """``cut out by player 2``, ``heavy touch, player 2 has it``, ``out of play``."""
    how = HOW_LOST.get(cause, cause)
    if not other:
        return how
    return f"{how} by {other}" if cause in BY else f"{how}, {other} has it"


def amount_of(count: float, one: str, many: str) -> str:
    """``1 loss``, ``3 losses``."""
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
