"""Passes told apart, counts of one's own, and gates: the resolved form.

`Conditions` say which passes a rule or a counter means; a rule on another event, or a counter of something else, uses those that
have a meaning there (`TOLD_APART` and `COUNTED_APART` of `sim.game.counting`).
"""

from __future__ import annotations

from typing import Literal

from sim.game.frozen import Frozen

Counted = Literal["passes", "wins", "touches", "balls", "seconds"]
Reset = Literal["loss", "out", "score", "phase"]
Way = Literal["west-east", "south-north"]
ANY_GATE = "any"


class Gate(Frozen):
    """A gap between two cones: its middle (`x`, `y`) and `width`, metres.  `way`: along which axis a ball goes through it."""

    name: str
    x: float
    y: float
    width: float
    way: Way

    @property
    def cones(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Where its two cones stand, the south or west one first."""
        half = self.width / 2
        if self.way == "west-east":
            return (self.x, self.y - half), (self.x, self.y + half)
        return (self.x - half, self.y), (self.x + half, self.y)


class Conditions(Frozen):
    """What has to be true of a pass, a carry, a win or a touch; None and False: nothing is asked.

    from_area, to_area   the area it was played from, and was received in
    by_role, to_role     the role of who did it, and of who received it
    through              the gate it went through, or "any"
    other_gate           not the gate that the last pass of the side through any gate went through
    first_time           played with the first touch
    not_back             not to the player from whom the passer had just got it
    """

    from_area: str | None = None
    to_area: str | None = None
    by_role: str | None = None
    to_role: str | None = None
    through: str | None = None
    other_gate: bool = False
    first_time: bool = False
    not_back: bool = False


class Counter(Conditions):
    """A count of one's own.

    of       what is counted: completed passes, balls won, touches, balls brought into play, or seconds with the ball in play
    start    what it begins with, and goes back to
    resets   what sets it back: its side loses the ball ("loss"), the ball is out ("out"), points are given ("score"), a phase
             begins ("phase"); with every bout it begins anew
    scope    one count for each side, or one for both ("bout")
    """

    name: str
    of: Counted
    start: int = 0
    resets: tuple[Reset, ...] = ()
    scope: Literal["side", "bout"] = "side"
