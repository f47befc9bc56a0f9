"""What a loss is, in one line under every answer: with goals, losses and possessions that end with a shot are told apart."""

from __future__ import annotations

from collections.abc import Collection

from sim.experiments.headline import LOST

LOSS = "A loss is any end of a side's possession, ball out and rule fault included."
TURNOVER = "A turnover is any end of a side's possession, ball out and rule fault included."
NO_SHOT = "A loss is any end of a side's possession but by a shot, ball out and rule fault included."
APART = (
    "A ball lost is any end of a side's possession but by a shot, ball out and rule fault included; turnovers are these and the "
    "shots."
)


def footer(measures: Collection[str]) -> str:
    """For an answer that names these measures."""
    return APART if LOST in measures else TURNOVER


def lead(measures: Collection[str]) -> str:
    """The measure of losses that comes first: balls lost where shots are told apart, else turnovers, which are the same there."""
    return LOST if LOST in measures else "turnovers_per_min"
