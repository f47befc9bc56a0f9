"""What happened, and whether a rule answers to it."""

from __future__ import annotations

from typing import NamedTuple

from sim.errors import given
from sim.game.model import Rule
from sim.rules.passes import Deed, is_asked
from sim.rules.rule_state import RuleState

COUNTERS = ("passes", "wins")


class RuleEvent(NamedTuple):
    """One thing the rules may answer to.

    kind    what happened: a word of `sim.game.model.Event`
    side    who did it (for "loss": who lost the ball)
    player  index of the player who did it (for "loss" and "not won back": whom the loss is charged to), -1 if nobody
    other   the winner of a loss, the loser of a win, the passer of a pass, who is fouled
    cause   of a loss; for "counter" its name
    count   for counters and time: the value just reached
    start, end   for "transfer": the areas it was played from and to
    deed    for "pass", "carry" and "foul": what was done
    together  of a loss and a win: who of the winner's side were at the ball as it was won, himself among them
    """

    kind: str
    side: str
    player: int = -1
    other: int = -1
    cause: str = ""
    count: float = 0.0  # type: ignore[assignment]  # what a tuple calls so is not asked of an event
    start: str = ""
    end: str = ""
    deed: Deed | None = None
    together: tuple[int, ...] = ()


def is_charged(rule: Rule, event: RuleEvent, state: RuleState) -> bool:
    """Whether a loss has a cause that the rule names, and is charged to one whom it asks for."""
    if rule.causes and event.cause not in rule.causes:
        return False
    return not rule.last_step or state.on_last_step(event.player)


def is_by(rule: Rule, event: RuleEvent, state: RuleState) -> bool:
    """Whether the side, and the colour, that a rule asks for did it."""
    if rule.by not in (None, event.side):
        return False
    return rule.colour is None or (event.player >= 0 and state.game.players[event.player].team == rule.colour)


def answers(rule: Rule, event: RuleEvent, state: RuleState) -> bool:
    """Whether `rule` fires on `event`."""
    if rule.on != event.kind:
        return False
    if not is_by(rule, event, state):
        return False
    if not is_charged(rule, event, state):
        return False
    if event.deed is not None:
        return is_asked(rule, event.deed)
    if rule.from_area not in (None, event.start) or rule.to_area not in (None, event.end):
        return False
    if rule.on == "counter":
        reached = event.count > 0 and event.count % given(rule.count) == 0 if rule.each else event.count == rule.count
        return rule.counter == event.cause and reached
    if rule.on in COUNTERS:
        asked = given(rule.count)
        if rule.each:
            return event.count > 0 and event.count % asked == 0
        return event.count >= asked and (rule.name, event.side) not in state.fired
    if rule.on == "time":
        asked = given(rule.count)
        return event.count == asked or (rule.each and event.count == asked * round(event.count / asked))
    return True
