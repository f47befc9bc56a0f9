"""Who defends, and for how long; both clocks.

The *watch* runs from the first to the last second of the bout; the *in-play* clock only while the ball is in play.

A player **defends** while all of this holds: the ball is in play; a side other than his own has it, from the restart
served to that side, or from its first control, until its loss; he is not a floater (side "holder"); his job is neither to
wait nor to keep a goal (styles "wait" and "goal"); and his place is where the ball is being played ("active", the very
area, or a zone of it), so whoever stays in another grid does not defend.  A loose ball that nobody has yet is nobody's to defend.

A **defending spell** is one player's run of defending.  Dead balls and loose balls interrupt its clock, not the
spell; it ends when his own side has the ball in play, or his job no longer defends, or the bout ends (cut).  Its
length is the time defended within it, and it belongs to the role in which it began.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

FLOATING = "holder"
NOT_DEFENDING = ("wait", "goal")


class Spell(NamedTuple):
    """One defending spell: player and role by index, from when to when (watch), seconds defended, cut by the end."""

    player: int
    role: int
    start_s: float
    end_s: float
    seconds: float
    cut: bool


@dataclass(slots=True)
class OpenSpell:
    """A spell that is going on: its role, its start, the end of what has been booked of it, and the seconds defended."""

    role: int
    start_s: float
    seconds: float = 0.0
    end_s: float = 0.0


class Exposure:
    """Keeps clocks, jobs and defending time of one bout.

    Per player and role: `times[player][role]` is [seconds on the watch, seconds in play, seconds defended].
    """

    def __init__(self, players: int, roles: int) -> None:
        self.area = ""
        self.place = ["active"] * players
        self.times = [[[0.0, 0.0, 0.0] for _ in range(roles)] for _ in range(players)]
        self.role = [-1] * players
        self.side = [""] * players
        self.able = [False] * players  # the job can defend
        self.ever_able = [False] * players
        self.holder = ""
        self.live = False
        self.clock = 0.0
        self.last = 0.0
        self.spells: list[Spell] = []
        self.open: list[OpenSpell | None] = [None] * players

    def in_play(self, t: float) -> float:
        """The in-play clock at watch time t (not before the last change)."""
        return self.clock + (t - self.last if self.live else 0.0)

    def job(self, player: int, role: int, side: str, style: str, place: str, t: float) -> None:
        """A player (by index) has a role (by index), and with it a side, a style and a place, from t on."""
        self.advance(t)
        self.role[player], self.side[player] = role, side
        self.stand(player, style, place)

    def move(self, area: str, jobs: list[tuple[str, str]], t: float) -> None:
        """From now on the ball is played in `area`, and this is how (style) and where the players stand by."""
        self.advance(t)
        self.area = area
        for player, (style, place) in enumerate(jobs):
            self.stand(player, style, place)

    def stand(self, player: int, style: str, place: str) -> None:
        """How (style) and where a player stands by from now on."""
        self.place[player] = place
        self.able[player] = self.side[player] != FLOATING and style not in NOT_DEFENDING
        self.ever_able[player] = self.ever_able[player] or self.able[player]

    def serve(self, side: str, t: float) -> None:
        """The ball comes into play, served to `side`."""
        self.advance(t)
        self.live, self.holder = True, side

    def stop(self, t: float) -> None:
        """The ball is dead."""
        self.advance(t)
        self.live, self.holder = False, ""

    def control(self, side: str, t: float) -> None:
        """A side has the ball."""
        if side != self.holder:
            self.advance(t)
            self.holder = side

    def lose(self, side: str, t: float) -> None:
        """A side has lost the ball; nobody has it until the next control."""
        if side == self.holder:
            self.advance(t)
            self.holder = ""

    def advance(self, t: float) -> None:
        """Book the time since the last change."""
        since, self.last = self.last, t
        elapsed = t - since
        if elapsed <= 0.0:
            return
        if self.live:
            self.clock += elapsed
        held = self.live and self.holder != ""
        for player, role in enumerate(self.role):
            times = self.times[player][role]
            times[0] += elapsed
            if self.live:
                times[1] += elapsed
            here = self.able[player] and self.place[player] in ("active", self.area)
            if held and here and self.side[player] != self.holder:
                times[2] += elapsed
                spell = self.open[player]
                if spell is None:
                    spell = self.open[player] = OpenSpell(role, since)
                spell.seconds += elapsed
                spell.end_s = t
            elif held or not here:
                self.close(player, cut=False)

    def close(self, player: int, cut: bool) -> None:
        """The defending spell of a player that is going on, if any, is over; `cut`: by the end of the bout."""
        one = self.open[player]
        if one is not None:
            self.spells.append(Spell(player, one.role, one.start_s, one.end_s, one.seconds, cut))
        self.open[player] = None

    def finish(self, t: float) -> None:
        """The bout is over: what is still going on is cut."""
        self.advance(t)
        for player in range(len(self.open)):
            self.close(player, cut=True)
        self.spells.sort(key=lambda spell: (spell.start_s, spell.player))
