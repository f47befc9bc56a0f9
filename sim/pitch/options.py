"""What a carrier may do when he looks up: the kinds of option, and what every option says."""

from __future__ import annotations

from typing import NamedTuple

SHOOT, PASS, CARRY, STAY = range(4)
"""What a carrier may do: shoot, pass, move on with the ball, stand with it."""


class Option(NamedTuple):
    """One thing a carrier could do now."""

    kind: int
    taken: bool  # what it needs is there, and it is good enough
    chance: float  # 0-1, that it comes off, as he judges it
    worth: float  # what it is worth to him, on the scale of passes (a sure pass to a free man: 1)
    receiver: int
    x: float  # m, where the ball is to go
    y: float
    obviousness: float  # 0-1, share of the odds that a watcher gives it
