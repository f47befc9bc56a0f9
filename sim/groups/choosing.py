"""Which plans are worth playing: those most like the game as far as can be said without playing, and not all of one kind."""

from __future__ import annotations

from collections.abc import Sequence

from sim.game.model import Game
from sim.groups.likeness import WEIGHTS, Likeness, off, roles_of, together
from sim.groups.making import room_of
from sim.groups.plans import Plan
from sim.groups.posts import shape_of

MOST_PLAYED, MOST_ALIKE = 4, 2
"""Plans that are played, and how many of them may have as many groups."""


def told_apart(found: Sequence[Plan]) -> list[Plan]:
    """The first few, no more than two of them in as many groups."""
    chosen: list[Plan] = []
    for plan in found:
        alike = sum(len(one.groups) == len(plan.groups) for one in chosen)
        if alike < MOST_ALIKE and len(chosen) < MOST_PLAYED:
            chosen.append(plan)
    return chosen


def nearest(game: Game, found: Sequence[Plan]) -> list[Plan]:
    """The plans by what can be said without playing: room, defending by the numbers, roles, and how large the groups are."""
    shape = shape_of(game)

    def by_numbers(plan: Plan) -> float:
        groups = [(wanted, _unplayed(own, wanted.defending, wanted.keepers)) for wanted, own in plan.groups]
        whole = off(planned, together(groups, plan.waiting))
        size = plan.people / len(plan.groups) / shape.people
        return whole.total + WEIGHTS["losses"] / sum(WEIGHTS.values()) * min(1.0, abs(size - 1))

    mine, others, everybody = shape.count("mine"), shape.count("others"), shape.people
    share = (others if mine > others else (mine + others) / 2) / everybody
    planned = _unplayed(game, share, 0)
    return sorted(found, key=by_numbers)


def _unplayed(game: Game, defending: float, keepers: int) -> Likeness:
    return Likeness(room_of(game), defending, 0.0, 0.0, roles_of(game, keepers))
