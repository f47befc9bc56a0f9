"""What a carrier may do when he looks up: the kinds of option, and what every option says."""

from __future__ import annotations

from typing import NamedTuple

SHOOT, PASS, CARRY, STAY, TURN, PAST = range(6)
"""What a carrier may do: shoot, pass, move on with the ball, stand with it, turn away from who presses him, take
him on and go past him."""


class Option(NamedTuple):
    """One thing a carrier could do now."""

    kind: int
    can_be: bool  # what it needs is there
    chance: float  # 0-1, that it comes off, as he judges it
    worth: float  # what it is worth to him: a sure pass to a free man is worth 1
    receiver: int
    x: float  # m, where the ball is to go
    y: float
    obviousness: float  # 0-1, share of the odds that a watcher gives it
