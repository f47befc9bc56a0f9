"""Which goal is attacked.  A goal has a front: its mouth looks into play, and nothing comes of a ball from behind it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from sim.compiled import njit
from sim.game.borders import BESIDE_GOAL_M
from sim.game.model import Goal
from sim.geometry import INWARD

ROUND_M = 3.0  # judgement: whoever is behind a goal plays round it, to a place so far in front of its mouth
AT_THE_LINE_M = 1.0  # a ball this near to the line of a goal went out over it


def facing(goal: Goal) -> float:
    """+1 or -1: which way along its axis the mouth looks."""
    return sum(INWARD[goal.end])


@njit(cache=True)
def ahead_of_goal(play, x, y):
    """Metres by which (x, y) lies in front of the line of the attacked goal; below 0: behind it, where its mouth does not look."""
    return play.goal_facing * (y - play.goal_y if play.goal_sideways else x - play.goal_x)


def in_front(goal: Goal, x: float, y: float) -> bool:
    """Whether (x, y) lies on the side of the goal line that its mouth looks to."""
    along, across = INWARD[goal.end]
    return along * (x - goal.x) + across * (y - goal.y) > 0.0


def before_mouth(goal: Goal) -> tuple[float, float]:
    """The place in front of its mouth that the ball is brought to from behind."""
    along, across = INWARD[goal.end]
    return goal.x + ROUND_M * along, goal.y + ROUND_M * across


def _room_to_post(goal: Goal, x: float, y: float) -> float:
    """How much nearer to the middle of the mouth than a restart may be a ball lies that went out at (x, y) by this goal (m); not
    above 0: it did not."""
    along, across = INWARD[goal.end]
    behind = along * (x - goal.x) + across * (y - goal.y)
    off = (x - goal.x) * abs(across) + (y - goal.y) * abs(along)
    return 0.5 * goal.width + BESIDE_GOAL_M - abs(off) if abs(behind) < AT_THE_LINE_M else 0.0


def beside_mouth(goals: Sequence[Goal], x: float, y: float, frame: tuple[float, float]) -> tuple[float, float]:
    """Where a ball that went out at (x, y) is brought in again: there, but from the mouth of a goal (of several the nearest) well
    beside its nearer post (from the very middle beside the one that `frame`, the signs of the axes, has first)."""
    by = [goal for goal in goals if _room_to_post(goal, x, y) > 0.0]
    if not by:
        return x, y
    goal = min(by, key=lambda one: math.hypot(one.x - x, one.y - y))
    along, across = INWARD[goal.end]
    off = (x - goal.x) * abs(across) + (y - goal.y) * abs(along)
    move = math.copysign(_room_to_post(goal, x, y), off or frame[0] * abs(across) + frame[1] * abs(along))
    return x + move * abs(across), y + move * abs(along)


def nearest(goals: Sequence[Goal], x: float, y: float, frame: tuple[float, float]) -> list[Goal]:
    """The goals nearest to (x, y): several only where they are exactly as near, then in the order of their places as seen in
    `frame` (the signs of the axes), so that neither names nor a mirror change it."""
    far = [math.hypot(goal.x - x, goal.y - y) for goal in goals]
    found = [goal for goal, metres in zip(goals, far, strict=True) if metres == min(far)]
    return sorted(found, key=lambda goal: (frame[0] * goal.x, frame[1] * goal.y))
