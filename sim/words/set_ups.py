"""A set-up for who turned up, in a few words: groups, numbers, sizes, who waits."""

from __future__ import annotations

from sim.game.model import Game
from sim.groups.plans import Plan
from sim.words.listing import listed, number_word
from sim.words.setting_up import set_up


def plan_in_words(plan: Plan) -> str:
    """``two groups, 5 v 3 in 13 x 13 m each``, ``one group, 7 v 7 + 2 in 37 x 29 m``."""
    each = list(dict.fromkeys(in_short(game) for _, game in plan.groups))
    count = len(plan.groups)
    groups = "one group" if count == 1 else f"{number_word(count)} groups"
    if len(each) == 1:
        return f"{groups}, {each[0]}{' each' if count > 1 else ''}{_waiting(plan)}"
    told = [in_short(game) for _, game in plan.groups]
    counted = [f"{number_word(told.count(one))} of {one}" if told.count(one) > 1 else one for one in each]
    return f"{groups}, {listed(counted)}{_waiting(plan)}"


def _waiting(plan: Plan) -> str:
    return f", {number_word(plan.waiting)} waiting" if plan.waiting else ""


def numbers_of(game: Game) -> str:
    """``5 v 3``."""
    return set_up(game).partition(", ")[0]


def in_short(game: Game) -> str:
    """``5 v 3 in 13 x 13 m``."""
    numbers, *rest = set_up(game).split(", ")
    sizes = [part for part in rest if part.endswith((" m", " areas"))]
    return f"{numbers} in {sizes[0]}" if sizes else numbers
