"""What a game is for, as its rules make it: the headings under which games are listed."""

from __future__ import annotations

from typing import Literal, get_args

from sim.game.model import Game
from sim.game.space import rooms
from sim.game.verbs import Swap
from sim.groups.posts import shape_of

Purpose = Literal["keep", "even", "together", "win", "pass", "across", "goal"]
PURPOSES: tuple[Purpose, ...] = get_args(Purpose)
"""In the order of the list."""
WON = ("win", "wins", "won back", "not won back")
ACROSS = ("transfer", "role swap")
PLAYED = ("pass", "carry", "counter")


def purpose_of(game: Game) -> Purpose:
    """The first that holds, from goals down.

    goal      a goal is attacked
    across    it is played in several areas, or from one to another
    win       a rule answers to a ball won or won back, or a win has to be confirmed
    pass      a rule asks for a certain pass, or counts such passes
    together  pairs or teams change places as one
    even      both sides have as many
    keep      more keep it from fewer
    """
    rules = [rule for phase in game.phases for rule in phase.rules]
    actions = [action for rule in rules for action in rule.do]
    events = {rule.on for rule in rules}
    if game.goals:
        return "goal"
    if game.family in ACROSS or len(rooms(game)) > 1:
        return "across"
    if events & set(WON) or game.win.confirm in ("hold", "passes"):
        return "win"
    if events & set(PLAYED):
        return "pass"
    if any(isinstance(one, Swap) and ("partner" in one.who or "team" in one.who) for one in actions):
        return "together"
    return "even" if shape_of(game).even else "keep"
