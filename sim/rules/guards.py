"""What happened, and whether a rule answers to it."""

from __future__ import annotations

from typing import NamedTuple

from sim.game.model import Rule
from sim.rules.standing import Standing

COUNTERS = ("passes", "wins")


class Happening(NamedTuple):
    """One thing the rules may answer to.

    kind    an event of `sim.game.model.Event`
    side    who did it (for "loss": who lost the ball)
    player  index of the player who did it, -1 if nobody;  other: the winner of a loss, the passer of a pass
    count   for counters and time: the value just reached
    start, end   for "transfer": the areas it was played from and to
    """

    kind: str
    side: str
    player: int = -1
    other: int = -1
    cause: str = ""
    count: float = 0.0
    start: str = ""
    end: str = ""


def answers(rule: Rule, happening: Happening, standing: Standing) -> bool:
    """Whether `rule` fires on `happening`."""
    if rule.on != happening.kind:
        return False
    if rule.by is not None and rule.by != happening.side:
        return False
    if rule.causes and happening.cause not in rule.causes:
        return False
    if rule.from_area not in (None, happening.start) or rule.to_area not in (None, happening.end):
        return False
    if rule.on in COUNTERS:
        if rule.each:
            return happening.count > 0 and happening.count % rule.count == 0
        return happening.count >= rule.count and (rule.name, happening.side) not in standing.fired
    if rule.on == "time":
        return happening.count == rule.count
    return True
