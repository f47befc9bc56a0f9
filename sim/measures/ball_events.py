"""What each player did with the ball, counted under the role he had when he did it.

* a *pass* is a release; *completed* goes to the passer when a mate controls it; a pass still on its way when the bout
  ends is not counted at all;
* *losses* go to the loser, the last to touch the ball for the side that loses it (`sim.pitch.possession`; those by a shot are
  *shot ends* too), *wins* to the winner, *outs* to the last to touch it, *shots* and *goals* to the shooter;
* *time on the ball* runs from a player's first touch to his release; a time that ends with a loss is not counted;
* a *transfer try* is a pass released as a transfer; it is *made* when it is completed.
"""

from __future__ import annotations

BALL_EVENTS = (
    "touches",
    "passes",
    "completed",
    "losses",
    "wins",
    "outs",
    "shots",
    "goals",
    "transfers",
    "transfer_tries",
    "transfers_made",
    "timed_releases",
    "on_ball_s",
    "shot_ends",
)
(
    TOUCHES, PASSES, COMPLETED, LOSSES, WINS, OUTS, SHOTS, GOALS, TRANSFERS, TRIES, MADE, TIMED, ON_BALL, SHOT_ENDS,
) = range(len(BALL_EVENTS))  # fmt: skip


class BallEvents:
    """`counts[player][role]` has the columns `BALL_EVENTS`; `cell` of each call is one of these lists."""

    def __init__(self, players: int, roles: int) -> None:
        self.counts = [[[0.0] * len(BALL_EVENTS) for _ in range(roles)] for _ in range(players)]
        self.carrier = ""
        self.since = 0.0
        self.passing: list[float] | None = None  # the passer's cell while a pass is on its way
        self.transferring = False
        self.shooting: list[float] | None = None

    def touch(self, player: str, cell: list[float], t: float) -> None:
        """A contact with the ball, which from then on is the player's."""
        cell[TOUCHES] += 1
        self.control(player, t)

    def control(self, player: str, t: float) -> None:
        """The player is on the ball, from t on if he was not yet."""
        self.passing = None
        if player != self.carrier:
            self.carrier, self.since = player, t

    def release(self, player: str, cell: list[float], t: float, detail: str) -> None:
        """A pass is played; `detail` says whether it is a transfer."""
        if player == self.carrier:
            cell[TIMED] += 1
            cell[ON_BALL] += t - self.since
        self.carrier = ""
        cell[PASSES] += 1
        self.passing, self.transferring = cell, detail == "transfer"
        if self.transferring:
            cell[TRIES] += 1

    def receive(self, player: str, passer: list[float], t: float) -> None:
        """The pass is completed: `player` controls it, `passer` is the cell of whoever played it."""
        passer[COMPLETED] += 1
        if self.transferring:
            passer[MADE] += 1
            self.transferring = False
        self.control(player, t)

    def stop(self) -> None:
        """The ball is shot, lost or dead: nobody is on it, no pass is on its way."""
        self.carrier = ""
        self.passing = None
        self.transferring = False

    def shot(self, cell: list[float]) -> None:
        """A shot is struck."""
        self.stop()
        cell[SHOTS] += 1
        self.shooting = cell

    def goal(self) -> None:
        """The last shot is a goal."""
        if self.shooting is not None:
            self.shooting[GOALS] += 1

    def finish(self) -> None:
        """A pass still on its way is neither completed nor failed."""
        if self.passing is not None:
            self.passing[PASSES] -= 1
            if self.transferring:
                self.passing[TRIES] -= 1
