"""Fouls as a game file declares them: how many tackles are one, and how the ball comes back."""

from __future__ import annotations

from pydantic import Field

from sim.game.values import SpecTable

FOUL = "foul"
"""The restart after a foul."""


class FoulsSpec(SpecTable):
    """Fouls, handball and kicking the ball away, taken together: the side that is fouled has a free restart."""

    share: float = Field(
        default=0.0,
        ge=0,
        le=1,
        description="How many tackles are a foul; the restart called foul follows (default: the side that was fouled has the ball "
        "where it was, after 2 s). Default 0: none. Legal 0 to 1.",
    )
