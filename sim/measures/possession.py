"""Who has the ball: pass runs, and how each possession ends.

A possession begins with control by a side and goes on until that side's loss; a ball that is out and comes back to the same
side goes on with it.  A *pass run* is the number of completed passes in one possession; passes of a winner before his win is
confirmed are in none.  What ends without a loss (the whistle, a rule that stops play, a restart served to another side) is
marked as *cut*: an assistant counts it as it stands, and it was at least so long.  A winner who changes sides by the very rule
of the loss, play going on, takes the ball with him: his old side never had it.
"""

from __future__ import annotations

from typing import NamedTuple


class PassRun(NamedTuple):
    """One possession: its side, from when to when (watch), its time in play, completed passes, and how it ended."""

    side: str
    start_s: float
    end_s: float
    in_play_s: float
    passes: int
    cause: str  # why it was lost; "" if it was cut
    cut: bool


class Possessions:
    """Collects the pass runs of one bout; every call gives the watch and the in-play clock of the event."""

    def __init__(self) -> None:
        self.runs: list[PassRun] = []
        self.side = ""
        self.passes = 0
        self.start = (0.0, 0.0)

    def control(self, side: str, t: float, in_play: float) -> None:
        """`side` has the ball under control: a new possession unless it had it already."""
        if side != self.side:
            self.close(t, in_play, "")
            self.side, self.passes, self.start = side, 0, (t, in_play)

    def complete(self, side: str, t: float, in_play: float) -> None:
        """A pass is completed."""
        self.control(side, t, in_play)
        self.passes += 1

    def lose(self, side: str, t: float, in_play: float, cause: str) -> None:
        """`side` loses the ball (it may be told after the winner's control)."""
        if side == self.side:
            self.close(t, in_play, cause)
        elif self.runs and self.runs[-1].cut and self.runs[-1].side == side:
            self.runs[-1] = self.runs[-1]._replace(cause=cause, cut=False)

    def close(self, t: float, in_play: float, cause: str) -> None:
        """End the possession that is going on, if any; without a cause it is cut."""
        if self.side:
            start, start_in_play = self.start
            side, self.side = self.side, ""
            if t == start and not cause:
                return
            run = PassRun(side, start, t, in_play - start_in_play, self.passes, cause, cause == "")
            self.runs.append(run)
