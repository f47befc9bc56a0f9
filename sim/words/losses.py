"""What a loss is, in one line under every answer: with goals, a possession that ends with a shot is no loss."""

from __future__ import annotations

from collections.abc import Collection

from sim.experiments.key_measures import LOST

LOSS = "A loss is any time they give it away, ball out included."
NO_SHOT = "A loss is any time they give it away, ball out included; a shot is not one."
USUALLY = "Usually: eight sessions in ten."
SHORT, SHORT_NO_SHOT = "A loss is any ball given away, out included.", "A loss: given away or out, not a shot."
"""As there is room for beside `USUALLY`, in one line."""


def footer(measures: Collection[str]) -> str:
    """For an answer that names these measures."""
    return NO_SHOT if LOST in measures else LOSS


def lead(measures: Collection[str]) -> str:
    """The measure of losses that comes first: balls lost where shots are told apart, else turnovers, which are the same there."""
    return LOST if LOST in measures else "turnovers_per_min"
