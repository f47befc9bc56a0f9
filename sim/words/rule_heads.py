"""When a rule answers, as the beginning of a sentence: "Lose it other than by a shot", "After eight passes in a row"."""

from __future__ import annotations

from collections.abc import Sequence

from sim.game.model import Game, Rule
from sim.words.areas import played_across
from sim.words.deeds import deed_head
from sim.words.figures import present
from sim.words.listing import listed, number, some
from sim.words.who import side_called

_CAUSES = {
    "interception": "a pass cut out",
    "tackle": "a tackle",
    "miscontrol": "a heavy touch",
    "out": "playing it out",
    "time limit": "holding it too long",
    "rule fault": "breaking a rule",
    "shot": "a shot",
}
_FEW = 3  # causes left out: told by these, where more are named
_WHEN = {
    "win": "Win it",
    "out": "Put it over the line",
    "home": "Bring it home, or win it there",
    "goal": "On a goal",
    "save": "On a save",
    "miss": "On a miss",
    "won back": "Win it back in time",
    "not won back": "Fail to win it back in time",
}
_BY = {
    "win": "If {side} win it",
    "out": "If {side} put it over the line",
    "home": "If {side} bring it home, or win it there",
    "goal": "If {side} score",
    "save": "If a shot by {side} is saved",
    "miss": "If a shot by {side} misses",
    "won back": "If {side} win it back in time",
    "not won back": "If {side} fail to win it back in time",
}


def caused(causes: Sequence[str]) -> str:
    """The causes of a loss that there are in play; nothing where any will do."""
    causes = [cause for cause in causes if cause in _CAUSES]
    left = [cause for cause in _CAUSES if cause not in causes]
    if not causes or not left:
        return ""
    if len(left) <= _FEW:
        return f" other than by {listed([_CAUSES[cause] for cause in left], 'or')}"
    return f" by {listed([_CAUSES[cause] for cause in causes], 'or')}"


def loss_head(game: Game, side: str | None, causes: Sequence[str] = ()) -> str:
    """When a side, or anybody, loses the ball."""
    return f"{'Lose it' if side is None else f'If {side_called(game, side)} lose it'}{caused(causes)}"


def rule_head(game: Game, rule: Rule) -> str:
    """When a rule answers: ``Win it``, ``After eight passes in a row by amber``."""
    if rule.colour is not None and rule.by is not None:
        return f"{rule_head(game, rule.model_copy(update={'colour': None}))}, and it was one of {rule.colour}"
    who = rule.by or rule.colour
    side = None if who is None else side_called(game, who)
    if rule.on in ("passes", "wins"):
        count = present(rule.count)
        counted = some(count, "pass") + " in a row" if rule.on == "passes" else some(count, "ball") + " won"
        return f"{'Every' if rule.each else 'After'} {counted}{f' by {side}' if side else ''}"
    if rule.on == "time":
        begun = "of this stage" if len(game.phases) > 1 else "on the watch"
        return f"{'Every' if rule.each else 'After'} {number(present(rule.count))} s {begun}"
    if rule.on in ("pass", "carry", "counter", "foul"):
        return deed_head(game, rule, side)
    if rule.on == "transfer":
        return played_across(game, rule, side)
    if rule.on == "loss":
        last = " through one on the last step of the ladder" if rule.last_step else ""
        return f"{loss_head(game, who, rule.causes)}{last}"
    return _BY[rule.on].format(side=side) if side else _WHEN[rule.on]
